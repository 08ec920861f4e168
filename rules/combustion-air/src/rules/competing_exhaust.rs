//! Fans that draw on the same air as a burner must not starve it or pull its gases back.
//!
//! A kitchen hood, a clothes dryer or a bath fan can lower the pressure in a tight house until a draft hood spills carbon
//! monoxide into the room. The code asks for make-up air; large hoods and dryers have figures of their own.
//!
//! **How it is measured.** For every fan in a space that burners with open combustion share: its flow, what makes up for it, and
//! the figures at which make-up air is asked for. A fan that has no figure is reported as advice unless the county sets a limit.
//!
//! **How it is fixed.** Make-up air interlocked with the fan, an opening of the right size, or appliances that bring their own
//! air. A draft test with every fan running shows whether a vent spills; that test is work for a licensed contractor.

use crate::air_space::{burners, exhausts};
use crate::appliances::{brings_own_air, counts_none};
use crate::parameters::Limits;
use crate::rooms::Rooms;
use redtag_handbook::combustion_air::{self as air, sources};
use redtag_rule::prelude::*;
use std::collections::BTreeSet;

/// Dryer flow that needs make-up air.
const DRYER: Quantity<dimensions::VolumeFlow> = Quantity::new(
    "dryer_make_up_above",
    "200 cfm",
    "A clothes dryer that exhausts more needs make-up air.",
    "from memory of IFGC 614.7",
);
/// Hood flow that needs make-up air.
const HOOD: Quantity<dimensions::VolumeFlow> =
    Quantity::new("hood_make_up_above", "400 cfm", "A kitchen hood that exhausts more needs make-up air.", "IRC M1503.6");
/// Opening of a dryer closet.
const DRYER_CLOSET: Quantity<dimensions::Area> = Quantity::new(
    "dryer_closet_opening",
    "100 in2",
    "Free area of the opening of a closet built for a clothes dryer.",
    "from memory of IFGC 614.7",
);
/// A limit on other exhaust.
const OTHER: Quantity<dimensions::VolumeFlow> = Quantity::new(
    "other_exhaust_limit",
    "0 cfm",
    "Exhaust without make-up air that is a correction beside open combustion; 0 for advice only.",
    "IFGC 304.4 asks for make-up air without a figure",
);

/// The rule.
pub const RULE: Rule = Rule {
    citations: &[
        remembered("IRC", "2021", "G2407.4"),
        remembered("IFGC", "2021", "304.4"),
        cited("IRC", "2021", "M1503.6"),
        remembered("IRC", "2021", "G2439.5"),
    ],
    parameters: &[&DRYER, &HOOD, &DRYER_CLOSET, &OTHER],
    reads: &["/exhausts", "/equipment", "/spaces", "/openings"],
    ..Rule::new("combustion-air/competing-exhaust", "Fans that compete with burners", check)
};

fn check(inquiry: &Inquiry) -> Vec<Finding> {
    let open = open_combustion(inquiry);
    let draws = |exhaust: &Place<Exhaust>| {
        !matches!(exhaust.kind, ExhaustKind::Fireplace | ExhaustKind::Stove | ExhaustKind::BalancedVentilator)
    };
    let fans = exhausts(inquiry);
    ask_each(fans.iter().filter(|exhaust| draws(exhaust)), "whether it starves a burner", |exhaust| one(inquiry, exhaust, &open))
}

/// The spaces with burners that a lower pressure can starve: neither direct vent nor mechanical draft.
fn open_combustion(inquiry: &Inquiry) -> Lookup<BTreeSet<String>> {
    let appliances: Vec<Lookup<Option<String>>> = burners(inquiry).iter().map(spills).collect();
    Ok(appliances.together()?.into_iter().flatten().collect())
}

fn spills(appliance: &Place<Equipment>) -> Lookup<Option<String>> {
    if brings_own_air(appliance) || appliance.outdoors == Some(true) || counts_none(appliance) {
        return Ok(None);
    }
    kinds::burns(appliance)?;
    let space = need!(appliance, space)?;
    let burner = need!(appliance, fuel_burning.burner)?;
    let driven = matches!(*burner, Burner::PowerVented | Burner::PowerBurner);
    Ok((!driven).then(|| space.get().clone()))
}

fn one(inquiry: &Inquiry, exhaust: &Place<Exhaust>, open: &Lookup<BTreeSet<String>>) -> Lookup<FindingBuilder> {
    let space = need!(exhaust, space)?;
    if let Some(finding) = dryer_closet(inquiry, exhaust, space.get())? {
        return Ok(finding);
    }
    if exhaust.runs_with_burners == Some(false) {
        return Ok(exhaust.complies(text!("it cannot run while burners fire")));
    }
    let flow = need!(exhaust, flow)?.quantity();
    let triggers = triggers(inquiry);
    let over = match exhaust.kind {
        ExhaustKind::ClothesDryer if air::dryer_needs_makeup(flow, &triggers) => {
            Some((triggers.dryer, sources::DRYER_MAKEUP.text()))
        }
        ExhaustKind::KitchenHood | ExhaustKind::Downdraft
            if air::hood_needs_makeup(flow, &triggers) && !open.as_ref().map_err(Clone::clone)?.is_empty() =>
        {
            Some((triggers.hood, sources::HOOD_MAKEUP.text()))
        }
        _ => None,
    };
    if let Some((most, source)) = over {
        return made_up(exhaust, flow, most, source);
    }
    let shares = open.as_ref().map_err(Clone::clone)?.contains(space.get());
    if shares {
        return beside(inquiry, exhaust, flow);
    }
    // A list of equipment that is not there says neither none nor all.
    need!(inquiry.project(), equipment)?;
    Ok(exhaust.complies(text!("no burner that can spill shares its space")))
}

