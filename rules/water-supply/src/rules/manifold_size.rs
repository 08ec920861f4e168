//! A manifold must be large enough for all the lines that begin at it.
//!
//! Where each outlet has a line of its own, the manifold carries what all of them draw together. Its table allows more speed than
//! that of branched pipe, since it is short: 12 ft/s in plastic, 8 ft/s in metal.
//!
//! **How it is measured.** The supply units behind the manifold, the flow they make likely, its material and nominal size.
//!
//! **How it is fixed.** The next size up, or two manifolds. Lines from a hot manifold are short and fill fast: **the first water at
//! a tap may already be hot enough to scald.**

use crate::figures::{CURVE, GROUPS, TABLE};
use crate::network::{self, Counting, Network, rounded};
use redtag_handbook::units;
use redtag_handbook::water::{NOMINAL, manifold_capacity};
use redtag_rule::prelude::*;

/// More or less.
const SHARE: Quantity<dimensions::Ratio> = Quantity::new(
    "share_of_table",
    "100 %",
    "The part of the table's flow that a manifold may carry here.",
    "from memory of 2018 IRC P2903.8.1",
)
.within("25 %", "100 %");

/// The rule.
pub const RULE: Rule = Rule {
    citations: &[remembered("IRC", "2018", "P2903.8.1"), remembered("IPC", "2018", "604.10.1")],
    parameters: &[&TABLE, &CURVE, &GROUPS, &SHARE],
    reads: &["/water"],
    ..Rule::new("water-supply/manifold-size", "A manifold large enough for its lines", check)
};

const WANTED: &str = "whether the manifold is large enough";

fn check(inquiry: &Inquiry) -> Vec<Finding> {
    let network = Network::of(inquiry);
    let judged = |pipe: Place<'_, WaterPipe>| {
        if pipe.kind != WaterPipeKind::Manifold {
            return pipe.not_applicable(text!("not a manifold")).done();
        }
        match &network {
            Ok(network) => pipe.sheet(WANTED, |sheet| judge(inquiry, network, &pipe, sheet)),
            Err(unresolved) => pipe.ask(WANTED, || Err(unresolved.clone())),
        }
    };
    need!(inquiry.project(), water.pipes).every().into_iter().map(judged).collect()
}

fn judge(inquiry: &Inquiry, network: &Network, pipe: &Place<WaterPipe>, sheet: &mut Sheet) -> Lookup<Text> {
    redtag_rule_water::all_fixtures(inquiry, sheet);
    let counting = Counting::new(inquiry.value(&TABLE), inquiry.value(&CURVE), inquiry.value(&GROUPS));
    let ((units, flow), tube, size) = (network.flow(pipe, counting), network::tube(pipe), need!(pipe, size)).together()?;
    let words = text!("{} supply units, {}", format!("{units:.1}"), in_unit(rounded(flow), "gpm"));
    sheet.line("flow", words, "IRC tables P2903.6 and P2903.6(1)");
    let share = inquiry.value(&SHARE);
    let unknown =
        || Unresolved::because(size.pointer(), "the maker's capacity of the manifold: the table has no line for this size");
    let most = manifold_capacity(tube, size.quantity()).ok_or_else(unknown)? * share;
    if !sheet.at_most("manifold", &flow, &most, "gpm", "IRC P2903.8.1, from memory") {
        sheet.fault(text!(
            "{} are likely, a manifold of {} carries {}",
            in_unit(rounded(flow), "gpm"),
            size,
            in_unit(most, "gpm")
        ));
        let carries =
            |size: &uom::si::f64::Length| manifold_capacity(tube, *size).is_some_and(|most| at_most(flow, most * share));
        if let Some(larger) = NOMINAL.into_iter().map(units::inches).find(carries) {
            let written = quantity::Length::from_quantity(&larger).print_in("in");
            sheet.cure_at(text!("a manifold of {}", in_unit(larger, "in")), &[(size.pointer().to_owned(), json!(written))]);
        }
    }
    Ok(text!("{} of the {} it carries", in_unit(rounded(flow), "gpm"), in_unit(most, "gpm")))
}
