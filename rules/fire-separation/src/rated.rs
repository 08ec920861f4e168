//! Which walls, floors and ceilings must hold a rating, because they part dwelling units.

use crate::parts::Part;
use redtag_rule::prelude::*;
use uom::si::f64::Time;

/// Rating between dwelling units.
pub const UNITS: Quantity<dimensions::Duration> = Quantity::new(
    "units_rating",
    "1 h",
    "Fire-resistance rating between the units of a two-family dwelling.",
    "from memory of IRC R302.3",
)
.figure();
/// The same with sprinklers.
pub const UNITS_SPRINKLERED: Quantity<dimensions::Duration> = Quantity::new(
    "units_rating_sprinklered",
    "30 min",
    "The same in a building with automatic sprinklers throughout.",
    "from memory of IRC R302.3 exception 1",
)
.figure();
/// Rating between townhouses.
pub const TOWNHOUSES: Quantity<dimensions::Duration> = Quantity::new(
    "townhouse_rating",
    "2 h",
    "Fire-resistance rating of the common wall of townhouses.",
    "from memory of IRC R302.2",
)
.figure();
/// The same with sprinklers.
pub const TOWNHOUSES_SPRINKLERED: Quantity<dimensions::Duration> = Quantity::new(
    "townhouse_rating_sprinklered",
    "1 h",
    "The same in a building with automatic sprinklers throughout.",
    "from memory of IRC R302.2",
)
.figure();

/// Whether a wall, floor or ceiling parts townhouses.
///
/// # Errors
/// Where the project does not say what lies on the other side.
pub fn townhouses(inquiry: &Inquiry, part: &Part) -> Lookup<bool> {
    Ok(match part.assembly.separation {
        Some(SeparationKind::Townhouses) => true,
        Some(SeparationKind::DwellingUnits) => false,
        _ => parts_units(inquiry, part)? && is_townhouse(inquiry)?,
    })
}

/// The rating a wall, floor or ceiling must have; `None` where it parts no dwelling units.
///
/// # Errors
/// Where the project does not say what lies on the other side, or whether there are sprinklers.
pub fn required(inquiry: &Inquiry, part: &Part) -> Lookup<Option<Time>> {
    let townhouses = match part.assembly.separation {
        Some(SeparationKind::Townhouses) => true,
        Some(SeparationKind::DwellingUnits) => false,
        _ if parts_units(inquiry, part)? => is_townhouse(inquiry)?,
        _ => return Ok(None),
    };
    let sprinklered = *need!(inquiry.project(), building.sprinklered)?.get();
    Ok(Some(match (townhouses, sprinklered) {
        (false, false) => inquiry.value(&UNITS),
        (false, true) => inquiry.value(&UNITS_SPRINKLERED),
        (true, false) => inquiry.value(&TOWNHOUSES),
        (true, true) => inquiry.value(&TOWNHOUSES_SPRINKLERED),
    }))
}

fn is_townhouse(inquiry: &Inquiry) -> Lookup<bool> {
    need!(inquiry.project(), building.occupancy).map(|occupancy| *occupancy == Occupancy::Townhouse)
}

/// The unit a space belongs to; none where the units share it. A room people live in belongs to one of them.
fn unit_of<'a>(inquiry: &Inquiry<'a>, space: &Place<'a, Space>) -> Lookup<Option<&'a String>> {
    use SpaceKind as K;
    let lived_in = matches!(space.kind, K::LivingSpace | K::Kitchen | K::SleepingRoom | K::Bathroom | K::Office);
    match &space.get().dwelling_unit {
        None if lived_in && several_units(inquiry) => Err(space.missing("/dwelling_unit")),
        unit => Ok(unit.as_ref()),
    }
}

/// Whether the building has more than one dwelling unit, as far as is said.
fn several_units(inquiry: &Inquiry) -> bool {
    let building = inquiry.project().get().building.as_ref();
    let listed = building.and_then(|building| building.dwelling_units.as_ref()).is_some_and(|units| units.len() > 1);
    let several = building.and_then(|building| building.occupancy).is_some_and(|occupancy| {
        use Occupancy as O;
        matches!(occupancy, O::TwoFamilyDwelling | O::Townhouse | O::MultifamilyDwelling)
    });
    listed || several || crate::parts::spaces(inquiry).iter().any(|space| space.dwelling_unit.is_some())
}

/// Whether different dwelling units lie on its two sides.
fn parts_units(inquiry: &Inquiry, part: &Part) -> Lookup<bool> {
    let Some(here) = unit_of(inquiry, &part.space)? else {
        // A shared room: what parts it from the units is declared, not derived.
        return Ok(false);
    };
    let beyond = need!(part.assembly, beyond)?;
    if beyond.kind == BeyondKind::DwellingUnit {
        return Ok(true);
    }
    if beyond.space.is_none() {
        // Nobody says whose room it is.
        return if beyond.kind == BeyondKind::Space { Err(beyond.missing("/space")) } else { Ok(false) };
    }
    let there = inquiry.space(&need!(beyond, space)?)?;
    Ok(unit_of(inquiry, &there)?.is_some_and(|there| there != here))
}
