//! The search for a working space: where it could be, how deep, what is in its way, how that comes free.

use crate::amounts::inches;
use crate::moving::{Move, shortest};
use crate::runs::Run;
use crate::scene::{Scene, Thing, marks};
use crate::{gear, surface};
use redtag_handbook::clearance::electrical::{self, Condition, Depths};
use redtag_handbook::space::{Blocked, Face, Side, Solid, TOUCHING, dot};
use redtag_rule::prelude::*;
use uom::si::f64::{ElectricPotential, Length};

/// Something that may stand in the space.
pub struct Obstacle<'s> {
    /// What it is.
    pub what: What<'s>,
    /// Where it is.
    pub solid: Solid,
    /// The condition it makes.
    pub condition: Lookup<Condition>,
}

/// What an obstacle is.
#[derive(Clone, Copy)]
pub enum What<'s> {
    /// A body.
    Thing(&'s Thing<'s>),
    /// A pipe or duct.
    Run(&'s Run),
    /// A wall.
    Wall,
}

/// The space asked for.
pub struct Asked<'s> {
    /// The room.
    pub scene: &'s Scene<'s>,
    /// The face it is attached to.
    pub face: Face,
    /// Greatest voltage to ground, where it is known.
    pub volts: Option<ElectricPotential>,
    /// Depths by voltage and condition.
    pub depths: Depths,
    /// Its width.
    pub width: Length,
    /// From the floor to its upper end.
    pub heights: (f64, f64),
    /// Where it is, in a sentence.
    pub place: &'static str,
    /// Whether the authority may permit less.
    pub low_voltage: bool,
    /// Whether it is opened while it is live whatever is said of it: a panelboard, service equipment, a disconnect.
    pub always_live: bool,
}

/// How far a solid reaches beyond the plane of a face.
pub fn ahead(face: &Face, solid: &Solid) -> f64 {
    solid.plan.extent(face.out).1 - dot(face.middle, face.out)
}

impl Asked<'_> {
    fn depth(&self, condition: Condition) -> Length {
        let volts = self.volts.unwrap_or_default();
        self.depths.at(volts, condition).unwrap_or(self.depths.least)
    }

    fn deepest(&self) -> f64 {
        [Condition::One, Condition::Two, Condition::Three]
            .map(|condition| self.depth(condition).value)
            .into_iter()
            .fold(0.0, f64::max)
    }

    /// Looks for a place. Each obstacle asks for the depth of its own condition: one that asks for less is moved away by the
    /// difference, so that all can be held against the same depth.
    fn place(&self, obstacles: &[Obstacle], unknown: Condition, width: f64) -> Result<(f64, Solid), Blocked> {
        let most = self.deepest();
        let shifted = |obstacle: &Obstacle| {
            let own = self.depth(obstacle.condition.clone().unwrap_or(unknown)).value;
            let plan = obstacle.solid.plan.clone();
            if ahead(&self.face, &obstacle.solid) <= TOUCHING || own >= most {
                return Solid { plan, ..obstacle.solid.clone() };
            }
            Solid { plan: plan.moved(self.face.out * (most - own)), ..obstacle.solid.clone() }
        };
        let solids: Vec<Solid> = obstacles.iter().map(shifted).collect();
        let found = self.face.find_space((width, most), self.heights, self.face.width, None, &solids)?;
        Ok((found.shift, found.zone))
    }

    /// The widest place, up to the width asked for.
    fn widest(&self, obstacles: &[Obstacle]) -> f64 {
        let (mut free, mut barred) = (0.0, self.width.value);
        if self.place(obstacles, Condition::One, self.face.width).is_ok() {
            free = self.face.width;
        }
        while free > 0.0 && barred - free > 1e-5 {
            let middle = (free + barred) / 2.0;
            if self.place(obstacles, Condition::One, middle).is_ok() { free = middle } else { barred = middle }
        }
        free
    }
}

