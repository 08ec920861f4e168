//! What is known of an appliance, and which appliances a jurisdiction counts.

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
