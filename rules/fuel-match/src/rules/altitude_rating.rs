//! At altitude the input of a gas burner must be set lower: the air is thinner, and the input on the rating plate is that of
//! sea level.
//!
//! Left as it is, the burner gets too little air for its gas: carbon monoxide, soot, a vent that spills. The heat it gives
//! falls with its input, so the house may need a larger appliance than the plate suggests.
//!
//! **How it is measured.** The site's elevation, the rated input, and the reduction that governs: that of the appliance's own
//! instructions first, which may be a percentage, a table, none up to an altitude, or none because it adjusts itself; where
//! they say nothing, the reduction adopted here. The model code takes 4 percent for each 1,000 ft above sea level from every
//! site above 2,000 ft; at that threshold the input drops by 8 percent at once, and that is meant. Other readings are in
//! use, and the worksheet shows what each would leave. Gas of a lower heating value may have taken part of the reduction
//! already; makers forbid to take it twice. Where the heat it must give is stated, it is held against the output left.
//!
//! **How it is fixed.** A qualified agency fits the orifices or the high-altitude kit the maker names for this altitude and
//! gas, checks the pressure switch, clocks the meter and writes the input on the label. Nobody guesses it by the flame.

use crate::altitude::{self, Adopted, Governing, Limit, altitude_of};
use crate::burner;
use crate::derate::{self, Site};
use redtag_handbook::units;
use redtag_rule::prelude::*;
use uom::si::f64::{Power, Ratio};

/// Where reduction begins.
const THRESHOLD: Quantity<dimensions::Position> = Quantity::new(
    "threshold",
    "2,000 ft",
    "The rating plate's input is valid up to this altitude.",
    "from memory of NFPA 54 11.1.2; water heater manual (manualsdump 44358, page 19)",
)
.within("0 ft", "10,000 ft");
/// How much.
const PER_THOUSAND_FEET: Quantity<dimensions::Ratio> = Quantity::new(
    "reduction_per_thousand_feet",
    "4 %",
    "The part of the sea-level input taken for each 1,000 ft where the appliance's instructions say nothing.",
    "from memory of NFPA 54 11.1.2; water heater manual (manualsdump 44358, page 19)",
)
.within("0 %", "10 %");
/// How it is counted.
const COUNTED: Choice = Choice::new(
    "counted",
    "from-sea-level",
    altitude::COUNTED,
    "How altitude is counted above the threshold: from sea level in proportion, from sea level by whole 1,000 ft begun, from the \
     threshold only, or no reduction.",
    "from memory of NFPA 54 11.1.2; hearth manual (Quadra-Fire Village, page 12) reads it from the threshold",
);

/// The rule.
pub const RULE: Rule = Rule {
    citations: &[remembered("NFPA 54", "2021", "11.1.2")],
    parameters: &[&THRESHOLD, &PER_THOUSAND_FEET, &COUNTED],
    reads: &["/site", "/equipment", "/gas"],
    ..Rule::new("fuel-match/altitude-rating", "Input set for the altitude", check)
};

const WANTED: &str = "whether its input is right for the altitude";

fn check(inquiry: &Inquiry) -> Vec<Finding> {
    burner::each(inquiry, |appliance, fuel| {
        appliance.sheet(WANTED, |sheet| {
            sheet.want(fuel);
            judge(inquiry, appliance, sheet)
        })
    })
}

