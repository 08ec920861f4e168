//! Appliances on gas, and the parts of the piping that belong to them.

use redtag_rule::Part;
use redtag_rule::prelude::*;

/// Judges every appliance that burns gas, or whose fuel is not said; the others are not concerned.
pub fn each_appliance<'a>(inquiry: &Inquiry<'a>, judge: impl Fn(&Place<'a, Equipment>) -> Finding) -> Vec<Finding> {
    let judged = |item: Place<'a, Equipment>| match fuel_of(&item) {
        Some(fuel) if !is_gas(fuel) => item.not_applicable(text!("burns {}, not gas", fuel)).done(),
        _ => crate::named::one_cure(judge(&item)),
    };
    burning(inquiry).map(judged).collect()
}

/// The appliances that burn gas, or whose fuel is not said.
pub fn on_gas<'a>(inquiry: &Inquiry<'a>) -> Vec<Place<'a, Equipment>> {
    burning(inquiry).filter(|item| fuel_of(item).is_none_or(is_gas)).collect()
}

fn burning<'a>(inquiry: &Inquiry<'a>) -> impl Iterator<Item = Place<'a, Equipment>> {
    need!(inquiry.project(), equipment).every().into_iter().filter(kinds::may_burn)
}

/// The fuel an appliance burns now, where it is said.
fn fuel_of(item: &Place<Equipment>) -> Option<Fuel> {
    let conversion = need!(item, fuel_burning.conversion).ok().filter(|done| done.performed != Some(false));
    let converted = conversion.and_then(|conversion| conversion.fuel);
    converted.or_else(|| need!(item, fuel_burning.plate.fuel).ok().map(|fuel| *fuel))
}

/// Whether an appliance burns gas: it is joined to the gas pipe, its kind burns nothing else, or its fuel is said.
///
/// # Errors
/// Whether it burns anything, or which fuel, where neither is said.
pub fn is_on_gas(inquiry: &Inquiry, item: &Place<Equipment>) -> Lookup<bool> {
    if outlet(inquiry, item).is_some() || item.kind == EquipmentKind::GasFireplace {
        return Ok(true);
    }
    if !kinds::burns(item)? {
        return Ok(false);
    }
    fuel_of(item).map(is_gas).ok_or_else(|| item.missing("/fuel_burning/plate/fuel"))
}

/// Whether it is a fuel gas.
fn is_gas(fuel: Fuel) -> bool {
    matches!(fuel, Fuel::NaturalGas | Fuel::Propane | Fuel::Butane)
}

/// Whether it is heavier than air.
pub fn is_heavy(fuel: Fuel) -> bool {
    matches!(fuel, Fuel::Propane | Fuel::Butane)
}

/// The gas supplied.
pub fn supplied(inquiry: &Inquiry) -> Lookup<Fuel> {
    need!(inquiry.project(), gas.supply.fuel).map(|fuel| *fuel)
}

/// The outlet an appliance is fed from.
pub fn outlet<'a>(inquiry: &Inquiry<'a>, appliance: &Place<Equipment>) -> Option<Place<'a, GasNode>> {
    let by_appliance = appliance.fuel_burning.as_ref().and_then(|burning| burning.gas_outlet.as_deref());
    let feeds = |node: &Place<GasNode>| match by_appliance {
        Some(id) => node.id == id,
        None => node.equipment.as_ref() == Some(&appliance.id),
    };
    need!(inquiry.project(), gas.nodes).every().into_iter().find(feeds)
}

/// How far a point is from an appliance's body in plan at least, whichever way the body is turned.
pub fn apart(item: &Equipment, at: Option<&Point>) -> Option<uom::si::f64::Length> {
    let (placement, at) = (item.placement.as_ref()?, at?);
    let (x, y, width) = (placement.x.as_ref()?, placement.y.as_ref()?, placement.width.as_ref()?.si());
    let depth = placement.depth.as_ref().map_or(width, |depth| depth.si());
    let across = |x: f64, y: f64| (x * x + y * y).sqrt();
    let way = across(at.x.si() - x.si(), at.y.si() - y.si()) - across(width, depth) / 2.0;
    Some(uom::si::f64::Length::new::<uom::si::length::meter>(way.max(0.0)))
}

/// The node of an id.
pub fn node<'a>(inquiry: &Inquiry<'a>, id: &Place<'_, String>) -> Lookup<Place<'a, GasNode>> {
    need!(inquiry.project(), gas.nodes).named(id)
}

/// The appliances behind a valve, as far as the piping is drawn.
pub fn behind(inquiry: &Inquiry, valve: &Place<GasValve>) -> Vec<String> {
    let pipes = need!(inquiry.project(), gas.segments).every();
    let nodes = need!(inquiry.project(), gas.nodes).every();
    let start = pipes.iter().find(|pipe| Some(&pipe.id) == valve.segment.as_ref()).and_then(|pipe| pipe.to.clone());
    let mut todo: Vec<String> = start.into_iter().collect();
    let mut seen: Vec<String> = Vec::new();
    while let Some(node) = todo.pop() {
        if seen.contains(&node) {
            continue;
        }
        todo.extend(pipes.iter().filter(|pipe| pipe.from.as_ref() == Some(&node)).filter_map(|pipe| pipe.to.clone()));
        seen.push(node);
    }
    let at = |item: &Place<Equipment>| outlet(inquiry, item).is_some_and(|outlet| seen.contains(&outlet.id));
    let mut found: Vec<String> = on_gas(inquiry).iter().filter(|item| at(item)).map(|item| item.id.clone()).collect();
    found.extend(nodes.iter().filter(|node| seen.contains(&node.id)).filter_map(|node| node.equipment.clone()));
    found.sort();
    found.dedup();
    found
}

