//! Nothing is stored in the working space before electrical equipment.
//!
//! Boxes before a panel cost the seconds in which somebody has to get at the breaker, and they burn.
//!
//! **How it is measured.** By looking, when the house is finished: the floor before panels, disconnects, inverters and batteries.
//!
//! **How it is fixed.** Clear it, and mark the floor so that it stays clear.

use crate::gear;
use redtag_rule::prelude::*;

/// The rule.
pub const RULE: Rule = Rule {
    citations: &[remembered("NEC", "2020", "110.26(B)"), remembered("IRC", "2021", "E3405.4")],
    reads: &["/spaces", "/equipment", "/electrical"],
    stages: &[Stage::Final],
    ..Rule::new("clearances/working-space-storage", "Nothing stored in working spaces", check)
};

const WANTED: &str = "whether anything is stored in its working space";

fn check(inquiry: &Inquiry) -> Vec<Finding> {
    gear::each_indoors(inquiry, gear::is_worked_on, |equipment| {
        equipment.sheet(WANTED, |sheet| {
            let space = need!(equipment, space).and_then(|id| inquiry.space(&id))?;
            let stored = need!(space, storage_in_working_space)?;
            let words =
                if *stored { "something is stored in its working space" } else { "nothing is stored in its working space" };
            if !sheet.require("storage", text!("{}", words), "NEC 110.26(B), from memory", !*stored) {
                sheet.cure_at(text!("clear it"), &[(stored.pointer().to_owned(), json!(false))]);
            }
            Ok(text!("{}", words))
        })
    })
}
