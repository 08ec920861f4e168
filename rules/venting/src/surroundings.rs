//! What stands around the end of a vent: what its list says, and what the positions in the project say.

use redtag_handbook::venting::near::{Plan, to_band, to_piece, wall_direction};
use redtag_handbook::venting::wall::Offset;
use redtag_rule::prelude::*;
use uom::si::f64::Length;

/// Farther than any limit in use, in metres: what lies beyond is of no concern.
const REACH: f64 = 15.0;

/// Something near the end of a vent.
pub struct Thing {
    /// What it is.
    pub kind: NearbyKind,
    /// How far it is.
    pub offset: Offset,
    /// Where it stands in the project.
    pub pointer: String,
    /// What to call it.
    pub name: String,
    /// What would have to be said to know how far it is.
    pub missing: Vec<String>,
    /// Where it is, in metres.
    pub at: Option<[f64; 3]>,
}

impl Thing {
    /// Notes that its distance is not known well enough.
    pub fn lack(&self, sheet: &mut Sheet) {
        self.missing.iter().for_each(|pointer| sheet.lack(Unresolved::at(pointer)));
    }
}

/// The end of a vent with its vent.
pub struct End<'a> {
    /// The vent.
    pub vent: Place<'a, Vent>,
    /// Its end.
    pub terminal: Place<'a, VentTerminal>,
}

impl End<'_> {
    fn plan(&self) -> Option<Plan> {
        self.terminal.at.as_ref().map(|at| [at.x.si(), at.y.si()])
    }

    fn height(&self) -> Option<Length> {
        self.terminal.above_grade.as_ref().map(|height| height.quantity())
    }

    /// Where it is, in metres.
    pub fn at(&self) -> Option<[f64; 3]> {
        let [x, y] = self.plan()?;
        Some([x, y, self.height().map_or(0.0, |height| height.value)])
    }

    /// A line from it to a thing, or a point at it.
    pub fn mark(&self, sheet: &mut Sheet, thing: Option<&Thing>, label: &str) {
        let Some(at) = self.at() else { return };
        match thing.and_then(|thing| thing.at) {
            Some(place) => sheet.mark(line_mark(None, label, &[at, place])),
            None => sheet.mark(point_mark(None, label, at)),
        }
    }
}

/// The ends of vents of one kind.
pub fn ends<'a>(inquiry: &Inquiry<'a>, kind: TerminalKind) -> Vec<End<'a>> {
    let of = |vent: Place<'a, Vent>| need!(vent, terminal).ok().map(|terminal| End { vent, terminal });
    crate::appliances::vents(inquiry).into_iter().filter_map(of).filter(|end| end.terminal.kind == kind).collect()
}

/// Everything near it. Where its list is missing the sheet says so, and what the positions give is still told.
pub fn around(inquiry: &Inquiry, sheet: &mut Sheet, end: &End) -> Vec<Thing> {
    let listed = sheet.want(need!(end.terminal, nearby)).map(|list| list.items().collect::<Vec<_>>()).unwrap_or_default();
    let placed = placed(inquiry, end);
    let mut things: Vec<Thing> = listed.iter().map(|entry| from_entry(entry, &placed)).collect();
    let told = |thing: &&Placed| !listed.iter().any(|entry| entry.element.as_deref() == Some(thing.id.as_str()));
    things.extend(placed.iter().filter(told).map(Placed::thing));
    things
}

/// Something with a place in the project.
struct Placed {
    id: String,
    kind: NearbyKind,
    offset: Offset,
    pointer: String,
    missing: Vec<String>,
    at: Option<[f64; 3]>,
}

impl Placed {
    fn thing(&self) -> Thing {
        Thing {
            kind: self.kind,
            offset: self.offset,
            pointer: self.pointer.clone(),
            name: format!("{} {}", self.kind, self.id),
            missing: self.missing.clone(),
            at: self.at,
        }
    }
}

fn from_entry(entry: &Place<Nearby>, placed: &[Placed]) -> Thing {
    let stated = Offset {
        distance: entry.distance.as_ref().map(|part| part.quantity()),
        horizontal: entry.horizontal.as_ref().map(|part| part.quantity()),
        vertical: entry.vertical.as_ref().map(|part| part.quantity()),
    };
    let known = entry.element.as_ref().and_then(|id| placed.iter().find(|thing| &thing.id == id));
    let offset = known.map_or(stated, |known| Offset {
        distance: stated.distance,
        horizontal: stated.horizontal.or(known.offset.horizontal),
        vertical: stated.vertical.or(known.offset.vertical),
    });
    let mut missing = Vec::new();
    for (field, told) in [("horizontal", offset.horizontal.is_some()), ("vertical", offset.vertical.is_some())] {
        if !told {
            missing.push(format!("{}/{field}", entry.pointer()));
        }
    }
    let name = entry.element.as_ref().map_or_else(|| entry.kind.to_string(), |id| format!("{} {id}", entry.kind));
    Thing { kind: entry.kind, offset, pointer: entry.pointer().to_owned(), name, missing, at: known.and_then(|known| known.at) }
}

