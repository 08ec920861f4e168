//! A standpipe must stand high enough above its trap to hold a washer's surge and not so high that it siphons the trap.
//!
//! One that is too short foams over; one that is too tall lets the column of water pull the trap empty.
//!
//! **How it is measured.** Height of its top above the trap weir: 18 to 42 in, in the UPC 18 to 30 in with the trap itself 6 to
//! 18 in above the floor. One must be able to get at it.
//!
//! **How it is fixed.** The standpipe is cut or lengthened.

use crate::network::Network;
use crate::parameters::{CODE_FAMILY, family};
use redtag_handbook::drainage::CodeFamily;
use redtag_handbook::units::inches;
use redtag_rule::prelude::*;

/// The rule.
pub const RULE: Rule = Rule {
    citations: &[remembered("IRC", "2021", "P2706.1.2"), remembered("IPC", "2021", "802.4.3"), cited("UPC", "2018", "804.1")],
    parameters: &[&CODE_FAMILY],
    reads: &["/drainage"],
    ..Rule::new("drainage/standpipe", "Standpipes", check)
};

const WANTED: &str = "whether the standpipe has the right height";

fn check(inquiry: &Inquiry) -> Vec<Finding> {
    Network::of(inquiry)
        .drains
        .iter()
        .map(|drain| {
            if drain.kind != DrainKind::Standpipe {
                return drain.not_applicable(text!("a {} is no standpipe", drain.kind)).done();
            }
            drain.sheet(WANTED, |sheet| judge(inquiry, drain, sheet))
        })
        .collect()
}

fn judge(inquiry: &Inquiry, drain: &Place<Drain>, sheet: &mut Sheet) -> Lookup<Text> {
    let uniform = family(inquiry) == CodeFamily::Upc;
    let (least, most, source) =
        if uniform { (18.0, 30.0, "UPC 804.1") } else { (18.0, 42.0, "from memory of IRC P2706.1.2 (IPC 802.4.3)") };
    let (least, most) = (inches(least), inches(most));
    let height = sheet.want(need!(drain, above_weir));
    if let Some(height) = &height {
        let words =
            text!("its top is {} above the trap weir, it must be {} to {}", height, in_unit(least, "in"), in_unit(most, "in"));
        let actual = height.quantity();
        if !sheet.require("height", words, source, at_least(actual, least) && at_most(actual, most)) {
            let right = if at_most(actual, most) { least } else { most };
            let value = json!(quantity::Length::from_quantity(&right).print_in("in"));
            sheet.cure_at(text!("make it {}", in_unit(right, "in")), &[(height.pointer().to_owned(), value)]);
        }
    }
    if uniform && let Some(weir) = sheet.want(need!(drain, trap.weir)) {
        let (low, high) = (inches(6.0), inches(18.0));
        let words = text!("its trap is {} above the floor, it must be 6 to 18 in", in_unit(&weir, "in"));
        sheet.require("trap above the floor", words, source, at_least(weir.quantity(), low) && at_most(weir.quantity(), high));
    }
    if let Some(free) = sheet.want(need!(drain, accessible)) {
        let words = if *free { text!("one can get at it") } else { text!("one cannot get at it") };
        sheet.require("access", words, source, *free);
    }
    Ok(height.map_or_else(Text::default, |height| text!("{} above its trap weir", height)))
}
