//! Propane is heavier than air: what leaks from an appliance below grade stays there. Some jurisdictions forbid propane
//! appliances in basements and pits, others ask for a detector, a fan and a drain; the model code has no general ban.
//!
//! A leak in a basement fills it from the floor up, past the nose of anyone standing, until a pilot, a switch or a sump pump
//! lights it.
//!
//! **How it is measured.** Where the appliance stands, whether the floor there lies below the ground outside, and what gas
//! is in the pipe. Where safeguards are asked for: a detector of that gas which shuts the supply off, a fan it starts, and a
//! way for the gas to run out to daylight.
//!
//! **How it is fixed.** The appliance moves above grade, or it takes another gas or none; or the safeguards asked for here
//! are fitted. Where nothing is asked for, a listed detector near the floor and a drain to daylight are worth their price.

use crate::burner;
use crate::supply;
use redtag_rule::prelude::*;

/// What the jurisdiction says.
const BELOW_GRADE: Choice = Choice::new(
    "below_grade",
    "allowed",
    &["allowed", "allowed-with-safeguards", "prohibited"],
    "Whether appliances supplied with propane or butane may stand in a space whose floor lies below grade.",
    "no general ban in IRC, IFGC and NFPA 54; UPC 1213.6 and UMC 304.6 of 2000 had one (reported in the trade press)",
);
const SAFEGUARD_SOURCE: &str = "reported of local amendments: detector with shutoff, exhaust fan, drain";
/// A detector.
const DETECTOR: Flag = Flag::new(
    "detector_required",
    true,
    "Whether a detector that shuts the gas off is one of the safeguards asked for.",
    SAFEGUARD_SOURCE,
);
/// A fan.
const EXHAUST_FAN: Flag = Flag::new(
    "exhaust_fan_required",
    true,
    "Whether an exhaust fan started by the detector is one of the safeguards asked for.",
    SAFEGUARD_SOURCE,
);
/// A drain.
const DRAIN: Flag =
    Flag::new("drain_required", true, "Whether a drain to daylight is one of the safeguards asked for.", SAFEGUARD_SOURCE);

/// The rule.
pub const RULE: Rule = Rule {
    citations: &[remembered("UPC", "2000", "1213.6"), remembered("UMC", "2000", "304.6")],
    parameters: &[&BELOW_GRADE, &DETECTOR, &EXHAUST_FAN, &DRAIN],
    reads: &["/spaces", "/equipment", "/gas"],
    ..Rule::new("fuel-match/propane-below-grade", "Propane appliances below grade", check)
};

const WANTED: &str = "whether an appliance on propane may stand here";

fn check(inquiry: &Inquiry) -> Vec<Finding> {
    burner::each(inquiry, |appliance, fuel| judge(inquiry, appliance, fuel))
}

fn judge(inquiry: &Inquiry, appliance: &Place<Equipment>, fuel: Lookup<Fuel>) -> Finding {
    // What leaks is what is in the pipe, whatever the plate says.
    let fuel = match supply::fuel(inquiry).or(fuel) {
        Ok(fuel) if heavier_than_air(fuel) => fuel,
        Ok(fuel) => return appliance.not_applicable(text!("supplied with {}", fuel)).done(),
        Err(unresolved) => return appliance.ask(WANTED, || Err(unresolved)),
    };
    if appliance.outdoors == Some(true) {
        return appliance.not_applicable(text!("stands outdoors")).done();
    }
    let space = space(inquiry, appliance);
    let allowed = inquiry.value(&BELOW_GRADE);
    let below = space.as_ref().map_err(Clone::clone).and_then(|space| need!(space, below_grade).map(|below| *below));
    // Where nothing is asked for, nothing needs to be known.
    if allowed == "allowed" && below != Ok(true) {
        return appliance.complies(text!("{} is allowed at any level here", fuel)).done();
    }
    match (space, below).together() {
        Ok((space, below)) => placed(inquiry, appliance, fuel, (&space, below)),
        Err(unresolved) => appliance.ask(WANTED, || Err(unresolved)),
    }
}

/// An appliance whose place is known.
fn placed(inquiry: &Inquiry, appliance: &Place<Equipment>, fuel: Fuel, (space, below): (&Place<Space>, bool)) -> Finding {
    let mut sheet = Sheet::default();
    let allowed = inquiry.value(&BELOW_GRADE);
    let level = if below { "below grade" } else { "not below grade" };
    let place = text!("{} in {}, {}", fuel, space.label(), level);
    sheet.test("place", place.clone(), "", !below || allowed != "prohibited");
    match (below, allowed) {
        (false, _) => {}
        (true, "allowed") => worth_knowing(fuel, space, &mut sheet),
        (true, "allowed-with-safeguards") => safeguards(inquiry, fuel, space, &mut sheet),
        (true, _) => {
            sheet.fault(text!("{} below grade, in {}, is not allowed here", fuel, space.label()));
            sheet.cure(text!("move it above grade, or choose an appliance for natural gas or electricity"));
        }
    }
    sheet.finding(appliance, WANTED, text!("{}{}", place, if below { " with the safeguards asked for" } else { "" }))
}

fn heavier_than_air(fuel: Fuel) -> bool {
    matches!(fuel, Fuel::Propane | Fuel::Butane)
}

fn space<'a>(inquiry: &Inquiry<'a>, appliance: &Place<'a, Equipment>) -> Lookup<Place<'a, Space>> {
    inquiry.space(&need!(appliance, space)?)
}

