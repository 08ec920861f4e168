//! Beams, posts and headers that carry a floor or ceiling between a garage and the dwelling must be covered with gypsum board.
//!
//! A ceiling is no better than what holds it up. The table of garage separations asks for board on the structure that carries
//! the separating floor or ceiling, whether it is wood or steel; concrete and masonry stand by themselves.
//!
//! **How it is measured.** Each garage whose ceiling is part of the separation must say which beams and posts stand in it (an
//! empty list says none). Those that carry such a ceiling, or that do not say what they carry, are held to the row. Board is
//! taken off over the sides that show: three of a beam, four of a post.
//!
//! **How it is fixed.** Wrap the member in board. Walls that carry the ceiling are asked about by `garage-separation`.

use crate::garage::{self, STRUCTURE};
use crate::parameters::{COUNTING, EQUALS, counting};
use crate::parts::{Part, mineral, parts_of, spaces};
use crate::zone::{self, Zone};
use crate::{demand, faces};
use redtag_handbook::fire::{Answer, GarageRow, face_meets, sheets, sources};
use redtag_rule::prelude::*;

/// The rule.
pub const RULE: Rule = Rule {
    citations: &[cited("IRC", "2021", "Table R302.6")],
    parameters: &[&STRUCTURE, &COUNTING, &EQUALS],
    reads: &["/spaces", "/openings"],
    ..Rule::new("fire-separation/garage-structure", "Beams and posts under the garage's ceiling", check)
};

const WANTED: &str = "whether the structure under the separation is covered";

fn check(inquiry: &Inquiry) -> Vec<Finding> {
    let garages = spaces(inquiry).into_iter().filter(|space| zone::of_space(inquiry, space) == Ok(Zone::Garage));
    garages.flat_map(|garage| of_garage(inquiry, &garage)).collect()
}

fn of_garage(inquiry: &Inquiry, garage: &Place<Space>) -> Vec<Finding> {
    match garage::ceiling_separates(inquiry, garage) {
        Ok(false) => Vec::new(),
        Err(unresolved) => vec![garage.ask(WANTED, || Err(unresolved))],
        Ok(true) => match need!(garage, supports) {
            Err(unresolved) => vec![garage.ask(WANTED, || Err(unresolved))],
            Ok(supports) => supports
                .items()
                .filter(|support| concerns(inquiry, garage, support))
                .map(|support| one(inquiry, &support))
                .collect(),
        },
    }
}

/// Whether a beam or post carries a ceiling of the separation; one that does not say what it carries may.
fn concerns(inquiry: &Inquiry, garage: &Place<Space>, support: &Support) -> bool {
    let Some(carried) = &support.carries else { return true };
    let separating = |part: &Part| {
        carried.contains(&part.assembly.id) && !matches!(zone::beyond(inquiry, part), Ok(Zone::Open | Zone::Garage))
    };
    parts_of(garage).iter().any(separating)
}

fn one(inquiry: &Inquiry, support: &Place<Support>) -> Finding {
    support.sheet(WANTED, |sheet| {
        let finish = garage::table(inquiry).finish(GarageRow::Structure).clone();
        let needed = demand::finish_words(&finish);
        let (_, material, layers) = (need!(support, carries), need!(support, material), need!(support, layers)).together()?;
        if mineral(*material.get()) {
            return Ok(text!("concrete or masonry stands by itself"));
        }
        match face_meets(&faces::around(layers.get()), &finish, counting(inquiry)) {
            Answer::Yes => {}
            Answer::Depends(facts) => faces::lack(sheet, layers.pointer(), facts),
            Answer::No => {
                let words = text!("{} carries a floor or ceiling of the garage's separation without {}", support.kind, needed);
                sheet.require("cover", words, sources::GARAGE_TABLE.text(), false);
                lacking(support, sheet, &needed);
            }
        }
        Ok(text!("covered with {} or better", needed))
    })
}

fn lacking(support: &Place<Support>, sheet: &mut Sheet, needed: &Text) {
    let (Some(width), Some(depth), Some(length)) = (&support.width, &support.depth, &support.length) else {
        sheet.cure(text!("wrap it in {}", needed));
        return;
    };
    let (width, depth, length) = (width.quantity(), depth.quantity(), length.quantity());
    let around = if support.kind == SupportKind::Post { (width + depth) * 2.0 } else { width + depth * 2.0 };
    let board = around * length;
    sheet.line(
        "to hang",
        text!("{}, {} sheets of 4 ft by 8 ft at least", in_unit(board, "ft²"), sheets(board)),
        sources::TAKEOFF.text(),
    );
    sheet.cure(text!("wrap it in {} of {}", in_unit(board, "ft²"), needed));
    if let Some(at) = &support.at {
        sheet.mark(point_mark(None, "bare structure", [at.x.si(), at.y.si(), 0.0]));
    }
}
