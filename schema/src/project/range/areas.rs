//! Areas and volumes.

use super::Range;

pub(super) const RANGES: &[Range] = &[
    Range {
        of: "the floor area of a dwelling",
        possible: ("10 ft²", "10,000,000 ft²"),
        usual: ("100 ft²", "50,000 ft²"),
        none: false,
        fields: &[
            "Building.conditioned_floor_area",
            "DwellingUnit.floor_area",
            "ElectricalService.floor_area",
            "Standby.floor_area",
        ],
    },
    Range {
        of: "the floor area of a room",
        possible: ("0.01 ft²", "1,000,000 ft²"),
        usual: ("1 ft²", "20,000 ft²"),
        none: false,
        fields: &["Space.floor_area"],
    },
    Range {
        of: "the area of an opening or a vent",
        possible: ("0 in²", "10,000 ft²"),
        usual: ("0.1 in²", "1,000 ft²"),
        none: true,
        fields: &[
            "Space.ventilation_free_area",
            "Assembly.open_area",
            "Penetration.area",
            "Exhaust.outdoor_air_area",
            "MakeUpAir.free_area",
        ],
    },
    Range {
        of: "the area of an opening's face",
        possible: ("0.001 in²", "10,000 ft²"),
        usual: ("0.1 in²", "500 ft²"),
        none: false,
        fields: &[
            "Opening.gross_area",
            "Opening.free_area",
            "Treatment.filter_area",
            "Vent.area",
            "VentConnector.area",
            "Duct.area",
        ],
    },
    Range {
        of: "a surface of a building",
        possible: ("0.1 in²", "1,000,000 ft²"),
        usual: ("1 in²", "20,000 ft²"),
        none: false,
        fields: &["Layer.area", "ConcealedSpace.largest_part", "SolarArray.area"],
    },
    Range {
        of: "the open area of a strainer",
        possible: ("0.001 in²", "100 ft²"),
        usual: ("0.1 in²", "500 in²"),
        none: false,
        fields: &["Drain.strainer_open_area"],
    },
    Range {
        of: "the volume of a dwelling",
        possible: ("80 ft³", "100,000,000 ft³"),
        usual: ("800 ft³", "1,000,000 ft³"),
        none: false,
        fields: &["Building.conditioned_volume"],
    },
    Range {
        of: "the volume of a room",
        possible: ("0.1 ft³", "10,000,000 ft³"),
        usual: ("5 ft³", "500,000 ft³"),
        none: false,
        fields: &["Space.volume", "WaterHeating.room_volume"],
    },
    Range {
        of: "the water a piece of equipment holds",
        possible: ("0 gal", "1,000,000 gal"),
        usual: ("0.01 gal", "20,000 gal"),
        none: true,
        fields: &["Equipment.water_volume", "WaterHeating.storage"],
    },
    Range {
        of: "the volume of a tank",
        possible: ("0.01 gal", "1,000,000 gal"),
        usual: ("0.1 gal", "20,000 gal"),
        none: false,
        fields: &["Tank.volume", "GasContainer.water_capacity"],
    },
    Range {
        of: "the medium of a softener or filter",
        possible: ("0.001 ft³", "1,000 ft³"),
        usual: ("0.05 ft³", "30 ft³"),
        none: false,
        fields: &["Treatment.medium"],
    },
    Range {
        of: "the water of one discharge",
        possible: ("0.0001 gal", "1,000,000 gal"),
        usual: ("0.01 gal", "10,000 gal"),
        none: false,
        fields: &["Discharge.volume"],
    },
];
