//! Which pressure reaches an appliance while nothing burns: measured at its inlet, else that of the piping it hangs on, else
//! that of the supply.

use redtag_rule::prelude::*;

/// Where a pressure comes from.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Origin {
    /// Measured at the inlet.
    Measured,
    /// A regulator in the piping, by id, and where its setting stands.
    Regulator(String),
    /// A pipe whose pressure is stated, by id.
    Pipe(String),
    /// The supply, with nothing known between.
    Supply {
        /// Whether the project shows that no regulator is between.
        regulators_said: bool,
    },
}

/// A pressure that reaches an appliance.
#[derive(Debug, Clone)]
pub struct Reach<'a> {
    /// The pressure and where it stands.
    pub pressure: Place<'a, quantity::Pressure>,
    /// Where it comes from.
    pub origin: Origin,
    /// The drop the piping behind that is designed for.
    pub drop: Lookup<Place<'a, quantity::Pressure>>,
}

impl Reach<'_> {
    /// Where it comes from, in words.
    pub fn origin_words(&self) -> String {
        match &self.origin {
            Origin::Measured => "measured at the inlet".to_owned(),
            Origin::Regulator(id) => format!("behind regulator {id}"),
            Origin::Pipe(id) => format!("in pipe {id}"),
            Origin::Supply { .. } => "as the supply delivers it".to_owned(),
        }
    }
}

/// The pressure at an appliance's inlet while nothing burns.
///
/// # Errors
/// When nothing in the project tells it.
pub fn at_rest<'a>(inquiry: &Inquiry<'a>, appliance: &Place<'a, Equipment>) -> Lookup<Reach<'a>> {
    if let Ok(pressure) = need!(appliance, fuel_burning.static_inlet_pressure) {
        let drop = need!(inquiry.project(), gas.supply.allowable_drop);
        return Ok(Reach { pressure, origin: Origin::Measured, drop });
    }
    let piping = Piping::of(inquiry);
    match piping.outlet_of(appliance)? {
        Some(outlet) => piping.upstream(&outlet),
        None if piping.has_regulators() => Err(appliance.missing("/fuel_burning/gas_outlet")),
        None => piping.supply(piping.regulators.is_some()),
    }
}

struct Piping<'a> {
    project: Place<'a, Project>,
    nodes: Vec<Place<'a, GasNode>>,
    segments: Vec<Place<'a, GasSegment>>,
    regulators: Option<Vec<Place<'a, GasRegulator>>>,
}

impl<'a> Piping<'a> {
    fn of(inquiry: &Inquiry<'a>) -> Self {
        let project = inquiry.project();
        let (nodes, segments) = (need!(project, gas.nodes).every(), need!(project, gas.segments).every());
        let regulators = need!(project, gas.regulators).map(|all| all.items().collect()).ok();
        Self { project, nodes, segments, regulators }
    }

    /// The outlet an appliance hangs on; `None` where the project does not connect it.
    fn outlet_of(&self, appliance: &Place<'a, Equipment>) -> Lookup<Option<Place<'a, GasNode>>> {
        if let Ok(wanted) = need!(appliance, fuel_burning.gas_outlet) {
            let found = self.node(&wanted).ok_or_else(|| Unresolved::at(wanted.pointer()))?;
            return Ok(Some(found));
        }
        let id = appliance.get().id.as_str();
        Ok(self.nodes.iter().find(|node| node.equipment.as_deref() == Some(id)).cloned())
    }

    fn node(&self, id: &str) -> Option<Place<'a, GasNode>> {
        self.nodes.iter().find(|node| node.id == id).cloned()
    }

    /// Whether a regulator stands in the piping somewhere.
    fn has_regulators(&self) -> bool {
        let lowers = |kind| matches!(kind, GasRegulatorKind::Line | GasRegulatorKind::Unrecognised);
        let listed = self.regulators.iter().flatten().any(|regulator| lowers(regulator.kind));
        listed || self.nodes.iter().any(|node| node.kind == GasNodeKind::Regulator)
    }

    /// Walks from an outlet toward the supply to the first thing that tells the pressure.
    fn upstream(&self, outlet: &Place<'a, GasNode>) -> Lookup<Reach<'a>> {
        let mut node = outlet.clone();
        // No piping without a loop has a longer way.
        for _ in 0..self.nodes.len() {
            if let Some(found) = self.told_at(&node)? {
                return Ok(found);
            }
            let into = self.segments.iter().find(|pipe| pipe.to.as_deref() == Some(node.get().id.as_str()));
            let pipe = into.ok_or_else(|| {
                Unresolved::because("/gas/segments", format!("the pipe that leads to {} ({})", node.get().id, node.kind))
            })?;
            if let Ok(pressure) = need!(pipe, pressure) {
                return Ok(Reach { pressure, origin: Origin::Pipe(pipe.get().id.clone()), drop: self.drop_before(pipe) });
            }
            let from = need!(pipe, from)?;
            node = self.node(&from).ok_or_else(|| Unresolved::at(from.pointer()))?;
        }
        Err(Unresolved::because("/gas/segments", "pipes that lead back to the point of delivery without a loop"))
    }

    /// The drop of the zone a pipe is in: of the regulator before it, else of the supply.
    fn drop_before(&self, pipe: &Place<'a, GasSegment>) -> Lookup<Place<'a, quantity::Pressure>> {
        let mut from = pipe.get().from.clone();
        for _ in 0..self.nodes.len() {
            let Some(node) = from.as_deref().and_then(|id| self.node(id)) else { break };
            if node.kind == GasNodeKind::PointOfDelivery {
                break;
            }
            if let Some(id) = &node.regulator
                && let Some(regulator) = self.regulators.iter().flatten().find(|regulator| &regulator.get().id == id)
            {
                return need!(regulator, allowable_drop);
            }
            from = self
                .segments
                .iter()
                .find(|pipe| pipe.to.as_deref() == Some(node.get().id.as_str()))
                .and_then(|p| p.get().from.clone());
        }
        need!(self.project, gas.supply.allowable_drop)
    }

    /// The pressure a node tells of itself.
    fn told_at(&self, node: &Place<'a, GasNode>) -> Lookup<Option<Reach<'a>>> {
        let supply_node = need!(self.project, gas.supply.node).ok();
        let delivers = supply_node.is_some_and(|id| id.get() == &node.get().id);
        if delivers || node.kind == GasNodeKind::PointOfDelivery {
            return self.supply(true).map(Some);
        }
        if node.kind != GasNodeKind::Regulator && node.regulator.is_none() {
            return Ok(None);
        }
        let id = need!(node, regulator)?;
        let regulator = self.regulators.iter().flatten().find(|regulator| &regulator.get().id == id.get());
        let regulator = regulator.ok_or_else(|| Unresolved::at(id.pointer()))?;
        let pressure = need!(regulator, outlet_pressure)?;
        let drop = need!(regulator, allowable_drop);
        Ok(Some(Reach { pressure, origin: Origin::Regulator(regulator.get().id.clone()), drop }))
    }

    fn supply(&self, regulators_said: bool) -> Lookup<Reach<'a>> {
        let pressure = need!(self.project, gas.supply.pressure)?;
        let drop = need!(self.project, gas.supply.allowable_drop);
        Ok(Reach { pressure, origin: Origin::Supply { regulators_said }, drop })
    }
}
