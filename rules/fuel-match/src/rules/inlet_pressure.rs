//! The gas must reach every appliance at a pressure within the window on its rating plate: not above the greatest while
//! nothing burns, not below the least while everything burns.
//!
//! Too much pressure can hold the gas valve open and over-fires the burner; a house line of 2 psi straight into an appliance
//! made for inches of water is the classic. Too little starves it: flames lift, heat is short, igniters fail.
//!
//! **How it is measured.** With a manometer at the inlet port of the gas valve: at rest with everything off, running with
//! everything on. Where nothing was measured, the pressure at rest is taken from the piping: back from the appliance's
//! outlet to the first regulator, the first pipe whose pressure is stated, or the supply. While everything burns, what is
//! left is estimated from the drop the piping behind that regulator or supply was designed for; whether the pipes are large enough is another family of
//! rules.
//! After a conversion the pressures of the kit's instructions hold, not those of the plate; where the project does not state
//! them, the finding can only warn.
//!
//! **How it is fixed.** Above the window: a listed line regulator ahead of the appliance, or the one there set lower. Below:
//! a higher setting of the regulator before it, larger pipe, or the supplier. For a licensed fitter, with a manometer.

use crate::burner;
use crate::reach::{self, Origin, Reach};
use redtag_handbook::fuel::pressure_at_inlet;
use redtag_rule::prelude::*;
use uom::si::f64::Pressure;

const CEILING_SOURCE: &str = "a boiler installation manual: take the appliance off above 1/2 psi";
/// What no inlet takes.
const CEILING: Quantity<dimensions::Pressure> = Quantity::new(
    "greatest_without_plate",
    "14 in wc",
    "At rest, more than this is too much for any appliance whose plate does not state a greatest inlet pressure or no longer \
     holds after a conversion.",
    CEILING_SOURCE,
)
.within("7 in wc", "5 psi");

/// The rule.
pub const RULE: Rule = Rule {
    citations: &[
        cited("IRC", "2018", "G2413.1"),
        cited("IRC", "2018", "G2413.5"),
        remembered("IRC", "2021", "G2421"),
        remembered("IFGC", "2021", "402.1"),
        remembered("IFGC", "2021", "402.5"),
        remembered("IFGC", "2021", "410"),
    ],
    parameters: &[&CEILING],
    reads: &["/equipment", "/gas"],
    ..Rule::new("fuel-match/inlet-pressure", "Gas pressure within the appliance's window", check)
};

const WANTED: &str = "whether the gas reaches the appliance at a pressure it can take";

fn check(inquiry: &Inquiry) -> Vec<Finding> {
    burner::each(inquiry, |appliance, fuel| appliance.sheet(WANTED, |sheet| judge(inquiry, appliance, fuel, sheet)))
}

fn judge(inquiry: &Inquiry, appliance: &Place<Equipment>, fuel: Lookup<Fuel>, sheet: &mut Sheet) -> Lookup<Text> {
    let fuel = sheet.want(fuel);
    let reach = reach::at_rest(inquiry, appliance)?;
    sheet.line("at rest", text!("{} {}", reach.pressure, reach.origin_words()), "");
    let window = Window::of(appliance);
    at_rest(inquiry, (&reach, fuel), &window, sheet);
    if window.stated() {
        running(appliance, (&reach, fuel), &window, sheet);
        supply_range(inquiry, &reach, &window, sheet);
    }
    Ok(text!("{} at the inlet at rest, within the window {}", reach.pressure, window.whose))
}

/// The pressures an appliance takes at its inlet.
struct Window<'a> {
    least: Lookup<Place<'a, quantity::Pressure>>,
    greatest: Lookup<Place<'a, quantity::Pressure>>,
    /// Where it is stated, in words.
    whose: &'static str,
    converted: bool,
}

