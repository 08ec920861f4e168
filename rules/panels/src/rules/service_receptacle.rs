//! Heating and cooling equipment has a receptacle near it for whoever services it.
//!
//! Without one a cord runs through the house, or the lamp is left in the van.
//!
//! **How it is measured.** A receptacle that serves the equipment within 25 ft of it, on the same level, protected against ground
//! faults by itself or by its circuit; for equipment outdoors one of the receptacles outdoors. Distances come from positions;
//! where one is stated too, the larger counts.
//!
//! **How it is fixed.** A protected receptacle nearby, not fed through the equipment's own disconnect.

use crate::circuits;
use redtag_rule::prelude::*;
use redtag_rule_space::{length, point, stand};
use uom::si::f64::Length;

/// How far.
const DISTANCE: Quantity<dimensions::Length> =
    Quantity::new("distance", "25 ft", "How far from the equipment the receptacle may be.", "NEC 210.63 of 2023")
        .within("3 ft", "100 ft");
/// Protection.
const PROTECTED: Flag =
    Flag::new("ground_fault_protected", true, "Whether it must be protected against ground faults.", "NEC 210.8(E) of 2023");

/// The rule.
pub const RULE: Rule = Rule {
    citations: &[cited("NEC", "2020", "210.63"), cited("NEC", "2020", "210.8(E)"), remembered("IRC", "2021", "E3901.12")],
    parameters: &[&DISTANCE, &PROTECTED],
    reads: &["/spaces", "/equipment", "/electrical/panels", "/electrical/outdoor_receptacles"],
    ..Rule::new("panels/service-receptacle", "Receptacle for service", check)
};

const WANTED: &str = "whether a receptacle for service is near it";

fn check(inquiry: &Inquiry) -> Vec<Finding> {
    use EquipmentKind as K;
    let concerned = |one: &Place<Equipment>| {
        matches!(
            one.kind,
            K::Furnace | K::AirHandler | K::Boiler | K::HeatPump | K::AirConditioner | K::UnitHeater | K::WallFurnace
        )
    };
    let equipment: Vec<_> = need!(inquiry.project(), equipment).every().into_iter().filter(concerned).collect();
    equipment.iter().map(|one| one.sheet(WANTED, |sheet| judge(inquiry, one, sheet))).collect()
}

/// A receptacle with the space it is in.
struct Found<'a> {
    receptacle: Place<'a, Receptacle>,
    distance: Lookup<Length>,
}

fn judge<'a>(inquiry: &Inquiry<'a>, equipment: &Place<'a, Equipment>, sheet: &mut Sheet) -> Lookup<Text> {
    let found = serving(inquiry, equipment)?;
    let most = inquiry.value(&DISTANCE);
    let known = found.iter().filter_map(|one| one.distance.as_ref().ok().map(|distance| (one, *distance)));
    let Some((nearest, distance)) = known.reduce(|a, b| if b.1 < a.1 { b } else { a }) else {
        return match found.into_iter().find_map(|one| one.distance.err()) {
            Some(unresolved) => Err(unresolved),
            None => {
                sheet.fault(text!("no receptacle serves it"));
                sheet.cure(text!("put a protected receptacle within {} of it, on the same level", in_unit(most, "ft")));
                Ok(Text::default())
            }
        };
    };
    let words =
        text!("receptacle {} is {} away, {} is the most", nearest.receptacle.id, in_unit(distance, "ft"), in_unit(most, "ft"));
    if !sheet.require("distance", words.clone(), "NEC 210.63", at_most(distance, most)) {
        sheet.related(nearest.receptacle.pointer());
        sheet.cure(text!("put a receptacle within {} of it", in_unit(most, "ft")));
    }
    if inquiry.value(&PROTECTED)
        && let Some(false) = sheet.want(circuits::protected(inquiry, &nearest.receptacle))
    {
        let words = text!("receptacle {} is not protected against ground faults", nearest.receptacle.id);
        sheet.require("protection", words, "NEC 210.8(E)", false);
        let pointer = format!("{}/gfci", nearest.receptacle.pointer());
        sheet.cure_at(text!("protect it against ground faults"), &[(pointer, json!(true))]);
    }
    Ok(words)
}

/// The receptacles on the equipment's level that say they serve it, or stand in its own space; outdoors those outdoors.
fn serving<'a>(inquiry: &Inquiry<'a>, equipment: &Place<'a, Equipment>) -> Lookup<Vec<Found<'a>>> {
    let of = |receptacle: Place<'a, Receptacle>| {
        let distance = distance(&receptacle, equipment);
        Found { receptacle, distance }
    };
    let outdoors = need!(inquiry.project(), electrical.outdoor_receptacles);
    let said: Vec<Found> = outdoors
        .clone()
        .every()
        .into_iter()
        .filter(|one| equipment.outdoors == Some(true) || serves(one, equipment))
        .map(of)
        .collect();
    if equipment.outdoors == Some(true) {
        // Whatever stands in a room may still say that it serves it.
        let rooms = need!(inquiry.project(), spaces).every();
        let indoors = rooms.iter().flat_map(|space| need!(space, receptacles).every()).filter(|one| serves(one, equipment));
        let found: Vec<Found> = said.into_iter().chain(indoors.map(of)).collect();
        return if found.is_empty() { outdoors.map(|_| found) } else { Ok(found) };
    }
    let level = need!(equipment, space).and_then(|id| inquiry.space(&id)).map(|space| space.story);
    let mut found = said;
    let mut unsaid = None;
    for space in need!(inquiry.project(), spaces)?.items() {
        let own = equipment.space.as_ref() == Some(&space.id);
        if level.as_ref().is_ok_and(|level| *level != space.story) {
            continue;
        }
        match need!(space, receptacles) {
            Ok(list) => found.extend(list.items().filter(|one| own || serves(one, equipment)).map(of)),
            Err(unresolved) if own => unsaid = Some(unresolved),
            Err(_) => {}
        }
    }
    match unsaid {
        Some(unresolved) if found.is_empty() => Err(unresolved),
        _ => Ok(found),
    }
}

fn serves(receptacle: &Place<Receptacle>, equipment: &Place<Equipment>) -> bool {
    receptacle.serves.as_ref().is_some_and(|list| list.contains(&equipment.id))
}

/// By positions, or as stated; the larger where both are there.
fn distance(receptacle: &Place<Receptacle>, equipment: &Place<Equipment>) -> Lookup<Length> {
    let drawn = need!(receptacle, at).and_then(|at| {
        let body = stand(equipment)?.body.plan();
        Ok(length(body.gap(&redtag_handbook::space::Shape::circle(point(&at), 0.0)).distance))
    });
    match (need!(receptacle, distance), drawn) {
        (Ok(stated), Ok(drawn)) if drawn < stated.quantity() => Ok(stated.quantity()),
        (_, Ok(drawn)) => Ok(drawn),
        (Ok(stated), Err(_)) => Ok(stated.quantity()),
        (Err(_), Err(unresolved)) => Err(unresolved),
    }
}
