//! Quantities with units, read as people in the trade write them.
//!
//! An author writes `"6'-8 1/2\""`, `"120,000 Btu/h"` or `"7 in wc"`; rules get SI numbers; reports print US customary
//! units first and SI on request, and echo the author's words. A number without a unit, a unit of another dimension,
//! a size below zero and a number too large to hold never get past [`Amount::parse`].
//!
//! Factors come from the `uom` crate. It rounds several of them to seven digits, which would part `"1 ft3"` from
//! `"1728 in3"`; those are composed from exact definitions in `table::exact`, each with its source.
//!
//! Limits are inclusive. Compare with [`at_least`] and [`at_most`]: `"3 ft"` meets `"36 in"` although their binary
//! floats differ in the last place.

mod amount;
mod compare;
mod dimension;
mod error;
mod kind;
mod number;
mod parse;
mod print;
#[cfg(feature = "json-schema")]
mod schema;
mod spelling;
mod table;
mod text;
mod unit;

#[cfg(test)]
mod tests;

pub use amount::Amount;
pub(crate) use amount::read;
pub use compare::{SiNumber, TOLERANCE, at_least, at_most};
pub use dimension::{Dimension, ThermalInsulance, dimensions};
pub use error::QuantityError;
pub use kind::{Kind, System};
pub use unit::Unit;

/// A length that is never negative: `"36 in"`, `"6 ft 8 in"`, `"914 mm"`. In metres.
pub type Length = Amount<dimensions::Length>;
/// A coordinate or an elevation, which may be negative: `"-2 ft 6 in"`. In metres.
pub type Position = Amount<dimensions::Position>;
/// An area: `"35 in²"`, `"200 sq ft"`. In square metres.
pub type Area = Amount<dimensions::Area>;
/// A volume: `"7,000 ft³"`, `"50 gal"`. In cubic metres.
pub type Volume = Amount<dimensions::Volume>;
/// Heat or work per time: `"120,000 Btu/h"`, `"9.6 kW"`, `"1/2 hp"`. In watts.
pub type Power = Amount<dimensions::Power>;
/// Apparent electrical power: `"1,500 VA"`. In volt-amperes.
pub type ApparentPower = Amount<dimensions::ApparentPower>;
/// A gauge pressure, a head or a load: `"7 in wc"`, `"60 psi"`, `"30 psf"`. In pascals.
pub type Pressure = Amount<dimensions::Pressure>;
/// Volume per time: `"150 cfm"`, `"8 gpm"`. In cubic metres per second.
pub type VolumeFlow = Amount<dimensions::VolumeFlow>;
/// A temperature on a scale: `"-5 °F"`, `"49 °C"`. In kelvins.
pub type Temperature = Amount<dimensions::Temperature>;
/// A rise or drop between two temperatures: `"70 F°"`, `"39 K"`. In kelvins.
pub type TemperatureDifference = Amount<dimensions::TemperatureDifference>;
/// Energy: `"14.2 kWh"`, `"40,000 Btu"`. In joules.
pub type Energy = Amount<dimensions::Energy>;
/// Fall per run, negative when it falls back: `"1/4 in/ft"`, `"2 %"`, `"1:48"`. Dimensionless.
pub type Slope = Amount<dimensions::Slope>;
/// A plain ratio: `"25 %"`, `"0.25"`, `"1:4"`. Dimensionless.
pub type Ratio = Amount<dimensions::Ratio>;
/// Changes of a space's air per time: `"0.35 ACH"`. Per second.
pub type AirChangeRate = Amount<dimensions::AirChangeRate>;
/// Electric current: `"20 A"`. In amperes.
pub type Current = Amount<dimensions::Current>;
/// Electric potential: `"240 V"`. In volts.
pub type Voltage = Amount<dimensions::Voltage>;
/// Electric charge: `"100 Ah"`. In coulombs.
pub type Charge = Amount<dimensions::Charge>;
/// Mass: `"250 lb"`. In kilograms.
pub type Mass = Amount<dimensions::Mass>;
/// A plane angle, which may be negative: `"45°"`. In radians.
pub type Angle = Amount<dimensions::Angle>;
/// A length of time: `"10 min"`, `"1 h 30 min"`. In seconds.
pub type Duration = Amount<dimensions::Duration>;
/// Heat given by a volume of fuel: `"1,000 Btu/ft³"`. In joules per cubic metre.
pub type HeatingValue = Amount<dimensions::HeatingValue>;
/// Speed: `"8 ft/s"`. In metres per second.
pub type Velocity = Amount<dimensions::Velocity>;
/// Thermal resistance of an area: `"R-13"`. In square metre kelvins per watt.
pub type ThermalResistance = Amount<dimensions::ThermalResistance>;
/// Electrical resistance: `"25 ohm"`. In ohms.
pub type Resistance = Amount<dimensions::Resistance>;
/// Cycles per time: `"60 Hz"`. In hertz.
pub type Frequency = Amount<dimensions::Frequency>;
/// Mass dissolved in a volume of water: `"15 gpg"`, `"250 mg/L"`. In kilograms per cubic metre.
pub type Concentration = Amount<dimensions::Concentration>;
