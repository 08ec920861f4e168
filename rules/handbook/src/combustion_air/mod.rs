//! Air for combustion, ventilation and dilution: how much a room must bring, and through what.
//!
//! The methods of IFGC 304 (IRC G2407, NFPA 54 section 9.3), one per file. [`treatment`] says which appliances count;
//! [`CountedInput`] adds them up; the volume methods ([`standard_volume`], [`known_infiltration_volume`]) ask for room
//! volume; the opening methods ask for free area. Which rooms are joined is a question about the building: the test of
//! one connection is here ([`same_story`], [`between_stories`]), the search over rooms belongs to the caller.
//!
//! Every limit is inclusive: exactly enough is enough.

mod appliance;
mod combination;
mod duct;
mod exhaust;
mod infiltration;
mod input;
mod joining;
mod louver;
mod mechanical;
mod one_opening;
mod opening;
mod outdoor;
pub mod sources;
mod standard;
mod treatment;

pub use appliance::{
    AirInstructions, AirSource, ApplianceFacts, Burner, CountingPolicy, Duty, EnergySource, Fact, UnstatedInstructions,
    VentCategory,
};
pub use combination::{Combination, combination};
pub use duct::{AtticSource, CombustionAirDuct, DuctFault, DuctLimits, DuctSource, Serves, duct_faults};
pub use exhaust::{
    DepressurizationScreen, FireplaceAir, MakeupTriggers, OilAir, dryer_closet_opening_suffices, dryer_needs_makeup,
    hood_needs_makeup,
};
pub use infiltration::{
    InfiltrationError, InfiltrationVolume, KnownInfiltration, known_infiltration_volume, natural_air_changes,
};
pub use input::{BurnerClass, CountedInput};
pub use joining::{BetweenStories, JoiningLimits, between_stories, between_stories_area, same_story, same_story_area};
pub use louver::{Cover, FreeFractions, free_area, gross_area_needed, screen_mesh_suffices};
pub use mechanical::{Mechanical, MechanicalSupply, mechanical_supply};
pub use one_opening::{
    ApplianceClearances, ClearanceShortfall, OneOpening, OneOpeningArea, Side, clearance_shortfalls, one_opening,
    one_opening_area, round_area,
};
pub use opening::{Assessed, End, Opening, OpeningLimits, Pair, Shortcoming};
pub use outdoor::{DuctMatch, OutdoorOpening, Path, ServingDuct, TwoOpenings, outdoor_opening_area, two_openings};
pub use standard::{StandardMethod, standard_method_permitted, standard_volume};
pub use treatment::{Treatment, Why, treatment};
