//! A space with its walls, bodies and doors.

use crate::thing::Thing;
use redtag_handbook::space::{Face, Found, Passages, Room, Shape, Solid, dot};
use redtag_rule::prelude::*;
use redtag_rule_space::{Door, Run, Runs, Stand, doors, room, stand, standing};
use std::cell::RefCell;
use std::collections::BTreeMap;
use std::rc::Rc;

/// What leaves the floor free to walk on: bodies that begin above this are walked under, in metres (78 in).
pub const HEADROOM: f64 = 78.0 * 0.0254;
/// What is stepped over, in metres (1 in).
pub const STEP: f64 = 0.0254;

/// The width of a working space that the code asks for, in metres (30 in).
const CODE_WIDTH: f64 = 30.0 * 0.0254;
/// The narrowest door before a closet, in metres (24 in).
const NARROWEST: f64 = 24.0 * 0.0254;

/// A space with its walls, bodies and doors, as far as the project says.
pub struct Layout<'a> {
    /// The space.
    pub space: Place<'a, Space>,
    /// Its outline.
    pub room: Lookup<Room>,
    /// What stands in it.
    pub stands: Vec<Stand<'a>>,
    /// What is missing of equipment whose place is not known.
    pub lacking: Option<Unresolved>,
    /// Its doors.
    pub doors: Vec<Lookup<Door<'a>>>,
    /// Pipes and ducts in it.
    pub runs: Runs,
    /// Walking widths asked for so far, by the pointer of the door and whether its leaf stands in the room.
    walked: RefCell<BTreeMap<(String, bool), Rc<Passages>>>,
}

impl<'a> Layout<'a> {
    /// Reads a space.
    pub fn of(inquiry: &Inquiry<'a>, space: &Place<'a, Space>) -> Self {
        let room = room(space);
        let (stands, lacking) = standing(inquiry, space);
        let doors = room.as_ref().map(|room| doors(inquiry, space, room)).unwrap_or_default();
        let runs = Runs::of(inquiry, space);
        Self { space: space.clone(), room, stands, lacking, doors, runs, walked: RefCell::default() }
    }

    /// The body of a piece of equipment that stands in it.
    pub fn stand(&self, equipment: &Place<'a, Equipment>) -> Lookup<Stand<'a>> {
        stand(equipment)
    }

    /// Everything but one piece of equipment.
    pub fn others(&self, equipment: &Place<Equipment>) -> Vec<&Stand<'a>> {
        self.stands.iter().filter(|one| one.equipment.pointer() != equipment.pointer()).collect()
    }

