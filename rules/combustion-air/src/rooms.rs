//! Which rooms count as one space: the closure over doorless openings and over openings that meet the size asked for the
//! input of everything in the joined space.
//!
//! Joining a room that holds appliances raises the input and with it what every opening must offer. Rooms without
//! appliances are therefore joined first; a room with appliances is joined only when every opening used so far still
//! qualifies at the larger input. What cannot be told from the project does not join, and is remembered: it only matters when
//! the volume does not suffice without it.

use crate::openings;
use crate::parameters::Limits;
use redtag_handbook::combustion_air as air;
use redtag_rule::prelude::*;
use redtag_rule::schema::contract::Step;
use std::collections::{BTreeMap, BTreeSet};
use uom::si::f64::{Area, Power};

/// The spaces and openings of a project.
pub struct Rooms<'a> {
    spaces: BTreeMap<&'a str, Place<'a, Space>>,
    openings: Vec<Place<'a, Opening>>,
    openings_untold: Option<Unresolved>,
    spaces_pointer: String,
}

/// Rooms that count as one, and how they were joined.
pub struct Joined {
    /// Their ids.
    pub rooms: BTreeSet<String>,
    /// The working of each connection.
    pub steps: Vec<Step>,
    /// Connections that could not be told, with what is missing.
    pub untold: Option<Unresolved>,
    /// Connections that fall short, in words.
    pub short: Vec<Text>,
}

/// The ways out of a room and what is open to it without doors.
pub struct Ways<'a> {
    /// Doors into rooms where no burner may stand.
    pub doors: Vec<(Place<'a, Opening>, Place<'a, Space>)>,
    /// Such rooms it is open to without a door.
    pub open: Vec<(Place<'a, Opening>, Place<'a, Space>)>,
    /// Openings for combustion air into such rooms.
    pub breathes: Vec<(Place<'a, Opening>, Place<'a, Space>)>,
    /// Whether a way leads to a room of another use or outdoors.
    pub elsewhere: bool,
    /// Doors and other ways whose other side is not said.
    pub untold: Option<Unresolved>,
    /// Of those, the ones that always let air through.
    pub air_untold: Option<Unresolved>,
}

/// How a pair of rooms fares at an input.
enum Link {
    Joins(Vec<Step>),
    Short(Vec<Step>, Text),
    Untold(Unresolved),
}

impl<'a> Rooms<'a> {
    /// The rooms of a project.
    pub fn of(inquiry: &Inquiry<'a>) -> Self {
        let project = inquiry.project();
        let spaces: Vec<Place<'a, Space>> = need!(project, spaces).every();
        let openings = need!(project, openings);
        let openings_untold = openings.as_ref().err().cloned();
        let openings = openings.map(|openings| openings.items().collect()).unwrap_or_default();
        let spaces = spaces.into_iter().map(|space| (space.get().id.as_str(), space)).collect();
        Self { spaces, openings, openings_untold, spaces_pointer: "/spaces".to_owned() }
    }

    /// What is missing, with the openings themselves where the project says nothing of any.
    pub fn untold(&self, more: Option<Unresolved>) -> Option<Unresolved> {
        match (self.openings_untold.clone(), more) {
            (Some(untold), Some(more)) => Some(untold.and(more)),
            (untold, more) => untold.or(more),
        }
    }

