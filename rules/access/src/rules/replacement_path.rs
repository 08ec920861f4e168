//! The largest piece of an appliance can be carried out through the door without taking away permanent construction or another
//! appliance.
//!
//! Houses are built around their furnaces: the walls are closed and the tanks set after the large piece has come in. It comes
//! out again on a cold night, and then a wall or a water softener has to go first. Heavy pieces crush; carrying them is work
//! for people who have the tools for it.
//!
//! **How it is measured.** The footprint of the largest piece is slid and turned, upright, from its place through the clear
//! width of a door and past the wall, and into the space beyond where that is drawn. Walls and everything else that stands as
//! low as the piece is tall are in its way; what is connected to the piece, and the door's leaf, are taken off. A path counts
//! only if every move of it is free over its whole sweep. A refusal counts only if it is proven: by a gap narrower than the
//! piece's lesser side, or because every place the piece could get to is closed off. What is neither found nor proven is said
//! to be undecided. After the door the doors on the way outdoors are compared with the lesser side.
//!
//! **How it is fixed.** Move the other of the pair by the length that is told, choose a piece that comes apart, or widen the
//! door.

use crate::layout::{Layout, each};
use crate::served;
use crate::thing::Thing;
use redtag_handbook::space::removal::{Budget, Carried, Carrying, Exit, Held, Piece, Pose, Scene};
use redtag_handbook::space::{Pair, Point, Room, Shape, dot, norm, turned, unit};
use redtag_rule::prelude::*;
use redtag_rule_space::{Door, Stand, length, line_between, outline_mark, room, standing};
use std::cell::Cell;
use std::collections::BTreeMap;

const SECTION: &str = "IRC M1305.1";
/// Whether the piece may be judged in plan.
const BEYOND: Flag = Flag::new(
    "way_outdoors",
    true,
    "Whether the doors on the way from the room to the outdoors are looked at too.",
    "common practice: the code speaks of the opening of the room",
);

/// The rule.
pub const RULE: Rule = Rule {
    citations: &[cited("IRC", "2018", "M1305.1"), cited("IRC", "2015", "P2801.4"), cited("IMC", "2018", "306.2")],
    parameters: &[&BEYOND],
    reads: &["/spaces", "/openings", "/equipment"],
    ..Rule::new("access/replacement-path", "Way out for the largest piece of an appliance", check)
};

const WANTED: &str = "whether its largest piece can be carried out";
/// Thickness of a wall whose other face is not drawn, in metres.
const WALL: f64 = 5.0 * 0.0254;
/// A wall is not thicker than this, in metres; farther away nothing belongs to the same door.
const THICK: f64 = 0.9;
/// Poses a first look for a way may try.
const QUICK: u32 = 1_500;
/// How deep two bodies may be drawn into each other and still count as touching, in metres: a quarter inch.
const DRAWN: f64 = 0.25 * 0.0254;

fn check(inquiry: &Inquiry) -> Vec<Finding> {
    // What all searches of one review may use together; the first ones seldom need their share.
    let budget = Cell::new(Budget { poses: 10_000, cells: 120_000 });
    each(inquiry, served::replaced, WANTED, |layout, one| {
        if served::passage_of_its_own(&layout.space) {
            return one.not_applicable(text!("stands in {}, which has a rule of its own", layout.space.label())).done();
        }
        one.sheet(WANTED, |sheet| judge(inquiry, layout, one, &budget, sheet))
    })
}

/// What is carried, and how tall it is.
struct Load<'a> {
    stand: Stand<'a>,
    piece: Piece,
    height: f64,
    /// Whether the project says which piece is the largest, or the whole body stands for it.
    said: bool,
}

