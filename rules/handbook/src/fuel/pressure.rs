//! Gas pressure at the appliance.

use super::{FuelGas, sources};
use crate::{Sourced, units};
use redtag_schema::quantity::{at_least, at_most};
use uom::si::f64::Pressure;

/// The pressures an appliance accepts at its inlet, from its rating plate.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PressureWindow {
    /// With everything on the line firing, not less.
    pub least: Pressure,
    /// With nothing firing, not more.
    pub greatest: Pressure,
}

/// How a supply fits a window.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum PressureFit {
    /// It fits.
    Within,
    /// Too low while firing: the appliance starves.
    TooLow,
    /// Too high at rest: a regulator is needed ahead of the appliance.
    TooHigh,
}

/// Pressure left at an inlet: the supply less what the piping takes with all appliances firing.
pub fn pressure_at_inlet(supply: Pressure, drop: Pressure) -> Pressure {
    supply - drop
}

/// Holds a supply against a window: `at_rest` is the static pressure, `firing` the pressure left at the inlet with all
/// appliances on. Too high is reported first: it harms more. Ends are included. Source: IFGC 402.1 and 402.5.
pub fn pressure_fit(at_rest: Pressure, firing: Pressure, window: &PressureWindow) -> PressureFit {
    if !at_most(at_rest, window.greatest) {
        PressureFit::TooHigh
    } else if !at_least(firing, window.least) {
        PressureFit::TooLow
    } else {
        PressureFit::Within
    }
}

/// What a fuel is usually supplied and burned at. For plausibility only; a rating plate comes first.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct TypicalPressures {
    /// Nominal pressure in a house's low-pressure piping.
    pub supply: Pressure,
    /// The range such piping is found at, where known.
    pub supply_window: Option<PressureWindow>,
    /// Nominal manifold pressure of a conventional gas valve.
    pub manifold: Pressure,
    /// The range it is set within.
    pub manifold_window: PressureWindow,
}

/// Usual pressures of a fuel. Source: [`sources::PRESSURES`].
pub fn typical_pressures(gas: FuelGas) -> Sourced<TypicalPressures> {
    let typical = match gas {
        FuelGas::Natural => TypicalPressures {
            supply: units::inches_of_water(7.0),
            supply_window: Some(window(5.0, 14.0)),
            manifold: units::inches_of_water(3.5),
            manifold_window: window(3.2, 3.8),
        },
        FuelGas::Propane => TypicalPressures {
            supply: units::inches_of_water(11.0),
            supply_window: None,
            manifold: units::inches_of_water(10.0),
            manifold_window: window(9.7, 10.3),
        },
    };
    Sourced::new(typical, sources::PRESSURES)
}

/// Inlet windows read in appliance manuals, to show how far they spread. Source: [`sources::INLET_WINDOWS`].
pub fn sample_inlet_windows(gas: FuelGas) -> Sourced<Vec<PressureWindow>> {
    let windows: &[(f64, f64)] = match gas {
        FuelGas::Natural => &[(5.0, 10.0), (6.0, 10.5), (4.0, 10.5), (3.5, 14.0)],
        FuelGas::Propane => &[(11.0, 14.0), (11.0, 13.0), (4.0, 13.0)],
    };
    Sourced::new(windows.iter().map(|(least, greatest)| window(*least, *greatest)).collect(), sources::INLET_WINDOWS)
}

/// A window in inches of water.
fn window(least: f64, greatest: f64) -> PressureWindow {
    PressureWindow { least: units::inches_of_water(least), greatest: units::inches_of_water(greatest) }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::units::*;

    fn fit(at_rest: f64, drop: f64) -> PressureFit {
        let supply = inches_of_water(at_rest);
        pressure_fit(supply, pressure_at_inlet(supply, inches_of_water(drop)), &window(5.0, 10.5))
    }

    #[test]
    fn both_ends_are_included() {
        assert_eq!(fit(7.0, 2.0), PressureFit::Within);
        assert_eq!(fit(7.0, 2.1), PressureFit::TooLow);
        assert_eq!(fit(10.5, 0.5), PressureFit::Within);
        assert_eq!(fit(10.6, 0.5), PressureFit::TooHigh);
    }

    #[test]
    fn two_pounds_need_a_regulator() {
        assert_eq!(pressure_fit(psi(2.0), psi(1.8), &window(5.0, 10.5)), PressureFit::TooHigh);
    }

    #[test]
    fn the_usual_pressures_lie_in_their_windows() {
        for gas in [FuelGas::Natural, FuelGas::Propane] {
            let typical = typical_pressures(gas).value;
            let manifold = typical.manifold;
            assert_eq!(pressure_fit(manifold, manifold, &typical.manifold_window), PressureFit::Within);
            for window in sample_inlet_windows(gas).value {
                assert!(window.least < window.greatest);
                assert!(window.greatest > manifold);
            }
        }
    }
}
