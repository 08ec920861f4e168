//! Gypsum board must stand between a garage and the dwelling, on the garage's side, thicker and Type X under habitable rooms.
//!
//! A car fire fills a garage in minutes. The table asks for board that gives the household time to leave: towards the residence
//! and attics, under habitable rooms above, on the walls that carry such a floor or ceiling, and inside a garage that stands apart
//! but close to a dwelling.
//!
//! **How it is measured.** For each wall, floor and ceiling: what lies on its two sides picks the row of the table and the face;
//! the layers of that face are held against it. A board that leaves gaps counts for nothing; wood panels are no board, but do no
//! harm over or under one. Board is taken off in square feet: the face less its openings. The walls told of a garage, from its side or
//! from the other, must close its outline, and what lies over it must be told: a wall or ceiling nobody describes is no
//! separation. A garage over rooms has a floor whose surface does not burn. Where the framing, the layers or what lies beyond is
//! not said, nothing is passed.
//!
//! **How it is fixed.** Hang the board on the garage's side, or show the authority that what is there is equal. The separation is
//! not a rated assembly; local amendments often ask for more. Fire safety is work for people who know the adopted code.

use crate::demand;
use crate::garage::{self, HABITABLE, NEAR, RESIDENCE, RESIDENCE_TYPE_X, STRUCTURE};
use crate::parameters::{COUNTING, EQUALS};
use crate::parts::{Part, mineral, parts, spaces};
use crate::zone::{self, Zone};
use crate::{area, faces};
use redtag_handbook::fire::Face as Side;
use redtag_rule::prelude::*;

/// The rule.
pub const RULE: Rule = Rule {
    citations: &[cited("IRC", "2021", "R302.6"), cited("IRC", "2021", "Table R302.6"), remembered("IRC", "2021", "R309.1")],
    parameters: &[&RESIDENCE, &RESIDENCE_TYPE_X, &HABITABLE, &STRUCTURE, &NEAR, &COUNTING, &EQUALS],
    reads: &["/spaces", "/openings"],
    ..Rule::new("fire-separation/garage-separation", "Board between garage and dwelling", check)
};

const WANTED: &str = "whether it parts garage and dwelling as it must";

fn check(inquiry: &Inquiry) -> Vec<Finding> {
    let parts = parts(inquiry);
    let mut findings: Vec<Finding> = parts.iter().filter_map(|part| one(inquiry, part)).collect();
    let garages = spaces(inquiry).into_iter().filter(|space| space.kind == SpaceKind::AttachedGarage);
    findings.extend(garages.filter_map(|garage| {
        let unresolved = undescribed(&garage, &parts).err()?;
        Some(garage.ask(WANTED, || Err(unresolved)))
    }));
    findings
}

fn one(inquiry: &Inquiry, part: &Part) -> Option<Finding> {
    match garage::row(inquiry, part) {
        Ok(None) => floor(inquiry, part),
        Ok(Some((row, side))) => {
            let demand = garage::demand(inquiry, row, side);
            Some(part.assembly.sheet(WANTED, |sheet| demand::work(inquiry, part, &demand, sheet)))
        }
        Err(unresolved) => Some(part.assembly.ask(WANTED, || Err(unresolved))),
    }
}

/// A floor of the garage over rooms of the dwelling: its surface does not burn.
fn floor(inquiry: &Inquiry, part: &Part) -> Option<Finding> {
    let (here, there) = (zone::of_space(inquiry, &part.space).ok()?, zone::beyond(inquiry, part).ok()?);
    let side = match (part.assembly.kind, here, there) {
        (AssemblyKind::Floor, Zone::Garage, Zone::Dwelling(_)) => Side::This,
        (AssemblyKind::Ceiling, Zone::Dwelling(_), Zone::Garage) => Side::Beyond,
        _ => return None,
    };
    Some(part.assembly.sheet("whether the surface of the garage's floor burns", |sheet| {
        if mineral(part.framing()?) {
            return Ok(text!("a floor of concrete or masonry"));
        }
        let layers = need!(part.assembly, layers)?;
        let known = faces::of(layers.get(), side);
        let covers = |layer: &redtag_handbook::fire::Layer| {
            layer.on_face == Some(true)
                && layer.complete == Some(true)
                && layer.material.is_some_and(|material| material.noncombustible())
        };
        let may_cover = |layer: &redtag_handbook::fire::Layer| {
            layer.on_face == Some(true)
                && layer.complete.is_none()
                && layer.material.is_some_and(|material| material.noncombustible())
        };
        if let (false, Some(index)) = (known.iter().any(covers), known.iter().position(may_cover)) {
            return Err(Unresolved::at(format!("{}/{index}/complete", layers.pointer())));
        }
        if let Some(index) = known.iter().position(|layer| layer.on_face != Some(false) && layer.material.is_none()) {
            return Err(Unresolved::at(format!("{}/{index}/material", layers.pointer())));
        }
        let words = text!("the floor of the garage over rooms: {} on it", faces::words(layers.get(), side));
        if !sheet.require("surface", words, "from memory of IRC R309.1", known.iter().any(covers)) {
            sheet.cure(text!("a surface the authority approves that does not burn: concrete, tile, cement board"));
        }
        Ok(text!("its surface does not burn"))
    }))
}

/// Share of the outline that walls may leave undescribed: their thickness at the corners.
const OPEN_OUTLINE: f64 = 0.05;

/// Whether the walls of an attached garage and what lies over it are told, here or from the other side.
fn undescribed(garage: &Place<Space>, parts: &[Part]) -> Lookup<()> {
    let list = format!("{}/assemblies", garage.pointer());
    let missing = |what: &str| Err(Unresolved::because(list.clone(), what));
    let own = |part: &Part| part.space.id == garage.id;
    let other = |part: &Part| part.assembly.beyond.as_ref().and_then(|beyond| beyond.space.as_deref()) == Some(&garage.id);
    let touching: Vec<&Part> = parts.iter().filter(|part| own(part) || other(part)).collect();
    if touching.is_empty() {
        return missing("the walls and the ceiling of the garage and what lies beyond them");
    }
    let over = |part: &&&Part| (own(part) && part.is_overhead()) || (other(part) && part.assembly.kind == AssemblyKind::Floor);
    if !touching.iter().any(|part| over(&part)) {
        return missing("the ceiling or roof of the garage, and what lies above it");
    }
    let outline = need!(garage, outline)?;
    let around = area::perimeter(outline.get());
    if let Some(wall) = touching.iter().find(|part| part.is_wall() && area::run(part).is_none()) {
        return (need!(wall.assembly, from), need!(wall.assembly, to)).together().map(|_| ());
    }
    let walls: f64 = touching.iter().filter(|part| part.is_wall()).filter_map(|part| area::run(part)).sum();
    if walls < around * (1.0 - OPEN_OUTLINE) {
        // A wall that does not say what lies beyond it may be one of them.
        let unsaid = |part: &Part| match &part.assembly.beyond {
            None => Some(part.assembly.missing("/beyond")),
            Some(beyond) if beyond.kind == BeyondKind::Space && beyond.space.is_none() => {
                Some(part.assembly.missing("/beyond/space"))
            }
            Some(_) => None,
        };
        let open = parts.iter().filter(|part| part.is_wall()).filter_map(unsaid).fold(None, Unresolved::joined);
        let walls = Unresolved::because(list, "the walls of the garage: those described do not close its outline");
        return Err(open.map_or(walls.clone(), |open| open.and(walls)));
    }
    Ok(())
}
