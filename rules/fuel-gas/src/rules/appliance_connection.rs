//! The pipe to an appliance should not be smaller than the appliance's own gas connection.
//!
//! A maker chooses the connection for the flow the appliance wants at its least inlet pressure. A pipe narrower than it may still
//! pass the sizing tables, over a short length; then the maker's instructions decide whether it will do.
//!
//! **How it is measured.** The nominal size of the last pipe before the outlet against that of the connection, where both are
//! stated. Corrugated tubing has no nominal size: its maker's end fitting is what matters, and the sizing table.
//!
//! **How it is fixed.** The size of the connection for the last pipe, or a line of the maker's instructions that allows less.

use crate::demand::Demand;
use crate::piping::{self, Piping};
use redtag_handbook::piping::NominalSize;
use redtag_rule::prelude::*;

/// The rule.
pub const RULE: Rule = Rule {
    level: Level::Advice,
    citations: &[remembered("IFGC", "2021", "402.4"), remembered("IRC", "2021", "G2413.4")],
    reads: &["/equipment", "/gas", "/site"],
    ..Rule::new("fuel-gas/appliance-connection", "The last pipe against the appliance's connection", check)
};

const WANTED: &str = "whether the pipe is as large as the appliance's connection";

fn check(inquiry: &Inquiry) -> Vec<Finding> {
    if !piping::is_drawn(inquiry) {
        return piping::nothing_drawn(inquiry);
    }
    // Where the gas comes from is asked by the rule about the graph.
    let Ok(piping) = Piping::of(inquiry) else { return Vec::new() };
    let demand = Demand::of(inquiry, &piping);
    let appliances = demand.appliances.iter().enumerate().filter_map(|(node, appliance)| Some((node, appliance.as_ref()?)));
    appliances.filter_map(|(node, appliance)| judge(&piping, node, appliance)).collect()
}

fn judge(piping: &Piping, node: usize, appliance: &Place<Equipment>) -> Option<Finding> {
    let Ok(connection) = need!(appliance, fuel_burning.gas_connection_size) else {
        return Some(appliance.not_applicable(text!("the size of its connection is not stated")).done());
    };
    let segment = &piping.segments[piping.network.feeder(node)?];
    if segment.material == Some(GasPipeMaterial::CorrugatedStainlessSteel) {
        return Some(appliance.not_applicable(text!("it hangs on corrugated tubing")).done());
    }
    Some(appliance.sheet(WANTED, |sheet| {
        let nominal = need!(segment, nominal_size)?;
        let (said, wanted) = (trade_size(nominal.quantity()), trade_size(connection.quantity()));
        let words = text!("{} to a connection of {}", said, wanted);
        if !sheet.test(
            "last pipe",
            words.clone(),
            "common practice: the maker sizes the connection",
            at_least(nominal.quantity(), connection.quantity()),
        ) {
            sheet.advise(text!("the pipe is {}, its connection {}: ask its maker, or enlarge the pipe", said, wanted));
            sheet.related(segment.pointer());
            piping.mark(piping.network.feeder(node).unwrap_or_default(), sheet);
        }
        Ok(words)
    }))
}

/// A size as the trade says it: 3/4 in, not 0.75.
fn trade_size(length: uom::si::f64::Length) -> Text {
    NominalSize::from_nominal(length).map_or_else(|| text!("{}", in_unit(length, "in")), |size| text!("{}", size.to_string()))
}
