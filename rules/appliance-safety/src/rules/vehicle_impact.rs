//! In a garage an appliance stands where no car can run into it.
//!
//! A car that rolls a foot too far breaks a gas line or a vent. A platform lifts the flame out of the vapour but does not stop a
//! bumper.
//!
//! **How it is measured.** What keeps vehicles off every appliance in a garage: a barrier, a place out of their path, or a height
//! above the floor that they do not reach.
//!
//! **How it is fixed.** A bollard or rail, another place, or an appliance hung high.

use crate::garage::{Near, place};
use redtag_rule::prelude::*;

/// Height.
const HEIGHT: Quantity<dimensions::Length> = Quantity::new(
    "raised_height",
    "6 ft",
    "Height above the floor of a garage at which an appliance is out of reach of vehicles.",
    "from memory of IFGC 305.5",
);
/// Accepted.
const ACCEPTED: Choices = Choices::new(
    "accepted_protection",
    &["barrier", "out-of-path"],
    &["barrier", "wheel-stop", "out-of-path"],
    "What counts as protection from vehicles.",
    "from memory of IRC M1307.3.1; whether a wheel stop does is the authority's to say",
);

/// The rule.
pub const RULE: Rule = Rule {
    citations: &[cited("IRC", "2021", "M1307.3.1"), remembered("IRC", "2021", "G2408.3"), remembered("IFGC", "2021", "305.5")],
    parameters: &[&HEIGHT, &ACCEPTED],
    reads: &["/equipment", "/spaces", "/openings"],
    ..Rule::new("appliance-safety/vehicle-impact", "Appliances out of reach of vehicles", check)
};

fn check(inquiry: &Inquiry) -> Vec<Finding> {
    use EquipmentKind as K;
    let all = need!(inquiry.project(), equipment).every();
    let appliance = |item: &&Place<Equipment>| {
        let heats = kinds::may_burn(item) || item.water_heating.is_some();
        (heats || matches!(item.kind, K::AirHandler | K::HeatPump)) && item.outdoors != Some(true)
    };
    all.iter().filter(appliance).map(|item| one(inquiry, item)).collect()
}

fn one(inquiry: &Inquiry, appliance: &Place<Equipment>) -> Finding {
    let space = need!(appliance, space).and_then(|id| inquiry.space(&id));
    match space.and_then(|space| place(inquiry, &space)) {
        Err(unresolved) => appliance.ask("whether it stands in a garage", || Err(unresolved)),
        Ok(Near::Garage) => appliance.sheet("whether vehicles are kept off", |sheet| judge(inquiry, sheet, appliance)),
        Ok(_) => appliance.not_applicable(text!("it stands in no garage")).done(),
    }
}

fn judge(inquiry: &Inquiry, sheet: &mut Sheet, appliance: &Place<Equipment>) -> Lookup<Text> {
    let protection = *need!(appliance, vehicle_protection)?;
    let source = "IRC M1307.3.1; IFGC 305.5 from memory";
    let least = inquiry.value(&HEIGHT);
    if protection == VehicleProtection::Raised {
        let base = need!(appliance, placement.base)?;
        let words = text!("raised {} above the floor, {} is the least", in_unit(&base, "ft"), in_unit(least, "ft"));
        if !sheet.require("height", words, source, at_least(base.si(), least.value)) {
            sheet.cure(text!("raise it by {}, or set a barrier before it", in_unit(least - base.quantity(), "ft")));
            mark(sheet, appliance);
        }
        return Ok(text!("raised {} above the floor", in_unit(&base, "ft")));
    }
    let words = match protection {
        VehicleProtection::None => text!("nothing keeps vehicles off it"),
        other => text!("what keeps vehicles off it: {}", other),
    };
    if !sheet.require("protection", words, source, inquiry.value(&ACCEPTED).contains(&protection.word())) {
        let pointer = format!("{}/vehicle_protection", appliance.pointer());
        sheet.cure_at(text!("set a bollard or rail before it"), &[(pointer, json!("barrier"))]);
        sheet.cure(text!("hang it {} above the floor", in_unit(least, "ft")));
        mark(sheet, appliance);
    }
    Ok(text!("vehicles are kept off it"))
}

fn mark(sheet: &mut Sheet, appliance: &Place<Equipment>) {
    let Some(placement) = &appliance.placement else { return };
    let (Some(x), Some(y)) = (&placement.x, &placement.y) else { return };
    let half = |side: &Option<quantity::Length>| side.as_ref().map_or(0.0, |side| side.si() / 2.0);
    let (wide, deep) = (half(&placement.width), half(&placement.depth));
    // A body turned to any side lies within the square of its longer one.
    let reach = wide.max(deep);
    let up = placement.height.as_ref().map_or(0.0, |height| height.si());
    let label = format!("{}: in reach of vehicles", appliance.id);
    let (from, to) = ([x.si() - reach, y.si() - reach, 0.0], [x.si() + reach, y.si() + reach, up]);
    sheet.mark(box_mark(appliance.space.as_deref(), label, from, to));
}
