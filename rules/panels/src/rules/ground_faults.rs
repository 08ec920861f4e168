//! Receptacles where people stand on earth, concrete or wet floors are protected against ground faults.
//!
//! A few thousandths of an ampere through the heart kill; the protection opens before.
//!
//! **How it is measured.** Every receptacle in a bathroom, garage, crawl space, basement, kitchen, laundry or boathouse, and outdoors:
//! protected itself or by its circuit. A room of another kind that lies below grade counts as basement, one on the garage's
//! side of the separation as garage: a mechanical room in the basement is the common one. Where a room does not say where it lies, and
//! a receptacle in it is not protected, that is asked.
//!
//! **How it is fixed.** A protected receptacle or breaker.

use crate::circuits;
use redtag_rule::prelude::*;

/// Rooms.
const ROOMS: Choices = Choices::new(
    "rooms",
    &[
        "bathroom",
        "attached-garage",
        "detached-garage",
        "crawl-space",
        "basement",
        "kitchen",
        "laundry-room",
        "boathouse",
        "workshop",
    ],
    &[
        "bathroom",
        "attached-garage",
        "detached-garage",
        "carport",
        "crawl-space",
        "basement",
        "kitchen",
        "laundry-room",
        "boathouse",
        "workshop",
        "utility-room",
        "mechanical-room",
        "furnace-room",
        "toilet-room",
    ],
    "The kinds of spaces whose receptacles must be protected.",
    "NEC 210.8(A) of 2023; before 2020 in unfinished parts of basements only (from memory)",
);

/// The rule.
pub const RULE: Rule = Rule {
    citations: &[cited("NEC", "2020", "210.8(A)")],
    parameters: &[&ROOMS],
    reads: &["/spaces", "/electrical/panels", "/electrical/outdoor_receptacles"],
    ..Rule::new("panels/ground-faults", "Ground-fault protection", check)
};

const WANTED: &str = "whether its receptacles are protected against ground faults";

fn check(inquiry: &Inquiry) -> Vec<Finding> {
    let mut findings = Vec::new();
    for space in need!(inquiry.project(), spaces).every() {
        let receptacles = need!(space, receptacles).every();
        if receptacles.is_empty() {
            continue;
        }
        findings.push(match asked(inquiry, &space) {
            Ok(false) => space.not_applicable(text!("no protection is asked for in such a room: {}", space.kind)).done(),
            asked => space.sheet(WANTED, |sheet| {
                let mut open = false;
                for receptacle in &receptacles {
                    match (&asked, circuits::protected(inquiry, receptacle)) {
                        (_, Ok(true)) => {}
                        (Ok(_), protected) => judge(receptacle, protected, sheet),
                        (Err(_), _) => open = true,
                    }
                }
                match asked {
                    Err(unresolved) if open => Err(unresolved),
                    _ => Ok(text!("{} protected", receptacles.len())),
                }
            }),
        });
    }
    let outdoors = need!(inquiry.project(), electrical.outdoor_receptacles).every();
    findings.extend(outdoors.iter().map(|receptacle| {
        receptacle.sheet("whether it is protected against ground faults", |sheet| {
            judge(receptacle, circuits::protected(inquiry, receptacle), sheet);
            Ok(text!("outdoors, protected"))
        })
    }));
    findings
}

/// Whether receptacles in a space must be protected: by its kind, or by where it lies.
fn asked(inquiry: &Inquiry, space: &Place<Space>) -> Lookup<bool> {
    let rooms = inquiry.value(&ROOMS);
    let has = |kind: SpaceKind| rooms.contains(&kind.word());
    if has(space.kind) {
        return Ok(true);
    }
    let below = space.below_grade.or_else(|| space.story.map(|story| story < 1));
    let of = |known: Option<bool>, kind: SpaceKind, step: &str| match known {
        _ if !has(kind) => Ok(false),
        Some(known) => Ok(known),
        None => Err(space.missing(step)),
    };
    // A room where people live says by its kind that it is no garage closet.
    let service = is_for_service(space.kind);
    let garage = if service { of(space.garage_side, SpaceKind::AttachedGarage, "/garage_side") } else { Ok(false) };
    let basement = of(below, SpaceKind::Basement, "/below_grade");
    match (basement, garage) {
        (Ok(true), _) | (_, Ok(true)) => Ok(true),
        (basement, garage) => (basement, garage).together().map(|_| false),
    }
}

fn is_for_service(kind: SpaceKind) -> bool {
    use SpaceKind as K;
    matches!(
        kind,
        K::EquipmentCloset
            | K::MechanicalRoom
            | K::FurnaceRoom
            | K::BoilerRoom
            | K::ElectricalRoom
            | K::BatteryRoom
            | K::UtilityRoom
            | K::StorageRoom
            | K::StorageCloset
            | K::Other
    )
}

fn judge(receptacle: &Place<Receptacle>, protected: Lookup<bool>, sheet: &mut Sheet) {
    if let Some(false) = sheet.want(protected) {
        let words = text!("receptacle {} is not protected against ground faults", receptacle.id);
        sheet.require(&receptacle.id, words, "NEC 210.8(A)", false);
        sheet.related(receptacle.pointer());
        sheet.cure_at(text!("protect {}", receptacle.id), &[(format!("{}/gfci", receptacle.pointer()), json!(true))]);
    }
}
