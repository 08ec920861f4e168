//! A gas appliance must be made for the gas it is supplied with: the fuel on its rating plate, or the fuel it was converted
//! to, is the fuel in the pipe.
//!
//! Propane carries two and a half times the heat of natural gas in the same volume and stands at a higher pressure. Through
//! an orifice drilled for natural gas it over-fires the burner half as much again or worse: soot, carbon monoxide, an
//! overheated vent, fire. Natural gas through an orifice drilled for propane gives a lazy flame or none.
//!
//! **How it is measured.** The fuel on the plate, or that of a recorded conversion, is held against the gas of the supply.
//! Where they differ, the finding works out what the wrong gas would do: heat goes with the Wobbe index (heating value over
//! the root of specific gravity) and with the root of the pressure at the orifice, for the manifold as it is set, for the
//! manifold pressure usual for the gas supplied, and for the pressure of the supply with no regulator in the appliance.
//! Where the orifice is stated, the area that would give the rated input on the gas supplied is shown beside the number
//! drills around it; that is for judging a kit, not for drilling.
//!
//! **How it is fixed.** An appliance made for the gas, or a conversion with the kit of the appliance's maker, by a qualified
//! agency, following the kit's instructions. Until then it stays shut off. Nobody drills orifices by hand; orifices,
//! regulator spring, sometimes burner and pressure switch change together.

use crate::{burner, reach, supply};
use redtag_handbook::fuel::{Firing, conversion_area, firing_ratio, sources};
use redtag_handbook::units;
use redtag_rule::prelude::*;
use std::f64::consts::PI;
use uom::si::f64::{Area, Length, Power, Pressure, Ratio};

/// The rule.
pub const RULE: Rule = Rule {
    citations: &[remembered("IFGC", "2021", "301.7"), remembered("NFPA 54", "2021", "9.1.3")],
    reads: &["/equipment", "/gas"],
    ..Rule::new("fuel-match/plate-matches-supply", "Appliance and gas supply match", check)
};

const WANTED: &str = "whether the appliance is made for the gas it is supplied with";

fn check(inquiry: &Inquiry) -> Vec<Finding> {
    burner::each(inquiry, |appliance, fuel| judge(inquiry, appliance, fuel))
}

fn judge(inquiry: &Inquiry, appliance: &Place<Equipment>, fuel: Lookup<Fuel>) -> Finding {
    appliance.sheet(WANTED, |sheet| {
        let both = (fuel, supply::fuel(inquiry)).together()?;
        Ok(held(inquiry, appliance, both, sheet))
    })
}

/// The fuel it is made for against that supplied; answers what to say where they are the same.
fn held(inquiry: &Inquiry, appliance: &Place<Equipment>, (made_for, supplied): (Fuel, Fuel), sheet: &mut Sheet) -> Text {
    let how = if burner::conversion(appliance).is_some() { "converted to" } else { "made for" };
    let holds = made_for == supplied;
    sheet.test("fuel", text!("{} {}, supplied with {}", how, made_for, supplied), "", holds);
    if !holds {
        let effect = wrong_gas(inquiry, appliance, (made_for, supplied), sheet);
        sheet.fault(text!("{} {}, supplied with {}: {}", how, made_for, supplied, effect));
        cures(appliance, supplied, sheet);
    }
    text!("{} {}, as supplied", how, made_for)
}

/// Works out what the wrong gas does; answers it in words.
fn wrong_gas(inquiry: &Inquiry, appliance: &Place<Equipment>, (made_for, supplied): (Fuel, Fuel), sheet: &mut Sheet) -> Text {
    let unknown = text!("it must not be fired; how it would fire cannot be worked out from what is stated");
    let manifold = burner::manifold_now(appliance, made_for).filter(|pressure| pressure.value > 0.0);
    let (Some(plate_gas), Ok(Some(gas)), Some(manifold)) =
        (burner::design(made_for), supply::delivers(inquiry, supplied), manifold)
    else {
        return unknown;
    };
    let plate = Firing { gas: plate_gas, pressure: manifold };
    let ways = ways(inquiry, appliance, supplied, manifold);
    let rating = need!(appliance, fuel_burning.plate.input).ok().map(|input| input.quantity());
    let mut ratios = Vec::new();
    for (label, pressure) in ways {
        let ratio = firing_ratio(&plate, &Firing { gas, pressure });
        let heat = rating.map_or_else(Text::default, |rating| text!(", {} in place of {}", rounded(rating * ratio), rating));
        let words = text!("{} behind the orifice: {} of the rating{}", pressure, percent(ratio), heat);
        sheet.line(label, words, sources::WOBBE.text());
        ratios.push(ratio);
    }
    wanted_orifice(appliance, &plate, supplied, gas, sheet);
    effect(&ratios, rating).unwrap_or(unknown)
}

