//! What is to be hung and sealed, room by room: board in square feet and sheets, and every gap with the filling it needs.
//!
//! The other rules say what is wrong with each wall; this one adds it up for whoever orders and does the work.
//!
//! **How it is measured.** For each room: every wall and ceiling that a section asks board of, what is needed, what is there, and the
//! area still to be hung, faces less openings; then every penetration that is asked about, with what is there and what is needed.
//! Where a fact is missing the line says so, and the room's list is unresolved.
//!
//! It has the parameters of the rules it adds up; an amendment that changes one there changes it here as well.
//!
//! **How it is used.** As an order list. Sheets are counted without waste. Sealing and board of separations are inspected before they
//! are covered.

use crate::demand::{self, Demand, Held};
use crate::energy_storage_room as storage_room;
use crate::garage::{HABITABLE, NEAR, RESIDENCE, RESIDENCE_TYPE_X, STRUCTURE};
use crate::parameters::{COUNTING, EQUALS};
use crate::parts::{Part, parts_of, spaces};
use crate::rated::{TOWNHOUSES, TOWNHOUSES_SPRINKLERED, UNITS, UNITS_SPRINKLERED};
use crate::through::{self, Need};
use crate::{garage, storage, under_stairs};
use redtag_handbook::fire::{Face as Side, Filling, Standard, filled, sheets};
use redtag_rule::prelude::*;
use std::collections::BTreeMap;
use uom::si::f64::Area;

/// The rule.
pub const RULE: Rule = Rule {
    level: Level::Advice,
    citations: &[cited("IRC", "2021", "R302.6"), cited("IRC", "2021", "R302.11"), cited("IRC", "2021", "R328.4")],
    parameters: &[
        &RESIDENCE,
        &RESIDENCE_TYPE_X,
        &HABITABLE,
        &STRUCTURE,
        &NEAR,
        &COUNTING,
        &EQUALS,
        &storage_room::BOARD,
        &storage_room::SCOPE,
        &storage_room::PANEL,
        &under_stairs::BOARD,
        &UNITS,
        &UNITS_SPRINKLERED,
        &TOWNHOUSES,
        &TOWNHOUSES_SPRINKLERED,
        &through::SCOPE,
        &through::GROUTED,
    ],
    reads: &["/spaces", "/openings", "/ducts", "/equipment", "/electrical/storage", "/building"],
    ..Rule::new("fire-separation/work-list", "Board to hang and gaps to seal, room by room", check)
};

const WANTED: &str = "what is to be hung and sealed in it";

fn check(inquiry: &Inquiry) -> Vec<Finding> {
    let stored: Vec<String> = storage::rooms(inquiry)
        .iter()
        .filter(|room| storage::in_dwelling(&room.space))
        .map(|room| room.space.id.clone())
        .collect();
    let with_walls = spaces(inquiry).into_iter().filter(|space| space.assemblies.as_ref().is_some_and(|list| !list.is_empty()));
    with_walls.map(|space| one(inquiry, &space, stored.contains(&space.id))).collect()
}

fn one(inquiry: &Inquiry, space: &Place<Space>, stored: bool) -> Finding {
    space.sheet(WANTED, |sheet| {
        let mut work = Work::default();
        for part in parts_of(space) {
            for demand in sheet.want(demands(inquiry, &part, stored)).unwrap_or_default() {
                board(inquiry, &part, &demand, sheet, &mut work);
            }
            for seal in sheet.want(seals(inquiry, &part)).unwrap_or_default() {
                sheet.test(&seal.label, seal.words.clone(), seal.source, seal.holds);
                if !seal.holds {
                    work.gaps.push(text!("seal {}: {}", seal.label, seal.words));
                }
            }
        }
        work.said().into_iter().for_each(|line| sheet.advise(line));
        Ok(text!("no board to hang, no gap to seal"))
    })
}

/// What is to be done in a room.
#[derive(Default)]
struct Work {
    walls: Vec<Text>,
    totals: BTreeMap<String, (Text, Area)>,
    gaps: Vec<Text>,
}

impl Work {
    /// The list: totals first, then wall by wall, then the gaps.
    fn said(self) -> Vec<Text> {
        let total = |(needed, area): (Text, Area)| text!("hang {} of {} ({} sheets)", in_unit(area, "ft²"), needed, sheets(area));
        self.totals.into_values().map(total).chain(self.walls).chain(self.gaps).collect()
    }
}

