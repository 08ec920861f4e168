//! Appliances that burn fuel: the rating plate, the burner, where the air comes from, conversion, altitude.

use crate::quantity::{Length, Position, Power, Pressure, Ratio};

words! {
    /// A fuel.
    Fuel {
        /// Natural gas.
        NaturalGas "natural-gas",
        /// Propane.
        Propane "propane",
        /// Butane.
        Butane "butane",
        /// Fuel oil.
        FuelOil "fuel-oil",
        /// Kerosene.
        Kerosene "kerosene",
        /// Wood.
        Wood "wood",
        /// Wood pellets.
        Pellets "pellets",
        /// Coal.
        Coal "coal",
    }
}

words! {
    /// Venting category of a gas appliance.
    VentCategory {
        /// Category I: vent pressure not positive, condensation not excessive.
        CategoryI "category-i",
        /// Category II: vent pressure not positive, condensation may be excessive.
        CategoryIi "category-ii",
        /// Category III: vent pressure positive, condensation not excessive.
        CategoryIii "category-iii",
        /// Category IV: vent pressure positive, condensation may be excessive.
        CategoryIv "category-iv",
    }
}

record! {
    /// What the rating plate says.
    RatingPlate {
        /// The fuel it is made for.
        fuel: Fuel;
        /// Input; the greatest where it modulates or has stages.
        input: Power, like "100,000 Btu/h";
        /// Least input.
        input_minimum: Power;
        /// Output.
        output: Power;
        /// Manifold pressure.
        manifold_pressure: Pressure, like "3.5 in wc";
        /// Least inlet pressure.
        inlet_pressure_minimum: Pressure, like "5 in wc";
        /// Greatest inlet pressure.
        inlet_pressure_maximum: Pressure, like "10.5 in wc";
        /// Greatest elevation it is certified for without change.
        certified_altitude: Position;
        /// Venting category.
        vent_category: VentCategory;
        /// Share of the input it turns into heat, as rated.
        efficiency: Ratio;
        /// Size of the burner orifice, as a drill number.
        orifice_drill: u32, like 42;
        /// Diameter of the burner orifice.
        orifice_diameter: Length;
        /// How many burners it has.
        burners: u32;
    }
}

words! {
    /// How the burner gets its air and drives out what it burnt.
    Burner {
        /// By draft, with a draft hood.
        DraftHood "draft-hood",
        /// By draft, without a draft hood.
        NaturalDraft "natural-draft",
        /// By draft, with a separate fan in the vent.
        PowerVenter "power-venter",
        /// A fan of its own drives the air through the heat exchanger.
        FanAssisted "fan-assisted",
        /// A power burner.
        PowerBurner "power-burner",
        /// A fan of its own drives the gases through a vent under pressure.
        PowerVented "power-vented",
        /// An open flame without a vent.
        Unvented "unvented",
    }
}

words! {
    /// Where the air to burn comes from.
    AirSource {
        /// The space it stands in.
        Room "room",
        /// The outdoors, through a sealed pipe of its own.
        DirectVent "direct-vent",
        /// The attic, through a pipe of its own.
        Attic "attic",
        /// The crawl space, through a pipe of its own.
        CrawlSpace "crawl-space",
    }
}

words! {
    /// What the instructions say about air for an appliance the code sends to its instructions.
    AirInstructions {
        /// Use the methods of the code.
        CodeMethods "code-methods",
        /// Outdoor air only.
        OutdoorAirOnly "outdoor-air-only",
        /// Figures of their own.
        OwnFigures "own-figures",
    }
}

record! {
    /// The label that a conversion to another fuel leaves on the appliance.
    ConversionLabel {
        /// Whether it is there; `false` says that it is not.
        present: bool;
        /// The fuel it names.
        fuel: Fuel;
        /// The input it names.
        input: Power;
        /// The orifice it names, as a drill number.
        orifice_drill: u32;
        /// The manifold pressure it names.
        manifold_pressure: Pressure;
        /// The elevation it names.
        altitude: Position;
        /// Who signed it.
        by: String;
        /// When, `YYYY-MM-DD`.
        date: String;
    }
}

record! {
    /// A conversion to another fuel.
    Conversion {
        /// Whether it was done; `false` says that it was not.
        performed: bool;
        /// The fuel it burns now.
        fuel: Fuel;
        /// The kit that was used.
        kit: String;
        /// Whether the kit is the appliance maker's.
        kit_from_maker: bool;
        /// Whether the kit's instructions were followed.
        instructions_followed: bool;
        /// Who did it.
        by: String;
        /// Whether they are a qualified agency.
        qualified: bool;
        /// When, `YYYY-MM-DD`.
        date: String;
        /// Burner orifice now, as a drill number.
        orifice_drill: u32;
        /// Burner orifice now, as a diameter.
        orifice_diameter: Length;
        /// Manifold pressure now.
        manifold_pressure: Pressure;
        /// Least inlet pressure the kit's instructions ask for.
        inlet_pressure_minimum: Pressure;
        /// Greatest inlet pressure the kit's instructions allow.
        inlet_pressure_maximum: Pressure;
        /// The label it left.
        label: ConversionLabel;
    }
}

