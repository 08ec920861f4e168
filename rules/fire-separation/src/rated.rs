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
        _ => {
            let townhouse =
                || inquiry.project().building.as_ref().and_then(|building| building.occupancy) == Some(Occupancy::Townhouse);
            parts_units(inquiry, part)? && townhouse()
        }
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
        _ if parts_units(inquiry, part)? => {
            inquiry.project().building.as_ref().and_then(|building| building.occupancy) == Some(Occupancy::Townhouse)
        }
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

/// Whether different dwelling units lie on its two sides.
fn parts_units(inquiry: &Inquiry, part: &Part) -> Lookup<bool> {
    let Some(here) = &part.space.dwelling_unit else {
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
    Ok(there.dwelling_unit.as_ref().is_some_and(|there| there != here))
}