/// The strictest demand on each side of a part: the room with stored energy, the garage, the space under a stair.
fn demands(inquiry: &Inquiry, part: &Part, stored: bool) -> Lookup<Vec<Demand>> {
    let mut all = Vec::new();
    if let Some((row, side)) = garage::row(inquiry, part)? {
        all.push(garage::demand(inquiry, row, side));
    }
    let upright = part.is_wall() || part.is_overhead();
    if stored && upright && matches!(storage_room::state(inquiry, part)?, storage_room::State::Demands) {
        all.push(storage_room::demand(inquiry));
    }
    if part.space.kind == SpaceKind::UnderStairs && upright {
        all.push(under_stairs::demand(inquiry));
    }
    let worst = |demand: &Demand| (demand.finish.type_x, demand.finish.gypsum);
    let strictest = |side: Side| {
        let of_side = all.iter().filter(|demand| demand.side == side);
        of_side.reduce(|a, b| if worst(b) > worst(a) { b } else { a }).cloned()
    };
    Ok([Side::This, Side::Beyond].into_iter().filter_map(strictest).collect())
}

fn board(inquiry: &Inquiry, part: &Part, demand: &Demand, sheet: &mut Sheet, work: &mut Work) {
    let needed = demand::finish_words(&demand.finish);
    let side = demand::side_words(demand.side);
    let label = part.assembly.label();
    let Some(held) = sheet.want(demand::held(part, demand)) else { return };
    if !matches!(held, Held::Lacking) {
        sheet.test(&label, text!("{} needed on the {}: there", needed, side), demand.source, true);
        return;
    }
    let Some((face, open)) = sheet.want(demand::missing_board(inquiry, part, demand)) else { return };
    let words = text!(
        "{} on the {}: {} to hang ({} of face, {} of openings)",
        needed,
        side,
        in_unit(open, "ft²"),
        in_unit(face.gross, "ft²"),
        in_unit(face.cut, "ft²")
    );
    sheet.test(&label, words.clone(), demand.source, false);
    work.walls.push(text!("{}: {}", label, words));
    let key = format!("{}{:.9}", demand.finish.type_x, demand.finish.gypsum.get::<uom::si::length::meter>());
    work.totals.entry(key).or_insert((needed, open * 0.0)).1 += open;
}

/// A penetration that is asked about: what is there, what is needed, whether it holds.
struct Sealed {
    label: String,
    words: Text,
    holds: bool,
    source: &'static str,
}

fn seals(inquiry: &Inquiry, part: &Part) -> Lookup<Vec<Sealed>> {
    let need = through::need_of(inquiry, part)?;
    if need == Need::Nothing {
        return Ok(Vec::new());
    }
    let list = need!(part.assembly, penetrations)?;
    let lines: Vec<Lookup<Sealed>> = list
        .items()
        .filter(|through| through.kind != PenetrationKind::Box)
        .map(|through| seal(inquiry, part, need, &through))
        .collect();
    lines.together()
}

fn seal(inquiry: &Inquiry, part: &Part, need: Need, through: &Place<Penetration>) -> Lookup<Sealed> {
    let said = need!(through, seal)?;
    let filling = through::filling(*said.get()).unwrap_or(Filling::Nothing);
    let (standard, needed) = match need {
        Need::Rated(rating) => {
            let masonry = crate::parts::mineral(part.framing()?);
            (
                Standard::Firestop { rating, masonry, grouted_pipe: inquiry.value(&through::GROUTED) },
                text!("listed firestop of {}", rating),
            )
        }
        _ => (Standard::Fireblock, text!("fireblocking")),
    };
    let hours = through.fire_rating.as_ref().map(|rating| rating.quantity());
    let diameter = through.diameter.as_ref().map(|diameter| diameter.quantity());
    let holds = filled(through::going(inquiry, through), filling, hours, diameter, standard)
        .ok_or_else(|| through.missing("/fire_rating"))?;
    let words = text!("{} through {}: {} needed, {} there", through.kind, part.assembly.id.clone(), needed, *said.get());
    Ok(Sealed { label: through.label(), words, holds, source: need.source() })
}
