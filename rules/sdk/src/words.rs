//! Sentences with amounts in them.

use redtag_schema::contract::{IntoPart, Measure, Part, Text};

impl<T: IntoPart> IntoPart for crate::Place<'_, T> {
    fn part(&self) -> Part {
        self.get().part()
    }
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
            Some(Part::Text(inner)) => text = text.then(&inner),
            None => text.template.push('?'),
        }
        text.template.push_str(&escape(piece));
    }
    text
}

fn escape(words: &str) -> String {
    words.replace('{', "{{").replace('}', "}}")
}

/// How many parts a template takes. Counted when a rule is compiled: a sentence with a part too few would print a `?`.
pub const fn placeholders(template: &str) -> usize {
    let (bytes, mut at, mut count) = (template.as_bytes(), 0, 0);
    while at + 1 < bytes.len() {
        if bytes[at] == b'{' && bytes[at + 1] == b'}' {
            count += 1;
            at += 1;
        }
        at += 1;
    }
    count
}

/// A sentence with amounts, words of the project and other sentences in it: `text!("needs {} of free area", in_unit(area, "in²"))`.
/// A template that takes more or fewer parts than it is given does not compile:
///
/// ```compile_fail
/// let said = redtag_rule::text!("needs {} and {}", "one part");
/// ```
#[macro_export]
macro_rules! text {
    ($template:literal $(, $part:expr)* $(,)?) => {{
        const {
            let given = 0 $(+ { let _ = stringify!($part); 1 })*;
            assert!($crate::placeholders($template) == given, "the sentence takes more or fewer parts than it is given");
        }
        $crate::words_of($template, vec![$($crate::IntoPart::part(&$part)),*])
    }};
    ($template:expr $(, $part:expr)* $(,)?) => {
        $crate::words_of($template, vec![$($crate::IntoPart::part(&$part)),*])
    };
}

#[cfg(test)]
mod tests {
    use super::*;
    use redtag_schema::project::EquipmentKind;
    use redtag_schema::quantity::System;
    use uom::si::f64 as q;

    #[test]
    fn sentences_keep_their_numbers() {
        let area = q::Area::new::<uom::si::area::square_inch>(35.0);
        let said = text!("{} needs {} of {{free}} area", "louver {1}", in_unit(area, "in²"));
        assert_eq!(said.try_print(System::UsCustomary).unwrap(), "louver {1} needs 35 in² of {{free}} area");
        assert_eq!(said.amounts.len(), 1);
    }

    #[test]
    fn sentences_and_words_of_the_project_are_parts() {
        let inch = |inches| q::Length::new::<uom::si::length::inch>(inches);
        let inner = text!("{} {wide}", inch(3.0));
        let said = text!("{}: {}, then {} and {}", EquipmentKind::StorageWaterHeater, inch(2.0), inner, inch(4.0));
        assert_eq!(said.print(System::UsCustomary), "storage water heater: 2 in, then 3 in {wide} and 4 in");
    }
}
