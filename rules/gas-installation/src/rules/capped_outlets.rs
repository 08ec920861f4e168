//! An outlet that feeds nothing is closed gas-tight by a plug or a cap; a valve alone does not do.
//!
//! A child, a box pushed against it, a cat: a valve is opened without anybody knowing, and the room fills. If you smell gas, leave and
//! call from outside.
//!
//! **How it is measured.** For every outlet of the piping at which no appliance stands, also where one was taken away: whether it is closed
//! by a plug or cap.
//!
//! **How it is fixed.** A plug or cap of the pipe's size, put on by a licensed fitter and checked for leaks.

use crate::marks;
use redtag_rule::prelude::*;

const SOURCE: &str = "IRC G2417.6.2 (IFGC 406.6.2), 2018; G2415.13 from memory";

/// The rule.
pub const RULE: Rule = Rule {
    citations: &[cited("IRC", "2018", "G2417.6.2"), remembered("IRC", "2021", "G2415.13"), remembered("IFGC", "2021", "404.13")],
    reads: &["/gas", "/equipment"],
    ..Rule::new("gas-installation/capped-outlets", "Outlets that feed nothing", check)
};

fn check(inquiry: &Inquiry) -> Vec<Finding> {
    let nodes = need!(inquiry.project(), gas.nodes).every();
    let equipment = need!(inquiry.project(), equipment).every();
    let fed = |node: &Place<GasNode>| {
        let names = |item: &Place<Equipment>| {
            item.fuel_burning.as_ref().and_then(|burning| burning.gas_outlet.as_ref()) == Some(&node.id)
        };
        node.equipment.is_some() || equipment.iter().any(names)
    };
    let bare = |node: &&Place<GasNode>| node.kind == GasNodeKind::Outlet && !fed(node);
    nodes.iter().filter(bare).map(one).collect()
}

fn one(node: &Place<GasNode>) -> Finding {
    node.sheet("whether it is closed", |sheet| {
        let what = "whether a plug or cap closes it; or, at `equipment`, the appliance it feeds";
        let closed = need!(node, closed).map_err(|_| Unresolved::because(format!("{}/closed", node.pointer()), what))?;
        let words = text!("no appliance stands at it, and {} closes it", if *closed { "a plug or cap" } else { "nothing" });
        if !sheet.require("closed", words, SOURCE, *closed) {
            let cure = text!("have a licensed fitter close it by a plug or cap and check it for leaks");
            sheet.cure_at(cure, &[(closed.pointer().to_owned(), json!(true))]);
            marks::node(sheet, node, "open outlet");
        }
        Ok(text!("closed by a plug or cap"))
    })
}
