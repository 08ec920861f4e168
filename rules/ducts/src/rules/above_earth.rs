//! A duct in a crawl space must keep off the earth.
//!
//! Ducts that lie on damp ground rust, sweat and are eaten.
//!
//! **How it is measured.** For each duct that passes a crawl space: its height above the earth.
//!
//! **How it is fixed.** Hang it from the joists.

use crate::runs;
use redtag_handbook::ducts::sources;
use redtag_rule::prelude::*;

/// Height.
const ABOVE: Quantity<dimensions::Length> =
    Quantity::new("above_earth", "4 in", "Least height of a duct above the earth.", "from memory of IRC M1601.4.8");

/// The rule.
pub const RULE: Rule = Rule {
    citations: &[remembered("IRC", "2021", "M1601.4.8")],
    parameters: &[&ABOVE],
    reads: &["/ducts", "/spaces"],
    ..Rule::new("ducts/above-earth", "Ducts off the earth", check)
};

fn check(inquiry: &Inquiry) -> Vec<Finding> {
    need!(inquiry.project(), ducts).every().iter().filter_map(|duct| one(inquiry, duct)).collect()
}

fn one(inquiry: &Inquiry, duct: &Place<Duct>) -> Option<Finding> {
    const WANTED: &str = "whether it keeps off the earth";
    // What a combustion-air duct passes is asked about by its own family.
    let crawls: Vec<Place<Space>> = match runs::passed(inquiry, duct) {
        Ok(spaces) => spaces.into_iter().filter(|space| space.kind == SpaceKind::CrawlSpace).collect(),
        Err(unresolved) if duct.above_earth.is_none() && duct.spaces.is_some() => {
            return Some(duct.ask(WANTED, || Err(unresolved)));
        }
        Err(_) => Vec::new(),
    };
    if crawls.is_empty() && duct.above_earth.is_none() {
        return None;
    }
    Some(duct.sheet(WANTED, |sheet| {
        let height = need!(duct, above_earth)?;
        let least = inquiry.value(&ABOVE);
        if !sheet.at_least("above the earth", &height, &least, "in", sources::EARTH.text()) {
            sheet.fault(text!(
                "it is {} above the earth, {} is the least",
                in_unit(height.quantity(), "in"),
                in_unit(least, "in")
            ));
            sheet.cure_at(
                text!("hang it {} above the earth or more", in_unit(least, "in")),
                &[(
                    height.pointer().to_owned(),
                    json!(redtag_rule::schema::quantity::Length::from_quantity(&least).print_in("in")),
                )],
            );
        }
        Ok(text!("{} above the earth", in_unit(height.quantity(), "in")))
    }))
}
