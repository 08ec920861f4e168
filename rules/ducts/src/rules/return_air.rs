//! Return air may not be taken from a furnace room, a bath, a closet, a garage, or within 10 ft of another appliance's draft hood.
//!
//! A return near a draft hood pulls its gases back into the house: carbon monoxide goes where the air goes. Returns of bad air
//! spread it to every room. Carbon monoxide kills; a draft test is work for a licensed contractor.
//!
//! **How it is measured.** For each return opening: the kind of its space; the distance in plan to every appliance with a draft hood or
//! open combustion in the same space, other than its own; in rooms that are closed off, what it takes against what is supplied there;
//! and whether one system takes air from one dwelling unit and gives it to another. A furnace in its room has its return joined
//! tight to the casing.
//!
//! **How it is fixed.** Close the opening and take the air from a hall or living room; seal the return to the furnace.

use crate::{flames, runs};
use redtag_handbook::ducts::sources;
use redtag_rule::prelude::*;
use std::collections::BTreeSet;
use uom::si::f64::{Length, VolumeRate};
use uom::si::length::meter;

/// Distance.
const DISTANCE: Quantity<dimensions::Length> = Quantity::new(
    "draft_hood_distance",
    "10 ft",
    "Least distance of a return opening from a draft hood or open combustion chamber of another appliance in the space.",
    "IMC 601.5 item 1; IRC M1602.2",
);
/// Rooms.
const BARRED: Choices = Choices::new(
    "barred_spaces",
    &[
        "bathroom",
        "toilet-room",
        "kitchen",
        "storage-closet",
        "clothes-closet",
        "equipment-closet",
        "attached-garage",
        "mechanical-room",
        "furnace-room",
        "boiler-room",
        "crawl-space",
    ],
    &[
        "bathroom",
        "toilet-room",
        "kitchen",
        "storage-closet",
        "clothes-closet",
        "equipment-closet",
        "attached-garage",
        "mechanical-room",
        "furnace-room",
        "boiler-room",
        "crawl-space",
        "utility-room",
        "laundry-room",
        "workshop",
        "storage-room",
    ],
    "Spaces that no return opening may be in; an unconditioned attic always is one.",
    "from memory of IRC M1602.2",
);
/// Range.
const RANGE: Quantity<dimensions::Length> = Quantity::new(
    "range_distance",
    "10 ft",
    "Least distance of a kitchen's own return from its range.",
    "from memory of IRC M1602.2 exceptions",
);
/// Balance.
const BALANCE: Flag = Flag::new(
    "room_balance",
    true,
    "Whether a return may take no more from a closed room than is supplied to it.",
    "from memory of IRC M1602.2",
);

/// The rule.
pub const RULE: Rule = Rule {
    citations: &[cited("IRC", "2021", "M1602.2"), remembered("IRC", "2021", "G2442"), cited("IMC", "2018", "601.5")],
    parameters: &[&DISTANCE, &BARRED, &RANGE, &BALANCE],
    reads: &["/ducts", "/spaces", "/equipment"],
    ..Rule::new("ducts/return-air", "Where return air comes from", check)
};

fn check(inquiry: &Inquiry) -> Vec<Finding> {
    let ducts = runs::of_kinds(inquiry, &[DuctKind::Return]);
    ducts.iter().flat_map(|duct| of_duct(inquiry, duct)).collect()
}

fn of_duct(inquiry: &Inquiry, duct: &Place<Duct>) -> Vec<Finding> {
    let mut findings =
        vec![duct.sheet("whether its return is joined and kept apart as it must be", |sheet| whole(inquiry, duct, sheet))];
    let taking = need!(duct, openings).every().into_iter().filter(|opening| opening.kind != DuctOpeningKind::Supply);
    findings
        .extend(taking.map(|opening| {
            opening.sheet("whether return air may be taken there", |sheet| judge(inquiry, duct, &opening, sheet))
        }));
    findings
}

