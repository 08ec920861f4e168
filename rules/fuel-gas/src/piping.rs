//! The gas piping of a project as a graph: what feeds what, and where a zone of another pressure begins.

use redtag_handbook::fuel::FuelGas;
use redtag_handbook::piping::{Link, Network};
use redtag_handbook::units::{self, HeatingValue};
use redtag_rule::Part;
use redtag_rule::prelude::*;
use std::collections::BTreeMap;
use uom::si::f64::Pressure;

/// Pressures written for one zone may differ by so much of the greater and still be the same: 0.25 psi is said of 7 in wc.
const SAME_PRESSURE: f64 = 0.05;

/// The piping of a project.
pub struct Piping<'a> {
    /// The project.
    pub project: Place<'a, Project>,
    /// Its nodes; the network counts them in this order.
    pub nodes: Vec<Place<'a, GasNode>>,
    /// Its pipes; the network counts them in this order.
    pub segments: Vec<Place<'a, GasSegment>>,
    /// Where a pipe is not connected, what to fill in.
    pub unconnected: Vec<Option<Unresolved>>,
    /// How the gas spreads.
    pub network: Network,
    /// The point of delivery.
    pub source: usize,
    /// Whether a zone of another pressure begins at a node.
    pub begins: Vec<bool>,
    /// The regulator at a node that has one in the piping.
    pub regulators: Vec<Option<Lookup<Place<'a, GasRegulator>>>>,
    /// For every node, the node its zone begins at.
    pub zones: Vec<Option<usize>>,
}

/// So many missing facts are named in one finding: every finding of a large piping would else repeat those of all the others.
const NAMED: usize = 12;

/// What was missing before and this, up to the number that is named.
pub fn among(before: Option<Unresolved>, more: Unresolved) -> Option<Unresolved> {
    match before {
        Some(before) if before.missing.len() >= NAMED => Some(before),
        before => Unresolved::joined(before, more),
    }
}

/// Whether the project draws any piping.
pub fn is_drawn(inquiry: &Inquiry) -> bool {
    let project = inquiry.project();
    !need!(project, gas.nodes).every().is_empty() || !need!(project, gas.segments).every().is_empty()
}

/// The finding where there is no piping to judge.
pub fn nothing_drawn(inquiry: &Inquiry) -> Vec<Finding> {
    vec![inquiry.project().not_applicable(text!("no gas piping is drawn")).done()]
}

impl<'a> Piping<'a> {
    /// The piping drawn.
    ///
    /// # Errors
    /// When it is not told where the gas comes from.
    pub fn of(inquiry: &Inquiry<'a>) -> Lookup<Self> {
        let project = inquiry.project();
        let (nodes, segments) = (need!(project, gas.nodes).every(), need!(project, gas.segments).every());
        let numbers: BTreeMap<&str, usize> =
            nodes.iter().enumerate().map(|(number, node)| (node.get().id.as_str(), number)).collect();
        let source = source(&project, &nodes, &numbers)?;
        let ends: Vec<Lookup<Link>> = segments.iter().map(|segment| ends(segment, &numbers)).collect();
        // A pipe that is not connected names no node, and the network leaves it out.
        let nowhere = Link { from: usize::MAX, to: usize::MAX };
        let links: Vec<Link> = ends.iter().map(|link| *link.as_ref().unwrap_or(&nowhere)).collect();
        let network = Network::around(source, nodes.len(), &links);
        let regulators: Vec<_> =
            nodes.iter().enumerate().map(|(number, node)| regulator_at(&project, node, number == source)).collect();
        let begins: Vec<bool> = regulators.iter().map(Option::is_some).collect();
        let zones = network.zones(&begins);
        let unconnected = ends.into_iter().map(Result::err).collect();
        Ok(Self { project, nodes, segments, unconnected, network, source, begins, regulators, zones })
    }

