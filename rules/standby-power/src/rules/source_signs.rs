//! A sign at the service equipment names every standby source and where it is.
//!
//! Firefighters pull the meter or open the main and take the house for dead. The sign tells them what still feeds it.
//!
//! **How it is measured.** A sign for the type and the location of each optional standby source, at the service equipment.
//!
//! **How it is fixed.** Put up the sign.

use redtag_rule::prelude::*;

/// The rule.
pub const RULE: Rule = Rule {
    stages: &[Stage::Final],
    citations: &[cited("NEC", "2014", "702.7(A)")],
    parameters: &[],
    reads: &["/electrical"],
    ..Rule::new("standby-power/source-signs", "Signs that name the standby sources", check)
};

const WANTED: &str = "whether its sources are named at the service";

fn check(inquiry: &Inquiry) -> Vec<Finding> {
    crate::loads::transfers(inquiry)
        .first()
        .into_iter()
        .map(|transfer| {
            transfer.sheet(WANTED, |sheet| {
                let posted = need!(inquiry.project(), electrical.standby.signs_posted)?;
                let words = text!(
                    "{}",
                    if *posted { "a sign at the service names the source" } else { "no sign at the service names the source" }
                );
                if !sheet.require("sign", words.clone(), "NEC 702.7(A) (captaincode2014.leviton.com node 63)", *posted) {
                    sheet.cure_at(
                        text!("a sign at the service equipment: what the standby source is and where"),
                        &[(posted.pointer().to_owned(), json!(true))],
                    );
                }
                Ok(words)
            })
        })
        .collect()
}
