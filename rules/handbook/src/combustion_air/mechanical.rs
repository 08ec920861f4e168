//! Outdoor air supplied by a fan.

use crate::units::{self, FlowPerInput};
use uom::si::f64::{Power, VolumeRate};

/// Parameters of the mechanical method.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Mechanical {
    /// Air per input of all appliances in the space: 0.35 cfm per 1000 Btu/h
    /// ([`sources::MECHANICAL`](super::sources::MECHANICAL)).
    pub flow_per_input: FlowPerInput,
}

impl Default for Mechanical {
    fn default() -> Self {
        Self { flow_per_input: units::cubic_feet_per_minute_per_thousand(0.35) }
    }
}

/// What the fan must supply.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct MechanicalSupply {
    /// For combustion.
    pub combustion: VolumeRate,
    /// For what exhaust fans in the space take out.
    pub makeup: VolumeRate,
    /// Together.
    pub total: VolumeRate,
}

/// Outdoor air a fan must supply; `exhaust` is the flow of all exhaust fans in the space. Where the air is part of a
/// ventilation system it is on top of the ventilation rate. The burners must be interlocked with the fan
/// ([`sources::MECHANICAL_INTERLOCK`](super::sources::MECHANICAL_INTERLOCK)). Sources:
/// [`sources::MECHANICAL`](super::sources::MECHANICAL), [`sources::MECHANICAL_MAKEUP`](super::sources::MECHANICAL_MAKEUP).
pub fn mechanical_supply(total_input: Power, exhaust: VolumeRate, method: &Mechanical) -> MechanicalSupply {
    let combustion: VolumeRate = method.flow_per_input * total_input;
    MechanicalSupply { combustion, makeup: exhaust, total: combustion + exhaust }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::units::*;
    use redtag_schema::quantity::at_least;

    #[test]
    fn exhaust_fans_add_to_the_supply() {
        let input = btu_per_hour(140_000.0);
        let alone = mechanical_supply(input, VolumeRate::default(), &Mechanical::default());
        assert!(at_least(cubic_feet_per_minute(49.0), alone.total));
        assert!(!at_least(cubic_feet_per_minute(48.9), alone.total));
        let shared = mechanical_supply(input, cubic_feet_per_minute(200.0), &Mechanical::default());
        assert!((in_cubic_feet_per_minute(shared.total) - 249.0).abs() < 1e-9);
    }
}
