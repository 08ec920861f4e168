//! Spaces: rooms and every other volume that has something to do with them.

use super::{
    Access, Assembly, ConcealedSpace, Evidence, FloorSurvey, FoamPlastic, Fuel, Luminaire, Point, Receptacle, Support, Switch,
};
use crate::quantity::{Area, Length, Position, Temperature, Volume, VolumeFlow};

words! {
    /// What a space is used for.
    SpaceKind {
        /// A living room, dining room or similar.
        LivingSpace "living-space",
        /// A kitchen.
        Kitchen "kitchen",
        /// A room somebody sleeps in.
        SleepingRoom "sleeping-room",
        /// A room with a bathtub or shower.
        Bathroom "bathroom",
        /// A room with a toilet but no bathtub or shower.
        ToiletRoom "toilet-room",
        /// A laundry room.
        LaundryRoom "laundry-room",
        /// A corridor, hall or entry.
        Corridor "corridor",
        /// A stairway.
        Stairway "stairway",
        /// The enclosed space under a stairway.
        UnderStairs "under-stairs",
        /// An office or study.
        Office "office",
        /// A storage room.
        StorageRoom "storage-room",
        /// A closet for storage.
        StorageCloset "storage-closet",
        /// A closet for clothes.
        ClothesCloset "clothes-closet",
        /// A closet that holds equipment and nothing else.
        EquipmentCloset "equipment-closet",
        /// A room for several kinds of equipment.
        MechanicalRoom "mechanical-room",
        /// A room for a furnace.
        FurnaceRoom "furnace-room",
        /// A room for a boiler.
        BoilerRoom "boiler-room",
        /// A room or closet for electrical equipment.
        ElectricalRoom "electrical-room",
        /// A room set aside for batteries.
        BatteryRoom "battery-room",
        /// A utility room.
        UtilityRoom "utility-room",
        /// A basement.
        Basement "basement",
        /// A garage attached to the dwelling.
        AttachedGarage "attached-garage",
        /// A garage that stands apart.
        DetachedGarage "detached-garage",
        /// A carport.
        Carport "carport",
        /// A workshop.
        Workshop "workshop",
        /// A boathouse.
        Boathouse "boathouse",
        /// An attic.
        Attic "attic",
        /// A crawl space.
        CrawlSpace "crawl-space",
        /// A vertical shaft or chase.
        Shaft "shaft",
        /// A space that air is blown or drawn through.
        Plenum "plenum",
        /// A pit.
        Pit "pit",
        /// A room for surgery.
        SurgicalRoom "surgical-room",
        /// A room with refrigeration machinery.
        RefrigerationRoom "refrigeration-room",
        /// Something else.
        Other "other",
    }
}

words! {
    /// Where the thermal insulation of an attic or crawl space lies.
    InsulationLine {
        /// In its floor.
        Floor "floor",
        /// In its ceiling.
        Ceiling "ceiling",
        /// Under the roof.
        Roof "roof",
        /// In its walls.
        Walls "walls",
        /// Nowhere.
        None "none",
    }
}

words! {
    /// What may hang in the air of a space.
    Contaminant {
        /// Vapours that can burn.
        FlammableVapor "flammable-vapor",
        /// Dust that can burn.
        CombustibleDust "combustible-dust",
        /// Solvents, paints, resins.
        Solvents "solvents",
        /// Bleach and other laundry chemicals.
        LaundryChemicals "laundry-chemicals",
        /// Chlorine, as at pools.
        Chlorine "chlorine",
        /// Refrigerant.
        Refrigerant "refrigerant",
    }
}

record! {
    /// A detector of fuel gas.
    GasDetector {
        /// The gas it detects.
        fuel: Fuel;
        /// Height above the floor.
        height: Length;
        /// Whether it shuts the gas off.
        shuts_off_gas: bool;
        /// Whether it starts an exhaust fan.
        starts_fan: bool;
        /// Whether it is listed.
        listed: bool;
    }
}

words! {
    /// A way to give appliances air to burn.
    CombustionAirMethod {
        /// Indoor air by 50 ft³ per 1,000 Btu/h.
        IndoorStandard "indoor-standard",
        /// Indoor air by a known air infiltration rate.
        IndoorKnownInfiltration "indoor-known-infiltration",
        /// Outdoor air by two permanent openings.
        OutdoorTwoOpenings "outdoor-two-openings",
        /// Outdoor air by one permanent opening.
        OutdoorOneOpening "outdoor-one-opening",
        /// Indoor and outdoor air together.
        Combination "combination",
        /// A fan.
        Mechanical "mechanical",
        /// An engineer's design.
        Engineered "engineered",
    }
}

