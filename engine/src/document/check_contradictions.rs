//! Facts that cannot both be true: a free area above its face, a volume that its outline does not hold, a burner with a draft
//! hood that is said to take its air by a direct vent.
//!
//! The pairs are data: one row each, in the tables below, with the list they are looked for in. Where one of the two must be
//! wrong the document is refused, since a rule that believed either might pass what the other forbids; where both may stand in
//! an odd house, it is a warning. Works on the document as written; what does not read is told elsewhere and passed over.

mod electrical;
mod equipment;
mod fact;
mod fuel;
mod rooms;
mod water;

use super::Raw;
use crate::diagnostic::{Code, Diagnostic};
use fact::Fact;

/// What two facts come to.
pub(super) enum Clash {
    /// They cannot both be true.
    Impossible(String),
    /// They hardly can.
    Odd(String),
}

/// Two facts that are held against each other.
pub(super) struct Pair {
    /// The list whose elements have them, as a pointer in which `*` stands for every element; `""` is the document.
    pub list: &'static str,
    /// Where the first stands, from the element.
    pub first: &'static str,
    /// Where the second stands.
    pub second: &'static str,
    /// What is wrong between them, if anything is.
    pub clash: fn(&Fact<'_>) -> Option<Clash>,
}

const TABLES: &[&[Pair]] = &[rooms::PAIRS, equipment::PAIRS, fuel::PAIRS, electrical::PAIRS, water::PAIRS];

/// Everything in a project that contradicts itself.
pub(super) fn check(raw: &Raw) -> Vec<Diagnostic> {
    TABLES.iter().flat_map(|table| table.iter()).flat_map(|pair| of_pair(raw, pair)).collect()
}

#[cfg(test)]
pub(super) fn pairs() -> impl Iterator<Item = &'static Pair> {
    TABLES.iter().flat_map(|table| table.iter())
}

pub(super) fn of_pair(raw: &Raw, pair: &Pair) -> Vec<Diagnostic> {
    let elements = Fact::all(raw, pair.list);
    elements.iter().filter_map(|element| Some(complaint(raw, element, pair, (pair.clash)(element)?))).collect()
}

fn complaint(raw: &Raw, element: &Fact<'_>, pair: &Pair, clash: Clash) -> Diagnostic {
    let first = format!("{}{}", element.pointer(), pair.first);
    let second = format!("{}{}", element.pointer(), pair.second);
    let diagnostic = match clash {
        Clash::Impossible(message) => Diagnostic::error(Code::Contradiction, message)
            .expected("facts that can both be true")
            .help("correct the one that is wrong; leave out what is not known"),
        Clash::Odd(message) => Diagnostic::warning(Code::OddPair, message)
            .expected("facts that go together")
            .help("look at both again; rules take the stricter where they read both"),
    };
    let related = raw.spans.nearest(&second);
    diagnostic.at(&raw.file, raw.spans.nearest(&first)).related(&raw.file, related, "against this").pointer(first)
}
