//! The pressure on the way to an outlet while everything burns: what the supply or a regulator gives, less what each pipe takes.

use crate::capacity::{self, Bends, Column, Zone};
use crate::judging::Judging;
use crate::lengths::{self, Policy, Range};
use crate::piping::feet;
use crate::sizes::{self, Sized};
use redtag_handbook::piping::{Size, drop_from, reach};
use redtag_handbook::units;
use redtag_rule::prelude::*;
use std::collections::BTreeMap;
use uom::si::f64::{Power, Pressure};

/// Ways of more pipes than this are not shown pipe by pipe.
const SHOWN: usize = 60;
/// So many pipes are looked at to find the larger ones that leave a pressure; where that is not enough the cure is in words.
const TRIES: usize = 600;

/// A pressure that is at least so much, where that is known, and at most so much.
#[derive(Debug, Clone, Copy)]
pub struct Left {
    /// At least.
    pub least: Option<Pressure>,
    /// At most.
    pub most: Pressure,
}

impl Left {
    fn exactly(pressure: Pressure) -> Self {
        Self { least: Some(pressure), most: pressure }
    }

    fn less(self, taken: &Taken) -> Self {
        let least = self.least.zip(taken.most).map(|(left, drop)| left - drop).filter(|left| left.value > 0.0);
        let most = self.most - taken.least;
        Self { least, most: if most.value > 0.0 { most } else { Pressure::default() } }
    }

    /// In words.
    pub fn words(&self) -> Text {
        let water = |pressure: Pressure| in_unit(rounded(pressure), "in wc");
        match self.least {
            Some(least) if (self.most - least).value < 0.5 => text!("{}", water(least)),
            Some(least) => text!("between {} and {}", water(least), water(self.most)),
            None => text!("not more than {}", water(self.most)),
        }
    }
}

/// A pressure to a hundredth of an inch of water: more is not measured.
fn rounded(pressure: Pressure) -> Pressure {
    units::inches_of_water((units::in_inches_of_water(pressure) * 1000.0).round() / 1000.0)
}

/// What a pipe takes.
#[derive(Debug, Clone, Copy)]
struct Taken {
    least: Pressure,
    most: Option<Pressure>,
}

/// One pipe on the way.
pub struct Stretch {
    /// The pipe.
    pub segment: usize,
    /// Most it takes, where that is known.
    pub most: Option<Pressure>,
    size: Size,
    larger: Vec<Size>,
}

/// The way to an outlet.
pub struct Profile {
    /// Its pipes.
    pub stretches: Vec<Stretch>,
    /// What arrives.
    pub left: Left,
    /// What starts the last zone of the way.
    pub from: Pressure,
    /// What is not said.
    pub missing: Option<Unresolved>,
}

/// Sizes to be tried in place of those there are.
pub type Tried = BTreeMap<usize, Size>;

/// The pressure on the way to a node; the lines of the way, and a regulator that starves on it, go onto the sheet.
///
/// # Errors
/// What must be said for any figure at all.
pub fn to(judging: &Judging, node: usize, tried: &Tried, sheet: &mut Sheet) -> Lookup<Profile> {
    let piping = &judging.piping;
    judging.without_loops()?;
    let path = piping.network.path(node);
    if path.is_empty() {
        let what = "pipes that lead from the point of delivery to this outlet";
        return Err(Unresolved::because(piping.nodes[node].pointer(), what));
    }
    let start = need!(piping.project, gas.supply.pressure_minimum).or_else(|_| need!(piping.project, gas.supply.pressure))?;
    // A way so long is no house's; a line for each of its pipes, for each of its outlets, would only fill the report.
    let shown = tried.is_empty() && path.len() <= SHOWN;
    sheet.line("supply", text!("{} at {}", start, piping.origin(piping.source)), "");
    let mut left = Left::exactly(start.quantity());
    let mut profile = Profile { stretches: Vec::new(), left, from: start.quantity(), missing: None };
    for segment in path {
        let zone = judging.zone(segment)?;
        let (stretch, taken) = stretch(judging, segment, left, tried, &mut profile.missing, sheet)?;
        left = left.less(&taken);
        if shown {
            tell(judging, segment, zone, (stretch.size, &taken, left), sheet);
        }
        let regulated = piping.network.fed_by(segment).filter(|fed| piping.begins[*fed] && *fed != node);
        if let Some(fed) = regulated {
            left = through_regulator(judging, fed, left, &mut profile.missing, sheet)?;
            profile.from = left.most;
            profile.stretches.clear();
        } else {
            profile.stretches.push(stretch);
        }
    }
    profile.left = left;
    Ok(profile)
}

fn tell(judging: &Judging, segment: usize, zone: &Zone, (size, taken, left): (Size, &Taken, Left), sheet: &mut Sheet) {
    let load = judging.demand.behind(&judging.piping, segment);
    let flow = crate::piping::flow_of(load.known, zone.heating_value);
    let drop = Left { least: Some(taken.least), most: taken.most.unwrap_or(taken.least) };
    let drop = if taken.most.is_some() { drop.words() } else { text!("{} or more", drop.words()) };
    let words = text!("{}, {} through it take {}, {} left", size.to_string(), in_unit(flow, "cfh"), drop, left.words());
    let source = match size {
        Size::Corrugated(_) => "bounded by the rows of its table",
        _ => "IRC G2413.4 (IFGC 402.4), the pipe equation",
    };
    sheet.line(&judging.piping.segments[segment].get().id, words, source);
}

