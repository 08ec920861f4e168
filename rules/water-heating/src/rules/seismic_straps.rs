//! Where earthquakes are to be expected, a water heater must be held in its upper and lower third.
//!
//! A full tank weighs a quarter ton and stands on its narrow end. When it falls it tears off its gas pipe, its vent and its water
//! supply: **fires after earthquakes often start at a fallen water heater.**
//!
//! **How it is measured.** The seismic design category of the site; the height of each strap above the heater's underside
//! against its thirds and its top. Together they must hold a third of the heater's filled weight sideways. Some packs ask that the lower
//! strap stays clear of the controls, and for a third strap on larger tanks.
//!
//! **How it is fixed.** Straps of heavy sheet metal, bolted into studs or masonry, one in each third; flexible connectors for
//! gas and water.

use crate::heater;

use redtag_rule::prelude::*;
use uom::si::f64::{Length, Mass};

/// Where.
const CATEGORIES: Choices = Choices::new(
    "categories",
    &["d0", "d1", "d2", "e"],
    &["a", "b", "c", "d0", "d1", "d2", "e"],
    "The seismic design categories in which every water heater is strapped.",
    "from memory of IRC P2801.8; the 2006 edition's P2801.7 was read in a copy",
);
/// Townhouses.
const TOWNHOUSES: Choices = Choices::new(
    "townhouse_categories",
    &["c"],
    &["a", "b", "c", "d0", "d1", "d2", "e"],
    "The further categories in which those of townhouses are.",
    "from memory of IRC P2801.8",
);
/// Everywhere.
const EVERYWHERE: Flag = Flag::new(
    "everywhere",
    false,
    "Heaters are strapped whatever the category.",
    "Vermont plumbing rule and UPC 507.2 ask it; the model code does not",
);
/// Hung ones.
const HUNG: Flag = Flag::new(
    "wall_hung_too",
    false,
    "Heaters that hang on a wall are judged like those that stand.",
    "the model code does not say; a hung heater follows its maker",
);
/// Controls.
const CONTROLS: Flag = Flag::new(
    "clear_of_controls",
    false,
    "The lower strap stays so far above the controls.",
    "UPC 507.2, as printed by inspectors; not in the model code",
);
/// How far.
const ABOVE_CONTROLS: Quantity<dimensions::Length> = Quantity::new(
    "above_controls",
    "4 in",
    "How far above the controls the lower strap stays, where the pack asks for it.",
    "UPC 507.2, as printed by inspectors",
)
.within("0 in", "12 in");
/// By size.
const BY_SIZE: Flag = Flag::new(
    "straps_by_size",
    false,
    "Larger tanks have a third strap, and the largest are engineered.",
    "California DSA, guidelines for earthquake bracing of residential water heaters (2005)",
);
/// Two straps.
const TWO_UP_TO: Quantity<dimensions::Volume> =
    Quantity::new("two_straps_up_to", "52 gal", "Two straps hold a tank up to this size.", "California DSA guidelines (2005)")
        .within("20 gal", "120 gal");
/// Three straps.
const THREE_UP_TO: Quantity<dimensions::Volume> = Quantity::new(
    "three_straps_up_to",
    "75 gal",
    "Three straps hold a tank up to this size.",
    "California DSA guidelines (2005)",
)
.within("20 gal", "200 gal");

/// The rule.
pub const RULE: Rule = Rule {
    citations: &[remembered("IRC", "2021", "P2801.8"), cited("IRC", "2006", "P2801.7"), cited("UPC", "2018", "507.2")],
    parameters: &[&CATEGORIES, &TOWNHOUSES, &EVERYWHERE, &HUNG, &CONTROLS, &ABOVE_CONTROLS, &BY_SIZE, &TWO_UP_TO, &THREE_UP_TO],
    reads: &["/equipment", "/site", "/building", "/spaces"],
    ..Rule::new("water-heating/seismic-straps", "Held against earthquakes", check)
};

const WANTED: &str = "whether the heater would stand through an earthquake";

fn check(inquiry: &Inquiry) -> Vec<Finding> {
    heater::each(inquiry, |heater| {
        if matches!(heater.mounting, Some(Mounting::Wall | Mounting::Recessed | Mounting::Suspended)) && !inquiry.value(&HUNG) {
            return heater.not_applicable(text!("it hangs as its maker says")).done();
        }
        match concerned(inquiry) {
            Ok(true) => heater.sheet(WANTED, |sheet| judge(inquiry, heater, sheet)),
            Ok(false) => heater.not_applicable(text!("the seismic design category asks for nothing here")).done(),
            Err(unresolved) => heater.ask(WANTED, || Err(unresolved)),
        }
    })
}

/// Whether heaters are strapped at this site.
fn concerned(inquiry: &Inquiry) -> Lookup<bool> {
    if inquiry.value(&EVERYWHERE) {
        return Ok(true);
    }
    let category = need!(inquiry.project(), site.seismic_design_category)?;
    if inquiry.value(&CATEGORIES).contains(&category.word()) {
        return Ok(true);
    }
    if !inquiry.value(&TOWNHOUSES).contains(&category.word()) {
        return Ok(false);
    }
    Ok(*need!(inquiry.project(), building.occupancy)? == Occupancy::Townhouse)
}

