//! Walls and floors between dwelling units must have their rating, and show by which tested design.
//!
//! Neighbours sleep on the other side. A rating is a property of the whole assembly: framing, layers on both faces, fasteners,
//! joints, in the order that was tested. A listed design number is taken as claimed where a document stands behind it.
//!
//! **How it is measured.** For each wall, floor and ceiling between units, or that claims a rating: the rating asked for, the one
//! claimed, the design and its document. A wood stud wall with one layer of 5/8 in Type X board on each side, studs at most 16 in
//! apart and fireblocked, is taken for one hour without further proof.
//!
//! **How it is fixed.** Name the tested design and build it as it is drawn, from the first layer to the last; or hang the board
//! that is missing. Nothing here replaces the listing.

use crate::parts::{Part, burns, parts};
use crate::rated::{self, TOWNHOUSES, TOWNHOUSES_SPRINKLERED, UNITS, UNITS_SPRINKLERED};
use crate::{demand, faces};
use redtag_handbook::fire::{Answer, Face as Side, Finish, Rated, RatedFault, WallConstruction, hour_wall, sources};
use redtag_rule::prelude::*;
use uom::si::f64::Time;

/// Spacing of the studs of the one-hour wall.
const STUDS: Quantity<dimensions::Length> =
    Quantity::new("stud_spacing", "16 in", "Greatest spacing of the studs of the wall taken for one hour.", "UL Design U305");
/// Its board.
const BOARD: Quantity<dimensions::Length> =
    Quantity::new("rated_board", "5/8 in", "Least Type X gypsum board on each face of that wall.", "UL Design U305");

/// The rule.
pub const RULE: Rule = Rule {
    citations: &[remembered("IRC", "2021", "R302.2"), remembered("IRC", "2021", "R302.3")],
    parameters: &[&UNITS, &UNITS_SPRINKLERED, &TOWNHOUSES, &TOWNHOUSES_SPRINKLERED, &STUDS, &BOARD],
    reads: &["/spaces", "/building"],
    ..Rule::new("fire-separation/rated-assemblies", "Rated walls and floors", check)
};

const WANTED: &str = "whether it has the rating it must have";

fn check(inquiry: &Inquiry) -> Vec<Finding> {
    parts(inquiry).iter().filter_map(|part| one(inquiry, part)).collect()
}

fn one(inquiry: &Inquiry, part: &Part) -> Option<Finding> {
    let claimed = part.assembly.fire_rating.as_ref().map(|rating| rating.quantity());
    match (rated::required(inquiry, part), claimed) {
        (Err(unresolved), _) => Some(part.assembly.ask(WANTED, || Err(unresolved))),
        (Ok(None), None) => None,
        (Ok(Some(needed)), claimed) => Some(part.assembly.sheet(WANTED, |sheet| judge(inquiry, part, needed, claimed, sheet))),
        (Ok(None), Some(claimed)) => {
            Some(part.assembly.sheet(WANTED, |sheet| judge(inquiry, part, claimed, Some(claimed), sheet)))
        }
    }
}

fn judge(inquiry: &Inquiry, part: &Part, needed: Time, claimed: Option<Time>, sheet: &mut Sheet) -> Lookup<Text> {
    let source = sources::DWELLING_UNITS.text();
    if part.is_wall() && rated::townhouses(inquiry, part)? {
        cavity(part, sheet);
    }
    sheet.line("needed", text!("{}", needed), source);
    let (framing, layers) = (part.framing(), need!(part.assembly, layers)).together()?;
    sheet.line("this side", faces::words(layers.get(), Side::This), "");
    sheet.line("far side", faces::words(layers.get(), Side::Beyond), "");
    if let Some(claimed) = claimed
        && !sheet.at_least("rating", &claimed, &needed, "", source)
    {
        sheet.fault(text!("it is rated {}, {} is the least", in_unit(claimed, "h"), in_unit(needed, "h")));
        sheet.cure(text!("build it to a tested design of {} or more", needed));
        return Ok(Text::default());
    }
    if part.assembly.design.is_some() && evidence(part, sheet)? {
        return Ok(text!("{} as claimed, by its design and document", needed));
    }
    if burns(framing) && bare(inquiry, part) {
        let words = text!("it must be rated {} and has no board on a face", needed);
        sheet.require("board", words, source, false);
        sheet.cure(text!("build it to a tested design of {} or more, board on every face the design asks for", needed));
        return Ok(Text::default());
    }
    let hour = Time::new::<uom::si::time::hour>(1.0);
    if !part.is_wall() || !at_most(needed, hour) {
        let wanted = "the tested design it follows, and the document that shows it";
        return Err(Unresolved::because(format!("{}/design", part.assembly.pointer()), wanted));
    }
    by_construction(inquiry, part, sheet)
}

