//! A vent connector rises all the way to its vent.
//!
//! Hot gas climbs; in a pipe that lies level or sags it slows, cools, drips and comes back out of the draft hood as carbon
//! monoxide. Work on vents is for a licensed contractor.
//!
//! **How it is measured.** The slope of every connector of a Category I appliance, up towards the vent.
//!
//! **How it is fixed.** Hang the connector to the slope, with supports that keep it there; lower the appliance's end, raise the
//! connection, or shorten the run.

use crate::appliances::{category, connectors, direct_vent};
use redtag_handbook::venting::sources;
use redtag_rule::prelude::*;

/// Least slope.
const SLOPE: Quantity<dimensions::Slope> =
    Quantity::new("least_slope", "1/4 in/ft", "How much a connector rises at least, per length.", "IFGC 503.10");

/// The rule.
pub const RULE: Rule = Rule {
    citations: &[cited("IRC", "2018", "G2427.10"), cited("IFGC", "2018", "503.10")],
    parameters: &[&SLOPE],
    reads: &["/vents", "/equipment"],
    ..Rule::new("venting/connector-slope", "Slope of vent connectors", check)
};

fn check(inquiry: &Inquiry) -> Vec<Finding> {
    let wanted = "whether it rises enough";
    connectors(inquiry)
        .iter()
        .map(|(vent, connector)| connector.sheet(wanted, |sheet| judge(inquiry, sheet, vent, connector)))
        .collect()
}

fn judge(inquiry: &Inquiry, sheet: &mut Sheet, vent: &Place<Vent>, connector: &Place<VentConnector>) -> Lookup<Text> {
    let appliance = inquiry.equipment(&need!(connector, equipment)?)?;
    if direct_vent(&appliance)? || category(&appliance)? != VentCategory::CategoryI {
        return Ok(text!("not a Category I connector: its instructions say how it slopes"));
    }
    let least = inquiry.value(&SLOPE);
    let slope = need!(connector, slope)?;
    let (said, bound) = (in_unit(&slope, "in/ft"), in_unit(crate::marks::slope(least), "in/ft"));
    let words = text!("rises {}, {} is the least", said, bound);
    if !sheet.require("slope", words, sources::CONNECTOR_SLOPE.text(), at_least(slope.si(), least.value)) {
        sheet.related(vent.pointer());
        let cure = match connector.length.as_ref().map(|length| length.quantity()) {
            Some(length) => text!(
                "hang it to {}: over its {} that is {} of rise",
                in_unit(crate::marks::slope(least), "in/ft"),
                in_unit(length, "ft"),
                in_unit(length * least.value, "in")
            ),
            None => text!("hang it to {}", in_unit(crate::marks::slope(least), "in/ft")),
        };
        sheet.cure_at(cure, &[(slope.pointer().to_owned(), json!(format!("{} in/ft", least.value * 12.0)))]);
        crate::marks::connector(sheet, &appliance, vent, &text_label(connector, "falls short of its slope"));
    }
    Ok(text!("rises {}", in_unit(&slope, "in/ft")))
}

fn text_label(connector: &Place<VentConnector>, what: &str) -> String {
    format!("{}: {what}", connector.id)
}
