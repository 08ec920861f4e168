//! Which appliances ask the room for air, and why.

use super::BurnerClass;

/// What an appliance runs on, as far as its air is concerned.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum EnergySource {
    /// Natural gas, propane or another gas the fuel gas code covers.
    FuelGas,
    /// Fuel oil.
    Oil,
    /// Wood, pellets or coal.
    SolidFuel,
    /// Electricity: nothing burns.
    Electricity,
}

/// How combustion products are moved.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Burner {
    /// By their own heat: a draft hood or natural draft.
    NaturalDraft,
    /// By a fan that is part of the appliance. A draft-hood appliance with a separate power venter is not this.
    FanAssisted,
    /// By a burner that supplies its own air under pressure.
    PowerBurner,
}

/// Vent categories as the listing standards define them, by vent pressure and condensate.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum VentCategory {
    /// Category I: not positive, no excessive condensate.
    One,
    /// Category II: not positive, may condense.
    Two,
    /// Category III: positive, no excessive condensate.
    Three,
    /// Category IV: positive, may condense.
    Four,
    /// No vent.
    Unvented,
}

/// Where the combustion air comes from.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum AirSource {
    /// The room.
    Room,
    /// Outdoors, through the appliance's own sealed pipe.
    DirectVent,
    /// A ventilated attic, through the appliance's own pipe.
    VentilatedAttic,
    /// A ventilated crawl space, through the appliance's own pipe.
    VentilatedCrawlSpace,
}

/// What the appliance does, where that matters for counting it.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Default)]
pub enum Duty {
    /// Heats the house or its water, or anything else.
    #[default]
    Heating,
    /// Cooks.
    Cooking,
    /// Dries clothes; says whether makeup air is supplied for it, where known.
    ClothesDrying {
        /// Whether it has makeup air of its own.
        makeup_air: Option<bool>,
    },
    /// Keeps food cold.
    Refrigeration,
}

/// What the manufacturer's instructions say about combustion air.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum AirInstructions {
    /// They refer to the methods of the code.
    CodeMethods,
    /// They state a requirement of their own.
    OwnRequirement,
}

/// What is known of an appliance.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Default)]
pub struct ApplianceFacts {
    /// What it runs on.
    pub energy: Option<EnergySource>,
    /// How it moves combustion products.
    pub burner: Option<Burner>,
    /// Its vent category.
    pub vent: Option<VentCategory>,
    /// Where its air comes from.
    pub air: Option<AirSource>,
    /// What it does.
    pub duty: Duty,
    /// What its instructions say.
    pub instructions: Option<AirInstructions>,
    /// What the authority or the designer of record decided: count it or not.
    pub decided: Option<bool>,
}

/// A fact that would settle the treatment.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Fact {
    /// What the appliance runs on.
    Energy,
    /// How it moves combustion products.
    Burner,
    /// Its vent category.
    Vent,
    /// Where its air comes from.
    Air,
    /// What its instructions say about air.
    Instructions,
    /// Whether the clothes dryer has makeup air.
    DryerMakeupAir,
}

/// What to do when the code sends an appliance to its instructions and nobody has stated what they say.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum UnstatedInstructions {
    /// Count it by the code's methods: instructions nearly always refer back to them.
    Count,
    /// Ask.
    Ask,
}

/// Which appliances a jurisdiction counts. Practice differs: the code's words are "all appliances in the space", one
/// utility leaves out cooking, refrigerators and domestic dryers, one state's worksheet asks for the furnace or boiler and the water
/// heater only.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct CountingPolicy {
    /// Cooking appliances count.
    pub cooking: bool,
    /// Gas clothes dryers without makeup air of their own count.
    pub clothes_dryers: bool,
    /// Gas refrigerators count.
    pub refrigerators: bool,
    /// Unvented heaters count.
    pub unvented: bool,
    /// Room-air appliances that are not Category I.
    pub not_category_one: UnstatedInstructions,
    /// Power burners.
    pub power_burners: UnstatedInstructions,
}

impl Default for CountingPolicy {
    fn default() -> Self {
        Self {
            cooking: true,
            clothes_dryers: true,
            refrigerators: true,
            unvented: true,
            not_category_one: UnstatedInstructions::Count,
            power_burners: UnstatedInstructions::Ask,
        }
    }
}

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
#[path = "appliance_tests.rs"]
mod tests;