fn triggers(inquiry: &Inquiry) -> air::MakeupTriggers {
    air::MakeupTriggers {
        dryer: inquiry.value(&DRYER),
        hood: inquiry.value(&HOOD),
        dryer_closet_opening: inquiry.value(&DRYER_CLOSET),
    }
}

/// A dryer in a closet of its own: the closet's opening must be large enough, or make-up air given another way.
fn dryer_closet(inquiry: &Inquiry, exhaust: &Place<Exhaust>, space: &str) -> Lookup<Option<FindingBuilder>> {
    let rooms = Rooms::of(inquiry);
    let closet = rooms.space(space).is_ok_and(|space| space.kind == SpaceKind::EquipmentCloset);
    let made_up = exhaust.make_up.as_ref().is_some_and(|make_up| make_up.kind != MakeUpKind::None);
    if exhaust.kind != ExhaustKind::ClothesDryer || !closet || made_up {
        return Ok(None);
    }
    need!(inquiry.project(), openings)?;
    let triggers = triggers(inquiry);
    let free = rooms.largest_free_opening(space, &Limits::of(inquiry), |_| true)?;
    let needed = triggers.dryer_closet_opening;
    if air::dryer_closet_opening_suffices(free, &triggers) {
        return Ok(None);
    }
    let summary = text!("its closet's opening has {} free, {} needed", in_unit(free, "in²"), in_unit(needed, "in²"));
    let finding = exhaust.correction(summary.clone()).test("closet opening", summary, sources::DRYER_MAKEUP.text(), false);
    let cure =
        text!("open the closet by {} free area, or make up for what the dryer exhausts another way", in_unit(needed, "in²"));
    Ok(Some(finding.remedy(cure)))
}

fn made_up(
    exhaust: &Place<Exhaust>,
    flow: uom::si::f64::VolumeRate,
    most: uom::si::f64::VolumeRate,
    source: &str,
) -> Lookup<FindingBuilder> {
    let text = text!("exhausts {}, more than {} needs make-up air", flow, most);
    let lack = lacks(exhaust, flow)?;
    let builder = match &lack {
        Some(lack) => {
            let summary = text!("exhausts {}; more than {} needs make-up air, and {}", flow, most, lack);
            exhaust.correction(summary).remedy(text!("provide make-up air of {}, started with the fan", flow))
        }
        None => exhaust.complies(text!("exhausts {}, made up", flow)),
    };
    Ok(builder.test("make-up air", text, source, lack.is_none()))
}

/// What the make-up air of an exhaust lacks; nothing where all it draws is made up whenever it runs.
fn lacks(exhaust: &Place<Exhaust>, flow: uom::si::f64::VolumeRate) -> Lookup<Option<Text>> {
    let make_up = need!(exhaust, make_up)?;
    match make_up.kind {
        MakeUpKind::None | MakeUpKind::Unrecognised => return Ok(Some(text!("none is provided"))),
        // What is always open needs no start, and its flow follows the pressure: its size is another rule's.
        MakeUpKind::PermanentOpening if make_up.flow.is_none() => return Ok(None),
        _ => {}
    }
    let supplied = need!(make_up, flow);
    let locked = match make_up.kind {
        MakeUpKind::PermanentOpening => Ok(true),
        _ => need!(make_up, interlocked).map(|locked| *locked),
    };
    if let Ok(supplied) = &supplied
        && !at_least(supplied.quantity(), flow)
    {
        return Ok(Some(text!("{} is provided", supplied)));
    }
    if locked == Ok(false) {
        return Ok(Some(text!("what is provided does not start with it")));
    }
    (supplied, locked).together()?;
    Ok(None)
}

fn beside(inquiry: &Inquiry, exhaust: &Place<Exhaust>, flow: uom::si::f64::VolumeRate) -> Lookup<FindingBuilder> {
    let lack = match need!(exhaust, make_up) {
        Ok(_) => lacks(exhaust, flow)?,
        Err(_) => Some(text!("nothing is said to make up for it")),
    };
    let Some(lack) = lack else {
        return Ok(exhaust.complies(text!("shares its space with open combustion; its {} is made up", flow)));
    };
    let limit = inquiry.value(&OTHER);
    let summary = text!("draws {} from a space with open combustion, and {}", flow, lack);
    let remedy = text!("provide make-up air, or have the draft tested with every fan running");
    let source = "IFGC 304.4 (no figure), from memory";
    let barred = limit.value > 0.0 && !at_most(flow, limit);
    let builder = if barred { exhaust.correction(summary.clone()) } else { exhaust.advice(summary.clone()) };
    Ok(builder.step("competing exhaust", summary, source).remedy(remedy))
}
