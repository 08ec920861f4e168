//! Which appliances ask the room for air, and why.

use super::BurnerClass;
use super::appliance::{
    AirInstructions, AirSource, ApplianceFacts, Burner, CountingPolicy, Duty, EnergySource, Fact, UnstatedInstructions,
    VentCategory,
};

/// Why an appliance is treated as it is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Why {
    /// Somebody with the say decided so.
    Decided,
    /// Natural draft, air from the room.
    NaturalDraft,
    /// Fan-assisted, Category I, air from the room.
    FanAssisted,
    /// Not Category I, air from the room: its instructions decide, and refer to the code or are taken to.
    RoomAirNotCategoryOne,
    /// A power burner: its instructions decide.
    PowerBurner,
    /// No vent: air from the room.
    Unvented,
    /// Cooks, dries or cools with a burner: air from the room.
    DomesticAppliance,
    /// Sealed, with all air from outdoors.
    DirectVent,
    /// Air from an attic or crawl space, which must itself be open to outdoors.
    AirFromVentilatedSpace,
    /// Nothing burns.
    NoBurner,
    /// A clothes dryer with makeup air of its own.
    DryerWithMakeupAir,
    /// Not counted where this code applies.
    NotCountedHere,
    /// Oil: another standard governs.
    Oil,
    /// Solid fuel: its instructions govern.
    SolidFuel,
}

impl Why {
    /// The reason in a few words, to follow the appliance's name.
    pub fn words(self) -> &'static str {
        match self {
            Self::Decided => "decided for this project",
            Self::NaturalDraft => "natural draft, air from the room",
            Self::FanAssisted => "fan-assisted, air from the room",
            Self::RoomAirNotCategoryOne => "air from the room, vent not Category I",
            Self::PowerBurner => "power burner",
            Self::Unvented => "unvented, air from the room",
            Self::DomesticAppliance => "burner in the room, air from the room",
            Self::DirectVent => "direct vent, air from outdoors",
            Self::AirFromVentilatedSpace => "air from a ventilated attic or crawl space",
            Self::NoBurner => "no burner",
            Self::DryerWithMakeupAir => "clothes dryer with makeup air of its own",
            Self::NotCountedHere => "not counted here",
            Self::Oil => "oil-fired, governed by NFPA 31",
            Self::SolidFuel => "solid fuel, governed by its instructions",
        }
    }
}

/// How an appliance enters the sum.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Treatment {
    /// Its input counts, in this class.
    Counts {
        /// The class.
        class: BurnerClass,
        /// The reason.
        why: Why,
    },
    /// It takes no air from the room, or is exempt.
    Excluded {
        /// The reason.
        why: Why,
    },
    /// Its instructions state their own requirement: check that, outside this sum.
    FollowsInstructions {
        /// The reason.
        why: Why,
    },
    /// Its instructions decide, and nobody has stated what they say.
    NeedsInstructions {
        /// The reason.
        why: Why,
    },
    /// Another code or standard governs its air; the air it takes from the room still competes.
    OtherCode {
        /// The reason.
        why: Why,
    },
    /// Too little is known.
    Undetermined {
        /// What would settle it.
        missing: Vec<Fact>,
    },
}

/// How an appliance enters the sum of inputs that ask for combustion air.
///
/// Source: [`sources::COUNTING`](super::sources::COUNTING), read so: a fan-assisted Category I appliance counts although it
/// is "other than natural draft", because the known infiltration method has an equation for it. The 2024 IFGC replaced
/// this section; its words were not seen.
pub fn treatment(facts: &ApplianceFacts, policy: &CountingPolicy) -> Treatment {
    if facts.energy == Some(EnergySource::Electricity) {
        return Treatment::Excluded { why: Why::NoBurner };
    }
    match facts.decided {
        Some(true) => return counted_by_decision(facts),
        Some(false) => return Treatment::Excluded { why: Why::Decided },
        None => {}
    }
    match facts.air {
        Some(AirSource::DirectVent) => return Treatment::Excluded { why: Why::DirectVent },
        Some(AirSource::VentilatedAttic | AirSource::VentilatedCrawlSpace) => {
            return Treatment::Excluded { why: Why::AirFromVentilatedSpace };
        }
        Some(AirSource::Room) | None => {}
    }
    match facts.energy {
        Some(EnergySource::Oil) => Treatment::OtherCode { why: Why::Oil },
        Some(EnergySource::SolidFuel) => Treatment::OtherCode { why: Why::SolidFuel },
        Some(EnergySource::FuelGas) => domestic(facts, policy).unwrap_or_else(|| vented(facts, policy)),
        Some(EnergySource::Electricity) => Treatment::Excluded { why: Why::NoBurner },
        None => Treatment::Undetermined { missing: vec![Fact::Energy] },
    }
}