/// The duct as a whole: its openings are told, it is tight at the furnace, and it keeps to one dwelling unit.
fn whole(inquiry: &Inquiry, duct: &Place<Duct>, sheet: &mut Sheet) -> Lookup<Text> {
    sheet.want(need!(duct, openings));
    let own = sheet.want(need!(duct, equipment).and_then(|id| inquiry.equipment(&id)));
    if own.as_ref().is_some_and(|own| sheet.want(kinds::burns(own)) == Some(true))
        && let Some(tight) = sheet.want(need!(duct, tight_to_casing))
        && !sheet.require(
            "at the furnace",
            text!("it must be joined tight to the casing of its furnace"),
            sources::RETURN_JOINT.text(),
            *tight.get(),
        )
    {
        sheet.cure_at(
            text!("seal the return to the casing, and take its air outside the furnace's room"),
            &[(tight.pointer().to_owned(), json!(true))],
        );
    }
    let units = units(inquiry, duct, sheet);
    if units.len() > 1 {
        let said = units.into_iter().collect::<Vec<_>>().join(", ");
        sheet.require(
            "dwelling units",
            text!("its system serves several dwelling units: {}", said),
            sources::RETURN.text(),
            false,
        );
        sheet.cure(text!("give each dwelling unit its own system"));
    }
    Ok(text!("joined tight, within one dwelling unit"))
}

/// The dwelling units that the openings of this duct and of the others of its equipment are in.
fn units(inquiry: &Inquiry, duct: &Place<Duct>, sheet: &mut Sheet) -> BTreeSet<String> {
    let same = |other: &Place<Duct>| other.id == duct.id || (duct.equipment.is_some() && other.equipment == duct.equipment);
    let ducts = need!(inquiry.project(), ducts)
        .every()
        .into_iter()
        .filter(|other| same(other) && matches!(other.kind, DuctKind::Supply | DuctKind::Return));
    let openings = ducts.flat_map(|duct| need!(duct, openings).every());
    let spaces: Vec<Lookup<Place<Space>>> =
        openings.map(|opening| need!(opening, space).and_then(|id| inquiry.space(&id))).collect();
    // A house that names no dwelling units is one.
    let named = |space: &Place<Space>| space.dwelling_unit.is_some();
    if !need!(inquiry.project(), spaces).every().iter().any(named) {
        return BTreeSet::new();
    }
    let spaces = spaces.into_iter().filter_map(|space| sheet.want(space));
    // A room that belongs to no dwelling unit, as a common furnace room, names none.
    spaces.filter_map(|space| space.dwelling_unit.clone()).collect()
}

fn judge(inquiry: &Inquiry, duct: &Place<Duct>, opening: &Place<DuctOpening>, sheet: &mut Sheet) -> Lookup<Text> {
    let space = inquiry.space(&need!(opening, space)?)?;
    let source = sources::RETURN.text();
    barred(inquiry, duct, opening, &space, sheet, source);
    near_flames(inquiry, duct, opening, &space, sheet, source);
    if inquiry.value(&BALANCE) && !matches!(space.kind, SpaceKind::LivingSpace | SpaceKind::Corridor | SpaceKind::Stairway) {
        balance(inquiry, duct, &space, sheet, source);
    }
    if !sheet.sound() {
        sheet.cure(text!("close it and take the air from a hall or a living room"));
        if let Some(at) = &opening.at {
            let up = space.floor_elevation.as_ref().map_or(0.0, |floor| floor.si())
                + opening.height.as_ref().map_or(0.0, |height| height.si());
            sheet.mark(point_mark(Some(&space.id), "return air barred", [at.x.si(), at.y.si(), up]));
        }
    }
    Ok(text!("it takes air from the {}, far from open flames", space.kind))
}

fn barred(
    inquiry: &Inquiry,
    duct: &Place<Duct>,
    opening: &Place<DuctOpening>,
    space: &Place<Space>,
    sheet: &mut Sheet,
    source: &'static str,
) {
    let word = space.kind.word();
    let listed = inquiry.value(&BARRED).contains(&word);
    if space.kind == SpaceKind::Attic {
        if let Some(conditioned) = sheet.want(need!(space, conditioned)) {
            sheet.require("place", text!("return air may not be taken from an unconditioned attic"), source, *conditioned.get());
        }
        return;
    }
    if !listed {
        sheet.test("place", text!("not barred: {}", space.kind), source, true);
        return;
    }
    let own_system = duct.dedicated == Some(true);
    match space.kind {
        SpaceKind::AttachedGarage if own_system => sheet.line("place", text!("the garage's own system"), source),
        SpaceKind::Kitchen if own_system => {
            if let Some(distance) = sheet.want(to_kind(inquiry, opening, space, EquipmentKind::Range)) {
                let most = inquiry.value(&RANGE);
                let words = text!(
                    "the kitchen's own return is {} from the range, {} is the least",
                    in_unit(distance, "ft"),
                    in_unit(most, "ft")
                );
                sheet.require("range", words, source, at_least(distance, most));
            }
        }
        _ => {
            sheet.require("place", text!("return air may not be taken from this kind of space: {}", space.kind), source, false);
        }
    }
}

