//! When an appliance leaves a shared vent or chimney, what is left is sized anew for those that stay.
//!
//! A new furnace with its own plastic vent often leaves a small water heater alone on a flue built for both. The flue never
//! warms up: it drips, crumbles, and on a cold morning sends carbon monoxide back into the house. Resizing and testing is
//! work for a licensed contractor.
//!
//! **How it is measured.** Where the project says that an appliance was taken off a vent, an accepted calculation must show that the
//! vent still fits; the project's own figures are held against seven times the smallest outlet and against the tables as well.
//!
//! **How it is fixed.** A liner or a vent of the size the remaining appliance asks for, with its calculation on file.

use crate::appliances::vents;
use crate::sizing::{TIMES, category_one, flow_area};
use redtag_handbook::venting::{area, sources};
use redtag_rule::prelude::*;

/// Whether the calculation must be accepted.
const EVIDENCE: Choice = Choice::new(
    "resize_evidence",
    "calculation",
    &["calculation", "accepted-calculation", "none"],
    "What must show that a vent still fits after an appliance was taken off it.",
    "from memory of IFGC 501.15",
);

/// The rule.
pub const RULE: Rule = Rule {
    citations: &[remembered("IRC", "2021", "G2425.15"), remembered("IFGC", "2021", "501.15")],
    parameters: &[&EVIDENCE, &TIMES],
    reads: &["/vents", "/equipment", "/building"],
    ..Rule::new("venting/orphaned", "Vents after an appliance was taken off", check)
};

fn check(inquiry: &Inquiry) -> Vec<Finding> {
    vents(inquiry).iter().map(|vent| one(inquiry, vent)).collect()
}

fn one(inquiry: &Inquiry, vent: &Place<Vent>) -> Finding {
    let new = inquiry.project().building.as_ref().is_some_and(|building| building.work == Some(Work::NewConstruction));
    match vent.appliance_removed {
        Some(false) => vent.complies(text!("no appliance was taken off it")).done(),
        None if new => vent.not_applicable(text!("a new building: nothing was taken off it")).done(),
        None => vent.ask("whether an appliance was taken off it", || Err(vent.missing("/appliance_removed"))),
        Some(true) => vent.sheet("whether it still fits those left on it", |sheet| judge(inquiry, sheet, vent)),
    }
}

fn judge(inquiry: &Inquiry, sheet: &mut Sheet, vent: &Place<Vent>) -> Lookup<Text> {
    evidence(inquiry, sheet, vent);
    let Some(served) = category_one(inquiry, vent)? else {
        return Ok(text!("what is left on it is vented by its own instructions"));
    };
    let flow = flow_area(vent)?;
    let outlets: Vec<_> = served.iter().map(|served| area::round(served.outlet)).collect();
    let times = inquiry.value(&TIMES);
    let (least, Some(most)) = (area::least(&outlets), area::most(&outlets, times)) else {
        return Ok(text!("nothing is left on it"));
    };
    let words = text!(
        "flow area: {}, between {} and {} suits those left on it",
        in_unit(flow, "in²"),
        in_unit(least, "in²"),
        in_unit(most, "in²")
    );
    let holds = at_least(flow, least) && at_most(flow, most);
    if !sheet.require("flow area", words, sources::SEVEN_TIMES.text(), holds) {
        sheet.cure(text!(
            "line it: {} across is the least, {} the most, and the tables decide between them",
            in_unit(area::diameter(least), "in"),
            in_unit(area::diameter(most), "in")
        ));
    }
    Ok(text!("shown to fit those left on it"))
}

fn evidence(inquiry: &Inquiry, sheet: &mut Sheet, vent: &Place<Vent>) {
    let wanted = inquiry.value(&EVIDENCE);
    let document = vent.resize_evidence.as_ref().and_then(|evidence| evidence.document.as_ref());
    let accepted = vent.resize_evidence.as_ref().and_then(|evidence| evidence.accepted);
    let holds = match wanted {
        "none" => true,
        "calculation" => document.is_some() && accepted != Some(false),
        _ => document.is_some() && accepted == Some(true),
    };
    if !sheet.test(
        "calculation",
        text!("{}", if document.is_some() { "on file" } else { "none on file" }),
        sources::RESIZE.text(),
        holds,
    ) {
        sheet.fault(text!("an appliance was taken off it, and no calculation shows that it still fits those left on it"));
        sheet.cure(text!("have the vent sized anew for what is left on it, and keep the calculation on file"));
    }
}
