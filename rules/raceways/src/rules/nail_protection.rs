//! A hole for flexible tubing or cable keeps away from the face of the framing, or a steel plate shields it.
//!
//! Screws for gypsum board and cabinets are longer than one thinks.
//!
//! **How it is measured.** The distance from the hole to the nearest edge of the stud or joist: 1 1/4 in, or a plate 1/16 in thick.
//! Rigid metal and PVC conduit and metallic tubing stand up to a screw and are not asked.
//!
//! **How it is fixed.** Nail plates.

use crate::inside;
use redtag_rule::prelude::*;

/// Edge.
const EDGE: Quantity<dimensions::Length> = Quantity::new(
    "edge_distance",
    "1 1/4 in",
    "The least distance of a hole from the edge of the framing where no plate shields it.",
    "NEC 300.4(A)(1) of 2023",
)
.within("0.5 in", "3 in");

/// The rule.
pub const RULE: Rule = Rule {
    citations: &[cited("NEC", "2020", "300.4(A)(1)")],
    parameters: &[&EDGE],
    stages: &[Stage::RoughIn, Stage::Final],
    reads: &["/raceways"],
    ..Rule::new("raceways/nail-protection", "Tubing near the face of framing", check)
};

const WANTED: &str = "whether a nail can reach it";

fn check(inquiry: &Inquiry) -> Vec<Finding> {
    inside::every(inquiry)
        .iter()
        .map(|raceway| {
            use RacewayKind as R;
            match raceway.kind {
                R::ElectricalMetallicTubing
                | R::IntermediateMetalConduit
                | R::RigidMetalConduit
                | R::Pvc40
                | R::Pvc80
                | R::Sleeve => raceway.not_applicable(text!("{} stands up to a screw", raceway.kind)).done(),
                _ => raceway.sheet(WANTED, |sheet| judge(inquiry, raceway, sheet)),
            }
        })
        .collect()
}

fn judge(inquiry: &Inquiry, raceway: &Place<Raceway>, sheet: &mut Sheet) -> Lookup<Text> {
    let least = inquiry.value(&EDGE);
    for run in need!(raceway, runs)?.items() {
        if run.shielded == Some(true) {
            continue;
        }
        let Some(edge) = sheet.want(need!(run, edge_distance)) else { continue };
        if at_least(edge.quantity(), least) {
            continue;
        }
        let shielded = need!(run, shielded)?;
        let words = text!("{} from the edge of the framing without a plate, {} is the least", edge, least);
        sheet.require("edge", words, "NEC 300.4(A)(1)", false);
        sheet.cure_at(text!("fix steel plates 1/16 in thick"), &[(shielded.pointer().to_owned(), json!(true))]);
    }
    Ok(text!("{} or more from the edge of the framing, or shielded", least))
}
