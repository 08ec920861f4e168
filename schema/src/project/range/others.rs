//! Temperatures, flows, times, counts; and the range of each dimension for a field without a class.

use super::Range;
use crate::quantity::Kind;

pub(super) const RANGES: &[Range] = &[
    Range {
        of: "a temperature outdoors",
        possible: ("-150 F", "180 F"),
        usual: ("-70 F", "130 F"),
        none: true,
        fields: &[
            "Site.heating_design_temperature",
            "Site.cooling_design_temperature",
            "Site.lowest_temperature",
            "WaterHeating.frost_protection_to",
        ],
    },
    Range {
        of: "the temperature of a room",
        possible: ("-150 F", "400 F"),
        usual: ("-70 F", "200 F"),
        none: true,
        fields: &["Space.lowest_temperature", "Space.highest_temperature", "RacewayRun.ambient"],
    },
    Range {
        of: "a temperature of water",
        possible: ("20 F", "600 F"),
        usual: ("32 F", "250 F"),
        none: true,
        fields: &[
            "WaterHeating.set_temperature",
            "WaterHeating.limit_temperature",
            "WaterHeating.space_heating_temperature",
            "Boiler.mean_temperature",
            "Relief.temperature",
            "WaterSource.temperature",
            "WaterValve.set_temperature",
            "Fixture.maximum_temperature",
        ],
    },
    Range {
        of: "the temperature rating of a terminal",
        possible: ("40 C", "500 C"),
        usual: ("60 C", "250 C"),
        none: true,
        fields: &["ConductorSet.terminal_rating"],
    },
    Range {
        of: "a temperature of a battery",
        possible: ("-100 C", "400 C"),
        usual: ("-50 C", "80 C"),
        none: true,
        fields: &[
            "StorageSystem.temperature_minimum",
            "StorageSystem.temperature_maximum",
            "StorageSystem.charging_temperature_minimum",
        ],
    },
    Range {
        of: "the rise of a water heater",
        possible: ("0.1 F°", "600 F°"),
        usual: ("2 F°", "200 F°"),
        none: false,
        fields: &["WaterHeating.rise"],
    },
    Range {
        of: "a snow load",
        possible: ("0 psf", "2,000 psf"),
        usual: ("0.5 psf", "700 psf"),
        none: true,
        fields: &["Site.ground_snow_load"],
    },
    Range {
        of: "a design wind speed",
        possible: ("1 mph", "500 mph"),
        usual: ("40 mph", "300 mph"),
        none: false,
        fields: &["Site.wind_speed"],
    },
    Range {
        of: "the air speed through a filter",
        possible: ("0.1 ft/min", "20,000 ft/min"),
        usual: ("20 ft/min", "2,000 ft/min"),
        none: false,
        fields: &["AirMoving.filter_velocity"],
    },
    Range {
        of: "a flow of air",
        possible: ("0 cfm", "1,000,000 cfm"),
        usual: ("0.1 cfm", "50,000 cfm"),
        none: true,
        fields: &[
            "WholeHouseVentilation.flow",
            "MechanicalCombustionAir.flow",
            "AirMoving.flow",
            "AirMoving.outdoor_air",
            "AirMoving.exhaust_air",
            "Duct.flow",
            "Duct.leakage",
            "DuctOpening.flow",
            "Exhaust.flow",
            "MakeUpAir.flow",
            "StorageSystem.ventilation",
        ],
    },
    Range {
        of: "a flow of fuel gas",
        possible: ("0.001 cfh", "10,000,000 cfh"),
        usual: ("0.5 cfh", "100,000 cfh"),
        none: false,
        fields: &["GasCapacity.flow"],
    },
    Range {
        of: "a flow of condensate",
        possible: ("0 gph", "10,000 gph"),
        usual: ("0.001 gph", "200 gph"),
        none: true,
        fields: &["Condensate.flow"],
    },
    Range {
        of: "a flow of water",
        possible: ("0.0001 gpm", "100,000 gpm"),
        usual: ("0.005 gpm", "1,000 gpm"),
        none: false,
        fields: &[
            "WaterHeating.activation_flow",
            "WaterHeating.flow",
            "Treatment.backwash",
            "Treatment.service_flow",
            "Pump.flow",
            "Discharge.flow",
            "DischargeStep.flow",
            "DrainagePump.flow",
            "Water.design_flow",
            "WaterSource.residual_flow",
            "WaterSource.sustained_flow",
            "Fixture.flow",
        ],
    },
    Range {
        of: "the leakage of a house under test",
        possible: ("0.001 ACH", "1,000 ACH"),
        usual: ("0.05 ACH", "60 ACH"),
        none: false,
        fields: &["Infiltration.ach50"],
    },
    Range {
        of: "the natural air changes of a house",
        possible: ("0.0001 ACH", "100 ACH"),
        usual: ("0.005 ACH", "5 ACH"),
        none: false,
        fields: &["Infiltration.natural"],
    },
    Range {
        of: "a fire rating",
        possible: ("0 min", "24 h"),
        usual: ("5 min", "4 h"),
        none: true,
        fields: &["Assembly.fire_rating", "Penetration.fire_rating", "Door.fire_rating"],
    },
    Range {
        of: "the time a motor or inverter takes for a start",
        possible: ("0.0001 s", "1 h"),
        usual: ("0.001 s", "2 min"),
        none: false,
        fields: &["Motor.starting_time", "Inverter.surge_duration"],
    },
    Range {
        of: "the time a process in equipment takes",
        possible: ("0.1 s", "60 d"),
        usual: ("1 s", "24 h"),
        none: false,
        fields: &["Treatment.regeneration", "Pump.minimum_run", "Discharge.duration", "DischargeStep.duration"],
    },
    Range {
        of: "the time of a pressure test",
        possible: ("1 s", "60 d"),
        usual: ("1 min", "72 h"),
        none: false,
        fields: &["PressureTest.duration"],
    },
    Range {
        of: "the time stored energy or fuel lasts",
        possible: ("1 s", "3,650 d"),
        usual: ("1 min", "90 d"),
        none: false,
        fields: &["Generator.fuel_lasts", "Standby.runtime"],
    },
    Range {
        of: "thermal resistance",
        possible: ("R-0", "R-1,000"),
        usual: ("R-0.1", "R-100"),
        none: true,
        fields: &[
            "Framing.insulation",
            "ConcealedSpace.insulation",
            "ConcealedSpace.insulation_around",
            "Duct.insulation",
            "WaterPipe.insulation",
        ],
    },
    Range {
        of: "the slope of a floor, a pipe or a vent",
        possible: ("-1,000 %", "1,000 %"),
        usual: ("-100 %", "100 %"),
        none: true,
        fields: &[
            "FloorSurvey.slope",
            "ReliefPipe.slope",
            "Vent.slope",
            "VentConnector.slope",
            "Duct.slope",
            "Trap.arm_slope",
            "DrainPipe.slope",
            "IndirectWaste.slope",
        ],
    },
    Range {
        of: "the slope of a roof",
        possible: ("0 %", "10,000 %"),
        usual: ("0.5 %", "300 %"),
        none: true,
        fields: &["VentTerminal.roof_slope"],
    },
    Range {
        of: "an efficiency",
        possible: ("1 %", "120 %"),
        usual: ("30 %", "110 %"),
        none: false,
        fields: &["RatingPlate.efficiency"],
    },
    Range {
        of: "an efficiency of an inverter or battery",
        possible: ("1 %", "100 %"),
        usual: ("30 %", "100 %"),
        none: false,
        fields: &["Inverter.efficiency", "StorageSystem.charging_efficiency"],
    },
    Range {
        of: "a share of something that is there",
        possible: ("0.01 %", "100 %"),
        usual: ("1 %", "100 %"),
        none: false,
        fields: &[
            "Screen.free_fraction",
            "Motor.soft_start_share",
            "Inverter.leg_share",
            "StorageSystem.depth_of_discharge",
            "StorageSystem.health",
        ],
    },
    Range {
        of: "a share of a whole",
        possible: ("0 %", "100 %"),
        usual: ("0.01 %", "100 %"),
        none: true,
        fields: &[
            "AltitudeRule.percent",
            "Pump.duty",
            "Generator.starts_at_charge",
            "Generator.stops_at_charge",
            "StorageSystem.cold_capacity",
            "Load.duty",
            "Load.hourly_duty",
            "Raceway.reserve",
        ],
    },
    Range {
        of: "the weight of equipment",
        possible: ("0.01 lb", "1,000,000 lb"),
        usual: ("0.2 lb", "20,000 lb"),
        none: false,
        fields: &["Equipment.weight", "LargestPart.weight"],
    },
    Range {
        of: "the salt of one regeneration",
        possible: ("0.001 lb", "10,000 lb"),
        usual: ("0.5 lb", "100 lb"),
        none: false,
        fields: &["Treatment.salt"],
    },
    Range {
        of: "the hardness a softener takes out",
        possible: ("1 gr", "100,000,000 gr"),
        usual: ("500 gr", "500,000 gr"),
        none: false,
        fields: &["Treatment.capacity"],
    },
    Range {
        of: "what is dissolved in water",
        possible: ("0 ppm", "100,000 ppm"),
        usual: ("0.001 ppm", "2,000 ppm"),
        none: true,
        fields: &["WaterHeating.hardness_limit", "WaterSource.hardness", "WaterSource.iron"],
    },
    Range {
        of: "a direction in plan",
        possible: ("-720 deg", "720 deg"),
        usual: ("-360 deg", "360 deg"),
        none: true,
        fields: &["Site.true_north", "Placement.bearing", "SolarArray.azimuth"],
    },
    Range {
        of: "how far a door or cover opens",
        possible: ("1 deg", "360 deg"),
        usual: ("30 deg", "270 deg"),
        none: false,
        fields: &["ElectricalSupply.door_opens", "Panel.door_opens"],
    },
    Range {
        of: "the turn of a bend",
        possible: ("0.1 deg", "360 deg"),
        usual: ("2 deg", "180 deg"),
        none: false,
        fields: &["Bend.angle"],
    },
    Range {
        of: "the turns of a pipe together",
        possible: ("0 deg", "36,000 deg"),
        usual: ("5 deg", "1,080 deg"),
        none: true,
        fields: &["ReliefPipe.turns"],
    },
    Range { of: "a radon zone", possible: ("1", "3"), usual: ("1", "3"), none: false, fields: &["Site.radon_zone"] },
    Range {
        of: "the stories above grade",
        possible: ("1", "200"),
        usual: ("1", "6"),
        none: false,
        fields: &["Building.stories"],
    },
    Range {
        of: "the year a house was built",
        possible: ("1500", "2200"),
        usual: ("1650", "2100"),
        none: false,
        fields: &["Building.year_built"],
    },
    Range {
        of: "the people in a house",
        possible: ("1", "10000"),
        usual: ("1", "60"),
        none: false,
        fields: &["Building.occupants"],
    },
    Range { of: "the story of a room", possible: ("-20", "200"), usual: ("-3", "6"), none: true, fields: &["Space.story"] },
    Range {
        of: "a flame spread or smoke developed index",
        possible: ("0", "100000"),
        usual: ("0", "2000"),
        none: true,
        fields: &["FoamPlastic.flame_spread", "FoamPlastic.smoke_developed", "Layer.flame_spread", "Layer.smoke_developed"],
    },
    Range {
        of: "the number of a drill",
        possible: ("1", "120"),
        usual: ("1", "107"),
        none: false,
        fields: &["RatingPlate.orifice_drill", "Conversion.orifice_drill", "ConversionLabel.orifice_drill"],
    },
    Range {
        of: "things that come one by one, where there is one at least",
        possible: ("1", "10000"),
        usual: ("1", "200"),
        none: false,
        fields: &[
            "RatingPlate.burners",
            "AirMoving.filters",
            "GasConnector.in_series",
            "ConductorSet.parallel",
            "Panel.spaces",
            "Circuit.slots",
            "Load.count",
            "Bend.count",
            "RacewayConductor.count",
            "Fitting.count",
        ],
    },
    Range {
        of: "the number of corrugated tubing",
        possible: ("1", "1000"),
        usual: ("8", "100"),
        none: false,
        fields: &["GasSegment.equivalent_hydraulic_diameter", "GasCapacity.equivalent_hydraulic_diameter"],
    },
    Range { of: "the poles of a breaker", possible: ("1", "4"), usual: ("1", "3"), none: false, fields: &["Circuit.poles"] },
    Range {
        of: "an hour of the day",
        possible: ("0", "23"),
        usual: ("0", "23"),
        none: true,
        fields: &["Standby.outage_begins", "Generator.hours"],
    },
    Range { of: "a pH", possible: ("0", "14"), usual: ("2", "12"), none: false, fields: &["Discharge.ph", "WaterSource.ph"] },
    Range {
        of: "fixture units",
        possible: ("0", "1000000"),
        usual: ("0.25", "2000"),
        none: true,
        fields: &["DrainPipe.fixture_units"],
    },
    Range {
        of: "the distance of a test tee in diameters",
        possible: ("0", "10000"),
        usual: ("1", "100"),
        none: true,
        fields: &["GasRegulator.test_tee_diameters"],
    },
];

