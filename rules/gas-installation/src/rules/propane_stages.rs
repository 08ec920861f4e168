//! Propane comes down from the pressure of its container in two steps, and what regulates it does not stand where leaking
//! gas would stay.
//!
//! One regulator alone cannot hold a steady 11 inches of water behind a container whose pressure swings with the weather;
//! and if it fails, the container's pressure stands at the burners. Two-stage systems put a second guard between.
//!
//! **How it is measured.** The regulators of the project: a first stage of 10 psi at most behind it and a second stage, or
//! both in one body; none of a single stage in fixed piping. Where the jurisdiction bars propane below grade: regulators,
//! valves and manifolds in cellars and pits, space by space (appliances there are another rule).
//!
//! **How it is fixed.** By the gas supplier: two-stage regulators, set outdoors. A leak of propane in a cellar is deadly: do
//! not switch anything, leave, call from outside.

use crate::{marks, parts};
use redtag_rule::prelude::*;

const SINGLE: Flag = Flag::new(
    "single_stage_allowed",
    false,
    "Whether a single-stage regulator may serve fixed piping.",
    "from memory of NFPA 58 on two-stage regulators",
);
const FIRST: Quantity<dimensions::Pressure> = Quantity::new(
    "greatest_after_first_stage",
    "10 psi",
    "Greatest pressure behind a first-stage regulator.",
    "from memory of NFPA 58 on two-stage regulators",
)
.within("5 psi", "20 psi");
const BELOW_GRADE: Choice = Choice::new(
    "below_grade",
    "allowed",
    &["allowed", "prohibited"],
    "Whether regulators, valves and manifolds of propane piping may stand in pits and spaces whose floor lies below grade.",
    "no general ban in IRC, IFGC and NFPA 54; UPC 1213.6 and UMC 304.6 of 2000 had one (reported in the trade press)",
);

/// The rule.
pub const RULE: Rule = Rule {
    citations: &[remembered("NFPA 58", "2017", "6.10"), remembered("UPC", "2000", "1213.6")],
    parameters: &[&SINGLE, &FIRST, &BELOW_GRADE],
    reads: &["/spaces", "/gas"],
    ..Rule::new("gas-installation/propane-stages", "Propane regulated in two stages, above grade", check)
};

const WANTED: &str = "whether propane is regulated as it must be";

fn check(inquiry: &Inquiry) -> Vec<Finding> {
    let project = inquiry.project();
    let Ok(gas) = need!(project, gas) else { return Vec::new() };
    match parts::supplied(inquiry) {
        Ok(fuel) if parts::is_heavy(fuel) => {
            let mut findings = vec![crate::named::sheet(&gas, WANTED, |sheet| stages(inquiry, &gas, sheet))];
            findings.extend(below_grade(inquiry));
            findings
        }
        Ok(fuel) => vec![crate::named::not_concerned(&gas, text!("supplied with {}", fuel))],
        Err(unresolved) => vec![crate::named::sheet(&gas, WANTED, |_| Err(unresolved))],
    }
}

fn stages(inquiry: &Inquiry, gas: &Place<Gas>, sheet: &mut Sheet) -> Lookup<Text> {
    use GasRegulatorKind::{FirstStage, IntegralTwoStage, SecondStage, SingleStage};
    let all: Vec<_> = need!(gas, regulators)?.items().collect();
    let has = |kind: GasRegulatorKind| all.iter().any(|one| one.kind == kind);
    for one in all.iter().filter(|one| one.kind == SingleStage && !inquiry.value(&SINGLE)) {
        sheet.require("stages", text!("{} is a single stage for everything", one.id.as_str()), "NFPA 58", false);
        sheet.related(one.pointer());
        sheet.cure(text!("have the supplier fit a first stage of {} and a second stage", inquiry.value(&FIRST)));
    }
    let two = has(IntegralTwoStage) || (has(FirstStage) && has(SecondStage));
    if !two && !has(SingleStage) {
        let (first, second) = (has(FirstStage), has(SecondStage));
        let wanted = match (first, second) {
            (true, _) => "the second-stage regulator",
            (_, true) => "the first-stage regulator",
            _ => "the first-stage and second-stage regulators, or the one that holds both",
        };
        return Err(Unresolved::because(format!("{}/regulators", gas.pointer()), wanted));
    }
    for one in all.iter().filter(|one| one.kind == FirstStage) {
        let lower = |most| text!("set it to {} at most", most);
        let behind = ("the pressure behind the first stage", "psi");
        parts::no_more(sheet, need!(one, outlet_pressure), inquiry.value(&FIRST), behind, lower, "from memory of NFPA 58");
    }
    Ok(text!("regulated in two stages"))
}

/// Each space below grade that holds parts of the piping.
fn below_grade(inquiry: &Inquiry) -> Vec<Finding> {
    let banned = inquiry.value(&BELOW_GRADE) == "prohibited";
    let spaces = need!(inquiry.project(), spaces).every();
    let parts_in: Vec<_> =
        spaces.iter().map(|space| (space, held(inquiry, space))).filter(|(_, held)| !held.is_empty()).collect();
    let judged = |(space, held): (&Place<Space>, Vec<Held>)| match parts::is_low(space) {
        _ if !banned => None,
        Ok(false) => Some(space.complies(text!("not below grade")).done()),
        low => Some(space.sheet(WANTED, |sheet| {
            low?;
            for part in &held {
                sheet.require("part", text!("{} stands below grade", part.words.as_str()), "asked for here", false);
                sheet.related(&part.pointer);
                marks::point(sheet, Some(&space.id), part.at.as_ref(), &part.words);
            }
            sheet.cure(text!("move them to a space above grade, or outdoors"));
            Ok(Text::default())
        })),
    };
    parts_in.into_iter().filter_map(judged).collect()
}

struct Held {
    words: String,
    pointer: String,
    at: Option<Point>,
}

fn held(inquiry: &Inquiry, space: &Place<Space>) -> Vec<Held> {
    let project = inquiry.project();
    let here = |of: &Option<String>| of.as_ref() == Some(&space.id);
    let regulators = need!(project, gas.regulators).every().into_iter().filter(|one| here(&one.space)).map(|one| Held {
        words: format!("regulator {}", one.id),
        pointer: one.pointer().to_owned(),
        at: one.at.clone(),
    });
    let valves = need!(project, gas.valves).every().into_iter().filter(|one| here(&one.space)).map(|one| Held {
        words: format!("valve {}", one.id),
        pointer: one.pointer().to_owned(),
        at: one.at.clone(),
    });
    let manifold = |one: &Place<GasNode>| one.kind == GasNodeKind::Manifold && here(&one.space);
    let manifolds = need!(project, gas.nodes).every().into_iter().filter(manifold).map(|one| Held {
        words: format!("manifold {}", one.id),
        pointer: one.pointer().to_owned(),
        at: one.at.clone(),
    });
    regulators.chain(valves).chain(manifolds).collect()
}