fn judge<'a>(
    inquiry: &Inquiry<'a>,
    layout: &Layout<'a>,
    one: &Place<'a, Equipment>,
    budget: &Cell<Budget>,
    sheet: &mut Sheet,
) -> Lookup<Text> {
    if one.service.as_ref().and_then(|service| service.blocked_by_construction) == Some(true) {
        sheet.fault(text!("the project says that permanent construction or other equipment must be taken away to reach it"));
    }
    let (room, load, doors) = (layout.room.clone(), load(layout, one), layout.ways_in()).together()?;
    let others = layout.others(one);
    if let Some(other) = others.iter().find(|other| stands_in(&load, other)) {
        let why = format!("a place where it and {} do not stand in each other", other.equipment.label());
        return Err(Unresolved::because(format!("{}/placement/x", one.pointer()), why));
    }
    let size = text!(
        "{} by {}, {} high",
        in_unit(length(2.0 * (load.piece.half_width + load.piece.radius)), "in"),
        in_unit(length(2.0 * (load.piece.half_depth + load.piece.radius)), "in"),
        in_unit(length(load.height), "in")
    );
    sheet.line("largest piece", size, if load.said { "instructions" } else { "the whole body" });
    let mut tried = Vec::new();
    for door in doors {
        let trial = Trial::of(inquiry, layout, &room, door, &others, &load, budget);
        if let Outcome::Out(path) = &trial.outcome {
            return Ok(out(inquiry, layout, door, &load, path, sheet));
        }
        tried.push(trial);
    }
    // Another door, or another piece, may do.
    let lacking = layout.doors.iter().filter_map(|door| door.as_ref().err());
    let lacking = lacking.fold(layout.lacking.clone(), |before, more| Unresolved::joined(before, more.clone()));
    if let Some(unresolved) = lacking {
        return Err(unresolved);
    }
    if !load.said {
        return Err(Unresolved::because(
            format!("{}/service/largest_part", one.pointer()),
            "the largest piece that must be carried out: the whole body was not found to pass",
        ));
    }
    tried.iter().filter(|trial| trial.undecided()).for_each(|trial| trial.tell(layout, &load, sheet));
    if tried.iter().any(Trial::undecided) {
        return undecided(one, sheet);
    }
    tried.iter().for_each(|trial| trial.tell(layout, &load, sheet));
    Ok(text!("not carried out"))
}

/// Neither a way nor a proof: somebody must show the way, and where somebody says so, that is said.
fn undecided(one: &Place<Equipment>, sheet: &mut Sheet) -> Lookup<Text> {
    if one.service.as_ref().and_then(|service| service.blocked_by_construction) == Some(false) {
        sheet.advise(text!("the project says that nothing must be taken away to carry it out; the search neither found a way nor proved that there is none: show the way on the drawing"));
        return Ok(text!("as the project says"));
    }
    let wanted =
        "whether anything must be taken away to carry it out: the search neither found a way nor proved that there is none";
    Err(Unresolved::because(format!("{}/service/blocked_by_construction", one.pointer()), wanted))
}

/// Whether another body stands in the piece, deeper than drawing would explain.
fn stands_in(load: &Load, other: &Stand) -> bool {
    let low = other.body.base < load.stand.body.base + load.height - 1e-9 && other.body.top() > load.stand.body.base + 1e-9;
    low && load.piece.plan(&load.piece.pose()).overlap(&other.body.plan()).is_some_and(|depth| depth > DRAWN)
}

/// The largest piece: as said, else the whole body.
fn load<'a>(layout: &Layout<'a>, one: &Place<'a, Equipment>) -> Lookup<Load<'a>> {
    let stand = layout.stand(one)?;
    let body = &stand.body;
    let along = turned(body.front);
    let Some(part) = one.service.as_ref().and_then(|service| service.largest_part.as_ref()) else {
        let piece = if body.round {
            Piece::cylinder(body.middle, body.width)
        } else {
            Piece::rectangle(body.middle, along, body.width, body.depth)
        };
        return Ok(Load { piece, height: body.height, stand, said: false });
    };
    let at = |field: &str| one.missing(&format!("/service/largest_part/{field}"));
    let width = part.width.as_ref().map(|width| width.si()).ok_or_else(|| at("width"));
    let height = part.height.as_ref().map(|height| height.si()).ok_or_else(|| at("height"));
    if part.footprint == Some(Footprint::Circle) {
        let (width, height) = (width, height).together()?;
        return Ok(Load { piece: Piece::cylinder(body.middle, width), height, stand, said: true });
    }
    let depth = part.depth.as_ref().map(|depth| depth.si()).ok_or_else(|| at("depth"));
    let (width, depth, height) = (width, depth, height).together()?;
    Ok(Load { piece: Piece::rectangle(body.middle, along, width, depth), height, stand, said: true })
}

fn out(inquiry: &Inquiry, layout: &Layout, door: &Door, load: &Load, path: &[Pose], sheet: &mut Sheet) -> Text {
    let long: f64 = path.windows(2).map(|pair| norm(pair[1].middle - pair[0].middle)).sum();
    let round = load.piece.half_width + load.piece.half_depth <= 0.0;
    let turned = |pair: &[Pose]| dot(pair[0].along, pair[1].along).abs() < 1.0 - 1e-9;
    let turns = !round && path.windows(2).any(turned);
    let words = if turns { "turned on its way" } else { "without turning it" };
    sheet.test(
        "way out",
        text!("through {}, {} long, {}", door.opening.label(), in_unit(length(long), "ft"), words),
        SECTION,
        true,
    );
    let points: Vec<[f64; 3]> = path.iter().map(|pose| [pose.middle.x, pose.middle.y, 0.0]).collect();
    sheet.mark(line_mark(Some(&layout.space.id), "way out", &points));
    height(layout, door, load, sheet);
    if inquiry.value(&BEYOND) {
        outdoors(inquiry, layout, door, load, sheet);
    }
    text!("carried out through {}, {}", door.opening.label(), words)
}