/// Looks for the space, says how it was found or what is in its way; answers what to say where it is free.
pub fn search(asked: &Asked, gear: &Thing, obstacles: &[Obstacle], sheet: &mut Sheet) -> Text {
    let width = asked.width.value;
    match asked.place(obstacles, Condition::Three, width) {
        Ok((shift, zone)) => {
            sheet.mark(marks(asked.scene, "working space", &zone));
            free(asked, obstacles, (shift, &zone), sheet)
        }
        Err(unsure) => {
            match asked.place(obstacles, Condition::One, width) {
                Ok(_) => {
                    let near = obstacles.iter().filter(|obstacle| obstacle.solid.overlap(&unsure.zone).is_some());
                    near.filter_map(|obstacle| obstacle.condition.clone().err()).for_each(|missing| sheet.lack(missing));
                }
                Err(blocked) => fault(asked, gear, obstacles, &blocked, sheet),
            }
            Text::default()
        }
    }
}

fn free(asked: &Asked, obstacles: &[Obstacle], (shift, zone): (f64, &Solid), sheet: &mut Sheet) -> Text {
    // The depth asked for by what lies ahead: what is beyond the deepest space asks for nothing.
    let near = obstacles.iter().filter(|obstacle| {
        let deep = obstacle.solid.plan.extent(asked.face.out).0 - dot(asked.face.middle, asked.face.out);
        let (left, right) = obstacle.solid.plan.extent(asked.face.along);
        let (from, to) = zone.plan.extent(asked.face.along);
        deep < asked.deepest() + TOUCHING && left < to - TOUCHING && right > from + TOUCHING
    });
    let asks = near.map(|obstacle| asked.depth(obstacle.condition.clone().unwrap_or(Condition::Three)));
    let least = asks.fold(asked.depth(Condition::One), |most, depth| if depth > most { depth } else { most });
    let words = text!(
        "free: {} wide and {} high, its middle {} {} of the equipment's",
        inches(asked.width.value),
        inches(asked.heights.1),
        inches(shift.abs()),
        if shift < 0.0 { "left" } else { "right" }
    );
    sheet.test("width and height", words, electrical::WIDTH.text(), true);
    text!(
        "{} deep, {} wide and {} high is free {}",
        in_unit(least, "in"),
        inches(asked.width.value),
        inches(asked.heights.1),
        asked.place
    )
}

/// The place that comes nearest, and what stands in it.
fn fault(asked: &Asked, gear: &Thing, obstacles: &[Obstacle], blocked: &Blocked, sheet: &mut Sheet) {
    let first = blocked.by.and_then(|by| obstacles.get(by));
    let condition = first.map_or(Condition::One, |obstacle| obstacle.condition.clone().unwrap_or(Condition::One));
    let least = asked.depth(condition);
    let clear = (blocked.depth - (asked.deepest() - least.value)).max(0.0);
    let zone = asked.face.zone(least.value, asked.width.value, blocked.shift, asked.heights);
    let words = text!(
        "{} is clear, {} is the least at {} to ground in condition {}",
        inches(clear),
        in_unit(least, "in"),
        asked.volts.unwrap_or_default(),
        condition.number()
    );
    sheet.test("depth", words, electrical::DEPTH.text(), false);
    let widest = asked.widest(obstacles);
    if widest > 0.0 {
        let words = text!("{} is clear at that depth, {} is the least", inches(widest), in_unit(asked.width, "in"));
        sheet.test("width", words, electrical::WIDTH.text(), false);
    }
    let intruder = first.map_or_else(|| text!("something"), named);
    let deep = first.and_then(|obstacle| obstacle.solid.overlap(&zone)).map_or(0.0, |overlap| overlap.plan);
    if asked.low_voltage {
        sheet.line("low voltage", text!("the authority may permit less, by special permission"), "NEC 110.26(A)(1)(b)");
    }
    let words = match first.map(|obstacle| obstacle.what) {
        Some(What::Wall) if clear < TOUCHING && widest > 0.0 => text!(
            "the working space {} is {} wide at best between what stands beside it, {} is the least",
            asked.place,
            inches(widest),
            in_unit(asked.width, "in")
        ),
        Some(What::Wall) => text!(
            "the working space {} is {} deep and {} wide at best up to {}, {} by {} is the least",
            asked.place,
            inches(clear),
            inches(asked.width.value),
            intruder,
            in_unit(least, "in"),
            in_unit(asked.width, "in")
        ),
        _ => text!(
            "{} is clear {}, {} is the least: {} reaches {} into its working space",
            inches(clear),
            asked.place,
            in_unit(least, "in"),
            intruder,
            inches(deep)
        ),
    };
    let electrical = gear.equipment.electrical.as_ref();
    let dead = (electrical.and_then(|it| it.serviced_energized), electrical.and_then(|it| it.dead_front));
    match dead {
        (Some(false), Some(true)) if !asked.always_live => sheet.advise(text!(
            "{}; its instructions allow no work on it while it is live and its front is dead: the authority decides",
            words
        )),
        (Some(false), None) if !asked.always_live => {
            sheet.line("depth", words, "");
            sheet.lack(gear.equipment.missing("/electrical/dead_front"));
        }
        _ => {
            sheet.fault(words);
            cure(asked, gear, obstacles, first, &zone, sheet);
            if asked.low_voltage {
                let volts = asked.volts.unwrap_or_default();
                sheet.cure(text!("or ask the authority, which may permit less at {} direct current", volts));
            }
        }
    }
    sheet.mark(marks(asked.scene, "working space", &zone));
    for obstacle in obstacles.iter().filter(|obstacle| obstacle.solid.overlap(&zone).is_some()) {
        show(asked.scene, obstacle, sheet);
    }
}

