//! Lengths, areas, volumes, angles, slopes.

use super::exact::{circular_mil, cubic_foot, cubic_inch, foot, gallon, inch, liter};
use super::{Facts, factor, unit};
use crate::quantity::Unit;

pub(crate) const LENGTH: Facts = Facts {
    name: "length",
    phrase: "a length",
    examples: &["36 in", "6 ft 8 in", "6'-8 1/2\"", "914 mm"],
    negative: false,
    parts: true,
    us: "in",
    si: "mm",
    base: "m",
    units: LENGTHS,
};

pub(crate) const POSITION: Facts = Facts {
    name: "position",
    phrase: "a position",
    examples: &["4 ft 6 in", "-18 in", "1.2 m"],
    negative: true,
    us: "ft",
    si: "m",
    ..LENGTH
};

const LENGTHS: &[Unit] = &[
    unit("in", &["in"], inch),
    unit("ft", &["ft"], foot),
    unit("mm", &["mm"], || factor!(Length, length::millimeter)),
    unit("cm", &["cm"], || factor!(Length, length::centimeter)),
    unit("m", &["m"], || factor!(Length, length::meter)),
    unit("km", &["km"], || factor!(Length, length::kilometer)),
    unit("yd", &["yd"], || factor!(Length, length::yard)),
    unit("mi", &["mi"], || factor!(Length, length::mile)),
    unit("mil", &["mil", "mils"], || factor!(Length, length::mil)),
];

pub(crate) const AREA: Facts = Facts {
    name: "area",
    phrase: "an area",
    examples: &["35 in²", "200 sq ft", "0.5 m²"],
    negative: false,
    parts: false,
    us: "ft²",
    si: "m²",
    base: "m²",
    units: AREAS,
};

const AREAS: &[Unit] = &[
    unit("in²", &["in2", "in·in"], || factor!(Area, area::square_inch)),
    unit("ft²", &["ft2", "ft·ft", "sf", "sqft"], || factor!(Area, area::square_foot)),
    unit("m²", &["m2"], || factor!(Area, area::square_meter)),
    unit("cm²", &["cm2"], || factor!(Area, area::square_centimeter)),
    unit("mm²", &["mm2"], || factor!(Area, area::square_millimeter)),
    unit("yd²", &["yd2"], || factor!(Area, area::square_yard)),
    unit("kcmil", &["kcmil"], || 1_000.0 * circular_mil()),
    unit("cmil", &["cmil"], circular_mil),
];

pub(crate) const VOLUME: Facts = Facts {
    name: "volume",
    phrase: "a volume",
    examples: &["7,000 ft³", "50 gal", "200 L"],
    negative: false,
    parts: false,
    us: "ft³",
    si: "m³",
    base: "m³",
    units: VOLUMES,
};

const VOLUMES: &[Unit] = &[
    unit("ft³", &["ft3", "cf"], cubic_foot),
    unit("gal", &["gal"], gallon),
    unit("m³", &["m3"], || factor!(Volume, volume::cubic_meter)),
    unit("L", &["L"], liter),
    unit("mL", &["mL"], || factor!(Volume, volume::milliliter)),
    unit("in³", &["in3"], cubic_inch),
    unit("yd³", &["yd3"], || 27.0 * cubic_foot()),
];

pub(crate) const ANGLE: Facts = Facts {
    name: "angle",
    phrase: "an angle",
    examples: &["45°", "22.5 deg", "0.5 rad"],
    negative: true,
    parts: false,
    us: "°",
    si: "°",
    base: "rad",
    units: &[unit("°", &["°"], || factor!(Angle, angle::degree)), unit("rad", &["rad"], || factor!(Angle, angle::radian))],
};

pub(crate) const SLOPE: Facts = Facts {
    name: "slope",
    phrase: "a slope",
    examples: &["1/4 in/ft", "2 %", "1:48", "20 mm/m"],
    negative: true,
    parts: false,
    us: "in/ft",
    si: "%",
    base: "1",
    units: &[
        unit("in/ft", &["in/ft"], || inch() / foot()),
        unit("%", &["%", "/cent"], || factor!(Ratio, ratio::percent)),
        unit("mm/m", &["mm/m"], || factor!(Length, length::millimeter)),
        unit("cm/m", &["cm/m"], || factor!(Length, length::centimeter)),
        unit("ft/ft", &["ft/ft", "in/in", "m/m"], || factor!(Ratio, ratio::ratio)),
    ],
};
