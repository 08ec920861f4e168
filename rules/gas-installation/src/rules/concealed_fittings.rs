//! Joints that can work loose may not be closed in behind a finish: unions, bushings, tubing fittings and valves stay where
//! they can be seen and tightened.
//!
//! A leak at a hidden union fills a wall cavity and is found when something lights it.
//!
//! **How it is measured.** For every fitting of pipe that runs in a wall, floor or ceiling: what it is and whether it is
//! concealed. Threaded elbows, tees, couplings, plugs and caps, welded and brazed joints may be; so may fittings listed for
//! it, as some of corrugated tubing are.
//!
//! **How it is fixed.** The joint moved into the open, replaced by one that may be concealed, or reached by a permanent
//! access panel; then the pressure test again.

use crate::{marks, parts};
use redtag_rule::prelude::*;

const SOURCE: &str = "IRC G2415.5 (IFGC 404.5)";
const PROHIBITED: Choices = Choices::new(
    "prohibited",
    &["union", "bushing", "tubing-fitting", "valve"],
    &["union", "bushing", "tubing-fitting", "valve", "coupling", "return-bend"],
    "Fittings that may not be concealed unless they are listed for it.",
    "IRC G2415.5 (IFGC 404.5), unions and bushings confirmed by a 2018 residential gas checklist, the others from memory",
);

/// The rule.
pub const RULE: Rule = Rule {
    citations: &[cited("IRC", "2018", "G2415.5"), cited("IFGC", "2018", "404.5")],
    parameters: &[&PROHIBITED],
    reads: &["/gas"],
    stages: &[Stage::RoughIn, Stage::Final],
    ..Rule::new("gas-installation/concealed-fittings", "Concealed gas fittings", check)
};

const WANTED: &str = "whether a joint that may not be hidden is hidden";

fn check(inquiry: &Inquiry) -> Vec<Finding> {
    parts::each_pipe(inquiry, |pipe| {
        let hidden = parts::runs(pipe, GasPipeRoute::Concealed) || parts::runs(pipe, GasPipeRoute::InSolidFloor);
        let said = pipe.fittings.iter().flatten().any(|fitting| fitting.concealed == Some(true));
        match (hidden || said, pipe.routes.is_some()) {
            (false, true) => crate::named::not_concerned(pipe, text!("none of it is concealed")),
            (false, false) => crate::named::sheet(pipe, WANTED, |_| need!(pipe, routes).map(|_| Text::default())),
            _ => crate::named::sheet(pipe, WANTED, |sheet| judge(inquiry, pipe, sheet)),
        }
    })
}

fn judge(inquiry: &Inquiry, pipe: &Place<GasSegment>, sheet: &mut Sheet) -> Lookup<Text> {
    let prohibited = inquiry.value(&PROHIBITED);
    for fitting in need!(pipe, fittings)?.items().filter(|fitting| prohibited.contains(&fitting.kind.word())) {
        let Some(concealed) = sheet.want(need!(fitting, concealed)) else { continue };
        if !*concealed {
            continue;
        }
        let Some(listed) = sheet.want(need!(fitting, listed_for_concealment)) else { continue };
        let words = text!("a {} is concealed and not listed for it", fitting.kind);
        if !sheet.test("fitting", words.clone(), SOURCE, *listed) {
            sheet.fault(words);
            sheet.related(fitting.pointer());
            let cure = text!("move the {} into the open, or use a joint that may be concealed", fitting.kind);
            sheet.cure_at(cure, &[(concealed.pointer().to_owned(), json!(false))]);
        }
    }
    if !sheet.sound() {
        marks::pipe(sheet, pipe, "concealed joint");
    }
    Ok(text!("only joints that may be concealed are"))
}