/// The pressures that may stand behind the orifice. A regulator lowers pressure and never raises it.
fn ways(inquiry: &Inquiry, appliance: &Place<Equipment>, supplied: Fuel, manifold: Pressure) -> Vec<(&'static str, Pressure)> {
    let usual = burner::typical(supplied);
    let reaching =
        reach::at_rest(inquiry, appliance).ok().map(|reach| reach.pressure.quantity()).or(usual.map(|usual| usual.supply));
    let held = |pressure: Pressure| reaching.map_or(pressure, |reaching| pressure.min(reaching));
    let mut ways = vec![("manifold as it is set", held(manifold))];
    ways.extend(usual.map(|usual| ("manifold set for the gas supplied", held(usual.manifold))));
    ways.extend(reaching.map(|reaching| ("no regulator in the appliance", reaching)));
    ways.retain(|(_, pressure)| pressure.value > 0.0);
    ways
}

/// The worst and the mildest in one sentence.
fn effect(ratios: &[Ratio], rating: Option<Power>) -> Option<Text> {
    let least = ratios.iter().copied().reduce(Ratio::min)?;
    let most = ratios.iter().copied().reduce(Ratio::max)?;
    let heat = rating.map_or_else(Text::default, |rating| {
        text!(" ({} to {} in place of {})", rounded(rating * least), rounded(rating * most), rating)
    });
    let harm =
        if units::in_fraction(most) > 1.0 { "carbon monoxide, soot and fire" } else { "it will not light or burn properly" };
    let (least, most) = (percent(least), percent(most));
    Some(text!("it would fire at {} to {} of its rating{}: {}; keep it shut off", least, most, heat, harm))
}

/// The orifice that would give the rated input on the gas supplied, where the one in the burner is known.
fn wanted_orifice(
    appliance: &Place<Equipment>,
    plate: &Firing,
    supplied: Fuel,
    gas: redtag_handbook::fuel::GasProperties,
    sheet: &mut Sheet,
) {
    let (Some(now), Some(usual)) = (burner::orifice_now(appliance), burner::typical(supplied)) else { return };
    let area = conversion_area(now.area, plate, &Firing { gas, pressure: usual.manifold });
    sheet.line("orifice in the burner", text!("{}, {}", in_unit(now.area, "in²"), now.words), "");
    let words = text!(
        "{} on {} at {}, a diameter of {}: {}; the kit of the appliance's maker decides, by a qualified agency",
        in_unit(area, "in²"),
        supplied,
        usual.manifold,
        diameter(area),
        burner::drills_around(area)
    );
    sheet.line("orifice the rated input would take", words, sources::WOBBE.text());
}

fn cures(appliance: &Place<Equipment>, supplied: Fuel, sheet: &mut Sheet) {
    let burning = format!("{}/fuel_burning", appliance.pointer());
    let words = text!(
        "keep it shut off until a qualified agency has converted it to {} with the kit of its maker, followed the instructions and labelled it",
        supplied
    );
    let converted = need!(appliance, fuel_burning.conversion).is_ok();
    let fuel = json!(supplied.word());
    match converted {
        true => {
            let at = |field: &str| format!("{burning}/conversion/{field}");
            sheet.cure_at(words, &[(at("performed"), json!(true)), (at("fuel"), fuel.clone())]);
        }
        false => sheet.cure_at(words, &[(format!("{burning}/conversion"), json!({"performed": true, "fuel": fuel.clone()}))]),
    }
    if burner::conversion(appliance).is_none() {
        let words = text!("fit an appliance made for {}", supplied);
        sheet.cure_at(words, &[(format!("{burning}/plate/fuel"), fuel)]);
    }
}

