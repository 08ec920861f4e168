//! What altitude takes from a burner: every reading in use, because makers and codes differ.

use super::GasProperties;
use crate::units;
use redtag_schema::quantity::at_most;
use uom::si::f64::{Length, Power, Ratio};

/// How an appliance is derated for altitude. The appliance's own rule comes before any other.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Derating {
    /// So much for each 1000 ft above sea level, in proportion, where the site is above a threshold. At the threshold the
    /// input drops at once: that is meant. Source: [`sources::ALTITUDE`](super::sources::ALTITUDE).
    FromSeaLevel {
        /// The part taken for each 1000 ft.
        per_thousand_feet: Ratio,
        /// Not derated up to this altitude.
        above: Length,
    },
    /// The same, with the altitude raised to the next whole 1000 ft.
    SteppedFromSeaLevel {
        /// The part taken for each 1000 ft begun.
        per_thousand_feet: Ratio,
        /// Not derated up to this altitude.
        above: Length,
    },
    /// So much for each 1000 ft by which the site is above a threshold. Source:
    /// [`sources::ALTITUDE_ABOVE_THRESHOLD`](super::sources::ALTITUDE_ABOVE_THRESHOLD).
    FromThreshold {
        /// The part taken for each 1000 ft.
        per_thousand_feet: Ratio,
        /// Not derated up to this altitude.
        above: Length,
    },
    /// None up to an altitude; above it the maker's parts and figures decide. Source:
    /// [`sources::ALTITUDE_NONE_BELOW`](super::sources::ALTITUDE_NONE_BELOW).
    NoneUpTo {
        /// The altitude.
        altitude: Length,
    },
}

impl Default for Derating {
    /// 4 percent for each 1000 ft above sea level, where the site is above 2000 ft.
    fn default() -> Self {
        Self::FromSeaLevel { per_thousand_feet: units::fraction(0.04), above: units::feet(2000.0) }
    }
}

impl Derating {
    /// The part of the rated input left at an altitude, not below zero; `None` where only the maker can say.
    pub fn share(&self, altitude: Length) -> Option<Ratio> {
        let (per_thousand_feet, above) = match *self {
            Self::FromSeaLevel { per_thousand_feet, above }
            | Self::SteppedFromSeaLevel { per_thousand_feet, above }
            | Self::FromThreshold { per_thousand_feet, above } => (per_thousand_feet, above),
            Self::NoneUpTo { altitude: limit } => return at_most(altitude, limit).then(|| units::fraction(1.0)),
        };
        if at_most(altitude, above) {
            return Some(units::fraction(1.0));
        }
        let thousands = units::in_feet(altitude) / 1000.0;
        let counted = match self {
            Self::SteppedFromSeaLevel { .. } => whole_steps(thousands),
            Self::FromThreshold { .. } => thousands - units::in_feet(above) / 1000.0,
            _ => thousands,
        };
        let left = 1.0 - units::in_fraction(per_thousand_feet) * counted;
        Some(units::fraction(if left > 0.0 { left } else { 0.0 }))
    }

    /// The input left at an altitude; `None` where only the maker can say.
    pub fn input(&self, rated: Power, altitude: Length) -> Option<Power> {
        self.share(altitude).map(|share| rated * share)
    }
}

/// The next whole number of thousands; what conversion leaves behind starts no step of its own.
fn whole_steps(thousands: f64) -> f64 {
    (thousands - 1e-9).ceil()
}

/// The part of the rated input a sea-level orifice delivers on the local gas: the Wobbe index of the local gas over that of
/// the gas the appliance is rated for, at the same manifold pressure.
pub fn local_heating_value_share(rated_for: &GasProperties, local: &GasProperties) -> Ratio {
    local.wobbe_index() / rated_for.wobbe_index()
}

/// The part of the orifice area still wanted once the local gas is counted: `derated` over `delivered`, never above one.
///
/// A local gas of low heating value may already be the whole derating; taking both would derate twice, which makers forbid
/// ([`sources::NO_DOUBLE_DERATING`](super::sources::NO_DOUBLE_DERATING)). `None` when nothing is delivered.
pub fn orifice_area_share(derated: Ratio, delivered: Ratio) -> Option<Ratio> {
    let one = units::fraction(1.0);
    if units::in_fraction(delivered) <= 0.0 {
        return None;
    }
    Some(if at_most(delivered, derated) { one } else { derated / delivered })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::units::*;

    #[test]
    fn the_threshold_itself_is_not_derated() {
        let share = |feet_up| in_fraction(Derating::default().share(feet(feet_up)).unwrap());
        assert_eq!(share(2000.0), 1.0);
        assert!((share(2000.1) - 0.919_996).abs() < 1e-9);
        assert_eq!(share(-200.0), 1.0);
    }

    #[test]
    fn whole_thousands_start_no_further_step() {
        let rule = Derating::SteppedFromSeaLevel { per_thousand_feet: fraction(0.04), above: feet(2000.0) };
        assert!((in_fraction(rule.share(feet(7000.0)).unwrap()) - 0.72).abs() < 1e-12);
        assert!((in_fraction(rule.share(feet(7001.0)).unwrap()) - 0.68).abs() < 1e-12);
    }

    #[test]
    fn beyond_a_makers_limit_the_maker_decides() {
        let rule = Derating::NoneUpTo { altitude: feet(6000.0) };
        assert_eq!(rule.input(btu_per_hour(100_000.0), feet(6000.0)), Some(btu_per_hour(100_000.0)));
        assert_eq!(rule.input(btu_per_hour(100_000.0), feet(6001.0)), None);
    }

    #[test]
    fn nothing_goes_below_zero() {
        assert_eq!(in_fraction(Derating::default().share(feet(40_000.0)).unwrap()), 0.0);
    }

    #[test]
    fn a_lean_local_gas_is_not_derated_twice() {
        let delivered = local_heating_value_share(&GasProperties::new(1000.0, 0.60), &GasProperties::new(850.0, 0.60));
        assert!((in_fraction(delivered) - 0.85).abs() < 1e-12);
        assert_eq!(in_fraction(orifice_area_share(fraction(0.85), delivered).unwrap()), 1.0);
        assert!((in_fraction(orifice_area_share(fraction(0.80), delivered).unwrap()) - 0.8 / 0.85).abs() < 1e-12);
        assert_eq!(orifice_area_share(fraction(0.80), fraction(0.0)), None);
    }
}
