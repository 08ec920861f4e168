//! Electrical quantities.

use super::{Facts, factor, unit};

pub(crate) const APPARENT_POWER: Facts = Facts {
    name: "apparent-power",
    phrase: "an apparent power",
    examples: &["1,500 VA", "9.6 kVA"],
    negative: false,
    parts: false,
    us: "VA",
    si: "VA",
    base: "VA",
    units: &[
        // A volt-ampere has the dimension of a watt.
        unit("VA", &["VA", "A·V"], || factor!(Power, power::watt)),
        unit("kVA", &["kVA"], || factor!(Power, power::kilowatt)),
    ],
};

pub(crate) const CURRENT: Facts = Facts {
    name: "current",
    phrase: "a current",
    examples: &["20 A", "30 mA"],
    negative: false,
    parts: false,
    us: "A",
    si: "A",
    base: "A",
    units: &[
        unit("A", &["A"], || factor!(ElectricCurrent, electric_current::ampere)),
        unit("mA", &["mA"], || factor!(ElectricCurrent, electric_current::milliampere)),
        unit("kA", &["kA"], || factor!(ElectricCurrent, electric_current::kiloampere)),
    ],
};

pub(crate) const VOLTAGE: Facts = Facts {
    name: "voltage",
    phrase: "a voltage",
    examples: &["240 V", "1.5 kV"],
    negative: false,
    parts: false,
    us: "V",
    si: "V",
    base: "V",
    units: &[
        unit("V", &["V", "VAC", "VDC", "ac·V", "dc·V"], || factor!(ElectricPotential, electric_potential::volt)),
        unit("mV", &["mV"], || factor!(ElectricPotential, electric_potential::millivolt)),
        unit("kV", &["kV"], || factor!(ElectricPotential, electric_potential::kilovolt)),
    ],
};

pub(crate) const CHARGE: Facts = Facts {
    name: "charge",
    phrase: "a charge",
    examples: &["100 Ah", "5,000 mAh"],
    negative: false,
    parts: false,
    us: "Ah",
    si: "Ah",
    base: "C",
    units: &[
        unit("Ah", &["Ah", "A·h"], || factor!(ElectricCharge, electric_charge::ampere_hour)),
        unit("mAh", &["mAh", "h·mA"], || factor!(ElectricCharge, electric_charge::milliampere_hour)),
        unit("C", &["C", "coulomb", "coulombs"], || factor!(ElectricCharge, electric_charge::coulomb)),
    ],
};

pub(crate) const RESISTANCE: Facts = Facts {
    name: "resistance",
    phrase: "a resistance",
    examples: &["25 ohm", "10 kΩ"],
    negative: false,
    parts: false,
    us: "Ω",
    si: "Ω",
    base: "Ω",
    units: &[
        unit("Ω", &["Ω"], || factor!(ElectricalResistance, electrical_resistance::ohm)),
        unit("kΩ", &["kΩ", "kohm", "kohms"], || factor!(ElectricalResistance, electrical_resistance::kiloohm)),
        unit("mΩ", &["mΩ", "mohm", "mohms"], || factor!(ElectricalResistance, electrical_resistance::milliohm)),
        unit("MΩ", &["MΩ", "Mohm", "Mohms", "megohm", "megohms"], || {
            factor!(ElectricalResistance, electrical_resistance::megaohm)
        }),
    ],
};

pub(crate) const FREQUENCY: Facts = Facts {
    name: "frequency",
    phrase: "a frequency",
    examples: &["60 Hz", "1 kHz"],
    negative: false,
    parts: false,
    us: "Hz",
    si: "Hz",
    base: "Hz",
    units: &[
        unit("Hz", &["Hz"], || factor!(Frequency, frequency::hertz)),
        unit("kHz", &["kHz"], || factor!(Frequency, frequency::kilohertz)),
    ],
};
