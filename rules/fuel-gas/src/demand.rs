//! What each outlet draws, and what flows in each pipe with everything on.

use crate::parameters::{self, Altitude};
use crate::piping::{Piping, among};
use redtag_rule::prelude::*;
use std::collections::{BTreeMap, BTreeSet};
use uom::si::f64::Power;

/// A load of which something may be unknown.
#[derive(Debug, Clone, Default)]
pub struct Load {
    /// What is known of it.
    pub known: Power,
    /// What is not said about the rest.
    pub missing: Option<Unresolved>,
}

/// The loads of a piping.
pub struct Demand<'a> {
    /// What each node draws itself.
    pub at: Vec<Load>,
    /// The appliance at each node.
    pub appliances: Vec<Option<Place<'a, Equipment>>>,
    /// How the figure of each appliance came about, in words.
    pub words: Vec<Text>,
    sums: Vec<f64>,
    missing: Vec<Option<Unresolved>>,
}

impl<'a> Demand<'a> {
    /// The loads of all outlets, all at once.
    pub fn of(inquiry: &Inquiry<'a>, piping: &Piping<'a>) -> Self {
        let outlets = Outlets::of(inquiry);
        let altitude = parameters::altitude(inquiry);
        let (mut at, mut appliances, mut words) = (Vec::new(), Vec::new(), Vec::new());
        for node in &piping.nodes {
            let appliance = outlets.appliance(inquiry, node);
            let drawn = match &appliance {
                Ok(Some(appliance)) => input(inquiry, appliance, &altitude),
                Ok(None) => without_appliance(node),
                Err(unresolved) => Err(unresolved.clone()),
            };
            let (load, said) = match drawn {
                Ok((known, said)) => (Load { known, missing: None }, said),
                Err(unresolved) => (Load { known: Power::default(), missing: Some(unresolved) }, Text::default()),
            };
            at.push(load);
            words.push(said);
            appliances.push(appliance.ok().flatten());
        }
        let own: Vec<f64> = at.iter().map(|load| load.known.value).collect();
        let sums = piping.network.sums(&own);
        let missing = spread(piping, &at);
        Self { at, appliances, words, sums, missing }
    }

    /// What flows in a pipe.
    pub fn behind(&self, piping: &Piping, segment: usize) -> Load {
        let Some(node) = piping.network.fed_by(segment) else { return Load::default() };
        let known = Power { value: self.sums.get(node).copied().unwrap_or(0.0), ..Power::default() };
        Load { known, missing: self.missing.get(segment).cloned().flatten() }
    }

    /// What flows through a node.
    pub fn through(&self, piping: &Piping, node: usize) -> Load {
        match piping.network.feeder(node) {
            Some(segment) => self.behind(piping, segment),
            None => {
                let known = Power { value: self.sums.get(node).copied().unwrap_or(0.0), ..Power::default() };
                let missing = self.at.iter().filter_map(|load| load.missing.clone()).fold(None, among);
                Load { known, missing }
            }
        }
    }
}

/// What is not said about loads, at every pipe on their way.
fn spread(piping: &Piping, at: &[Load]) -> Vec<Option<Unresolved>> {
    let mut missing: Vec<Option<Unresolved>> = vec![None; piping.segments.len()];
    for (node, load) in at.iter().enumerate() {
        let Some(unresolved) = &load.missing else { continue };
        for segment in piping.network.path(node) {
            missing[segment] = among(missing[segment].take(), unresolved.clone());
        }
    }
    missing
}

/// Which appliance hangs on which outlet, by what either of them says.
struct Outlets<'p> {
    by_node: BTreeMap<&'p str, BTreeSet<&'p str>>,
    named_by: BTreeMap<&'p str, usize>,
}

