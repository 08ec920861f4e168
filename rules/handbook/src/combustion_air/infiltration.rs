//! The known air infiltration rate method: room volume from a measured rate of air change.

use super::CountedInput;
use crate::units::{self, FlowPerInput};
use redtag_schema::quantity::{at_least, at_most};
use std::fmt;
use uom::si::f64::{Frequency, Ratio, Volume};

/// Parameters of the method. Source of the model-code values:
/// [`sources::KNOWN_INFILTRATION`](super::sources::KNOWN_INFILTRATION).
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct KnownInfiltration {
    /// Air per input of appliances other than fan-assisted: 21 ft3/h per 1000 Btu/h.
    pub other: FlowPerInput,
    /// Air per input of fan-assisted appliances: 15 ft3/h per 1000 Btu/h.
    pub fan_assisted: FlowPerInput,
    /// A higher measured rate counts as this one: 0.60 air changes per hour.
    pub greatest: Frequency,
    /// A lower rate is not accepted. The code states none; manufacturers' printings stop at 0.10
    /// ([`sources::LEAST_INFILTRATION`](super::sources::LEAST_INFILTRATION)).
    pub least: Option<Frequency>,
}

impl Default for KnownInfiltration {
    fn default() -> Self {
        Self {
            other: units::hourly_cubic_feet_per_thousand(21.0),
            fan_assisted: units::hourly_cubic_feet_per_thousand(15.0),
            greatest: units::air_changes_per_hour(0.60),
            least: None,
        }
    }
}

/// The volume the method asks for, with the steps to it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct InfiltrationVolume {
    /// The rate used, after the cap.
    pub air_changes: Frequency,
    /// Whether the rate given was above the cap.
    pub capped: bool,
    /// Volume for the appliances other than fan-assisted.
    pub other: Volume,
    /// Volume for the fan-assisted appliances.
    pub fan_assisted: Volume,
    /// Both together: what the rooms must have.
    pub total: Volume,
}

/// Why no volume can be stated.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum InfiltrationError {
    /// The rate is zero, negative or not a number: no room is large enough.
    NoAirChange,
    /// The rate is below the least one accepted.
    BelowLeast {
        /// The rate given.
        given: Frequency,
        /// The least one accepted.
        least: Frequency,
    },
}

impl fmt::Display for InfiltrationError {
    fn fmt(&self, formatter: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::NoAirChange => formatter.write_str("without air change no indoor volume supplies combustion air"),
            Self::BelowLeast { given, least } => write!(
                formatter,
                "{:.2} air changes per hour are fewer than the {:.2} this method is used with",
                units::in_air_changes_per_hour(*given),
                units::in_air_changes_per_hour(*least)
            ),
        }
    }
}

impl std::error::Error for InfiltrationError {}

/// The volume the known air infiltration rate method asks for. Source:
/// [`sources::KNOWN_INFILTRATION`](super::sources::KNOWN_INFILTRATION).
///
/// # Errors
/// When the rate is not above zero, or is below the least the parameters accept.
pub fn known_infiltration_volume(
    input: &CountedInput,
    air_changes: Frequency,
    method: &KnownInfiltration,
) -> Result<InfiltrationVolume, InfiltrationError> {
    let given = units::in_air_changes_per_hour(air_changes);
    if given.is_nan() || given <= 0.0 {
        return Err(InfiltrationError::NoAirChange);
    }
    if let Some(least) = method.least
        && !at_least(air_changes, least)
    {
        return Err(InfiltrationError::BelowLeast { given: air_changes, least });
    }
    let capped = !at_most(air_changes, method.greatest);
    let used = if capped { method.greatest } else { air_changes };
    let other: Volume = method.other * input.other / used;
    let fan_assisted: Volume = method.fan_assisted * input.fan_assisted / used;
    Ok(InfiltrationVolume { air_changes: used, capped, other, fan_assisted, total: other + fan_assisted })
}

/// A natural rate of air change estimated from a blower-door result at 50 Pa.
///
/// Not a method of the fuel gas code: the divisor, about 20, is a rule of thumb
/// ([`sources::BLOWER_DOOR_DIVISOR`](super::sources::BLOWER_DOOR_DIVISOR)), and whether an estimate makes a rate "known" is
/// for the authority to say. `None` when the divisor is not above zero.
pub fn natural_air_changes(at_fifty_pascals: Frequency, divisor: Ratio) -> Option<Frequency> {
    (units::in_fraction(divisor) > 0.0).then(|| at_fifty_pascals / divisor)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::units::*;

    fn volume(air_changes: f64) -> Result<InfiltrationVolume, InfiltrationError> {
        let input = CountedInput { other: btu_per_hour(40_000.0), fan_assisted: btu_per_hour(100_000.0) };
        known_infiltration_volume(&input, air_changes_per_hour(air_changes), &KnownInfiltration::default())
    }

    #[test]
    fn a_measured_rate_above_the_cap_counts_as_the_cap() {
        let (high, cap) = (volume(0.75).unwrap(), volume(0.60).unwrap());
        assert!(high.capped && !cap.capped);
        assert!((in_cubic_feet(high.total) - 3900.0).abs() < 1e-9);
        assert_eq!(high.total, cap.total);
    }

    #[test]
    fn no_air_change_is_no_method() {
        for rate in [0.0, -0.1, f64::NAN] {
            assert_eq!(volume(rate), Err(InfiltrationError::NoAirChange));
        }
    }

    #[test]
    fn a_least_rate_is_inclusive() {
        let method = KnownInfiltration { least: Some(air_changes_per_hour(0.10)), ..Default::default() };
        let input = CountedInput { other: btu_per_hour(30_000.0), ..Default::default() };
        assert!(known_infiltration_volume(&input, air_changes_per_hour(0.10), &method).is_ok());
        let error = known_infiltration_volume(&input, air_changes_per_hour(0.09), &method).unwrap_err();
        assert_eq!(error.to_string(), "0.09 air changes per hour are fewer than the 0.10 this method is used with");
    }

    #[test]
    fn a_tight_house_leaks_little() {
        let natural = natural_air_changes(air_changes_per_hour(3.0), fraction(20.0)).unwrap();
        assert!((in_air_changes_per_hour(natural) - 0.15).abs() < 1e-12);
        assert_eq!(natural_air_changes(air_changes_per_hour(3.0), fraction(0.0)), None);
    }
}
