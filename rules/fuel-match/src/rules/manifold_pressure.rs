//! The manifold pressure of a burner should be the one its gas asks for; after a conversion it must be the one on the label
//! the kit left.
//!
//! The manifold is the last pressure before the orifice: heat goes with its square root. A burner converted to propane whose
//! regulator still holds the pressure of natural gas has not been converted to the end.
//!
//! **How it is measured.** With a manometer at the outlet port of the gas valve while the burner fires at its full rate.
//! Conventional gas valves hold about 3.5 inches of water on natural gas and 10 on propane; a plate outside the window is
//! only pointed out, because premix, modulating and staged burners have pressures of their own. A converted burner is held
//! against the pressure on its conversion label, and against the window where the label names none.
//!
//! **How it is fixed.** A qualified agency sets the regulator of the gas valve by the kit's instructions and checks the
//! firing rate at the meter. Nobody sets it by the look of the flame.

use crate::burner;
use redtag_handbook::fuel::sources;
use redtag_rule::prelude::*;
use uom::si::f64::Pressure;

type PressureOf = Quantity<dimensions::Pressure>;

const SOURCE: &str = "a course on heating, gas manifold pressures; a boiler manual";

/// Least on natural gas.
const NATURAL_LEAST: PressureOf =
    Quantity::new("natural_gas_least", "3.2 in wc", "Least manifold pressure usual on natural gas.", SOURCE)
        .within("0 in wc", "14 in wc");
/// Most on natural gas.
const NATURAL_MOST: PressureOf =
    Quantity::new("natural_gas_greatest", "3.8 in wc", "Greatest manifold pressure usual on natural gas.", SOURCE)
        .within("0 in wc", "14 in wc");
/// Least on propane.
const PROPANE_LEAST: PressureOf =
    Quantity::new("propane_least", "9.7 in wc", "Least manifold pressure usual on propane.", SOURCE)
        .within("0 in wc", "14 in wc");
/// Most on propane.
const PROPANE_MOST: PressureOf =
    Quantity::new("propane_greatest", "10.3 in wc", "Greatest manifold pressure usual on propane.", SOURCE)
        .within("0 in wc", "14 in wc");
/// How far a setting may lie from its label.
const TOLERANCE: PressureOf = Quantity::new(
    "label_tolerance",
    "0.3 in wc",
    "How far the manifold pressure of a converted burner may lie from the one on its label.",
    "computed: half of the windows in use, 3.2 to 3.8 and 9.7 to 10.3",
)
.within("0 in wc", "2 in wc");

/// The rule.
pub const RULE: Rule = Rule {
    citations: &[remembered("NFPA 54", "2021", "11.1.1"), remembered("NFPA 54", "2021", "9.1.3")],
    parameters: &[&NATURAL_LEAST, &NATURAL_MOST, &PROPANE_LEAST, &PROPANE_MOST, &TOLERANCE],
    reads: &["/equipment"],
    ..Rule::new("fuel-match/manifold-pressure", "Manifold pressure for the gas", check)
};

const WANTED: &str = "whether the manifold pressure is that of the gas";

fn check(inquiry: &Inquiry) -> Vec<Finding> {
    burner::each(inquiry, |appliance, fuel| judge(inquiry, appliance, fuel))
}

fn judge(inquiry: &Inquiry, appliance: &Place<Equipment>, fuel: Lookup<Fuel>) -> Finding {
    let mut sheet = Sheet::default();
    let Some(fuel) = sheet.want(fuel) else { return sheet.finding(appliance, WANTED, Text::default()) };
    let Some(window) = window(inquiry, fuel) else {
        return appliance.not_applicable(text!("no manifold pressure is usual for {}", fuel)).done();
    };
    match burner::conversion(appliance) {
        Some(conversion) => converted(inquiry, appliance, &conversion, (fuel, window), sheet),
        None => as_built(appliance, (fuel, window), sheet),
    }
}

/// Least and greatest usual for a gas.
type Window = (Pressure, Pressure);

fn window(inquiry: &Inquiry, fuel: Fuel) -> Option<Window> {
    match fuel {
        Fuel::NaturalGas => Some((inquiry.value(&NATURAL_LEAST), inquiry.value(&NATURAL_MOST))),
        Fuel::Propane => Some((inquiry.value(&PROPANE_LEAST), inquiry.value(&PROPANE_MOST))),
        _ => None,
    }
}

fn as_built(appliance: &Place<Equipment>, (fuel, window): (Fuel, Window), mut sheet: Sheet) -> Finding {
    let Some(stated) = sheet.want(need!(appliance, fuel_burning.plate.manifold_pressure)) else {
        return sheet.finding(appliance, WANTED, Text::default());
    };
    if !in_window(&stated, (fuel, window), &mut sheet) {
        sheet.advise(text!(
            "{} on its plate, {} to {} is usual on {}: right for some burners, a misread plate or the wrong gas for others",
            stated,
            window.0,
            window.1,
            fuel
        ));
    }
    sheet.finding(appliance, WANTED, text!("{} on its plate, usual on {}", stated, fuel))
}

fn in_window(pressure: &Place<quantity::Pressure>, (fuel, (least, greatest)): (Fuel, Window), sheet: &mut Sheet) -> bool {
    let holds = at_least(pressure.quantity(), least) && at_most(pressure.quantity(), greatest);
    let words = text!("{}; {} to {} is usual on {}", pressure, least, greatest, fuel);
    sheet.test("manifold", words, sources::PRESSURES.text(), holds)
}

