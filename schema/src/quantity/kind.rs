//! The dimensions as values, for parameters of rules and for documents whose fields are known only at run time.

use super::table::{self, Facts};
use super::{QuantityError, Unit, parse, print};
use serde::{Deserialize, Serialize};

macro_rules! kinds {
    ($($(#[$doc:meta])+ $name:ident = $facts:path),+ $(,)?) => {
        /// What an amount measures.
        #[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord, Serialize, Deserialize)]
        #[serde(rename_all = "kebab-case")]
        #[cfg_attr(feature = "json-schema", derive(schemars::JsonSchema))]
        pub enum Kind {
            $($(#[$doc])+ $name,)+
        }

        impl Kind {
            /// Every kind.
            pub const ALL: &'static [Kind] = &[$(Kind::$name),+];

            pub(super) fn facts(self) -> &'static Facts {
                match self {
                    $(Kind::$name => &$facts,)+
                }
            }
        }
    };
}

kinds! {
    /// A length that is never negative.
    Length = table::geometry::LENGTH,
    /// A coordinate or an elevation, which may be negative.
    Position = table::geometry::POSITION,
    /// An area.
    Area = table::geometry::AREA,
    /// A volume.
    Volume = table::geometry::VOLUME,
    /// Heat or work per time.
    Power = table::heat::POWER,
    /// Apparent electrical power.
    ApparentPower = table::electricity::APPARENT_POWER,
    /// A gauge pressure, a head or a load.
    Pressure = table::flow::PRESSURE,
    /// Volume per time.
    VolumeFlow = table::flow::VOLUME_FLOW,
    /// A temperature on a scale.
    Temperature = table::heat::TEMPERATURE,
    /// A rise or drop between two temperatures.
    TemperatureDifference = table::heat::TEMPERATURE_DIFFERENCE,
    /// Energy.
    Energy = table::heat::ENERGY,
    /// Fall per run; negative when it falls back.
    Slope = table::geometry::SLOPE,
    /// A plain ratio.
    Ratio = table::other::RATIO,
    /// Changes of a space's air per time.
    AirChangeRate = table::flow::AIR_CHANGE_RATE,
    /// Electric current.
    Current = table::electricity::CURRENT,
    /// Electric potential.
    Voltage = table::electricity::VOLTAGE,
    /// Electric charge.
    Charge = table::electricity::CHARGE,
    /// Mass.
    Mass = table::other::MASS,
    /// A plane angle, which may be negative.
    Angle = table::geometry::ANGLE,
    /// A length of time.
    Duration = table::other::DURATION,
    /// Heat given by a volume of fuel.
    HeatingValue = table::heat::HEATING_VALUE,
    /// Speed.
    Velocity = table::flow::VELOCITY,
    /// Thermal resistance of an area.
    ThermalResistance = table::heat::THERMAL_RESISTANCE,
    /// Electrical resistance.
    Resistance = table::electricity::RESISTANCE,
    /// Cycles per time.
    Frequency = table::electricity::FREQUENCY,
    /// Mass dissolved in a volume of water.
    Concentration = table::other::CONCENTRATION,
}

/// Which units a report prints.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Default, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
#[cfg_attr(feature = "json-schema", derive(schemars::JsonSchema))]
pub enum System {
    /// Feet, pounds, Btu: what the trade in the United States works in.
    #[default]
    UsCustomary,
    /// The International System of Units.
    Si,
}

impl Kind {
    /// The name in documents: `"air-change-rate"`.
    pub fn name(self) -> &'static str {
        self.facts().name
    }

    /// The name in a sentence, with its article: `"an air change rate"`.
    pub fn phrase(self) -> &'static str {
        self.facts().phrase
    }

    /// Amounts as people write them, the most usual first.
    pub fn examples(self) -> &'static [&'static str] {
        self.facts().examples
    }

    /// Every unit that can be read and printed, the most usual first.
    pub fn units(self) -> &'static [Unit] {
        self.facts().units
    }

    /// The coherent SI unit that [`Kind::parse`] answers in: `"m"`, `"m³/s"`; `"1"` where there is none.
    pub fn si_unit(self) -> &'static str {
        self.facts().base
    }

    /// Whether an amount may be below zero.
    pub fn may_be_negative(self) -> bool {
        self.facts().negative
    }

    /// Whether an amount may be written in parts, such as feet and inches.
    pub(super) fn has_parts(self) -> bool {
        self.facts().parts
    }

    /// Reads an amount; the answer is in SI base units.
    ///
    /// # Errors
    /// When the text is not an amount of this kind: see [`QuantityError`].
    pub fn parse(&self, text: &str) -> Result<f64, QuantityError> {
        parse::read(text, *self)
    }

    /// Prints a number in SI base units: `"7,000 ft³"`, to five significant digits, whole numbers never cut.
    ///
    /// `unit` picks the unit by symbol or any spelling that [`Kind::parse`] reads; without one, or with one this kind
    /// does not know, the usual unit of `system` is taken.
    pub fn print(&self, si: f64, system: System, unit: Option<&str>) -> String {
        print::print(*self, si, system, unit)
    }

    /// Prints an amount and the limit it is held against as [`Kind::print`] does, with as many digits as tell them apart:
    /// 35.9999 in against 36 in, where five digits would print 36 in twice. Amounts that are the same but for conversion
    /// are printed alike.
    pub fn print_apart(&self, actual: f64, limit: f64, system: System, unit: Option<&str>) -> (String, String) {
        print::print_apart(*self, actual, limit, system, unit)
    }

    /// `a length is wanted, such as "36 in"`.
    pub(super) fn request(self) -> String {
        let example = self.examples().first().copied().unwrap_or_default();
        format!("{} is wanted, such as \"{example}\"", self.phrase())
    }

    /// The amounts a number without a unit could have been: `"36 in", "36 ft" or "36 mm"`.
    pub(super) fn choices(self, number: &str) -> String {
        let units = self.units().iter().take(3);
        let mut choices: Vec<String> = units.map(|unit| format!("\"{}\"", print::with_unit(number, unit))).collect();
        if self == Kind::Ratio {
            choices.push(format!("\"{number}:1\""));
        }
        match choices.split_last() {
            Some((last, [])) => last.clone(),
            Some((last, others)) => format!("{} or {last}", others.join(", ")),
            None => String::new(),
        }
    }
}

impl std::fmt::Display for Kind {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.write_str(self.name())
    }
}
