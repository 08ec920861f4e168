//! What an inlet in a floor takes.

use super::sources;
use crate::Source;
use uom::si::f64::{Area, Length, VolumeRate};
use uom::si::{area, length, volume_rate};

const FOOT: f64 = 0.3048;
/// Gravity in feet, as the coefficients were made for.
const GRAVITY: f64 = 32.174;

/// Flow over the rim of an inlet, 3.0 P d^1.5 in feet. Source: [`sources::INLET`].
pub fn weir_flow(perimeter: Length, depth: Length) -> VolumeRate {
    let (perimeter, depth) = (feet(perimeter), feet(depth).max(0.0));
    cubic_feet_per_second(3.0 * perimeter * libm::pow(depth, 1.5))
}

/// Flow through a drowned opening, c A √(2 g d) in feet. Source: [`sources::INLET`].
pub fn orifice_flow(open: Area, depth: Length, coefficient: f64) -> VolumeRate {
    let open = open.get::<area::square_meter>() / (FOOT * FOOT);
    cubic_feet_per_second(coefficient * open * (2.0 * GRAVITY * feet(depth).max(0.0)).sqrt())
}

/// A strainer in a floor.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Strainer {
    /// Length of its rim.
    pub perimeter: Length,
    /// Its open area.
    pub open: Area,
    /// The share of both that is blocked.
    pub clogged: f64,
}

impl Strainer {
    /// Where the coefficients come from.
    pub const SOURCE: Source = sources::INLET;

    /// A round strainer.
    pub fn round(diameter: Length, open: Area, clogged: f64) -> Self {
        Self { perimeter: diameter * std::f64::consts::PI, open, clogged: clogged.clamp(0.0, 1.0) }
    }

    /// What it takes with water so deep over it: the lesser of rim and openings.
    pub fn flow(&self, depth: Length) -> VolumeRate {
        let taken = if weir_flow(self.perimeter, depth) < orifice_flow(self.open, depth, 0.67) {
            weir_flow(self.perimeter, depth)
        } else {
            orifice_flow(self.open, depth, 0.67)
        };
        taken * (1.0 - self.clogged)
    }
}

fn feet(length: Length) -> f64 {
    length.get::<length::meter>() / FOOT
}

fn cubic_feet_per_second(number: f64) -> VolumeRate {
    VolumeRate::new::<volume_rate::cubic_meter_per_second>(number * FOOT * FOOT * FOOT)
}
