//! The JSON Schema of an amount: a string, its dimension under `x-dimension`, a first filter, examples.

use super::{Amount, Dimension, Kind};
use schemars::{JsonSchema, Schema, SchemaGenerator, json_schema};
use std::borrow::Cow;

impl<D: Dimension> JsonSchema for Amount<D> {
    fn inline_schema() -> bool {
        true
    }

    fn schema_name() -> Cow<'static, str> {
        D::KIND.name().into()
    }

    fn schema_id() -> Cow<'static, str> {
        format!("redtag::quantity::{}", D::KIND.name()).into()
    }

    fn json_schema(_: &mut SchemaGenerator) -> Schema {
        let kind = D::KIND;
        json_schema!({
            "type": "string",
            "x-dimension": kind.name(),
            "pattern": kind.pattern(),
            "description": kind.description(),
            "examples": kind.examples(),
        })
    }
}

/// Every hyphen, dash and minus sign, for a character class.
const DASHES: &str = "\\-\u{2010}-\u{2015}\u{2212}";
/// Everything a number can begin with, for a character class.
const NUMBER: &str = "0-9½⅓⅔¼¾⅕⅖⅗⅘⅙⅚⅛⅜⅝⅞";

impl Kind {
    /// A regular expression that every amount of this kind matches: a number, and a unit where one is needed. Only a
    /// first filter, for editors; [`Kind::parse`] decides.
    pub fn pattern(self) -> String {
        let unit = match self {
            Kind::Ratio => "",
            _ => "[^0-9,.\\s]",
        };
        let start = match self {
            Kind::ThermalResistance => format!("([Rr][\\s{DASHES}]*[.{NUMBER}]|[+]?\\s*[.{NUMBER}].*{unit})"),
            _ => format!("[+{DASHES}]?\\s*[.{NUMBER}].*{unit}"),
        };
        format!("^\\s*{start}")
    }

    /// `A length, such as "36 in" or "6 ft 8 in".`
    pub fn description(self) -> String {
        let mut phrase = self.phrase().to_owned();
        if let Some(first) = phrase.get_mut(0..1) {
            first.make_ascii_uppercase();
        }
        let examples: Vec<String> = self.examples().iter().take(2).map(|e| format!("\"{e}\"")).collect();
        format!("{phrase}, such as {}.", examples.join(" or "))
    }
}
