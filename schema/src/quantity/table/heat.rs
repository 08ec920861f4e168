//! Power, energy, heating values, temperatures, insulation.

use super::exact::{btu, cubic_foot, fahrenheit_degree, foot, gallon, horsepower, hour};
use super::{Facts, factor, thermometer, unit};
use crate::quantity::Unit;
use uom::si::f64::ThermodynamicTemperature;
use uom::si::thermodynamic_temperature::{degree_celsius, degree_fahrenheit};

fn btu_per_hour() -> f64 {
    btu() / hour()
}

pub(crate) const POWER: Facts = Facts {
    name: "power",
    phrase: "a power",
    examples: &["120,000 Btu/h", "9.6 kW", "1/2 hp"],
    negative: false,
    parts: false,
    us: "Btu/h",
    si: "kW",
    base: "W",
    units: POWERS,
};

const POWERS: &[Unit] = &[
    unit("Btu/h", &["Btu/h", "Btuh"], btu_per_hour),
    unit("kW", &["kW"], || factor!(Power, power::kilowatt)),
    unit("hp", &["hp"], horsepower),
    unit("W", &["W"], || factor!(Power, power::watt)),
    // MBH: a thousand Btu per hour, common practice of the heating trade.
    unit("kBtu/h", &["kBtu/h", "kBtuh", "MBH"], || 1_000.0 * btu_per_hour()),
    unit("MMBtu/h", &["MMBtu/h"], || 1e6 * btu_per_hour()),
    unit("MW", &["MW"], || factor!(Power, power::megawatt)),
    // The ton of refrigeration: 12,000 Btu/h (NIST SP 811).
    unit("ton", &["ton"], || 12_000.0 * btu_per_hour()),
];

pub(crate) const ENERGY: Facts = Facts {
    name: "energy",
    phrase: "an energy",
    examples: &["14.2 kWh", "40,000 Btu", "50 MJ"],
    negative: false,
    parts: false,
    us: "kWh",
    si: "kWh",
    base: "J",
    units: ENERGIES,
};

const ENERGIES: &[Unit] = &[
    unit("kWh", &["kWh", "h·kW"], || factor!(Energy, energy::kilowatt_hour)),
    unit("Btu", &["Btu"], btu),
    unit("MJ", &["MJ"], || factor!(Energy, energy::megajoule)),
    unit("Wh", &["Wh", "h·W"], || factor!(Energy, energy::watt_hour)),
    unit("MWh", &["MWh"], || factor!(Energy, energy::megawatt_hour)),
    unit("kJ", &["kJ"], || factor!(Energy, energy::kilojoule)),
    unit("J", &["J"], || factor!(Energy, energy::joule)),
    unit("kBtu", &["kBtu"], || 1_000.0 * btu()),
    unit("MMBtu", &["MMBtu"], || 1e6 * btu()),
    // The therm of gas bills: 100,000 Btu; this one of the International Table (NIST SP 811, therm (EC)).
    unit("therm", &["therm"], || 100_000.0 * btu()),
];

pub(crate) const HEATING_VALUE: Facts = Facts {
    name: "heating-value",
    phrase: "a heating value",
    examples: &["1,000 Btu/ft³", "38 MJ/m³", "91,500 Btu/gal"],
    negative: false,
    parts: false,
    us: "Btu/ft³",
    si: "MJ/m³",
    base: "J/m³",
    units: &[
        unit("Btu/ft³", &["Btu/ft3", "Btu/cf"], || btu() / cubic_foot()),
        unit("MJ/m³", &["MJ/m3"], || factor!(Energy, energy::megajoule)),
        unit("Btu/gal", &["Btu/gal"], || btu() / gallon()),
        unit("kWh/m³", &["kWh/m3"], || factor!(Energy, energy::kilowatt_hour)),
        unit("J/m³", &["J/m3"], || factor!(Energy, energy::joule)),
    ],
};

pub(crate) const TEMPERATURE: Facts = Facts {
    name: "temperature",
    phrase: "a temperature",
    examples: &["120 °F", "-5 °F", "49 °C"],
    negative: true,
    parts: false,
    us: "°F",
    si: "°C",
    base: "K",
    units: &[
        thermometer(
            "°F",
            &["°F", "F"],
            |t| ThermodynamicTemperature::new::<degree_fahrenheit>(t).value,
            |t| kelvins(t).get::<degree_fahrenheit>(),
        ),
        thermometer(
            "°C",
            &["°C", "C"],
            |t| ThermodynamicTemperature::new::<degree_celsius>(t).value,
            |t| kelvins(t).get::<degree_celsius>(),
        ),
        unit("K", &["K"], || 1.0),
    ],
};

fn kelvins(si: f64) -> ThermodynamicTemperature {
    ThermodynamicTemperature::new::<uom::si::thermodynamic_temperature::kelvin>(si)
}

pub(crate) const TEMPERATURE_DIFFERENCE: Facts = Facts {
    name: "temperature-difference",
    phrase: "a temperature difference",
    examples: &["70 F°", "70 °F", "39 K"],
    negative: true,
    parts: false,
    us: "F°",
    si: "K",
    base: "K",
    units: &[
        unit("F°", &["F°", "°F", "F"], fahrenheit_degree),
        unit("K", &["K"], || factor!(TemperatureInterval, temperature_interval::kelvin)),
        unit("C°", &["C°", "°C", "C"], || factor!(TemperatureInterval, temperature_interval::degree_celsius)),
    ],
};

pub(crate) const THERMAL_RESISTANCE: Facts = Facts {
    name: "thermal-resistance",
    phrase: "a thermal resistance",
    examples: &["R-13", "13 ft²·h·°F/Btu", "2.3 m²·K/W"],
    negative: false,
    parts: false,
    us: "R",
    si: "m²·K/W",
    base: "m²·K/W",
    units: &[
        // The R-value of the trade is in ft2·h·°F/Btu.
        unit("R", &["R"], r_value),
        unit("ft²·h·°F/Btu", &["ft2·h·°F/Btu", "F·ft2·h/Btu"], r_value),
        unit("m²·K/W", &["K·m2/W"], || 1.0),
    ],
};

fn r_value() -> f64 {
    foot() * foot() * fahrenheit_degree() * hour() / btu()
}
