//! The pressure on the way to an outlet while everything burns: what the supply or a regulator gives, less what each pipe takes.

use crate::capacity::{self, Bends, Column, Zone};
use crate::judging::Judging;
use crate::lengths::{self, Policy, Range};
use crate::piping::{among, feet, pressure_of};
use crate::sizes::{self, Sized};
use redtag_handbook::piping::{Size, drop_from, reach};
use redtag_handbook::units;
use redtag_rule::prelude::*;
use std::collections::BTreeMap;
use uom::si::f64::{Power, Pressure};

/// Ways of more pipes than this are not shown pipe by pipe.
const SHOWN: usize = 60;
/// So many times a pipe is enlarged to leave a pressure; where that is not enough the cure is in words.
const ROUNDS: usize = 64;

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
        let water = |pressure: Pressure| pressure_of(rounded(pressure));
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

/// A pipe, and what it takes.
struct Stretch {
    size: Size,
    larger: Vec<Size>,
    taken: Taken,
    missing: Option<Unresolved>,
}

/// A regulator on the way.
struct Regulated {
    words: Text,
    /// Whether enough reaches it; not said where what is not known decides.
    holds: Option<bool>,
    pointer: String,
    behind: Text,
    cure: Text,
}

/// What arrives at a node.
struct Arrival {
    left: Left,
    /// What goes on from it: other than what arrives behind a regulator.
    onward: Lookup<Left>,
    regulated: Option<Regulated>,
    missing: Option<Unresolved>,
}

/// The pressure everywhere in a piping with everything on, worked out once from the point of delivery outward.
pub struct Pressures<'j, 'a> {
    judging: &'j Judging<'a>,
    start: Lookup<Left>,
    stretches: BTreeMap<usize, Stretch>,
    arrivals: BTreeMap<usize, Lookup<Arrival>>,
}

/// The way to an outlet.
pub struct Profile {
    /// The pipes of its last zone.
    pub pipes: Vec<usize>,
    /// What arrives.
    pub left: Left,
    /// What starts the last zone of the way.
    pub from: Left,
    /// What is not said.
    pub missing: Option<Unresolved>,
}

impl<'j, 'a> Pressures<'j, 'a> {
    /// All pressures of a piping.
    pub fn of(judging: &'j Judging<'a>) -> Self {
        let piping = &judging.piping;
        let said = need!(piping.project, gas.supply.pressure_minimum).or_else(|_| need!(piping.project, gas.supply.pressure));
        let start = judging.without_loops().and(said.map(|pressure| Left::exactly(pressure.quantity())));
        let mut all = Self { judging, start, stretches: BTreeMap::new(), arrivals: BTreeMap::new() };
        for &node in piping.network.order() {
            let feeder =
                piping.network.feeder(node).zip(piping.network.feeder(node).and_then(|pipe| piping.network.source_of(pipe)));
            if let Some((segment, before)) = feeder {
                let arrival = all.arrive(node, segment, before);
                all.arrivals.insert(node, arrival);
            }
        }
        all
    }

    fn onward(&self, node: usize) -> Lookup<(Left, Option<Unresolved>)> {
        if node == self.judging.piping.source {
            return self.start.clone().map(|left| (left, None));
        }
        match self.arrivals.get(&node) {
            Some(Ok(arrival)) => arrival.onward.clone().map(|left| (left, arrival.missing.clone())),
            Some(Err(unresolved)) => Err(unresolved.clone()),
            None => Err(Unresolved::at(self.judging.piping.nodes[node].pointer())),
        }
    }

    fn arrive(&mut self, node: usize, segment: usize, before: usize) -> Lookup<Arrival> {
        let (upstream, lacking) = self.onward(before)?;
        let stretch = stretch(self.judging, segment, upstream, None)?;
        let left = upstream.less(&stretch.taken);
        let missing = stretch.missing.clone().map_or(lacking.clone(), |more| among(lacking, more));
        self.stretches.insert(segment, stretch);
        let mut arrival = Arrival { left, onward: Ok(left), regulated: None, missing };
        match self.judging.piping.regulators[node].clone() {
            None => {}
            Some(Err(unresolved)) => arrival.onward = Err(unresolved),
            Some(Ok(regulator)) => regulate(&regulator, &mut arrival),
        }
        Ok(arrival)
    }

