//! A room with what stands in it, as the geometry of the handbook takes it.

use redtag_handbook::space::{Body, Face, Point, Room, Side, Solid};
use redtag_rule::prelude::*;
use redtag_rule::schema::project as p;
use redtag_rule_space as shapes;
use std::collections::BTreeMap;

/// A piece of equipment whose place is known.
pub struct Thing<'a> {
    /// The equipment.
    pub equipment: Place<'a, Equipment>,
    /// Its body; heights from the floor.
    pub body: Body,
    /// The same as a solid.
    pub solid: Solid,
    /// Whether it is known which way it faces.
    faced: bool,
}

impl Thing<'_> {
    /// One of its upright faces.
    ///
    /// # Errors
    /// Which way it faces, where a round body leaves that out.
    pub fn face(&self, side: Side) -> Lookup<Face> {
        if self.faced { Ok(self.body.face(side)) } else { Err(self.equipment.missing("/placement/facing")) }
    }
}

/// A room with what stands in it.
pub struct Scene<'a> {
    /// The room.
    pub space: Place<'a, Space>,
    /// Its outline, where it is drawn.
    pub room: Option<Room>,
    /// What stands in it.
    pub things: Vec<Thing<'a>>,
    /// What is in it and nobody says where, with what is missing.
    pub unplaced: Vec<(Place<'a, Equipment>, Unresolved)>,
}

/// Every room of the project, and what stands in none.
pub struct Scenes<'a> {
    rooms: BTreeMap<&'a str, Scene<'a>>,
    /// Indoor equipment of which nobody says in which space it is.
    pub astray: Vec<Place<'a, Equipment>>,
}

impl<'a> Scenes<'a> {
    /// Reads the project.
    pub fn of(inquiry: &Inquiry<'a>) -> Self {
        let project = inquiry.project();
        let spaces: Vec<Place<'a, Space>> = need!(project, spaces).every();
        let mut rooms: BTreeMap<&str, Scene> =
            spaces.into_iter().map(|space| (space.get().id.as_str(), Scene::empty(space))).collect();
        let mut astray = Vec::new();
        for equipment in need!(project, equipment).every() {
            let scene = equipment.get().space.as_deref().and_then(|id| rooms.get_mut(id));
            match scene {
                Some(scene) => scene.add(equipment),
                None if equipment.outdoors != Some(true) => astray.push(equipment),
                None => {}
            }
        }
        Self { rooms, astray }
    }

    /// The rooms.
    pub fn rooms(&self) -> impl Iterator<Item = &Scene<'a>> {
        self.rooms.values()
    }

    /// The room a piece of equipment is in.
    pub fn around(&self, equipment: &Place<'a, Equipment>) -> Lookup<&Scene<'a>> {
        let space = need!(equipment, space)?;
        self.rooms.get(space.get().as_str()).ok_or_else(|| Unresolved::at(space.pointer()))
    }
}

impl<'a> Scene<'a> {
    fn empty(space: Place<'a, Space>) -> Self {
        let room = shapes::room(&space).ok();
        Self { space, room, things: Vec::new(), unplaced: Vec::new() }
    }

    fn add(&mut self, equipment: Place<'a, Equipment>) {
        match shapes::stand(&equipment) {
            Ok(stand) => {
                let (body, solid) = (stand.body, stand.solid());
                self.things.push(Thing { equipment, body, solid, faced: stand.faced });
            }
            Err(_) if shapes::bodiless(&equipment) => {}
            Err(_) if equipment.placement.is_none() => {
                let missing = equipment.missing("/placement");
                self.unplaced.push((equipment, missing));
            }
            Err(unresolved) => self.unplaced.push((equipment, unresolved)),
        }
    }

    /// A piece of equipment of this room.
    ///
    /// # Errors
    /// What is missing of its place.
    pub fn thing(&self, equipment: &Place<'a, Equipment>) -> Lookup<&Thing<'a>> {
        let found = self.things.iter().find(|thing| thing.equipment.get().id == equipment.get().id);
        let missing = || self.unplaced.iter().find(|(other, _)| other.get().id == equipment.get().id);
        found.ok_or_else(|| missing().map_or_else(|| equipment.missing("/placement"), |(_, unresolved)| unresolved.clone()))
    }

    /// Its outline.
    ///
    /// # Errors
    /// Where it is not drawn.
    pub fn outline(&self) -> Lookup<()> {
        shapes::room(&self.space).map(|_| ())
    }

    /// What is missing of the bodies whose place nobody knows, but for one.
    pub fn strays(&self, scenes: &Scenes<'a>, but: &str, counts: impl Fn(&Equipment) -> bool) -> Option<Unresolved> {
        let here = self.unplaced.iter().filter(|(equipment, _)| equipment.get().id != but && counts(equipment.get()));
        let astray = scenes.astray.iter().filter(|equipment| equipment.get().id != but && counts(equipment.get()));
        let missing = here.map(|(_, missing)| missing.clone()).chain(astray.map(|equipment| equipment.missing("/space")));
        missing.reduce(Unresolved::and)
    }
}

/// A point of the project in plan, in metres.
pub fn in_plan(point: &p::Point) -> Point {
    shapes::point(point)
}

/// A solid of a room as a mark on the plan.
pub fn marks(scene: &Scene, label: &str, solid: &Solid) -> redtag_rule::schema::contract::Mark {
    shapes::solid_mark(&scene.space, label, solid)
}
