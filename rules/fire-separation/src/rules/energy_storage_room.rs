//! A room of the dwelling that batteries stand in must be finished, and bare wood framing there needs 5/8 in Type X board.
//!
//! A battery fire is long and hot, and its gases burn. The section lets batteries into closets, basements, storage and utility
//! rooms only where walls and ceiling are finished or do not burn; unfinished wood framing takes Type X board.
//!
//! **How it is measured.** For each such room: its walls and ceiling, on the inside. Board, plaster, tile or masonry over the whole
//! face is a finish; a bare structural panel is none unless the rulebook says so. The walls described must close the outline
//! of the room. Later editions ask for a solid, self-latching, self-closing door as well.
//!
//! **How it is fixed.** Hang 5/8 in Type X board, over or under a panel that equipment is screwed to; close the gaps. Batteries
//! are work for licensed trades; listing and instructions may ask for more.

use crate::demand::{self, Demand};
use crate::parameters::{COUNTING, counting};
use crate::parts::{Part, burns, mineral, parts_of};
use crate::storage::{self, StorageRoom};
use crate::{area, faces};
use redtag_handbook::fire::{Answer, Face as Side, Finish, Layer as Known, LayerFact, Material, sources};
use redtag_rule::prelude::*;
use redtag_rule::ways;

/// The board.
pub const BOARD: Quantity<dimensions::Length> = Quantity::new(
    "storage_room_board",
    "5/8 in",
    "Least Type X gypsum board on wood framing in a room with stored energy.",
    "IRC R328.4 item 4",
)
.within("1/2 in", "2 in")
.figure();
/// Which walls.
pub const SCOPE: Choice = Choice::new(
    "type_x_scope",
    "unfinished-framing",
    &["unfinished-framing", "every-wall"],
    "Whether Type X board is asked for on unfinished wood framing only, or on every wall and ceiling of wood framing.",
    "IRC R328.4 item 4 as printed; some authorities ask for it everywhere",
)
.figure();
/// Whether a panel is a finish.
pub const PANEL: Flag = Flag::new(
    "panel_is_finish",
    false,
    "Whether plywood or oriented strand board alone counts as a finished wall.",
    "common practice: it burns, and authorities differ",
)
.figure();
/// What is small.
const LEAST: Quantity<dimensions::Energy> =
    Quantity::new("exempt_below", "1 kWh", "Stored energy below this is exempt.", "IRC R328.1, as a state amendment prints it");
/// The door.
const DOOR: Flag = Flag::new(
    "door_required",
    false,
    "Whether doors between the room and the dwelling must be solid or rated, and close and latch by themselves.",
    "IRC 2024 R330.4 item 4; not in the 2021 edition",
);
/// Thickness of that door.
const LEAF: Quantity<dimensions::Length> =
    Quantity::new("door_thickness", "1 3/8 in", "Least thickness of a solid door of the room.", "IRC 2024 R330.4 item 4");

/// The rule.
pub const RULE: Rule = Rule {
    citations: &[cited("IRC", "2021", "R328.4"), cited("NFPA 855", "2023", "15.5"), cited("IRC", "2024", "R330.4")],
    parameters: &[&BOARD, &SCOPE, &PANEL, &COUNTING, &LEAST, &DOOR, &LEAF],
    reads: &["/spaces", "/equipment", "/electrical/storage", "/openings"],
    ..Rule::new("fire-separation/energy-storage-room", "Walls and ceiling around stored energy", check)
};

const WANTED: &str = "whether the room with stored energy is finished as it must be";
/// Share of the outline that walls may leave undescribed: their thickness at the corners.
const OPEN_OUTLINE: f64 = 0.05;

fn check(inquiry: &Inquiry) -> Vec<Finding> {
    let rooms = storage::rooms(inquiry);
    let judged = rooms.iter().filter(|room| storage::in_dwelling(&room.space)).flat_map(|room| of_room(inquiry, room));
    judged.chain(storage::roomless(inquiry, WANTED)).collect()
}

fn of_room(inquiry: &Inquiry, room: &StorageRoom) -> Vec<Finding> {
    let least = inquiry.value(&LEAST);
    if room.energy.as_ref().is_ok_and(|energy| !at_least(*energy, least)) {
        return vec![room.space.not_applicable(text!("stored energy of less than {} is exempt", least)).done()];
    }
    let mut findings = vec![room.space.sheet(WANTED, |_| closed(&room.space))];
    findings
        .extend(parts_of(&room.space).iter().filter(|part| part.is_wall() || part.is_overhead()).map(|part| one(inquiry, part)));
    if inquiry.value(&DOOR) {
        findings.extend(doors(inquiry, &room.space));
    }
    findings
}

/// Whether the project describes all walls of the room and its ceiling.
fn closed(space: &Place<Space>) -> Lookup<Text> {
    let assemblies = need!(space, assemblies)?;
    let parts = parts_of(space);
    let missing = |what: &str| Err(Unresolved::because(assemblies.pointer(), what));
    if !parts.iter().any(Part::is_overhead) {
        return missing("the ceiling of the room");
    }
    let outline = need!(space, outline)?;
    let around = area::perimeter(outline.get());
    let walls: f64 = parts.iter().filter(|part| part.is_wall()).filter_map(area::run).sum();
    if walls < around * (1.0 - OPEN_OUTLINE) {
        return missing("the walls of the room: those described do not close its outline");
    }
    Ok(text!("its walls and ceiling are described"))
}

