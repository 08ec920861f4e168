//! Hard water must not reach the coil of a tankless heater.
//!
//! Lime settles where water is hottest. A coil with an eighth of an inch of it wastes fuel, overheats and cracks; makers void the
//! warranty on water harder than about 11 grains per gallon.
//!
//! **How it is measured.** The hardness of the source, the limit of the heater's instructions, and whether a softener stands in
//! the treatment before it.
//!
//! **How it is fixed.** A softener before the heater, or the coil flushed with the maker's descaler as often as the instructions
//! say. **Acid for flushing burns skin and eyes; the heater is off, cold and shut at both sides.**

use crate::heater;
use redtag_rule::prelude::*;

/// How hard.
const HARDEST: Quantity<dimensions::Concentration> = Quantity::new(
    "hardest",
    "11 gpg",
    "The hardest water to a tankless heater whose instructions do not say.",
    "from memory of makers' instructions: 11 to 12 gpg",
)
.within("0 gpg", "30 gpg");

/// The rule.
pub const RULE: Rule = Rule {
    level: Level::Advice,
    citations: &[remembered("manufacturer's instructions", "any", "water quality")],
    parameters: &[&HARDEST],
    reads: &["/equipment", "/water"],
    ..Rule::new("water-heating/inlet-hardness", "Soft enough for the coil", check)
};

fn check(inquiry: &Inquiry) -> Vec<Finding> {
    heater::each(inquiry, |heater| {
        if heater::stores(heater) {
            return heater.not_applicable(text!("lime falls to the bottom of a tank")).done();
        }
        heater.sheet("whether the water is too hard for its coil", |sheet| judge(inquiry, heater, sheet))
    })
}

fn judge(inquiry: &Inquiry, heater: &Place<Equipment>, sheet: &mut Sheet) -> Lookup<Text> {
    let limit = match need!(heater, water_heating.hardness_limit) {
        Ok(limit) => limit.get().clone(),
        Err(_) => quantity::Concentration::from_quantity(&inquiry.value(&HARDEST)),
    };
    let hardness: Vec<_> = redtag_rule_water::drinking(inquiry)?.iter().map(|source| need!(source, hardness)).collect();
    let hardness = hardness.together()?.into_iter().max_by(|one, other| one.si().total_cmp(&other.si()));
    let Some(hardness) = hardness else { return Err(Unresolved::at("/water/sources")) };
    if sheet.at_most("hardness", &hardness, &limit, "gpg", "the heater's instructions, or from memory of them") {
        return Ok(text!("{} at the source", hardness));
    }
    let softener = |step: Place<'_, TreatmentStep>| {
        let device = need!(step, equipment).and_then(|id| inquiry.equipment(&id));
        device.map(|device| device.kind == EquipmentKind::WaterSoftener)
    };
    let steps: Vec<_> = need!(inquiry.project(), water.treatment)?.items().map(softener).collect();
    if !steps.together()?.contains(&true) {
        sheet.fault(text!("water of {} reaches its coil, {} is the most", hardness, limit));
        sheet.cure(text!("soften the water before it, or flush the coil as its instructions say for {}", hardness));
    }
    Ok(text!("{} at the source, softened before the heater", hardness))
}
