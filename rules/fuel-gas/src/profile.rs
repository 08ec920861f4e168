//! The pressure on the way to an outlet while everything burns: what the supply or a regulator gives, less what each pipe takes.

use crate::drop::{Left, Stretch, stretch};
use crate::judging::Judging;
use crate::piping::{among, pressure_of};
use redtag_handbook::piping::Size;
use redtag_rule::prelude::*;
use std::collections::BTreeMap;
use uom::si::f64::Pressure;

/// Ways of more pipes than this are not shown pipe by pipe.
const SHOWN: usize = 60;
/// So many times a pipe is enlarged to leave a pressure; where that is not enough the cure is in words.
const ROUNDS: usize = 64;

/// A regulator on the way.
struct Regulated {
    words: Text,
    /// Whether enough reaches it; not said where what is not known decides.
    holds: Option<bool>,
    /// What its maker would have to say.
    unsaid: Option<Unresolved>,
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
            None => {
                sheet.line("regulator", self.words.clone(), SOURCE);
                self.unsaid.iter().for_each(|unsaid| sheet.lack(unsaid.clone()));
            }
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
        // It needs more before it than it lets out; how much more its maker says.
        Some(least) if at_least(least, needed) => stated.is_ok().then_some(true),
        _ if !at_least(before.most, needed) => Some(false),
        _ => None,
    };
    let unsaid = stated.err().filter(|_| holds.is_none());
    if unsaid.is_none() && holds.is_none() {
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
        unsaid,
        pointer: regulator.pointer().to_owned(),
        behind: text!("{} behind {}", pressure_of(outlet.quantity()), label),
    });
}