fn stretch(
    judging: &Judging,
    segment: usize,
    before: Left,
    tried: &Tried,
    missing: &mut Option<Unresolved>,
    sheet: &mut Sheet,
) -> Lookup<(Stretch, Taken)> {
    let place = &judging.piping.segments[segment];
    let zone = judging.zone(segment)?;
    let mut sized = sizes::of(place)?;
    if let Some(size) = tried.get(&segment) {
        sized = Sized { size: *size, bore: sizes::bore(place.material.unwrap_or_default(), *size) };
    }
    // What a pipe takes is physics: here every fitting counts, whatever the sizing tables allow for.
    let bends = Bends::of(&judging.piping, place);
    let length = lengths::measured_as(place, Some(sized.size), Policy::All, &bends);
    let load = judging.demand.behind(&judging.piping, segment);
    let unknown = [length.missing.clone(), load.missing.clone()];
    *missing = unknown.into_iter().flatten().fold(missing.take(), Unresolved::joined);
    let endless = load.missing.is_some();
    let nothing = Taken { least: Pressure::default(), most: (!endless).then(Pressure::default) };
    let (taken, larger) = match sized.bore {
        _ if load.known.value <= 0.0 => (nothing, Vec::new()),
        Some(bore) => (by_equation(zone, bore, load.known, length.whole, before), sized.size.larger()),
        None if matches!(sized.size, Size::Corrugated(_)) => {
            let column = capacity::column(&judging.piping, place, &sized, zone, judging.generic(), sheet)?;
            (by_column(&column, sized.size, load.known, length.whole), column.larger(sized.size))
        }
        None => return Err(place.missing("/inside_diameter")),
    };
    let taken = Taken { most: taken.most.filter(|_| !endless), ..taken };
    Ok((Stretch { segment, most: taken.most, size: sized.size, larger }, taken))
}

fn by_equation(zone: &Zone, bore: uom::si::f64::Length, load: Power, length: Range, before: Left) -> Taken {
    let flow = load / zone.heating_value;
    let drop = |start: Pressure, metres: f64| match metres {
        0.0 => Some(Pressure::default()),
        metres if metres.is_finite() => drop_from(start, flow, bore, feet(metres), zone.piped()),
        _ => None,
    };
    // From less pressure a given flow takes more.
    Taken {
        least: drop(before.most, length.least).unwrap_or(before.most),
        most: before.least.and_then(|least| drop(least, length.most)),
    }
}

fn by_column(column: &Column, size: Size, load: Power, length: Range) -> Taken {
    let far = reach(&column.points(size), load);
    let share = |metres: f64, row: uom::si::f64::Length| column.drop * (metres / row.value);
    Taken {
        least: far.not_carried.map_or(Pressure::default(), |row| share(length.least, row)),
        most: far.carried.filter(|_| length.most.is_finite()).map(|row| share(length.most, row)),
    }
}

fn through_regulator(
    judging: &Judging,
    node: usize,
    before: Left,
    missing: &mut Option<Unresolved>,
    sheet: &mut Sheet,
) -> Lookup<Left> {
    let Some(regulator) = judging.piping.regulators[node].clone() else { return Ok(before) };
    let regulator = regulator?;
    let outlet = need!(regulator, outlet_pressure)?;
    let stated = need!(regulator, inlet_pressure_minimum);
    let needed = stated.as_ref().map_or(outlet.quantity(), |least| least.quantity());
    let label = regulator.label();
    let words = text!("{} before {}, it needs {}", before.words(), label, in_unit(needed, "in wc"));
    match before.least {
        Some(least) if at_least(least, needed) => {
            sheet.test("regulator", words, "the regulator's instructions", true);
        }
        _ if !at_least(before.most, needed) => {
            sheet.related(regulator.pointer());
            sheet.require("regulator", words, "the regulator's instructions", false);
        }
        _ => *missing = Unresolved::joined(missing.take(), regulator.missing("/inlet_pressure")),
    }
    sheet.line("zone", text!("{} behind {}", outlet, label), "IRC G2413.4.3 (IFGC 402.4.3)");
    Ok(Left::exactly(outlet.quantity()))
}

/// Larger sizes that leave the pressure wanted: the pipe that takes most is enlarged first, again and again.
pub fn enlarged(judging: &Judging, node: usize, wanted: Pressure) -> Option<Tried> {
    let mut tried = Tried::new();
    let rounds = TRIES / judging.piping.network.path(node).len().max(1);
    for _ in 0..rounds.min(64) {
        let profile = to(judging, node, &tried, &mut Sheet::default()).ok()?;
        if profile.left.least.is_some_and(|left| at_least(left, wanted)) {
            return Some(tried);
        }
        let growing = profile.stretches.iter().filter(|stretch| !stretch.larger.is_empty());
        let taking = |stretch: &Stretch| stretch.most.map_or(f64::INFINITY, |most| most.value);
        let worst = growing.max_by(|one, other| taking(one).total_cmp(&taking(other)))?;
        tried.insert(worst.segment, *worst.larger.first()?);
    }
    None
}
