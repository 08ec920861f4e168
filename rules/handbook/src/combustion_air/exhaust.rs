//! Exhaust that competes with burners for air, and burners other than gas.

use crate::units;
use redtag_schema::quantity::{at_least, at_most};
use uom::si::f64::{Area, Pressure, VolumeRate};
use uom::si::pressure::pascal;

/// When exhaust must be made up.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct MakeupTriggers {
    /// A clothes dryer exhausting more: 200 cfm ([`sources::DRYER_MAKEUP`](super::sources::DRYER_MAKEUP)).
    pub dryer: VolumeRate,
    /// A kitchen hood exhausting more: 400 cfm ([`sources::HOOD_MAKEUP`](super::sources::HOOD_MAKEUP)).
    pub hood: VolumeRate,
    /// The opening of a closet built for a dryer: 100 in2 ([`sources::DRYER_MAKEUP`](super::sources::DRYER_MAKEUP)).
    pub dryer_closet_opening: Area,
}

impl Default for MakeupTriggers {
    fn default() -> Self {
        Self {
            dryer: units::cubic_feet_per_minute(200.0),
            hood: units::cubic_feet_per_minute(400.0),
            dryer_closet_opening: units::square_inches(100.0),
        }
    }
}

/// Whether a dryer needs makeup air: it exhausts more than the trigger. Source:
/// [`sources::DRYER_MAKEUP`](super::sources::DRYER_MAKEUP).
pub fn dryer_needs_makeup(exhaust: VolumeRate, triggers: &MakeupTriggers) -> bool {
    !at_most(exhaust, triggers.dryer)
}

/// Whether a kitchen hood needs makeup air: it exhausts more than the trigger. Recent editions ask only where an appliance
/// that is neither direct vent nor mechanical draft stands inside the air barrier. Source:
/// [`sources::HOOD_MAKEUP`](super::sources::HOOD_MAKEUP).
pub fn hood_needs_makeup(exhaust: VolumeRate, triggers: &MakeupTriggers) -> bool {
    !at_most(exhaust, triggers.hood)
}

/// Whether the opening of a dryer closet is large enough. Source: [`sources::DRYER_MAKEUP`](super::sources::DRYER_MAKEUP).
pub fn dryer_closet_opening_suffices(free: Area, triggers: &MakeupTriggers) -> bool {
    at_least(free, triggers.dryer_closet_opening)
}

/// Exterior air of a fireplace. Source: [`sources::FIREPLACE_AIR`](super::sources::FIREPLACE_AIR).
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct FireplaceAir {
    /// The passage is not smaller: 6 in2.
    pub least: Area,
    /// Nor larger: 55 in2.
    pub greatest: Area,
}

impl Default for FireplaceAir {
    fn default() -> Self {
        Self { least: units::square_inches(6.0), greatest: units::square_inches(55.0) }
    }
}

impl FireplaceAir {
    /// Whether a passage is within bounds.
    pub fn admits(&self, passage: Area) -> bool {
        at_least(passage, self.least) && at_most(passage, self.greatest)
    }
}

/// Air for an oil burner, per gallon fired per hour. Source: [`sources::OIL_AIR`](super::sources::OIL_AIR).
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct OilAir {
    /// Each of two openings to the house, per gallon per hour: 140 in2.
    pub opening_per_gallon_per_hour: Area,
}

impl Default for OilAir {
    fn default() -> Self {
        Self { opening_per_gallon_per_hour: units::square_inches(140.0) }
    }
}

impl OilAir {
    /// Free area of each of the two openings for a firing rate in gallons per hour.
    pub fn opening(&self, gallons_per_hour: f64) -> Area {
        self.opening_per_gallon_per_hour * gallons_per_hour
    }
}

/// How far exhaust may depress a room below outdoors before a vent is likely to spill: screening limits of
/// building-performance work, not of any code. Source: [`sources::DEPRESSURIZATION`](super::sources::DEPRESSURIZATION).
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum DepressurizationScreen {
    /// A natural-draft water heater with a vent of its own.
    WaterHeaterAlone,
    /// A natural-draft furnace and water heater on a common vent.
    NaturalDraftCommonVent,
    /// Fan-assisted appliances on a common vent.
    FanAssistedCommonVent,
    /// A power-vented or induced-draft appliance with a vent of its own.
    PowerVentedAlone,
    /// Sealed combustion.
    Sealed,
}

impl DepressurizationScreen {
    /// The limit, as a depression below outdoors.
    pub fn limit(self) -> Pressure {
        Pressure::new::<pascal>(match self {
            Self::WaterHeaterAlone => 2.0,
            Self::NaturalDraftCommonVent => 3.0,
            Self::FanAssistedCommonVent => 5.0,
            Self::PowerVentedAlone => 15.0,
            Self::Sealed => 50.0,
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::units::*;

    #[test]
    fn triggers_are_exceeded_not_met() {
        let triggers = MakeupTriggers::default();
        assert!(!dryer_needs_makeup(cubic_feet_per_minute(200.0), &triggers));
        assert!(dryer_needs_makeup(cubic_feet_per_minute(201.0), &triggers));
        assert!(!hood_needs_makeup(cubic_feet_per_minute(400.0), &triggers));
        assert!(hood_needs_makeup(cubic_feet_per_minute(401.0), &triggers));
        assert!(dryer_closet_opening_suffices(square_inches(100.0), &triggers));
        assert!(!dryer_closet_opening_suffices(square_inches(99.0), &triggers));
    }

    #[test]
    fn a_fireplace_passage_has_two_bounds() {
        let air = FireplaceAir::default();
        let admits = |area| air.admits(square_inches(area));
        assert!(admits(6.0) && admits(55.0) && !admits(5.9) && !admits(55.1));
    }

    // The manual's figure is also 1 in2 per 1000 Btu/h at 140,000 Btu per gallon, the figure for gas.
    #[test]
    fn oil_asks_for_what_gas_asks_for() {
        let oil = in_square_inches(OilAir::default().opening(0.75));
        assert!((oil - 0.75 * 140_000.0 / 1000.0).abs() < 1e-9);
    }

    #[test]
    fn screens_loosen_from_open_to_sealed() {
        use DepressurizationScreen::*;
        let all = [WaterHeaterAlone, NaturalDraftCommonVent, FanAssistedCommonVent, PowerVentedAlone, Sealed];
        assert!(all.windows(2).all(|pair| pair[0].limit() < pair[1].limit()));
    }
}
