//! Ratios, masses, times, concentrations.

use super::exact::{cubic_foot, gallon, pound};
use super::{Facts, factor, unit};

pub(crate) const RATIO: Facts = Facts {
    name: "ratio",
    phrase: "a ratio",
    examples: &["25 %", "0.25", "1:4"],
    negative: false,
    parts: false,
    us: "%",
    si: "%",
    base: "1",
    units: &[unit("%", &["%", "/cent"], || factor!(Ratio, ratio::percent))],
};

pub(crate) const MASS: Facts = Facts {
    name: "mass",
    phrase: "a mass",
    examples: &["250 lb", "5 lb 8 oz", "114 kg"],
    negative: false,
    parts: true,
    us: "lb",
    si: "kg",
    base: "kg",
    units: &[
        unit("lb", &["lb"], pound),
        unit("kg", &["kg"], || factor!(Mass, mass::kilogram)),
        unit("oz", &["oz"], || pound() / 16.0),
        unit("g", &["g"], || factor!(Mass, mass::gram)),
        unit("mg", &["mg"], || factor!(Mass, mass::milligram)),
        unit("gr", &["gr"], || factor!(Mass, mass::grain)),
    ],
};

pub(crate) const DURATION: Facts = Facts {
    name: "duration",
    phrase: "a duration",
    examples: &["10 min", "1 h 30 min", "45 s", "30 d"],
    negative: false,
    parts: true,
    us: "min",
    si: "min",
    base: "s",
    units: &[
        unit("min", &["min"], || factor!(Time, time::minute)),
        unit("h", &["h"], || factor!(Time, time::hour)),
        unit("d", &["d"], || factor!(Time, time::day)),
        unit("s", &["s"], || factor!(Time, time::second)),
        unit("wk", &["wk"], || 7.0 * factor!(Time, time::day)),
        // A year of 365 days.
        unit("yr", &["yr"], || factor!(Time, time::year)),
    ],
};

pub(crate) const CONCENTRATION: Facts = Facts {
    name: "concentration",
    phrase: "a concentration",
    examples: &["15 gpg", "250 mg/L", "0.3 ppm"],
    negative: false,
    parts: false,
    us: "gpg",
    si: "mg/L",
    base: "kg/m³",
    units: &[
        // Grains per US gallon, the measure of hardness in the water trade.
        unit("gpg", &["gpg", "gr/gal"], || factor!(Mass, mass::grain) / gallon()),
        unit("mg/L", &["mg/L"], || factor!(MassConcentration, mass_concentration::milligram_per_liter)),
        // In water a part per million is a milligram per litre: common practice of the water trade.
        unit("ppm", &["ppm"], || factor!(MassConcentration, mass_concentration::milligram_per_liter)),
        unit("g/L", &["g/L"], || factor!(MassConcentration, mass_concentration::gram_per_liter)),
        unit("lb/ft³", &["lb/ft3"], || pound() / cubic_foot()),
        unit("kg/m³", &["kg/m3"], || factor!(MassConcentration, mass_concentration::kilogram_per_cubic_meter)),
    ],
};