record! {
    /// A fan that supplies air to burn.
    MechanicalCombustionAir {
        /// Outdoor air it supplies.
        flow: VolumeFlow;
        /// The fan.
        equipment: String => "equipment";
        /// The appliances that cannot fire while it stands still.
        interlocked: Vec<String> => "equipment";
        /// Whether the flow comes on top of what ventilates the room.
        additional_to_ventilation: bool;
        /// Whether what exhaust fans draw from the room is made up too.
        make_up_for_exhaust: bool;
    }
}

record! {
    /// How the appliances in a space are meant to get their air.
    CombustionAir {
        /// The method claimed; none claimed leaves every method open.
        method: CombustionAirMethod;
        /// The fan of the mechanical method.
        mechanical: MechanicalCombustionAir;
        /// The engineer's document of the engineered method.
        engineered: Evidence;
    }
}

record! {
    /// A room or another volume.
    Space("space"): SpaceKind {
        /// What people call it.
        name: String as descriptive;
        /// The dwelling unit it belongs to.
        dwelling_unit: String => "dwelling-unit";
        /// Story: 1 is the first above grade, 0 the basement or crawl space under it.
        story: i32, like 1;
        /// Its outline in plan, straight walls, along the finished faces.
        outline: Vec<Point>;
        /// Outlines of what is cut out of it, such as a chimney.
        holes: Vec<Vec<Point>>;
        /// Elevation of its floor, from the building's datum.
        floor_elevation: Position;
        /// Height from floor to finished ceiling.
        ceiling_height: Length, like "8 ft";
        /// Height from floor to structure, above a suspended ceiling.
        structural_ceiling_height: Length;
        /// Least clear height, where it varies, as in an attic.
        minimum_clear_height: Length;
        /// Floor area, where no outline is drawn.
        floor_area: Area, like "120 ft²";
        /// Volume, where no outline is drawn or the ceiling is not level.
        volume: Volume, like "960 ft³";
        /// Whether it lies inside the thermal envelope.
        conditioned: bool;
        /// Lowest temperature it falls to.
        lowest_temperature: Temperature;
        /// Highest temperature it rises to.
        highest_temperature: Temperature;
        /// Whether it is used to live, sleep, eat or cook in.
        habitable: bool;
        /// Whether things are stored in it.
        used_for_storage: bool;
        /// Whether its walls and ceiling are finished.
        finished: bool;
        /// Whether its floor lies below the ground outside.
        below_grade: bool;
        /// Whether gas heavier than air would run out of it to daylight.
        drain_to_daylight: bool;
        /// Whether vents open it freely to the outdoors, as in a vented attic or crawl space.
        vented_to_outdoors: bool;
        /// Free area of those vents together.
        ventilation_free_area: Area, like "1,200 in²";
        /// Height of the lowest vent above the ground outside.
        ventilation_above_grade: Length as descriptive;
        /// Whether a fan ventilates it, as a powered attic ventilator does.
        power_ventilated: bool;
        /// Where its insulation lies.
        insulation_line: InsulationLine as descriptive;
        /// Foam plastic in it.
        foam_plastic: FoamPlastic;
        /// Whether snow or ice can block its vents.
        vents_can_be_blocked: bool;
        /// What may hang in its air.
        contaminants: Vec<Contaminant>;
        /// A detector of fuel gas in it.
        gas_detector: GasDetector;
        /// How its appliances are meant to get their air.
        combustion_air: CombustionAir;
        /// Whether it has automatic sprinklers.
        sprinklered: bool;
        /// The way in, where it is not through a door, and the passage to the equipment.
        access: Access;
        /// Its walls, floor, ceiling: what they are made of and what lies beyond.
        assemblies: Vec<Assembly>;
        /// Beams and posts in it; an empty list says that there are none.
        supports: Vec<Support>;
        /// Hidden spaces behind its finishes: soffits, chases, bump-outs; an empty list says that there are none.
        concealed: Vec<ConcealedSpace>;
        /// Whether it lies on the garage's side of the separation, as a closet entered from the garage may.
        garage_side: bool;
        /// Whether nobody goes into it but to service what stands there.
        service_only: bool;
        /// Whether pipes and ducts whose line is not drawn keep clear of working spaces and of the ways in and out.
        undrawn_runs_clear: bool;
        /// Whether anything is stored in the working space of its electrical equipment.
        storage_in_working_space: bool;
        /// Heights measured on its floor.
        floor_survey: FloorSurvey;
        /// Whether every opening of this space is in the project's list of openings.
        openings_complete: bool;
        /// Whether everything that stands or hangs in this space is in the project's list of equipment.
        equipment_complete: bool;
        /// Whether everything that draws air from this space is in the project's list of exhausts.
        exhausts_complete: bool;
        /// Its luminaires.
        luminaires: Vec<Luminaire>;
        /// Its switches.
        switches: Vec<Switch>;
        /// Its receptacles.
        receptacles: Vec<Receptacle>;
    }
}
