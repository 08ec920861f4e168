//! Circuits of 120 V and 15 or 20 A that feed lights and receptacles in the rooms people live in are protected against arc faults.
//!
//! A nail in a cable or a worn cord draws an arc that no ordinary breaker sees; it sets fire to the wall behind it at night.
//!
//! **How it is measured.** For each circuit of 15 or 20 A: what receptacles and lights it feeds, by what it says and what they say, and
//! the rooms those are in. Where one of the rooms is on the list, the circuit must be protected. Mechanical rooms, baths,
//! garages, basements that are not finished and outdoors are not on it. Lights say no circuit of their own: they count where
//! the circuit names them. A circuit that names nothing and is named by nothing is asked what it feeds.
//!
//! **How it is fixed.** A listed combination breaker, or a listed device at the first outlet.

use crate::circuits;
use redtag_rule::prelude::*;
use redtag_rule_load::circuit as wiring;

/// Rooms.
const ROOMS: Choices = Choices::new(
    "arc_fault_rooms",
    &["kitchen", "living-space", "sleeping-room", "office", "corridor", "clothes-closet", "storage-closet", "laundry-room"],
    &[
        "kitchen",
        "living-space",
        "sleeping-room",
        "office",
        "corridor",
        "stairway",
        "clothes-closet",
        "storage-closet",
        "laundry-room",
        "bathroom",
        "basement",
        "utility-room",
        "mechanical-room",
        "furnace-room",
        "storage-room",
        "workshop",
        "attached-garage",
    ],
    "The kinds of spaces whose lights and receptacles must be on protected circuits.",
    "NEC 210.12(A) of 2014 and later",
);
/// Size.
const LARGEST: Quantity<dimensions::Current> =
    Quantity::new("largest_circuit", "20 A", "The largest circuit that is asked about.", "NEC 210.12(A)").within("15 A", "60 A");

/// The rule.
pub const RULE: Rule = Rule {
    citations: &[cited("NEC", "2020", "210.12(A)")],
    parameters: &[&ROOMS, &LARGEST],
    reads: &["/spaces", "/equipment", "/electrical/panels", "/electrical/outdoor_receptacles"],
    ..Rule::new("panels/arc-faults", "Arc-fault protection", check)
};

const WANTED: &str = "whether it is protected against arc faults";

fn check(inquiry: &Inquiry) -> Vec<Finding> {
    let circuits = circuits::every(inquiry);
    let judged = circuits.iter().filter_map(|circuit| finding(inquiry, circuit));
    judged.chain(loose(inquiry, &circuits)).collect()
}

/// Receptacles in a room on the list that say no circuit, where a circuit that may be theirs is not protected.
fn loose<'a>(inquiry: &Inquiry<'a>, circuits: &[Place<'a, Circuit>]) -> Vec<Finding> {
    let bare = |circuit: &Place<Circuit>| {
        let small = circuit.overcurrent.as_ref().is_none_or(|device| at_most(device.quantity(), inquiry.value(&LARGEST)));
        let feeds = matches!(circuit.role, None | Some(CircuitRole::Load)) && circuit.individual != Some(true);
        feeds && small && !is_high(circuit) && circuit.afci != Some(true)
    };
    if !circuits.iter().any(bare) {
        return Vec::new();
    }
    let rooms = inquiry.value(&ROOMS);
    let listed = need!(inquiry.project(), spaces).every().into_iter().filter(|space| rooms.contains(&space.kind.word()));
    let receptacles = listed.flat_map(|space| need!(space, receptacles).every());
    let open = receptacles.filter(|one| wiring::is_loose(inquiry, one));
    open.map(|one| one.ask(WANTED, || Err(one.missing("/circuit")))).collect()
}

/// A circuit of more than 120 V.
fn is_high(circuit: &Circuit) -> bool {
    circuit.voltage.as_ref().is_some_and(|voltage| voltage.si() > 130.0) || circuit.poles == Some(2)
}

fn finding(inquiry: &Inquiry, circuit: &Place<Circuit>) -> Option<Finding> {
    let rooms = inquiry.value(&ROOMS);
    let high = is_high(circuit);
    let fed = spaces_of(inquiry, circuit);
    if fed.is_empty() && !high && feeds_nobody_knows_what(inquiry, circuit) {
        return Some(circuit.ask(WANTED, || Err(circuit.missing("/serves"))));
    }
    let room = fed.into_iter().find(|space| rooms.contains(&space.kind.word()))?;
    if high {
        return Some(circuit.not_applicable(text!("a circuit of more than 120 V")).done());
    }
    Some(circuit.sheet(WANTED, |sheet| {
        let breaker = need!(circuit, overcurrent)?;
        let most = inquiry.value(&LARGEST);
        if !at_most(breaker.quantity(), most) {
            return Ok(text!("a circuit of {}: only those up to {} are asked about", breaker, most));
        }
        let protected = need!(circuit, afci)?;
        let words = text!("feeds outlets in {} and is not protected against arc faults", room.label());
        if !*protected {
            sheet.require("protection", words, "NEC 210.12(A)", false);
            sheet.related(room.pointer());
            sheet.cure_at(text!("fit a listed arc-fault breaker"), &[(protected.pointer().to_owned(), json!(true))]);
        }
        Ok(text!("feeds outlets in {}, protected against arc faults", room.label()))
    }))
}

/// Whether a circuit of the size for outlets feeds something that nobody names and is not said to be protected.
fn feeds_nobody_knows_what(inquiry: &Inquiry, circuit: &Circuit) -> bool {
    let small = circuit.overcurrent.as_ref().is_none_or(|breaker| at_most(breaker.quantity(), inquiry.value(&LARGEST)));
    let load = matches!(circuit.role, None | Some(CircuitRole::Load));
    let equipment = need!(inquiry.project(), equipment).listed_only("a circuit that nothing names is asked about");
    let named = |item: &Place<Equipment>| {
        item.electrical.as_ref().and_then(|electrical| electrical.circuit.as_ref()) == Some(&circuit.id)
    };
    let outdoors = need!(inquiry.project(), electrical.outdoor_receptacles);
    let outdoors = outdoors.is_ok_and(|all| all.get().iter().any(|one| one.circuit.as_ref() == Some(&circuit.id)));
    load && small
        && circuit.afci != Some(true)
        && circuit.serves.as_ref().is_none_or(Vec::is_empty)
        && !outdoors
        && !equipment.iter().any(named)
}

/// The spaces of the receptacles and lights a circuit feeds.
fn spaces_of<'a>(inquiry: &Inquiry<'a>, circuit: &Circuit) -> Vec<Place<'a, Space>> {
    let feeds = |space: &Place<Space>| {
        let receptacle = |one: Place<Receptacle>| wiring::serves(circuit, &one.id) || one.circuit.as_ref() == Some(&circuit.id);
        need!(space, receptacles).every().into_iter().any(receptacle)
            || space.luminaires.iter().flatten().any(|light| wiring::serves(circuit, &light.id))
    };
    need!(inquiry.project(), spaces).every().into_iter().filter(feeds).collect()
}
