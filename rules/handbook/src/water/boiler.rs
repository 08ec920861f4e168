//! What the water of a heating system does when it is heated.

use uom::si::f64::{Pressure, Ratio, ThermodynamicTemperature, Volume};
use uom::si::thermodynamic_temperature::degree_fahrenheit;

/// The smallest tank with a diaphragm for the water of a heating system, from its mean temperature, the pressures at which it is
/// filled and which it may reach (gauge), and the atmosphere; `None` where the pressures leave no room. The tank is charged to the
/// pressure of filling. Source: [`sources::BOILER_EXPANSION`](super::sources::BOILER_EXPANSION).
pub fn boiler_expansion_tank(
    water: Volume,
    mean: ThermodynamicTemperature,
    (filled, greatest): (Pressure, Pressure),
    atmosphere: Pressure,
) -> Option<Volume> {
    let grows = 0.00041 * mean.get::<degree_fahrenheit>() - 0.0466;
    let air: Ratio = (filled + atmosphere) / (greatest + atmosphere);
    let room = 1.0 - air.value;
    (room > 0.0).then(|| water * (grows.max(0.0) / room))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::units::psi;
    use crate::water::measure::{gallons, in_gallons};

    /// Table M2003.2, pressurized diaphragm type, from memory: 195 F, filled at 12 psi, 30 psi at most.
    #[test]
    fn the_printed_table_follows_from_the_equation_within_its_rounding() {
        let printed = [
            (10.0, 1.0),
            (20.0, 1.5),
            (30.0, 2.5),
            (40.0, 3.0),
            (50.0, 4.0),
            (60.0, 5.0),
            (70.0, 6.0),
            (80.0, 6.5),
            (90.0, 7.5),
            (100.0, 8.0),
        ];
        for (system, tank) in printed {
            let mean = ThermodynamicTemperature::new::<degree_fahrenheit>(195.0);
            let found = boiler_expansion_tank(gallons(system), mean, (psi(12.0), psi(30.0)), psi(14.7)).map(in_gallons);
            let off = (found.unwrap_or(f64::NAN) - tank).abs();
            assert!(off <= 0.35, "{system} gal: {found:?} against {tank}");
        }
    }

    #[test]
    fn pressures_without_room_have_no_tank() {
        let mean = ThermodynamicTemperature::new::<degree_fahrenheit>(160.0);
        assert_eq!(boiler_expansion_tank(gallons(10.0), mean, (psi(30.0), psi(30.0)), psi(14.7)), None);
    }
}
