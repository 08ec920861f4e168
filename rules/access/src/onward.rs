//! The way of a piece from the door of its room to the outdoors.

use crate::carrying::{Load, Outcome, Trial};
use crate::layout::Layout;
use redtag_handbook::space::removal::{Budget, Piece, Pose};
use redtag_rule::prelude::*;
use redtag_rule_space::{Door, length};
use std::cell::Cell;
use std::collections::BTreeMap;

const SECTION: &str = "IRC M1305.1";

/// How far a piece was followed.
pub enum Followed {
    /// It gets outdoors, through these.
    Out(Vec<String>),
    /// The drawing does not say enough.
    Unknown(Unresolved),
    /// It is held, and that is proven; in words.
    Held(String),
    /// A dead end: no way leads on from there.
    Nowhere,
}

impl Followed {
    /// What outweighs what: a way out, then what is not known, then a proof that there is none.
    pub fn rank(&self) -> u8 {
        match self {
            Self::Out(_) => 3,
            Self::Unknown(_) => 2,
            Self::Held(_) => 1,
            Self::Nowhere => 0,
        }
    }
}

/// Follows a piece that has come through a door until it is outdoors.
pub fn follow<'a>(
    inquiry: &Inquiry<'a>,
    door: &Door<'a>,
    load: &Load<'a>,
    end: &Pose,
    seen: &mut Vec<String>,
    budget: &Cell<Budget>,
) -> Followed {
    if door.outdoors {
        return Followed::Out(vec![door.opening.label()]);
    }
    let Some(space) = door.beyond.clone() else { return Followed::Unknown(door.opening.missing("/beyond")) };
    let first = seen.len() == 1;
    seen.push(space.id.clone());
    if space.kind == SpaceKind::Stairway {
        let what = format!("whether anything must be taken away to carry it over {}, which is not followed", space.label());
        let at = format!("{}/service/blocked_by_construction", load.stand.equipment.pointer());
        return Followed::Unknown(Unresolved::because(at, what));
    }
    let layout = Layout::of(inquiry, &space);
    let room = match &layout.room {
        Ok(room) => room.clone(),
        Err(unresolved) => return Followed::Unknown(unresolved.clone()),
    };
    let load = carried(load, end);
    let others: Vec<_> = layout.stands.iter().collect();
    let lacking = layout.doors.iter().filter_map(|door| door.as_ref().err());
    let lacking = lacking.fold(layout.lacking.clone(), |before, more| Unresolved::joined(before, more.clone()));
    let mut ways: Vec<&Door> =
        layout.doors.iter().flatten().filter(|way| way.opening.pointer() != door.opening.pointer()).collect();
    ways.sort_by_key(|way| !way.outdoors);
    let mut best = Followed::Nowhere;
    for way in ways {
        if way.beyond.as_ref().is_some_and(|beyond| seen.contains(&beyond.id)) {
            continue;
        }
        let trial = Trial::of(inquiry, &layout, &room, way, &others, &load, budget);
        let followed = match &trial.outcome {
            Outcome::Out(path) => {
                let end = path.last().copied().unwrap_or_else(|| load.piece.pose());
                match follow(inquiry, way, &load, &end, seen, budget) {
                    Followed::Out(mut ways) if !way.outdoors => {
                        ways.insert(0, way.opening.label());
                        Followed::Out(ways)
                    }
                    followed => followed,
                }
            }
            Outcome::Undecided(_) => {
                let what = "whether anything must be taken away to carry it out: the search neither found a way nor a proof";
                let at = format!("{}/service/blocked_by_construction", load.stand.equipment.pointer());
                Followed::Unknown(Unresolved::because(at, what))
            }
            _ => Followed::Held(format!("in {} it does not get to {}", space.label(), way.opening.label())),
        };
        if followed.rank() > best.rank() {
            best = followed;
        }
        if matches!(best, Followed::Out(_)) {
            break;
        }
    }
    match (best, lacking) {
        (Followed::Out(_) | Followed::Held(_) | Followed::Nowhere, Some(unresolved)) => Followed::Unknown(unresolved),
        (Followed::Nowhere, None) if first => {
            let what = format!("the way outdoors from {}: the doors of the spaces on it", space.label());
            Followed::Unknown(Unresolved::because("/openings", what))
        }
        (best, _) => best,
    }
}

/// The piece where it has come to, set down.
fn carried<'a>(load: &Load<'a>, end: &Pose) -> Load<'a> {
    let mut stand = load.stand.clone();
    stand.body.base = stand.body.base.min(0.0);
    let piece = Piece { middle: end.middle, along: end.along, ..load.piece };
    Load { stand, piece, height: load.height, said: load.said }
}

/// The doors between the room and the outdoors: the best way by its narrowest door, where the spaces between are not drawn.
pub fn widths(inquiry: &Inquiry, layout: &Layout, door: &Door, load: &Load, sheet: &mut Sheet) {
    if door.outdoors {
        return;
    }
    let Some(first) = door.beyond.as_ref() else { return };
    let mut best: BTreeMap<String, f64> =
        BTreeMap::from([(layout.space.id.clone(), f64::INFINITY), (first.id.clone(), door.doorway.clear())]);
    let mut outside: Option<(f64, String)> = None;
    let ways: Vec<(String, Option<String>, f64, String)> =
        need!(inquiry.project(), openings).every().iter().filter_map(way).collect();
    for _ in 0..=ways.len() {
        let mut changed = false;
        for (here, there, clear, label) in &ways {
            let ends = [(Some(here), there.as_ref()), (there.as_ref(), Some(here))];
            for (from, to) in ends {
                let Some(width) = from.and_then(|from| best.get(from)).map(|width| width.min(*clear)) else { continue };
                match to {
                    Some(to) if width > best.get(to).copied().unwrap_or(0.0) => {
                        best.insert(to.clone(), width);
                        changed = true;
                    }
                    None if outside.as_ref().is_none_or(|(before, _)| width > *before) => {
                        outside = Some((width, label.clone()));
                        changed = true;
                    }
                    _ => {}
                }
            }
        }
        if !changed {
            break;
        }
    }
    let Some((width, label)) = outside else { return };
    let lesser = load.piece.lesser();
    if !sheet.at_least("narrowest door on the way outdoors", &length(width), &length(lesser), "in", SECTION) {
        sheet.fault(text!(
            "the widest way outdoors, by {}, is {} wide at its narrowest door; the piece needs {}",
            label,
            in_unit(length(width), "in"),
            in_unit(length(lesser), "in")
        ));
    }
}

/// An opening as a way between two spaces, or from one to the outdoors.
fn way(opening: &Place<Opening>) -> Option<(String, Option<String>, f64, String)> {
    use OpeningKind as K;
    if !matches!(opening.kind, K::Door | K::DoorlessOpening | K::VehicleDoor) {
        return None;
    }
    let clear = opening.door.as_ref().and_then(|door| door.clear_width.as_ref()).or(opening.width.as_ref())?.si();
    let beyond = opening.beyond.as_ref()?;
    let there = match beyond.kind {
        BeyondKind::Outdoors => None,
        _ => Some(beyond.space.clone()?),
    };
    Some((opening.space.clone()?, there, clear, opening.label()))
}