/// The cavity of a common wall of townhouses holds no plumbing, ducts, vents or equipment.
fn cavity(part: &Part, sheet: &mut Sheet) {
    let Some(clear) = sheet.want(need!(part.assembly, cavity_clear)) else { return };
    let words = text!("plumbing, ducts, vents or equipment run in the cavity of the common wall");
    if !*clear && !sheet.require("cavity", words, "from memory of IRC R302.2.2", false) {
        sheet.cure(text!("lead them through walls of the unit, or build two separate one-hour walls"));
    }
}

/// Whether the document behind the design stands.
fn evidence(part: &Part, sheet: &mut Sheet) -> Lookup<bool> {
    let design = need!(part.assembly, design)?;
    let document = need!(part.assembly, design_evidence.document)?;
    sheet.line("design", text!("{}, taken as claimed by {}", design.get().clone(), document.get().clone()), "");
    if let Some(accepted) = sheet.want(need!(part.assembly, design_evidence.accepted))
        && !*accepted
    {
        sheet.require("document", text!("the authority has not accepted {}", document.get().clone()), "", false);
        sheet.cure(text!("name a tested design the authority accepts, and build it as drawn"));
    }
    Ok(true)
}

/// Whether a face has no gypsum board, plaster or masonry at all.
fn bare(inquiry: &Inquiry, part: &Part) -> bool {
    let layers = part.assembly.layers.as_deref().unwrap_or_default();
    let none = |side| {
        faces::of(layers, side)
            .iter()
            .all(|layer| layer.on_face == Some(false) || layer.material.is_some_and(|material| !material.finishes()))
    };
    let _ = inquiry;
    none(Side::This) || (part.is_wall() && none(Side::Beyond))
}

/// The wall taken for one hour by what it is built of.
fn by_construction(inquiry: &Inquiry, part: &Part, sheet: &mut Sheet) -> Lookup<Text> {
    let rated = Rated { board: Finish::gypsum(inquiry.value(&BOARD), true), spacing: inquiry.value(&STUDS), ..Rated::default() };
    let layers = part.assembly.layers.as_deref().unwrap_or_default();
    let framing = part.assembly.framing.as_ref();
    let wall = WallConstruction {
        wood: framing.and_then(|framing| framing.material).map(|material| material == FramingMaterial::Wood),
        depth: framing.and_then(|framing| framing.member_depth.as_ref()).map(|depth| depth.quantity()),
        spacing: framing.and_then(|framing| framing.spacing.as_ref()).map(|spacing| spacing.quantity()),
        fireblocked: framing.and_then(|framing| framing.fireblocked),
        this: faces::of(layers, Side::This),
        beyond: faces::of(layers, Side::Beyond),
    };
    let mut met = true;
    for (label, answer) in hour_wall(&wall, &rated) {
        match answer {
            Answer::Depends(facts) => facts.into_iter().for_each(|fact| sheet.lack(Unresolved::at(pointer(part, fact)))),
            answer => {
                met &= sheet.test(label, text!("as in the one-hour wall of wood studs"), sources::HOUR_WALL.text(), answer.yes())
            }
        }
    }
    if !met {
        let wanted = "the tested design it follows: it is not the one-hour wall of wood studs";
        sheet.lack(Unresolved::because(format!("{}/design", part.assembly.pointer()), wanted));
        sheet.cure(text!(
            "{} on each face, on studs at most {} apart, fireblocked",
            demand::finish_words(&rated.board),
            in_unit(rated.spacing, "in")
        ));
    }
    Ok(text!("one hour by its construction: Type X board on both faces of wood studs"))
}

fn pointer(part: &Part, fact: RatedFault) -> String {
    let base = part.assembly.pointer();
    match fact {
        RatedFault::Framing => format!("{base}/framing/material"),
        RatedFault::Depth => format!("{base}/framing/member_depth"),
        RatedFault::Spacing => format!("{base}/framing/spacing"),
        RatedFault::Fireblocking => format!("{base}/framing/fireblocked"),
        RatedFault::Layer(index, fact) => faces::pointer(&format!("{base}/layers"), (index, fact)),
    }
}
