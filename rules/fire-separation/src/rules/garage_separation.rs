//! Gypsum board must stand between a garage and the dwelling, on the garage's side, thicker and Type X under habitable rooms.
//!
//! A car fire fills a garage in minutes. The table asks for board that gives the household time to leave: towards the residence
//! and attics, under habitable rooms above, on the walls that carry such a floor or ceiling, and inside a garage that stands apart
//! but close to a dwelling.
//!
//! **How it is measured.** For each wall, floor and ceiling: what lies on its two sides picks the row of the table and the face;
//! the layers of that face are held against it. A board that leaves gaps counts for nothing; wood panels are no board, but do no
//! harm over or under one. Board is taken off in square feet: the face less its openings. Where the framing, the layers or
//! what lies beyond is not said, nothing is passed.
//!
//! **How it is fixed.** Hang the board on the garage's side, or show the authority that what is there is equal. The separation is
//! not a rated assembly; local amendments often ask for more. Fire safety is work for people who know the adopted code.

use crate::demand;
use crate::garage::{self, HABITABLE, NEAR, RESIDENCE, RESIDENCE_TYPE_X, STRUCTURE};
use crate::parameters::{COUNTING, EQUALS};
use crate::parts::{Part, parts, spaces};
use crate::zone::{self, Zone};
use redtag_rule::prelude::*;

/// The rule.
pub const RULE: Rule = Rule {
    citations: &[cited("IRC", "2021", "R302.6"), cited("IRC", "2021", "Table R302.6")],
    parameters: &[&RESIDENCE, &RESIDENCE_TYPE_X, &HABITABLE, &STRUCTURE, &NEAR, &COUNTING, &EQUALS],
    reads: &["/spaces", "/openings"],
    ..Rule::new("fire-separation/garage-separation", "Board between garage and dwelling", check)
};

const WANTED: &str = "whether it parts garage and dwelling as it must";

fn check(inquiry: &Inquiry) -> Vec<Finding> {
    let parts = parts(inquiry);
    let mut findings: Vec<Finding> = parts.iter().filter_map(|part| one(inquiry, part)).collect();
    findings.extend(spaces(inquiry).iter().filter(|space| undescribed(inquiry, space, &parts)).map(|space| {
        space.ask(WANTED, || {
            Err(Unresolved::because(
                format!("{}/assemblies", space.pointer()),
                "the walls and the ceiling of the garage and what lies beyond them",
            ))
        })
    }));
    findings
}

fn one(inquiry: &Inquiry, part: &Part) -> Option<Finding> {
    match garage::row(inquiry, part) {
        Ok(None) => None,
        Ok(Some((row, side))) => {
            let demand = garage::demand(inquiry, row, side);
            Some(part.assembly.sheet(WANTED, |sheet| demand::work(inquiry, part, &demand, sheet)))
        }
        Err(unresolved) => Some(part.assembly.ask(WANTED, || Err(unresolved))),
    }
}

/// Whether a garage attached to the dwelling has no wall or ceiling described, here or from the other side.
fn undescribed(inquiry: &Inquiry, space: &Place<Space>, parts: &[Part]) -> bool {
    let garage = space.kind == SpaceKind::AttachedGarage;
    let touches = |part: &Part| {
        let beyond = part.assembly.beyond.as_ref();
        part.space.id == space.id || beyond.and_then(|beyond| beyond.space.as_deref()) == Some(&space.id)
    };
    let separating = |part: &Part| !matches!(zone::beyond(inquiry, part), Ok(Zone::Open));
    garage && !parts.iter().any(|part| touches(part) && separating(part))
}
