//! Three conductors pulled together may wedge side by side in a bend where the conduit is about three times as wide as one of
//! them.
//!
//! A jam tears insulation or the pulling line; it is found by the one who pulls.
//!
//! **How it is measured.** The inside diameter over the diameter of one of three equal conductors, as the code's note says, or
//! with the conduit taken five percent wider as cable makers do for bends. Between the two ratios given, jamming can occur. With
//! four conductors or more it is very unlikely. Advice, not law.
//!
//! **How it is fixed.** A trade size up or down, or pull a fourth conductor with them.

use crate::inside;
use redtag_handbook::raceway as trade;
use redtag_rule::prelude::*;

const SOURCE: &str = "NEC chapter 9 Table 1 informational note 2";
/// The method.
const METHOD: Choice = Choice::new(
    "method",
    "code-note",
    &["code-note", "bend-allowance"],
    "Whether the diameter is taken as it is or five percent wider.",
    "NEC chapter 9 Table 1 note 2; cable makers' guides",
);
/// Low.
const LEAST: Number = Number::new("least_ratio", 2.8, "The ratio from which on conductors may jam.", SOURCE).within(1.0, 5.0);
/// High.
const MOST: Number = Number::new("greatest_ratio", 3.2, "The ratio up to which they may.", SOURCE).within(1.0, 5.0);

/// The rule.
pub const RULE: Rule = Rule {
    citations: &[cited("NEC", "2020", "chapter 9, Table 1, informational note 2")],
    parameters: &[&METHOD, &LEAST, &MOST],
    level: Level::Advice,
    reads: &["/raceways"],
    ..Rule::new("raceways/jamming", "Conductors that wedge in a bend", check)
};

const WANTED: &str = "whether its conductors may jam";

fn check(inquiry: &Inquiry) -> Vec<Finding> {
    let judge_one = |raceway: &Place<Raceway>| match three(raceway) {
        Ok(None) => raceway.not_applicable(text!("no three equal conductors alone")).done(),
        three => raceway.sheet(WANTED, |sheet| {
            let (diameter, inside) = (three.map(|three| three.unwrap_or_default()), inside::inside(raceway)).together()?;
            let bent = inquiry.value(&METHOD) == "bend-allowance";
            let ratio = trade::jam_ratio(inside.diameter, diameter, bent);
            let part = Ratio::new::<uom::si::ratio::ratio>(ratio);
            let words = text!("the inside diameter is {} of a conductor's", part);
            let jams = ratio >= inquiry.value(&LEAST) - 1e-9 && ratio <= inquiry.value(&MOST) + 1e-9;
            sheet.test("ratio", words.clone(), SOURCE, !jams);
            if jams {
                sheet.advise(text!("{}: three conductors may wedge side by side in a bend", words.clone()));
                sheet.cure(text!("use another trade size, or pull a fourth conductor with them"));
            }
            Ok(words)
        }),
    };
    inside::every(inquiry).iter().map(judge_one).collect()
}

use uom::si::f64::{Length, Ratio};

/// The diameter of three equal conductors; none where there are more or fewer, or something thick beside them.
fn three(raceway: &Place<Raceway>) -> Lookup<Option<Length>> {
    if raceway.conductors.as_ref().is_some_and(Vec::is_empty)
        || matches!(raceway.kind, RacewayKind::Sleeve | RacewayKind::MetalCladCable)
    {
        return Ok(None);
    }
    let conductors = inside::conductors(raceway)?;
    let total: u32 = conductors.iter().map(|one| one.count).fold(0, u32::saturating_add);
    let alike = conductors.windows(2).all(|pair| (pair[0].each.diameter - pair[1].each.diameter).value.abs() < 1e-9);
    Ok(conductors.first().filter(|_| total == 3 && alike).map(|one| one.each.diameter))
}