    /// The space of an id.
    pub fn space(&self, id: &str) -> Lookup<&Place<'a, Space>> {
        self.spaces.get(id).ok_or_else(|| Unresolved::at(self.spaces_pointer.clone()))
    }

    /// Every opening of the given rooms that leads outdoors, into an attic or a crawl space, or whose far side is not said.
    pub fn outward(&self, rooms: &BTreeSet<String>) -> Vec<&Place<'a, Opening>> {
        let of_room = |opening: &&Place<'a, Opening>| opening.space.as_ref().is_some_and(|space| rooms.contains(space));
        let usable = |opening: &&Place<'a, Opening>| {
            openings::lets_air_through(opening) && openings::serves_combustion(opening) && self.leads_outward(opening)
        };
        self.openings.iter().filter(of_room).filter(usable).collect()
    }

    /// Every way out of a room and what is open to it without doors, taken together.
    pub fn ways_out(&self, room: &str) -> Ways<'a> {
        let group = self.without_doors(room, true);
        let mut ways =
            Ways { doors: Vec::new(), open: Vec::new(), breathes: Vec::new(), elsewhere: false, untold: None, air_untold: None };
        for opening in &self.openings {
            use OpeningKind as K;
            let on_foot = matches!(opening.kind, K::Door | K::DoorlessOpening | K::VehicleDoor | K::Hatch);
            // What always lets air through and says nothing of what it is for may be there for the burners' air.
            let may_be = opening.purpose.is_none() && openings::lets_air_through(opening);
            let for_air = opening.purpose == Some(OpeningPurpose::CombustionAir);
            if on_foot || for_air || may_be {
                self.one_way(&mut ways, opening, &group, on_foot);
            }
        }
        ways.untold = self.untold(ways.untold.take());
        ways
    }

    fn one_way(&self, ways: &mut Ways<'a>, opening: &Place<'a, Opening>, group: &BTreeSet<String>, on_foot: bool) {
        let near = opening.get().space.as_deref();
        let far = opening.get().beyond.as_ref();
        let far_space = far.and_then(|beyond| beyond.space.as_deref());
        let inside = |id: Option<&str>| id.is_some_and(|id| group.contains(id));
        let other = match (inside(near), inside(far_space)) {
            (true, true) => return,
            (true, false) => far_space,
            (false, true) => near,
            (false, false) if near.is_none() => None,
            // The other side of an opening of a room where no burner may stand, if it is not said, may be this one.
            (false, false) if far.is_none_or(|beyond| beyond.kind == BeyondKind::Space && far_space.is_none()) => {
                let barred = near.and_then(|id| self.spaces.get(id)).is_some_and(|space| is_prohibited(space.kind));
                let unsaid = opening.missing(if far.is_none() { "/beyond" } else { "/beyond/space" });
                if barred && (!on_foot || opening.kind == OpeningKind::DoorlessOpening) {
                    ways.air_untold = Unresolved::joined(ways.air_untold.take(), unsaid.clone());
                }
                if barred && on_foot {
                    ways.untold = Unresolved::joined(ways.untold.take(), unsaid);
                }
                return;
            }
            (false, false) => return,
        };
        let elsewhere = inside(near) && far.is_some_and(|beyond| beyond.kind != BeyondKind::Space && beyond.space.is_none());
        let doorless = opening.kind == OpeningKind::DoorlessOpening;
        match other.and_then(|id| self.spaces.get(id)) {
            Some(space) if is_prohibited(space.kind) => match (on_foot, doorless) {
                (true, true) => ways.open.push((opening.clone(), space.clone())),
                (true, false) => ways.doors.push((opening.clone(), space.clone())),
                (false, _) if opening.purpose.is_none() => {
                    ways.air_untold = Unresolved::joined(ways.air_untold.take(), opening.missing("/purpose"));
                }
                (false, _) => ways.breathes.push((opening.clone(), space.clone())),
            },
            Some(_) => ways.elsewhere |= on_foot,
            None if elsewhere => ways.elsewhere |= on_foot,
            None => {
                let field = match (near, far) {
                    (None, _) => "/space",
                    (_, None) => "/beyond",
                    _ => "/beyond/space",
                };
                let missing = opening.missing(field);
                if doorless || !on_foot {
                    ways.air_untold = Unresolved::joined(ways.air_untold.take(), missing.clone());
                }
                if on_foot {
                    ways.untold = Unresolved::joined(ways.untold.take(), missing);
                }
            }
        }
    }

    /// The openings that let air into the rooms from other rooms, by id.
    pub fn indoor_air_openings(&self, rooms: &BTreeSet<String>) -> Vec<String> {
        let lets_in = |opening: &&Place<'a, Opening>| {
            openings::lets_air_through(opening)
                && rooms.iter().any(|room| {
                    across(opening, room).is_some_and(|other| {
                        !rooms.contains(other) && self.spaces.get(other).is_some_and(|space| !is_source(space))
                    })
                })
        };
        self.openings.iter().filter(lets_in).map(|opening| opening.get().id.clone()).collect()
    }

    /// Free area of the largest permanent opening of a room into a space of an accepted kind.
    ///
    /// # Errors
    /// When an opening's area cannot be told.
    pub fn largest_free_opening(&self, room: &str, limits: &Limits, accepted: impl Fn(SpaceKind) -> bool) -> Lookup<Area> {
        let counts = |opening: &&Place<'a, Opening>| {
            openings::lets_air_through(opening)
                && across(opening, room).and_then(|other| self.spaces.get(other)).is_some_and(|space| accepted(space.kind))
        };
        let areas = self.openings.iter().filter(counts).map(|opening| openings::free_anywhere(opening, limits));
        let areas = areas.collect::<Vec<_>>().together()?;
        Ok(areas.into_iter().fold(Area::default(), |most, area| if area > most { area } else { most }))
    }

    fn leads_outward(&self, opening: &Opening) -> bool {
        let Some(beyond) = &opening.beyond else { return opening.duct.is_some() };
        match beyond.kind {
            BeyondKind::Outdoors | BeyondKind::Attic | BeyondKind::CrawlSpace => true,
            BeyondKind::Space => beyond.space.as_deref().and_then(|id| self.spaces.get(id)).is_some_and(|space| is_source(space)),
            _ => false,
        }
    }

    /// The rooms that count as one with a room. `input_of` tells the counted input of a room's appliances.
    pub fn joined(&self, start: &str, input_of: &dyn Fn(&str) -> Power, limits: &Limits) -> Joined {
        let mut rooms = self.breathing_together(start);
        let mut used: Vec<(BTreeSet<String>, BTreeSet<String>)> = Vec::new();
        while let Some((cluster, before)) = self.next_cluster(&rooms, &used, input_of, limits) {
            used.push((before, cluster.clone()));
            rooms.extend(cluster);
        }
        self.report(rooms, &used, input_of, limits)
    }

    /// The next cluster that joins, appliance-free ones first, then by name.
    fn next_cluster(
        &self,
        rooms: &BTreeSet<String>,
        used: &[(BTreeSet<String>, BTreeSet<String>)],
        input_of: &dyn Fn(&str) -> Power,
        limits: &Limits,
    ) -> Option<(BTreeSet<String>, BTreeSet<String>)> {
        let mut candidates: Vec<(bool, BTreeSet<String>)> = self
            .neighbours(rooms)
            .into_iter()
            .map(|id| self.breathing_together(&id))
            .map(|cluster| (total(&cluster, input_of) > Power::default(), cluster))
            .collect();
        candidates.sort();
        candidates.dedup();
        candidates.into_iter().find_map(|(_, cluster)| {
            let input = total(rooms, input_of) + total(&cluster, input_of);
            let joins =
                |a: &BTreeSet<String>, b: &BTreeSet<String>| matches!(self.link(a, b, input, limits), Some(Link::Joins(_)));
            (joins(rooms, &cluster) && used.iter().all(|(a, b)| joins(a, b))).then(|| (cluster, rooms.clone()))
        })
    }

    /// The working at the final input, and the connections that were not used.
    fn report(
        &self,
        rooms: BTreeSet<String>,
        used: &[(BTreeSet<String>, BTreeSet<String>)],
        input_of: &dyn Fn(&str) -> Power,
        limits: &Limits,
    ) -> Joined {
        let input = total(&rooms, input_of);
        let mut joined = Joined { rooms, steps: Vec::new(), untold: None, short: Vec::new() };
        for (a, b) in used {
            if let Some(Link::Joins(steps)) = self.link(a, b, input, limits) {
                joined.steps.extend(steps);
            }
        }
        let mut seen: BTreeSet<BTreeSet<String>> = BTreeSet::new();
        for id in self.neighbours(&joined.rooms) {
            let cluster = self.breathing_together(&id);
            if !seen.insert(cluster.clone()) {
                continue;
            }
            let with = input + total(&cluster, input_of);
            match self.link(&joined.rooms, &cluster, with, limits) {
                Some(Link::Short(steps, short)) => {
                    joined.steps.extend(steps);
                    joined.short.push(short);
                }
                Some(Link::Untold(unresolved)) => {
                    joined.untold = Unresolved::joined(joined.untold.take(), unresolved);
                }
                Some(Link::Joins(_)) | None => {}
            }
        }
        joined.untold = self.untold(joined.untold.take());
        joined
    }

    /// A room with everything open to it without doors. A burner takes no air from a room it may not stand in: unless it
    /// stands in such a room, those do not count.
    fn breathing_together(&self, start: &str) -> BTreeSet<String> {
        self.without_doors(start, self.spaces.get(start).is_some_and(|space| !is_prohibited(space.kind)))
    }

    fn without_doors(&self, start: &str, not_prohibited: bool) -> BTreeSet<String> {
        let mut rooms = BTreeSet::from([start.to_owned()]);
        let mut todo = vec![start.to_owned()];
        while let Some(room) = todo.pop() {
            for opening in self.openings.iter().filter(|opening| openings::without_door(opening)) {
                if let Some(other) = across(opening, &room)
                    && self.spaces.get(other).is_some_and(|space| !(not_prohibited && is_prohibited(space.kind)))
                    && rooms.insert(other.to_owned())
                {
                    todo.push(other.to_owned());
                }
            }
        }
        rooms
    }

    /// Rooms outside a set that some opening for air leads to.
    fn neighbours(&self, rooms: &BTreeSet<String>) -> BTreeSet<String> {
        let usable = |opening: &&Place<'a, Opening>| openings::lets_air_through(opening) && openings::serves_combustion(opening);
        let far = |opening: &Place<'a, Opening>| {
            let (near, far) = (opening.get().space.as_deref()?, opening.get().beyond.as_ref()?.space.as_deref()?);
            let other = match (rooms.contains(near), rooms.contains(far)) {
                (true, false) => far,
                (false, true) => near,
                _ => return None,
            };
            let barred = |space: &Space| {
                is_source(space) || is_prohibited(space.kind) && !rooms.iter().any(|id| self.holds_prohibited(id))
            };
            self.spaces.get(other).filter(|space| !barred(space)).map(|_| other.to_owned())
        };
        self.openings.iter().filter(usable).filter_map(far).collect()
    }

    fn holds_prohibited(&self, id: &str) -> bool {
        self.spaces.get(id).is_some_and(|space| is_prohibited(space.kind))
    }

    /// How two sets of rooms are connected at an input; `None` when no opening for air joins them.
    fn link(&self, a: &BTreeSet<String>, b: &BTreeSet<String>, input: Power, limits: &Limits) -> Option<Link> {
        let between: Vec<&Place<'a, Opening>> = self
            .openings
            .iter()
            .filter(|opening| openings::lets_air_through(opening) && openings::serves_combustion(opening))
            .filter(|opening| {
                let ends = (opening.space.as_deref(), opening.beyond.as_ref().and_then(|beyond| beyond.space.as_deref()));
                matches!(ends, (Some(near), Some(far))
                    if (a.contains(near) && b.contains(far)) || (b.contains(near) && a.contains(far)))
            })
            .collect();
        if between.is_empty() {
            return None;
        }
        Some(self.hold(&between, input, limits).unwrap_or_else(Link::Untold))
    }

    fn hold(&self, between: &[&Place<'a, Opening>], input: Power, limits: &Limits) -> Lookup<Link> {
        let open: Vec<bool> = between.iter().map(|opening| openings::stays_open(opening)).collect::<Vec<_>>().together()?;
        let between: Vec<&Place<'a, Opening>> =
            between.iter().zip(open).filter(|(_, open)| *open).map(|(opening, _)| *opening).collect();
        let stories = between.iter().map(|opening| self.crosses_stories(opening)).collect::<Vec<_>>().together()?;
        let vertical: Vec<&Place<'a, Opening>> = between.iter().zip(&stories).filter(|(_, up)| **up).map(|(o, _)| *o).collect();
        let level: Vec<&Place<'a, Opening>> = between.iter().zip(&stories).filter(|(_, up)| !**up).map(|(o, _)| *o).collect();
        let mut outcome = None;
        if !level.is_empty() {
            outcome = Some(same_story(&level, input, limits)?);
        }
        if !vertical.is_empty() && !matches!(outcome, Some(Link::Joins(_))) {
            outcome = Some(between_stories(&vertical, input, limits)?);
        }
        Ok(outcome.unwrap_or_else(|| Link::Short(Vec::new(), text!("what there is can be closed"))))
    }

    /// Whether an opening leads to another story.
    fn crosses_stories(&self, opening: &Place<'a, Opening>) -> Lookup<bool> {
        if opening.kind == OpeningKind::FloorGrille {
            return Ok(true);
        }
        let far = need!(opening, beyond)?.get().space.clone().unwrap_or_default();
        let near = need!(opening, space)?;
        let story = |id: &str| -> Lookup<i32> {
            let space = self.space(id)?;
            need!(space, story).map(|story| *story)
        };
        let (near, far) = (story(near.get()), story(&far)).together()?;
        Ok(near != far)
    }
}