impl<'a> Window<'a> {
    /// That of the plate; after a conversion that of the kit.
    fn of(appliance: &Place<'a, Equipment>) -> Self {
        match burner::conversion(appliance) {
            Some(kit) => Self {
                least: need!(kit, inlet_pressure_minimum),
                greatest: need!(kit, inlet_pressure_maximum),
                whose: "of its conversion kit",
                converted: true,
            },
            None => Self {
                least: need!(appliance, fuel_burning.plate.inlet_pressure_minimum),
                greatest: need!(appliance, fuel_burning.plate.inlet_pressure_maximum),
                whose: "on its plate",
                converted: false,
            },
        }
    }

    /// Whether anything can be held against it: a converted appliance's kit may state none of it, a plate must.
    fn stated(&self) -> bool {
        !self.converted || self.least.is_ok() || self.greatest.is_ok()
    }
}

/// The greatest pressure, while nothing burns.
fn at_rest(inquiry: &Inquiry, (reach, fuel): (&Reach, Option<Fuel>), window: &Window, sheet: &mut Sheet) {
    let actual = reach.pressure.quantity();
    let (limit, says, source) = match &window.greatest {
        Ok(greatest) => (greatest.quantity(), "it takes at most", "IRC G2413.5"),
        Err(_) => (inquiry.value(&CEILING), "no appliance of a house takes more than", CEILING_SOURCE),
    };
    let holds = at_most(actual, limit);
    if holds && !window.stated() {
        return sheet.advise(text!(
            "converted: the inlet pressures on its plate are those of the former gas; hold {} at rest against the kit's instructions",
            reach.pressure
        ));
    }
    let words = text!("{} reaches it at rest, {} {}", reach.pressure, says, limit);
    if sheet.test("greatest inlet pressure", words.clone(), source, holds) {
        // What holds only against the ceiling still wants the window.
        sheet.want(window.greatest.clone());
        return;
    }
    // A regulator nobody mentioned may stand between: then the pressure is not known.
    if reach.origin == (Origin::Supply { regulators_said: false }) {
        let what = "the regulator between supply and appliance; an empty list where there is none";
        return sheet.lack(Unresolved::because("/gas/regulators", what));
    }
    sheet.fault(words);
    if !reset(reach, fuel, window, sheet) {
        sheet.cure(text!(
            "fit a listed line regulator ahead of it, set within the window it can take and not above {} at rest, with a shutoff valve \
             before it; by a licensed fitter",
            limit
        ));
    }
}

/// The least pressure, while everything burns.
fn running(appliance: &Place<Equipment>, (reach, fuel): (&Reach, Option<Fuel>), window: &Window, sheet: &mut Sheet) {
    let Some(least) = sheet.want(window.least.clone()) else { return };
    let measured = need!(appliance, fuel_burning.running_inlet_pressure);
    if let Ok(measured) = &measured {
        let words = text!("{} at the inlet with everything on, it needs {}", measured, least);
        let holds = at_least(measured.quantity(), least.quantity());
        if !sheet.require("least inlet pressure", words, "IRC G2413.1", holds) {
            raise(sheet);
        }
        return;
    }
    let rest = reach.pressure.quantity();
    if !at_least(rest, least.quantity()) {
        let words = text!("only {} at rest, it needs {} with everything on", reach.pressure, least);
        sheet.require("least inlet pressure", words, "IRC G2413.1", false);
        if !reset(reach, fuel, window, sheet) {
            raise(sheet);
        }
        return;
    }
    let left = reach.drop.as_ref().map(|drop| pressure_at_inlet(rest, drop.quantity()));
    match left {
        Ok(left) if at_least(left, least.quantity()) => {
            let words = text!("{} left by the drop the piping is designed for, it needs {}; to be measured", left, least);
            sheet.test("least inlet pressure", words, "IRC G2413.1", true);
        }
        _ => sheet.lack(appliance.missing("/fuel_burning/running_inlet_pressure")),
    }
}

