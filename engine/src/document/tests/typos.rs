//! The tables the thresholds of `did_you_mean` are tuned on.

use crate::document::did_you_mean;

const FIELDS: &[&str] = &[
    "id",
    "kind",
    "name",
    "space",
    "placement",
    "width",
    "depth",
    "height",
    "facing",
    "outline",
    "ceiling_height",
    "structural_ceiling_height",
    "floor_elevation",
    "floor_area",
    "volume",
    "conditioned",
    "combustion_air",
    "input",
    "vent_category",
    "ignition_source_height",
    "assemblies",
    "receptacles",
    "luminaires",
    "note",
];

const KINDS: &[&str] = &[
    "furnace",
    "air-handler",
    "boiler",
    "heat-pump",
    "water-heater-tank",
    "water-heater-tankless",
    "water-softener",
    "brine-tank",
    "sediment-filter",
    "pressure-tank",
    "well-controller",
    "pump",
    "panel",
    "disconnect",
    "transfer-switch",
    "inverter",
    "battery",
    "generator-inlet",
    "solar-array",
    "manifold",
    "regulator",
    "floor-drain",
    "sump",
];

#[test]
fn slips_are_understood() {
    let slips = [
        ("widht", "width"),
        ("Width", "width"),
        ("with", "width"),
        ("heigth", "height"),
        ("hight", "height"),
        ("dept", "depth"),
        ("outlne", "outline"),
        ("spaces", "space"),
        ("celing_height", "ceiling_height"),
        ("ceilingHeight", "ceiling_height"),
        ("ceiling-height", "ceiling_height"),
        ("ceiling height", "ceiling_height"),
        ("height_ceiling", "ceiling_height"),
        ("ceiling_hieght", "ceiling_height"),
        ("elevation", "floor_elevation"),
        ("area", "floor_area"),
        ("vol", "volume"),
        ("vent_catagory", "vent_category"),
        ("ignition_height", "ignition_source_height"),
        ("assembly", "assemblies"),
        ("receptacels", "receptacles"),
        ("luminaire", "luminaires"),
        ("notes", "note"),
        ("combustionair", "combustion_air"),
    ];
    check(FIELDS, &slips);
    let kinds = [
        ("furnce", "furnace"),
        ("furnase", "furnace"),
        ("water_heater", "water-heater-tank"),
        ("waterheater", "water-heater-tank"),
        ("tankless-water-heater", "water-heater-tankless"),
        ("Heat Pump", "heat-pump"),
        ("heatpump", "heat-pump"),
        ("softener", "water-softener"),
        ("transfer_swich", "transfer-switch"),
        ("batery", "battery"),
        ("batteries", "battery"),
        ("solar-aray", "solar-array"),
        ("invertor", "inverter"),
        ("regulater", "regulator"),
        ("floordrain", "floor-drain"),
        ("disconect", "disconnect"),
    ];
    check(KINDS, &kinds);
}

#[test]
fn strangers_are_not_taken_for_acquaintances() {
    for word in ["colour", "maker", "serial_number", "x", "ab", "price", "weight_lb", "", "warranty", "_", "model"] {
        assert_eq!(did_you_mean(word, FIELDS.iter().copied()), None, "{word}");
    }
    for word in ["chimney", "toilet", "bathtub", "dishwasher", "hvac", "car", "elevator", "fireplace", "gas"] {
        assert_eq!(did_you_mean(word, KINDS.iter().copied()), None, "{word}");
    }
}

fn check(options: &[&str], slips: &[(&str, &str)]) {
    let wrong: Vec<_> = slips
        .iter()
        .map(|(slip, meant)| (*slip, *meant, did_you_mean(slip, options.iter().copied())))
        .filter(|(_, meant, found)| *found != Some(meant))
        .collect();
    assert!(wrong.is_empty(), "{wrong:#?}");
}
