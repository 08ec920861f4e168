//! Water and drainage.

use super::fact::{Fact, words};
use super::{Clash, Pair};
use redtag_schema::quantity::Kind;

pub(super) const PAIRS: &[Pair] = &[
    Pair { list: "/water/pipes/*", first: "/can_freeze", second: "/spaces", clash: freezes },
    Pair {
        list: "/water/sources/*",
        first: "/pump_on",
        second: "/pump_off",
        clash: |it| it.above("/pump_on", "/pump_off", Kind::Pressure, "its pump starts above the pressure at which it stops"),
    },
    Pair {
        list: "/water/sources/*",
        first: "/residual_pressure",
        second: "/static_pressure",
        clash: |it| {
            it.above(
                "/residual_pressure",
                "/static_pressure",
                Kind::Pressure,
                "there is more pressure while water runs than while none does",
            )
        },
    },
    Pair { list: "/water/fixtures/*", first: "/simultaneous", second: "/count", clash: simultaneous },
    Pair {
        list: "/equipment/*",
        first: "/water_heating/set_temperature",
        second: "/water_heating/limit_temperature",
        clash: |it| {
            let (set, limit) = ("/water_heating/set_temperature", "/water_heating/limit_temperature");
            it.above(set, limit, Kind::Temperature, "it is set above the temperature at which it is cut off")
        },
    },
    Pair {
        list: "/equipment/*",
        first: "/treatment/minimum_pressure",
        second: "/treatment/maximum_pressure",
        clash: |it| {
            let (least, most) = ("/treatment/minimum_pressure", "/treatment/maximum_pressure");
            it.above(least, most, Kind::Pressure, "its least pressure is above its greatest")
        },
    },
    Pair {
        list: "/equipment/*",
        first: "/tank/precharge",
        second: "/tank/maximum_pressure",
        clash: |it| {
            it.above("/tank/precharge", "/tank/maximum_pressure", Kind::Pressure, "its charge is above the pressure it can bear")
        },
    },
    Pair {
        list: "/equipment/*",
        first: "/pump/pressure",
        second: "/pump/shutoff_pressure",
        clash: |it| {
            it.above("/pump/pressure", "/pump/shutoff_pressure", Kind::Pressure, "it makes more pressure than at no flow")
        },
    },
    Pair { list: "/drainage/drains/*", first: "/rim", second: "/kind", clash: rim },
    Pair { list: "/drainage/pipes/*", first: "/slope", second: "/upper_invert", clash: slope },
];

/// Water freezes at 32 F; a pipe in a colder space that is said not to freeze is heated, and says so as its protection.
fn freezes(it: &Fact<'_>) -> Option<Clash> {
    const FREEZING: f64 = 273.15;
    if it.flag("/can_freeze") != Some(false) || it.word("/freeze_protection").is_some_and(|kind| kind != "none") {
        return None;
    }
    let ids = it.list("/spaces").iter().filter_map(|id| id.as_str());
    let cold = ids.filter_map(|id| Some((id, it.named("/spaces/*", id)?.amount("/lowest_temperature", Kind::Temperature)?)));
    let (id, lowest) = cold.min_by(|one, other| one.1.total_cmp(&other.1)).filter(|cold| cold.1 < FREEZING - 1e-6)?;
    let lowest = words(lowest, Kind::Temperature);
    Some(Clash::Impossible(format!("{}: it is said to run where nothing freezes, and {id} falls to {lowest}", it.name())))
}

fn simultaneous(it: &Fact<'_>) -> Option<Clash> {
    let (running, count) = (it.number("/simultaneous")?, it.number("/count")?);
    (running > count).then(|| Clash::Impossible(format!("{}: {running} of {count} run at one time", it.name())))
}

/// What drains a floor lies in it.
fn rim(it: &Fact<'_>) -> Option<Clash> {
    let floor = matches!(it.word("/kind")?, "floor-drain" | "floor-sink");
    let rim = it.amount("/rim", Kind::Position)?;
    let message = || format!("{}: its rim stands {} above the floor it drains", it.name(), words(rim, Kind::Position));
    (floor && rim > 1e-4).then(|| Clash::Odd(message()))
}

fn slope(it: &Fact<'_>) -> Option<Clash> {
    let invert = |step: &str| it.amount(step, Kind::Position);
    let (upper, lower) = (invert("/upper_invert")?, invert("/lower_invert")?);
    let (length, said) = (it.amount("/length", Kind::Length)?, it.amount("/slope", Kind::Slope)?);
    if length <= 0.0 {
        return None;
    }
    let falls = (upper - lower) / length;
    let apart = (falls - said).abs() > 0.002_f64.max(0.1 * said.abs());
    let (falls, said) = (words(falls, Kind::Slope), words(said, Kind::Slope));
    apart.then(|| Clash::Odd(format!("{}: it is said to fall {said}, its ends make {falls}", it.name())))
}
