//! Sentences that carry their numbers as numbers, so that the host can print them in either system of units.

use crate::quantity::{Kind, QuantityError, System};
use serde::{Deserialize, Serialize};

/// An amount inside a sentence.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "json-schema", derive(schemars::JsonSchema))]
pub struct Measure {
    /// What kind of quantity it is.
    pub kind: Kind,
    /// The amount in the SI unit of its kind.
    pub si: f64,
    /// The US customary unit to print it in, where the kind's usual one would read badly: `"in²"` for the area of a grille.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub unit: Option<String>,
    /// The words the author of the project used for it.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub written: Option<String>,
}

impl Measure {
    /// The amount in words, in the wanted system.
    pub fn print(&self, system: System) -> String {
        let unit = match system {
            System::UsCustomary => self.unit.as_deref(),
            System::Si => None,
        };
        self.kind.print(self.si, system, unit)
    }

    /// Reads an amount a person wrote.
    ///
    /// # Errors
    /// The quantity's own complaint about the words.
    pub fn parse(kind: Kind, words: &str) -> Result<Self, QuantityError> {
        Ok(Self { kind, si: kind.parse(words)?, unit: None, written: Some(words.to_owned()) })
    }
}

/// A sentence with numbered places: `"needs {0}, has {1}"`. Braces stand for themselves when doubled.
#[derive(Debug, Clone, Default, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "json-schema", derive(schemars::JsonSchema))]
pub struct Text {
    /// The sentence.
    pub template: String,
    /// The amounts, in the order of their numbers.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub amounts: Vec<Measure>,
}

impl Text {
    /// A sentence without amounts; braces in it stand for themselves.
    pub fn plain(words: impl AsRef<str>) -> Self {
        Self { template: words.as_ref().replace('{', "{{").replace('}', "}}"), amounts: Vec::new() }
    }

    /// The sentence in words. `None` when a place has no amount or a brace is left open.
    pub fn try_print(&self, system: System) -> Option<String> {
        self.print_with(|amount| amount.print(system))
    }

    /// The sentence with its amounts said by `say`. `None` when a place has no amount or a brace is left open.
    pub fn print_with(&self, mut say: impl FnMut(&Measure) -> String) -> Option<String> {
        let mut out = String::with_capacity(self.template.len() + 16);
        let mut rest = self.template.as_str();
        while let Some(at) = rest.find(['{', '}']) {
            out.push_str(&rest[..at]);
            let brace = &rest[at..=at];
            let after = &rest[at + 1..];
            if let Some(doubled) = after.strip_prefix(brace) {
                out.push_str(brace);
                rest = doubled;
                continue;
            }
            if brace == "}" {
                return None;
            }
            let end = after.find('}')?;
            let number: usize = after[..end].parse().ok()?;
            out.push_str(&say(self.amounts.get(number)?));
            rest = &after[end + 1..];
        }
        out.push_str(rest);
        Some(out)
    }

    /// This sentence with another behind it; the places of the other are numbered on.
    #[must_use]
    pub fn then(mut self, other: &Self) -> Self {
        let offset = self.amounts.len();
        let mut rest = other.template.as_str();
        while let Some(at) = rest.find(['{', '}']) {
            self.template.push_str(&rest[..at]);
            if rest[at..].starts_with("{{") || rest[at..].starts_with("}}") {
                self.template.push_str(&rest[at..at + 2]);
                rest = &rest[at + 2..];
                continue;
            }
            let end = rest[at..].find('}').map_or(rest.len() - 1, |end| at + end);
            match rest[at + 1..end].parse::<usize>() {
                Ok(number) => self.template.push_str(&format!("{{{}}}", number + offset)),
                Err(_) => self.template.push_str(&rest[at..=end]),
            }
            rest = &rest[end + 1..];
        }
        self.template.push_str(rest);
        self.amounts.extend(other.amounts.iter().cloned());
        self
    }

    /// Sentences as a list, parted by semicolons.
    pub fn list<'a>(texts: impl IntoIterator<Item = &'a Self>) -> Self {
        let mut texts = texts.into_iter();
        let first = texts.next().cloned().unwrap_or_default();
        texts.fold(first, |all, text| all.then(&Self::plain("; ")).then(text))
    }

    /// The sentence in words; a sentence with a broken place is shown as it is.
    pub fn print(&self, system: System) -> String {
        self.try_print(system).unwrap_or_else(|| self.template.clone())
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn places_are_filled_and_doubled_braces_stand() {
        let text = Text {
            template: "needs {0} {{of air}}".into(),
            amounts: vec![Measure { kind: Kind::Length, si: 0.9144, unit: None, written: None }],
        };
        assert_eq!(text.try_print(System::UsCustomary).unwrap(), "needs 36 in {of air}");
    }

    #[test]
    fn sentences_join_with_their_places_numbered_on() {
        let length = |si| Measure { kind: Kind::Length, si, unit: None, written: None };
        let one = Text { template: "{0} {{x}} and ".into(), amounts: vec![length(0.0254)] };
        let two = Text { template: "{1} or {0}".into(), amounts: vec![length(0.0508), length(0.0762)] };
        let both = one.clone().then(&two);
        assert_eq!(both.try_print(System::UsCustomary).unwrap(), "1 in {x} and 3 in or 2 in");
        assert_eq!(Text::list([&two, &one]).print(System::UsCustomary), "3 in or 2 in; 1 in {x} and ");
    }

    #[test]
    fn a_place_without_an_amount_is_noticed() {
        for broken in ["needs {0}", "needs {x}", "needs {", "needs }"] {
            let text = Text { template: broken.into(), amounts: vec![] };
            assert_eq!(text.try_print(System::Si), None, "{broken}");
            assert_eq!(text.print(System::Si), broken);
        }
        assert_eq!(Text::plain("a {0} b").print(System::Si), "a {0} b");
    }
}
