//! The units the trade's figures are printed in, exact to the last bit.
//!
//! `uom` rounds the cubic foot and some others to seven digits. A room measured in feet would then miss a volume stated in
//! cubic feet by one part in ten million, so the factors here are composed from the definitions: the inch is 25.4 mm
//! (international yard, 1959), the British thermal unit is the International Table one, 1055.05585262 J (ISO 31-4), and the
//! inch of water is the conventional one, 1000 kg/m3 under standard gravity 9.80665 m/s2 (NIST SP 811, appendix B).

use std::ops::{Div, Mul};
use uom::si::f64::{Area, Energy, Frequency, HeatFluxDensity, Length, Power, Pressure, Ratio, Velocity, Volume, VolumeRate};
use uom::si::{area, energy, frequency, heat_flux_density, length, power, pressure, ratio, velocity, volume, volume_rate};

/// Heat given by a volume of gas. The dimension is that of a pressure, and `uom` gives both one type.
pub type HeatingValue = Pressure;
/// Room volume asked for per heat input: what "50 ft3 per 1000 Btu/h" is.
pub type VolumePerInput = <Volume as Div<Power>>::Output;
/// Air flow asked for per heat input: what "0.35 cfm per 1000 Btu/h" is.
pub type FlowPerInput = <VolumeRate as Div<Power>>::Output;
/// Heat input one unit of opening serves: what "1 in2 per 4000 Btu/h" is.
pub type InputPerArea = HeatFluxDensity;

const INCH: f64 = 0.0254;
const FOOT: f64 = 12.0 * INCH;
const SQUARE_INCH: f64 = INCH * INCH;
const CUBIC_FOOT: f64 = FOOT * FOOT * FOOT;
const HOUR: f64 = 3600.0;
const BTU: f64 = 1_055.055_852_62;
const INCH_OF_WATER: f64 = INCH * 1000.0 * 9.806_65;
const POUND_FORCE: f64 = 0.453_592_37 * 9.806_65;
const PSI: f64 = POUND_FORCE / SQUARE_INCH;

/// A length in inches.
pub fn inches(number: f64) -> Length {
    Length::new::<length::meter>(number * INCH)
}

/// The length as a number of inches.
pub fn in_inches(length: Length) -> f64 {
    length.get::<length::meter>() / INCH
}

/// A length in feet.
pub fn feet(number: f64) -> Length {
    Length::new::<length::meter>(number * FOOT)
}

/// The length as a number of feet.
pub fn in_feet(length: Length) -> f64 {
    length.get::<length::meter>() / FOOT
}

/// An area in square inches.
pub fn square_inches(number: f64) -> Area {
    Area::new::<area::square_meter>(number * SQUARE_INCH)
}

/// The area as a number of square inches.
pub fn in_square_inches(area: Area) -> f64 {
    area.get::<area::square_meter>() / SQUARE_INCH
}

/// A volume in cubic feet.
pub fn cubic_feet(number: f64) -> Volume {
    Volume::new::<volume::cubic_meter>(number * CUBIC_FOOT)
}

/// The volume as a number of cubic feet.
pub fn in_cubic_feet(volume: Volume) -> f64 {
    volume.get::<volume::cubic_meter>() / CUBIC_FOOT
}

/// Energy in kilowatt-hours.
pub fn kilowatt_hours(number: f64) -> Energy {
    Energy::new::<energy::joule>(number * 1000.0 * HOUR)
}

/// The energy as a number of kilowatt-hours.
pub fn in_kilowatt_hours(energy: Energy) -> f64 {
    energy.get::<energy::joule>() / (1000.0 * HOUR)
}

/// A heat input in British thermal units per hour.
pub fn btu_per_hour(number: f64) -> Power {
    Power::new::<power::watt>(number * BTU / HOUR)
}

/// The power as a number of British thermal units per hour.
pub fn in_btu_per_hour(power: Power) -> f64 {
    power.get::<power::watt>() * HOUR / BTU
}

/// An air or gas flow in cubic feet per minute.
pub fn cubic_feet_per_minute(number: f64) -> VolumeRate {
    VolumeRate::new::<volume_rate::cubic_meter_per_second>(number * CUBIC_FOOT / 60.0)
}

/// The flow as a number of cubic feet per minute.
pub fn in_cubic_feet_per_minute(flow: VolumeRate) -> f64 {
    flow.get::<volume_rate::cubic_meter_per_second>() * 60.0 / CUBIC_FOOT
}

/// A gas flow in cubic feet per hour.
pub fn cubic_feet_per_hour(number: f64) -> VolumeRate {
    VolumeRate::new::<volume_rate::cubic_meter_per_second>(number * CUBIC_FOOT / HOUR)
}