/// An appliance somebody decided to count: only its class is open.
fn counted_by_decision(facts: &ApplianceFacts) -> Treatment {
    match class_of(facts) {
        Some(class) => Treatment::Counts { class, why: Why::Decided },
        None => Treatment::Undetermined { missing: vec![Fact::Burner] },
    }
}

/// Gas appliances that stand in the room without being heating appliances, and unvented heaters.
fn domestic(facts: &ApplianceFacts, policy: &CountingPolicy) -> Option<Treatment> {
    let (counts, why) = match facts.duty {
        Duty::ClothesDrying { .. } if !policy.clothes_dryers => (false, Why::DomesticAppliance),
        Duty::ClothesDrying { makeup_air: Some(true) } => {
            return Some(Treatment::Excluded { why: Why::DryerWithMakeupAir });
        }
        Duty::ClothesDrying { makeup_air: Some(false) } => (true, Why::DomesticAppliance),
        Duty::ClothesDrying { makeup_air: None } => {
            return Some(Treatment::Undetermined { missing: vec![Fact::DryerMakeupAir] });
        }
        Duty::Cooking => (policy.cooking, Why::DomesticAppliance),
        Duty::Refrigeration => (policy.refrigerators, Why::DomesticAppliance),
        Duty::Heating if facts.vent == Some(VentCategory::Unvented) => (policy.unvented, Why::Unvented),
        Duty::Heating => return None,
    };
    if !counts {
        return Some(Treatment::Excluded { why: Why::NotCountedHere });
    }
    Some(Treatment::Counts { class: class_of(facts).unwrap_or(BurnerClass::Other), why })
}

/// A vented gas appliance whose air is not known to come from outdoors.
fn vented(facts: &ApplianceFacts, policy: &CountingPolicy) -> Treatment {
    use VentCategory::{Four, Three, Two};
    if facts.air.is_none() {
        let mut missing = vec![Fact::Air];
        missing.extend(facts.burner.is_none().then_some(Fact::Burner));
        return Treatment::Undetermined { missing };
    }
    match (facts.burner, facts.vent) {
        (Some(Burner::PowerBurner), _) => by_instructions(facts, policy.power_burners, BurnerClass::Other, Why::PowerBurner),
        (Some(Burner::FanAssisted), Some(Two | Three | Four)) | (None, Some(Three | Four)) => {
            by_instructions(facts, policy.not_category_one, BurnerClass::FanAssisted, Why::RoomAirNotCategoryOne)
        }
        (Some(Burner::NaturalDraft), _) => Treatment::Counts { class: BurnerClass::Other, why: Why::NaturalDraft },
        (Some(Burner::FanAssisted), _) => Treatment::Counts { class: BurnerClass::FanAssisted, why: Why::FanAssisted },
        (None, _) => Treatment::Undetermined { missing: vec![Fact::Burner] },
    }
}

/// An appliance the code sends to its instructions.
fn by_instructions(facts: &ApplianceFacts, unstated: UnstatedInstructions, class: BurnerClass, why: Why) -> Treatment {
    match (facts.instructions, unstated) {
        (Some(AirInstructions::OwnRequirement), _) => Treatment::FollowsInstructions { why },
        (Some(AirInstructions::CodeMethods), _) | (None, UnstatedInstructions::Count) => Treatment::Counts { class, why },
        (None, UnstatedInstructions::Ask) => Treatment::NeedsInstructions { why },
    }
}

/// The class the known infiltration method puts an appliance in, where it can be told.
fn class_of(facts: &ApplianceFacts) -> Option<BurnerClass> {
    match (facts.burner, facts.vent) {
        (Some(Burner::FanAssisted), _) => Some(BurnerClass::FanAssisted),
        (Some(Burner::NaturalDraft | Burner::PowerBurner), _) => Some(BurnerClass::Other),
        // A positive vent pressure is a fan's work.
        (None, Some(VentCategory::Three | VentCategory::Four)) => Some(BurnerClass::FanAssisted),
        (None, Some(VentCategory::Unvented)) => Some(BurnerClass::Other),
        (None, _) => None,
    }
}

#[cfg(test)]
#[path = "treatment_tests.rs"]
mod tests;
