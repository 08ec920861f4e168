//! The values of parameters: read as a pack writes them, held against the parameter's range, turned into what rules get.

use crate::diagnostic::Code;
use crate::document::did_you_mean as nearest;
use redtag_schema::contract::{ParameterDescription, ParameterKind, value_wanted};
use redtag_schema::quantity::{Kind, QuantityError, at_least, at_most};
use serde_json::{Value, json};

/// Why a value is not one the parameter takes.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct ValueError {
    /// A stable word for the kind of complaint.
    pub code: Code,
    /// What is wrong, one sentence without a full stop.
    pub message: String,
    /// What would have been right.
    pub expected: String,
    /// What to do.
    pub help: Option<String>,
}

/// Reads a value as a pack writes it: `"12 in"`, `0.5`, `true`, `"outdoors"`, `["tile", "concrete"]`. The answer is the
/// canonical form that rules get: quantities as `{"si", "unit", "written"}`, the rest unchanged.
///
/// # Errors
/// Another type, another dimension, a word that is none of the choices, a value outside least to most (both included).
pub fn read(parameter: &ParameterDescription, written: &Value) -> Result<Value, ValueError> {
    match parameter.kind {
        ParameterKind::Quantity(kind) => quantity(parameter, kind, written),
        ParameterKind::Number => number(parameter, written),
        ParameterKind::Flag => match written {
            Value::Bool(_) => Ok(written.clone()),
            other => Err(wrong_type(parameter, other)),
        },
        ParameterKind::Choice => match written {
            Value::String(word) => choice(parameter, word).map(|()| written.clone()),
            other => Err(wrong_type(parameter, other)),
        },
        ParameterKind::Choices => choices(parameter, written),
    }
}

fn quantity(parameter: &ParameterDescription, kind: Kind, written: &Value) -> Result<Value, ValueError> {
    let text = match written {
        Value::String(text) => text.clone(),
        // A bare number earns the quantity's own answer: which units it could have been.
        Value::Number(number) => number.to_string(),
        other => return Err(wrong_type(parameter, other)),
    };
    let si = kind.parse(&text).map_err(|error| unreadable(parameter, &error))?;
    let bound = |bound: &Option<Value>| bound.as_ref().and_then(Value::as_str).and_then(|text| kind.parse(text).ok());
    let low = bound(&parameter.least).is_some_and(|least| !at_least(si, least));
    let high = bound(&parameter.most).is_some_and(|most| !at_most(si, most));
    if low || high {
        return Err(out_of_range(parameter, &text));
    }
    Ok(json!({ "si": si, "unit": kind.si_unit(), "written": text }))
}

fn number(parameter: &ParameterDescription, written: &Value) -> Result<Value, ValueError> {
    let Some(value) = written.as_f64() else { return Err(wrong_type(parameter, written)) };
    let low = parameter.least.as_ref().and_then(Value::as_f64).is_some_and(|least| value < least);
    let high = parameter.most.as_ref().and_then(Value::as_f64).is_some_and(|most| value > most);
    if low || high || !value.is_finite() {
        return Err(out_of_range(parameter, &written.to_string()));
    }
    Ok(written.clone())
}

fn choice(parameter: &ParameterDescription, word: &str) -> Result<(), ValueError> {
    if parameter.choices.iter().any(|choice| choice == word) {
        return Ok(());
    }
    let nearest = nearest(word, parameter.choices.iter().map(String::as_str));
    Err(ValueError {
        code: Code::UnknownChoice,
        message: format!("{} is none of the choices of parameter `{}`", crate::diagnostic::quoted(word), parameter.name),
        expected: value_wanted(parameter),
        help: nearest.map(|nearest| format!("did you mean \"{nearest}\"?")),
    })
}

fn choices(parameter: &ParameterDescription, written: &Value) -> Result<Value, ValueError> {
    let Value::Array(list) = written else { return Err(wrong_type(parameter, written)) };
    for (index, item) in list.iter().enumerate() {
        let Value::String(word) = item else { return Err(wrong_type(parameter, item)) };
        choice(parameter, word)?;
        if list[..index].contains(item) {
            return Err(ValueError {
                code: Code::RepeatedChoice,
                message: format!("\"{word}\" stands twice in the list for parameter `{}`", parameter.name),
                expected: value_wanted(parameter),
                help: Some("name each choice once".to_owned()),
            });
        }
    }
    Ok(written.clone())
}

fn unreadable(parameter: &ParameterDescription, error: &QuantityError) -> ValueError {
    let wrong = matches!(error, QuantityError::WrongDimension { .. });
    let code = if wrong { Code::WrongDimension } else { Code::UnreadableAmount };
    ValueError {
        code,
        message: format!("the value of parameter `{}` cannot be taken: {error}", parameter.name),
        expected: value_wanted(parameter),
        help: None,
    }
}

fn out_of_range(parameter: &ParameterDescription, text: &str) -> ValueError {
    ValueError {
        code: Code::ValueOutOfRange,
        message: format!("{text} is outside what parameter `{}` may be set to", parameter.name),
        expected: value_wanted(parameter),
        help: None,
    }
}

fn wrong_type(parameter: &ParameterDescription, found: &Value) -> ValueError {
    let found = match found {
        Value::Null => "null",
        Value::Bool(_) => "true or false",
        Value::Number(_) => "a number",
        Value::String(_) => "words in quotation marks",
        Value::Array(_) => "a list",
        Value::Object(_) => "an object",
    };
    ValueError {
        code: Code::WrongType,
        message: format!("{found} cannot be the value of parameter `{}`", parameter.name),
        expected: value_wanted(parameter),
        help: None,
    }
}
