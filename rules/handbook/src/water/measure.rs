//! Gallons and degrees, exact: the gallon is 231 cubic inches (NIST SP 811, appendix B.6).

use crate::units;
use uom::si::f64::{MassConcentration, ThermodynamicTemperature, Volume, VolumeRate};
use uom::si::{mass_concentration, thermodynamic_temperature, volume, volume_rate};

const CUBIC_INCHES_OF_A_GALLON: f64 = 231.0;
const CUBIC_INCHES_OF_A_CUBIC_FOOT: f64 = 1728.0;
const GRAIN_IN_KILOGRAMS: f64 = 6.479_891e-5;

/// A volume in gallons.
pub fn gallons(number: f64) -> Volume {
    units::cubic_feet(number * CUBIC_INCHES_OF_A_GALLON / CUBIC_INCHES_OF_A_CUBIC_FOOT)
}

/// The volume as a number of gallons.
pub fn in_gallons(volume: Volume) -> f64 {
    units::in_cubic_feet(volume) * CUBIC_INCHES_OF_A_CUBIC_FOOT / CUBIC_INCHES_OF_A_GALLON
}

/// A flow in gallons per minute.
pub fn gallons_per_minute(number: f64) -> VolumeRate {
    VolumeRate::new::<volume_rate::cubic_meter_per_second>(gallons(number).get::<volume::cubic_meter>() / 60.0)
}

/// The flow as a number of gallons per minute.
pub fn in_gallons_per_minute(flow: VolumeRate) -> f64 {
    in_gallons(Volume::new::<volume::cubic_meter>(flow.get::<volume_rate::cubic_meter_per_second>() * 60.0))
}

/// A temperature in degrees Fahrenheit.
pub fn fahrenheit(number: f64) -> ThermodynamicTemperature {
    ThermodynamicTemperature::new::<thermodynamic_temperature::kelvin>((number + 459.67) / 1.8)
}

/// The temperature as a number of degrees Fahrenheit.
pub fn in_fahrenheit(temperature: ThermodynamicTemperature) -> f64 {
    temperature.get::<thermodynamic_temperature::kelvin>() * 1.8 - 459.67
}

/// The concentration as a number of grains per gallon.
pub fn in_grains_per_gallon(concentration: MassConcentration) -> f64 {
    concentration.get::<mass_concentration::kilogram_per_cubic_meter>() * gallons(1.0).get::<volume::cubic_meter>()
        / GRAIN_IN_KILOGRAMS
}

/// The concentration as a number of milligrams per liter, which water people call parts per million.
pub fn in_milligrams_per_liter(concentration: MassConcentration) -> f64 {
    concentration.get::<mass_concentration::kilogram_per_cubic_meter>() * 1000.0
}

#[cfg(test)]
mod tests {
    use super::*;

    // NIST SP 811 (2008), appendix B.8: gallon 3.785412 L; gallon per minute 6.309020e-5 m3/s; grain 6.479891e-5 kg.
    #[test]
    fn factors_agree_with_nist_special_publication_811() {
        assert!((gallons(1.0).get::<volume::liter>() / 3.785_412 - 1.0).abs() < 1e-6);
        assert!((gallons_per_minute(1.0).value / 6.309_020e-5 - 1.0).abs() < 1e-6);
        let hardness = MassConcentration::new::<mass_concentration::kilogram_per_cubic_meter>(17.118e-3);
        assert!((in_grains_per_gallon(hardness) - 1.0).abs() < 1e-4);
        assert!((in_milligrams_per_liter(hardness) - 17.118).abs() < 1e-9);
    }

    #[test]
    fn there_and_back_is_the_same() {
        for number in [0.0, 1.0, 19.52, 85.0] {
            assert!((in_gallons(gallons(number)) - number).abs() < 1e-12);
            assert!((in_gallons_per_minute(gallons_per_minute(number)) - number).abs() < 1e-12);
            assert!((in_fahrenheit(fahrenheit(number)) - number).abs() < 1e-10);
        }
    }
}
