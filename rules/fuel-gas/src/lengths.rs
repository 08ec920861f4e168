//! How long a pipe counts: measured, and with what its fittings add. What is not said leaves a range.

use crate::capacity::Bends;
use crate::piping::{Piping, among};
use crate::sizes::{self, Sized};
use redtag_handbook::piping::{Fitting as Screwed, Size, UNKNOWN_FITTINGS, equivalent_diameters, equivalent_length};
use redtag_handbook::units;
use redtag_rule::prelude::*;
use std::collections::BTreeMap;

/// A length in metres that is at least so much and at most so much, endless where nothing bounds it.
#[derive(Debug, Clone, Copy, Default, PartialEq)]
pub struct Range {
    /// At least.
    pub least: f64,
    /// At most.
    pub most: f64,
}

impl Range {
    fn exactly(metres: f64) -> Self {
        Self { least: metres, most: metres }
    }

    /// Both ends moved.
    #[must_use]
    pub fn plus(self, more: f64) -> Self {
        Self { least: self.least + more, most: self.most + more }
    }

    /// In words.
    pub fn words(&self) -> Text {
        let feet = |metres: f64| in_unit(crate::piping::feet(metres), "ft");
        match (self.most - self.least).abs() <= 1e-9 * self.most.abs() {
            true => text!("{}", feet(self.least)),
            false if self.most.is_finite() => text!("between {} and {}", feet(self.least), feet(self.most)),
            false => text!("{} or more", feet(self.least)),
        }
    }
}

/// How fittings count.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Policy {
    /// Those of runs with four or more, from the start of the zone to its most remote end: however many pieces a run is drawn in.
    FourOrMore,
    /// Those of a run of which it is not said whether it has four.
    Perhaps,
    /// All.
    All,
    /// Half the measured length.
    Half,
    /// Not at all.
    Nothing,
}

impl Policy {
    /// By the word of the parameter.
    pub fn of(word: &str) -> Self {
        match word {
            "all" => Self::All,
            "half" => Self::Half,
            "none" => Self::Nothing,
            _ => Self::FourOrMore,
        }
    }
}

/// The length of one pipe.
#[derive(Debug, Clone)]
pub struct Measured {
    /// With its fittings.
    pub whole: Range,
    /// What its fittings add.
    pub fittings: Range,
    /// What is not said.
    pub missing: Option<Unresolved>,
}

/// The length of a pipe as it is.
pub fn measured(segment: &Place<GasSegment>, policy: Policy, bends: &Bends) -> Measured {
    let size = sizes::of(segment).ok().map(|sized: Sized| sized.size);
    measured_as(segment, size, policy, bends)
}

/// The length of a pipe, if it had another size.
pub fn measured_as(segment: &Place<GasSegment>, size: Option<Size>, policy: Policy, bends: &Bends) -> Measured {
    let length = need!(segment, length).and_then(|length| match length.si() >= 0.0 {
        true => Ok(length.si()),
        false => Err(Unresolved::because(length.pointer(), "a length that is not below zero")),
    });
    let (straight, lacking) = match length {
        Ok(metres) => (Range::exactly(metres), None),
        Err(unresolved) => (Range { least: 0.0, most: f64::INFINITY }, Some(unresolved)),
    };
    let (fittings, also) = fittings(segment, size, straight.most, policy, bends);
    let whole = Range { least: straight.least + fittings.least, most: straight.most + fittings.most };
    let missing = also.map_or(lacking.clone(), |also| Unresolved::joined(lacking, also));
    Measured { whole, fittings, missing }
}

