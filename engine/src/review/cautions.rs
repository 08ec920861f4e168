//! The usual cautions, for the dangers a project brings with it.

use serde_json::Value;

/// What every report says.
pub const NOTICE: &str = "redtag advises; it never approves. The authority having jurisdiction decides, the adopted code and \
     the listing and instructions of the equipment come first, and licensed trades do the work. A source marked \"from memory\" \
     has not been checked against print: verify it in the adopted text.";

/// One danger: the words in a project that give it away, and what to say.
struct Danger {
    /// Parts of the project whose presence is enough.
    parts: &'static [&'static str],
    /// Pieces of words that give it away as the kind or fuel of a piece of equipment.
    equipment: &'static [&'static str],
    caution: &'static str,
}

// Common practice of the trades and of emergency services; no figure rests on it.
const DANGERS: [Danger; 5] = [
    Danger {
        parts: &["/gas", "/site/fuel"],
        equipment: &["gas", "propane", "lp", "oil", "furnace", "boiler"],
        caution: "Gas and combustion: a leak or a starved flame can explode or poison with carbon monoxide, which has no smell. \
             Smell gas: touch no switch, get everyone out, call the supplier or the emergency number from outside. Gas work is for \
             licensed fitters, with a pressure test and a combustion check before use.",
    },
    Danger {
        parts: &["/electrical", "/raceways"],
        equipment: &["panel", "inverter", "solar", "generator", "transfer", "disconnect"],
        caution: "Electricity: service conductors stay live with the main off, and solar, batteries and generators feed from the \
             other side. Only a licensed electrician opens the equipment, locked out and tested dead first.",
    },
    Danger {
        parts: &[],
        equipment: &["battery", "energy-storage", "inverter"],
        caution: "Batteries: they cannot be switched off, and once hurt they can burn or give off flammable gas hours later. If one \
             swells, hisses, smokes or gets wet, leave, close the door and call the fire service.",
    },
    Danger {
        parts: &[],
        equipment: &["water-heater", "boiler", "tank"],
        caution: "Hot water and pressure: water above 120 °F (49 °C) scalds within minutes, hotter water within seconds. Never plug, \
             cap or valve off a relief valve or its pipe.",
    },
    Danger {
        parts: &["/gas", "/electrical"],
        equipment: &["furnace", "boiler", "battery", "water-heater"],
        caution: "Fire: keep rated walls, their sealed penetrations and the clearances of listed equipment whole, and smoke and \
             carbon monoxide alarms working, while the work goes on too.",
    },
];

/// The cautions for what the project holds, always in the same order.
pub fn for_project(project: &Value) -> Vec<String> {
    let words = equipment_words(project);
    let given_away = |danger: &&Danger| {
        danger.parts.iter().any(|part| project.pointer(part).is_some_and(|part| !is_empty(part)))
            || danger.equipment.iter().any(|word| words.iter().any(|said| said.split('-').any(|piece| piece == *word) || said == word))
    };
    DANGERS.iter().filter(given_away).map(|danger| danger.caution.to_owned()).collect()
}

fn is_empty(value: &Value) -> bool {
    match value {
        Value::Null => true,
        Value::Object(fields) => fields.is_empty(),
        Value::Array(items) => items.is_empty(),
        _ => false,
    }
}

/// The kinds, types and fuels of the equipment.
fn equipment_words(project: &Value) -> Vec<&str> {
    let items = project.get("equipment").and_then(Value::as_array).into_iter().flatten();
    items.flat_map(|item| ["kind", "type", "fuel"].into_iter().filter_map(|key| item.get(key)?.as_str())).collect()
}