fn judge(inquiry: &Inquiry, heater: &Place<Equipment>, sheet: &mut Sheet) -> Lookup<Text> {
    let (straps, height) = (need!(heater, seismic_straps), need!(heater, placement.height)).together()?;
    let heights: Vec<_> = straps.items().map(|strap| need!(strap, height)).collect();
    let heights: Vec<Length> = heights.together()?.into_iter().map(|height| height.quantity()).collect();
    let tall = height.quantity();
    let above = heights.iter().filter(|&&strap| !at_most(strap, tall)).count();
    if above > 0 {
        sheet.fault(text!("{} straps sit above the heater, which is {} tall, and hold nothing", above, in_unit(&height, "in")));
    }
    let heights: Vec<Length> = heights.into_iter().filter(|&strap| at_most(strap, tall)).collect();
    let (lower, upper) = (height.quantity() / 3.0, height.quantity() * (2.0 / 3.0));
    thirds(inquiry, heater, (&heights, lower, upper), sheet);
    if let Ok(weight) = need!(heater, weight) {
        let hold: Mass = weight.quantity() / 3.0;
        sheet.line("to hold sideways", text!("{}, a third of {}", in_unit(hold, "lb"), weight), "IRC 2006 P2801.7");
    }
    if inquiry.value(&CONTROLS) {
        controls(inquiry, heater, &heights, sheet);
    }
    if inquiry.value(&BY_SIZE) {
        by_size(inquiry, heater, heights.len(), sheet);
    }
    Ok(text!("held in its upper and lower third"))
}

/// A strap in each of the outer thirds.
fn thirds(inquiry: &Inquiry, heater: &Place<Equipment>, (heights, lower, upper): (&[Length], Length, Length), sheet: &mut Sheet) {
    let wanted = [
        ("lower third", heights.iter().any(|&strap| at_most(strap, lower)), lower, "at most"),
        ("upper third", heights.iter().any(|&strap| at_least(strap, upper)), upper, "at least"),
    ];
    for (label, holds, limit, side) in wanted {
        let words = text!("a strap {} {} above its underside", side, in_unit(limit, "in"));
        if !sheet.test(label, words, "IRC P2801.8, from memory", holds) {
            sheet.fault(text!(
                "no strap holds its {}: one is wanted {} {} above its underside",
                label,
                side,
                in_unit(limit, "in")
            ));
            if let Some((x, y, floor, space)) = heater::stands(inquiry, heater) {
                sheet.mark(point_mark(space.as_deref(), format!("strap in the {label}"), [x, y, floor + limit.value]));
            }
        }
    }
    if !sheet.sound() {
        let (low, high) = (lower * 0.8, upper * 1.1);
        sheet.cure(text!(
            "straps at about {} and {} above its underside, bolted into studs",
            in_unit(low, "in"),
            in_unit(high, "in")
        ));
    }
}

fn controls(inquiry: &Inquiry, heater: &Place<Equipment>, heights: &[Length], sheet: &mut Sheet) {
    let Some(control) = sheet.want(need!(heater, water_heating.control_height)) else { return };
    let Some(lowest) = heights.iter().copied().reduce(Length::min) else { return };
    let least = control.quantity() + inquiry.value(&ABOVE_CONTROLS);
    if !sheet.at_least("above the controls", &lowest, &least, "in", "UPC 507.2") {
        sheet.fault(text!(
            "the lower strap is {} up, the controls and their clearance reach {}",
            in_unit(lowest, "in"),
            in_unit(least, "in")
        ));
    }
}

fn by_size(inquiry: &Inquiry, heater: &Place<Equipment>, straps: usize, sheet: &mut Sheet) {
    let Some(storage) = sheet.want(need!(heater, water_heating.storage)) else { return };
    let (two, three) = (inquiry.value(&TWO_UP_TO), inquiry.value(&THREE_UP_TO));
    if !at_most(storage.quantity(), three) {
        sheet.fault(text!(
            "{} is more than straps hold, {} is the most: its bracing is to be engineered",
            in_unit(&storage, "gal"),
            in_unit(three, "gal")
        ));
        return;
    }
    let wanted = if at_most(storage.quantity(), two) { 2 } else { 3 };
    let words = text!("{} straps for {}, it has {}", wanted, in_unit(&storage, "gal"), straps);
    sheet.require("number", words, "California DSA guidelines (2005)", straps >= wanted);
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::trying::only;
    use redtag_rule::testing::findings;

    fn strapped(low: &str, high: &str) -> Vec<Finding> {
        let heater = json!({"id": "h", "kind": "storage-water-heater", "mounting": "floor", "placement": {"height": "60 in"},
            "seismic_straps": [{"height": low}, {"height": high}]});
        findings(&RULE, json!({"schema": 1, "site": {"seismic_design_category": "d1"}, "equipment": [heater]}))
    }

    #[test]
    fn thirds_are_included_in_every_unit() {
        for (low, high) in [("20 in", "40 in"), ("1 ft 8 in", "3 ft 4 in"), ("508 mm", "1016 mm")] {
            only(&strapped(low, high), Outcome::Complies, "upper and lower third");
        }
        only(&strapped("20.01 in", "40 in"), Outcome::Correction, "lower third");
        only(&strapped("508 mm", "1015.9 mm"), Outcome::Correction, "upper third");
    }
}
