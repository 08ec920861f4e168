//! A brine tank can be opened and filled from above, and the valve head of a softener or tank filter can be lifted off.
//!
//! Salt comes in 40 lb bags: under a shelf nobody gets one up and over the rim, and the tank is moved into somebody else's
//! working space instead.
//!
//! **How it is measured.** From the top of the tank upwards over its whole footprint, to the ceiling or to whatever hangs there.
//!
//! **How it is fixed.** Move the tank from under what hangs over it, or raise that.

use crate::layout::{Layout, each};
use crate::thing::Thing;
use redtag_rule::prelude::*;
use redtag_rule_space::{length, solid_mark};
use uom::si::length::meter;

const SOURCE: &str = "common practice";
/// Over a lid.
const LID: Quantity<dimensions::Length> =
    Quantity::new("above_lid", "24 in", "Free height over the lid of a brine tank.", SOURCE).within("0 in", "6 ft");
/// Over a valve head.
const HEAD: Quantity<dimensions::Length> =
    Quantity::new("above_valve_head", "12 in", "Free height over the valve head of a softener or tank filter.", SOURCE)
        .within("0 in", "6 ft");

/// The rule.
pub const RULE: Rule = Rule {
    level: Level::Advice,
    citations: &[remembered("IRC", "2018", "P2909.1"), remembered("maker's instructions", "", "service clearance above")],
    parameters: &[&LID, &HEAD],
    reads: &["/spaces", "/equipment"],
    ..Rule::new("access/tank-lids", "Room over brine tanks and valve heads", check)
};

const WANTED: &str = "whether there is room above it";

fn check(inquiry: &Inquiry) -> Vec<Finding> {
    use EquipmentKind as K;
    let concerned = |one: &Equipment| matches!(one.kind, K::BrineTank | K::WaterSoftener | K::IronFilter | K::AcidNeutralizer);
    each(inquiry, concerned, WANTED, |layout, one| one.sheet(WANTED, |sheet| judge(inquiry, layout, one, sheet)))
}

fn judge<'a>(inquiry: &Inquiry<'a>, layout: &Layout<'a>, one: &Place<'a, Equipment>, sheet: &mut Sheet) -> Lookup<Text> {
    let (stand, ceiling) = (layout.stand(one), need!(layout.space, ceiling_height)).together()?;
    let wanted = if one.kind == EquipmentKind::BrineTank { inquiry.value(&LID) } else { inquiry.value(&HEAD) };
    let zone = stand.body.above(wanted.get::<meter>());
    let bodies = layout.others(one);
    let column = stand.body.above((ceiling.si() - stand.body.top()).max(0.0));
    let hanging = bodies.iter().filter(|other| column.overlap(&other.solid()).is_some());
    let lowest = hanging.min_by(|a, b| a.body.base.total_cmp(&b.body.base));
    let to_ceiling = (ceiling.si() - stand.body.top()).max(0.0);
    let free = lowest.map_or(to_ceiling, |other| (other.body.base - stand.body.top()).max(0.0).min(to_ceiling));
    if !sheet.at_least("free above", &length(free), &wanted, "in", SOURCE) {
        let thing = lowest.map(|other| Thing::Body(other));
        let name = thing.map_or_else(|| "the ceiling".to_owned(), |thing| thing.label());
        sheet.fault(text!(
            "{} of free height above it, {} is the least: {} is in the way",
            in_unit(length(free), "in"),
            in_unit(wanted, "in"),
            name
        ));
        sheet.mark(solid_mark(&layout.space, "free above", &zone));
        if let Some(thing) = thing {
            thing.show(&layout.space, sheet);
        }
        sheet.cure(text!("move it from under {}, or raise that by {}", name, in_unit(wanted - length(free), "in")));
    }
    if let (Some(lacking), true) = (layout.lacking.clone(), sheet.sound()) {
        sheet.lack(lacking);
    }
    Ok(text!("{} of free height above it", in_unit(length(free), "in")))
}
