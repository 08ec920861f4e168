//! What conductors carry.

use redtag_handbook::raceway::{TerminalRating, table_ampacity};
use redtag_handbook::standby::large_ampacity;
use redtag_rule::prelude::*;
use uom::si::f64::ElectricCurrent;
use uom::si::thermodynamic_temperature::degree_celsius;

/// Ampacity of a set of conductors: as worked out, else of copper by the table at the rating of its terminals.
///
/// # Errors
/// Where the table has no figure, or the set does not say its size.
pub fn ampacity(set: &Place<ConductorSet>) -> Lookup<ElectricCurrent> {
    if let Some(stated) = &set.ampacity {
        return Ok(stated.quantity());
    }
    let (size, material, rating) = (need!(set, size), need!(set, material), need!(set, terminal_rating)).together()?;
    let wanted = || {
        Unresolved::because(format!("{}/ampacity", set.pointer()), "its ampacity: the table for this conductor is not known here")
    };
    if *material != ConductorMaterial::Copper {
        return Err(wanted());
    }
    let celsius = rating.quantity().get::<degree_celsius>();
    let column = if celsius > 89.0 {
        TerminalRating::Ninety
    } else if celsius > 74.0 {
        TerminalRating::SeventyFive
    } else {
        TerminalRating::Sixty
    };
    let large = || if column == TerminalRating::SeventyFive { large_ampacity(&size) } else { None };
    let one = table_ampacity(&size, column).or_else(large).ok_or_else(wanted)?;
    Ok(one * f64::from(set.parallel.unwrap_or(1)))
}
