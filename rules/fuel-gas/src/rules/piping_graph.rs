//! The gas piping drawn in the project must hang together: one point of delivery, from which exactly one way leads to every
//! outlet, every regulator facing downstream, one pressure in each zone.
//!
//! Everything else about the piping is computed from this drawing. A loop, an appliance that hangs nowhere or two pressures in
//! one pipe would make every figure behind it a guess, so nothing is computed there until the drawing says what is built.
//! A regulator the wrong way round is worse than a drawing fault: it passes whatever pressure comes, or none.
//!
//! **How it is measured.** The pipes are followed from the point of delivery, whichever way they are drawn. Pipes of a loop, pipes
//! and outlets that are not reached, gas appliances without an outlet or with two, and pipes whose stated pressure is not that
//! of their zone are each named. A regulator faces the wrong way where the pipe that feeds it is drawn as leaving it, or where
//! it would have to raise the pressure.
//!
//! **How it is fixed.** In the drawing, or where the drawing is right, in the building: a licensed fitter turns the regulator to
//! its arrow and tests it. Networks with loops are sized by an engineer.

use crate::piping::{self, Piping};
use redtag_rule::prelude::*;

/// The rule.
pub const RULE: Rule = Rule {
    citations: &[
        cited("IRC", "2018", "G2413.1"),
        cited("IRC", "2018", "G2413.4.3"),
        cited("IRC", "2018", "G2421.2"),
        remembered("IFGC", "2021", "402.1"),
        remembered("IFGC", "2021", "410"),
    ],
    reads: &["/equipment", "/gas"],
    ..Rule::new("fuel-gas/piping-graph", "Gas piping that hangs together", check)
};

const WANTED: &str = "what the gas piping feeds";

fn check(inquiry: &Inquiry) -> Vec<Finding> {
    let project = inquiry.project();
    if !piping::is_drawn(inquiry) {
        if need!(project, gas.supply).is_err() {
            return piping::nothing_drawn(inquiry);
        }
        let lists = (need!(project, gas.nodes), need!(project, gas.segments)).together();
        return vec![project.ask(WANTED, || {
            lists.and(Err(Unresolved::because("/gas/segments", "the gas piping: its nodes, and the pipes between them")))
        })];
    }
    let piping = match Piping::of(inquiry) {
        Ok(piping) => piping,
        Err(unresolved) => {
            return std::iter::once(project.ask(WANTED, || Err(unresolved))).chain(whole(&project)).collect();
        }
    };
    let mut findings: Vec<Finding> = (0..piping.segments.len()).filter_map(|number| pipe(&piping, number)).collect();
    findings.extend((0..piping.nodes.len()).filter_map(|number| node(&piping, number)));
    findings.extend((0..piping.nodes.len()).filter_map(|number| regulator(&piping, number)));
    findings.extend(need!(project, equipment).every().iter().filter_map(|item| appliance(&piping, item)));
    findings.extend(whole(&project));
    if findings.is_empty() {
        let outlets = piping.nodes.iter().filter(|node| node.kind == GasNodeKind::Outlet).count();
        let words =
            format!("{} pipes lead from the point of delivery to {outlets} outlets, one way to each", piping.segments.len());
        findings.push(project.complies(text!("{}", words)).done());
    }
    findings
}

/// Whether every outlet is drawn: one that is not draws gas too, and every size and pressure holds for what is drawn.
fn whole(project: &Place<Project>) -> Option<Finding> {
    if project.gas.as_ref().and_then(|gas| gas.nodes_complete) == Some(true) {
        return None;
    }
    let what = "whether these are all the outlets of the piping: loads, sizes and pressures hold for those that are drawn";
    let unresolved = Unresolved::because("/gas/nodes_complete", what);
    Some(project.ask("whether every outlet of the piping is drawn", || Err(unresolved)))
}

/// What is wrong with a pipe.
fn pipe(piping: &Piping, number: usize) -> Option<Finding> {
    let place = &piping.segments[number];
    let network = &piping.network;
    if let Some(unresolved) = &piping.unconnected[number] {
        return Some(place.ask("what the pipe connects", || Err(unresolved.clone())));
    }
    if network.is_in_loop(number) {
        let what = "piping without a loop, or the calculation of an engineer: the loads alone do not tell what flows in a loop";
        return Some(place.unresolved(text!("it is part of a loop"), Unresolved::because(place.pointer(), what)).done());
    }
    if !network.reaches_link(number) {
        let what = "pipes that lead from the point of delivery to this one";
        return Some(place.unresolved(text!("no gas reaches it"), Unresolved::because(place.pointer(), what)).done());
    }
    let zone = piping.zone_of(number)?;
    let start = piping.set_at(zone).ok();
    if let Some(start) = start.filter(|start| piping.contradictions(zone, start.quantity()).contains(&number)) {
        return Some(other_pressure(piping, number, zone, &start));
    }
    let ends = [network.source_of(number), network.fed_by(number)];
    let at_regulator = ends.into_iter().flatten().any(|node| piping.regulators[node].is_some());
    (network.is_against_flow(number) && !at_regulator).then(|| against_flow(place))
}

fn other_pressure(piping: &Piping, number: usize, zone: usize, start: &Place<quantity::Pressure>) -> Finding {
    let place = &piping.segments[number];
    let what = "the pressure of the zone the pipe is in, or the regulator between";
    let said = piping::pressure_of(place.pressure.as_ref().map_or(start.quantity(), |pressure| pressure.quantity()));
    let summary =
        text!("{} is said of it, and it hangs on {} with {}", said, piping.origin(zone), piping::pressure_of(start.quantity()));
    let pointer = format!("{}/pressure", place.pointer());
    place.unresolved(summary, Unresolved::because(pointer, what)).related(start.pointer()).done()
}

