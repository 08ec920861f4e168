//! A burner whose gases a separate fan draws off does not fire before that fan is proven to run.
//!
//! A power venter that stands still is a shut vent: all the burner makes comes out of the draft hood. Carbon monoxide kills; vents and
//! controls are work for a licensed contractor.
//!
//! **How it is measured.** For every appliance with a separate fan in its vent: whether a switch proves the fan before the main burner can
//! fire and stops it when the fan fails.
//!
//! **How it is fixed.** The pressure or flow switch of the venter's maker, wired into the burner's controls.

use crate::appliances::may_have;
use redtag_rule::prelude::*;

/// The rule.
pub const RULE: Rule = Rule {
    citations: &[remembered("IRC", "2021", "G2427.3.3"), remembered("IFGC", "2021", "503.3.3")],
    reads: &["/equipment"],
    ..Rule::new("venting/power-venter", "Power venters proven to run", check)
};

fn check(inquiry: &Inquiry) -> Vec<Finding> {
    let all = need!(inquiry.project(), equipment).every();
    let vented = |item: &&Place<Equipment>| may_have(item, Burner::PowerVenter);
    all.iter().filter(vented).map(one).collect()
}

fn one(appliance: &Place<Equipment>) -> Finding {
    appliance.sheet("whether its burner waits for its fan", |sheet| {
        kinds::burns(appliance)?;
        need!(appliance, fuel_burning.burner)?;
        let proven = need!(appliance, fuel_burning.venter_proven)?;
        let words = text!("its burner {} before its fan is proven to run", if *proven { "cannot fire" } else { "can fire" });
        if !sheet.require("proof", words, "from memory of IFGC 503.3.3", *proven) {
            let cure = text!("wire in the switch of the venter's maker that proves the fan before the main burner fires");
            sheet.cure_at(cure, &[(proven.pointer().to_owned(), json!(true))]);
        }
        Ok(text!("its burner cannot fire before its fan is proven to run"))
    })
}
