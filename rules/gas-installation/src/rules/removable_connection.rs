//! An appliance must come off its gas pipe without cutting it: a union, a connector or tubing sits between the shutoff valve
//! and the appliance.
//!
//! Where nothing comes apart, whoever serves the appliance twists the joint of its gas valve, and that cracks.
//!
//! **How it is measured.** By what joins the appliance to its outlet. Where that is not said, a flexible connector listed for
//! it, or a shutoff valve said to be ahead of its union or connector, tells as much. A gas hose serves outdoors only.
//!
//! **How it is fixed.** A union between valve and appliance, or a listed connector.

use crate::{marks, parts};
use redtag_rule::prelude::*;

const SOURCE: &str = "from memory of IRC G2422.1 (IFGC 411.1)";
const QUICK: Flag =
    Flag::new("quick_disconnects_allowed", true, "Whether a listed quick-disconnect device may join an appliance.", SOURCE);

/// The rule.
pub const RULE: Rule = Rule {
    citations: &[remembered("IRC", "2021", "G2422.1"), remembered("IFGC", "2021", "411.1")],
    parameters: &[&QUICK],
    reads: &["/equipment", "/gas"],
    ..Rule::new("gas-installation/removable-connection", "Appliances that come off their gas pipe", check)
};

const WANTED: &str = "whether the appliance comes off its gas pipe";

fn check(inquiry: &Inquiry) -> Vec<Finding> {
    parts::each_appliance(inquiry, |appliance| appliance.sheet(WANTED, |sheet| judge(inquiry, appliance, sheet)))
}

fn judge(inquiry: &Inquiry, appliance: &Place<Equipment>, sheet: &mut Sheet) -> Lookup<Text> {
    let outlet = parts::outlet(inquiry, appliance);
    let Some((outlet, how)) = outlet.as_ref().and_then(|node| Some((node, need!(node, connection).ok()?))) else {
        return told_elsewhere(inquiry, appliance, outlet.as_ref());
    };
    sheet.related(outlet.pointer());
    let fault = match *how {
        ApplianceConnection::RigidWithoutUnion => Some(text!("rigid pipe without a union joins it")),
        ApplianceConnection::Hose if appliance.outdoors != Some(true) => Some(text!("a gas hose joins it indoors")),
        ApplianceConnection::QuickDisconnect if !inquiry.value(&QUICK) => Some(text!("a quick-disconnect does not do here")),
        _ => None,
    };
    let holds = fault.is_none();
    sheet.test("joined by", text!("{}", *how), SOURCE, holds);
    if let Some(fault) = fault {
        sheet.fault(fault);
        let cure = text!("fit a union between its shutoff valve and the appliance");
        sheet.cure_at(cure, &[(how.pointer().to_owned(), json!("union"))]);
        marks::node(sheet, outlet, "no union");
    }
    Ok(text!("joined by {}", *how))
}

fn told_elsewhere(inquiry: &Inquiry, appliance: &Place<Equipment>, outlet: Option<&Place<GasNode>>) -> Lookup<Text> {
    let connectors = need!(inquiry.project(), gas.connectors).every();
    if connectors.iter().any(|connector| connector.equipment.as_ref() == Some(&appliance.id)) {
        return Ok(text!("joined by a flexible connector"));
    }
    let valves = need!(inquiry.project(), gas.valves).every();
    let ahead =
        |valve: &Place<GasValve>| valve.equipment.as_ref() == Some(&appliance.id) && valve.upstream_of_union == Some(true);
    if valves.iter().any(ahead) {
        return Ok(text!("a union or connector comes behind its shutoff valve"));
    }
    Err(match outlet {
        Some(node) => node.missing("/connection"),
        None => Unresolved::because("/gas/nodes", format!("the outlet of {} and how it is joined", appliance.id)),
    })
}
