//! What water does when it is heated behind a closed valve.

use super::measure::gallons;
use crate::units;
use uom::si::f64::{Length, MassDensity, Pressure, Ratio, ThermodynamicTemperature, Volume};
use uom::si::{mass_density, thermodynamic_temperature};

/// The tank must hold the pressure below this share of the relief valve's. Source:
/// [`sources::EXPANSION`](super::sources::EXPANSION).
pub const OPEN_BELOW_RELIEF: f64 = 0.9;

/// What decides how large a tank must be. Gauge pressures.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ExpansionTank {
    /// Air pressure before water comes.
    pub precharge: Pressure,
    /// Pressure in the pipe while nothing is drawn.
    pub line: Pressure,
    /// Greatest pressure the expansion may lead to.
    pub greatest: Pressure,
    /// Pressure of the atmosphere here.
    pub atmosphere: Pressure,
}

/// Density of water at ordinary pressure, 32 to 212 F. Source: [`sources::DENSITY`](super::sources::DENSITY).
pub fn density(temperature: ThermodynamicTemperature) -> MassDensity {
    let t = temperature.get::<thermodynamic_temperature::kelvin>() - 273.15;
    let above =
        999.839_52 + t * (16.945_176 + t * (-7.987_040_1e-3 + t * (-46.170_461e-6 + t * (105.563_02e-9 + t * -280.542_53e-12))));
    MassDensity::new::<mass_density::kilogram_per_cubic_meter>(above / (1.0 + 16.879_850e-3 * t))
}

/// The water that has no more room when so much of it is heated; nothing where it cools.
pub fn expansion_volume(water: Volume, cold: ThermodynamicTemperature, hot: ThermodynamicTemperature) -> Volume {
    let grown: Ratio = density(cold) / density(hot);
    let share = units::in_fraction(grown) - 1.0;
    water * share.max(0.0)
}

/// The part of a tank's volume that can take expansion; nothing or less where the pressures leave no room. Source:
/// [`sources::EXPANSION`](super::sources::EXPANSION).
pub fn acceptance(tank: ExpansionTank) -> f64 {
    let absolute = |gauge: Pressure| (gauge + tank.atmosphere).value;
    let charged = absolute(tank.precharge);
    // Below the precharge no water stands in the tank.
    let air = |pressure: f64| if pressure > 0.0 { (charged / pressure).min(1.0) } else { 1.0 };
    air(absolute(tank.line)) - air(absolute(tank.greatest))
}

/// The smallest tank that takes an expansion; `None` where the pressures leave no room in any.
pub fn expansion_tank_volume(expansion: Volume, tank: ExpansionTank) -> Option<Volume> {
    let share = acceptance(tank);
    (share > 0.0).then(|| expansion / share)
}

/// The pressure at which a tank of some volume has taken an expansion; `None` where it is full before.
pub fn pressure_with_tank(volume: Volume, expansion: Volume, tank: ExpansionTank) -> Option<Pressure> {
    let absolute = |gauge: Pressure| gauge + tank.atmosphere;
    let charged = absolute(tank.precharge);
    let line = if absolute(tank.line).value > charged.value { absolute(tank.line) } else { charged };
    let air = volume * (charged.value / line.value) - expansion;
    (air > gallons(0.0)).then(|| charged * (volume.value / air.value) - tank.atmosphere)
}

/// Pressure of the atmosphere at an elevation. Source: [`sources::ATMOSPHERE`](super::sources::ATMOSPHERE).
pub fn atmosphere_at(elevation: Length) -> Pressure {
    let metres = elevation.value.clamp(-1000.0, 11_000.0);
    Pressure::new::<uom::si::pressure::pascal>(101_325.0 * libm::pow(1.0 - 0.0065 * metres / 288.15, 5.255_88))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::units::{feet, in_psi, psi};
    use crate::water::measure::{fahrenheit, in_gallons};

    fn tank(precharge: f64, line: f64, greatest: f64) -> ExpansionTank {
        ExpansionTank { precharge: psi(precharge), line: psi(line), greatest: psi(greatest), atmosphere: psi(14.7) }
    }

    #[test]
    fn pressures_that_leave_no_room_have_no_tank() {
        assert_eq!(expansion_tank_volume(gallons(1.0), tank(60.0, 140.0, 135.0)), None);
        assert_eq!(expansion_tank_volume(gallons(1.0), tank(140.0, 60.0, 135.0)), None);
        assert_eq!(pressure_with_tank(gallons(1.0), gallons(1.5), tank(60.0, 60.0, 135.0)), None);
    }

    #[test]
    fn the_smallest_tank_ends_at_the_greatest_pressure() {
        for (precharge, line) in [(60.0, 60.0), (40.0, 60.0), (70.0, 60.0)] {
            let charge = tank(precharge, line, 135.0);
            let expansion = gallons(0.839);
            let smallest = expansion_tank_volume(expansion, charge).unwrap();
            let ends = pressure_with_tank(smallest, expansion, charge).unwrap();
            assert!((in_psi(ends) - 135.0).abs() < 1e-9, "{precharge} {line}: {}", in_psi(ends));
        }
    }

    #[test]
    fn cooling_takes_no_room() {
        assert_eq!(in_gallons(expansion_volume(gallons(50.0), fahrenheit(140.0), fahrenheit(50.0))), 0.0);
    }

    // U.S. Standard Atmosphere (1976): 14.696 psi at the sea; 11.777 psi at 6,000 ft.
    #[test]
    fn air_thins_with_elevation() {
        assert!((in_psi(atmosphere_at(feet(0.0))) - 14.696).abs() < 1e-3);
        assert!((in_psi(atmosphere_at(feet(6000.0))) - 11.777).abs() < 5e-3);
    }
}
