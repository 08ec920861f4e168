//! Furnace and boiler rooms that a building code outside the residential one sets apart.

use crate::units::{btu_per_hour, in_btu_per_hour};
use redtag_schema::quantity::at_most;
use uom::si::f64::{Power, Pressure};

/// Limits of a room that needs no rating.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct IncidentalLimits {
    /// Input of a piece of equipment.
    pub input: Power,
    /// Pressure of a boiler.
    pub pressure: Pressure,
    /// Output of a boiler, in boiler horsepower.
    pub horsepower: f64,
}

/// Whether inputs are taken piece by piece or added up.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Reading {
    /// The largest piece alone.
    #[default]
    SinglePiece,
    /// All pieces together.
    Sum,
}

/// What burns in the room.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct IncidentalRoom {
    /// Input of each piece.
    pub inputs: Vec<Power>,
}

/// One boiler horsepower: 33,475 Btu/h, the heat that turns 34.5 lb of water an hour into steam at 212 F.
const BOILER_HORSEPOWER: f64 = 33_475.0;

/// Output in boiler horsepower.
pub fn boiler_horsepower(output: Power) -> f64 {
    in_btu_per_hour(output) / BOILER_HORSEPOWER
}

/// The input that counts, and whether it is more than the limit.
pub fn incidental(room: &IncidentalRoom, reading: Reading, limits: &IncidentalLimits) -> (Power, bool) {
    let zero = btu_per_hour(0.0);
    let counted = match reading {
        Reading::SinglePiece => room.inputs.iter().fold(zero, |most, &input| if input > most { input } else { most }),
        Reading::Sum => room.inputs.iter().fold(zero, |sum, &input| sum + input),
    };
    (counted, !at_most(counted, limits.input))
}
