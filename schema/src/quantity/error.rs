//! What can be wrong with an amount, in words for the person who wrote it.

use super::Kind;
use std::ops::Range;

/// Why a text is not the amount that is wanted. The message says what is wrong, what was expected and what to write;
/// [`QuantityError::range`] says where in the text.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum QuantityError {
    /// Nothing but spaces.
    #[error("nothing is written here; {}", wanted.request())]
    Empty {
        /// What the field measures.
        wanted: Kind,
        /// The bytes meant.
        range: Range<usize>,
    },
    /// Longer than any amount.
    #[error("this text is too long for an amount; {}", wanted.request())]
    TooLong {
        /// What the field measures.
        wanted: Kind,
        /// The bytes meant.
        range: Range<usize>,
    },
    /// Words where a number should be.
    #[error("\"{text}\" is not a number; {}", wanted.request())]
    NotANumber {
        /// The text found.
        text: String,
        /// What the field measures.
        wanted: Kind,
        /// The bytes meant.
        range: Range<usize>,
    },
    /// A number whose notation can be misread, or that says nothing.
    #[error("\"{text}\" cannot be read as a number: {advice}")]
    BadNumber {
        /// The text found.
        text: String,
        /// What to write instead.
        advice: String,
        /// The bytes meant.
        range: Range<usize>,
    },
    /// A number without a unit.
    #[error("{number} has no unit: write {choices}")]
    NoUnit {
        /// The number found.
        number: String,
        /// The amounts it could have been.
        choices: String,
        /// What the field measures.
        wanted: Kind,
        /// The bytes meant.
        range: Range<usize>,
    },
    /// A unit nobody knows.
    #[error("\"{unit}\" is not a known unit{}; {}", did_you_mean(nearest), wanted.request())]
    UnknownUnit {
        /// The text found.
        unit: String,
        /// The unit it resembles.
        nearest: Option<&'static str>,
        /// What the field measures.
        wanted: Kind,
        /// The bytes meant.
        range: Range<usize>,
    },
    /// A word of the trade that is not a unit.
    #[error("\"{unit}\" cannot be read as a unit: {advice}; {}", wanted.request())]
    NotAUnit {
        /// The text found.
        unit: String,
        /// Why not, and what to write.
        advice: &'static str,
        /// What the field measures.
        wanted: Kind,
        /// The bytes meant.
        range: Range<usize>,
    },
    /// A unit of another dimension.
    #[error("\"{text}\" is {}; {}", found.phrase(), wanted.request())]
    WrongDimension {
        /// The text found.
        text: String,
        /// What the text measures.
        found: Kind,
        /// What the field measures.
        wanted: Kind,
        /// The bytes meant.
        range: Range<usize>,
    },
    /// Parts that do not add up, such as 6 ft 14 in.
    #[error("\"{text}\" does not add up: {advice}")]
    BadParts {
        /// The text found.
        text: String,
        /// What to write instead.
        advice: String,
        /// The bytes meant.
        range: Range<usize>,
    },
    /// Below zero where that cannot be.
    #[error("\"{text}\" is below zero, which {} cannot be", wanted.phrase())]
    Negative {
        /// The text found.
        text: String,
        /// What the field measures.
        wanted: Kind,
        /// The bytes meant.
        range: Range<usize>,
    },
    /// Colder than can be.
    #[error("\"{text}\" is below absolute zero (-459.67 °F, -273.15 °C)")]
    BelowAbsoluteZero {
        /// The text found.
        text: String,
        /// The bytes meant.
        range: Range<usize>,
    },
    /// Infinity, not a number, or too large to hold.
    #[error("\"{text}\" is not a finite number; {}", wanted.request())]
    NotFinite {
        /// The text found.
        text: String,
        /// What the field measures.
        wanted: Kind,
        /// The bytes meant.
        range: Range<usize>,
    },
}

impl QuantityError {
    /// The bytes of the text that the message is about.
    pub fn range(&self) -> Range<usize> {
        match self {
            Self::Empty { range, .. }
            | Self::TooLong { range, .. }
            | Self::NotANumber { range, .. }
            | Self::BadNumber { range, .. }
            | Self::NoUnit { range, .. }
            | Self::UnknownUnit { range, .. }
            | Self::NotAUnit { range, .. }
            | Self::WrongDimension { range, .. }
            | Self::BadParts { range, .. }
            | Self::Negative { range, .. }
            | Self::BelowAbsoluteZero { range, .. }
            | Self::NotFinite { range, .. } => range.clone(),
        }
    }
}

fn did_you_mean(nearest: &Option<&'static str>) -> String {
    nearest.map_or(String::new(), |unit| format!(" (did you mean \"{unit}\"?)"))
}