fn fittings(
    segment: &Place<GasSegment>,
    size: Option<Size>,
    straight: f64,
    policy: Policy,
    bends: &Bends,
) -> (Range, Option<Unresolved>) {
    let half = if straight.is_finite() { straight * UNKNOWN_FITTINGS.value } else { 0.0 };
    match policy {
        Policy::Nothing => return (Range::default(), None),
        Policy::Half => return (Range::exactly(half), None),
        Policy::Perhaps => {
            let (all, missing) = fittings(segment, size, straight, Policy::All, bends);
            let least = if matches!(size, Some(Size::Corrugated(_))) { all.least } else { 0.0 };
            return (Range { least, most: all.most }, missing);
        }
        Policy::All | Policy::FourOrMore => {}
    }
    let unknown = |from: f64, unresolved| (Range { least: from, most: from + half }, Some(unresolved));
    let all = match need!(segment, fittings) {
        Ok(all) => all.items().collect::<Vec<_>>(),
        Err(unresolved) => return unknown(0.0, unresolved),
    };
    if let Some(bare) = all.iter().find(|fitting| fitting.count.is_none()) {
        return unknown(0.0, bare.missing("/count"));
    }
    let count: u64 = all.iter().map(|fitting| u64::from(fitting.count.unwrap_or(0))).sum();
    if let Some(Size::Corrugated(_)) = size {
        return (Range::exactly(bends.added(&all)), None);
    }
    if policy == Policy::FourOrMore {
        return (Range::default(), None);
    }
    // What a fitting adds goes with the size: a pipe without one leaves its neighbours' lengths open too.
    if let (None, Err(unresolved)) = (size, sizes::of(segment))
        && count > 0
    {
        return unknown(0.0, unresolved);
    }
    let (mut known, mut missing) = (0.0, None);
    for fitting in &all {
        match each(fitting, size) {
            Ok(metres) => known += metres * f64::from(fitting.count.unwrap_or(0)),
            Err(unresolved) => missing = Unresolved::joined(missing.take(), unresolved),
        }
    }
    missing.map_or((Range::exactly(known), None), |unresolved| unknown(known, unresolved))
}

/// What one fitting adds. A tee straight through, a coupling, a union, a bushing count as pipe.
fn each(fitting: &Place<Fitting>, size: Option<Size>) -> Lookup<f64> {
    if let Some(stated) = fitting.equivalent_length.as_ref().filter(|stated| stated.si() >= 0.0) {
        return Ok(stated.si());
    }
    let screwed = match fitting.kind {
        FittingKind::Elbow45 => Screwed::Elbow45,
        FittingKind::Elbow90 | FittingKind::Bend => Screwed::Elbow90,
        FittingKind::TeeBranch => Screwed::TeeBranch,
        FittingKind::ReturnBend => Screwed::ReturnBend,
        FittingKind::Valve | FittingKind::Unrecognised => {
            let what = "the equivalent length of the fitting, from its maker: the table's figures for valves were not read";
            return Err(Unresolved::because(format!("{}/equivalent_length", fitting.pointer()), what));
        }
        _ => return Ok(0.0),
    };
    let printed = match size {
        Some(Size::Steel(nominal)) => equivalent_length(screwed, nominal),
        _ => None,
    };
    let by_ratio = || size.and_then(Size::bore).map(|bore| bore * equivalent_diameters(screwed));
    Ok(units::in_feet(printed.or_else(by_ratio).unwrap_or_default()) * 0.3048)
}

/// The ways through a piping: for every pipe, how long it counts by either method.
pub struct Lengths {
    /// Each pipe's own length.
    pub own: Vec<Measured>,
    longest: Vec<Range>,
    branch: Vec<Range>,
    missing: Option<Unresolved>,
    ends: Vec<Option<usize>>,
    runs: Vec<Counted>,
}

/// What the fittings of the runs a pipe is part of make of its own.
#[derive(Debug, Clone, Copy)]
pub struct Counted {
    /// How its fittings count.
    pub policy: Policy,
    /// Bends of corrugated tubing before it, which have used up what a table includes.
    pub bends_before: u64,
}