/// What a careful builder does where nothing is asked for.
fn worth_knowing(fuel: Fuel, space: &Place<Space>, sheet: &mut Sheet) {
    if detects(fuel, space) == Ok(true) || space.drain_to_daylight == Some(true) {
        return;
    }
    sheet.advise(text!(
        "{} below grade is allowed here; it is heavier than air and stays in {}: fit a listed detector near the floor that shuts it off, or a drain to daylight",
        fuel,
        space.label()
    ));
}

/// Whether a detector of this gas shuts it off.
fn detects(fuel: Fuel, space: &Place<Space>) -> Lookup<bool> {
    let (of, shuts) = (need!(space, gas_detector.fuel), need!(space, gas_detector.shuts_off_gas)).together()?;
    Ok(*of == fuel && *shuts)
}

fn safeguards(inquiry: &Inquiry, fuel: Fuel, space: &Place<Space>, sheet: &mut Sheet) {
    let said = |fact: Lookup<Place<bool>>| fact.map(|fact| *fact);
    let kind = ("gas_detector/fuel", json!(fuel.word()));
    let detector = vec![kind, ("gas_detector/shuts_off_gas", json!(true))];
    let fan = vec![("gas_detector/starts_fan", json!(true))];
    let drain = vec![("drain_to_daylight", json!(true))];
    let asked = [
        (&DETECTOR, "a detector that shuts the gas off", detects(fuel, space), detector),
        (&EXHAUST_FAN, "an exhaust fan the detector starts", said(need!(space, gas_detector.starts_fan)), fan),
        (&DRAIN, "a drain to daylight", said(need!(space, drain_to_daylight)), drain),
    ];
    for (flag, what, fact, cure) in asked {
        let Some(there) = inquiry.value(flag).then(|| sheet.want(fact)).flatten() else { continue };
        if !sheet.test("safeguard", text!("{}", what), "asked for here", there) {
            sheet.fault(text!("{} below grade, in {}, without {}", fuel, space.label(), what));
            let values: Vec<_> = cure.into_iter().map(|(field, value)| (format!("{}/{field}", space.pointer()), value)).collect();
            sheet.cure_at(text!("fit {}", what), &values);
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::trying::{missing, only, says};
    use redtag_rule::Value;
    use redtag_rule::testing::{findings, findings_with};

    fn basement(space: Value) -> Value {
        let mut room = json!({"id": "b", "kind": "basement"});
        for (name, value) in space.as_object().into_iter().flatten() {
            room[name] = value.clone();
        }
        json!({
            "schema": 1,
            "spaces": [room],
            "equipment": [{"id": "f", "kind": "furnace", "space": "b", "fuel_burning": {"plate": {"fuel": "propane"}}}],
        })
    }

    fn under(word: &str, space: Value) -> Vec<Finding> {
        findings_with(&RULE, basement(space), &[("below_grade", json!(word))])
    }

    #[test]
    fn the_model_code_has_no_ban() {
        only(&findings(&RULE, basement(json!({}))), Outcome::Complies);
        only(&findings(&RULE, basement(json!({"below_grade": true}))), Outcome::Advice);
        only(&findings(&RULE, basement(json!({"below_grade": true, "drain_to_daylight": true}))), Outcome::Complies);
    }

    #[test]
    fn a_ban_holds_below_grade_only() {
        only(&under("prohibited", json!({"below_grade": true})), Outcome::Correction);
        only(&under("prohibited", json!({"below_grade": false})), Outcome::Complies);
        assert_eq!(missing(only(&under("prohibited", json!({})), Outcome::Unresolved)), ["/spaces/0/below_grade"]);
    }

    #[test]
    fn every_safeguard_is_asked_for() {
        let with = |detector: Value, drain| {
            under("allowed-with-safeguards", json!({"below_grade": true, "gas_detector": detector, "drain_to_daylight": drain}))
        };
        let whole = json!({"fuel": "propane", "shuts_off_gas": true, "starts_fan": true});
        only(&with(whole.clone(), true), Outcome::Complies);
        says(only(&with(whole, false), Outcome::Correction), "without a drain to daylight");
        let wrong = json!({"fuel": "natural-gas", "shuts_off_gas": true, "starts_fan": false});
        let found = with(wrong, true);
        says(only(&found, Outcome::Correction), "without a detector that shuts the gas off");
        says(&found[0], "without an exhaust fan");
        let none = under("allowed-with-safeguards", json!({"below_grade": true}));
        let at = |field: &str| format!("/spaces/0/{field}");
        assert_eq!(
            missing(only(&none, Outcome::Unresolved)),
            [at("gas_detector/fuel"), at("gas_detector/shuts_off_gas"), at("gas_detector/starts_fan"), at("drain_to_daylight")]
        );
    }

    #[test]
    fn what_is_in_the_pipe_decides() {
        let mut house = basement(json!({"below_grade": true}));
        house["gas"] = json!({"supply": {"kind": "meter", "fuel": "natural-gas"}});
        only(&findings_with(&RULE, house.clone(), &[("below_grade", json!("prohibited"))]), Outcome::NotApplicable);
        house["gas"]["supply"]["fuel"] = json!("propane");
        house["equipment"][0]["fuel_burning"]["plate"]["fuel"] = json!("natural-gas");
        only(&findings_with(&RULE, house.clone(), &[("below_grade", json!("prohibited"))]), Outcome::Correction);
        house["equipment"][0]["outdoors"] = json!(true);
        only(&findings(&RULE, house), Outcome::NotApplicable);
    }
}
