//! No fuel-gas pipe may run through a room set aside for batteries.
//!
//! A leak beside contacts that spark, or a pipe beside a battery that burns, makes one accident into two.
//!
//! **How it is measured.** A room of the kind battery room, or an electrical closet used for batteries alone, and the spaces
//! each gas pipe runs through. The section is written for batteries as such; for a listed storage system it is worth heeding
//! all the same. A shared mechanical room is no battery room.
//!
//! **How it is fixed.** Lead the pipe around, or stand the batteries in a room that is not set aside for them.

use crate::place;
use crate::units::{self, Unit};
use redtag_rule::prelude::*;

const SOURCE: &str = "NEC 480.10(F) of 2023";
/// Listed systems.
const LISTED_TOO: Flag = Flag::new(
    "listed_systems_too",
    false,
    "Whether the ban holds for listed storage systems as well, and not only for batteries as such.",
    "NEC 480.10(F) stands in article 480, storage systems in article 706; which of them holds is the authority's reading",
);

/// The rule.
pub const RULE: Rule = Rule {
    citations: &[cited("NEC", "2023", "480.10(F)")],
    parameters: &[&LISTED_TOO],
    reads: &["/spaces", "/equipment", "/gas/segments", "/electrical/storage"],
    ..Rule::new("energy-storage/gas-piping", "Gas pipe in battery rooms", check)
};

const WANTED: &str = "whether gas pipe runs through its room";

fn check(inquiry: &Inquiry) -> Vec<Finding> {
    units::each(inquiry, WANTED, |unit| match place::of(inquiry, unit) {
        Ok(standing) => match standing.space.filter(|space| space.kind == SpaceKind::BatteryRoom) {
            Some(space) => unit.unit.sheet(WANTED, |sheet| judge(inquiry, unit, &space, sheet)),
            None => unit.unit.not_applicable(text!("stands in no room set aside for batteries")).done(),
        },
        Err(unresolved) => unit.unit.ask(WANTED, || Err(unresolved)),
    })
}

fn judge<'a>(inquiry: &Inquiry<'a>, unit: &Unit<'a>, space: &Place<'a, Space>, sheet: &mut Sheet) -> Lookup<Text> {
    let listed = need!(unit.system, listing.listed).is_ok_and(|listed| *listed);
    for segment in need!(inquiry.project(), gas.segments).every() {
        let Some(spaces) = sheet.want(need!(segment, spaces)) else { continue };
        if !spaces.contains(&space.id) {
            continue;
        }
        sheet.related(segment.pointer());
        let words = text!("{} runs through {}, a room set aside for batteries", segment.label(), space.label());
        sheet.test("gas pipe", words.clone(), SOURCE, false);
        if listed && !inquiry.value(&LISTED_TOO) {
            sheet.advise(words);
        } else {
            sheet.fault(words);
            sheet.cure(text!("lead the pipe around the room"));
        }
    }
    Ok(text!("no gas pipe runs through {}", space.label()))
}