impl Lengths {
    /// All lengths, by one policy.
    pub fn of(piping: &Piping, policy: Policy, bends: impl Fn(usize) -> Bends) -> Self {
        let is_end: Vec<bool> = piping
            .nodes
            .iter()
            .map(|node| matches!(node.kind, GasNodeKind::Outlet) || node.equipment.is_some() || node.load.is_some())
            .collect();
        let network = &piping.network;
        let runs = runs(piping, policy, &is_end);
        let one = |(number, segment)| {
            let counted: &Counted = &runs[number];
            measured(segment, counted.policy, &bends(number).after(counted.bends_before))
        };
        let own: Vec<Measured> = piping.segments.iter().enumerate().map(one).collect();
        let ways = |pick: fn(&Range) -> f64| {
            let lengths: Vec<f64> = own.iter().map(|measured| pick(&measured.whole)).collect();
            let far = network.distances(&lengths, &piping.begins);
            let branch = network.farthest(&far, &is_end, &piping.begins);
            (far, branch)
        };
        let ((least, branch_least), (most, branch_most)) = (ways(|range| range.least), ways(|range| range.most));
        let mut by_zone: BTreeMap<usize, (Range, usize)> = BTreeMap::new();
        for node in (0..piping.nodes.len()).filter(|node| is_end[*node] || piping.begins[*node]) {
            let Some(zone) = piping.zones[node].filter(|zone| *zone != node) else { continue };
            let (range, end) = by_zone.entry(zone).or_insert((Range::default(), node));
            if most[node] > range.most {
                *end = node;
            }
            *range = Range { least: range.least.max(least[node]), most: range.most.max(most[node]) };
        }
        let (mut longest, mut branch, mut ends) = (Vec::new(), Vec::new(), Vec::new());
        for number in 0..piping.segments.len() {
            let fed = network.fed_by(number);
            let zone = piping.zone_of(number).and_then(|zone| by_zone.get(&zone));
            longest.push(zone.map_or_else(Range::default, |(range, _)| *range));
            ends.push(zone.map(|(_, end)| *end));
            let at = |ways: &[Option<f64>]| fed.and_then(|node| ways[node]).unwrap_or(0.0);
            branch.push(Range { least: at(&branch_least), most: at(&branch_most) });
        }
        let missing = own.iter().filter_map(|measured| measured.missing.clone()).fold(None, among);
        Self { own, longest, branch, missing, ends, runs }
    }

    /// How the fittings of a pipe count.
    pub fn counted(&self, segment: usize) -> Counted {
        self.runs[segment]
    }

    /// From the start of the zone to its most remote outlet.
    pub fn longest(&self, segment: usize) -> Range {
        self.longest[segment]
    }

    /// From the start of the zone to the most remote outlet behind the pipe.
    pub fn branch(&self, segment: usize) -> Range {
        self.branch[segment]
    }

    /// The most remote outlet of a pipe's zone.
    pub fn end(&self, segment: usize) -> Option<usize> {
        self.ends[segment]
    }

    /// What is not said of lengths and fittings.
    pub fn missing(&self) -> Option<Unresolved> {
        self.missing.clone()
    }
}

/// How the fittings of each pipe count, by the runs it is part of.
fn runs(piping: &Piping, policy: Policy, is_end: &[bool]) -> Vec<Counted> {
    let corrugated = |segment: &Place<GasSegment>| segment.material == Some(GasPipeMaterial::CorrugatedStainlessSteel);
    let count = |segment: &Place<GasSegment>| -> Option<f64> {
        let all = segment.fittings.as_ref()?;
        all.iter().map(|fitting| fitting.count.map(f64::from)).sum()
    };
    let of = |unsaid: f64, bends: bool| -> Vec<f64> {
        let one = |segment: &Place<GasSegment>| match corrugated(segment) == bends {
            true => count(segment).unwrap_or(unsaid),
            false => 0.0,
        };
        piping.segments.iter().map(one).collect()
    };
    let network = &piping.network;
    let most_of_run = |counts: &[f64]| network.farthest(&network.distances(counts, &piping.begins), is_end, &piping.begins);
    let (least, most) = (most_of_run(&of(0.0, false)), most_of_run(&of(4.0, false)));
    let bends = of(0.0, true);
    let before = network.distances(&bends, &piping.begins);
    let one = |number: usize| {
        let fed = network.fed_by(number);
        let at = |runs: &[Option<f64>]| fed.and_then(|node| runs[node]).unwrap_or_default();
        let policy = match policy {
            Policy::FourOrMore if at(&least) >= 4.0 => Policy::All,
            Policy::FourOrMore if at(&most) >= 4.0 => Policy::Perhaps,
            other => other,
        };
        // Counts are whole and small.
        #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)]
        let bends_before = fed.map_or(0.0, |node| (before[node] - bends[number]).max(0.0)) as u64;
        Counted { policy, bends_before }
    };
    (0..piping.segments.len()).map(one).collect()
}