/// Fills the sheet; answers what to say when nothing is wrong.
fn judge(inquiry: &Inquiry, appliance: &Place<Equipment>, sheet: &mut Sheet) -> Lookup<Text> {
    let elevation = need!(inquiry.project(), site.elevation)?;
    let (threshold, per_thousand_feet) = (inquiry.value(&THRESHOLD), inquiry.value(&PER_THOUSAND_FEET));
    let adopted = Adopted { threshold, per_thousand_feet, counted: inquiry.value(&COUNTED) };
    let site = Site::new(inquiry, appliance, elevation, adopted);
    if !at_most(site.height(), threshold) {
        readings(&site, sheet);
    }
    let governing = altitude::governing(appliance, site.height(), &adopted)?;
    sheet.line("reduction", governing.words.clone(), governing.source);
    kit(&site, &governing, sheet);
    if site.unchanged(&governing) {
        if !at_most(site.height(), threshold) {
            output(&site, Some(units::fraction(1.0)), sheet);
        }
        return Ok(text!("rated input as it is at {}: {}", site.elevation, governing.words));
    }
    derate::orifice_for(&site, &governing, sheet);
    let set = derate::reduced(&site, &governing, sheet);
    output(&site, set.or_else(|| derate::known_share(&site, &governing)), sheet);
    Ok(text!("set for {}: {}", site.elevation, governing.words))
}

/// What each reading of the model code would leave, for information.
fn readings(site: &Site, sheet: &mut Sheet) {
    let Ok(rated) = &site.rated else { return };
    for counted in altitude::COUNTED.iter().filter(|counted| **counted != "none") {
        let share = site.adopted.share_by(counted, site.height());
        let words = text!("{} of {} leaves {}", share, *rated, *rated * share);
        sheet.line(&format!("counted {}", counted.replace('-', " ")), words, "for information");
    }
}

/// The high-altitude kit, where one is needed.
fn kit(site: &Site, governing: &Governing, sheet: &mut Sheet) {
    let above = |altitude: &Place<quantity::Position>| !at_most(site.height(), altitude.quantity());
    let appliance = site.appliance;
    let kit_above = need!(appliance, fuel_burning.altitude_rule.kit_above).ok().filter(above);
    // Above the altitude it is certified for without change, a lower input is a change; nothing at all is none.
    let unchanged = governing.limit == Limit::BeyondCertified || site.unchanged(governing);
    let certified = need!(appliance, fuel_burning.plate.certified_altitude).ok().filter(above).filter(|_| unchanged);
    let words = match (kit_above, certified) {
        (Some(altitude), _) => {
            text!("its maker asks for the high-altitude kit above {}, the site lies at {}", altitude, site.elevation)
        }
        (None, Some(altitude)) => text!("it is certified without change up to {}, the site lies at {}", altitude, site.elevation),
        (None, None) => return,
    };
    match need!(appliance, fuel_burning.derate.kit_fitted) {
        Ok(fitted) => {
            if !sheet.test("high-altitude kit", words.clone(), "the appliance's instructions", *fitted) {
                sheet.fault(text!("{}, and no kit is fitted", words));
                let cure = text!(
                    "have a qualified agency fit the maker's high-altitude kit, or choose an appliance certified for {}",
                    site.elevation
                );
                sheet.cure_at(cure, &[(fitted.pointer().to_owned(), json!(true))]);
            }
        }
        Err(unresolved) => {
            sheet.line("high-altitude kit", words, "the appliance's instructions");
            sheet.lack(unresolved);
        }
    }
}

/// The heat it must give against the output left.
fn output(site: &Site, share: Option<Ratio>, sheet: &mut Sheet) {
    let appliance = site.appliance;
    let Ok(load) = need!(appliance, fuel_burning.heat_load) else { return };
    let Some(share) = share else { return };
    let Some(rated) = sheet.want(rated_output(site)) else { return };
    let left = rated * share;
    let words = text!("it must give {}, {} of {} is left at {}", load, left, rated, site.elevation);
    if !sheet.require("output", words, "computed: output falls with input", at_least(left, load.quantity())) {
        let needed = load.quantity() / share;
        sheet.cure(text!(
            "choose an appliance with a sea-level output of {} at least, or one its maker rates for {}",
            needed,
            altitude_of(site.height())
        ));
    }
}

