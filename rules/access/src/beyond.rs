//! What bounds the way through a door: the thickness of the wall and, where it is drawn, the space on its other side.

use redtag_handbook::space::{Shape, dot, norm};
use redtag_rule::prelude::*;
use redtag_rule_space::{Door, doors, room, standing};

/// Thickness of a wall whose other face is not drawn, in metres.
pub const WALL: f64 = 5.0 * 0.0254;
/// A wall is not thicker than this, in metres; farther away nothing belongs to the same door.
const THICK: f64 = 0.9;

/// What is known of the other side of a door.
pub struct Beyond<'a> {
    /// How thick the wall is.
    pub thick: f64,
    /// The space there, where its outline is drawn and has a wall at the door.
    pub space: Option<Place<'a, Space>>,
    /// What is missing of equipment there.
    pub lacking: Option<Unresolved>,
}

/// Adds what bounds the way through a door to the shapes of the room before it: the jambs, the walls of the space beyond but for the
/// gap, and what stands there within a band of heights. `with_leaf` adds the door's leaf where it stands open in that space.
pub fn add<'a>(inquiry: &Inquiry<'a>, door: &Door<'a>, band: (f64, f64), with_leaf: bool, shapes: &mut Vec<Shape>) -> Beyond<'a> {
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
    let Some((space, hall, open, _)) = face else { return Beyond { thick, space: None, lacking: None } };
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
    let (stands, lacking) = standing(inquiry, space);
    let low = |base: f64, top: f64| base < band.1 && top > band.0;
    shapes.extend(stands.iter().filter(|one| low(one.body.base, one.body.top())).map(|one| one.body.plan()));
    if with_leaf {
        let own = doors(inquiry, space, &hall).into_iter().flatten();
        let same = own.filter(|other| other.opening.pointer() == door.opening.pointer());
        shapes.extend(same.filter_map(|door| door.leaf));
    }
    Beyond { thick, space: Some(space.clone()), lacking }
}
