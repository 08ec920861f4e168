//! The smallest hot tap must run enough water to start a tankless heater.
//!
//! Below its activation flow the burner does not light: a slow lavatory tap then gives cold water, or hot and cold in turn.
//!
//! **How it is measured.** The heater's activation flow, from its instructions, against the hot flow of each outlet it feeds when
//! opened alone. A mixed tap draws only a part of its flow from the hot side.
//!
//! **How it is fixed.** A heater that starts at less, a small buffer tank, or a tap that runs more. Makers give 0.4 to 0.6 gpm
//! (from memory). A buffer tank keeps its water hot enough: *where it stands tepid, bacteria grow; where it is hotter, it scalds.**

use crate::{heater, outlets};
use redtag_handbook::water::hot_share;
use redtag_handbook::water::measure::{gallons_per_minute, in_gallons_per_minute};
use redtag_rule::prelude::*;

/// How warm people wash.
const MIXED: Quantity<dimensions::Temperature> =
    Quantity::new("mixed_temperature", "105 F", "The temperature people mix to at a tap.", "common practice: 105 F")
        .within("95 F", "120 F");

/// The rule.
pub const RULE: Rule = Rule {
    level: Level::Advice,
    citations: &[remembered("manufacturer's instructions", "any", "activation flow")],
    parameters: &[&MIXED],
    reads: &["/equipment", "/water"],
    ..Rule::new("water-heating/tankless-minimum-flow", "Every hot tap starts the heater", check)
};

fn check(inquiry: &Inquiry) -> Vec<Finding> {
    heater::each(inquiry, |heater| {
        if heater::stores(heater) {
            return heater.not_applicable(text!("it has a store to draw on")).done();
        }
        heater.sheet("whether every hot tap starts it", |sheet| judge(inquiry, heater, sheet))
    })
}

fn judge(inquiry: &Inquiry, heater: &Place<Equipment>, sheet: &mut Sheet) -> Lookup<Text> {
    let (starts, fixtures, cold, set) = (
        need!(heater, water_heating.activation_flow),
        outlets::of(inquiry, heater),
        heater::coldest(inquiry),
        need!(heater, water_heating.set_temperature),
    )
        .together()?;
    let share = hot_share(inquiry.value(&MIXED), cold.quantity(), set.quantity());
    for fixture in fixtures {
        let Some(flow) = sheet.want(need!(fixture, flow)) else { continue };
        let part =
            if fixture.kind == FixtureKind::Dishwasher || fixture.kind == FixtureKind::ClothesWasher { 1.0 } else { share };
        let hot = gallons_per_minute(in_gallons_per_minute(flow.quantity()) * part);
        let label = fixture.label();
        if !sheet.at_least(&label, &hot, &starts, "gpm", "the heater's instructions") {
            sheet.fault(text!(
                "{} draws {} of hot water, the heater starts at {}",
                label,
                in_unit(hot, "gpm"),
                in_unit(&starts, "gpm")
            ));
            sheet.related(fixture.pointer());
        }
    }
    if !sheet.sound() {
        sheet.cure(text!("choose a heater that starts at less, or set a small buffer tank behind it"));
    }
    Ok(text!("every hot tap runs more than the {} that start it", in_unit(&starts, "gpm")))
}
