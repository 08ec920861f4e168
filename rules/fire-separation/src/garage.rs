//! Where a garage meets the dwelling, and what its table asks for there.

use crate::area;
use crate::demand::Demand;
use crate::parameters::{counting, equals};
use crate::parts::{Part, parts_of};
use crate::zone::{self, Zone};
use redtag_handbook::fire::{Beside, Face as Side, Finish, GarageRow, GarageTable, Material, garage_row, sources};
use redtag_rule::prelude::*;
use uom::si::length::meter;

/// Board towards the residence.
pub const RESIDENCE: Quantity<dimensions::Length> = Quantity::new(
    "residence_board",
    "1/2 in",
    "Least gypsum board on the garage's side towards the residence and attics.",
    "IRC Table R302.6",
)
.within("3/8 in", "2 in")
.figure();
/// Whether it must be Type X.
pub const RESIDENCE_TYPE_X: Flag = Flag::new(
    "residence_type_x",
    false,
    "Whether the board towards the residence and attics must be Type X.",
    "IRC Table R302.6; some places ask for 5/8 in Type X everywhere",
)
.figure();
/// Board under habitable rooms.
pub const HABITABLE: Quantity<dimensions::Length> = Quantity::new(
    "habitable_above_board",
    "5/8 in",
    "Least Type X gypsum board under habitable rooms above a garage.",
    "IRC Table R302.6",
)
.within("1/2 in", "2 in")
.figure();
/// Board on structure.
pub const STRUCTURE: Quantity<dimensions::Length> = Quantity::new(
    "structure_board",
    "1/2 in",
    "Least gypsum board on walls, beams and posts that carry a floor or ceiling of the separation.",
    "IRC Table R302.6",
)
.within("3/8 in", "2 in")
.figure();
/// Distance of a garage that stands apart.
pub const NEAR: Quantity<dimensions::Length> = Quantity::new(
    "near_dwelling",
    "3 ft",
    "A garage that stands apart nearer than this to a dwelling on the lot has board inside its outer walls there.",
    "IRC Table R302.6",
)
.within("0 ft", "20 ft")
.figure();

/// The table as the rulebook has it.
pub fn table(inquiry: &Inquiry) -> GarageTable {
    let equals = equals(inquiry);
    let half = |thickness, type_x| Finish::gypsum(thickness, type_x).or(&equals);
    let residence = half(inquiry.value(&RESIDENCE), inquiry.value(&RESIDENCE_TYPE_X));
    GarageTable {
        habitable_above: Finish::gypsum(inquiry.value(&HABITABLE), true).or(&[Material::Masonry]),
        structure: half(inquiry.value(&STRUCTURE), false),
        near_dwelling: residence.clone(),
        residence,
        near: inquiry.value(&NEAR),
    }
}

/// The row of the table a wall, floor or ceiling falls under, and the face it asks about.
///
/// # Errors
/// Where the project does not say what lies on one of its sides.
pub fn row(inquiry: &Inquiry, part: &Part) -> Lookup<Option<(GarageRow, Side)>> {
    let here = zone::of_space(inquiry, &part.space);
    if here == Ok(Zone::DetachedGarage) {
        return apart(inquiry, part);
    }
    let there = zone::beyond(inquiry, part);
    match (here, there) {
        (Ok(Zone::Garage), Ok(there)) => match facing(&there, above(part, true))? {
            Some(row) => Ok(Some((row, Side::This))),
            None => structure(inquiry, part, &there),
        },
        (Ok(here), Ok(Zone::Garage)) => Ok(facing(&here, above(part, false))?.map(|row| (row, Side::Beyond))),
        // Nothing is separated from the open air, whatever stands here.
        (_, Ok(Zone::Open)) | (Ok(Zone::Open), _) => Ok(None),
        (Ok(_), Ok(_)) => Ok(None),
        (here, there) => (here, there).together().map(|_| None),
    }
}

/// Where the other side of the garage lies: above it, beside it, or under it.
#[derive(Clone, Copy, PartialEq)]
enum Where {
    Above,
    Beside,
    Under,
}

fn above(part: &Part, garage_here: bool) -> Where {
    match (part.is_wall(), part.is_overhead() == garage_here) {
        (true, _) => Where::Beside,
        (false, true) => Where::Above,
        (false, false) => Where::Under,
    }
}

