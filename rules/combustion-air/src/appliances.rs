//! Which appliances ask the space for air, and how much.

use crate::parameters::Limits;
use redtag_handbook::combustion_air as air;
use redtag_rule::prelude::*;
use uom::si::f64::Power;

/// An appliance that counts.
pub struct Counted<'a> {
    /// The appliance.
    pub place: Place<'a, Equipment>,
    /// Its input.
    pub input: Power,
    /// Its class in the known infiltration method.
    pub class: air::BurnerClass,
    /// Why it counts.
    pub why: &'static str,
    /// The source of that.
    pub source: &'static str,
    /// Whether its instructions ask for outdoor air alone.
    pub outdoor_air_only: bool,
}

impl Counted<'_> {
    /// Its id.
    pub fn id(&self) -> &str {
        &self.place.get().id
    }
}

/// What became of one appliance.
pub enum Sorted<'a> {
    /// It counts.
    Counts(Counted<'a>),
    /// It does not, and why.
    Excluded(String, &'static str),
    /// Its instructions give figures of their own, which only somebody who has read them can hold the room against.
    OwnFigures(String, Unresolved),
}

/// Sorts one appliance that burns fuel.
pub fn sort<'a>(appliance: &Place<'a, Equipment>, exhausts: &[Place<'a, Exhaust>], limits: &Limits) -> Lookup<Sorted<'a>> {
    kinds::burns(appliance)?;
    let facts = facts(appliance, exhausts);
    let burning = format!("{}/fuel_burning", appliance.pointer());
    match air::treatment(&facts, &limits.counting) {
        air::Treatment::Counts { class, why } => counted(appliance, class, why),
        air::Treatment::Excluded { why } | air::Treatment::OtherCode { why } => {
            Ok(Sorted::Excluded(appliance.label(), why.words()))
        }
        air::Treatment::FollowsInstructions { .. } => {
            let pointer = format!("{burning}/counts_toward_combustion_air");
            let what = "its instructions give figures of their own: `false` once those are met as the authority sees it, \
                        `true` to have it counted by the methods of the code";
            Ok(Sorted::OwnFigures(appliance.label(), Unresolved::because(pointer, what)))
        }
        air::Treatment::NeedsInstructions { .. } => Err(Unresolved::at(format!("{burning}/air_instructions"))),
        air::Treatment::Undetermined { missing } => {
            let places = missing.into_iter().map(|fact| Unresolved::at(pointer_of(fact, appliance, &burning)));
            Err(places.reduce(Unresolved::and).unwrap_or_else(|| Unresolved::at(burning.clone())))
        }
    }
}

fn counted<'a>(appliance: &Place<'a, Equipment>, class: air::BurnerClass, why: air::Why) -> Lookup<Sorted<'a>> {
    let input = need!(appliance, fuel_burning.plate.input)?;
    // A burner of no input is none: the plate was misread.
    let input = (input.si() > 0.0).then(|| input.quantity()).ok_or_else(|| Unresolved::at(input.pointer()))?;
    let outdoor_air_only =
        appliance.fuel_burning.as_ref().and_then(|burning| burning.air_instructions) == Some(AirInstructions::OutdoorAirOnly);
    let source = air::sources::COUNTING.text();
    Ok(Sorted::Counts(Counted { place: appliance.clone(), input, class, why: why.words(), source, outdoor_air_only }))
}

fn pointer_of(fact: air::Fact, appliance: &Place<Equipment>, burning: &str) -> String {
    match fact {
        air::Fact::Energy => format!("{burning}/plate/fuel"),
        air::Fact::Burner => format!("{burning}/burner"),
        air::Fact::Vent => format!("{burning}/plate/vent_category"),
        air::Fact::Air => format!("{burning}/combustion_air"),
        air::Fact::Instructions => format!("{burning}/air_instructions"),
        air::Fact::DryerMakeupAir => format!("{}/fuel_burning/counts_toward_combustion_air", appliance.pointer()),
    }
}

/// Whether it takes all its air from outdoors by a sealed pipe. What has a draft hood or no vent breathes the room, whatever
/// else is said of it.
pub fn brings_own_air(appliance: &Equipment) -> bool {
    let Some(burning) = &appliance.fuel_burning else { return false };
    burning.combustion_air == Some(AirSource::DirectVent) && !open_to_room(burning)
}

fn open_to_room(burning: &FuelBurning) -> bool {
    matches!(burning.burner, Some(Burner::DraftHood | Burner::PowerVenter | Burner::Unvented))
}

/// Whether an appliance is none of this code's: no fuel, oil or solid fuel.
pub fn counts_none(appliance: &Place<Equipment>) -> bool {
    let fuel = appliance.fuel_burning.as_ref().and_then(|burning| burning.plate.as_ref()).and_then(|plate| plate.fuel);
    matches!(
        fuel.and_then(energy).or_else(|| energy_of_kind(appliance.kind)),
        Some(air::EnergySource::Oil | air::EnergySource::SolidFuel)
    )
}

