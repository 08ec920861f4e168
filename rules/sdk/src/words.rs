//! Sentences with amounts in them.

use redtag_schema::contract::{Measure, Text};
use redtag_schema::quantity::{Amount, Dimension, Kind};
use uom::si::f64 as q;

/// A piece of a sentence.
#[derive(Debug, Clone, PartialEq)]
pub enum Part {
    /// Words.
    Words(String),
    /// An amount.
    Amount(Measure),
}

/// What can stand in a sentence.
pub trait IntoPart {
    /// The piece.
    fn part(&self) -> Part;
}

impl IntoPart for Part {
    fn part(&self) -> Part {
        self.clone()
    }
}

impl IntoPart for Measure {
    fn part(&self) -> Part {
        Part::Amount(self.clone())
    }
}

impl<D: Dimension> IntoPart for Amount<D> {
    fn part(&self) -> Part {
        Part::Amount(Measure { kind: D::KIND, si: self.si(), unit: None, written: self.written().map(str::to_owned) })
    }
}

impl<T: IntoPart> IntoPart for crate::Place<'_, T> {
    fn part(&self) -> Part {
        self.get().part()
    }
}

impl<T: IntoPart + ?Sized> IntoPart for &T {
    fn part(&self) -> Part {
        (**self).part()
    }
}

macro_rules! words {
    ($($of:ty),+) => {$(impl IntoPart for $of {
        fn part(&self) -> Part {
            Part::Words(self.to_string())
        }
    })+};
}
words!(str, String, usize, u32, i32, char);

macro_rules! amounts {
    ($($quantity:ident => $kind:ident),+ $(,)?) => {$(impl IntoPart for q::$quantity {
        fn part(&self) -> Part {
            Part::Amount(Measure { kind: Kind::$kind, si: self.value, unit: None, written: None })
        }
    })+};
}
// Quantities whose dimension alone says what they are. The rest are said with `Measure` by the rule.
amounts! {
    Length => Length, Area => Area, Volume => Volume, Power => Power, VolumeRate => VolumeFlow, Ratio => Ratio,
    Frequency => AirChangeRate, ElectricCurrent => Current, ElectricPotential => Voltage, Mass => Mass, Velocity => Velocity,
    Pressure => Pressure,
}

/// The amount, to be printed in a certain US customary unit: `in_unit(area, "in²")`.
pub fn in_unit(amount: impl IntoPart, unit: &str) -> Part {
    match amount.part() {
        Part::Amount(measure) => Part::Amount(Measure { unit: Some(unit.to_owned()), ..measure }),
        words => words,
    }
}

/// Builds a sentence: every `{}` of the template takes the next part.
pub fn words_of(template: &str, parts: Vec<Part>) -> Text {
    let mut pieces = template.split("{}");
    let mut text = Text { template: escape(pieces.next().unwrap_or_default()), amounts: Vec::new() };
    let mut parts = parts.into_iter();
    for piece in pieces {
        match parts.next() {
            Some(Part::Words(words)) => text.template.push_str(&escape(&words)),
            Some(Part::Amount(measure)) => {
                text.template.push_str(&format!("{{{}}}", text.amounts.len()));
                text.amounts.push(measure);
            }
            None => text.template.push('?'),
        }
        text.template.push_str(&escape(piece));
    }
    text
}

fn escape(words: &str) -> String {
    words.replace('{', "{{").replace('}', "}}")
}

/// A sentence with amounts: `text!("needs {} of free area", in_unit(area, "in²"))`.
#[macro_export]
macro_rules! text {
    ($template:expr $(, $part:expr)* $(,)?) => {
        $crate::words_of($template, vec![$($crate::IntoPart::part(&$part)),*])
    };
}

#[cfg(test)]
mod tests {
    use super::*;
    use redtag_schema::quantity::System;

    #[test]
    fn sentences_keep_their_numbers() {
        let area = q::Area::new::<uom::si::area::square_inch>(35.0);
        let said = text!("{} needs {} of {{free}} area", "louver {1}", in_unit(area, "in²"));
        assert_eq!(said.try_print(System::UsCustomary).unwrap(), "louver {1} needs 35 in² of {{free}} area");
        assert_eq!(said.amounts.len(), 1);
    }
}