fn facing(other: &Zone, place: Where) -> Lookup<Option<GarageRow>> {
    let beside = match (other, place) {
        (_, Where::Under) | (Zone::Garage | Zone::DetachedGarage | Zone::Open, _) => Beside::Open,
        (Zone::Attic, _) => Beside::Attic,
        (Zone::Dwelling(habitable), Where::Above) => Beside::Dwelling { habitable: habitable.clone()? },
        (Zone::Dwelling(_), Where::Beside) => Beside::Dwelling { habitable: false },
    };
    Ok(garage_row(beside, place == Where::Above))
}

/// A wall of the garage towards the open air that carries a ceiling of the separation.
fn structure(inquiry: &Inquiry, part: &Part, there: &Zone) -> Lookup<Option<(GarageRow, Side)>> {
    if !part.is_wall() || *there != Zone::Open || !ceiling_separates(inquiry, &part.space)? {
        return Ok(None);
    }
    let bearing = need!(part.assembly, framing.bearing)?;
    Ok(bearing.get().then_some((GarageRow::Structure, Side::This)))
}

/// Whether a ceiling of the garage is part of the separation.
///
/// # Errors
/// Where the project does not say what lies above a ceiling of the garage, and none is known to be part.
pub fn ceiling_separates(inquiry: &Inquiry, garage: &Place<Space>) -> Lookup<bool> {
    let overhead = parts_of(garage).into_iter().filter(Part::is_overhead);
    let of = |part: Part| {
        let there = zone::beyond(inquiry, &part)?;
        Ok(matches!(there, Zone::Attic | Zone::Dwelling(_)))
    };
    let answers: Vec<Lookup<bool>> = overhead.map(of).collect();
    if answers.contains(&Ok(true)) {
        return Ok(true);
    }
    Ok(answers.together()?.into_iter().any(|separates| separates))
}

/// A wall of a garage that stands apart, where it is near a dwelling.
fn apart(inquiry: &Inquiry, part: &Part) -> Lookup<Option<(GarageRow, Side)>> {
    let faces_out = matches!(zone::beyond(inquiry, part)?, Zone::Open);
    if !part.is_wall() || !faces_out {
        return Ok(None);
    }
    let near = !at_least(to_dwelling(inquiry, part)?, table(inquiry).near);
    Ok(near.then_some((GarageRow::NearDwelling, Side::This)))
}

/// Distance from a wall to the nearest part of a dwelling: by the outlines, or as said; the smaller where both are there.
fn to_dwelling(inquiry: &Inquiry, part: &Part) -> Lookup<uom::si::f64::Length> {
    let dwelling = |space: &Place<Space>| matches!(zone::of_space(inquiry, space), Ok(Zone::Dwelling(_) | Zone::Garage));
    let spaces: Vec<Place<Space>> = crate::parts::spaces(inquiry).into_iter().filter(dwelling).collect();
    let gaps: Option<Vec<f64>> = spaces.iter().map(|space| area::wall_to_outline(part, space.outline.as_ref()?)).collect();
    let least = gaps.and_then(|gaps| gaps.into_iter().reduce(f64::min)).map(uom::si::f64::Length::new::<meter>);
    let said = part.assembly.to_dwelling.as_ref().map(|said| said.quantity());
    match (said, least) {
        (Some(said), Some(drawn)) if drawn < said => Ok(drawn),
        (Some(said), _) => Ok(said),
        (None, Some(drawn)) => Ok(drawn),
        (None, None) => Err(part.assembly.missing("/to_dwelling")),
    }
}

/// The demand of a row.
pub fn demand(inquiry: &Inquiry, row: GarageRow, side: Side) -> Demand {
    let why = match row {
        GarageRow::Residence => "separation of garage and dwelling",
        GarageRow::HabitableAbove => "separation from a habitable room above the garage",
        GarageRow::Structure => "structure under the separation",
        GarageRow::NearDwelling => "wall of a garage near a dwelling",
    };
    Demand {
        why,
        finish: table(inquiry).finish(row).clone(),
        side,
        counting: counting(inquiry),
        source: sources::GARAGE_TABLE.text(),
    }
}
