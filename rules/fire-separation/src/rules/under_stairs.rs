//! A closet or room under a stair needs gypsum board on its walls and on the underside of the stair.
//!
//! The stair is the way out, and whatever burns under it takes it away. The section asks for board on the enclosed side of an
//! accessible space under a stair; a mechanical closet there is the common case.
//!
//! **How it is measured.** For each space under a stair that has a way in: every wall and the soffit above, on the inside. A space
//! that nobody can get into is left alone. Concrete and masonry stand by themselves.
//!
//! **How it is fixed.** Board on the inside of the closet, everywhere, before equipment is set.

use crate::demand::{self, Demand};
use crate::parameters::{COUNTING, counting};
use crate::parts::{Part, parts_of, spaces};
use redtag_handbook::fire::{Face as Side, Finish, sources};
use redtag_rule::prelude::*;

/// The board.
pub const BOARD: Quantity<dimensions::Length> =
    Quantity::new("under_stair_board", "1/2 in", "Least gypsum board inside the space under a stair.", "IRC R302.7")
        .within("3/8 in", "2 in")
        .figure();

/// The rule.
pub const RULE: Rule = Rule {
    citations: &[cited("IRC", "2021", "R302.7")],
    parameters: &[&BOARD, &COUNTING],
    reads: &["/spaces", "/openings"],
    ..Rule::new("fire-separation/under-stairs", "Board under a stair", check)
};

const WANTED: &str = "whether the space under the stair is lined";

fn check(inquiry: &Inquiry) -> Vec<Finding> {
    spaces(inquiry)
        .iter()
        .filter(|space| space.kind == SpaceKind::UnderStairs)
        .flat_map(|space| of_space(inquiry, space))
        .collect()
}

fn of_space(inquiry: &Inquiry, space: &Place<Space>) -> Vec<Finding> {
    let opens = |opening: Place<Opening>| {
        let there = opening.beyond.as_ref().and_then(|beyond| beyond.space.clone());
        opening.space.as_deref() == Some(&space.id) || there.as_deref() == Some(&space.id)
    };
    let openings = match need!(inquiry.project(), openings) {
        Ok(openings) => openings,
        Err(unresolved) => return vec![space.ask(WANTED, || Err(unresolved))],
    };
    let nowhere = openings.items().find(|opening| {
        let way_in = matches!(opening.kind, OpeningKind::Door | OpeningKind::DoorlessOpening | OpeningKind::Hatch);
        way_in && opening.space.is_none()
    });
    if let Some(opening) = nowhere
        && !openings.items().any(opens)
        && space.access.is_none()
    {
        return vec![space.ask(WANTED, || Err(opening.missing("/space")))];
    }
    if !openings.items().any(opens) && space.access.is_none() {
        return vec![space.not_applicable(text!("nobody can get into it")).done()];
    }
    match need!(space, assemblies) {
        Err(unresolved) => vec![space.ask(WANTED, || Err(unresolved))],
        Ok(_) => {
            parts_of(space).iter().filter(|part| part.is_wall() || part.is_overhead()).map(|part| one(inquiry, part)).collect()
        }
    }
}

fn one(inquiry: &Inquiry, part: &Part) -> Finding {
    let demand = demand(inquiry);
    part.assembly.sheet(WANTED, |sheet| demand::work(inquiry, part, &demand, sheet))
}

/// The board every wall and the soffit must have.
pub fn demand(inquiry: &Inquiry) -> Demand {
    Demand {
        why: "space under a stair",
        finish: Finish::gypsum(inquiry.value(&BOARD), false),
        side: Side::This,
        counting: counting(inquiry),
        source: sources::UNDER_STAIRS.text(),
    }
}