/// The flow as a number of cubic feet per hour.
pub fn in_cubic_feet_per_hour(flow: VolumeRate) -> f64 {
    flow.get::<volume_rate::cubic_meter_per_second>() * HOUR / CUBIC_FOOT
}

/// Air changes per hour.
pub fn air_changes_per_hour(number: f64) -> Frequency {
    Frequency::new::<frequency::hertz>(number / HOUR)
}

/// The rate as a number of air changes per hour.
pub fn in_air_changes_per_hour(rate: Frequency) -> f64 {
    rate.get::<frequency::hertz>() * HOUR
}

/// A gauge pressure in inches of water column.
pub fn inches_of_water(number: f64) -> Pressure {
    Pressure::new::<pressure::pascal>(number * INCH_OF_WATER)
}

/// The pressure as a number of inches of water column.
pub fn in_inches_of_water(pressure: Pressure) -> f64 {
    pressure.get::<pressure::pascal>() / INCH_OF_WATER
}

/// A pressure in pounds-force per square inch.
pub fn psi(number: f64) -> Pressure {
    Pressure::new::<pressure::pascal>(number * PSI)
}

/// The pressure as a number of pounds-force per square inch.
pub fn in_psi(pressure: Pressure) -> f64 {
    pressure.get::<pressure::pascal>() / PSI
}

/// A heating value in British thermal units per cubic foot.
pub fn btu_per_cubic_foot(number: f64) -> HeatingValue {
    Pressure::new::<pressure::pascal>(number * BTU / CUBIC_FOOT)
}

/// The heating value as a number of British thermal units per cubic foot.
pub fn in_btu_per_cubic_foot(value: HeatingValue) -> f64 {
    value.get::<pressure::pascal>() * CUBIC_FOOT / BTU
}

/// A plain fraction.
pub fn fraction(number: f64) -> Ratio {
    Ratio::new::<ratio::ratio>(number)
}

/// The ratio as a plain fraction.
pub fn in_fraction(value: Ratio) -> f64 {
    value.get::<ratio::ratio>()
}

/// A speed in feet per second.
pub fn feet_per_second(number: f64) -> Velocity {
    Velocity::new::<velocity::meter_per_second>(number * FOOT)
}

/// One square inch of opening for so many British thermal units per hour: the "4000" of "1 in2 per 4000 Btu/h".
pub fn one_square_inch_per(btu_per_hour_served: f64) -> InputPerArea {
    HeatFluxDensity::new::<heat_flux_density::watt_per_square_meter>(
        btu_per_hour(btu_per_hour_served).get::<power::watt>() / SQUARE_INCH,
    )
}

/// The ratio as the "4000" of "1 in2 per 4000 Btu/h".
pub fn in_btu_per_hour_per_square_inch(ratio: InputPerArea) -> f64 {
    in_btu_per_hour(ratio.mul(square_inches(1.0)))
}

/// So many cubic feet of room for each 1000 Btu/h: the "50" of the standard method.
pub fn cubic_feet_per_thousand(number: f64) -> VolumePerInput {
    cubic_feet(number) / btu_per_hour(1000.0)
}

/// The ratio as a number of cubic feet per 1000 Btu/h.
pub fn in_cubic_feet_per_thousand(ratio: VolumePerInput) -> f64 {
    in_cubic_feet(ratio.mul(btu_per_hour(1000.0)))
}

/// So many cubic feet of air per hour for each 1000 Btu/h: the "21" of the known air infiltration rate method.
pub fn hourly_cubic_feet_per_thousand(number: f64) -> FlowPerInput {
    cubic_feet_per_hour(number) / btu_per_hour(1000.0)
}

/// So many cubic feet of air per minute for each 1000 Btu/h: the "0.35" of the mechanical method.
pub fn cubic_feet_per_minute_per_thousand(number: f64) -> FlowPerInput {
    cubic_feet_per_minute(number) / btu_per_hour(1000.0)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_room_measured_in_feet_has_its_cubic_feet() {
        let room = feet(25.0) * feet(35.0) * feet(8.0);
        assert!((in_cubic_feet(room) - 7000.0).abs() < 1e-9, "{}", in_cubic_feet(room));
    }

    // NIST SP 811 (2008), appendix B.8 and B.9: factors for units listed alphabetically.
    #[test]
    fn factors_agree_with_nist_special_publication_811() {
        let close = |ours: f64, printed: f64| (ours / printed - 1.0).abs() < 1e-6;
        assert!(close(btu_per_hour(1.0).value, 2.930711e-1));
        assert!(close(inches_of_water(1.0).value, 2.490889e2));
        assert!(close(psi(1.0).value, 6.894757e3));
        assert!(close(cubic_feet(1.0).value, 2.831685e-2));
        assert!(close(cubic_feet_per_minute(1.0).value, 4.719474e-4));
        assert!(close(btu_per_cubic_foot(1.0).value, 3.725895e4));
    }
}