fn facts(appliance: &Place<Equipment>, exhausts: &[Place<Exhaust>]) -> air::ApplianceFacts {
    let burning = appliance.fuel_burning.as_ref();
    let plate = burning.and_then(|burning| burning.plate.as_ref());
    let fuel = plate.and_then(|plate| plate.fuel);
    air::ApplianceFacts {
        energy: fuel.and_then(energy).or_else(|| energy_of_kind(appliance.kind)),
        burner: burning.and_then(|burning| burning.burner).and_then(burner),
        vent: vent(burning, plate),
        air: burning.and_then(|burning| match burning.combustion_air.and_then(source_of_air)? {
            _ if open_to_room(burning) => Some(air::AirSource::Room),
            source => Some(source),
        }),
        duty: duty(appliance, exhausts),
        instructions: burning.and_then(|burning| burning.air_instructions).and_then(instructions),
        decided: burning.and_then(|burning| burning.counts_toward_combustion_air),
    }
}

fn energy(fuel: Fuel) -> Option<air::EnergySource> {
    match fuel {
        Fuel::NaturalGas | Fuel::Propane | Fuel::Butane => Some(air::EnergySource::FuelGas),
        Fuel::FuelOil | Fuel::Kerosene => Some(air::EnergySource::Oil),
        Fuel::Wood | Fuel::Pellets | Fuel::Coal => Some(air::EnergySource::SolidFuel),
        Fuel::Unrecognised => None,
    }
}

fn energy_of_kind(kind: EquipmentKind) -> Option<air::EnergySource> {
    match kind {
        EquipmentKind::OilHeater => Some(air::EnergySource::Oil),
        EquipmentKind::SolidFuelHeater => Some(air::EnergySource::SolidFuel),
        EquipmentKind::GasFireplace => Some(air::EnergySource::FuelGas),
        _ => None,
    }
}

fn burner(burner: Burner) -> Option<air::Burner> {
    match burner {
        // A draft hood with a venter in the vent is not fan-assisted: the fan does not drive the heat exchanger.
        Burner::DraftHood | Burner::NaturalDraft | Burner::PowerVenter => Some(air::Burner::NaturalDraft),
        Burner::FanAssisted | Burner::PowerVented => Some(air::Burner::FanAssisted),
        Burner::PowerBurner => Some(air::Burner::PowerBurner),
        Burner::Unvented => Some(air::Burner::NaturalDraft),
        Burner::Unrecognised => None,
    }
}

fn vent(burning: Option<&FuelBurning>, plate: Option<&RatingPlate>) -> Option<air::VentCategory> {
    if burning.and_then(|burning| burning.burner) == Some(Burner::Unvented) {
        return Some(air::VentCategory::Unvented);
    }
    match plate.and_then(|plate| plate.vent_category)? {
        VentCategory::CategoryI => Some(air::VentCategory::One),
        VentCategory::CategoryIi => Some(air::VentCategory::Two),
        VentCategory::CategoryIii => Some(air::VentCategory::Three),
        VentCategory::CategoryIv => Some(air::VentCategory::Four),
        VentCategory::Unrecognised => None,
    }
}

fn source_of_air(source: AirSource) -> Option<air::AirSource> {
    match source {
        AirSource::Room => Some(air::AirSource::Room),
        AirSource::DirectVent => Some(air::AirSource::DirectVent),
        AirSource::Attic => Some(air::AirSource::VentilatedAttic),
        AirSource::CrawlSpace => Some(air::AirSource::VentilatedCrawlSpace),
        AirSource::Unrecognised => None,
    }
}

fn instructions(said: AirInstructions) -> Option<air::AirInstructions> {
    match said {
        // Outdoor air only: counted like the rest, and the indoor methods are closed to it.
        AirInstructions::CodeMethods | AirInstructions::OutdoorAirOnly => Some(air::AirInstructions::CodeMethods),
        AirInstructions::OwnFigures => Some(air::AirInstructions::OwnRequirement),
        AirInstructions::Unrecognised => None,
    }
}

fn duty(appliance: &Place<Equipment>, exhausts: &[Place<Exhaust>]) -> air::Duty {
    match appliance.kind {
        EquipmentKind::Range | EquipmentKind::Grill => air::Duty::Cooking,
        EquipmentKind::Refrigerator => air::Duty::Refrigeration,
        EquipmentKind::ClothesDryer => {
            let own = exhausts.iter().find(|exhaust| exhaust.equipment.as_deref() == Some(appliance.get().id.as_str()));
            let make_up = own.and_then(|exhaust| exhaust.make_up.as_ref());
            air::Duty::ClothesDrying { makeup_air: make_up.map(|make_up| make_up.kind != MakeUpKind::None) }
        }
        _ => air::Duty::Heating,
    }
}
