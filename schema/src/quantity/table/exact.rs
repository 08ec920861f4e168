//! Factors that `uom` does not have or rounds to seven digits, composed from exact definitions.
//!
//! With the rounded ones a cubic foot and 1,728 cubic inches would differ by two parts in ten million, and a limit
//! written in one unit would not be met by the same amount written in the other.
//! Definitions: NIST Special Publication 811 (2008), appendix B; the yard and pound agreement of 1959.

use super::factor;

/// One inch, 0.0254 m exactly.
pub(super) fn inch() -> f64 {
    factor!(Length, length::inch)
}

/// One foot, 0.3048 m exactly.
pub(super) fn foot() -> f64 {
    factor!(Length, length::foot)
}

/// One hour in seconds.
pub(super) fn hour() -> f64 {
    factor!(Time, time::hour)
}

/// One minute in seconds.
pub(super) fn minute() -> f64 {
    factor!(Time, time::minute)
}

/// One day in seconds.
pub(super) fn day() -> f64 {
    factor!(Time, time::day)
}

/// One cubic foot.
pub(super) fn cubic_foot() -> f64 {
    foot() * foot() * foot()
}

/// One cubic inch.
pub(super) fn cubic_inch() -> f64 {
    inch() * inch() * inch()
}

/// One US gallon: 231 cubic inches by definition.
pub(super) fn gallon() -> f64 {
    231.0 * cubic_inch()
}

/// One litre.
pub(super) fn liter() -> f64 {
    factor!(Volume, volume::liter)
}

/// The avoirdupois pound: 0.453 592 37 kg by definition (1959).
pub(super) fn pound() -> f64 {
    0.453_592_37
}

/// The force of one pound in standard gravity.
pub(super) fn pound_force() -> f64 {
    pound() * factor!(Acceleration, acceleration::standard_gravity)
}

/// One pound-force per square inch.
pub(super) fn psi() -> f64 {
    pound_force() / (inch() * inch())
}

/// Height of water as pressure, per metre: conventional water of 1,000 kg/m3 in standard gravity (NIST SP 811). An
/// inch of it is 249.088 91 Pa.
pub(super) fn meter_of_water() -> f64 {
    1_000.0 * factor!(Acceleration, acceleration::standard_gravity)
}

/// The British thermal unit of the International Table: 1 055.055 852 62 J by definition (NIST SP 811).
pub(super) fn btu() -> f64 {
    1_055.055_852_62
}

/// The mechanical horsepower: 550 foot pounds-force per second by definition (NIST SP 811).
pub(super) fn horsepower() -> f64 {
    550.0 * foot() * pound_force()
}

/// One degree Fahrenheit as a difference, 5/9 K.
pub(super) fn fahrenheit_degree() -> f64 {
    factor!(TemperatureInterval, temperature_interval::degree_fahrenheit)
}

/// One circular mil: the area of a circle one thousandth of an inch across.
pub(super) fn circular_mil() -> f64 {
    let mil = factor!(Length, length::mil);
    std::f64::consts::PI / 4.0 * mil * mil
}
