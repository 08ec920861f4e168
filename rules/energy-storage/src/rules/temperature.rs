//! Batteries must stand where they stay within the temperatures their instructions allow.
//!
//! A lithium battery charged below freezing is damaged for good and may fail later; one that gets too hot ages fast and may run
//! away. An unheated garage, an attic, a wall in the sun are often outside.
//!
//! **How it is measured.** The lowest and highest temperature of the space, or of the site outdoors, against the range of the
//! system's instructions.
//!
//! **How it is fixed.** A place that stays within the range, or a listed enclosure that keeps it there.

use crate::place;
use crate::units::{self, Unit};
use redtag_rule::prelude::*;

/// The rule.
pub const RULE: Rule = Rule {
    citations: &[cited("NEC", "2020", "110.3(B)"), remembered("IRC", "2021", "R328.3")],
    parameters: &[],
    reads: &["/site", "/spaces", "/equipment", "/electrical/storage"],
    ..Rule::new("energy-storage/temperature", "Temperatures about batteries", check)
};

const WANTED: &str = "whether it stays within the temperatures it may stand in";
const SOURCE: &str = "the system's instructions; NEC 110.3(B)";

fn check(inquiry: &Inquiry) -> Vec<Finding> {
    units::each(inquiry, WANTED, |unit| unit.unit.sheet(WANTED, |sheet| judge(inquiry, unit, sheet)))
}

fn judge<'a>(inquiry: &Inquiry<'a>, unit: &Unit<'a>, sheet: &mut Sheet) -> Lookup<Text> {
    let standing = place::of(inquiry, unit)?;
    let (lowest, highest) = match &standing.space {
        Some(space) => (need!(space, lowest_temperature), need!(space, highest_temperature)),
        None => (need!(inquiry.project(), site.lowest_temperature), need!(inquiry.project(), site.cooling_design_temperature)),
    };
    let (least, most) = (need!(unit.system, temperature_minimum), need!(unit.system, temperature_maximum));
    if let Some((lowest, least)) = sheet.want((lowest, least).together()) {
        let words = text!("falls to {}, {} is the least", lowest, least);
        let holds = at_least(lowest.quantity(), least.quantity());
        fault_unless(sheet, "lowest temperature", words, holds);
    }
    if let Some((highest, most)) = sheet.want((highest, most).together()) {
        let words = text!("rises to {}, {} is the most", highest, most);
        let holds = at_most(highest.quantity(), most.quantity());
        fault_unless(sheet, "highest temperature", words, holds);
    }
    Ok(text!("its place stays within the temperatures it may stand in"))
}

fn fault_unless(sheet: &mut Sheet, label: &str, words: Text, holds: bool) {
    if !sheet.require(label, words, SOURCE, holds) {
        sheet.cure(text!("move it to a place that stays within that range, or put it in a listed enclosure that keeps it there"));
    }
}