/// The pipes, each judged; none where there is no gas.
pub fn each_pipe<'a>(inquiry: &Inquiry<'a>, judge: impl Fn(&Place<'a, GasSegment>) -> Finding) -> Vec<Finding> {
    need!(inquiry.project(), gas.segments).every().iter().map(judge).collect()
}

/// Whether a pipe runs in such a place.
pub fn runs(pipe: &GasSegment, route: GasPipeRoute) -> bool {
    pipe.routes.as_ref().is_some_and(|routes| routes.contains(&route))
}

/// Whether it is steel pipe.
pub fn is_steel(material: GasPipeMaterial) -> bool {
    matches!(material, GasPipeMaterial::SteelSchedule40 | GasPipeMaterial::SteelSchedule10)
}

/// Whether it is smooth-wall tubing.
pub fn is_tubing(material: GasPipeMaterial) -> bool {
    use GasPipeMaterial::{Aluminum, CopperAcr, CopperK, CopperL};
    matches!(material, CopperK | CopperL | CopperAcr | Aluminum)
}

/// Whether it is copper.
pub fn is_copper(material: GasPipeMaterial) -> bool {
    use GasPipeMaterial::{CopperAcr, CopperK, CopperL};
    matches!(material, CopperK | CopperL | CopperAcr)
}

/// Whether a space lies so that a heavy gas stays in it.
pub fn is_low(space: &Place<Space>) -> Lookup<bool> {
    if space.kind == SpaceKind::Pit {
        return Ok(true);
    }
    need!(space, below_grade).map(|below| *below)
}

/// A demand on a fact that is true or false: notes what is missing, or the fault with its cure that can be tried.
pub fn demand(sheet: &mut Sheet, fact: Lookup<Place<bool>>, (label, fault): (&str, Text), cure: Text, source: &str) -> bool {
    let Some(fact) = sheet.want(fact) else { return false };
    judge(sheet, &fact, true, (label, fault), cure, source)
}

/// The same where the fact must be false.
pub fn forbid(sheet: &mut Sheet, fact: Lookup<Place<bool>>, (label, fault): (&str, Text), cure: Text, source: &str) -> bool {
    let Some(fact) = sheet.want(fact) else { return false };
    judge(sheet, &fact, false, (label, fault), cure, source)
}

fn judge(sheet: &mut Sheet, fact: &Place<bool>, wanted: bool, (label, fault): (&str, Text), cure: Text, source: &str) -> bool {
    let holds = **fact == wanted;
    let said = if holds { Text::plain("as it must be") } else { fault.clone() };
    if !sheet.test(label, said, source, holds) {
        sheet.fault(fault);
        sheet.cure_at(cure, &[(fact.pointer().to_owned(), json!(wanted))]);
    }
    holds
}

/// A demand on an amount that must not pass a limit; the cure sets the limit itself.
pub fn no_more<D: quantity::Dimension>(
    sheet: &mut Sheet,
    fact: Lookup<Place<quantity::Amount<D>>>,
    limit: D::Quantity,
    (label, unit): (&str, &str),
    cure: impl FnOnce(Part) -> Text,
    source: &str,
) -> bool
where
    D::Quantity: quantity::SiNumber,
{
    let Some(fact) = sheet.want(fact) else { return false };
    let limit = quantity::Amount::<D>::from_quantity(&limit);
    let holds = sheet.at_most(label, &fact, &limit, unit, source);
    if !holds {
        sheet.fault(text!("{} is {}, {} is the most", label, in_unit(&fact, unit), in_unit(&limit, unit)));
        sheet.cure_at(cure(in_unit(&limit, unit)), &[(fact.pointer().to_owned(), json!(limit.print_in(unit)))]);
    }
    holds
}

/// A demand on an amount that must reach a limit; the cure sets the limit itself.
pub fn no_less<D: quantity::Dimension>(
    sheet: &mut Sheet,
    fact: Lookup<Place<quantity::Amount<D>>>,
    limit: D::Quantity,
    (label, unit): (&str, &str),
    cure: impl FnOnce(Part) -> Text,
    source: &str,
) -> bool
where
    D::Quantity: quantity::SiNumber,
{
    let Some(fact) = sheet.want(fact) else { return false };
    let limit = quantity::Amount::<D>::from_quantity(&limit);
    let holds = sheet.at_least(label, &fact, &limit, unit, source);
    if !holds {
        sheet.fault(text!("{} is {}, {} is the least", label, in_unit(&fact, unit), in_unit(&limit, unit)));
        sheet.cure_at(cure(in_unit(&limit, unit)), &[(fact.pointer().to_owned(), json!(limit.print_in(unit)))]);
    }
    holds
}
