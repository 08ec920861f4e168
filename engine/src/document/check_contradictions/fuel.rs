//! Burners and fuel gas.

use super::fact::Fact;
use super::{Clash, Pair};
use redtag_schema::quantity::Kind;

pub(super) const PAIRS: &[Pair] = &[
    Pair { list: "/equipment/*", first: "/fuel_burning/burner", second: "/fuel_burning/combustion_air", clash: air },
    Pair { list: "/equipment/*", first: "/fuel_burning/burner", second: "/fuel_burning/plate/vent_category", clash: category },
    Pair { list: "/equipment/*", first: "/burns_fuel", second: "/fuel_burning", clash: burns_nothing },
    Pair { list: "/equipment/*", first: "/kind", second: "/fuel_burning/plate/fuel", clash: fuel_of_kind },
    Pair {
        list: "/equipment/*",
        first: "/fuel_burning/plate/output",
        second: "/fuel_burning/plate/input",
        clash: |it| {
            it.above("/fuel_burning/plate/output", "/fuel_burning/plate/input", Kind::Power, "it gives more heat than it burns")
        },
    },
    Pair {
        list: "/equipment/*",
        first: "/fuel_burning/plate/input_minimum",
        second: "/fuel_burning/plate/input",
        clash: |it| {
            it.above(
                "/fuel_burning/plate/input_minimum",
                "/fuel_burning/plate/input",
                Kind::Power,
                "its least input is above its greatest",
            )
        },
    },
    Pair {
        list: "/equipment/*",
        first: "/fuel_burning/plate/inlet_pressure_minimum",
        second: "/fuel_burning/plate/inlet_pressure_maximum",
        clash: |it| {
            it.above(
                "/fuel_burning/plate/inlet_pressure_minimum",
                "/fuel_burning/plate/inlet_pressure_maximum",
                Kind::Pressure,
                "its least inlet pressure is above its greatest",
            )
        },
    },
    Pair {
        list: "/equipment/*",
        first: "/fuel_burning/running_inlet_pressure",
        second: "/fuel_burning/static_inlet_pressure",
        clash: |it| {
            it.above(
                "/fuel_burning/running_inlet_pressure",
                "/fuel_burning/static_inlet_pressure",
                Kind::Pressure,
                "more pressure is measured while everything burns than while nothing does",
            )
        },
    },
    Pair {
        list: "/equipment/*",
        first: "/fuel_burning/conversion/performed",
        second: "/fuel_burning/conversion/label/present",
        clash: conversion,
    },
    Pair {
        list: "/gas/supply",
        first: "/pressure_minimum",
        second: "/pressure",
        clash: |it| {
            it.above("/pressure_minimum", "/pressure", Kind::Pressure, "the least pressure is above the pressure delivered")
        },
    },
    Pair {
        list: "/gas/supply",
        first: "/pressure",
        second: "/pressure_maximum",
        clash: |it| it.above("/pressure", "/pressure_maximum", Kind::Pressure, "the pressure delivered is above the greatest"),
    },
    Pair { list: "/gas/supply", first: "/kind", second: "/fuel", clash: supply_kind },
    Pair { list: "/gas", first: "/containers", second: "/supply/fuel", clash: containers },
    Pair {
        list: "/gas/regulators/*",
        first: "/outlet_pressure",
        second: "/inlet_pressure",
        clash: |it| {
            it.above("/outlet_pressure", "/inlet_pressure", Kind::Pressure, "the pressure behind it is above that before it")
        },
    },
    Pair { list: "/gas/regulators/*", first: "/outdoors", second: "/space", clash: regulator },
    Pair { list: "/gas/bonding", first: "/present", second: "/conductor_size", clash: bond },
];

fn air(it: &Fact<'_>) -> Option<Clash> {
    let (burner, air) = (it.word("/fuel_burning/burner")?, it.word("/fuel_burning/combustion_air")?);
    let clash = air == "direct-vent" && matches!(burner, "draft-hood" | "unvented" | "power-venter");
    let burner = burner.replace('-', " ");
    clash.then(|| {
        Clash::Impossible(format!(
            "{}: a burner that is {burner} takes air of its room, and it is said to be direct vent",
            it.name()
        ))
    })
}

fn category(it: &Fact<'_>) -> Option<Clash> {
    let (burner, category) = (it.word("/fuel_burning/burner")?, it.word("/fuel_burning/plate/vent_category")?);
    let roman = category.trim_start_matches("category-").to_uppercase();
    let message = |clash: &str| {
        format!("{}: a burner that is {} is {clash}, and its plate says Category {roman}", it.name(), burner.replace('-', " "))
    };
    match (burner, category) {
        ("draft-hood", "category-ii" | "category-iii" | "category-iv") => Some(Clash::Impossible(message("of Category I"))),
        ("power-vented", "category-i") => Some(Clash::Odd(message("under pressure"))),
        ("unvented", _) => Some(Clash::Odd(message("not vented"))),
        _ => None,
    }
}

fn burns_nothing(it: &Fact<'_>) -> Option<Clash> {
    let both = it.flag("/burns_fuel") == Some(false) && it.has("/fuel_burning");
    both.then(|| {
        Clash::Odd(format!("{}: it is said to burn nothing, and its burner is described; it counts as burning", it.name()))
    })
}

fn fuel_of_kind(it: &Fact<'_>) -> Option<Clash> {
    let (kind, fuel) = (it.word("/kind")?, it.word("/fuel_burning/plate/fuel")?);
    let gas = matches!(fuel, "natural-gas" | "propane" | "butane");
    let solid = matches!(fuel, "wood" | "pellets" | "coal");
    let clash = match kind {
        "gas-fireplace" => !gas,
        "oil-heater" => gas || solid,
        "solid-fuel-heater" => gas,
        _ => false,
    };
    clash.then(|| Clash::Impossible(format!("{}: a {} that burns {}", it.name(), kind.replace('-', " "), fuel.replace('-', " "))))
}

fn conversion(it: &Fact<'_>) -> Option<Clash> {
    let at = |step: &str| it.flag(&format!("/fuel_burning/conversion{step}"));
    let clash = at("/performed") == Some(false) && at("/label/present") == Some(true);
    clash.then(|| Clash::Odd(format!("{}: no conversion was done, and it bears the label of one", it.name())))
}

fn supply_kind(it: &Fact<'_>) -> Option<Clash> {
    let clash = it.word("/fuel") == Some("natural-gas")
        && it.word("/kind").is_some_and(|kind| matches!(kind, "second-stage-regulator" | "integral-two-stage-regulator"));
    clash.then(|| Clash::Impossible("the gas comes from containers on the site, and is natural gas".to_owned()))
}

fn containers(it: &Fact<'_>) -> Option<Clash> {
    let clash = it.count("/containers").is_some_and(|count| count > 0) && it.word("/supply/fuel") == Some("natural-gas");
    clash.then(|| Clash::Odd("containers for liquefied gas stand on the site, and natural gas is supplied".to_owned()))
}

fn regulator(it: &Fact<'_>) -> Option<Clash> {
    let both = it.flag("/outdoors") == Some(true) && it.has("/space");
    both.then(|| Clash::Impossible(format!("{}: it is outdoors, and in a space", it.name())))
}

fn bond(it: &Fact<'_>) -> Option<Clash> {
    let both = it.flag("/present") == Some(false) && (it.has("/conductor_size") || it.has("/attached_to"));
    both.then(|| Clash::Odd("there is no bond of the gas piping, and its jumper is described".to_owned()))
}
