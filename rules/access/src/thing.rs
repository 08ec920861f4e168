//! What is in the way: how it is named, drawn and moved.

use crate::layout::Layout;
use redtag_handbook::space::{Body, Point, Solid};
use redtag_rule::prelude::*;
use redtag_rule_space::{Door, Run, Stand, solid_mark};

/// Something in the way.
#[derive(Clone, Copy)]
pub enum Thing<'l, 'a> {
    /// A wall, with the direction out of the room.
    Wall(Point),
    /// The open leaf of a door.
    Leaf(&'l Door<'a>),
    /// Equipment.
    Body(&'l Stand<'a>),
    /// A pipe or duct.
    Run(&'l Run),
}

impl<'l, 'a> Thing<'l, 'a> {
    /// What to call it.
    pub fn label(&self) -> String {
        match self {
            Self::Wall(out) => format!("the {} wall", compass(*out)),
            Self::Leaf(door) => format!("the open leaf of {}", door.opening.label()),
            Self::Body(stand) => stand.equipment.label(),
            Self::Run(run) => run.label.clone(),
        }
    }

    /// The equipment it is.
    pub fn stand(&self) -> Option<&'l Stand<'a>> {
        match self {
            Self::Body(stand) => Some(stand),
            _ => None,
        }
    }

    /// Points at it from a finding and draws it.
    pub fn show(&self, space: &Place<Space>, sheet: &mut Sheet) {
        match self {
            Self::Wall(_) => {}
            Self::Leaf(door) => {
                sheet.related(door.opening.pointer());
                if let Some(leaf) = &door.leaf {
                    let height = crate::layout::HEADROOM;
                    sheet.mark(solid_mark(space, self.label(), &Solid::new(leaf.clone(), 0.0, height)));
                }
            }
            Self::Body(stand) => {
                sheet.related(stand.equipment.pointer());
                sheet.mark(solid_mark(space, self.label(), &stand.solid()));
            }
            Self::Run(run) => {
                sheet.related(&run.pointer);
                sheet.mark(solid_mark(space, self.label(), &run.solid));
            }
        }
    }

    /// Says to move it, where it is equipment: where moving it may bring something else into the way, a place for it is not given.
    pub fn move_words(&self, by: Point, amount: uom::si::f64::Length, sheet: &mut Sheet) {
        let Self::Body(stand) = self else { return };
        let words = text!("move {} by {} to the {}", stand.equipment.label(), in_unit(amount, "in"), compass(by));
        sheet.cure(text!("{}, or farther where something else then stands in the way", words));
    }

    /// Offers to move it, where it is equipment and the place is free: else that it must move is said without a place for it.
    pub fn move_cure(&self, layout: &Layout, by: Point, amount: uom::si::f64::Length, sheet: &mut Sheet) {
        let Self::Body(stand) = self else { return };
        if !is_free(layout, stand, by) {
            return self.move_words(by, amount, sheet);
        }
        let words = text!("move {} by {} to the {}", stand.equipment.label(), in_unit(amount, "in"), compass(by));
        let middle = stand.body.middle;
        let at = |field: &str| format!("{}/placement/{field}", stand.equipment.pointer());
        let mut values = Vec::new();
        for (field, from, by) in [("x", middle.x, by.x), ("y", middle.y, by.y)] {
            if by.abs() > 1e-6 {
                values.push((at(field), json!(moved(from, by))));
            }
        }
        sheet.cure_at(words, &values);
    }
}

/// Whether a body has room where it would be moved to: in none of the walls, and in nothing that stands in the space.
fn is_free(layout: &Layout, stand: &Stand, by: Point) -> bool {
    /// So deep may bodies be drawn into each other and still touch, in metres: a quarter inch.
    const DRAWN: f64 = 0.25 * 0.0254;
    let there = Body { middle: stand.body.middle + by, ..stand.body };
    let (plan, solid) = (there.plan(), there.solid());
    let walls = layout.room.as_ref().is_ok_and(|room| {
        let deep = room.walls().iter().filter_map(|wall| wall.face().overlap(&plan)).fold(0.0_f64, f64::max);
        deep <= DRAWN && room.contains(plan.middle())
    });
    let into = |other: &&Stand| solid.overlap(&other.solid()).is_some_and(|shared| shared.plan > DRAWN && shared.height > DRAWN);
    walls && !layout.others(&stand.equipment).iter().any(into)
}

/// A coordinate moved, as its author would write it: in inches, to the quarter inch beyond.
pub fn moved(from: f64, by: f64) -> String {
    let quarters = (from + by) / 0.0254 * 4.0;
    let quarters = if by > 0.0 { (quarters - 1e-6).ceil() } else { (quarters + 1e-6).floor() };
    format!("{} in", quarters / 4.0)
}

/// The direction of a vector in words.
pub fn compass(direction: Point) -> &'static str {
    const WORDS: [&str; 8] = ["east", "northeast", "north", "northwest", "west", "southwest", "south", "southeast"];
    // An eighth of a turn: the tangent of 22.5 degrees tells straight from slanting.
    let (x, y) = (direction.x, direction.y);
    let slanting = x.abs().min(y.abs()) > x.abs().max(y.abs()) * 0.414;
    let index = match (slanting, x > 0.0, y > 0.0) {
        (false, east, north) if x.abs() >= y.abs() => {
            if east {
                0
            } else {
                4 * usize::from(north || !east)
            }
        }
        (false, _, north) => {
            if north {
                2
            } else {
                6
            }
        }
        (true, true, true) => 1,
        (true, false, true) => 3,
        (true, false, false) => 5,
        (true, true, false) => 7,
    };
    WORDS[index]
}
