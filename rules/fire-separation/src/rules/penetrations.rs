//! The gap around every pipe, wire, duct or vent through a separation or a floor line must be filled so that fire cannot pass.
//!
//! A plastic pipe melts out of its hole and leaves a chimney between stories. Through a garage separation, and wherever something
//! passes a ceiling or floor line of wood framing, the gap is filled with material approved as fireblocking; through a rated
//! assembly between dwelling units with a listed firestop as good as the assembly; around metal pipe material tested to hold back
//! flame as long will do.
//!
//! **How it is measured.** For each penetration: what is around it says which filling is asked for; its seal and the rating of the
//! seal are held against that. The gap is shown by its width and area. A separation or floor line that does not say whether
//! anything goes through it is unresolved; an empty list says that nothing does.
//!
//! **How it is fixed.** Fireblock foam, mineral wool or sealant approved for it; a listed system, with a collar for plastic pipe, in a
//! rated assembly. Ordinary sealant is neither.

use crate::area;
use crate::parts::{Part, mineral, parts};
use crate::rated::{TOWNHOUSES, TOWNHOUSES_SPRINKLERED, UNITS, UNITS_SPRINKLERED};
use crate::through::{self, GROUTED, Need, SCOPE};
use redtag_handbook::fire::{Annulus, Filling, Going, Standard, filled};
use redtag_rule::prelude::*;

/// The rule.
pub const RULE: Rule = Rule {
    citations: &[
        cited("IRC", "2021", "R302.5.3"),
        cited("IRC", "2021", "R302.11"),
        remembered("IRC", "2021", "R302.4"),
        cited("NEC", "2023", "300.21"),
    ],
    parameters: &[&SCOPE, &GROUTED, &UNITS, &UNITS_SPRINKLERED, &TOWNHOUSES, &TOWNHOUSES_SPRINKLERED],
    reads: &["/spaces", "/openings", "/ducts", "/building"],
    ..Rule::new("fire-separation/penetrations", "What goes through separations and floor lines", check)
};

const WANTED: &str = "whether the gap around it is filled as it must be";

fn check(inquiry: &Inquiry) -> Vec<Finding> {
    parts(inquiry).iter().flat_map(|part| of_part(inquiry, part)).collect()
}

fn of_part(inquiry: &Inquiry, part: &Part) -> Vec<Finding> {
    let need = match through::need_of(inquiry, part) {
        Ok(Need::Nothing) => return Vec::new(),
        Ok(need) => need,
        Err(unresolved) => return vec![part.assembly.ask(WANTED, || Err(unresolved))],
    };
    match need!(part.assembly, penetrations) {
        Err(unresolved) => vec![part.assembly.ask("whether anything goes through it unsealed", || Err(unresolved))],
        Ok(list) => {
            let others = list.items().filter(|through| through.kind != PenetrationKind::Box);
            others.map(|through| through.sheet(WANTED, |sheet| judge(inquiry, part, need, &through, sheet))).collect()
        }
    }
}

fn judge(inquiry: &Inquiry, part: &Part, need: Need, through: &Place<Penetration>, sheet: &mut Sheet) -> Lookup<Text> {
    gap(through, sheet);
    let seal = need!(through, seal)?;
    let Some(filling) = through::filling(*seal.get()) else { return Err(Unresolved::at(seal.pointer())) };
    let (standard, asked) = standard(inquiry, part, need)?;
    sheet.line("needed", asked.clone(), need.source());
    let hours = through.fire_rating.as_ref().map(|rating| rating.quantity());
    let diameter = through.diameter.as_ref().map(|diameter| diameter.quantity());
    let going = through::going(inquiry, through);
    let Some(holds) = filled(going, filling, hours, diameter, standard) else {
        return Err(through.missing(if filling == Filling::Grout { "/diameter" } else { "/fire_rating" }));
    };
    let there = match (*seal.get(), hours) {
        (Seal::ListedFirestop, Some(hours)) => text!("a listed firestop of {}", in_unit(hours, "h")),
        (Seal::TestedFill, Some(hours)) => text!("tested fill of {}", in_unit(hours, "h")),
        (seal, _) => text!("{}", seal),
    };
    if sheet.require(
        "seal",
        text!("{} through the {}: {}, where {} is asked for", through.kind, part.assembly.kind, there, asked),
        need.source(),
        holds,
    ) {
        return Ok(text!("sealed: {}", there));
    }
    cure(need, through, going, sheet);
    area::penetration_mark(part, through, "not sealed as it must be").into_iter().for_each(|mark| sheet.mark(mark));
    Ok(Text::default())
}

fn standard(inquiry: &Inquiry, part: &Part, need: Need) -> Lookup<(Standard, Text)> {
    Ok(match need {
        Need::Rated(rating) => {
            let masonry = mineral(part.framing()?);
            (
                Standard::Firestop { rating, masonry, grouted_pipe: inquiry.value(&GROUTED) },
                text!("a listed firestop of {} or more", rating),
            )
        }
        Need::Fireblock(place) => (Standard::Fireblock, text!("filling approved as fireblocking ({})", place)),
        Need::Nothing => (Standard::Fireblock, Text::default()),
    })
}

/// The gap by its width and area.
fn gap(through: &Place<Penetration>, sheet: &mut Sheet) {
    let (Some(hole), Some(diameter)) = (&through.hole, &through.diameter) else { return };
    match Annulus::of(hole.quantity(), diameter.quantity()) {
        Some(gap) => {
            let words = text!(
                "{} hole around {}: {} wide, {}",
                in_unit(hole.quantity(), "in"),
                in_unit(diameter.quantity(), "in"),
                in_unit(gap.width, "in"),
                in_unit(gap.area, "in²")
            );
            sheet.line("gap", words, "");
        }
        None => sheet.line("gap", text!("the hole is said to be smaller than what goes through it"), ""),
    }
}

fn cure(need: Need, through: &Place<Penetration>, going: Going, sheet: &mut Sheet) {
    let seal = format!("{}/seal", through.pointer());
    match need {
        Need::Rated(rating) => {
            let words = match (through.kind, going) {
                (PenetrationKind::PlasticPipe, _) => text!("a listed firestop with a collar, rated {}", rating),
                (_, Going::Duct { .. }) => text!("a fire damper, or a listed firestop rated {}", rating),
                _ => text!("a listed firestop rated {}", rating),
            };
            let rating = format!("{} min", rating.get::<uom::si::time::minute>().round());
            sheet.cure_at(
                words,
                &[(seal, json!("listed-firestop")), (format!("{}/fire_rating", through.pointer()), json!(rating))],
            );
        }
        _ => sheet.cure_at(text!("fill the gap with material approved as fireblocking"), &[(seal, json!("fireblocking"))]),
    }
}
