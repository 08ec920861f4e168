//! From the door one can walk to every side of an appliance that must be reached, 24 in wide all the way.
//!
//! An appliance behind a row of tanks is not inspected, and in an emergency nobody gets to its shutoff. A person with a tool
//! bag needs two feet.
//!
//! **How it is measured.** As the widest upright round body that can walk from the door to the place before each service side,
//! between walls, pipes, ducts and whatever else stands or hangs below headroom, with the door's leaf open a quarter turn. The width is exact: it
//! is the distance between the two things that pinch the way, and these are named. Bodies that hang above headroom are walked
//! under, what lies flat, up to 1 in, is stepped over. A side that is reached from the hall through a closet's open door asks for that
//! opening alone.
//!
//! **How it is fixed.** One of the two things that pinch the way moves by the length that is told, or the door's leaf is hung
//! the other way or swings out.

use crate::layout::{Layout, each};
use crate::served;
use crate::thing::{Thing, compass};
use redtag_handbook::space::{Face, Pair, Passages, Point, Room, Side as Upright, unit};
use redtag_rule::prelude::*;
use redtag_rule_space::{Door, length, line_between, side};
use uom::si::length::meter;

const SOURCE: &str = "IMC 306.2";
/// Width.
const WIDTH: Quantity<dimensions::Length> =
    Quantity::new("width", "24 in", "Least width of the unobstructed passage to an appliance.", SOURCE).within("0 in", "6 ft");

/// The rule.
pub const RULE: Rule = Rule {
    citations: &[cited("IMC", "2018", "306.2"), remembered("IRC", "2018", "M1305.1.2")],
    parameters: &[&WIDTH],
    reads: &["/spaces", "/openings", "/equipment", "/ducts", "/gas", "/water", "/drainage"],
    ..Rule::new("access/service-path", "Passage from the door to every service side", check)
};

const WANTED: &str = "whether one can walk to it";

fn check(inquiry: &Inquiry) -> Vec<Finding> {
    each(inquiry, served::serviced, WANTED, |layout, one| {
        if served::passage_of_its_own(&layout.space) {
            return one.not_applicable(text!("stands in {}, which has a rule of its own", layout.space.label())).done();
        }
        one.sheet(WANTED, |sheet| judge(inquiry, layout, one, sheet))
    })
}

fn judge<'a>(inquiry: &Inquiry<'a>, layout: &Layout<'a>, one: &Place<'a, Equipment>, sheet: &mut Sheet) -> Lookup<Text> {
    let (room, stand, ways) = (layout.room.clone(), layout.stand(one), layout.ways_in()).together()?;
    let least = inquiry.value(&WIDTH);
    let sides: Vec<Side> = one.service.as_ref().and_then(|service| service.sides.clone()).unwrap_or_else(|| vec![Side::Front]);
    let upright: Vec<Upright> = sides.into_iter().filter_map(side).collect();
    let mut narrowest: Option<f64> = None;
    for side in upright {
        let face = stand.face(side)?;
        let way = ways.iter().map(|door| Way::to(layout, &room, door, &face)).max_by(|a, b| a.width().total_cmp(&b.width()));
        let Some(way) = way else { continue };
        let words = word(side);
        if !at_least(length(way.width()), least)
            && let Some(door) = from_the_door(inquiry, layout, (one, &room, &face), least.get::<meter>(), stand.body.top())
        {
            let clear = length(door.doorway.clear());
            let said = format!("opening to the {words}");
            if !sheet.at_least(&said, &clear, &least, "in", SOURCE) {
                sheet.fault(text!(
                    "{} is {} wide clear, {} is the least",
                    door.opening.label(),
                    in_unit(clear, "in"),
                    in_unit(least, "in")
                ));
                sheet.related(door.opening.pointer());
            }
            narrowest = Some(narrowest.map_or(clear.get::<meter>(), |before| before.min(clear.get::<meter>())));
            continue;
        }
        let holds = match way.width() {
            open if open.is_infinite() => sheet.test("width", text!("nothing narrows the way to the {}", words), SOURCE, true),
            width => sheet.at_least(&format!("way to the {words}"), &length(width), &least, "in", SOURCE),
        };
        narrowest = Some(narrowest.map_or(way.width(), |before| before.min(way.width())));
        if !holds {
            way.fault(layout, &room, words, least.get::<meter>(), sheet);
        }
    }
    if let (Some(lacking), true) = (layout.lacking.clone(), sheet.sound()) {
        sheet.lack(lacking);
    }
    if sheet.sound() {
        layout.undrawn(sheet);
    }
    Ok(match narrowest {
        Some(width) if width.is_finite() => text!("{} of free width from the door", in_unit(length(width), "in")),
        _ => text!("nothing narrows the way from the door"),
    })
}

/// The door before which one stands to reach a face, where the room has no place for that.
fn from_the_door<'l, 'a>(
    inquiry: &Inquiry<'a>,
    layout: &'l Layout<'a>,
    reached: (&Place<Equipment>, &Room, &Face),
    wide: f64,
    top: f64,
) -> Option<&'l Door<'a>> {
    const DEEP: f64 = 30.0 * 0.0254;
    let heights = (crate::layout::STEP, top.clamp(DEEP, crate::layout::HEADROOM));
    layout.beyond_a_door(inquiry, reached, (wide, DEEP, wide), heights).map(|(_, door, _)| door)
}

