//! Receptacles where people stand on earth, concrete or wet floors are protected against ground faults.
//!
//! A few thousandths of an ampere through the heart kill; the protection opens before.
//!
//! **How it is measured.** Every receptacle in a bathroom, garage, crawl space, basement, kitchen, laundry or boathouse, and outdoors:
//! protected itself or by its circuit. A room of another kind that lies below grade counts as basement, one on the garage's
//! side of the separation as garage: a mechanical room in the basement is the common one. Where a clothes washer or dryer stands is a
//! laundry area, and its own outlet counts too, of 120 V and of 240 V, whether or not that is drawn. Where a room does not say where it lies, and
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
    reads: &["/spaces", "/equipment", "/electrical/panels", "/electrical/outdoor_receptacles"],
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
    findings.extend(laundry_outlets(inquiry));
    findings
}

/// Outlets of washers and dryers that are plugged in and for which no receptacle is drawn: by their circuit.
fn laundry_outlets(inquiry: &Inquiry) -> Vec<Finding> {
    if !inquiry.value(&ROOMS).contains(&SpaceKind::LaundryRoom.word()) {
        return Vec::new();
    }
    let machines = need!(inquiry.project(), equipment).every();
    let plugged = |item: &&Place<Equipment>| {
        let wired = item.electrical.as_ref().map(|supply| supply.connection != Some(ConnectionKind::Hardwired));
        is_laundry(item.kind) && wired == Some(true) && !drawn(inquiry, &item.id)
    };
    let judged = |item: &Place<Equipment>| {
        item.sheet("whether its outlet is protected against ground faults", |sheet| {
            let circuit = circuits::named(inquiry, &need!(item, electrical.circuit)?)?;
            let protected = need!(circuit, gfci)?;
            let words = text!("its outlet on circuit {} is not protected against ground faults", circuit.id.as_str());
            if !sheet.require("outlet", words, "NEC 210.8(A)(10) of 2020", *protected) {
                sheet.cure_at(text!("a ground-fault breaker"), &[(protected.pointer().to_owned(), json!(true))]);
            }
            Ok(text!("its outlet is protected by circuit {}", circuit.id.as_str()))
        })
    };
    machines.iter().filter(plugged).map(judged).collect()
}

fn is_laundry(kind: EquipmentKind) -> bool {
    matches!(kind, EquipmentKind::ClothesWasher | EquipmentKind::ClothesDryer)
}

/// Whether a receptacle is drawn that serves it: then it is judged with its room.
fn drawn(inquiry: &Inquiry, id: &str) -> bool {
    let serves = |one: &Receptacle| one.serves.as_ref().is_some_and(|all| all.iter().any(|served| served == id));
    let spaces = need!(inquiry.project(), spaces).listed_only("what is not drawn is judged by its circuit");
    spaces.iter().any(|space| space.receptacles.iter().flatten().any(serves))
}

/// Whether receptacles in a space must be protected: by its kind, or by where it lies.
fn asked(inquiry: &Inquiry, space: &Place<Space>) -> Lookup<bool> {
    let rooms = inquiry.value(&ROOMS);
    let has = |kind: SpaceKind| rooms.contains(&kind.word());
    let machines =
        need!(inquiry.project(), equipment).listed_only("the outlet of one that is not listed is asked about with its circuit");
    let laundry = |item: &Place<Equipment>| is_laundry(item.kind) && item.space.as_ref() == Some(&space.id);
    if has(space.kind) || has(SpaceKind::LaundryRoom) && machines.iter().any(laundry) {
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
