//! Where the water of a floor drain is kept while it waits, and what it must not reach.

use crate::floor::{self, Measured};
use crate::footprint;
use redtag_handbook::drainage::Basin;
use redtag_rule::prelude::*;

/// The dish around a drain on a floor nobody measured: 2 by 2 ft.
const DISH: f64 = 0.371_6;

/// Where the water of a floor drain is kept, and what it must not reach.
pub struct Pool {
    /// What the floor around the drain holds.
    pub basin: Basin,
    /// Depth over the drain at which it leaves the recess.
    pub lip: Option<f64>,
    /// Depths at which it reaches something, with what that is.
    pub reached: Vec<(f64, String)>,
    /// Where it is on the plan.
    pub mark: Option<[[f64; 3]; 2]>,
    /// Its space.
    pub space: String,
    /// What is missing to know what else it reaches.
    pub unseen: Option<Unresolved>,
}

impl Pool {
    /// That of a drain.
    ///
    /// # Errors
    /// Where the floor around it is not known.
    pub fn of<'a>(inquiry: &Inquiry<'a>, drain: &Place<'a, Drain>) -> Lookup<Self> {
        let space = inquiry.space(&need!(drain, space)?)?;
        if need!(space, floor_survey.points).is_err() {
            return Self::level(drain, &space);
        }
        let floor = Measured::of(inquiry, &space)?;
        let at = floor.drains.iter().position(|known| known.id == drain.id);
        let node = at.and_then(|at| floor.surface.drains.get(at).copied().flatten());
        let node = node.ok_or_else(|| Unresolved::because(format!("{}/at", drain.pointer()), "a place on the measured floor"))?;
        let rim = floor.surface.nodes[node];
        let (feet, unseen) = feet(inquiry, &floor);
        let mut reached: Vec<(f64, String)> = feet.into_iter().map(|(level, name)| (level - rim[2], name)).collect();
        if let Some((level, door)) = floor.surface.lowest_threshold(node) {
            reached.push((level - rim[2], floor.doors.get(door).map_or_else(String::new, |door| door.label())));
        }
        reached.sort_by(|a, b| a.0.total_cmp(&b.0));
        let low = floor.absolute(rim[2]);
        let mark = Some([[rim[0] - 0.3, rim[1] - 0.3, low], [rim[0] + 0.3, rim[1] + 0.3, low]]);
        let basin = Basin::around(&floor.surface, node);
        let lip = floor.lip(node).map(|lip| lip - rim[2]);
        Ok(Self { basin, lip, reached, mark, space: space.id.clone(), unseen })
    }

    /// Nothing was measured: the recess alone, or a level floor.
    fn level(drain: &Place<Drain>, space: &Place<Space>) -> Lookup<Self> {
        let recesses = need!(space, floor_survey.recesses).every();
        let space_id = space.id.clone();
        let at = drain.at.as_ref().map(|at| [at.x.si(), at.y.si()]);
        let around = |recess: &&Place<Recess>| {
            at.is_none_or(|at| recess.outline.as_ref().is_some_and(|outline| floor::holds(outline, at)))
        };
        if let Some(recess) = recesses.iter().find(around) {
            let (outline, depth, rim) = (need!(recess, outline), need!(recess, depth), need!(drain, rim)).together()?;
            // A rim that stands above the bottom of the recess leaves only what is above the rim.
            let lip = depth.si().min(-rim.si()).max(0.0);
            let basin = Basin::upright(redtag_plan::area(&redtag_plan::corners(&outline)));
            return Ok(Self { basin, lip: Some(lip), reached: Vec::new(), mark: None, space: space_id, unseen: None });
        }
        let sinks = -drain.rim.as_ref().map_or(0.0, |rim| rim.si());
        let told = space.floor_survey.as_ref().is_some_and(|survey| survey.level == Some(true) || survey.slope.is_some());
        if !told || sinks <= 0.0 {
            return Err(space.missing("/floor_survey/points"));
        }
        // On a floor nobody measured the water may fill the dish the drain sits in, and not stand above the floor.
        let basin = Basin::upright(DISH);
        Ok(Self { basin, lip: Some(sinks), reached: Vec::new(), mark: None, space: space_id, unseen: None })
    }
}

/// Whether a thing stands on the floor of a space, and its outline there; nothing where it does not.
///
/// # Errors
/// What is missing to tell.
fn on_floor(thing: &Place<Equipment>, space: &str) -> Lookup<Option<redtag_plan::Body>> {
    let unplaced = thing.space.is_none() && thing.placement.is_none();
    if thing.kind == EquipmentKind::FloorDrain || thing.outdoors == Some(true) || unplaced {
        return Ok(None);
    }
    if thing.space.as_deref().is_some_and(|own| own != space) {
        return Ok(None);
    }
    let mounting = need!(thing, mounting);
    if mounting.as_ref().is_ok_and(|mounting| !matches!(**mounting, Mounting::Floor | Mounting::Platform)) {
        return Ok(None);
    }
    (mounting, need!(thing, space), footprint::told(thing)).together().map(|(_, _, print)| Some(print))
}

/// The level at which water meets each piece of equipment that stands on the floor, and what is missing of others.
fn feet(inquiry: &Inquiry, floor: &Measured) -> (Vec<(f64, String)>, Option<Unresolved>) {
    let here = need!(inquiry.project(), equipment).every();
    let mut unseen = None;
    let mut standing = Vec::new();
    for thing in &here {
        match on_floor(thing, &floor.space.id) {
            Ok(print) => standing.extend(print.map(|print| (thing, print))),
            Err(unresolved) => unseen = Unresolved::joined(unseen, unresolved),
        }
    }
    let levels = standing
        .into_iter()
        .filter_map(|(thing, print)| {
            let [from, to] = print.bounds();
            let middle = print.middle;
            let spots = [
                middle,
                from,
                to,
                [from[0], to[1]],
                [to[0], from[1]],
                [middle[0], from[1]],
                [middle[0], to[1]],
                [from[0], middle[1]],
                [to[0], middle[1]],
            ];
            let lowest = spots.into_iter().filter_map(|spot| floor.surface.level(spot)).fold(f64::INFINITY, f64::min);
            lowest.is_finite().then(|| (lowest + footprint::base(thing), thing.label()))
        })
        .collect();
    (levels, unseen)
}
