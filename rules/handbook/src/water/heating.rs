//! Heat for water that flows.

use super::measure::{gallons_per_minute, in_gallons_per_minute};
use crate::units;
use uom::si::f64::{Power, TemperatureInterval, ThermodynamicTemperature, VolumeRate};
use uom::si::temperature_interval;

/// Heat that lifts one gallon per minute by one degree Fahrenheit, Btu/h. Source: [`sources::DUTY`](super::sources::DUTY).
const PER_GALLON: f64 = 500.0;

/// The flow some heat lifts by a rise; `None` where nothing is to be lifted.
pub fn flow_at_rise(output: Power, rise: TemperatureInterval) -> Option<VolumeRate> {
    let degrees = in_degrees(rise);
    (degrees > 0.0).then(|| gallons_per_minute(units::in_btu_per_hour(output) / (PER_GALLON * degrees)))
}

/// The heat a flow needs for a rise; nothing where it is not to be lifted.
pub fn heat_needed(flow: VolumeRate, rise: TemperatureInterval) -> Power {
    units::btu_per_hour(PER_GALLON * in_gallons_per_minute(flow) * in_degrees(rise).max(0.0))
}

/// The part of a mixed flow that comes from the hot side, between none and all; all where hot water is not hotter than cold.
pub fn hot_share(mixed: ThermodynamicTemperature, cold: ThermodynamicTemperature, hot: ThermodynamicTemperature) -> f64 {
    let (wanted, span) = (mixed.value - cold.value, hot.value - cold.value);
    if span > 0.0 { (wanted / span).clamp(0.0, 1.0) } else { 1.0 }
}

fn in_degrees(rise: TemperatureInterval) -> f64 {
    rise.get::<temperature_interval::kelvin>() * 1.8
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::water::measure::fahrenheit;

    #[test]
    fn no_rise_has_no_flow_and_needs_no_heat() {
        let none = TemperatureInterval::new::<temperature_interval::kelvin>(0.0);
        assert_eq!(flow_at_rise(units::btu_per_hour(199_000.0), none), None);
        assert_eq!(heat_needed(gallons_per_minute(5.0), none).value, 0.0);
        assert_eq!(hot_share(fahrenheit(105.0), fahrenheit(60.0), fahrenheit(60.0)), 1.0);
        assert_eq!(hot_share(fahrenheit(50.0), fahrenheit(60.0), fahrenheit(120.0)), 0.0);
    }
}