/// Whether the piece passes the door standing.
fn height(layout: &Layout, door: &Door, load: &Load, sheet: &mut Sheet) {
    let Some(clear) = sheet.want(door.clear_height()) else { return };
    if sheet.at_least("height of the door", &length(clear), &length(load.height), "in", SECTION) {
        return;
    }
    let lesser = load.piece.lesser();
    let tipping = redtag_handbook::space::removal::tipping_height(load.height, lesser);
    let Some(ceiling) = sheet.want(need!(layout.space, ceiling_height)) else { return };
    let tips = sheet.at_least("ceiling to tip it under", &ceiling, &length(tipping), "in", "diagonal of its side");
    if tips {
        sheet.advise(text!(
            "it is taller than {}, {} clear: it must be tipped, which was not followed in plan",
            door.opening.label(),
            in_unit(length(clear), "in")
        ));
    } else {
        sheet.fault(text!(
            "it is {} high and {} is {} high clear; to tip it takes {} of ceiling, and there are {}",
            in_unit(length(load.height), "in"),
            door.opening.label(),
            in_unit(length(clear), "in"),
            in_unit(length(tipping), "in"),
            &ceiling
        ));
    }
}

/// The doors between the room and the outdoors: the best way by its narrowest door.
fn outdoors(inquiry: &Inquiry, layout: &Layout, door: &Door, load: &Load, sheet: &mut Sheet) {
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

/// How one door fared.
enum Outcome<'l, 'a> {
    Out(Vec<Pose>),
    /// A gap narrower than the lesser side: which, and between what.
    Gate(Pair, Thing<'l, 'a>, Thing<'l, 'a>),
    Blocked(Held),
    Undecided(Held),
}

struct Trial<'l, 'a> {
    door: &'l Door<'a>,
    things: Vec<Option<Thing<'l, 'a>>>,
    outcome: Outcome<'l, 'a>,
}

impl<'l, 'a> Trial<'l, 'a> {
    fn of(
        inquiry: &Inquiry<'a>,
        layout: &'l Layout<'a>,
        room: &Room,
        door: &'l Door<'a>,
        others: &[&'l Stand<'a>],
        load: &Load<'a>,
        budget: &Cell<Budget>,
    ) -> Self {
        // Carried at the height it hangs at, or set down first: either will do.
        let bands = if load.stand.body.base > 0.05 { vec![load.stand.body.base, 0.0] } else { vec![load.stand.body.base] };
        let raised = bands.len() > 1;
        let mut last = None;
        for base in bands {
            let trial = Self::at(inquiry, layout, room, door, others, (load, base), budget);
            if matches!(trial.outcome, Outcome::Out(_)) {
                return trial;
            }
            last = Some(trial);
        }
        let mut trial = last.unwrap_or_else(|| Self::at(inquiry, layout, room, door, others, (load, 0.0), budget));
        if raised && let Outcome::Blocked(held) = &trial.outcome {
            // Lifted over one thing and lowered under another it might still get out.
            trial.outcome = Outcome::Undecided(held.clone());
        }
        trial
    }

    fn at(
        inquiry: &Inquiry<'a>,
        layout: &'l Layout<'a>,
        room: &Room,
        door: &'l Door<'a>,
        others: &[&'l Stand<'a>],
        (load, base): (&Load<'a>, f64),
        budget: &Cell<Budget>,
    ) -> Self {
        let (things, shapes) = layout.pieces(room, door, false, others, (base, base + load.height));
        let start = load.piece.plan(&load.piece.pose());
        let drawn = shapes.iter().filter_map(|shape| shape.overlap(&start)).fold(0.0_f64, f64::max);
        let piece = shrunk(&load.piece, drawn);
        let (scene, exit) = beyond(inquiry, room, door, shapes, (load, base));
        let mut things: Vec<Option<Thing>> = things.into_iter().map(Some).collect();
        things.resize(scene.obstacles().len(), None);
        let mut left = budget.get();
        let mut share = Budget { poses: left.poses.min(Budget::ONE_PIECE.poses), cells: left.cells.min(Budget::ONE_PIECE.cells) };
        let before = share;
        let carrying = Carrying::new(&piece, &scene, &exit);
        let mut quick = Budget { poses: left.poses.min(QUICK), cells: 0 };
        let looked = quick.poses;
        let outcome = match carrying.quickly(&mut quick) {
            Some(path) => Outcome::Out(path),
            None => match gate(layout, room, door, load, (&piece, base)) {
                Some((pair, first, second)) => Outcome::Gate(pair, first, second),
                None => match carrying.carry(&mut share) {
                    Carried::Out(path) => Outcome::Out(path),
                    Carried::Blocked(held) => Outcome::Blocked(held),
                    Carried::Undecided(held) => Outcome::Undecided(held),
                },
            },
        };
        let used = looked - quick.poses + before.poses - share.poses;
        left.poses = left.poses.saturating_sub(used);
        left.cells -= before.cells - share.cells;
        budget.set(left);
        Self { door, things, outcome }
    }

    fn undecided(&self) -> bool {
        matches!(self.outcome, Outcome::Undecided(_))
    }

    fn label(&self, index: usize) -> String {
        let thing = self.things.get(index).copied().flatten();
        thing.map_or_else(|| "what is beyond the door".to_owned(), |thing| thing.label())
    }

    fn thing(&self, index: usize) -> Option<Thing<'l, 'a>> {
        self.things.get(index).copied().flatten()
    }

    /// Says why it does not get out by this door.
    fn tell(&self, layout: &Layout, load: &Load, sheet: &mut Sheet) {
        let door = self.door.opening.label();
        match &self.outcome {
            Outcome::Out(_) => {}
            Outcome::Gate(pair, first, second) => self.gate(layout, load, (*pair, *first, *second), sheet),
            Outcome::Blocked(held) => {
                let (names, pose) = (self.names(held), &held.at);
                sheet.test("way out", text!("through {}: every place it could get to is closed off", door), SECTION, false);
                sheet.fault(text!("it cannot be slid and turned out through {}: {} hold it", door, names));
                sheet.mark(outline_mark(&layout.space, "as far as it gets", load.piece.plan(pose).corners(), 0.0));
                held.by.iter().filter_map(|&index| self.thing(index)).for_each(|thing| thing.show(&layout.space, sheet));
                sheet.cure(text!("make more room between {}, or choose a piece that comes apart", names));
            }
            Outcome::Undecided(held) => {
                sheet.line("way out", text!("through {}: neither a way nor a proof that there is none was found", door), SECTION);
                sheet.mark(outline_mark(&layout.space, "as far as it was followed", load.piece.plan(&held.at).corners(), 0.0));
            }
        }
    }

    fn names(&self, held: &Held) -> String {
        let mut names: Vec<String> = Vec::new();
        for name in held.by.iter().map(|&index| self.label(index)) {
            if !names.contains(&name) {
                names.push(name);
            }
        }
        match names.as_slice() {
            [] => "the walls around it".to_owned(),
            [only] => format!("{only} and the walls around it"),
            [first, second, ..] => format!("{first} and {second}"),
        }
    }

    fn gate(&self, layout: &Layout, load: &Load, (pair, one, other): (Pair, Thing, Thing), sheet: &mut Sheet) {
        let (first, second) = (one.label(), other.label());
        let (wide, lesser) = (length(pair.distance), length(load.piece.lesser()));
        sheet.at_least("narrowest gap on its way", &wide, &lesser, "in", SECTION);
        let jambs = self.jambs(&pair, &one, &other);
        let short = load.piece.lesser() - pair.distance;
        if jambs {
            sheet.fault(text!(
                "{} is {} wide clear and the piece is {} across: it does not pass",
                self.door.opening.label(),
                in_unit(wide, "in"),
                in_unit(lesser, "in")
            ));
            sheet.related(self.door.opening.pointer());
            sheet.cure(text!("a door with {} of clear width", in_unit(lesser, "in")));
        } else {
            sheet.fault(text!(
                "between {} and {} there are {}, and the piece is {} across: it does not pass",
                first,
                second,
                in_unit(wide, "in"),
                in_unit(lesser, "in")
            ));
        }
        sheet.mark(line_between(&layout.space, "gap", pair.from, pair.to, 0.0));
        sheet.mark(outline_mark(&layout.space, "largest piece", load.piece.plan(&load.piece.pose()).corners(), 0.0));
        let Some(apart) = unit(pair.to - pair.from) else { return };
        for (thing, by) in [(one, apart * -short), (other, apart * short)] {
            thing.show(&layout.space, sheet);
            thing.move_cure(by, length(short), sheet);
        }
    }

    /// Whether the gap is the door itself.
    fn jambs(&self, pair: &Pair, one: &Thing, other: &Thing) -> bool {
        let door = &self.door.doorway;
        matches!((one, other), (Thing::Wall(_), Thing::Wall(_)))
            && (pair.distance - door.clear()).abs() < 1e-6
            && norm((pair.from + pair.to) / 2.0 - door.clear_middle()) < 1e-3
    }
}

/// The piece made smaller all around by what it is drawn into something else.
fn shrunk(piece: &Piece, by: f64) -> Piece {
    let less = |half: f64| if half > 0.0 { (half - by).max(1e-3) } else { 0.0 };
    Piece { half_width: less(piece.half_width), half_depth: less(piece.half_depth), radius: less(piece.radius), ..*piece }
}

/// The gap on the way out that is narrower than the piece's lesser side, and the two between which it lies.
fn gate<'l, 'a>(
    layout: &'l Layout<'a>,
    room: &Room,
    door: &'l Door<'a>,
    load: &Load<'a>,
    (piece, base): (&Piece, f64),
) -> Option<(Pair, Thing<'l, 'a>, Thing<'l, 'a>)> {
    let (things, ways) = layout.carrying(room, door);
    let own = load.stand.equipment.pointer();
    let counts = |index: usize| match things.get(index) {
        Some(Thing::Body(stand)) => {
            let low = stand.body.base < base + load.height - 1e-9 && stand.body.top() > base + 1e-9;
            low && stand.equipment.pointer() != own
        }
        _ => true,
    };
    let from = door.doorway.clear_middle() + door.doorway.out * 0.001;
    let pair = ways.pinch_among(from, piece.middle, counts)?;
    let (first, second) = (*things.get(pair.pieces.0)?, *things.get(pair.pieces.1)?);
    (!at_least(length(pair.distance), length(piece.lesser()))).then_some((pair, first, second))
}

/// The room with the way through the wall and, where it is drawn, the space beyond.
fn beyond(inquiry: &Inquiry, own: &Room, door: &Door, mut shapes: Vec<Shape>, (load, base): (&Load, f64)) -> (Scene, Exit) {
    let gap = &door.doorway;
    let (left, right) = gap.jambs();
    let hall = door.beyond.as_ref().and_then(|space| Some((space, room(space).ok()?)));
    let face = hall.and_then(|(space, hall)| {
        let (index, at) = hall.wall_near(gap.clear_middle() + gap.out * 0.05, THICK)?;
        let thick = dot(at - gap.clear_middle(), gap.out);
        let opposite = dot(hall.walls().get(index)?.out, gap.out) < -0.99;
        (opposite && (0.0..THICK).contains(&thick)).then_some((space, hall, index, thick))
    });
    let thick = face.as_ref().map_or(WALL, |(_, _, _, thick)| *thick);
    shapes.push(Shape::line(left, left + gap.out * thick));
    shapes.push(Shape::line(right, right + gap.out * thick));
    if let Some((space, hall, open, _)) = face {
        for (index, wall) in hall.walls().iter().enumerate() {
            if index != open {
                shapes.push(wall.face());
                continue;
            }
            for (end, jamb) in [(wall.from, right), (wall.from, left), (wall.to, right), (wall.to, left)] {
                let (jamb, other) = (jamb + gap.out * thick, if jamb == left { right } else { left });
                // The part of the wall from its end to the jamb that is nearer to that end.
                if norm(jamb - end) < norm(other + gap.out * thick - end) {
                    shapes.push(Shape::line(end, jamb));
                }
            }
        }
        for stand in standing(inquiry, space).0 {
            if stand.body.base < base + load.height && stand.body.top() > base {
                shapes.push(stand.body.plan());
            }
        }
    }
    let exit = Exit { middle: gap.clear_middle() + gap.out * thick, out: gap.out, width: gap.clear() };
    (Scene::new(shapes, bounds(own, &exit, load.piece.reach()), load.piece.reach()), exit)
}

/// The room, and as far beyond the exit as the piece can be while part of it is in the gap.
fn bounds(room: &Room, exit: &Exit, reach: f64) -> (Point, Point) {
    let side = turned(exit.out) * (exit.width / 2.0 + 2.0 * reach + 0.1);
    let far = exit.out * (2.0 * reach + 0.2);
    let corners = room.walls().iter().map(|wall| wall.from);
    let all = corners.chain([exit.middle + side, exit.middle - side, exit.middle + far + side, exit.middle + far - side]);
    let start = (exit.middle, exit.middle);
    all.fold(start, |(least, most), at| {
        let least = Point { x: least.x.min(at.x), y: least.y.min(at.y) };
        (least, Point { x: most.x.max(at.x), y: most.y.max(at.y) })
    })
}