words! {
    /// How the input falls with elevation, by the maker.
    AltitudeRuleKind {
        /// By a share of the sea-level input per 1,000 ft of elevation above the sea.
        PercentFromSeaLevel "percent-from-sea-level",
        /// By a share of the sea-level input per 1,000 ft above the elevation it starts at.
        PercentFromStart "percent-from-start",
        /// By a table of the maker.
        MakerTable "maker-table",
        /// Not at all, up to the certified elevation.
        NoReduction "no-reduction",
        /// By itself.
        SelfAdjusting "self-adjusting",
        /// The instructions say nothing.
        NotStated "not-stated",
    }
}

record! {
    /// The maker's rule for elevation.
    AltitudeRule: AltitudeRuleKind {
        /// Reduction per 1,000 ft.
        percent: Ratio, like "4 %";
        /// The elevation above which it applies.
        starts_at: Position, like "2,000 ft";
        /// Input by the maker's table at this site.
        input_here: Power;
        /// Whether a kit is needed above some elevation.
        kit_above: Position;
    }
}

words! {
    /// How the input was set for the elevation.
    DerateMethod {
        /// By 4 % per 1,000 ft, as the model code has it.
        ModelCode "model-code",
        /// By the maker's instructions.
        Maker "maker",
        /// As the authority or the gas supplier permits.
        Authority "authority",
        /// The gas supplied has a lower heating value already.
        LowerHeatingValue "lower-heating-value",
        /// Not at all.
        None "none",
    }
}

record! {
    /// What was done about the elevation.
    Derate {
        /// How.
        method: DerateMethod;
        /// The input it is set to.
        input: Power;
        /// The document or approval it rests on.
        evidence: super::Evidence;
        /// Whether the high-altitude kit is fitted, where one is needed.
        kit_fitted: bool;
    }
}

record! {
    /// The test of an appliance's draft with everything running that draws air out of the house.
    DraftTest {
        /// Whether doors and windows were shut and every exhaust ran.
        worst_case: bool;
        /// Whether gases still came out of the draft hood after five minutes of firing.
        spills: bool;
        /// Who was there, and when.
        evidence: super::Evidence;
    }
}

record! {
    /// An appliance that burns fuel.
    FuelBurning {
        /// What the rating plate says.
        plate: RatingPlate;
        /// How the burner works.
        burner: Burner;
        /// Where its air comes from.
        combustion_air: AirSource;
        /// What its instructions say about air.
        air_instructions: AirInstructions;
        /// Whether the authority has it counted, or left out, when air is worked out.
        counts_toward_combustion_air: bool;
        /// Whether it is listed to stand in a closet or alcove.
        closet_listed: bool;
        /// Whether its listing allows a floor that burns under it.
        combustible_floor_allowed: bool;
        /// Diameter of its vent connector.
        vent_connector_diameter: Length, like "4 in";
        /// The space its draft hood or draft regulator is in, where it is another.
        draft_hood_space: String => "space";
        /// The gas outlet that feeds it.
        gas_outlet: String => "gas-node";
        /// Nominal size of its gas connection.
        gas_connection_size: Length, like "3/4 in";
        /// Measured pressure at its inlet while nothing burns.
        static_inlet_pressure: Pressure;
        /// Measured pressure at its inlet while everything burns.
        running_inlet_pressure: Pressure;
        /// A conversion to another fuel.
        conversion: Conversion;
        /// The maker's rule for elevation.
        altitude_rule: AltitudeRule;
        /// What was done about the elevation.
        derate: Derate;
        /// Heat it must give at design conditions.
        heat_load: Power;
        /// Height of its ignition source above the floor.
        ignition_source_height: Length, like "18 in";
        /// Whether it is listed as resistant to igniting flammable vapours.
        flammable_vapor_resistant: bool;
        /// Whether an oxygen depletion sensor shuts it off.
        oxygen_depletion_sensor: bool;
        /// Whether it is mounted on a wall.
        wall_mounted: bool;
        /// Whether what it burnt condenses in it.
        condensing: bool;
        /// Plastic vent materials its instructions name.
        vent_materials_named: Vec<super::VentMaterial>;
        /// Whether it is listed for use without a vent.
        unvented_listed: bool;
        /// Whether nothing else heats its dwelling.
        sole_heat: bool;
        /// Whether it burns in a fireplace built for solid fuel.
        in_solid_fuel_fireplace: bool;
        /// Whether the damper of that fireplace is taken out or fixed open as the instructions ask.
        fireplace_damper_fixed: bool;
        /// Whether its burner cannot fire before the separate fan in its vent is proven to run.
        venter_proven: bool;
        /// Whether its instructions for installation and operation are left at the site.
        instructions_on_site: bool;
        /// The test of its draft.
        draft_test: DraftTest;
    }
}
