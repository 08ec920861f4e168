//! What a pipe takes from the pressure: by height, and by friction under two formulas in use.

use super::TubeKind;
use super::measure::in_gallons_per_minute;
use crate::units;
use uom::si::f64::{Length, Pressure, Velocity, VolumeRate};
use uom::si::{length, pressure, velocity, volume_rate};

/// Which formula.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Friction {
    /// Hazen and Williams: what sizing tables are made with.
    HazenWilliams,
    /// Darcy and Weisbach with the Colebrook friction factor, water at 60 F.
    Darcy,
}

/// Density of water at 60 F, kg/m3.
const DENSITY: f64 = 999.0;
/// Kinematic viscosity of water at 60 F: 1.217e-5 ft2/s, in m2/s.
const VISCOSITY: f64 = 1.217e-5 * 0.3048 * 0.3048;
/// Roughness of drawn tube, 5e-6 ft, in m.
const SMOOTH: f64 = 5e-6 * 0.3048;
/// Roughness of steel pipe, in m.
const ROUGH: f64 = 45.7e-6;
/// Below this Reynolds number flow is laminar.
const LAMINAR: f64 = 2040.0;

/// Speed of a flow in a round pipe; nothing where the pipe has no width.
pub fn velocity(flow: VolumeRate, inside: Length) -> Velocity {
    let area = core::f64::consts::FRAC_PI_4 * inside.get::<length::meter>() * inside.get::<length::meter>();
    let speed = if area > 0.0 { flow.get::<volume_rate::cubic_meter_per_second>() / area } else { 0.0 };
    Velocity::new::<velocity::meter_per_second>(speed)
}

/// Pressure a rise takes; what a fall gives is negative. Source: [`sources::ELEVATION`](super::sources::ELEVATION).
pub fn elevation_loss(rise: Length, per_foot: Pressure) -> Pressure {
    per_foot * (units::in_feet(rise))
}

/// Pressure friction takes along a length. Nothing where the pipe has no width. Sources:
/// [`sources::HAZEN_WILLIAMS`](super::sources::HAZEN_WILLIAMS), [`sources::DARCY`](super::sources::DARCY).
pub fn friction_loss(by: Friction, kind: TubeKind, inside: Length, flow: VolumeRate, along: Length) -> Pressure {
    let diameter = units::in_inches(inside);
    if diameter <= 0.0 || flow.value <= 0.0 {
        return units::psi(0.0);
    }
    match by {
        Friction::HazenWilliams => {
            let gpm = in_gallons_per_minute(flow);
            let per_hundred = 452.0 * libm::pow(gpm, 1.852) / (libm::pow(coefficient(kind), 1.852) * libm::pow(diameter, 4.8704));
            units::psi(per_hundred * units::in_feet(along) / 100.0)
        }
        Friction::Darcy => {
            let (speed, across) = (velocity(flow, inside).value, inside.value);
            let factor = friction_factor(speed * across / VISCOSITY, roughness(kind) / across);
            Pressure::new::<pressure::pascal>(factor * along.value / across * DENSITY * speed * speed / 2.0)
        }
    }
}

/// Darcy friction factor by Reynolds number and relative roughness: 64/Re while laminar, else the equation of Colebrook solved to
/// the last digits.
pub fn friction_factor(reynolds: f64, relative_roughness: f64) -> f64 {
    if reynolds < LAMINAR {
        return if reynolds > 0.0 { 64.0 / reynolds } else { 0.0 };
    }
    // x = 1/sqrt(f): the equation contracts by more than ten at each turn.
    let turn = |x: f64| -2.0 * libm::log10(relative_roughness / 3.7 + 2.51 * x / reynolds);
    let x = (0..40).fold(7.0, |x, _| turn(x));
    1.0 / (x * x)
}

/// Hazen-Williams coefficient.
fn coefficient(kind: TubeKind) -> f64 {
    match kind {
        TubeKind::Pex | TubeKind::Cpvc | TubeKind::Polyethylene => 150.0,
        TubeKind::CopperK | TubeKind::CopperL | TubeKind::CopperM => 140.0,
        TubeKind::Schedule40 => 120.0,
    }
}

fn roughness(kind: TubeKind) -> f64 {
    if kind == TubeKind::Schedule40 { ROUGH } else { SMOOTH }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::units::{feet, in_psi, inches};
    use crate::water::measure::gallons_per_minute;

    #[test]
    fn no_flow_and_no_width_lose_nothing() {
        for by in [Friction::HazenWilliams, Friction::Darcy] {
            for (inside, gpm) in [(0.0, 5.0), (0.785, 0.0)] {
                let lost = friction_loss(by, TubeKind::CopperL, inches(inside), gallons_per_minute(gpm), feet(100.0));
                assert_eq!(in_psi(lost), 0.0);
            }
        }
        assert_eq!(velocity(gallons_per_minute(3.0), inches(0.0)).value, 0.0);
        assert_eq!(friction_factor(0.0, 0.0), 0.0);
    }

    #[test]
    fn water_that_falls_gains() {
        assert!((in_psi(elevation_loss(feet(18.0), units::psi(0.433))) - 7.794).abs() < 1e-9);
        assert!(in_psi(elevation_loss(feet(-10.0), units::psi(0.433))) < 0.0);
    }
}