fn word(side: Upright) -> &'static str {
    match side {
        Upright::Front => "front",
        Upright::Back => "back",
        Upright::Left => "left side",
        Upright::Right => "right side",
    }
}

/// A way from a door to a face.
struct Way<'l, 'a> {
    door: &'l Door<'a>,
    face: Face,
    things: Vec<Thing<'l, 'a>>,
    pinch: Option<Pair>,
    /// How wide it is at its end, where that is less, and what narrows it there.
    end: (f64, usize),
    goal: Point,
}

impl<'l, 'a> Way<'l, 'a> {
    fn to(layout: &'l Layout<'a>, room: &Room, door: &'l Door<'a>, face: &Face) -> Self {
        Self::made(layout, room, door, face, true)
    }

    fn made(layout: &'l Layout<'a>, room: &Room, door: &'l Door<'a>, face: &Face, with_leaf: bool) -> Self {
        let (things, ways) = layout.walking(room, door, with_leaf);
        let goal = goal(room, &ways, face);
        let from = door.doorway.clear_middle() + door.doorway.out * 0.001;
        let (clear, nearest) = ways.clearance(goal);
        Self { door, face: *face, things, pinch: ways.pinch(from, goal), end: (2.0 * clear, nearest), goal }
    }

    fn pinched(&self) -> Option<Pair> {
        self.pinch.filter(|pair| pair.distance <= self.end.0)
    }

    fn width(&self) -> f64 {
        self.pinch.map_or(self.end.0, |pair| pair.distance.min(self.end.0))
    }

    fn fault(&self, layout: &Layout<'a>, room: &Room, side: &str, least: f64, sheet: &mut Sheet) {
        let short = least - self.width();
        let wide = in_unit(length(self.width()), "in");
        let Some(pair) = self.pinched() else {
            let thing = self.things.get(self.end.1);
            let name = thing.map_or_else(|| "a wall".to_owned(), Thing::label);
            sheet.fault(text!(
                "before the {} there is {} of free width, {} is the least: {} is in the way",
                side,
                wide,
                in_unit(length(least), "in"),
                name
            ));
            if let Some(thing) = thing {
                thing.show(&layout.space, sheet);
                thing.move_words(self.face.out * short, length(short), sheet);
            }
            sheet.mark(redtag_rule::point_mark(Some(&layout.space.id), "before it", [self.goal.x, self.goal.y, 0.0]));
            return;
        };
        let names = [pair.pieces.0, pair.pieces.1].map(|index| self.things.get(index));
        let label = |thing: Option<&Thing>| thing.map_or_else(|| "a wall".to_owned(), |thing| thing.label());
        sheet.fault(text!(
            "the way from {} to the {} is {} wide between {} and {}, {} is the least",
            self.door.opening.label(),
            side,
            wide,
            label(names[0]),
            label(names[1]),
            in_unit(length(least), "in")
        ));
        sheet.mark(line_between(&layout.space, "pinch", pair.from, pair.to, 0.0));
        names.iter().flatten().for_each(|thing| thing.show(&layout.space, sheet));
        self.leaf_cure(layout, room, least, sheet);
        if let Some(apart) = unit(pair.to - pair.from) {
            for (thing, by) in [(names[0], apart * -short), (names[1], apart * short)] {
                if let Some(thing @ Thing::Body(_)) = thing {
                    thing.move_words(by, length(short), sheet);
                }
            }
        }
        let both_fixed = names.iter().flatten().all(|thing| thing.stand().is_none());
        if both_fixed {
            sheet.cure(text!(
                "widen the way between {} and {} by {}",
                label(names[0]),
                label(names[1]),
                in_unit(length(short), "in")
            ));
        }
    }

    /// Whether the door's leaf alone is what is in the way.
    fn leaf_cure(&self, layout: &Layout<'a>, room: &Room, least: f64, sheet: &mut Sheet) {
        if self.door.leaf.is_none() {
            return;
        }
        let without = Way::made(layout, room, self.door, &self.face, false).width();
        sheet.line("without the leaf of the door", text!("{}", in_unit(length(without.min(99.0)), "in")), "");
        if at_least(length(without), length(least))
            && let Ok(beyond) = need!(self.door.opening, beyond.space)
        {
            let other = if beyond.as_str() == layout.space.id { need!(self.door.opening, space).ok() } else { Some(beyond) };
            if let Some(other) = other {
                let at = format!("{}/door/swings_into", self.door.opening.pointer());
                sheet.cure_at(
                    text!("let the door swing out of the {} side", compass(self.door.doorway.out)),
                    &[(at, json!(other.get()))],
                );
            }
        }
    }
}

/// The place before a face with the most room around it: what one walks to.
fn goal(room: &Room, ways: &Passages, face: &Face) -> Point {
    const INCH: f64 = 0.0254;
    let mut best = (f64::NEG_INFINITY, face.middle + face.out * (12.0 * INCH));
    let aside = (15.0 * INCH - face.width / 2.0).max(0.0) + face.width / 2.0;
    for out in [9.0, 12.0, 15.0, 18.0] {
        for share in [0.0, -0.5, 0.5] {
            let at = face.middle + face.out * (out * INCH) + face.along * (share * aside);
            let clear = if room.contains(at) { ways.clearance(at).0 } else { -1.0 };
            if clear > best.0 + 1e-9 {
                best = (clear, at);
            }
        }
    }
    best.1
}
