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

use redtag_rule::{FindingBuilder, json};
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

fn check(inquiry: &Inquiry) -> Vec<Finding> {
    let project = inquiry.project();
    let Ok(spaces) = need!(project, spaces) else { return Vec::new() };
    let with_burner = spaces.items().filter(|space| holds_burner(&project, space));
    with_burner.map(|space| space.ask("whether a leak would be noticed", || judge(inquiry, &space))).collect()
}

fn holds_burner(project: &Place<Project>, space: &Place<Space>) -> bool {
    let here = |one: &Equipment| one.fuel_burning.is_some() && one.space.as_ref() == Some(&space.id);
    project.equipment.iter().flatten().any(here)
}

fn judge(inquiry: &Inquiry, space: &Place<Space>) -> Lookup<FindingBuilder> {
    let gas = need!(inquiry.project(), gas.supply.fuel)?;
    if *gas.get() != Fuel::Propane {
        return Ok(space.not_applicable(text!("supplied with {}", gas.to_string())));
    }
    let (of, listed, height, shuts_off) = (
        need!(space, gas_detector.fuel),
        need!(space, gas_detector.listed),
        need!(space, gas_detector.height),
        need!(space, gas_detector.shuts_off_gas),
    )
        .together()?;
    let most = inquiry.value(&MOST_HEIGHT);
    let right = *of.get() == Fuel::Propane;
    let low = at_most(height.quantity(), most);
    let acts = *shuts_off || !inquiry.value(&SHUTS_OFF);
    let mut found = if right && *listed && low && acts {
        space.complies(text!("a listed propane detector hangs {} above the floor", height))
    } else {
        space.correction(text!("its gas detector is not the one asked for on the shore"))
    };
    if !right || !*listed {
        found = found.remedy(text!("fit a detector listed for propane"));
    }
    if !low {
        found = found.remedy(text!("hang it no more than {} above the floor", most));
    }
    if !acts {
        found = found.remedy_set(text!("wire it to a valve that closes the supply"), shuts_off.pointer(), json!(true));
    }
    let found = found
        .test("gas", text!("it is for {}", of.to_string()), SOURCE, right)
        .test("listed", text!("{}", if *listed { "it is" } else { "it is not" }), SOURCE, *listed)
        .test("height", text!("{} above the floor, {} at most", height, most), SOURCE, low)
        .test("shuts the gas off", text!("{}", if *shuts_off { "it does" } else { "it only sounds" }), SOURCE, acts);
    Ok(found)
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
