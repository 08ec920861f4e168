//! A known infiltration needs evidence, and a tight house may not use the standard method.
//!
//! A figure for the air that leaks through a house decides how large a room burners need. It must come from somewhere: a
//! blower-door test with its conversion, or a default the authority has set.
//!
//! **How it is measured.** By the figures the project gives for the building: air changes at 50 Pa, natural air changes, the
//! method and the document.
//!
//! **How it is fixed.** Name the report, or have the house tested.

use crate::parameters::LEAST_DIVISOR;
use redtag_handbook::units;
use redtag_rule::prelude::*;

/// Whether evidence is asked for.
const EVIDENCE: Flag = Flag::new(
    "evidence_needed",
    true,
    "Whether a known infiltration must name the document it rests on.",
    "common practice of plan review: a figure called known must be shown",
);
/// Spread of the divisor.
const MOST_DIVISOR: Number = Number::new(
    "blower_door_divisor_most",
    30.0,
    "A natural rate below the tested one divided by this is doubted.",
    "common practice: from memory, divisors lie between about 14 and 26",
)
.within(10.0, 60.0);
/// The rule.
pub const RULE: Rule = Rule {
    citations: &[cited("IRC", "2021", "G2407.5.2"), cited("IFGC", "2021", "304.5.2")],
    parameters: &[&EVIDENCE, &LEAST_DIVISOR, &MOST_DIVISOR],
    reads: &["/building"],
    ..Rule::new("combustion-air/infiltration", "Evidence for the air that leaks in", check)
};

fn check(inquiry: &Inquiry) -> Vec<Finding> {
    let project = inquiry.project();
    let Ok(known) = need!(project, building.infiltration) else { return Vec::new() };
    vec![project.ask("whether the infiltration is known", || judge(inquiry, &project, &known))]
}

fn judge(inquiry: &Inquiry, project: &Place<Project>, known: &Place<Infiltration>) -> Lookup<FindingBuilder> {
    let (Some(natural), tested) = (&known.natural, &known.ach50) else {
        return Ok(project.not_applicable(text!("no natural infiltration is claimed")));
    };
    if natural.si() <= 0.0 {
        let summary = text!("an infiltration of {} supplies no air: no indoor volume would be large enough", natural);
        return Ok(project.correction(summary).related(known.pointer()));
    }
    if let Some(tested) = tested {
        let divisor = units::in_fraction(tested.quantity() / natural.quantity());
        if divisor < inquiry.value(&LEAST_DIVISOR) || divisor > inquiry.value(&MOST_DIVISOR) {
            let divisor = format!("{divisor:.1}");
            let summary =
                text!("{} at 50 Pa and {} natural part by a factor of {}: one of the two is doubtful", tested, natural, divisor);
            return Ok(project.advice(summary).related(known.pointer()));
        }
    }
    if inquiry.value(&EVIDENCE) {
        need!(known, evidence.document)?;
    }
    Ok(project.complies(text!("{} is shown by a document", natural)).related(known.pointer()))
}