    /// The way to a node; its lines, and a regulator that starves on it, go onto the sheet.
    ///
    /// # Errors
    /// What must be said for any figure at all.
    pub fn to(&self, node: usize, sheet: &mut Sheet) -> Lookup<Profile> {
        let piping = &self.judging.piping;
        self.judging.without_loops()?;
        let path = piping.network.path(node);
        if path.is_empty() {
            let what = "pipes that lead from the point of delivery to this outlet";
            return Err(Unresolved::because(piping.nodes[node].pointer(), what));
        }
        let start = self.start.clone()?;
        sheet.line("supply", text!("{} at {}", start.words(), piping.origin(piping.source)), "");
        let mut profile = Profile { pipes: Vec::new(), left: start, from: start, missing: None };
        let shown = path.len() <= SHOWN;
        for segment in path {
            let Some(fed) = piping.network.fed_by(segment) else { continue };
            let arrival = match self.arrivals.get(&fed) {
                Some(Ok(arrival)) => arrival,
                Some(Err(unresolved)) => return Err(unresolved.clone()),
                None => return Err(Unresolved::at(piping.segments[segment].pointer())),
            };
            if shown {
                self.tell(segment, arrival.left, sheet)?;
            }
            profile.pipes.push(segment);
            (profile.left, profile.missing) = (arrival.left, arrival.missing.clone());
            if let Some(regulated) = arrival.regulated.as_ref().filter(|_| fed != node) {
                profile.pipes.clear();
                profile.from = arrival.onward.clone()?;
                regulated.tell(sheet);
            }
        }
        Ok(profile)
    }

    fn tell(&self, segment: usize, left: Left, sheet: &mut Sheet) -> Lookup<()> {
        let Some(stretch) = self.stretches.get(&segment) else { return Ok(()) };
        let zone = self.judging.zone(segment)?;
        let load = self.judging.demand.behind(&self.judging.piping, segment);
        let flow = crate::piping::flow_of(load.known, zone.heating_value);
        let taken = &stretch.taken;
        let drop = Left { least: Some(taken.least), most: taken.most.unwrap_or(taken.least) }.words();
        let drop = if taken.most.is_some() { drop } else { text!("{} or more", drop) };
        let size = stretch.size;
        let words = text!("{}, {} through it take {}, {} left", size.to_string(), in_unit(flow, "cfh"), drop, left.words());
        let source = match size {
            Size::Corrugated(_) => "bounded by the rows of its table",
            _ => "IRC G2413.4 (IFGC 402.4), the pipe equation",
        };
        sheet.line(&self.judging.piping.segments[segment].get().id, words, source);
        Ok(())
    }

    /// Larger sizes that leave the pressure wanted: the pipe that takes most is enlarged first, again and again.
    pub fn enlarged(&self, profile: &Profile, wanted: Pressure) -> Option<Tried> {
        let start = profile.from.least.filter(|_| profile.pipes.len() <= SHOWN)?;
        let mut sizes: BTreeMap<usize, (Size, Vec<Size>, Option<Pressure>)> = BTreeMap::new();
        for segment in &profile.pipes {
            let stretch = self.stretches.get(segment)?;
            sizes.insert(*segment, (stretch.size, stretch.larger.clone(), stretch.taken.most));
        }
        let mut tried = Tried::new();
        for _ in 0..ROUNDS {
            let taken =
                sizes.values().map(|(.., most)| *most).try_fold(Pressure::default(), |sum, most| most.map(|most| sum + most));
            if taken.is_some_and(|taken| at_least(start - taken, wanted)) {
                return Some(tried);
            }
            let taking = |most: &Option<Pressure>| most.map_or(f64::INFINITY, |most| most.value);
            let growing = sizes.iter().filter(|(_, (_, larger, _))| !larger.is_empty());
            let (&worst, (_, larger, _)) =
                growing.max_by(|(_, (.., one)), (_, (.., other))| taking(one).total_cmp(&taking(other)))?;
            let next = *larger.first()?;
            let before = self.judging.piping.network.source_of(worst)?;
            let stretch = stretch(self.judging, worst, self.onward(before).ok()?.0, Some(next)).ok()?;
            sizes.insert(worst, (stretch.size, stretch.larger, stretch.taken.most));
            tried.insert(worst, next);
        }
        None
    }
}

