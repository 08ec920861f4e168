//! Raceways are held at intervals, and close to every box.
//!
//! A conduit that sags pulls its fittings apart and opens its grounding path. Nothing may hang from it either: it is no
//! hanger for pipes and ducts.
//!
//! **How it is measured.** The greatest distance between supports and that of the first one from the box, against the table for
//! the kind and trade size. Whips of flexible conduit up to 3 ft need none. Asked from rough-in on.
//!
//! **How it is fixed.** More straps; hangers of their own for pipes and ducts.

use crate::inside;
use redtag_handbook::raceway as trade;
use redtag_rule::prelude::*;

/// Threaded rigid conduit in straight runs.
const THREADED: Flag = Flag::new(
    "threaded_straight_runs",
    false,
    "Whether rigid conduit is taken as threaded and straight, so that the wider spacings hold.",
    "NEC 344.30(B)(2)",
);

/// The rule.
pub const RULE: Rule = Rule {
    citations: &[
        cited("NEC", "2020", "358.30"),
        cited("NEC", "2020", "344.30"),
        cited("NEC", "2020", "352.30"),
        remembered("NEC", "2020", "362.30"),
        remembered("NEC", "2020", "348.30"),
        cited("NEC", "2020", "300.11(C)"),
    ],
    parameters: &[&THREADED],
    stages: &[Stage::RoughIn, Stage::Final],
    reads: &["/raceways"],
    ..Rule::new("raceways/supports", "Supports of raceways", check)
};

const WANTED: &str = "whether it is held as it must be";

fn check(inquiry: &Inquiry) -> Vec<Finding> {
    let judge_one = |raceway: &Place<Raceway>| match raceway.kind {
        RacewayKind::Sleeve | RacewayKind::MetalCladCable => raceway.not_applicable(text!("not held like a raceway")).done(),
        _ => raceway.sheet(WANTED, |sheet| judge(inquiry, raceway, sheet)),
    };
    inside::every(inquiry).iter().map(judge_one).collect()
}

fn judge(inquiry: &Inquiry, raceway: &Place<Raceway>, sheet: &mut Sheet) -> Lookup<Text> {
    if raceway.supports_other_things == Some(true) {
        sheet.require("loads", text!("pipes or ducts hang from it"), "NEC 300.11(C)", false);
        sheet.cure(text!("give them hangers of their own"));
    }
    let (kind, size) = (inside::kind(raceway), need!(raceway, trade_size)).together()?;
    let asked = trade::support(kind, size.quantity(), inquiry.value(&THREADED));
    for run in need!(raceway, runs)?.items() {
        // A nipple or a run shorter than the first support's distance needs none of its own; a whip of 3 ft may hang.
        let free = if kind.is_flexible() { redtag_handbook::units::feet(3.0) } else { asked.first };
        let short = need!(run, length).is_ok_and(|length| at_most(length.quantity(), free));
        if short {
            continue;
        }
        if let Some(spacing) = sheet.want(need!(run, support_spacing)) {
            let words = text!("supports {} apart, {} are the most", in_unit(spacing.get(), "ft"), in_unit(asked.spacing, "ft"));
            if !sheet.require("supports", words, asked.source.text(), at_most(spacing.quantity(), asked.spacing)) {
                sheet.related(run.pointer());
                sheet.cure(text!("add straps so that none are more than {} apart", in_unit(asked.spacing, "ft")));
            }
        }
        if let Some(first) = sheet.want(need!(run, first_support)) {
            let words = text!("the first support {} from the box, {} is the most", first, asked.first);
            if !sheet.require("first support", words, asked.source.text(), at_most(first.quantity(), asked.first)) {
                sheet.related(run.pointer());
                sheet.cure(text!("add a strap within {} of the box", asked.first));
            }
        }
    }
    Ok(text!("held at {} at most", in_unit(asked.spacing, "ft")))
}
