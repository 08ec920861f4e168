//! A room that holds an appliance on propane has a listed propane detector near the floor which shuts the gas off.
//!
//! Propane is heavier than air. What leaks in a boat workshop runs along the floor and under the slip doors, and a detector
//! at nose height, or one that only sounds in an empty workshop, comes too late.
//!
//! **How it is measured.** By the gas in the pipe, not by the plate; for each room with an appliance, by its detector: what
//! gas it is for, whether it is listed, how high above the floor it hangs, whether it closes the supply.
//!
//! **How it is fixed.** Fit a listed propane detector within a foot of the floor, wired to a valve that closes the
//! supply. Work on gas and its controls is for a licensed contractor, and follows the detector's instructions.

use redtag_rule::prelude::*;

/// Where the figures are printed.
const SOURCE: &str = "Skerry County Ordinance 2024-11 section 1 (invented)";
/// How high it may hang.
const MOST_HEIGHT: Quantity<dimensions::Length> = Quantity::new(
    "most_height_above_floor",
    "12 in",
    "How high above the floor the detector may hang.",
    SOURCE,
)
.within("1 in", "36 in");
/// Whether it must act.
const SHUTS_OFF: Flag = Flag::new(
    "shuts_gas_off",
    true,
    "Whether the detector must close the gas supply.",
    SOURCE,
);

/// The rule. It sleeps until a pack adopts it: the ordinance came into force after the county's other amendments.
pub const RULE: Rule = Rule {
    citations: &[cited("Skerry County Ordinance", "2024-11", "section 1")],
    parameters: &[&MOST_HEIGHT, &SHUTS_OFF],
    reads: &["/spaces", "/equipment", "/gas"],
    adopted: false,
    ..Rule::new("skerry-shore/propane-detector", "A propane detector by the floor", check)
};

const WANTED: &str = "whether a leak would be noticed";

fn check(inquiry: &Inquiry) -> Vec<Finding> {
    let spaces = need!(inquiry.project(), spaces).every();
    let equipment = need!(inquiry.project(), equipment).every();
    let mut found = Vec::new();
    for space in &spaces {
        let in_it = |one: &&Place<Equipment>| one.space.as_ref() == Some(&space.id) && kinds::may_burn(one);
        if let Some(burner) = equipment.iter().find(in_it) {
            log!(Debug, "{} holds {}", space.id, burner.id);
            found.push(judge(inquiry, space, burner));
        }
    }
    found.extend(equipment.iter().filter(|one| kinds::may_burn(one)).filter_map(nowhere));
    found
}

/// A burner whose room is not said may stand in any of them.
fn nowhere(burner: &Place<Equipment>) -> Option<Finding> {
    need!(burner, space).is_err().then(|| burner.ask(WANTED, || Err(burner.missing("/space"))))
}

fn judge(inquiry: &Inquiry, space: &Place<Space>, burner: &Place<Equipment>) -> Finding {
    let gas = match need!(inquiry.project(), gas.supply.fuel) {
        Ok(gas) if *gas.get() != Fuel::Propane => {
            return space.not_applicable(text!("supplied with {}", gas)).done();
        }
        gas => gas,
    };
    space.sheet(WANTED, |sheet| {
        sheet.want(gas);
        sheet.want(kinds::burns(burner));
        if let Some(of) = sheet.want(need!(space, gas_detector.fuel)) {
            let words = text!("its detector is for {}", of);
            if !sheet.require("gas", words, SOURCE, *of.get() == Fuel::Propane) {
                sheet.cure(text!("fit a detector listed for propane"));
            }
        }
        if let Some(listed) = sheet.want(need!(space, gas_detector.listed)) {
            sheet.require("listing", text!("its detector {} listed", if *listed { "is" } else { "is not" }), SOURCE, *listed);
        }
        if let Some(height) = sheet.want(need!(space, gas_detector.height)) {
            let most = inquiry.value(&MOST_HEIGHT);
            if !sheet.at_most("height above the floor", &height, &most, "in", SOURCE) {
                sheet.fault(text!("its detector hangs {} above the floor", height));
                sheet.cure(text!("hang it no more than {} above the floor", most));
            }
        }
        if inquiry.value(&SHUTS_OFF) {
            shuts_off(space, sheet);
        }
        Ok(text!("a listed propane detector hangs near the floor"))
    })
}

fn shuts_off(space: &Place<Space>, sheet: &mut Sheet) {
    let Some(acts) = sheet.want(need!(space, gas_detector.shuts_off_gas)) else { return };
    let words = text!("its detector {}", if *acts { "closes the gas" } else { "only sounds" });
    if !sheet.require("closes the gas", words, SOURCE, *acts) {
        sheet.cure_at(text!("wire it to a valve that closes the supply"), &[(acts.pointer().to_owned(), json!(true))]);
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use redtag_rule::Value;
    use redtag_rule::testing::{findings, findings_with};

    fn workshop(detector: Value) -> Value {
        json!({
            "schema": 1,
            "spaces": [{"id": "w", "kind": "workshop", "gas_detector": detector}],
            "equipment": [{"id": "h", "kind": "unit-heater", "space": "w", "fuel_burning": {"plate": {"fuel": "propane"}}}],
            "gas": {"supply": {"kind": "second-stage-regulator", "fuel": "propane"}},
        })
    }

    #[test]
    fn twelve_inches_is_low_enough() {
        let at = |height: &str| workshop(json!({"fuel": "propane", "listed": true, "shuts_off_gas": true, "height": height}));
        assert_eq!(findings(&RULE, at("12 in"))[0].outcome, Outcome::Complies);
        assert_eq!(findings(&RULE, at("12.01 in"))[0].outcome, Outcome::Correction);
    }

    #[test]
    fn a_detector_that_only_sounds_is_a_correction_with_a_cure_to_try() {
        let sounds = workshop(json!({"fuel": "propane", "listed": true, "shuts_off_gas": false, "height": "6 in"}));
        let found = findings(&RULE, sounds.clone());
        assert_eq!(found[0].outcome, Outcome::Correction);
        assert_eq!(found[0].remedies[0].patch[0]["path"], "/spaces/0/gas_detector/shuts_off_gas");
        assert_eq!(findings_with(&RULE, sounds, &[("shuts_gas_off", json!(false))])[0].outcome, Outcome::Complies);
    }

    #[test]
    fn everything_missing_is_named_at_once() {
        assert_eq!(findings(&RULE, workshop(json!({})))[0].missing.len(), 4);
    }
}
