//! Carrying a piece out of a room by one of its doors: what is tried, how it fared, what is told.

use crate::layout::Layout;
use crate::thing::Thing;
use redtag_handbook::space::removal::{Budget, Carried, Carrying, Exit, Held, Piece, Pose, Scene};
use redtag_handbook::space::{Pair, Point, Room, Shape, norm, turned, unit};
use redtag_rule::prelude::*;
use redtag_rule_space::{Door, Stand, length, line_between, outline_mark};
use std::cell::Cell;

const SECTION: &str = "IRC M1305.1";
/// Poses a first look for a way may try.
const QUICK: u32 = 1_500;
/// How deep two bodies may be drawn into each other and still count as touching, in metres: a quarter inch.
const DRAWN: f64 = 0.25 * 0.0254;

/// What is carried, and how tall it is.
pub struct Load<'a> {
    /// The appliance.
    pub stand: Stand<'a>,
    /// The piece where it is now.
    pub piece: Piece,
    /// Its height.
    pub height: f64,
    /// Whether the project says which piece is the largest, or the whole body stands for it.
    pub said: bool,
}

/// Whether another body stands in the piece, deeper than drawing would explain.
pub fn stands_in(load: &Load, other: &Stand) -> bool {
    let low = other.body.base < load.stand.body.base + load.height - 1e-9 && other.body.top() > load.stand.body.base + 1e-9;
    low && load.piece.plan(&load.piece.pose()).overlap(&other.body.plan()).is_some_and(|depth| depth > DRAWN)
}

/// A piece that stands in a wall where it is now was drawn or measured wrong: nothing can be said of its way.
pub fn in_the_walls(room: &Room, load: &Load, one: &Place<Equipment>) -> Lookup<()> {
    let plan = load.piece.plan(&load.piece.pose());
    let deep = room.walls().iter().filter_map(|wall| wall.face().overlap(&plan)).fold(0.0_f64, f64::max);
    if deep <= DRAWN && room.contains(plan.middle()) {
        return Ok(());
    }
    let (at, what) = if load.said {
        ("/service/largest_part", "a largest piece that has room where the appliance stands: this one reaches into the walls")
    } else {
        ("/placement/x", "a place where it does not stand in the walls")
    };
    Err(Unresolved::because(format!("{}{at}", one.pointer()), what))
}

/// The largest piece: as said, else the whole body.
pub fn load<'a>(layout: &Layout<'a>, one: &Place<'a, Equipment>) -> Lookup<Load<'a>> {
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

/// How one door fared.
pub enum Outcome<'l, 'a> {
    /// It gets out this way.
    Out(Vec<Pose>),
    /// A gap narrower than the lesser side: which, and between what.
    Gate(Pair, Thing<'l, 'a>, Thing<'l, 'a>),
    /// Every place it could get to is closed off.
    Blocked(Held),
    /// Neither a way nor a proof.
    Undecided(Held),
}

/// One door tried.
pub struct Trial<'l, 'a> {
    door: &'l Door<'a>,
    things: Vec<Option<Thing<'l, 'a>>>,
    /// How it fared.
    pub outcome: Outcome<'l, 'a>,
}

impl<'l, 'a> Trial<'l, 'a> {
    /// Tries a door.
    pub fn of(
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
        let (things, shapes) = layout.pieces(room, door, false, (others, Some(&load.stand)), (base, base + load.height));
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

    /// Whether neither a way nor a proof was found.
    pub fn undecided(&self) -> bool {
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
    pub fn tell(&self, layout: &Layout, load: &Load, sheet: &mut Sheet) {
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
            thing.move_cure(layout, by, length(short), sheet);
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
        Some(Thing::Run(run)) => {
            let low = run.solid.bottom < base + load.height - 1e-9 && run.solid.top > base + 1e-9;
            low && !run.joins(&load.stand.equipment.id, &load.stand.body)
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
    let there = crate::beyond::add(inquiry, door, (base, base + load.height), false, &mut shapes);
    let exit = Exit { middle: gap.clear_middle() + gap.out * there.thick, out: gap.out, width: gap.clear() };
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
