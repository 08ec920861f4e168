//! The building.

use super::{Evidence, Placement};
use crate::quantity::{AirChangeRate, Area, Volume, VolumeFlow};

words! {
    /// What the building is.
    Occupancy {
        /// A house for one household.
        OneFamilyDwelling "one-family-dwelling",
        /// A house for two households.
        TwoFamilyDwelling "two-family-dwelling",
        /// A townhouse.
        Townhouse "townhouse",
        /// Three or more dwelling units.
        MultifamilyDwelling "multifamily-dwelling",
        /// A dwelling together with a place of work.
        LiveWork "live-work",
        /// A building that belongs to a dwelling.
        AccessoryStructure "accessory-structure",
        /// Something else.
        Other "other",
    }
}

words! {
    /// What is being done.
    Work {
        /// A new building.
        NewConstruction "new-construction",
        /// An addition to a building.
        Addition "addition",
        /// A change inside a building.
        Alteration "alteration",
        /// New equipment in place of old.
        Replacement "replacement",
    }
}

words! {
    /// How a natural air change rate was found.
    InfiltrationMethod {
        /// From a blower door test.
        BlowerDoor "blower-door",
        /// From a tracer gas test.
        TracerGas "tracer-gas",
        /// A default of the authority.
        AuthorityDefault "authority-default",
        /// From a calculation.
        Calculated "calculated",
        /// From a table by year of construction.
        YearOfConstruction "year-of-construction",
    }
}

record! {
    /// How much outdoor air leaks into the building.
    Infiltration {
        /// Air changes at 50 Pa, as a blower door measures them.
        ach50: AirChangeRate, like "3.0 ACH";
        /// Natural air changes.
        natural: AirChangeRate;
        /// How the natural rate was found.
        method: InfiltrationMethod;
        /// The report or decision it rests on.
        evidence: Evidence;
    }
}

words! {
    /// What an alarm warns of.
    AlarmKind {
        /// Smoke.
        Smoke "smoke",
        /// Carbon monoxide.
        CarbonMonoxide "carbon-monoxide",
        /// Smoke and carbon monoxide.
        SmokeAndCarbonMonoxide "smoke-and-carbon-monoxide",
        /// Heat.
        Heat "heat",
        /// Fuel gas.
        FuelGas "fuel-gas",
    }
}

words! {
    /// Where an alarm's power comes from.
    AlarmPower {
        /// The building's wiring, with a battery behind it.
        WiredWithBattery "wired-with-battery",
        /// The building's wiring alone.
        Wired "wired",
        /// A battery alone.
        Battery "battery",
    }
}

record! {
    /// A smoke, carbon monoxide, heat or gas alarm.
    Alarm("alarm"): AlarmKind {
        /// The space it is in.
        space: String => "space";
        /// The sleeping rooms outside which it hangs.
        outside_sleeping_rooms: Vec<String> => "space";
        /// Where it hangs.
        placement: Placement;
        /// Whether it sounds with the others.
        interconnected: bool;
        /// Where its power comes from.
        power: AlarmPower;
        /// Whether its listing allows the temperatures and dust of its place.
        listed_for_place: bool;
    }
}

words! {
    /// How the whole dwelling is ventilated.
    VentilationKind {
        /// Fans that blow out.
        Exhaust "exhaust",
        /// Fans that blow in.
        Supply "supply",
        /// Both, in balance.
        Balanced "balanced",
        /// No fans.
        Natural "natural",
    }
}

record! {
    /// Whole-house mechanical ventilation.
    WholeHouseVentilation: VentilationKind {
        /// Its outdoor air flow.
        flow: VolumeFlow;
        /// The equipment that provides it.
        equipment: String => "equipment";
    }
}

record! {
    /// One dwelling unit of a building that has several.
    DwellingUnit("dwelling-unit") {
        /// What people call it.
        name: String as descriptive;
        /// Its floor area.
        floor_area: Area;
        /// How many sleeping rooms it has.
        bedrooms: u32;
    }
}

record! {
    /// The building as a whole.
    Building {
        /// What it is.
        occupancy: Occupancy;
        /// What is being done.
        work: Work;
        /// Its dwelling units, where there is more than one.
        dwelling_units: Vec<DwellingUnit>;
        /// Stories above grade.
        stories: u32;
        /// Year it was built.
        year_built: u32 as descriptive, like 1994;
        /// Floor area inside the thermal envelope.
        conditioned_floor_area: Area, like "2,400 ft²";
        /// Volume inside the thermal envelope.
        conditioned_volume: Volume as descriptive, like "19,200 ft³";
        /// How many sleeping rooms it has.
        bedrooms: u32;
        /// How many people the water systems are designed for.
        occupants: u32;
        /// Whether it has automatic sprinklers throughout.
        sprinklered: bool;
        /// How much outdoor air leaks in.
        infiltration: Infiltration;
        /// Whole-house mechanical ventilation.
        ventilation: WholeHouseVentilation;
        /// Smoke, carbon monoxide, heat and gas alarms.
        alarms: Vec<Alarm>;
    }
}