fn rated_output(site: &Site) -> Lookup<Power> {
    let appliance = site.appliance;
    if let Ok(output) = need!(appliance, fuel_burning.plate.output) {
        return Ok(output.quantity());
    }
    let by_efficiency = (site.rated.clone(), need!(appliance, fuel_burning.plate.efficiency)).together();
    by_efficiency
        .map(|(rated, efficiency)| rated * efficiency.quantity())
        .map_err(|_| appliance.missing("/fuel_burning/plate/output"))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::trying::{house, missing, only, says};
    use redtag_rule::Value;
    use redtag_rule::testing::{findings, findings_with};

    fn furnace(more: Value) -> Value {
        let mut burning = json!({"plate": {"fuel": "natural-gas", "input": "100,000 Btu/h", "efficiency": "80 %"}});
        for (name, value) in more.as_object().into_iter().flatten() {
            burning[name] = value.clone();
        }
        burning
    }

    fn at(elevation: &str, more: Value) -> Vec<Finding> {
        findings(&RULE, house(furnace(more), json!({"site": {"elevation": elevation}})))
    }

    fn set(input: &str) -> Value {
        json!({"altitude_rule": {"kind": "not-stated"}, "derate": {"method": "model-code", "input": input}})
    }

    // Computed in our notes from NFPA 54 11.1.2 (from memory): 100,000 Btu/h at 5,280 ft is 78,880.
    #[test]
    fn four_percent_from_sea_level() {
        only(&at("5,280 ft", set("78,880 Btu/h")), Outcome::Complies);
        let found = at("5,280 ft", set("78,881 Btu/h"));
        says(only(&found, Outcome::Correction), "set to 78,881 Btu/h, 78,880 Btu/h is the most at 5,280 ft");
        assert_eq!(found[0].remedies[0].patch[1]["value"], "78,880 Btu/h");
        says(&found[0], "counted stepped: 76 % of 100,000 Btu/h leaves 76,000 Btu/h");
        says(&found[0], "counted from threshold: 86.88 % of 100,000 Btu/h leaves 86,880 Btu/h");
    }

    #[test]
    fn the_threshold_itself_is_sea_level() {
        only(&at("2,000 ft", json!({})), Outcome::Complies);
        let found = at("2,001 ft", json!({}));
        let field = |name: &str| format!("/equipment/0/fuel_burning/{name}");
        assert_eq!(missing(only(&found, Outcome::Unresolved)), [field("altitude_rule"), field("derate/method")]);
        only(&at("-200 ft", json!({})), Outcome::Complies);
    }

    #[test]
    fn a_pack_may_count_otherwise() {
        for (counted, input) in [("stepped", "76,000 Btu/h"), ("from-threshold", "86,880 Btu/h")] {
            let house = |input: &str| house(furnace(set(input)), json!({"site": {"elevation": "5,280 ft"}}));
            only(&findings_with(&RULE, house(input), &[("counted", json!(counted))]), Outcome::Complies);
            only(&findings_with(&RULE, house("86,881 Btu/h"), &[("counted", json!(counted))]), Outcome::Correction);
        }
    }

    // A furnace manual: 2 percent for each 1,000 ft above sea level. another: none up to 6,000 ft.
    #[test]
    fn the_makers_rule_goes_first() {
        let two = json!({"kind": "percent-from-sea-level", "percent": "2 %", "starts_at": "2,000 ft"});
        let maker = |input: &str| json!({"altitude_rule": two.clone(), "derate": {"method": "maker", "input": input}});
        only(&at("5,280 ft", maker("89,440 Btu/h")), Outcome::Complies);
        only(&at("5,280 ft", maker("89,441 Btu/h")), Outcome::Correction);
        let mut none = furnace(json!({"altitude_rule": {"kind": "no-reduction"}}));
        none["plate"]["certified_altitude"] = json!("6,000 ft");
        let at_elevation =
            |elevation: &str, burning: &Value| findings(&RULE, house(burning.clone(), json!({"site": {"elevation": elevation}})));
        only(&at_elevation("6,000 ft", &none), Outcome::Complies);
        assert_eq!(
            missing(only(&at_elevation("6,001 ft", &none), Outcome::Unresolved)),
            ["/equipment/0/fuel_burning/derate/kit_fitted"]
        );
        none["derate"] = json!({"kit_fitted": false});
        only(&at_elevation("6,001 ft", &none), Outcome::Correction);
        none["derate"] = json!({"kit_fitted": true});
        only(&at_elevation("6,001 ft", &none), Outcome::Complies);
    }

    #[test]
    fn a_makers_table_and_a_burner_that_adjusts_itself() {
        let table = |input: &str| json!({"altitude_rule": {"kind": "maker-table", "input_here": input}});
        only(&at("5,280 ft", table("100,000 Btu/h")), Outcome::Complies);
        only(&at("5,280 ft", table("84,000 Btu/h")), Outcome::Unresolved);
        only(&at("1,000 ft", json!({"altitude_rule": {"kind": "maker-table"}})), Outcome::Complies);
        only(&at("5,280 ft", json!({"altitude_rule": {"kind": "self-adjusting"}})), Outcome::Complies);
        let missing_percent = at("5,280 ft", json!({"altitude_rule": {"kind": "percent-from-start"}}));
        assert_eq!(missing(only(&missing_percent, Outcome::Unresolved)), ["/equipment/0/fuel_burning/altitude_rule/percent"]);
    }

    // Computed in our notes: 76,000 Btu/h at 80 percent takes 95,000 at sea level and 120,436 at 5,280 ft.
    #[test]
    fn the_heat_it_must_give_is_held_against_what_is_left() {
        let mut loaded = set("78,880 Btu/h");
        loaded["heat_load"] = json!("76,000 Btu/h");
        let found = at("5,280 ft", loaded.clone());
        says(only(&found, Outcome::Correction), "63,104 Btu/h of 80,000 Btu/h is left");
        loaded["heat_load"] = json!("63,104 Btu/h");
        only(&at("5,280 ft", loaded.clone()), Outcome::Complies);
        loaded["plate"] = json!({"fuel": "natural-gas", "input": "100,000 Btu/h"});
        assert_eq!(missing(only(&at("5,280 ft", loaded), Outcome::Unresolved)), ["/equipment/0/fuel_burning/plate/output"]);
    }

    #[test]
    fn a_lean_local_gas_may_be_the_whole_reduction() {
        let with = |elevation: &str, derate: Value, heating_value: &str| {
            let rest = json!({
                "site": {"elevation": elevation},
                "gas": {"supply": {"kind": "meter", "fuel": "natural-gas", "heating_value": heating_value}}
            });
            findings(&RULE, house(furnace(json!({"altitude_rule": {"kind": "not-stated"}, "derate": derate})), rest))
        };
        let lean = || json!({"method": "lower-heating-value"});
        only(&with("4,500 ft", lean(), "820 Btu/ft3"), Outcome::Complies);
        let found = with("4,500 ft", lean(), "850 Btu/ft3");
        says(only(&found, Outcome::Correction), "the local gas gives 85 % of the rated input, 82 % is the most");
        says(&found[0], "orifice area still wanted: 96.5 % of that at sea level");
        let twice = with("4,500 ft", json!({"method": "model-code", "input": "67,240 Btu/h"}), "820 Btu/ft3");
        says(only(&twice, Outcome::Advice), "reduced twice");
    }

    #[test]
    fn a_makers_rule_that_is_claimed_must_be_stated() {
        let claimed = at("5,280 ft", json!({"derate": {"method": "maker", "input": "89,440 Btu/h"}}));
        assert_eq!(missing(only(&claimed, Outcome::Unresolved)), ["/equipment/0/fuel_burning/altitude_rule"]);
    }

    #[test]
    fn a_permission_must_be_accepted() {
        let by = |accepted: Value| at("5,280 ft", json!({"derate": {"method": "authority", "evidence": {"accepted": accepted}}}));
        only(&by(json!(true)), Outcome::Complies);
        only(&by(json!(false)), Outcome::Correction);
        let untold = at("5,280 ft", json!({"derate": {"method": "authority"}}));
        assert_eq!(missing(only(&untold, Outcome::Unresolved)), ["/equipment/0/fuel_burning/derate/evidence/accepted"]);
        only(&at("5,280 ft", json!({"derate": {"method": "none"}})), Outcome::Correction);
    }
}
