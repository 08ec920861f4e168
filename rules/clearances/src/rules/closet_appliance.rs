//! An appliance in a closet, an alcove or a room hardly larger than itself must be listed to stand in one.
//!
//! In a small enclosure its own heat gathers around it, and what it was tested for in the open no longer holds.
//!
//! **How it is measured.** A space of a closet's kind, or one whose volume is less than 12 times that of the appliance, 16
//! times for a boiler: a room that is not large in comparison. Then the appliance must be listed for closets, and the label's
//! figures for closets are held against what is around it by the rule of clearances. Widths of a furnace compartment are
//! another rule.
//!
//! **How it is fixed.** Choose an appliance listed for closets, or make the enclosure part of a larger room.

use crate::label;
use redtag_rule::prelude::*;
use redtag_rule::size;
use uom::si::f64::Volume;

/// Large in comparison: most appliances.
const TIMES: Number = Number::new(
    "room_times_appliance",
    12.0,
    "A room is large in comparison with an appliance from so many times its volume on.",
    "from memory of NFPA 54: room volume at least 12 times that of a furnace",
)
.within(1.0, 100.0);
/// Large in comparison: boilers.
const TIMES_BOILER: Number = Number::new(
    "room_times_boiler",
    16.0,
    "A room is large in comparison with a boiler from so many times its volume on.",
    "from memory of NFPA 54: room volume at least 16 times that of a boiler",
)
.within(1.0, 100.0);

/// The rule.
pub const RULE: Rule = Rule {
    citations: &[remembered("IRC", "2021", "M1306.1, G2404.3"), remembered("NFPA 54", "2021", "9.2, 10.3")],
    parameters: &[&TIMES, &TIMES_BOILER],
    reads: &["/spaces", "/equipment"],
    ..Rule::new("clearances/closet-appliance", "Appliances in closets and alcoves", check)
};

fn check(inquiry: &Inquiry) -> Vec<Finding> {
    let all = need!(inquiry.project(), equipment).every();
    let burning = all.iter().filter(|equipment| kinds::may_burn(equipment) && equipment.outdoors != Some(true));
    burning
        .map(|appliance| {
            let enclosed = enclosed(inquiry, appliance);
            match enclosed {
                Ok(None) => appliance.not_applicable(text!("its room is large in comparison")).done(),
                enclosed => {
                    appliance.sheet("whether it may stand in so small a space", |sheet| judge(appliance, enclosed, sheet))
                }
            }
        })
        .collect()
}

/// Why its space counts as a closet; `None` where it does not.
fn enclosed(inquiry: &Inquiry, appliance: &Place<Equipment>) -> Lookup<Option<Text>> {
    let id = need!(appliance, space)?;
    let space = inquiry.space(&id)?;
    if label::is_closet(space.kind) {
        return Ok(Some(text!("its space, the kind being {}, counts as one", space.kind)));
    }
    let listed = appliance.fuel_burning.as_ref().and_then(|burning| burning.closet_listed);
    if listed == Some(true) {
        return Ok(None);
    }
    let own = (need!(appliance, placement.width), need!(appliance, placement.height)).together();
    let (room, (width, height)) = (size::volume(&space), own).together()?;
    let depth = appliance
        .placement
        .as_ref()
        .and_then(|placement| placement.depth.as_ref())
        .map_or(width.quantity(), |depth| depth.quantity());
    let body: Volume = width.quantity() * depth * height.quantity();
    let times = if appliance.kind == EquipmentKind::Boiler { inquiry.value(&TIMES_BOILER) } else { inquiry.value(&TIMES) };
    let small = !at_least(room, body * times);
    Ok(small.then(|| text!("its room of {} is less than {} times its own {}", room, times.to_string(), body)))
}

fn judge(appliance: &Place<Equipment>, enclosed: Lookup<Option<Text>>, sheet: &mut Sheet) -> Lookup<Text> {
    let (why, _) = (enclosed, kinds::burns(appliance)).together()?;
    let why = why.unwrap_or_default();
    sheet.line("closet", why.clone(), "from memory of NFPA 54");
    let listed = need!(appliance, fuel_burning.closet_listed)?;
    if !*listed {
        sheet.fault(text!("{}, and it is not listed for a closet or alcove", why));
        sheet.cure(text!("choose an appliance listed for closets, or join the space to a larger room"));
    }
    Ok(text!("{}, and it is listed for that", why))
}