/// What the positions of the project say.
fn placed(inquiry: &Inquiry, end: &End) -> Vec<Placed> {
    let Some(plan) = end.plan() else { return Vec::new() };
    let mut things: Vec<Placed> =
        need!(inquiry.project(), openings).every().iter().filter_map(|o| opening(inquiry, end, plan, o)).collect();
    for vent in crate::appliances::vents(inquiry) {
        if vent.id != end.vent.id {
            things.extend(other_vent(end, plan, &vent));
        }
    }
    let gas = need!(inquiry.project(), gas.regulators).every();
    let outdoors = gas.iter().filter(|regulator| regulator.outdoors == Some(true) && regulator.space.is_none());
    things.extend(outdoors.filter_map(|r| point(plan, &r.id, NearbyKind::RegulatorVent, r.pointer(), r.at.as_ref())));
    let tanks = need!(inquiry.project(), gas.containers).every();
    things.extend(tanks.iter().filter_map(|t| point(plan, &t.id, NearbyKind::ContainerFill, t.pointer(), t.at.as_ref())));
    things.retain(|thing| thing.offset.horizontal.is_none_or(|part| part.value <= REACH));
    things
}

fn point(plan: Plan, id: &str, kind: NearbyKind, pointer: &str, at: Option<&Point>) -> Option<Placed> {
    let place = at.map(|at| [at.x.si(), at.y.si()])?;
    let (horizontal, _) = to_piece(plan, place, place);
    let offset = Offset { distance: None, horizontal: Some(horizontal), vertical: None };
    Some(Placed {
        id: id.to_owned(),
        kind,
        offset,
        pointer: pointer.to_owned(),
        missing: Vec::new(),
        at: Some([place[0], place[1], 0.0]),
    })
}

/// The outlet or the intake of another vent.
fn other_vent(end: &End, plan: Plan, vent: &Place<Vent>) -> Vec<Placed> {
    let mut found = Vec::new();
    let mut add = |kind, step: &str, at: Option<&Point>, height: Option<Length>| {
        let pointer = format!("{}{step}", vent.pointer());
        if let Some(mut thing) = point(plan, &vent.id, kind, &pointer, at) {
            thing.offset.vertical = end.height().zip(height).map(|(own, other)| own - other);
            if thing.offset.vertical.is_none() {
                thing.missing.push(format!("{pointer}/above_grade"));
            }
            found.push(thing);
        }
    };
    if let Some(terminal) = vent.terminal.as_ref().filter(|terminal| terminal.kind == TerminalKind::Wall) {
        add(NearbyKind::VentTerminal, "/terminal", terminal.at.as_ref(), terminal.above_grade.as_ref().map(|h| h.quantity()));
    }
    if let Some(intake) = vent.intake.as_ref() {
        add(NearbyKind::CombustionAirIntake, "/intake", intake.at.as_ref(), intake.above_grade.as_ref().map(|h| h.quantity()));
    }
    found
}

fn opening(inquiry: &Inquiry, end: &End, plan: Plan, opening: &Place<Opening>) -> Option<Placed> {
    use OpeningKind as K;
    if opening.beyond.as_ref()?.kind != BeyondKind::Outdoors {
        return None;
    }
    let kind = match opening.kind {
        K::Window if opening.operable == Some(false) => return None,
        K::Window => NearbyKind::OperableWindow,
        K::Door => NearbyKind::Door,
        K::Louver | K::BuildingVent | K::DuctTerminal | K::Hole | K::DoorlessOpening => NearbyKind::GravityInlet,
        _ => return None,
    };
    let place = opening.at.as_ref().map(|at| [at.x.si(), at.y.si()])?;
    let half = opening.width.as_ref().or(opening.diameter.as_ref()).map_or(0.0, |width| width.si() / 2.0);
    let along = direction(inquiry, opening, place).unwrap_or([0.0, 0.0]);
    let ends = [-half, half].map(|step| [place[0] + along[0] * step, place[1] + along[1] * step]);
    let (horizontal, nearest) = to_piece(plan, ends[0], ends[1]);
    let lower = opening.bottom_above_grade.as_ref().map(|height| height.quantity());
    let tall = opening.height.as_ref().or(opening.diameter.as_ref()).map(|height| height.quantity());
    let vertical = end.height().zip(lower.zip(tall)).map(|(own, (lower, tall))| to_band(own, lower, lower + tall));
    let mut missing = Vec::new();
    for (field, told) in [("bottom_above_grade", lower.is_some()), ("height", tall.is_some())] {
        if !told {
            missing.push(format!("{}/{field}", opening.pointer()));
        }
    }
    if end.height().is_none() {
        missing.push(format!("{}/above_grade", end.terminal.pointer()));
    }
    let z = lower.map_or(0.0, |lower| lower.value);
    Some(Placed {
        id: opening.id.clone(),
        kind,
        offset: Offset { distance: None, horizontal: Some(horizontal), vertical },
        pointer: opening.pointer().to_owned(),
        missing,
        at: Some([nearest[0], nearest[1], z]),
    })
}

/// Which way the wall of an opening runs: along the nearest edge of its space.
fn direction(inquiry: &Inquiry, opening: &Place<Opening>, place: Plan) -> Option<Plan> {
    let space = inquiry.space(&need!(opening, space).ok()?).ok()?;
    let outline: Vec<Plan> = space.outline.as_ref()?.iter().map(|point| [point.x.si(), point.y.si()]).collect();
    wall_direction(place, &outline)
}