    /// The doors that can be placed.
    ///
    /// # Errors
    /// What they lack, where none can; the list of openings, where the space has none.
    pub fn ways_in(&self) -> Lookup<Vec<&Door<'a>>> {
        let known: Vec<_> = self.doors.iter().filter_map(|door| door.as_ref().ok()).collect();
        if !known.is_empty() {
            return Ok(known);
        }
        let lacking = self.doors.iter().filter_map(|door| door.as_ref().err());
        let lacking = lacking.fold(None, |before, more| Unresolved::joined(before, more.clone()));
        let wanted = format!("a door or other opening that people pass into {}", self.space.label());
        Err(lacking.unwrap_or_else(|| Unresolved::because("/openings", wanted)))
    }

    /// The pipes and ducts that are drawn, but for those joined to one piece of equipment.
    fn runs_but<'l>(&'l self, but: Option<&Stand>) -> impl Iterator<Item = &'l Run> {
        let own = but.map(|stand| (stand.equipment.id.clone(), stand.body));
        let joined = move |run: &&'l Run| own.as_ref().is_none_or(|(id, body)| !run.joins(id, body));
        self.runs.drawn.iter().filter(joined)
    }

    /// What is said of the pipes and ducts whose line nobody drew.
    pub fn undrawn(&self, sheet: &mut Sheet) {
        self.runs.undrawn_clear(&self.space, sheet);
    }

    /// Walls with the gap of a door, bodies that share some of a band of heights, and the door's leaf where it is wanted.
    pub fn pieces<'l>(
        &'l self,
        room: &Room,
        door: &'l Door<'a>,
        with_leaf: bool,
        (bodies, but): (&[&'l Stand<'a>], Option<&Stand>),
        band: (f64, f64),
    ) -> (Vec<Thing<'l, 'a>>, Vec<Shape>) {
        let (mut things, mut shapes): (Vec<Thing>, Vec<Shape>) =
            room.faces(Some(&door.doorway)).into_iter().map(|(wall, face)| (Thing::Wall(room.walls()[wall].out), face)).unzip();
        for stand in bodies {
            if stand.body.base < band.1 - 1e-9 && stand.body.top() > band.0 + 1e-9 {
                things.push(Thing::Body(stand));
                shapes.push(stand.body.plan());
            }
        }
        for run in self.runs_but(but) {
            if run.solid.bottom < band.1 - 1e-9 && run.solid.top > band.0 + 1e-9 {
                things.push(Thing::Run(run));
                shapes.push(run.solid.plan.clone());
            }
        }
        if let Some(leaf) = door.leaf.as_ref().filter(|_| with_leaf) {
            things.push(Thing::Leaf(door));
            shapes.push(leaf.clone());
        }
        (things, shapes)
    }

    /// What is in the way of somebody who walks in by a door, made ready to ask for widths.
    pub fn walking<'l>(&'l self, room: &Room, door: &'l Door<'a>, with_leaf: bool) -> (Vec<Thing<'l, 'a>>, Rc<Passages>) {
        let bodies: Vec<&Stand<'a>> = self.stands.iter().collect();
        let (things, shapes) = self.pieces(room, door, with_leaf, (&bodies, None), (STEP, HEADROOM));
        let key = (door.opening.pointer().to_owned(), with_leaf);
        let mut walked = self.walked.borrow_mut();
        let ways = walked.entry(key).or_insert_with(|| Rc::new(Passages::new(room, shapes)));
        (things, Rc::clone(ways))
    }

    /// Walls with the gap of a door and every body whatever its height, made ready to ask what pinches a piece that is carried.
    pub fn carrying<'l>(&'l self, room: &Room, door: &'l Door<'a>) -> (Vec<Thing<'l, 'a>>, Rc<Passages>) {
        let bodies: Vec<&Stand<'a>> = self.stands.iter().collect();
        let (things, shapes) = self.pieces(room, door, false, (&bodies, None), (f64::NEG_INFINITY, f64::INFINITY));
        let key = (format!("{} carried", door.opening.pointer()), false);
        let mut walked = self.walked.borrow_mut();
        let ways = walked.entry(key).or_insert_with(|| Rc::new(Passages::new(room, shapes)));
        (things, Rc::clone(ways))
    }

    /// A place for a zone before a face that goes on through an open door: who works on an appliance in a closet stands in the hall.
    /// The zone is as wide as asked or, in a door that is narrower, as wide as the door but no less than 24 in.
    pub fn beyond_a_door<'l>(
        &'l self,
        inquiry: &Inquiry<'a>,
        (one, room, face): (&Place<Equipment>, &Room, &Face),
        (width, depth, cover): (f64, f64, f64),
        heights: (f64, f64),
    ) -> Option<(Found, &'l Door<'a>, Place<'a, Space>)> {
        let bodies = self.others(one);
        self.doors.iter().flatten().find_map(|door| {
            let away = dot(door.doorway.middle - face.middle, face.out);
            if dot(door.doorway.out, face.out) < 0.99 || !(0.0..depth).contains(&away) {
                return None;
            }
            let own = self.stand(one).ok();
            let (_, mut shapes) = self.pieces(room, door, true, (&bodies, own.as_ref()), heights);
            let there = crate::beyond::add(inquiry, door, heights, true, &mut shapes);
            let space = there.space.filter(|_| there.lacking.is_none() && self.lacking.is_none())?;
            let wide = if width > CODE_WIDTH + 1e-9 { width } else { door.doorway.clear().clamp(NARROWEST.min(width), width) };
            let solids: Vec<Solid> = shapes.into_iter().map(|shape| Solid::new(shape, heights.0, heights.1)).collect();
            let found = face.find_space((wide, depth), heights, cover.min(wide), None, &solids).ok()?;
            Some((found, door, space))
        })
    }

    /// Bodies, pipes and ducts, and open door leaves as solids, with what each is; what is joined to one piece of equipment is left out.
    pub fn solids<'l>(&'l self, bodies: &[&'l Stand<'a>], but: Option<&Stand>) -> (Vec<Thing<'l, 'a>>, Vec<Solid>) {
        let mut things: Vec<Thing> = bodies.iter().map(|stand| Thing::Body(stand)).collect();
        let mut solids: Vec<Solid> = bodies.iter().map(|stand| stand.solid()).collect();
        for run in self.runs_but(but) {
            things.push(Thing::Run(run));
            solids.push(run.solid.clone());
        }
        for door in self.doors.iter().flatten() {
            if let Some(leaf) = &door.leaf {
                things.push(Thing::Leaf(door));
                solids.push(Solid::new(leaf.clone(), 0.0, HEADROOM));
            }
        }
        (things, solids)
    }
}

/// Judges equipment one by one, each with the space it stands in.
pub fn each<'a>(
    inquiry: &Inquiry<'a>,
    concerned: fn(&Equipment) -> bool,
    wanted: &str,
    judge: impl Fn(&Layout<'a>, &Place<'a, Equipment>) -> Finding,
) -> Vec<Finding> {
    let mut layouts: BTreeMap<String, Layout<'a>> = BTreeMap::new();
    let all = need!(inquiry.project(), equipment).every();
    let judge = |one: Place<'a, Equipment>| {
        if one.outdoors == Some(true) {
            return one.not_applicable(text!("stands outdoors")).done();
        }
        match need!(one, space).and_then(|id| inquiry.space(&id)) {
            Err(unresolved) => one.ask(wanted, || Err(unresolved)),
            Ok(space) => {
                let layout = layouts.entry(space.id.clone()).or_insert_with(|| Layout::of(inquiry, &space));
                judge(layout, &one)
            }
        }
    };
    all.into_iter().filter(|one| concerned(one)).map(judge).collect()
}
