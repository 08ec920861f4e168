//! The plenum of a furnace and the first 3 ft of its ducts keep the clearance to combustible material that the label asks for.
//!
//! Steel right behind a heat exchanger gets hot enough to dry wood to tinder over the years.
//!
//! **How it is measured.** For each supply duct of an appliance that burns fuel: the clearance it has over its first 3 ft against the label
//! of the appliance.
//!
//! **How it is fixed.** Move the duct or the framing, or shield the framing as the label allows.

use crate::runs;
use redtag_handbook::ducts::sources;
use redtag_rule::prelude::*;

/// Whether the label must speak.
const LABEL: Flag = Flag::new(
    "label_must_speak",
    true,
    "Whether a furnace whose label's clearance of the plenum is not said is unresolved.",
    "IRC M1306.1: the label governs",
);

/// The rule.
pub const RULE: Rule = Rule {
    citations: &[remembered("IRC", "2021", "M1601.4"), remembered("IRC", "2021", "M1306.1")],
    parameters: &[&LABEL],
    reads: &["/ducts", "/equipment"],
    ..Rule::new("ducts/clearance", "Clearance of plenums and ducts", check)
};

fn check(inquiry: &Inquiry) -> Vec<Finding> {
    runs::of_kinds(inquiry, &[DuctKind::Supply]).iter().filter_map(|duct| one(inquiry, duct)).collect()
}

fn one(inquiry: &Inquiry, duct: &Place<Duct>) -> Option<Finding> {
    const WANTED: &str = "whether it keeps clear of what burns";
    let appliance = match need!(duct, equipment).and_then(|id| inquiry.equipment(&id)) {
        Ok(appliance) => appliance,
        // One that belongs to nothing said may belong to a furnace.
        Err(unresolved) if furnace(inquiry) => return Some(duct.ask(WANTED, || Err(unresolved))),
        Err(_) => return None,
    };
    if !kinds::may_burn(&appliance) {
        return None;
    }
    let label = need!(appliance, label_clearances.plenum);
    if label.is_err() && !inquiry.value(&LABEL) {
        return None;
    }
    Some(duct.sheet(WANTED, |sheet| {
        let (label, clear, _) = (label, need!(duct, clearance), kinds::burns(&appliance)).together()?;
        if !sheet.at_least("clearance", &clear, &label, "in", sources::CLEARANCE.text()) {
            sheet.fault(text!(
                "it is {} from combustible material, the label asks for {}",
                in_unit(clear.quantity(), "in"),
                in_unit(label.quantity(), "in")
            ));
            sheet.cure(text!("give it {} of clearance over its first 3 ft", in_unit(label.quantity(), "in")));
        }
        Ok(text!("clear of what burns, as its label asks"))
    }))
}

/// Whether the project has something that heats the air of ducts by a burner, or may.
fn furnace(inquiry: &Inquiry) -> bool {
    use EquipmentKind as K;
    let heats = |one: &Place<Equipment>| matches!(one.kind, K::Furnace | K::AirHandler | K::UnitHeater | K::WallFurnace);
    need!(inquiry.project(), equipment).every().iter().any(|one| heats(one) && kinds::may_burn(one))
}
