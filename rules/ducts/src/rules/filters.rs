//! A filter must be large enough for the air that goes through it, and come out without taking anything else away.
//!
//! Air that rushes through a filter takes the dust along and starves the blower; a filter that cannot be pulled is never changed.
//!
//! **How it is measured.** For each furnace and air handler: its flow over the face of its filters, against the greatest the filter's label
//! allows or the figure of the trade; and whether the filter can be pulled.
//!
//! **How it is fixed.** A larger filter, two side by side, a deeper one with a label for more; pipes out of the way.

use redtag_handbook::ducts::{face_velocity, sources};
use redtag_rule::prelude::*;

/// Preferred.
const PREFERRED: Quantity<dimensions::Velocity> = Quantity::new(
    "preferred_velocity",
    "300 ft/min",
    "Face velocity above which advice is given.",
    "common practice for pleated filters",
);
/// The most.
const MOST: Quantity<dimensions::Velocity> = Quantity::new(
    "greatest_velocity",
    "500 ft/min",
    "Face velocity above which it is a correction where the label allows no more.",
    "common practice: 400 to 500 ft/min",
);

/// The rule.
pub const RULE: Rule = Rule {
    citations: &[remembered("IRC", "2021", "M1401.1"), remembered("IRC", "2021", "M1305.1")],
    parameters: &[&PREFERRED, &MOST],
    reads: &["/equipment"],
    ..Rule::new("ducts/filters", "Filters: size and access", check)
};

fn check(inquiry: &Inquiry) -> Vec<Finding> {
    let moves = |equipment: &Place<Equipment>| {
        matches!(equipment.kind, EquipmentKind::Furnace | EquipmentKind::AirHandler) && equipment.outdoors != Some(true)
    };
    let all = need!(inquiry.project(), equipment).every().into_iter().filter(moves);
    all.map(|equipment| equipment.sheet("whether its filter fits its air", |sheet| judge(inquiry, &equipment, sheet))).collect()
}

fn judge(inquiry: &Inquiry, equipment: &Place<Equipment>, sheet: &mut Sheet) -> Lookup<Text> {
    let source = sources::FILTER.text();
    if let Some(reached) = sheet.want(need!(equipment, air_moving.filter_accessible))
        && !sheet.require("access", text!("its filter cannot be pulled without taking something else away"), "", *reached.get())
    {
        sheet.cure(text!("clear the way of the filter"));
    }
    let (flow, width, height) = (
        need!(equipment, air_moving.flow),
        need!(equipment, air_moving.filter_width),
        need!(equipment, air_moving.filter_height),
    )
        .together()?;
    let moving = equipment.air_moving.as_ref();
    let filters = moving.and_then(|moving| moving.filters).unwrap_or(1);
    let Some(velocity) = face_velocity(flow.quantity(), width.quantity(), height.quantity(), filters) else {
        return Err(Unresolved::because(width.pointer(), "the face of the filter: it is said to have none"));
    };
    let label = moving.and_then(|moving| moving.filter_velocity.as_ref()).map(|label| label.quantity());
    let (most, preferred) = (label.unwrap_or(inquiry.value(&MOST)), label.unwrap_or(inquiry.value(&PREFERRED)));
    let words = text!("{} through the face of its filters", in_unit(velocity, "ft/min"));
    if !at_most(velocity, most) {
        sheet.require("velocity", text!("{}, {} is the most", words, in_unit(most, "ft/min")), source, false);
        sheet.cure(text!("more filter: another beside it, or a larger one"));
    } else if !at_most(velocity, preferred) {
        sheet.test("velocity", text!("{}, {} is better", words, in_unit(preferred, "ft/min")), source, false);
        sheet.advise(text!("{}, {} or less lets a pleated filter work", words, in_unit(preferred, "ft/min")));
    } else {
        sheet.test("velocity", words.clone(), source, true);
    }
    Ok(words)
}