impl<'p> Outlets<'p> {
    fn of(inquiry: &Inquiry<'p>) -> Self {
        let project = inquiry.project();
        let (mut by_node, mut named_by) = (BTreeMap::<&str, BTreeSet<&str>>::new(), BTreeMap::<&str, BTreeSet<&str>>::new());
        let mut tie = |node: &'p str, appliance: &'p str| {
            by_node.entry(node).or_default().insert(appliance);
            named_by.entry(appliance).or_default().insert(node);
        };
        for node in need!(project, gas.nodes).every() {
            node.get().equipment.iter().for_each(|appliance| tie(node.get().id.as_str(), appliance));
        }
        for appliance in need!(project, equipment).every() {
            let outlet = appliance.get().fuel_burning.as_ref().and_then(|burning| burning.gas_outlet.as_deref());
            outlet.into_iter().for_each(|node| tie(node, appliance.get().id.as_str()));
        }
        Self { by_node, named_by: named_by.into_iter().map(|(appliance, nodes)| (appliance, nodes.len())).collect() }
    }

    fn appliance(&self, inquiry: &Inquiry<'p>, node: &Place<'p, GasNode>) -> Lookup<Option<Place<'p, Equipment>>> {
        let Some(here) = self.by_node.get(node.get().id.as_str()) else { return Ok(None) };
        let pointer = format!("{}/equipment", node.pointer());
        let alone = here.len() == 1 && here.iter().all(|appliance| self.named_by.get(appliance) == Some(&1));
        let Some(id) = here.first().filter(|_| alone) else {
            return Err(Unresolved::because(pointer, "the one appliance that hangs on this outlet, and on no other"));
        };
        let id = (*id).to_owned();
        let place = Place::new(&id, pointer);
        inquiry.equipment(&place).map(Some)
    }
}

/// What a node without an appliance draws.
fn without_appliance(node: &Place<GasNode>) -> Lookup<(Power, Text)> {
    if let Ok(load) = need!(node, load) {
        let words = text!("{} it is meant for", load);
        return Ok((load.quantity(), words));
    }
    match node.kind {
        GasNodeKind::Outlet => {
            let what = "the appliance at the outlet, or the load the outlet is meant for";
            Err(Unresolved::because(format!("{}/equipment", node.pointer()), what))
        }
        GasNodeKind::Unrecognised => Err(node.missing("/kind")),
        _ => Ok((Power::default(), Text::default())),
    }
}

/// The greatest input of an appliance as it stands there.
fn input(inquiry: &Inquiry, appliance: &Place<Equipment>, altitude: &Altitude) -> Lookup<(Power, Text)> {
    let plate = need!(appliance, fuel_burning.plate.input).and_then(|input| match input.si() > 0.0 {
        true => Ok(input),
        false => Err(Unresolved::because(input.pointer(), "an input above zero")),
    });
    let converted = need!(appliance, fuel_burning.conversion).ok().filter(|conversion| conversion.performed != Some(false));
    let labelled = converted.and_then(|conversion| need!(conversion, label.input).ok());
    let set = altitude.applies(inquiry).then(|| set_for_altitude(appliance)).flatten();
    let said = [labelled, set].into_iter().flatten().filter(|input| input.si() > 0.0);
    // What it burns now goes before the plate; of two such figures the greater counts.
    let now = said.max_by(|one, other| one.si().total_cmp(&other.si()));
    match now {
        Some(input) => Ok((input.quantity(), text!("{} as it is set and labelled", input))),
        None => plate.map(|input| (input.quantity(), text!("{} by its plate", input))),
    }
}

/// The input an appliance is set to for the elevation, where it was set.
fn set_for_altitude<'a>(appliance: &Place<'a, Equipment>) -> Option<Place<'a, quantity::Power>> {
    let method = need!(appliance, fuel_burning.derate.method).ok()?;
    let was_set = matches!(*method, DerateMethod::ModelCode | DerateMethod::Maker | DerateMethod::Authority);
    need!(appliance, fuel_burning.derate.input).ok().filter(|_| was_set)
}
