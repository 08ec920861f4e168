//! Breakers and fuses do not belong in bathrooms, in clothes closets or over the steps of a stairway.
//!
//! Moisture corrodes them, clothes burn, and nobody resets a breaker safely from a stair.
//!
//! **How it is measured.** The kind of the space that the panel, or whatever holds breakers or fuses, is in. A toilet room
//! counts as a bathroom. Over the steps counts where the project says so.
//!
//! **How it is fixed.** Put it in another room.

use crate::gear;
use redtag_rule::prelude::*;

/// Where they may not be.
const BARRED: Choices = Choices::new(
    "barred_rooms",
    &["bathroom", "toilet-room", "clothes-closet"],
    &["bathroom", "toilet-room", "clothes-closet", "storage-closet", "under-stairs", "laundry-room"],
    "Kinds of spaces in which breakers and fuses may not be.",
    "NEC 240.24(D) and (E)",
);

/// The rule.
pub const RULE: Rule = Rule {
    citations: &[
        cited("NEC", "2020", "240.24(D), (E), (F)"),
        remembered("IRC", "2021", "E3705.7"),
        remembered("NEC", "2020", "230.70(A)(2)"),
    ],
    parameters: &[&BARRED],
    reads: &["/spaces", "/equipment", "/electrical"],
    ..Rule::new("clearances/overcurrent-location", "Rooms for breakers and fuses", check)
};

fn check(inquiry: &Inquiry) -> Vec<Finding> {
    gear::each_indoors(inquiry, gear::is_worked_on, |equipment| {
        if gear::holds_overcurrent_devices(inquiry, equipment) == Some(false) {
            return equipment.not_applicable(text!("holds no breakers or fuses")).done();
        }
        equipment.sheet("whether its breakers may be there", |sheet| judge(inquiry, equipment, sheet))
    })
}

fn judge(inquiry: &Inquiry, equipment: &Place<Equipment>, sheet: &mut Sheet) -> Lookup<Text> {
    let id = need!(equipment, space)?;
    let space = inquiry.space(&id)?;
    let holds = gear::holds_overcurrent_devices(inquiry, equipment);
    let barred = inquiry.value(&BARRED).contains(&space.kind.word());
    let over_steps = equipment.electrical.as_ref().and_then(|it| it.over_steps);
    let stairs = matches!(space.kind, SpaceKind::Stairway);
    if holds.is_none() && (barred || over_steps == Some(true) || stairs) {
        sheet.lack(equipment.missing("/electrical/overcurrent_devices"));
    }
    if barred && holds == Some(true) {
        sheet.fault(text!("it is in a {}, where breakers and fuses may not be", space.kind));
        sheet.cure(text!("put it in another room, with its working space"));
        sheet.related(space.pointer());
    }
    match over_steps {
        Some(true) if holds == Some(true) => {
            sheet.fault(text!("it hangs over the steps of a stairway"));
            sheet.cure(text!("put it where one stands before it on a level floor"));
        }
        None if stairs => sheet.lack(equipment.missing("/electrical/over_steps")),
        _ => {}
    }
    Ok(text!("it is in a {}", space.kind))
}