fn converted(
    inquiry: &Inquiry,
    appliance: &Place<Equipment>,
    conversion: &Place<Conversion>,
    usual: (Fuel, Window),
    mut sheet: Sheet,
) -> Finding {
    if let Some(set) = sheet.want(need!(conversion, manifold_pressure)) {
        let in_window = in_window(&set, usual, &mut sheet);
        match need!(conversion, label.manifold_pressure) {
            Ok(label) => labelled(inquiry, &set, &label, (in_window, usual), &mut sheet),
            Err(_) if in_window => {}
            Err(_) => unlabelled(&set, usual, &mut sheet),
        }
        let words = text!("converted to {}, set to {}", usual.0, set);
        return sheet.finding(appliance, WANTED, words);
    }
    sheet.finding(appliance, WANTED, Text::default())
}

fn labelled(
    inquiry: &Inquiry,
    set: &Place<quantity::Pressure>,
    label: &Place<quantity::Pressure>,
    (in_window, (fuel, (least, greatest))): (bool, (Fuel, Window)),
    sheet: &mut Sheet,
) {
    let (holds, words) = against_label(inquiry, set, label);
    if !sheet.require("label", words, "the kit's instructions", holds) {
        cure(set, label.quantity(), sheet);
    } else if !in_window {
        sheet.advise(text!("set to {} as its label has it, though {} to {} is usual on {}", set, least, greatest, fuel));
    }
}

fn unlabelled(set: &Place<quantity::Pressure>, (fuel, (least, greatest)): (Fuel, Window), sheet: &mut Sheet) {
    sheet.fault(text!(
        "converted to {} and set to {}, {} to {} is usual: the regulator is not converted, or the label must name its pressure",
        fuel,
        set,
        least,
        greatest
    ));
    if let Some(typical) = burner::typical(fuel) {
        cure(set, typical.manifold, sheet);
    }
}

/// Whether a setting is the label's, give or take.
fn against_label(inquiry: &Inquiry, set: &Place<quantity::Pressure>, label: &Place<quantity::Pressure>) -> (bool, Text) {
    let (set_to, named) = (set.quantity(), label.quantity());
    let apart = (set_to - named).abs();
    let holds = at_most(apart, inquiry.value(&TOLERANCE));
    (holds, text!("set to {}, its conversion label says {}, {} apart", set, label, apart))
}

fn cure(set: &Place<quantity::Pressure>, target: Pressure, sheet: &mut Sheet) {
    let written = quantity::Pressure::from_quantity(&target).print_in("in wc");
    let words =
        text!("have a qualified agency set the manifold to {} by the kit's instructions and check the firing rate", target);
    sheet.cure_at(words, &[(set.pointer().to_owned(), json!(written))]);
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::trying::{house, missing, only, says};
    use redtag_rule::Value;
    use redtag_rule::testing::findings;

    fn plate(fuel: &str, pressure: &str) -> Vec<Finding> {
        findings(&RULE, house(json!({"plate": {"fuel": fuel, "manifold_pressure": pressure}}), json!({})))
    }

    fn converted(conversion: Value) -> Vec<Finding> {
        let natural = json!({"fuel": "natural-gas", "manifold_pressure": "3.5 in wc"});
        findings(&RULE, house(json!({"plate": natural, "conversion": conversion}), json!({})))
    }

    #[test]
    fn the_windows_include_their_ends() {
        for (fuel, inside, outside) in
            [("natural-gas", ["3.2 in wc", "3.8 in wc"], "3.9 in wc"), ("propane", ["9.7 in wc", "10.3 in wc"], "9.6 in wc")]
        {
            for pressure in inside {
                only(&plate(fuel, pressure), Outcome::Complies);
            }
            only(&plate(fuel, outside), Outcome::Advice);
        }
        only(&plate("butane", "10 in wc"), Outcome::NotApplicable);
    }

    #[test]
    fn a_converted_burner_is_held_against_its_label() {
        let set = |pressure: &str| {
            converted(json!({"fuel": "propane", "manifold_pressure": pressure, "label": {"manifold_pressure": "10 in wc"}}))
        };
        only(&set("9.7 in wc"), Outcome::Complies);
        let found = set("9.6 in wc");
        says(only(&found, Outcome::Correction), "set to 9.6 in wc, its conversion label says 10 in wc");
        assert_eq!(found[0].remedies[0].patch[0]["path"], "/equipment/0/fuel_burning/conversion/manifold_pressure");
    }

    #[test]
    fn without_a_label_the_window_decides() {
        let found = converted(json!({"fuel": "propane", "manifold_pressure": "3.5 in wc"}));
        says(only(&found, Outcome::Correction), "the regulator is not converted");
        only(&converted(json!({"fuel": "propane", "manifold_pressure": "10 in wc"})), Outcome::Complies);
        let found = converted(json!({"fuel": "propane"}));
        assert_eq!(missing(only(&found, Outcome::Unresolved)), ["/equipment/0/fuel_burning/conversion/manifold_pressure"]);
    }

    #[test]
    fn a_label_may_name_an_unusual_pressure() {
        let found =
            converted(json!({"fuel": "propane", "manifold_pressure": "8 in wc", "label": {"manifold_pressure": "8 in wc"}}));
        only(&found, Outcome::Advice);
    }
}
