//! The highest handle of a breaker or switch must be within reach: its grip no higher than 6 ft 7 in.
//!
//! Who has to switch off in a hurry must not look for a stool.
//!
//! **How it is measured.** The middle of the grip in its highest position, above the floor or the platform one stands on. Where
//! no handle height is stated, equipment whose top is no higher passes as well.
//!
//! **How it is fixed.** Hang it lower, by the difference the finding states.

use crate::amounts::metres;
use crate::gear;
use crate::scene::Scenes;
use redtag_rule::prelude::*;

/// How high.
const HIGHEST: Quantity<dimensions::Length> = Quantity::new(
    "highest",
    "79 in",
    "Greatest height of the grip of a breaker or switch handle above the floor.",
    "NEC 240.24(A); switches from memory of NEC 404.8(A)",
);

/// The rule.
pub const RULE: Rule = Rule {
    citations: &[cited("NEC", "2020", "240.24(A)"), remembered("NEC", "2020", "404.8(A)")],
    parameters: &[&HIGHEST],
    reads: &["/spaces", "/equipment", "/electrical"],
    ..Rule::new("clearances/handle-height", "Height of breaker and switch handles", check)
};

fn check(inquiry: &Inquiry) -> Vec<Finding> {
    let scenes = Scenes::of(inquiry);
    let all = need!(inquiry.project(), equipment).every();
    let handled = all.iter().filter(|equipment| has_handles(inquiry, equipment));
    let wanted = "whether its handles are within reach";
    handled.map(|equipment| equipment.sheet(wanted, |sheet| judge(inquiry, &scenes, equipment, sheet))).collect()
}

/// Panels, disconnects and transfer switches indoors; of others and of what is outdoors somebody must state a handle.
fn has_handles(inquiry: &Inquiry, equipment: &Equipment) -> bool {
    let stated = equipment.electrical.as_ref().is_some_and(|it| it.highest_handle.is_some());
    let kinds = [EquipmentKind::Panel, EquipmentKind::Disconnect, EquipmentKind::TransferSwitch];
    let indoors = equipment.outdoors != Some(true);
    stated || (indoors && (kinds.contains(&equipment.kind) || gear::panel(inquiry, equipment).is_some()))
}

fn judge<'a>(inquiry: &Inquiry<'a>, scenes: &Scenes<'a>, equipment: &Place<'a, Equipment>, sheet: &mut Sheet) -> Lookup<Text> {
    let highest = inquiry.value(&HIGHEST);
    let panel = gear::panel(inquiry, equipment);
    let of_panel = panel.as_ref().and_then(|panel| need!(panel, highest_handle).ok());
    let Some(handle) = need!(equipment, electrical.highest_handle).ok().or(of_panel) else {
        let top = scenes.around(equipment).and_then(|scene| scene.thing(equipment)).map(|thing| metres(thing.body.top()));
        return match top {
            Ok(top) if at_most(top, highest) => Ok(text!("its top is at {}", in_unit(top, "in"))),
            _ => Err(equipment.missing("/electrical/highest_handle")),
        };
    };
    if !sheet.at_most("handle", &handle, &highest, "in", "NEC 240.24(A)") {
        let lower = handle.quantity() - highest;
        sheet.fault(text!("its highest handle is at {}, {} is the most", in_unit(&handle, "in"), in_unit(highest, "in")));
        sheet.cure(text!("hang it {} lower", in_unit(lower, "in")));
    }
    Ok(text!("its highest handle is at {}", in_unit(&handle, "in")))
}