/// Whether a space is a source of air rather than a room that adds volume: attics and crawl spaces.
pub fn is_source(space: &Space) -> bool {
    matches!(space.kind, SpaceKind::Attic | SpaceKind::CrawlSpace)
}

/// Rooms no burner stands in or takes its air from.
pub fn is_prohibited(kind: SpaceKind) -> bool {
    use SpaceKind as K;
    matches!(kind, K::SleepingRoom | K::Bathroom | K::ToiletRoom | K::StorageCloset | K::ClothesCloset | K::SurgicalRoom)
}

fn across<'o>(opening: &'o Opening, room: &str) -> Option<&'o str> {
    let (near, far) = (opening.space.as_deref()?, opening.beyond.as_ref()?.space.as_deref()?);
    match (near == room, far == room) {
        (true, false) => Some(far),
        (false, true) => Some(near),
        _ => None,
    }
}

fn total(rooms: &BTreeSet<String>, input_of: &dyn Fn(&str) -> Power) -> Power {
    rooms.iter().fold(Power::default(), |sum, room| sum + input_of(room))
}

fn step(label: String, text: Text, source: &str, holds: bool) -> Step {
    Step { label, text, source: Some(source.to_owned()), holds: Some(holds), bound: None }
}

fn same_story(level: &[&Place<Opening>], input: Power, limits: &Limits) -> Lookup<Link> {
    let offered = level.iter().map(|opening| openings::assessed(opening, limits)).collect::<Vec<_>>().together()?;
    let source = air::sources::SAME_STORY.text();
    let required = air::same_story_area(input, &limits.joining);
    let Some(pair) = air::same_story(&offered, input, &limits.joining) else {
        let words = text!(
            "{} is the only opening: one near the ceiling and one near the floor are needed, {} each",
            level[0].get().id,
            in_unit(required, "in²")
        );
        return Ok(Link::Short(Vec::new(), words));
    };
    let mut steps = Vec::new();
    let mut faults = Vec::new();
    for (end, assessed) in [("upper", &pair.upper), ("lower", &pair.lower)] {
        let opening = level[assessed.index];
        let working = openings::free_area(opening, limits)?.working;
        let label = format!("{end} opening {} between rooms", opening.get().id);
        let own: Vec<Text> =
            assessed.shortcomings.iter().map(|fault| crate::words::shortcoming(&opening.get().id, fault)).collect();
        let text = text!("{}; {} needed", working, in_unit(assessed.required, "in²"));
        let text = Text::list(std::iter::once(&text).chain(&own));
        steps.push(step(label, text, source, assessed.complies()));
        faults.extend(own);
    }
    if pair.complies() {
        return Ok(Link::Joins(steps));
    }
    Ok(Link::Short(steps, Text::list(&faults)))
}

fn between_stories(vertical: &[&Place<Opening>], input: Power, limits: &Limits) -> Lookup<Link> {
    let free: Vec<Area> =
        vertical.iter().map(|opening| openings::free_anywhere(opening, limits)).collect::<Vec<_>>().together()?;
    let held = air::between_stories(&free, input, &limits.joining);
    let text =
        text!("{} free in {} openings, {} needed", in_unit(held.provided, "in²"), vertical.len(), in_unit(held.required, "in²"));
    let source = air::sources::BETWEEN_STORIES.text();
    let steps = vec![step("openings between stories".to_owned(), text.clone(), source, held.complies())];
    if held.complies() {
        return Ok(Link::Joins(steps));
    }
    Ok(Link::Short(steps, text))
}
