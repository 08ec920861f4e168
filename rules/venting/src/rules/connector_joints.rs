//! A vent connector is fastened at every joint, held up, and nobody can shut it.
//!
//! A connector that slips apart lets the gases of a burner into the room; one that a damper shuts sends all of them there. Carbon
//! monoxide kills: vents are work for a licensed contractor.
//!
//! **How it is measured.** For every connector of a Category I appliance: whether its joints are fastened by screws, rivets or as its maker
//! says, whether it is supported, and whether a damper set by hand is in it.
//!
//! **How it is fixed.** Three screws a joint, hangers, and no damper.

use crate::appliances::{category, connectors, direct_vent};
use redtag_rule::prelude::*;

const SOURCE: &str = "from memory of IFGC 503.10";

/// The rule.
pub const RULE: Rule = Rule {
    citations: &[
        remembered("IRC", "2021", "G2427.10"),
        remembered("IRC", "2021", "G2427.14"),
        remembered("IFGC", "2021", "503.10"),
        remembered("IFGC", "2021", "503.14"),
    ],
    reads: &["/vents", "/equipment"],
    stages: &[Stage::RoughIn, Stage::Final],
    ..Rule::new("venting/connector-joints", "Joints and supports of vent connectors", check)
};

fn check(inquiry: &Inquiry) -> Vec<Finding> {
    let wanted = "whether it holds together and stays open";
    connectors(inquiry).iter().map(|(_, connector)| connector.sheet(wanted, |sheet| judge(inquiry, sheet, connector))).collect()
}

fn judge(inquiry: &Inquiry, sheet: &mut Sheet, connector: &Place<VentConnector>) -> Lookup<Text> {
    let appliance = inquiry.equipment(&need!(connector, equipment)?)?;
    if direct_vent(&appliance)? || category(&appliance)? != VentCategory::CategoryI {
        return Ok(text!("not a Category I connector: its instructions say how it is joined"));
    }
    let demands = [
        (
            need!(connector, fastened),
            true,
            "its joints are not fastened",
            "fasten every joint by screws or rivets, or as its maker says",
        ),
        (need!(connector, supported), true, "it is not supported", "hang it so that it neither sags nor comes apart"),
        (need!(connector, manual_damper), false, "a damper set by hand is in it", "take the damper out"),
    ];
    for (fact, wanted, fault, cure) in demands {
        let Some(fact) = sheet.want(fact) else { continue };
        let holds = *fact == wanted;
        let words = if holds { text!("as it must be") } else { text!("{}", fault) };
        if !sheet.require("connector", words, SOURCE, holds) {
            sheet.cure_at(text!("{}", cure), &[(fact.pointer().to_owned(), json!(wanted))]);
        }
    }
    Ok(text!("fastened, held up, and nobody can shut it"))
}
