//! Pressures, flows, speeds, air changes.

use super::exact::{cubic_foot, day, foot, gallon, hour, inch, liter, meter_of_water, minute, psi};
use super::{Facts, factor, unit};
use crate::quantity::Unit;

pub(crate) const PRESSURE: Facts = Facts {
    name: "pressure",
    phrase: "a pressure",
    examples: &["7 in wc", "60 psi", "1.7 kPa", "30 psf"],
    negative: false,
    parts: false,
    us: "in wc",
    si: "kPa",
    base: "Pa",
    units: PRESSURES,
};

const PRESSURES: &[Unit] = &[
    unit("in wc", &["in·wc", "inwc"], || inch() * meter_of_water()),
    unit("psi", &["psi", "psig", "lb/in2", "lbf/in2"], psi),
    unit("kPa", &["kPa"], || factor!(Pressure, pressure::kilopascal)),
    unit("Pa", &["Pa"], || factor!(Pressure, pressure::pascal)),
    unit("psf", &["psf", "lb/ft2", "lbf/ft2"], || psi() * inch() * inch() / (foot() * foot())),
    unit("ft wc", &["ft·wc", "ftwc", "ft·head", "ft·hd"], || foot() * meter_of_water()),
    unit("bar", &["bar"], || factor!(Pressure, pressure::bar)),
    unit("mbar", &["mbar"], || factor!(Pressure, pressure::millibar)),
    unit("MPa", &["MPa"], || factor!(Pressure, pressure::megapascal)),
    unit("mm wc", &["mm·wc", "mmwc", "mmh2o"], || factor!(Length, length::millimeter) * meter_of_water()),
    unit("in Hg", &["Hg·in", "inHg"], || factor!(Pressure, pressure::inch_of_mercury)),
    unit("atm", &["atm"], || factor!(Pressure, pressure::atmosphere)),
];

pub(crate) const VOLUME_FLOW: Facts = Facts {
    name: "volume-flow",
    phrase: "a volume flow",
    examples: &["150 cfm", "8 gpm", "30 L/s"],
    negative: false,
    parts: false,
    us: "cfm",
    si: "L/s",
    base: "m³/s",
    units: VOLUME_FLOWS,
};

const VOLUME_FLOWS: &[Unit] = &[
    unit("cfm", &["cfm", "ft3/min"], || cubic_foot() / minute()),
    unit("gpm", &["gpm", "gal/min"], || gallon() / minute()),
    unit("L/s", &["L/s"], liter),
    unit("cfh", &["cfh", "ft3/h"], || cubic_foot() / hour()),
    unit("gph", &["gph", "gal/h"], || gallon() / hour()),
    unit("gpd", &["gpd", "gal/d"], || gallon() / day()),
    unit("cfs", &["cfs", "ft3/s"], cubic_foot),
    unit("L/min", &["L/min", "Lpm"], || liter() / minute()),
    unit("L/h", &["L/h"], || liter() / hour()),
    unit("m³/h", &["m3/h"], || 1.0 / hour()),
    unit("m³/s", &["m3/s"], || factor!(VolumeRate, volume_rate::cubic_meter_per_second)),
];

pub(crate) const AIR_CHANGE_RATE: Facts = Facts {
    name: "air-change-rate",
    phrase: "an air change rate",
    examples: &["0.35 ACH", "0.35 /h"],
    negative: false,
    parts: false,
    us: "ACH",
    si: "/h",
    base: "1/s",
    units: &[unit("ACH", &["ACH"], || 1.0 / hour()), unit("/h", &["/h", "air·changes/h", "air·change/h"], || 1.0 / hour())],
};

pub(crate) const VELOCITY: Facts = Facts {
    name: "velocity",
    phrase: "a velocity",
    examples: &["8 ft/s", "500 ft/min", "2.4 m/s"],
    negative: false,
    parts: false,
    us: "ft/s",
    si: "m/s",
    base: "m/s",
    units: &[
        unit("ft/s", &["ft/s", "fps"], || factor!(Velocity, velocity::foot_per_second)),
        unit("ft/min", &["ft/min", "fpm"], || factor!(Velocity, velocity::foot_per_minute)),
        unit("m/s", &["m/s"], || factor!(Velocity, velocity::meter_per_second)),
        unit("mph", &["mph", "mi/h"], || factor!(Velocity, velocity::mile_per_hour)),
        unit("km/h", &["km/h"], || factor!(Velocity, velocity::kilometer_per_hour)),
    ],
};
