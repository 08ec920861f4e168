//! The site.

use crate::quantity::{Angle, Length, Position, Pressure, Temperature, Velocity};

words! {
    /// Where sewage goes.
    Sewage {
        /// A public sewer.
        PublicSewer "public-sewer",
        /// A septic tank and field on the site.
        SepticSystem "septic-system",
        /// A septic system with a proprietary treatment unit.
        AerobicTreatment "aerobic-treatment",
        /// A tank that is pumped out.
        HoldingTank "holding-tank",
        /// Something else.
        Other "other",
    }
}

words! {
    /// Seismic design category of the building code.
    SeismicCategory {
        /// Category A.
        A "a",
        /// Category B.
        B "b",
        /// Category C.
        C "c",
        /// Category D0.
        D0 "d0",
        /// Category D1.
        D1 "d1",
        /// Category D2.
        D2 "d2",
        /// Category E.
        E "e",
    }
}

record! {
    /// Flood hazard at the site.
    FloodHazard {
        /// The zone on the flood map.
        zone: String, like "AE";
        /// Elevation equipment must stand at or above, from the building's datum.
        design_elevation: Position as descriptive;
    }
}

record! {
    /// The site: what the place itself decides.
    Site {
        /// Where it is, for people.
        address: String as descriptive;
        /// City or town with jurisdiction.
        municipality: String as descriptive;
        /// County.
        county: String as descriptive;
        /// State.
        state: String as descriptive;
        /// Elevation above sea level.
        elevation: Position, like "4,200 ft";
        /// Outdoor temperature heating is designed for.
        heating_design_temperature: Temperature;
        /// Outdoor temperature cooling is designed for.
        cooling_design_temperature: Temperature;
        /// Lowest outdoor temperature on record, or expected.
        lowest_temperature: Temperature;
        /// Ground snow load.
        ground_snow_load: Pressure as descriptive, like "40 psf";
        /// Depth of snow to be expected at the walls.
        snow_depth: Length;
        /// Depth of frost in the ground.
        frost_depth: Length;
        /// Design wind speed.
        wind_speed: Velocity as descriptive;
        /// Climate zone of the energy code.
        climate_zone: String as descriptive, like "4C";
        /// Seismic design category.
        seismic_design_category: SeismicCategory;
        /// Radon zone: 1, 2 or 3; 1 is the highest potential.
        radon_zone: u32 as descriptive;
        /// Flood hazard.
        flood: FloodHazard;
        /// Where sewage goes.
        sewage: Sewage;
        /// True north, clockwise from plan north.
        true_north: Angle as descriptive;
    }
}
