//! A storage system is commissioned before it is used, and whoever owns the house gets its papers.
//!
//! Commissioning finds the wiring mistakes that later burn; without the manual nobody knows how to shut it down or take it away.
//!
//! **How it is measured.** A record that the system was checked against its plans and instructions and that it works, signed
//! and dated. Asked at the final inspection.
//!
//! **How it is fixed.** Have the installer commission it by the maker's sheet and leave the record and the manuals.

use crate::units;
use redtag_rule::prelude::*;

/// The rule.
pub const RULE: Rule = Rule {
    citations: &[remembered("IRC", "2021", "R328.11"), remembered("NFPA 855", "2023", "15.4")],
    parameters: &[],
    stages: &[Stage::Final],
    reads: &["/electrical/storage"],
    ..Rule::new("energy-storage/commissioning", "Commissioning", check)
};

const WANTED: &str = "whether it was commissioned";

fn check(inquiry: &Inquiry) -> Vec<Finding> {
    units::systems(inquiry).iter().map(|system| system.sheet(WANTED, |sheet| judge(system, sheet))).collect()
}

fn judge(system: &Place<StorageSystem>, sheet: &mut Sheet) -> Lookup<Text> {
    let (document, by, date) =
        (need!(system, commissioning.document), need!(system, commissioning.by), need!(system, commissioning.date)).together()?;
    let words = text!("{} by {}, {}", document.as_str(), by.as_str(), date.as_str());
    sheet.line("record", words.clone(), "a state amendment lists what is checked");
    if let Some(accepted) = sheet.want(need!(system, commissioning.accepted))
        && !*accepted
    {
        sheet.fault(text!("the authority did not accept the record: {}", words.clone()));
        sheet.cure(text!("have the installer commission it again and mend what the authority found"));
    }
    Ok(text!("commissioned: {}", words))
}
