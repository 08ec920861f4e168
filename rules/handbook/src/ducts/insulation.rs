//! How well a duct outside the conditioned rooms must be insulated.

use redtag_schema::quantity::{ThermalInsulance, at_least};
use uom::si::f64::Length;

/// Where a duct runs.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum DuctPlace {
    /// Inside the conditioned rooms.
    Conditioned,
    /// In an attic outside them.
    Attic,
    /// Elsewhere outside them.
    Elsewhere,
}

/// What it carries.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Run {
    /// Air to rooms.
    Supply,
    /// Air from rooms.
    Return,
}

/// The figures of an edition.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum InsulationTable {
    /// By size alone, as in 2021.
    BySize {
        /// Ducts of the size limit and more.
        large: ThermalInsulance,
        /// Smaller ones.
        small: ThermalInsulance,
        /// The size limit.
        limit: Length,
    },
    /// By place, as read in 2018.
    ByPlace {
        /// Supply in attics.
        attic_supply: ThermalInsulance,
        /// Return in attics.
        attic_return: ThermalInsulance,
        /// Elsewhere, ducts of the size limit and more.
        elsewhere: ThermalInsulance,
        /// Elsewhere, smaller ones.
        elsewhere_small: ThermalInsulance,
        /// The size limit.
        limit: Length,
    },
}

/// The insulation a duct needs; `None` inside the conditioned rooms.
pub fn insulation_needed(place: DuctPlace, run: Run, size: Length, table: &InsulationTable) -> Option<ThermalInsulance> {
    if place == DuctPlace::Conditioned {
        return None;
    }
    Some(match (*table, place, run) {
        (InsulationTable::BySize { large, small, limit }, _, _) => {
            if at_least(size, limit) {
                large
            } else {
                small
            }
        }
        (InsulationTable::ByPlace { attic_supply, .. }, DuctPlace::Attic, Run::Supply) => attic_supply,
        (InsulationTable::ByPlace { attic_return, .. }, DuctPlace::Attic, Run::Return) => attic_return,
        (InsulationTable::ByPlace { elsewhere, elsewhere_small, limit, .. }, _, _) => {
            if at_least(size, limit) {
                elsewhere
            } else {
                elsewhere_small
            }
        }
    })
}