    /// The supplied gas.
    ///
    /// # Errors
    /// When it is not said, or is one no table is for.
    pub fn gas(&self) -> Lookup<FuelGas> {
        let fuel = need!(self.project, gas.supply.fuel)?;
        match *fuel {
            Fuel::NaturalGas => Ok(FuelGas::Natural),
            Fuel::Propane => Ok(FuelGas::Propane),
            _ => Err(Unresolved::because(fuel.pointer(), "natural gas or propane: the sizing tables know no other")),
        }
    }

    /// The heat in the gas. For propane the tables' own figure stands in where the supplier's is not said.
    ///
    /// # Errors
    /// When it is not said for natural gas, whose tables count volume; when it is not above zero.
    pub fn heating_value(&self) -> Lookup<HeatingValue> {
        let said = need!(self.project, gas.supply.heating_value);
        match (said, self.gas()?) {
            (Ok(value), _) if value.si() > 0.0 => Ok(value.quantity()),
            (Ok(value), _) => Err(Unresolved::because(value.pointer(), "a heating value above zero")),
            (Err(_), FuelGas::Propane) => Ok(redtag_handbook::fuel::GasProperties::propane_in_tables().value.heating_value),
            (Err(unresolved), FuelGas::Natural) => Err(unresolved),
        }
    }

    /// Every pipe of the loops, to be named where they keep a rule from answering.
    pub fn loops(&self) -> Option<Unresolved> {
        let what = "piping without a loop, or the calculation of an engineer: the loads alone do not tell what flows in a loop";
        let mut looped: Vec<_> =
            self.segments.iter().enumerate().filter(|(number, _)| self.network.is_in_loop(*number)).collect();
        // By id, so that the same are named however the pipes are listed.
        looped.sort_by_key(|(_, segment)| segment.get().id.as_str());
        looped.into_iter().fold(None, |all, (_, segment)| among(all, Unresolved::because(segment.pointer(), what)))
    }

    /// The zone of a pipe, by the node it begins at.
    pub fn zone_of(&self, segment: usize) -> Option<usize> {
        self.network.fed_by(segment).and_then(|node| self.zones.get(node).copied().flatten())
    }

    /// Pressure at the start of a zone while nothing burns.
    ///
    /// # Errors
    /// When it is not said, or pipes of the zone say another.
    pub fn start(&self, zone: usize) -> Lookup<Place<'a, quantity::Pressure>> {
        let start = self.set_at(zone)?;
        let others = self.contradictions(zone, start.quantity());
        let joined = others.into_iter().fold(None, |all, segment| {
            let what = "the pressure of the zone the pipe is in, or the regulator between";
            let pointer = format!("{}/pressure", self.segments[segment].pointer());
            among(all, Unresolved::because(pointer, what))
        });
        joined.map_or(Ok(start), Err)
    }

    /// Pressure the supply or regulator at a node is set to.
    ///
    /// # Errors
    /// When it is not said.
    pub fn set_at(&self, zone: usize) -> Lookup<Place<'a, quantity::Pressure>> {
        match self.regulators.get(zone).and_then(Option::as_ref) {
            Some(regulator) => need!(regulator.clone()?, outlet_pressure),
            None => need!(self.project, gas.supply.pressure),
        }
    }

    /// Pipes of a zone that say another pressure than it starts with.
    pub fn contradictions(&self, zone: usize, start: Pressure) -> Vec<usize> {
        let says_other = |number: &usize| {
            let said = self.segments[*number].pressure.as_ref().map(|pressure| pressure.quantity());
            said.is_some_and(|said| (said - start).value.abs() > SAME_PRESSURE * said.value.abs().max(start.value.abs()))
        };
        (0..self.segments.len()).filter(|number| self.zone_of(*number) == Some(zone)).filter(says_other).collect()
    }

    /// Drop of pressure a zone is designed for.
    ///
    /// # Errors
    /// When it is not said.
    pub fn drop(&self, zone: usize) -> Lookup<Place<'a, quantity::Pressure>> {
        match self.regulators.get(zone).and_then(Option::as_ref) {
            Some(regulator) => need!(regulator.clone()?, allowable_drop),
            None => need!(self.project, gas.supply.allowable_drop),
        }
    }

    /// Where a pipe stands on the plan.
    pub fn mark(&self, segment: usize, sheet: &mut Sheet) {
        let pipe = self.segments[segment].get();
        let height = pipe.height.as_ref().map_or(0.0, |height| height.si());
        let drawn = pipe.line.iter().flatten().map(|point| (point.x.si(), point.y.si())).collect::<Vec<_>>();
        let ends = [self.network.source_of(segment), self.network.fed_by(segment)];
        let between = ends.into_iter().flatten().filter_map(|node| self.nodes[node].at.as_ref());
        let line = if drawn.is_empty() { between.map(|at| (at.x.si(), at.y.si())).collect() } else { drawn };
        if line.len() > 1 {
            let points: Vec<[f64; 3]> = line.into_iter().map(|(x, y)| [x, y, height]).collect();
            let space = pipe.spaces.as_ref().and_then(|spaces| spaces.first()).map(String::as_str);
            sheet.mark(line_mark(space, pipe.id.clone(), &points));
        }
    }

    /// What a zone begins at, in words.
    pub fn origin(&self, zone: usize) -> String {
        self.nodes.get(zone).map_or_else(String::new, |node| node.label())
    }
}

