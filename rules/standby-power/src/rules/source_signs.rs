//! A sign at the service equipment names every standby source and where it is.
//!
//! Firefighters pull the meter or open the main and take the house for dead. The sign tells them what still feeds it.
//!
//! **How it is measured.** A sign for the type and the location of each source, at the service equipment: of standby sources behind
//! transfer equipment, and of inverters that run in parallel with the utility.
//!
//! **How it is fixed.** Put up the sign.

use redtag_rule::prelude::*;

/// The rule.
pub const RULE: Rule = Rule {
    stages: &[Stage::Final],
    citations: &[cited("NEC", "2014", "702.7(A)"), remembered("NEC", "2020", "705.10")],
    parameters: &[],
    reads: &["/electrical"],
    ..Rule::new("standby-power/source-signs", "Signs that name the standby sources", check)
};

const WANTED: &str = "whether its sources are named at the service";

fn check(inquiry: &Inquiry) -> Vec<Finding> {
    let transfer =
        crate::loads::transfers(inquiry).first().map(|transfer| transfer.sheet(WANTED, |sheet| posted(inquiry, sheet)));
    if transfer.is_some() {
        return transfer.into_iter().collect();
    }
    // An inverter that may run beside the utility is a source the main does not switch off.
    let beside = |inverter: &Place<Inverter>| {
        inverter.interactive != Some(false) && inverter.interconnection != Some(InterconnectionKind::StandAlone)
    };
    let inverter = need!(inquiry.project(), electrical.inverters).every().into_iter().find(beside);
    inverter.map(|inverter| inverter.sheet(WANTED, |sheet| posted(inquiry, sheet))).into_iter().collect()
}

fn posted(inquiry: &Inquiry, sheet: &mut Sheet) -> Lookup<Text> {
    let posted = need!(inquiry.project(), electrical.standby.signs_posted)?;
    let words =
        text!("{}", if *posted { "a sign at the service names the source" } else { "no sign at the service names the source" });
    if !sheet.require("sign", words.clone(), "NEC 702.7(A), 705.10", *posted) {
        sheet.cure_at(
            text!("a sign at the service equipment: what the source is and where"),
            &[(posted.pointer().to_owned(), json!(true))],
        );
    }
    Ok(words)
}
