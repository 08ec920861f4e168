//! A furnace or air handler in a closet or alcove has room on its sides, behind and above it, and the closet is at least 12 in
//! wider than it is.
//!
//! A furnace squeezed into a closet overheats its cabinet and cannot be pulled out, and one that burns with room air in a tight
//! closet starves itself.
//!
//! **How it is measured.** Whether it stands in a compartment: a closet for equipment, or a room whose floor is not more than a
//! number of times the footprint. The width of the enclosure is taken between the walls beside it, along its front. Gaps are
//! taken to the walls and, above, to the ceiling; its label may ask for more.
//!
//! **How it is fixed.** Widen the closet, move the furnace within it, or open its front to the room beside it. Where it replaces
//! one in a compartment that was there before, the maker's clearances govern.
//!
//! The residential code asked for this in its editions of 2012 and 2015 and leaves it to the instructions since: where a pack does
//! not require it, it is worth a word.

use crate::layout::{Layout, each};
use redtag_handbook::space::{Face, Room, Side as Upright};
use redtag_rule::prelude::*;
use redtag_rule_space::{Stand, length, solid_mark};
use uom::si::length::meter;

const SECTION: &str = "IRC M1305.1.1";
/// How much wider.
const WIDER: Quantity<dimensions::Length> =
    Quantity::new("wider", "12 in", "By how much the enclosure must be wider than the appliance.", SECTION)
        .within("0 in", "4 ft");
/// Gap.
const GAP: Quantity<dimensions::Length> =
    Quantity::new("gap", "3 in", "Least gap at the sides, behind and above.", SECTION).within("0 in", "2 ft");
/// Front gap.
const FRONT: Quantity<dimensions::Length> =
    Quantity::new("front_gap", "6 in", "Least gap before a combustion chamber that is open to the room.", SECTION)
        .within("0 in", "4 ft");
/// Whether it is the law.
const REQUIRED: Flag = Flag::new(
    "required",
    false,
    "Whether too little room in a compartment is a fault, and not only worth a word.",
    "IRC M1305.1.1 of 2012 and 2015 required it; from memory of 2018 and later, which leave it to the instructions",
);
/// What a compartment is.
const RATIO: Number = Number::new(
    "compartment_ratio",
    12.0,
    "Floor of a room over the footprint of the appliance up to which it counts as a compartment.",
    "common practice: no code text says where a compartment ends and a room begins",
)
.within(1.0, 100.0);

/// The rule.
pub const RULE: Rule = Rule {
    citations: &[cited("IRC", "2015", "M1305.1.1")],
    parameters: &[&WIDER, &GAP, &FRONT, &RATIO, &REQUIRED],
    reads: &["/spaces", "/equipment"],
    ..Rule::new("access/furnace-compartment", "Furnaces and air handlers in compartments", check)
};

const WANTED: &str = "whether its compartment is large enough";

fn check(inquiry: &Inquiry) -> Vec<Finding> {
    let concerned = |one: &Equipment| matches!(one.kind, EquipmentKind::Furnace | EquipmentKind::AirHandler);
    each(inquiry, concerned, WANTED, |layout, one| {
        if one.existing == Some(true) {
            return one.not_applicable(text!("was there before: its maker's clearances govern")).done();
        }
        match compartment(inquiry, layout, one) {
            Err(unresolved) => one.ask(WANTED, || Err(unresolved)),
            Ok(None) => one.not_applicable(text!("stands in a room, not in a compartment")).done(),
            Ok(Some((room, stand))) => {
                let mut finding = one.sheet(WANTED, |sheet| judge(inquiry, layout, one, (&room, &stand), sheet));
                if finding.outcome == Outcome::Correction && !inquiry.value(&REQUIRED) {
                    finding.outcome = Outcome::Advice;
                }
                finding
            }
        }
    })
}

/// The room and the body, where it stands in a compartment.
fn compartment<'a>(inquiry: &Inquiry<'a>, layout: &Layout<'a>, one: &Place<'a, Equipment>) -> Lookup<Option<(Room, Stand<'a>)>> {
    if crate::served::passage_of_its_own(&layout.space) {
        return Ok(None);
    }
    let (room, stand) = (layout.room.clone(), layout.stand(one)).together()?;
    let closet = layout.space.kind == SpaceKind::EquipmentCloset;
    let small = room.area() <= inquiry.value(&RATIO) * stand.body.plan().area() * (1.0 + 1e-9);
    Ok((closet || small).then_some((room, stand)))
}

fn judge(
    inquiry: &Inquiry,
    layout: &Layout,
    one: &Place<Equipment>,
    (room, stand): (&Room, &Stand),
    sheet: &mut Sheet,
) -> Lookup<Text> {
    let free = |side: Upright| -> Lookup<(Face, f64)> {
        let face = stand.face(side)?;
        Ok((face, face.deepest_space((face.width, 30.0), (face.base, face.top), face.width, Some(room), &[]).0))
    };
    let (left, right, back) = (free(Upright::Left)?, free(Upright::Right)?, free(Upright::Back)?);
    let total = length(left.1 + stand.body.width + right.1);
    let wanted = length(stand.body.width) + inquiry.value(&WIDER);
    if !sheet.at_least("width of the enclosure", &total, &wanted, "in", SECTION) {
        sheet.fault(text!(
            "the enclosure is {} wide, {} is the least: its own {} and {}",
            in_unit(total, "in"),
            in_unit(wanted, "in"),
            in_unit(length(stand.body.width), "in"),
            in_unit(inquiry.value(&WIDER), "in")
        ));
        sheet.cure(text!("widen the enclosure by {}, or open its front", in_unit(wanted - total, "in")));
    }
    let gap = inquiry.value(&GAP);
    for (name, (face, free)) in [("left", left), ("right", right), ("back", back)] {
        if !sheet.at_least(&format!("gap at the {name}"), &length(free), &gap, "in", SECTION) {
            sheet.fault(text!("the gap at the {} is {}, {} is the least", name, in_unit(length(free), "in"), in_unit(gap, "in")));
            let zone = face.zone(gap.get::<meter>(), face.width, 0.0, (face.base, face.top));
            sheet.mark(solid_mark(&layout.space, format!("gap at the {name}"), &zone));
        }
    }
    if let Some(ceiling) = sheet.want(need!(layout.space, ceiling_height)) {
        let above = length((ceiling.si() - stand.body.top()).max(0.0));
        if !sheet.at_least("gap above", &above, &gap, "in", SECTION) {
            sheet.fault(text!("the gap above is {}, {} is the least", in_unit(above, "in"), in_unit(gap, "in")));
        }
    }
    front(inquiry, one, free(Upright::Front)?.1, sheet);
    Ok(text!("the enclosure is {} wide, {} wanted", in_unit(total, "in"), in_unit(wanted, "in")))
}

/// Before a combustion chamber that is open to the room.
fn front(inquiry: &Inquiry, one: &Place<Equipment>, free: f64, sheet: &mut Sheet) {
    match sheet.want(kinds::burns(one)) {
        Some(true) => {}
        _ => return,
    }
    let Some(air) = sheet.want(need!(one, fuel_burning.combustion_air)) else { return };
    let least = inquiry.value(&FRONT);
    if *air == AirSource::Room && !sheet.at_least("gap in front", &length(free), &least, "in", SECTION) {
        sheet.fault(text!(
            "the gap before its open combustion chamber is {}, {} is the least",
            in_unit(length(free), "in"),
            in_unit(least, "in")
        ));
    }
}
