//! Gas piping is proven tight before it is covered: filled with air or an inert gas, shut, and watched on a gauge.
//!
//! A leak inside a finished wall is found by smell, or by fire.
//!
//! **How it is measured.** Test pressure of one and a half times the greatest working pressure and not less than 3 psi, for
//! 10 minutes in a dwelling, on a gauge that reads no more than five times the test pressure. Joints in sight, appliances
//! off or isolated. Air, nitrogen or carbon dioxide, and **never oxygen**: it explodes with oil and pipe dope.
//!
//! Where all pipe was there before and only an appliance is changed, the joints are checked for leaks with the gas on instead.
//!
//! **How it is fixed.** The test done again by the fitter and its record handed in, before the walls are closed.

use crate::parts;
use redtag_handbook::gas_installation::{greatest_gauge, least_test_pressure};
use redtag_rule::prelude::*;
use uom::si::f64::Pressure;

const SOURCE: &str = "IRC G2417.4 (IFGC 406.4)";
const FACTOR: Number =
    Number::new("working_pressure_factor", 1.5, "Test pressure over the greatest working pressure.", SOURCE).within(1.0, 10.0);
const LEAST: Quantity<dimensions::Pressure> = Quantity::new(
    "least_pressure",
    "3 psi",
    "Least test pressure, whatever the working pressure.",
    "IRC G2417.4.1 (IFGC 406.4.1); 10 psi in plumbing codes of the other family, 10 to 15 psi in many cities",
)
.within("1 psi", "100 psi");
const DURATION: Quantity<dimensions::Duration> = Quantity::new(
    "least_duration",
    "10 min",
    "Least duration of the test in a dwelling.",
    "IRC G2417.4.2 (IFGC 406.4.2); 15 min to 24 h by amendment",
)
.within("1 min", "48 h");
const GAUGE: Number =
    Number::new("gauge_factor", 5.0, "Greatest reading of the gauge over the test pressure.", "IRC G2417.4 (IFGC 406.4)")
        .within(1.0, 20.0);
const MEDIA: Choices = Choices::new(
    "media",
    &["air", "nitrogen", "carbon-dioxide"],
    &["air", "nitrogen", "carbon-dioxide", "fuel-gas", "water"],
    "What the piping may be filled with. Oxygen is never among it.",
    "2018 IRC G2417.2 (IFGC 406.2)",
);

/// The rule.
pub const RULE: Rule = Rule {
    citations: &[cited("IRC", "2018", "G2417"), cited("IFGC", "2018", "406"), cited("NFPA 54", "2018", "8.1")],
    parameters: &[&FACTOR, &LEAST, &DURATION, &GAUGE, &MEDIA],
    reads: &["/gas"],
    stages: &[Stage::RoughIn, Stage::Final],
    ..Rule::new("gas-installation/pressure-test", "Pressure test of the gas piping", check)
};

const WANTED: &str = "whether the piping was proven tight";

fn check(inquiry: &Inquiry) -> Vec<Finding> {
    let project = inquiry.project();
    let Ok(gas) = need!(project, gas) else { return Vec::new() };
    if gas.segments.as_ref().is_some_and(Vec::is_empty) {
        return vec![crate::named::not_concerned(&gas, text!("no piping"))];
    }
    let pipes = need!(gas, segments).every();
    if gas.test.is_none() && !pipes.is_empty() && pipes.iter().all(|pipe| pipe.existing == Some(true)) {
        return vec![crate::named::sheet(&gas, WANTED, |sheet| leak_check(&gas, sheet))];
    }
    vec![match need!(gas, test) {
        Ok(test) => crate::named::sheet(&test, WANTED, |sheet| judge(inquiry, &gas, &test, sheet)),
        Err(unresolved) => crate::named::sheet(&gas, WANTED, |_| Err(unresolved)),
    }]
}

/// All pipe was there before: minor work on it is checked for leaks with the gas on.
fn leak_check(gas: &Place<Gas>, sheet: &mut Sheet) -> Lookup<Text> {
    let source = "IRC G2417.1.3 (IFGC 406.1.3), from memory";
    sheet.line("extent", text!("all pipe was there before this work"), source);
    let document = need!(gas, leak_check.document)?;
    sheet.line("leak check", text!("{}", document.as_str()), source);
    Ok(text!("no new pipe: its joints were checked for leaks"))
}

fn judge(inquiry: &Inquiry, gas: &Place<Gas>, test: &Place<PressureTest>, sheet: &mut Sheet) -> Lookup<Text> {
    if let Some(working) = sheet.want(working(gas)) {
        let least = least_test_pressure(working, inquiry.value(&FACTOR), inquiry.value(&LEAST));
        sheet.line("working", text!("{} at most", working), SOURCE);
        let again = |least| text!("test again at {} at least", least);
        parts::no_less(sheet, need!(test, pressure), least, ("the test pressure", "psi"), again, SOURCE);
    }
    let longer = |least| text!("test again for {} at least", least);
    parts::no_less(sheet, need!(test, duration), inquiry.value(&DURATION), ("the duration", "min"), longer, SOURCE);
    if let Ok(pressure) = need!(test, pressure) {
        let most = greatest_gauge(pressure.quantity(), inquiry.value(&GAUGE));
        let finer = |most| text!("read the test from a gauge of {} at most", most);
        parts::no_more(sheet, need!(test, gauge_range), most, ("the gauge's greatest reading", "psi"), finer, SOURCE);
    }
    medium(inquiry, test, sheet);
    let seen = ("joints", text!("the joints were covered"));
    parts::demand(sheet, need!(test, joints_exposed), seen, text!("uncover the joints and test again"), SOURCE);
    let off = ("appliances", text!("the appliances were not isolated"));
    parts::demand(
        sheet,
        need!(test, appliances_isolated),
        off,
        text!("take the appliances off or isolate them, test again"),
        SOURCE,
    );
    sheet.want(need!(test, evidence.document));
    Ok(text!("tested and recorded"))
}

/// The greatest working pressure: of the pipes and of the supply. No pipe holds more than the supply delivers; where that is not
/// said, that of every pipe must be.
fn working(gas: &Place<Gas>) -> Lookup<Pressure> {
    let pipes = need!(gas, segments).every();
    let supply = gas.supply.as_ref().and_then(|supply| supply.pressure_maximum.as_ref().or(supply.pressure.as_ref()));
    if supply.is_none() && pipes.iter().any(|pipe| pipe.pressure.is_none()) {
        return Err(gas.missing("/supply/pressure"));
    }
    let said = pipes.iter().filter_map(|pipe| pipe.pressure.as_ref()).map(|pressure| pressure.quantity());
    let all = said.chain(supply.map(|pressure| pressure.quantity()));
    all.reduce(|a, b| if a > b { a } else { b }).ok_or_else(|| gas.missing("/supply/pressure"))
}

fn medium(inquiry: &Inquiry, test: &Place<PressureTest>, sheet: &mut Sheet) {
    let Some(medium) = sheet.want(need!(test, medium)) else { return };
    let allowed = inquiry.value(&MEDIA).contains(&medium.word());
    if sheet.test("medium", text!("{}", *medium), SOURCE, allowed) {
        return;
    }
    sheet.fault(match *medium {
        TestMedium::Oxygen => text!("filled with oxygen, which explodes with oil and pipe dope"),
        other => text!("filled with {}, which is not a test medium here", other),
    });
    let cure = text!("empty and clean the piping, test again with air or nitrogen");
    sheet.cure_at(cure, &[(medium.pointer().to_owned(), json!("air"))]);
}
