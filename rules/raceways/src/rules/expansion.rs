//! A long run of plastic conduit outdoors, in an attic or in a garage needs fittings that let it grow and shrink.
//!
//! PVC grows by nearly half an inch in 10 ft between winter and a summer's roof. What cannot move bows, pulls out of its boxes or
//! breaks them.
//!
//! **How it is measured.** For each run of rigid PVC that leaves the heated space: its length, times what PVC grows for each degree,
//! times the difference of the lowest and the highest temperature around it (with what the sun adds where it shines on it). From
//! a quarter of an inch on it needs an expansion fitting or bends that do the same.
//!
//! **How it is fixed.** An expansion fitting, or a run with bends between its fixed points.

use crate::inside;
use redtag_handbook::raceway::rooftop_adder;
use redtag_handbook::units::in_inches;
use redtag_rule::prelude::*;
use uom::si::f64::Length;
use uom::si::thermodynamic_temperature::degree_celsius;

/// How much.
const MOST: Quantity<dimensions::Length> =
    Quantity::new("greatest_change", "1/4 in", "The change of length from which on a fitting is needed.", "NEC 352.44")
        .within("0 in", "3 in");

/// The rule.
pub const RULE: Rule = Rule {
    citations: &[cited("NEC", "2020", "352.44")],
    parameters: &[&MOST],
    stages: &[Stage::RoughIn, Stage::Final],
    reads: &["/raceways", "/spaces"],
    ..Rule::new("raceways/expansion", "Expansion of plastic conduit", check)
};

const WANTED: &str = "whether it can grow and shrink";
/// What PVC grows for each kelvin: 3.38e-5 for each degree Fahrenheit (NEC Table 352.44).
const GROWTH: f64 = 3.38e-5 * 1.8;

fn check(inquiry: &Inquiry) -> Vec<Finding> {
    inside::every(inquiry)
        .iter()
        .map(|raceway| match raceway.kind {
            RacewayKind::Pvc40 | RacewayKind::Pvc80 => raceway.sheet(WANTED, |sheet| judge(inquiry, raceway, sheet)),
            _ => raceway.not_applicable(text!("not of rigid plastic")).done(),
        })
        .collect()
}

fn judge<'a>(inquiry: &Inquiry<'a>, raceway: &Place<'a, Raceway>, sheet: &mut Sheet) -> Lookup<Text> {
    let most = inquiry.value(&MOST);
    for (number, run) in need!(raceway, runs)?.items().enumerate() {
        if sheet.want(sheltered(inquiry, &run)) != Some(false) || run.expansion_fitting == Some(true) {
            continue;
        }
        let facts = (need!(run, length), need!(run, lowest_ambient), need!(run, ambient)).together();
        let Some((length, lowest, highest)) = sheet.want(facts) else { continue };
        let sun = if run.in_sunlight == Some(true) { rooftop_adder() } else { 0.0 };
        let kelvin = highest.quantity().get::<degree_celsius>() + sun - lowest.quantity().get::<degree_celsius>();
        let change: Length = length.quantity() * (GROWTH * kelvin.max(0.0));
        let words = text!(
            "run {} of {} changes by {}, {} needs a fitting",
            number + 1,
            in_unit(length.get(), "ft"),
            in_unit(change, "in"),
            most
        );
        // From the limit on: at it a fitting is needed.
        if in_inches(change) < in_inches(most) - 1e-9 {
            sheet.test("change of length", words, "NEC 352.44", true);
            continue;
        }
        let fitted = need!(run, expansion_fitting)?;
        sheet.require("change of length", text!("{}, and there is none", words), "NEC 352.44", *fitted);
        sheet.related(run.pointer());
        sheet.cure_at(text!("put an expansion fitting in"), &[(fitted.pointer().to_owned(), json!(true))]);
    }
    Ok(text!("it can grow and shrink as it must"))
}

/// Whether a run lies in heated space altogether.
fn sheltered<'a>(inquiry: &Inquiry<'a>, run: &Place<'a, RacewayRun>) -> Lookup<bool> {
    if run.in_sunlight == Some(true) || run.above_roof.is_some() {
        return Ok(false);
    }
    let spaces = need!(run, spaces)?;
    if spaces.is_empty() {
        return Ok(false);
    }
    let warm = spaces.items().map(|id| need!(inquiry.space(&id)?, conditioned).map(|conditioned| *conditioned));
    Ok(warm.collect::<Vec<_>>().together()?.into_iter().all(|warm| warm))
}
