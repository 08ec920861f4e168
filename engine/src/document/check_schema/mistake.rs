//! What the validator found, reduced to what a sentence needs.

use super::dimension;
use super::fold;
use jsonschema::JsonType;
use jsonschema::ValidationError;
use jsonschema::error::{TypeKind, ValidationErrorKind as Found};
use redtag_schema::quantity::Kind;
use serde_json::Value;

/// Something that does not fit, and the JSON pointer of the value it is about.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Mistake {
    pub(super) pointer: String,
    pub(super) slip: Slip,
}

/// What does not fit.
#[derive(Debug, Clone, PartialEq)]
pub(super) enum Slip {
    /// The object has a field nobody knows.
    UnknownField(String),
    /// As `UnknownField`, but found by elimination: a known field whose value is wrong is named too.
    LeftOverField(String),
    /// The object lacks a field it must have.
    MissingField(String),
    /// The value is none of these. `tag`: the schema allows one value only, which may tell alternatives apart.
    Choice {
        /// What is allowed.
        options: Vec<Value>,
        /// Whether a single value is allowed.
        tag: bool,
    },
    /// The value has none of these types.
    Type(Vec<JsonType>),
    /// The value is not an amount of this quantity.
    Amount(Kind),
    /// The value breaks a bound.
    Bound {
        /// What is wrong with it, after its name: `"has too few items"`.
        wrong: &'static str,
        /// What would have been right.
        expected: String,
    },
}

/// The mistakes behind a validation error; alternatives are folded into the one that was meant.
pub(super) fn settle(error: &ValidationError<'_>) -> Vec<Mistake> {
    let pointer = error.instance_path().as_str();
    let slips = match error.kind() {
        Found::AdditionalProperties { unexpected } => named(unexpected, Slip::UnknownField),
        Found::UnevaluatedProperties { unexpected } => named(unexpected, Slip::LeftOverField),
        Found::Required { property } => vec![Slip::MissingField(property.as_str().unwrap_or_default().to_owned())],
        Found::Constant { expected_value } => {
            vec![Slip::Choice { options: vec![expected_value.as_ref().clone()], tag: true }]
        }
        Found::Enum { options } => vec![choice(options)],
        Found::Type { kind } => vec![Slip::Type(types(kind))],
        Found::Custom { keyword, message } if keyword == dimension::KEYWORD => {
            dimension::kind(&Value::from(message.as_str())).map(Slip::Amount).into_iter().collect()
        }
        Found::AnyOf { context } | Found::OneOfNotValid { context } => {
            let branches = context.iter().map(|branch| branch.iter().flat_map(settle).collect()).collect();
            return fold::choose(pointer, error.instance(), branches);
        }
        other => vec![bound(other)],
    };
    slips.into_iter().map(|slip| Mistake { pointer: pointer.to_owned(), slip }).collect()
}

fn named(names: &[String], slip: fn(String) -> Slip) -> Vec<Slip> {
    names.iter().cloned().map(slip).collect()
}

fn choice(options: &Value) -> Slip {
    let options = options.as_array().cloned().unwrap_or_default();
    Slip::Choice { tag: options.len() == 1, options }
}

fn types(kind: &TypeKind) -> Vec<JsonType> {
    match kind {
        TypeKind::Single(one) => vec![*one],
        TypeKind::Multiple(several) => several.iter().collect(),
    }
}

fn bound(found: &Found) -> Slip {
    let (wrong, expected) = match found {
        Found::MinItems { limit } => ("has too few items", format!("at least {limit}")),
        Found::MaxItems { limit } => ("has too many items", format!("at most {limit}")),
        Found::AdditionalItems { limit } => ("has too many items", format!("at most {limit}")),
        Found::UniqueItems => ("names the same item twice", "each item once".to_owned()),
        Found::MinLength { limit: 1 } => ("is empty", "at least one character".to_owned()),
        Found::MinLength { limit } => ("is too short", format!("at least {limit} characters")),
        Found::MaxLength { limit } => ("is too long", format!("at most {limit} characters")),
        Found::MinProperties { limit } => ("has too few fields", format!("at least {limit}")),
        Found::MaxProperties { limit } => ("has too many fields", format!("at most {limit}")),
        Found::Minimum { limit } => ("is too small", format!("{limit} or more")),
        Found::ExclusiveMinimum { limit } => ("is too small", format!("more than {limit}")),
        Found::Maximum { limit } => ("is too large", format!("{limit} or less")),
        Found::ExclusiveMaximum { limit } => ("is too large", format!("less than {limit}")),
        Found::MultipleOf { multiple_of } => ("does not go up evenly", format!("a multiple of {multiple_of}")),
        Found::Pattern { pattern } => ("is not written as it must be", format!("a text that matches {pattern}")),
        Found::Format { format } => ("is not written as it must be", format!("a text in the format {format}")),
        Found::FalseSchema => ("must not stand here", "nothing".to_owned()),
        Found::OneOfMultipleValid { .. } => ("can be read in more than one way", "one of the alternatives".to_owned()),
        other => ("does not fit", format!("what the schema says under {}", other.keyword())),
    };
    Slip::Bound { wrong, expected }
}