fn against_flow(place: &Place<GasSegment>) -> Finding {
    let (from, to) = (place.from.clone().unwrap_or_default(), place.to.clone().unwrap_or_default());
    let values = [(format!("{}/from", place.pointer()), json!(to)), (format!("{}/to", place.pointer()), json!(from))];
    let words = text!("it is drawn against the flow; the gas takes it from {} to {}", to, from);
    place.advice(words).cure(redtag_rule::remedy_at(text!("turn it round in the project"), &values)).done()
}

/// What is wrong with a node.
fn node(piping: &Piping, number: usize) -> Option<Finding> {
    let place = &piping.nodes[number];
    if number != piping.source && place.kind == GasNodeKind::PointOfDelivery && piping.network.reaches(number) {
        let what = "one point of delivery for one piping";
        let unresolved = Unresolved::because(format!("{}/kind", place.pointer()), what);
        return Some(place.unresolved(text!("a second supply feeds the same piping"), unresolved).done());
    }
    let feeds = matches!(place.kind, GasNodeKind::Outlet) || place.equipment.is_some();
    if feeds && !piping.network.reaches(number) {
        let what = "pipes that lead from the point of delivery to this outlet";
        return Some(place.unresolved(text!("no gas reaches it"), Unresolved::because(place.pointer(), what)).done());
    }
    None
}

/// What is wrong with a regulator in the piping.
fn regulator(piping: &Piping, number: usize) -> Option<Finding> {
    let node = &piping.nodes[number];
    let regulator = piping.regulators[number].as_ref()?;
    let place = match regulator {
        Ok(place) => place,
        Err(unresolved) => return Some(node.ask("what the regulator does", || Err(unresolved.clone()))),
    };
    if !piping.network.reaches(number) {
        return None;
    }
    let feeder = piping.network.feeder(number)?;
    let before = piping.zones[number].and_then(|zone| piping.set_at(zone).ok());
    let outlet = place.outlet_pressure.as_ref();
    let turned = piping.network.is_against_flow(feeder);
    let own = place.inlet_pressure.as_ref().zip(outlet).filter(|(inlet, outlet)| !at_least(inlet.quantity(), outlet.quantity()));
    let raised = before.as_ref().zip(outlet).filter(|(before, outlet)| !at_least(before.quantity(), outlet.quantity()));
    let why = match (turned, own, raised) {
        (true, ..) => text!("the pipe that feeds it is drawn as leaving it"),
        (_, Some((inlet, outlet)), _) => text!(
            "{} before it and {} behind it are stated",
            piping::pressure_of(inlet.quantity()),
            piping::pressure_of(outlet.quantity())
        ),
        (.., Some((before, outlet))) => text!(
            "{} reaches it and {} is to be behind it",
            piping::pressure_of(before.quantity()),
            piping::pressure_of(outlet.quantity())
        ),
        _ => return None,
    };
    let mut finding = place.correction(text!("faces the wrong way: {}", why)).related(node.pointer());
    finding = finding.related(piping.segments[feeder].pointer());
    let cure = text!(
        "have a licensed fitter turn it so that its arrow points away from {}, and set and test it",
        piping.origin(piping.source)
    );
    if turned && own.is_none() && raised.is_none() {
        let segment = &piping.segments[feeder];
        let (from, to) = (json!(segment.to), json!(segment.from));
        let values = [(format!("{}/from", segment.pointer()), from), (format!("{}/to", segment.pointer()), to)];
        return Some(finding.cure(redtag_rule::remedy_at(cure, &values)).done());
    }
    Some(finding.remedy(cure).done())
}

/// A gas appliance that hangs on no outlet, or on two.
fn appliance(piping: &Piping, place: &Place<Equipment>) -> Option<Finding> {
    let burning = need!(place, fuel_burning).ok()?;
    let converted = burning.conversion.as_ref().filter(|conversion| conversion.performed != Some(false));
    let fuel = match converted {
        Some(conversion) => conversion.fuel,
        None => burning.plate.as_ref().and_then(|plate| plate.fuel),
    };
    if !matches!(fuel, Some(Fuel::NaturalGas | Fuel::Propane | Fuel::Butane)) {
        return None;
    }
    let id = place.get().id.as_str();
    let here = |node: &&Place<GasNode>| {
        node.equipment.as_deref() == Some(id) || burning.gas_outlet.as_deref() == Some(node.get().id.as_str())
    };
    let outlets: Vec<&Place<GasNode>> = piping.nodes.iter().filter(here).collect();
    let pointer = format!("{}/fuel_burning/gas_outlet", place.pointer());
    match outlets.as_slice() {
        [] => {
            let own = Unresolved::because(pointer, "the outlet of the piping that feeds the appliance");
            let free = |node: &&Place<GasNode>| node.kind == GasNodeKind::Outlet && node.equipment.is_none();
            let free = piping.nodes.iter().filter(free).map(|node| node.missing("/equipment"));
            let what = free.fold(own, Unresolved::and);
            Some(place.unresolved(text!("it burns gas and hangs on no outlet"), what).done())
        }
        [_] => None,
        [first, second, ..] => {
            let what = Unresolved::because(pointer, "the one outlet that feeds the appliance");
            let words = text!("it hangs on {} and on {}", first.label(), second.label());
            Some(place.unresolved(words, what).related(first.pointer()).related(second.pointer()).done())
        }
    }
}