/// How many there are of something, none of it included.
pub(super) const COUNT: Range =
    Range { of: "a count of things in a house", possible: ("0", "10000"), usual: ("0", "300"), none: true, fields: &[] };

/// The widest range of a dimension, for a field that stands in no class.
pub(super) fn of_kind(kind: Kind) -> &'static Range {
    const fn wide(of: &'static str, possible: (&'static str, &'static str), usual: (&'static str, &'static str)) -> Range {
        Range { of, possible, usual, none: true, fields: &[] }
    }
    const LENGTH: Range = wide("a distance", ("0 in", "100 mi"), ("0.01 in", "1 mi"));
    const POSITION: Range = wide("a place", ("-100 mi", "100 mi"), ("-3 mi", "3 mi"));
    const AREA: Range = wide("an area", ("0 in²", "10,000,000 ft²"), ("0.01 in²", "50,000 ft²"));
    const VOLUME: Range = wide("a volume", ("0 gal", "100,000,000 ft³"), ("0.001 gal", "1,000,000 ft³"));
    const POWER: Range = wide("power", ("0 W", "100 MW"), ("0.1 W", "10 MW"));
    const APPARENT_POWER: Range = wide("apparent power", ("0 VA", "100,000 kVA"), ("0.1 VA", "1,000 kVA"));
    const PRESSURE: Range = wide("a pressure", ("0 in wc", "10,000 psi"), ("0.001 in wc", "600 psi"));
    const VOLUME_FLOW: Range = wide("a flow", ("0 gpm", "1,000,000 cfm"), ("0.0001 gpm", "50,000 cfm"));
    const TEMPERATURE: Range = wide("a temperature", ("-150 F", "3,000 F"), ("-70 F", "1,000 F"));
    const DIFFERENCE: Range = wide("a difference of temperatures", ("0 F°", "3,000 F°"), ("0.1 F°", "500 F°"));
    const ENERGY: Range = wide("energy", ("0 Wh", "1,000 MWh"), ("0.1 Wh", "1 MWh"));
    const SLOPE: Range = wide("a slope", ("-10,000 %", "10,000 %"), ("-300 %", "300 %"));
    const RATIO: Range = wide("a share", ("0 %", "1,000 %"), ("0.001 %", "200 %"));
    const AIR_CHANGES: Range = wide("air changes", ("0 ACH", "1,000 ACH"), ("0.001 ACH", "100 ACH"));
    const CURRENT: Range = wide("a current", ("0 A", "1,000,000 A"), ("0.001 A", "200,000 A"));
    const VOLTAGE: Range = wide("a voltage", ("0 V", "100,000 V"), ("1 V", "1,500 V"));
    const CHARGE: Range = wide("a charge", ("0 Ah", "1,000,000 Ah"), ("0.1 Ah", "10,000 Ah"));
    const MASS: Range = wide("a weight", ("0 lb", "10,000,000 lb"), ("0.001 lb", "50,000 lb"));
    const ANGLE: Range = wide("an angle", ("-3,600 deg", "3,600 deg"), ("-360 deg", "360 deg"));
    const DURATION: Range = wide("a time", ("0 s", "36,500 d"), ("0.001 s", "3,650 d"));
    const HEATING_VALUE: Range = wide("heat of a fuel", ("0 Btu/ft³", "10,000 Btu/ft³"), ("10 Btu/ft³", "4,000 Btu/ft³"));
    const VELOCITY: Range = wide("a speed", ("0 ft/min", "1,000 mph"), ("0.1 ft/min", "300 mph"));
    const INSULANCE: Range = wide("thermal resistance", ("R-0", "R-1,000"), ("R-0.1", "R-100"));
    const RESISTANCE: Range = wide("a resistance", ("0 ohm", "1,000,000 ohm"), ("0.001 ohm", "100,000 ohm"));
    const FREQUENCY: Range = wide("a frequency", ("0 Hz", "1,000,000 Hz"), ("1 Hz", "100,000 Hz"));
    const CONCENTRATION: Range = wide("what is dissolved", ("0 ppm", "1,000,000 ppm"), ("0.001 ppm", "50,000 ppm"));
    match kind {
        Kind::Length => &LENGTH,
        Kind::Position => &POSITION,
        Kind::Area => &AREA,
        Kind::Volume => &VOLUME,
        Kind::Power => &POWER,
        Kind::ApparentPower => &APPARENT_POWER,
        Kind::Pressure => &PRESSURE,
        Kind::VolumeFlow => &VOLUME_FLOW,
        Kind::Temperature => &TEMPERATURE,
        Kind::TemperatureDifference => &DIFFERENCE,
        Kind::Energy => &ENERGY,
        Kind::Slope => &SLOPE,
        Kind::Ratio => &RATIO,
        Kind::AirChangeRate => &AIR_CHANGES,
        Kind::Current => &CURRENT,
        Kind::Voltage => &VOLTAGE,
        Kind::Charge => &CHARGE,
        Kind::Mass => &MASS,
        Kind::Angle => &ANGLE,
        Kind::Duration => &DURATION,
        Kind::HeatingValue => &HEATING_VALUE,
        Kind::Velocity => &VELOCITY,
        Kind::ThermalResistance => &INSULANCE,
        Kind::Resistance => &RESISTANCE,
        Kind::Frequency => &FREQUENCY,
        Kind::Concentration => &CONCENTRATION,
    }
}