/// Whole percent: the figures behind it are no better.
fn percent(ratio: Ratio) -> Ratio {
    units::fraction((units::in_fraction(ratio) * 100.0).round() / 100.0)
}

/// Hundreds of Btu/h.
fn rounded(input: Power) -> Power {
    units::btu_per_hour((units::in_btu_per_hour(input) / 100.0).round() * 100.0)
}

/// The diameter of a round hole.
fn diameter(area: Area) -> Length {
    (area * (4.0 / PI)).sqrt()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::trying::{house, missing, only, says};
    use redtag_rule::Value;
    use redtag_rule::testing::findings;

    fn natural() -> Value {
        json!({"fuel": "natural-gas", "input": "80,000 Btu/h", "manifold_pressure": "3.5 in wc", "orifice_drill": 42})
    }

    fn propane() -> Value {
        json!({"gas": {"supply": {"kind": "second-stage-regulator", "fuel": "propane", "pressure": "11 in wc"}}})
    }

    // Computed in our notes from design gases (natural 1000 Btu/ft3 at 0.60, propane 2516 at 1.52): 158, 267 and 280 percent.
    #[test]
    fn propane_through_a_natural_gas_orifice_over_fires() {
        let found = findings(&RULE, house(json!({"plate": natural()}), propane()));
        let finding = only(&found, Outcome::Correction);
        says(finding, "158 % to 280 % of its rating (126,500 Btu/h to 224,200 Btu/h in place of 80,000 Btu/h)");
        says(finding, "carbon monoxide, soot and fire");
        says(finding, "10 in wc behind the orifice: 267 % of the rating, 213,800 Btu/h");
        // A furnace manual pairs No. 42 on natural gas with No. 54 on propane.
        says(finding, "No. 54 (0.055 in) below, No. 53 (0.0595 in) above");
        assert_eq!(finding.remedies.len(), 2);
    }

    // Computed in our notes: 37 percent at 3.5 in wc.
    #[test]
    fn natural_gas_through_a_propane_orifice_starves() {
        let plate = json!({"fuel": "propane", "input": "80,000 Btu/h", "manifold_pressure": "10 in wc"});
        let meter = json!({"gas": {"supply": {"kind": "meter", "fuel": "natural-gas", "pressure": "7 in wc"}}});
        let found = findings(&RULE, house(json!({"plate": plate}), meter));
        let finding = only(&found, Outcome::Correction);
        says(finding, "37 % to 53 %");
        says(finding, "3.5 in wc behind the orifice: 37 % of the rating, 29,900 Btu/h");
        says(finding, "will not light or burn properly");
    }

    #[test]
    fn a_recorded_conversion_counts_and_one_said_undone_does_not() {
        let converted = |performed| json!({"plate": natural(), "conversion": {"performed": performed, "fuel": "propane"}});
        only(&findings(&RULE, house(converted(true), propane())), Outcome::Complies);
        only(&findings(&RULE, house(converted(false), propane())), Outcome::Correction);
    }

    #[test]
    fn everything_missing_is_named_at_once() {
        let found = findings(&RULE, house(json!({"plate": {}}), json!({"gas": {"supply": {"kind": "meter"}}})));
        let finding = only(&found, Outcome::Unresolved);
        assert_eq!(missing(finding), ["/equipment/0/fuel_burning/plate/fuel", "/gas/supply/fuel"]);
    }

    #[test]
    fn a_gas_without_figures_and_a_burner_without_pressure_are_still_wrong() {
        let butane = json!({"gas": {"supply": {"kind": "meter", "fuel": "butane"}}});
        says(only(&findings(&RULE, house(json!({"plate": natural()}), butane)), Outcome::Correction), "must not be fired");
        let premixed = json!({"fuel": "natural-gas", "manifold_pressure": "0 in wc"});
        says(only(&findings(&RULE, house(json!({"plate": premixed}), propane())), Outcome::Correction), "must not be fired");
    }

    #[test]
    fn oil_is_not_concerned() {
        only(&findings(&RULE, house(json!({"plate": {"fuel": "fuel-oil"}}), propane())), Outcome::NotApplicable);
    }
}