fn named(obstacle: &Obstacle) -> Text {
    match obstacle.what {
        What::Thing(thing) => text!("{}", thing.equipment.label()),
        What::Run(run) => text!("{}", run.label),
        What::Wall => text!("the wall"),
    }
}

fn show(scene: &Scene, obstacle: &Obstacle, sheet: &mut Sheet) {
    let label = match obstacle.what {
        What::Thing(thing) => {
            sheet.related(thing.equipment.pointer());
            thing.equipment.label()
        }
        What::Run(run) => {
            sheet.related(&run.pointer);
            run.label.clone()
        }
        What::Wall => return,
    };
    sheet.mark(marks(scene, &label, &obstacle.solid));
}

fn cure(asked: &Asked, gear: &Thing, obstacles: &[Obstacle], first: Option<&Obstacle>, zone: &Solid, sheet: &mut Sheet) {
    let kept = |what: &str| {
        text!("keep {} by {} {} free of {}", inches(asked.width.value), inches(zone_depth(asked, zone)), asked.place, what)
    };
    match first.map(|obstacle| (obstacle, obstacle.what)) {
        Some((_, What::Thing(thing))) => match moved(asked, gear, obstacles, thing, zone) {
            Some(found) => sheet.cure_at(text!("move {} {}", thing.equipment.label(), found.words), &found.values),
            None => sheet.cure(text!("move {} out of it; {}", thing.equipment.label(), kept("everything else"))),
        },
        Some((_, What::Run(run))) => sheet.cure(text!("lead {} around it; {}", run.label, kept("pipes and ducts"))),
        _ => sheet.cure(text!(
            "move it to where {} by {} is free {}",
            inches(asked.width.value),
            inches(zone_depth(asked, zone)),
            asked.place
        )),
    }
}

fn zone_depth(asked: &Asked, zone: &Solid) -> f64 {
    let (near, far) = zone.plan.extent(asked.face.out);
    far - near
}

/// A move by which one intruder comes out of this space without standing before other gear.
fn moved(asked: &Asked, gear: &Thing, obstacles: &[Obstacle], thing: &Thing, zone: &Solid) -> Option<Move> {
    let face = &asked.face;
    let ways = [face.out, face.along, face.along * -1.0];
    let tries = ways.map(|way| way * (zone.plan.extent(way).1 - thing.solid.plan.extent(way).0));
    let rest: Vec<&Obstacle> =
        obstacles.iter().filter(|other| !matches!(other.what, What::Thing(it) if std::ptr::eq(it, thing))).collect();
    let least = asked.depths.least.value;
    let fronts: Vec<Solid> = asked
        .scene
        .things
        .iter()
        .filter(|other| !std::ptr::eq(*other, gear) && gear::is_worked_on(&other.equipment))
        .map(|other| other.body.face(Side::Front).zone(least, asked.width.value.max(other.body.width), 0.0, asked.heights))
        .collect();
    shortest(asked.scene, thing, &tries, |there| {
        let own = Obstacle { what: What::Thing(thing), solid: there.clone(), condition: surface::condition_of_body(thing) };
        let mut all: Vec<Obstacle> =
            rest.iter().map(|it| Obstacle { what: it.what, solid: it.solid.clone(), condition: it.condition.clone() }).collect();
        all.push(own);
        asked.place(&all, Condition::Three, asked.width.value).is_ok()
            && fronts.iter().all(|front| front.overlap(there).is_none())
    })
}