/// What the supplier may deliver at other times.
fn supply_range(inquiry: &Inquiry, reach: &Reach, window: &Window, sheet: &mut Sheet) {
    if !matches!(reach.origin, Origin::Supply { .. }) || !sheet.sound() {
        return;
    }
    let project = inquiry.project();
    if let (Ok(highest), Ok(greatest)) = (need!(project, gas.supply.pressure_maximum), &window.greatest)
        && !at_most(highest.quantity(), greatest.quantity())
    {
        sheet.advise(text!(
            "the supplier may deliver up to {}, it takes at most {}: ask for a regulator or a lower delivery",
            highest,
            greatest
        ));
    }
    if let (Ok(lowest), Ok(least)) = (need!(project, gas.supply.pressure_minimum), &window.least)
        && !at_least(lowest.quantity(), least.quantity())
    {
        sheet.advise(text!("the supplier only promises {}, it needs {} with everything on", lowest, least));
    }
}

/// The regulator before it set otherwise, where one is known to be there.
fn reset(reach: &Reach, fuel: Option<Fuel>, window: &Window, sheet: &mut Sheet) -> bool {
    let (Origin::Regulator(id), Some(target)) = (&reach.origin, target(fuel, window)) else { return false };
    let written = quantity::Pressure::from_quantity(&target).print_in("in wc");
    let value = [(reach.pressure.pointer().to_owned(), json!(written))];
    sheet.cure_at(text!("have a licensed fitter set regulator {} to {} and measure again", id, target), &value);
    true
}

fn raise(sheet: &mut Sheet) {
    sheet.cure(text!("have the regulator before it set higher, or its pipe enlarged, by the supplier or a licensed fitter"));
}