/// Distance in plan from an opening to the nearest piece of a kind in its space.
fn to_kind(inquiry: &Inquiry, opening: &Place<DuctOpening>, space: &Place<Space>, kind: EquipmentKind) -> Lookup<Length> {
    let ranges = need!(inquiry.project(), equipment)
        .every()
        .into_iter()
        .filter(|equipment| equipment.kind == kind && equipment.space.as_deref() == Some(&space.id));
    let each: Vec<Lookup<Length>> = ranges.map(|range| distance(opening, &range)).collect();
    let nearest = each.together()?.into_iter().reduce(|a, b| if b < a { b } else { a });
    nearest.ok_or_else(|| Unresolved::because("/equipment", "the range of the kitchen, and where it stands"))
}

fn distance(opening: &Place<DuctOpening>, equipment: &Place<Equipment>) -> Lookup<Length> {
    let (at, x, y) = (need!(opening, at), need!(equipment, placement.x), need!(equipment, placement.y)).together()?;
    Ok(Length::new::<meter>(
        (uom::si::f64::Area::new::<uom::si::area::square_meter>(square(at.x.si() - x.si()) + square(at.y.si() - y.si())))
            .sqrt()
            .get::<meter>(),
    ))
}

fn square(number: f64) -> f64 {
    number * number
}

fn near_flames(
    inquiry: &Inquiry,
    duct: &Place<Duct>,
    opening: &Place<DuctOpening>,
    space: &Place<Space>,
    sheet: &mut Sheet,
    source: &'static str,
) {
    let Some(flames) = sheet.want(flames::in_space(inquiry, &space.id)) else { return };
    let others: Vec<Place<Equipment>> =
        flames.into_iter().filter(|appliance| duct.equipment.as_deref() != Some(&appliance.id)).collect();
    if others.is_empty() {
        return;
    }
    let least = inquiry.value(&DISTANCE);
    if let Some(stated) = &opening.draft_hood_distance {
        let words = text!(
            "{} from a draft hood or open combustion chamber, {} is the least",
            in_unit(stated.quantity(), "ft"),
            in_unit(least, "ft")
        );
        sheet.require("distance", words, source, at_least(stated.quantity(), least));
    }
    for appliance in others {
        let drawn = distance(opening, &appliance);
        // What is stated will do where nothing is drawn; what is drawn counts beside it.
        if opening.draft_hood_distance.is_some() && drawn.is_err() {
            continue;
        }
        let Some(distance) = sheet.want(drawn) else { continue };
        let words =
            text!("{} from the middle of {}, {} is the least", in_unit(distance, "ft"), appliance.label(), in_unit(least, "ft"));
        if !sheet.require("distance", words, source, at_least(distance, least)) {
            sheet.related(appliance.pointer());
        }
    }
}

/// A return takes no more from a closed room than its system supplies to it.
fn balance(inquiry: &Inquiry, duct: &Place<Duct>, space: &Place<Space>, sheet: &mut Sheet, source: &'static str) {
    let Some((supplied, taken)) = sheet.want(flows(inquiry, duct, space)) else { return };
    let words = text!("{} are taken from the room and {} supplied to it", taken, supplied);
    sheet.require("balance", words, source, at_most(taken, supplied));
}

/// What the system of a duct supplies to a space and takes from it.
fn flows(inquiry: &Inquiry, duct: &Place<Duct>, space: &Place<Space>) -> Lookup<(VolumeRate, VolumeRate)> {
    let same = |other: &Place<Duct>| other.id == duct.id || (duct.equipment.is_some() && other.equipment == duct.equipment);
    let ducts = need!(inquiry.project(), ducts).every().into_iter().filter(|other| same(other));
    let here = ducts.flat_map(|duct| need!(duct, openings).every()).filter(|opening| opening.space.as_deref() == Some(&space.id));
    let each: Vec<Lookup<(DuctOpeningKind, VolumeRate)>> =
        here.map(|opening| Ok((opening.kind, need!(opening, flow)?.quantity()))).collect();
    let each = each.together()?;
    let sum = |kind: DuctOpeningKind| {
        each.iter().filter(|(of, _)| *of == kind).fold(VolumeRate::default(), |sum, (_, flow)| sum + *flow)
    };
    Ok((sum(DuctOpeningKind::Supply), sum(DuctOpeningKind::Return)))
}
