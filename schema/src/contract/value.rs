//! Values of parameters in words.

use super::description::{ParameterDescription, ParameterKind};
use serde_json::Value;

/// A canonical value in words: the author's own where there are any.
pub fn value_words(value: &Value) -> String {
    match value {
        Value::String(word) => word.clone(),
        Value::Array(list) => list.iter().map(value_words).collect::<Vec<_>>().join(", "),
        Value::Object(fields) => match (fields.get("written"), fields.get("si"), fields.get("unit")) {
            (Some(Value::String(written)), ..) => written.clone(),
            (_, Some(si), Some(Value::String(unit))) => format!("{si} {unit}"),
            _ => value.to_string(),
        },
        other => other.to_string(),
    }
}

/// What a parameter takes, for a sentence: `a length from 1 in to 12 in, such as "3 in"`.
pub fn value_wanted(parameter: &ParameterDescription) -> String {
    let (least, most) = (parameter.least.as_ref().map(value_words), parameter.most.as_ref().map(value_words));
    let range = match (least, most) {
        (Some(least), Some(most)) => format!(" from {least} to {most}"),
        (Some(least), None) => format!(" of {least} or more"),
        (None, Some(most)) => format!(" of {most} or less"),
        (None, None) => String::new(),
    };
    match parameter.kind {
        ParameterKind::Quantity(kind) => format!("{}{range}, such as {}", kind.phrase(), parameter.default),
        ParameterKind::Number => format!("a plain number{range}, such as {}", parameter.default),
        ParameterKind::Flag => "true or false".to_owned(),
        ParameterKind::Choice => format!("one of {}", quoted_list(&parameter.choices)),
        ParameterKind::Choices => format!("a list of some of {}", quoted_list(&parameter.choices)),
    }
}

fn quoted_list(words: &[String]) -> String {
    words.iter().map(|word| format!("\"{word}\"")).collect::<Vec<_>>().join(", ")
}