/// A setting it can take: what is usual for the gas, within the window.
fn target(fuel: Option<Fuel>, window: &Window) -> Option<Pressure> {
    let usual = burner::typical(fuel?)?.supply;
    let or_usual = |end: &Lookup<Place<quantity::Pressure>>| end.as_ref().map_or(usual, |pressure| pressure.quantity());
    let (least, greatest) = (or_usual(&window.least), or_usual(&window.greatest));
    (least <= greatest).then(|| usual.max(least).min(greatest))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::trying::{house, missing, only, says};
    use redtag_rule::Value;
    use redtag_rule::testing::findings;

    fn plate() -> Value {
        json!({"fuel": "natural-gas", "inlet_pressure_minimum": "5 in wc", "inlet_pressure_maximum": "10.5 in wc"})
    }

    fn supply(pressure: &str) -> Value {
        json!({"kind": "meter", "fuel": "natural-gas", "pressure": pressure, "allowable_drop": "0.5 in wc"})
    }

    fn from_supply(pressure: &str) -> Vec<Finding> {
        findings(&RULE, house(json!({"plate": plate()}), json!({"gas": {"supply": supply(pressure), "regulators": []}})))
    }

    #[test]
    fn both_ends_of_the_window_are_included() {
        only(&from_supply("10.5 in wc"), Outcome::Complies);
        only(&from_supply("10.51 in wc"), Outcome::Correction);
        only(&from_supply("5.5 in wc"), Outcome::Complies);
        only(&from_supply("4.9 in wc"), Outcome::Correction);
        let close = from_supply("5.4 in wc");
        assert_eq!(missing(only(&close, Outcome::Unresolved)), ["/equipment/0/fuel_burning/running_inlet_pressure"]);
    }

    #[test]
    fn two_pounds_need_a_regulator() {
        let found = from_supply("2 psi");
        says(only(&found, Outcome::Correction), "it takes at most 10.5 in wc");
        assert_eq!(found[0].remedies.len(), 1);
        let untold = findings(&RULE, house(json!({"plate": plate()}), json!({"gas": {"supply": supply("2 psi")}})));
        assert_eq!(missing(only(&untold, Outcome::Unresolved)), ["/gas/regulators"]);
    }

    fn piping(outlet_pressure: &str) -> Value {
        json!({"gas": {
            "supply": supply("2 psi"),
            "regulators": [{"id": "lr", "kind": "line", "outlet_pressure": outlet_pressure, "allowable_drop": "0.5 in wc"}],
            "nodes": [
                {"id": "m", "kind": "point-of-delivery"},
                {"id": "r", "kind": "regulator", "regulator": "lr"},
                {"id": "t", "kind": "tee"},
                {"id": "o", "kind": "outlet", "equipment": "f"}
            ],
            "segments": [
                {"id": "s1", "from": "m", "to": "r"},
                {"id": "s2", "from": "r", "to": "t"},
                {"id": "s3", "from": "t", "to": "o"}
            ]
        }})
    }

    #[test]
    fn the_regulator_before_an_outlet_tells_its_pressure() {
        let found = findings(&RULE, house(json!({"plate": plate()}), piping("8 in wc")));
        says(only(&found, Outcome::Complies), "8 in wc behind regulator lr");
        let found = findings(&RULE, house(json!({"plate": plate()}), piping("14 in wc")));
        let finding = only(&found, Outcome::Correction);
        assert_eq!(finding.remedies[0].patch[0]["path"], "/gas/regulators/0/outlet_pressure");
        assert_eq!(finding.remedies[0].patch[0]["value"], "7 in wc");
    }

    #[test]
    fn piping_that_leads_nowhere_is_said_where_it_breaks() {
        let mut broken = piping("8 in wc");
        broken["gas"]["segments"][2]["from"] = json!("o");
        let found = findings(&RULE, house(json!({"plate": plate()}), broken));
        assert_eq!(missing(only(&found, Outcome::Unresolved)), ["/gas/segments"]);
        let mut untold = piping("8 in wc");
        untold["gas"]["regulators"][0] = json!({"id": "lr", "kind": "line"});
        let found = findings(&RULE, house(json!({"plate": plate()}), untold));
        assert_eq!(missing(only(&found, Outcome::Unresolved)), ["/gas/regulators/0/outlet_pressure"]);
        let mut unconnected = piping("8 in wc");
        unconnected["gas"]["nodes"][3] = json!({"id": "o", "kind": "outlet"});
        let found = findings(&RULE, house(json!({"plate": plate()}), unconnected));
        assert_eq!(missing(only(&found, Outcome::Unresolved)), ["/equipment/0/fuel_burning/gas_outlet"]);
    }

    #[test]
    fn what_was_measured_goes_before_what_is_drawn() {
        let burning = json!({"plate": plate(), "static_inlet_pressure": "7.2 in wc", "running_inlet_pressure": "4.8 in wc"});
        let found = findings(&RULE, house(burning, piping("14 in wc")));
        says(only(&found, Outcome::Correction), "4.8 in wc at the inlet with everything on, it needs 5 in wc");
    }

    #[test]
    fn after_a_conversion_the_plate_no_longer_holds() {
        let converted = |pressure: &str| {
            let burning = json!({"plate": plate(), "conversion": {"fuel": "propane"}, "static_inlet_pressure": pressure});
            findings(&RULE, house(burning, json!({})))
        };
        says(only(&converted("11 in wc"), Outcome::Advice), "those of the former gas");
        says(only(&converted("2 psi"), Outcome::Correction), "no appliance of a house takes more than 14 in wc");
    }

    #[test]
    fn the_range_of_the_supplier_is_worth_knowing() {
        let mut range = supply("7 in wc");
        range["pressure_maximum"] = json!("14 in wc");
        range["pressure_minimum"] = json!("4 in wc");
        let found = findings(&RULE, house(json!({"plate": plate()}), json!({"gas": {"supply": range}})));
        says(only(&found, Outcome::Advice), "may deliver up to 14 in wc");
        says(&found[0], "only promises 4 in wc");
    }
}