fn one(inquiry: &Inquiry, part: &Part) -> Finding {
    part.assembly.sheet(WANTED, |sheet| match state(inquiry, part)? {
        State::Holds(words) => Ok(words),
        State::Demands => demand::work(inquiry, part, &demand(inquiry), sheet),
    })
}

/// How a wall of such a room stands.
pub enum State {
    /// It is finished, or does not burn.
    Holds(Text),
    /// It must have the board.
    Demands,
}

/// Whether a wall of such a room must have the board.
///
/// # Errors
/// Where the framing or a layer that decides is not said.
pub fn state(inquiry: &Inquiry, part: &Part) -> Lookup<State> {
    let layers = need!(part.assembly, layers);
    let (framing, layers) = (part.framing(), layers).together()?;
    let known = faces::of(layers.get(), Side::This);
    if mineral(framing) || (!burns(framing) && !lined_with_wood(&known, layers.pointer())?) {
        return Ok(State::Holds(text!("framing of {} does not burn", framing)));
    }
    if inquiry.value(&SCOPE) == "every-wall" {
        return Ok(State::Demands);
    }
    let panel = inquiry.value(&PANEL);
    match Answer::any(known.iter().enumerate().map(|(index, layer)| finish(layer, panel).map(|fact| (index, fact)))) {
        Answer::Yes => Ok(State::Holds(text!("finished: {}", faces::words(layers.get(), Side::This)))),
        Answer::No => Ok(State::Demands),
        Answer::Depends(facts) => Err(unsaid(layers.pointer(), facts)),
    }
}

/// Whether a layer that burns is on the face.
fn lined_with_wood(known: &[Known], list: &str) -> Lookup<bool> {
    let burning = |layer: &Known| {
        let burns = layer.material.map(|material| !material.finishes() && !material.noncombustible());
        Answer::all([Answer::of(layer.on_face, LayerFact::Face), Answer::of(burns, LayerFact::Material)])
    };
    match Answer::any(known.iter().enumerate().map(|(index, layer)| burning(layer).map(|fact| (index, fact)))) {
        Answer::Yes => Ok(true),
        Answer::No => Ok(false),
        Answer::Depends(facts) => Err(unsaid(list, facts)),
    }
}

fn unsaid(list: &str, facts: Vec<(usize, LayerFact)>) -> Unresolved {
    let missing = facts.into_iter().map(|fact| Unresolved::at(faces::pointer(list, fact))).reduce(Unresolved::and);
    missing.unwrap_or_else(|| Unresolved::at(list))
}

/// Whether a layer finishes the face.
fn finish(layer: &Known, panel: bool) -> Answer<LayerFact> {
    let of_panel = |material| panel && matches!(material, Material::StructuralPanel | Material::Wood);
    Answer::all([
        Answer::of(layer.on_face, LayerFact::Face),
        Answer::of(layer.complete, LayerFact::Complete),
        Answer::of(layer.material.map(|material| material.finishes() || of_panel(material)), LayerFact::Material),
    ])
}

/// The board such a wall must have.
pub fn demand(inquiry: &Inquiry) -> Demand {
    Demand {
        why: "room with stored energy",
        finish: Finish::gypsum(inquiry.value(&BOARD), true),
        side: Side::This,
        counting: counting(inquiry),
        source: sources::STORAGE_ROOM.text(),
    }
}

/// The doors of the room into the dwelling.
fn doors(inquiry: &Inquiry, space: &Place<Space>) -> Vec<Finding> {
    let wanted = "whether the door of the room with stored energy is right";
    let ways = match ways::openings_of(inquiry, space) {
        Ok(ways) => ways,
        Err(unresolved) => return vec![space.ask(wanted, || Err(unresolved))],
    };
    let doors = ways.into_iter().filter(|way| way.opening.kind == OpeningKind::Door);
    let into = doors.filter(|way| !matches!(way.behind, Ok(ways::Behind::Elsewhere(BeyondKind::Outdoors))));
    into.map(|way| {
        way.opening.sheet(wanted, |sheet| {
            // A door of the room whose other side is not said is taken for one into the dwelling; one that may be no door of it is asked.
            if way.own.is_none() {
                way.behind.map(|_| ())?;
            }
            door(inquiry, &way.opening, sheet)
        })
    })
    .collect()
}

fn door(inquiry: &Inquiry, opening: &Place<Opening>, sheet: &mut Sheet) -> Lookup<Text> {
    let source = sources::STORAGE_DOOR.text();
    crate::leaf::leaf(opening, sheet, inquiry.value(&LEAF), source);
    crate::leaf::whole(opening, sheet, source);
    if let Some(closing) = sheet.want(need!(opening, door.self_closing)) {
        sheet.require("closing", text!("it must close by itself"), source, *closing);
    }
    if let Some(latching) = sheet.want(need!(opening, door.self_latching)) {
        sheet.require("latching", text!("it must latch by itself"), source, *latching);
    }
    Ok(text!("solid or rated, closes and latches by itself"))
}
