//! Outdoor air must come from the outdoors, through a screen that keeps animals out and air in flow.
//!
//! A duct that is meant to bring fresh air and begins in a crawl space, an attic or a garage brings theirs.
//!
//! **How it is measured.** For each outdoor-air and make-up-air duct: where it begins, and the mesh of its screen.
//!
//! **How it is fixed.** An intake in the outer wall with a screen between 1/4 in and 1/2 in.

use crate::runs;
use redtag_handbook::ducts::sources;
use redtag_rule::prelude::*;

/// Finest mesh.
const FINE: Quantity<dimensions::Length> =
    Quantity::new("finest_mesh", "1/4 in", "Least clear width of the mesh of an intake screen.", "from memory of IRC R303.6");
/// Coarsest mesh.
const COARSE: Quantity<dimensions::Length> = Quantity::new(
    "coarsest_mesh",
    "1/2 in",
    "Greatest clear width of the mesh of an intake screen.",
    "from memory of IRC R303.6",
);

/// The rule.
pub const RULE: Rule = Rule {
    citations: &[remembered("IRC", "2021", "R303.6"), remembered("IRC", "2021", "M1602.1")],
    parameters: &[&FINE, &COARSE],
    reads: &["/ducts", "/spaces"],
    ..Rule::new("ducts/outdoor-air", "Intakes of outdoor air", check)
};

fn check(inquiry: &Inquiry) -> Vec<Finding> {
    let ducts = runs::of_kinds(inquiry, &[DuctKind::OutdoorAir, DuctKind::MakeUpAir]);
    ducts.iter().map(|duct| duct.sheet("whether it brings outdoor air", |sheet| judge(inquiry, duct, sheet))).collect()
}

fn judge(inquiry: &Inquiry, duct: &Place<Duct>, sheet: &mut Sheet) -> Lookup<Text> {
    let source = sources::OUTDOOR.text();
    if let Some(end) = sheet.want(need!(duct, terminates))
        && !sheet.require("source", text!("its air comes from: {}", end.kind), source, end.kind == BeyondKind::Outdoors)
    {
        sheet.cure(text!("begin it at an intake in the outer wall"));
    }
    if let Some(screened) = sheet.want(need!(duct, screened))
        && sheet.require("screen", text!("its intake needs a screen"), source, *screened.get())
        && let Some(mesh) = sheet.want(need!(duct, screen_mesh))
    {
        let (fine, coarse) = (inquiry.value(&FINE), inquiry.value(&COARSE));
        let words = text!(
            "mesh of {}, {} to {} is asked for",
            in_unit(mesh.quantity(), "in"),
            in_unit(fine, "in"),
            in_unit(coarse, "in")
        );
        if !sheet.require("mesh", words, source, at_least(mesh.quantity(), fine) && at_most(mesh.quantity(), coarse)) {
            sheet.cure(text!("a screen of {} to {}", in_unit(fine, "in"), in_unit(coarse, "in")));
        }
    }
    Ok(text!("it begins outdoors, behind a screen"))
}
