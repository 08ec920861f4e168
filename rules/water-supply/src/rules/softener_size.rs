//! A softener should hold out some days between regenerations and give enough hardness back for its salt.
//!
//! Too small, it regenerates every night and wears out; too large, water stands in it and the bed fouls. Iron counts like
//! hardness. Some states ask for a least efficiency, in grains for each pound of salt.
//!
//! **How it is measured.** People times gallons a day times hardness in grains, with four grains for each part per million of iron
//! where no filter takes it out first; against the capacity of one regeneration.
//!
//! **How it is fixed.** More resin, or another salt setting; the worksheet says what the resin gives at that salt.

use crate::source;
use redtag_handbook::water::measure::{in_grains_per_gallon, in_milligrams_per_liter};
use redtag_handbook::water::{compensated_hardness, days_between, exchange_capacity, hardness_per_day};
use redtag_rule::prelude::*;
use uom::si::mass;

/// Water.
const GALLONS: Quantity<dimensions::Volume> = Quantity::new(
    "water_per_person_and_day",
    "75 gal",
    "Water one person uses in a day.",
    "common practice: 75, also 60 and 100 gallons",
)
.within("30 gal", "150 gal");
/// Iron.
const IRON: Number = Number::new(
    "grains_for_iron",
    4.0,
    "Grains of hardness that one part per million of iron counts for.",
    "common practice: 3 to 5",
)
.within(0.0, 6.0);
/// Least days.
const LEAST: Number =
    Number::new("least_days", 3.0, "The least days between regenerations.", "common practice").within(0.0, 10.0);
/// Most days.
const MOST: Number = Number::new("most_days", 10.0, "The most days between regenerations.", "common practice").within(3.0, 60.0);
/// Efficiency.
const EFFICIENCY: Number = Number::new(
    "least_grains_per_pound",
    0.0,
    "The least grains taken out for each pound of salt.",
    "California Health and Safety Code 116785 asks 4,000; the model code asks nothing",
)
.within(0.0, 6000.0);

/// The rule.
pub const RULE: Rule = Rule {
    level: Level::Advice,
    citations: &[remembered("NSF/ANSI", "44", "efficiency rating"), cited("California Health and Safety Code", "2014", "116785")],
    parameters: &[&GALLONS, &IRON, &LEAST, &MOST, &EFFICIENCY],
    reads: &["/water", "/equipment", "/building"],
    ..Rule::new("water-supply/softener-size", "A softener of the right size", check)
};

fn check(inquiry: &Inquiry) -> Vec<Finding> {
    let softener = |item: &Place<Equipment>| item.kind == EquipmentKind::WaterSoftener;
    let softeners = need!(inquiry.project(), equipment).every().into_iter().filter(softener);
    softeners.map(|item| item.sheet("whether it is of the right size", |sheet| judge(inquiry, &item, sheet))).collect()
}

fn judge(inquiry: &Inquiry, item: &Place<Equipment>, sheet: &mut Sheet) -> Lookup<Text> {
    let source = source::of_the_house(inquiry)?;
    let (capacity, salt, people, hardness, iron) = (
        need!(item, treatment.capacity),
        need!(item, treatment.salt),
        need!(inquiry.project(), building.occupants),
        need!(source, hardness),
        need!(source, iron),
    )
        .together()?;
    let filtered = iron_is_filtered(inquiry, item);
    let ppm = if filtered { 0.0 } else { in_milligrams_per_liter(iron.quantity()) };
    let hard = compensated_hardness(in_grains_per_gallon(hardness.quantity()), ppm, inquiry.value(&IRON));
    let gallons = redtag_handbook::water::measure::in_gallons(inquiry.value(&GALLONS));
    let a_day = hardness_per_day(f64::from(*people), gallons, hard);
    let grains = capacity.quantity().get::<mass::grain>();
    let words = text!("{} people, {} grains a gallon: {} grains a day", *people, format!("{hard:.1}"), format!("{a_day:.0}"));
    sheet.line("comes", words, "common practice: people x gallons x grains");
    let Some(days) = days_between(grains, a_day) else { return Ok(text!("no hardness comes")) };
    let (least, most) = (inquiry.value(&LEAST), inquiry.value(&MOST));
    let said =
        text!("{} days between regenerations, {} to {} are wanted", format!("{days:.2}"), format!("{least}"), format!("{most}"));
    if !sheet.test("days", said.clone(), "common practice", at_least(days, least) && at_most(days, most)) {
        sheet.fault(said.clone());
        sheet.cure(text!(
            "set or choose a capacity of {} to {} grains",
            format!("{:.0}", least * a_day),
            format!("{:.0}", most * a_day)
        ));
    }
    efficiency(inquiry, item, (grains, &salt), sheet);
    Ok(said)
}

fn efficiency(inquiry: &Inquiry, item: &Place<Equipment>, (grains, salt): (f64, &Place<quantity::Mass>), sheet: &mut Sheet) {
    let pounds = salt.quantity().get::<mass::pound>();
    if pounds <= 0.0 {
        return sheet.lack(Unresolved::at(salt.pointer()));
    }
    let gives = grains / pounds;
    let least = inquiry.value(&EFFICIENCY);
    let words = text!("{} grains for each pound of salt, {} are the least", format!("{gives:.0}"), format!("{least:.0}"));
    sheet.require("efficiency", words, "set by the pack", at_least(gives, least));
    if let Ok(medium) = need!(item, treatment.medium) {
        let feet = redtag_handbook::units::in_cubic_feet(medium.quantity());
        let known = if feet > 0.0 { exchange_capacity(pounds / feet) } else { None };
        if let Some(each) = known {
            let words =
                text!("{} of resin gives about {} grains at that salt", in_unit(&medium, "ft³"), format!("{:.0}", each * feet));
            sheet.line("resin", words, "Water Systems Council figures and a resin maker's");
        }
    }
}

/// Whether a filter takes the iron out before the softener.
fn iron_is_filtered(inquiry: &Inquiry, softener: &Place<Equipment>) -> bool {
    for step in need!(inquiry.project(), water.treatment).every() {
        match need!(step, equipment).and_then(|id| inquiry.equipment(&id)) {
            Ok(device) if device.id == softener.id => return false,
            Ok(device) if device.kind == EquipmentKind::IronFilter => return true,
            _ => {}
        }
    }
    false
}
