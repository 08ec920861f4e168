//! The standard method: room volume in proportion to input.

use crate::units::{self, VolumePerInput};
use redtag_schema::quantity::at_least;
use uom::si::f64::{Frequency, Power, Volume};

/// Parameters of the standard method.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct StandardMethod {
    /// Volume per input; the model code's is 50 ft3 per 1000 Btu/h ([`sources::STANDARD_VOLUME`](super::sources::STANDARD_VOLUME)).
    pub volume_per_input: VolumePerInput,
    /// A known infiltration below this bars the method; the model code's is 0.40 air changes per hour
    /// ([`sources::STANDARD_METHOD_BAR`](super::sources::STANDARD_METHOD_BAR)).
    pub least_air_changes: Frequency,
}

impl Default for StandardMethod {
    fn default() -> Self {
        Self { volume_per_input: units::cubic_feet_per_thousand(50.0), least_air_changes: units::air_changes_per_hour(0.40) }
    }
}

/// The volume the standard method asks for. Source: [`sources::STANDARD_VOLUME`](super::sources::STANDARD_VOLUME).
pub fn standard_volume(total_input: Power, method: &StandardMethod) -> Volume {
    method.volume_per_input * total_input
}

/// Whether the standard method may be used: the infiltration is not known, or is known and not too low. Source:
/// [`sources::STANDARD_METHOD_BAR`](super::sources::STANDARD_METHOD_BAR).
pub fn standard_method_permitted(known_air_changes: Option<Frequency>, method: &StandardMethod) -> bool {
    known_air_changes.is_none_or(|known| at_least(known, method.least_air_changes))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::units::*;

    #[test]
    fn fifty_cubic_feet_for_each_thousand() {
        let volume = standard_volume(btu_per_hour(140_000.0), &StandardMethod::default());
        assert!(at_least(cubic_feet(7000.0), volume));
        assert!(!at_least(cubic_feet(6999.0), volume));
    }

    #[test]
    fn barred_only_where_a_lower_rate_is_known() {
        let method = StandardMethod::default();
        assert!(standard_method_permitted(None, &method));
        assert!(standard_method_permitted(Some(air_changes_per_hour(0.40)), &method));
        assert!(!standard_method_permitted(Some(air_changes_per_hour(0.39)), &method));
    }

    #[test]
    fn a_pack_may_ask_for_another_factor() {
        let method = StandardMethod { volume_per_input: cubic_feet_per_thousand(1000.0 / 15.0), ..Default::default() };
        let volume = standard_volume(btu_per_hour(15_000.0), &method);
        assert!((in_cubic_feet(volume) - 1000.0).abs() < 1e-9);
    }
}