/// Sizes to be put in place of those there are.
pub type Tried = BTreeMap<usize, Size>;

impl Regulated {
    fn tell(&self, sheet: &mut Sheet) {
        const SOURCE: &str = "the regulator's instructions";
        match self.holds {
            Some(holds) => {
                if !sheet.require("regulator", self.words.clone(), SOURCE, holds) {
                    sheet.cure(self.cure.clone());
                }
            }
            None => sheet.line("regulator", self.words.clone(), SOURCE),
        }
        sheet.related(self.pointer.clone());
        sheet.line("zone", self.behind.clone(), "IRC G2413.4.3 (IFGC 402.4.3)");
    }
}

fn regulate(regulator: &Place<GasRegulator>, arrival: &mut Arrival) {
    let outlet = match need!(regulator, outlet_pressure) {
        Ok(outlet) => outlet,
        Err(unresolved) => {
            arrival.onward = Err(unresolved);
            return;
        }
    };
    let stated = need!(regulator, inlet_pressure_minimum);
    let needed = stated.as_ref().map_or(outlet.quantity(), |least| least.quantity());
    let before = arrival.left;
    let holds = match before.least {
        Some(least) if at_least(least, needed) => Some(true),
        _ if !at_least(before.most, needed) => Some(false),
        _ => None,
    };
    if holds.is_none() {
        arrival.missing = among(arrival.missing.take(), regulator.missing("/inlet_pressure"));
    }
    arrival.onward = Ok(Left::exactly(outlet.quantity()));
    let label = format!("regulator {}", regulator.get().id);
    arrival.regulated = Some(Regulated {
        cure: text!(
            "have a licensed fitter enlarge the piping before {} until {} reaches it with everything on, or ask for a higher delivery",
            label,
            pressure_of(needed)
        ),
        words: text!("{} before {}, it needs {}", before.words(), label, pressure_of(needed)),
        holds,
        pointer: regulator.pointer().to_owned(),
        behind: text!("{} behind {}", pressure_of(outlet.quantity()), label),
    });
}

/// What a pipe takes, as it is or in another size.
fn stretch(judging: &Judging, segment: usize, before: Left, tried: Option<Size>) -> Lookup<Stretch> {
    let place = &judging.piping.segments[segment];
    let zone = judging.zone(segment)?;
    let sized = match tried {
        Some(size) => Sized { size, bore: sizes::bore(place.material.unwrap_or_default(), size) },
        None => sizes::of(place)?,
    };
    // What a pipe takes is physics: here every fitting counts, whatever the sizing tables allow for.
    let bends = Bends::of(&judging.piping, place);
    let length = lengths::measured_as(place, Some(sized.size), Policy::All, &bends);
    let load = judging.demand.behind(&judging.piping, segment);
    let endless = load.missing.is_some();
    let missing = [length.missing.clone(), load.missing.clone()].into_iter().flatten().fold(None, among);
    let nothing = Taken { least: Pressure::default(), most: (!endless).then(Pressure::default) };
    let mut faults = Sheet::default();
    let (taken, larger) = match sized.bore {
        _ if load.known.value <= 0.0 => (nothing, Vec::new()),
        Some(bore) => (by_equation(zone, bore, load.known, length.whole, before), sized.size.larger()),
        None if matches!(sized.size, Size::Corrugated(_)) => {
            let column = capacity::column(&judging.piping, place, &sized, zone, judging.generic(), &mut faults)?;
            if !faults.sound() {
                let what = "a sizing table that is made for this pipe";
                return Err(Unresolved::because(format!("{}/sizing_table", place.pointer()), what));
            }
            (by_column(&column, sized.size, load.known, length.whole), column.larger(sized.size))
        }
        None => return Err(place.missing("/inside_diameter")),
    };
    let taken = Taken { most: taken.most.filter(|_| !endless), ..taken };
    Ok(Stretch { size: sized.size, larger, taken, missing })
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