/// An amount of flow a heat input takes, in the trade's unit.
pub fn flow_of(heat: uom::si::f64::Power, value: HeatingValue) -> quantity::VolumeFlow {
    quantity::VolumeFlow::from_quantity(&(heat / value))
}

/// A pressure as the trade says it: in pounds from one pound on, in inches of water below.
pub fn pressure_of(pressure: Pressure) -> Part {
    let unit = if at_least(pressure, units::psi(1.0)) { "psi" } else { "in wc" };
    in_unit(pressure, unit)
}

/// A length in feet from metres.
pub fn feet(metres: f64) -> uom::si::f64::Length {
    units::feet(metres / 0.3048)
}

fn source(project: &Place<Project>, nodes: &[Place<GasNode>], numbers: &BTreeMap<&str, usize>) -> Lookup<usize> {
    if let Ok(id) = need!(project, gas.supply.node) {
        return numbers.get(id.as_str()).copied().ok_or_else(|| Unresolved::at(id.pointer()));
    }
    let mut delivering = nodes.iter().enumerate().filter(|(_, node)| node.kind == GasNodeKind::PointOfDelivery);
    match (delivering.next(), delivering.next()) {
        (Some((number, _)), None) => Ok(number),
        _ => Err(Unresolved::because("/gas/supply/node", "the one node of the piping where the supply delivers")),
    }
}

fn ends(segment: &Place<GasSegment>, numbers: &BTreeMap<&str, usize>) -> Lookup<Link> {
    let number = |id: Lookup<Place<String>>| {
        let id = id?;
        numbers.get(id.as_str()).copied().ok_or_else(|| Unresolved::at(id.pointer()))
    };
    let (from, to) = (number(need!(segment, from)), number(need!(segment, to))).together()?;
    Ok(Link { from, to })
}

/// The regulator in the piping at a node; the one at the point of delivery belongs to the supply.
fn regulator_at<'a>(
    project: &Place<'a, Project>,
    node: &Place<'a, GasNode>,
    is_source: bool,
) -> Option<Lookup<Place<'a, GasRegulator>>> {
    let is_one = node.kind == GasNodeKind::Regulator || node.regulator.is_some();
    if is_source || !is_one {
        return None;
    }
    let found = need!(node, regulator).and_then(|id| need!(project, gas.regulators).named(&id));
    let in_appliance = found.as_ref().is_ok_and(|regulator| regulator.kind == GasRegulatorKind::Appliance);
    (!in_appliance).then_some(found)
}
