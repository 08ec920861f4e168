//! The keyword `x-dimension`: the value must be an amount of the named quantity.

use jsonschema::{Keyword, ValidationError, paths::Location};
use redtag_schema::quantity::Kind;
use serde_json::{Map, Value};

/// The keyword.
pub(super) const KEYWORD: &str = "x-dimension";

/// The quantity a schema names.
pub(super) fn kind(name: &Value) -> Option<Kind> {
    let name = name.as_str()?;
    Kind::ALL.iter().copied().find(|kind| kind.name() == name)
}

struct Dimension {
    kind: Kind,
    may_be_null: bool,
}

/// Makes the keyword ready for the schema it stands in.
pub(super) fn compile<'a>(
    schema: &'a Map<String, Value>,
    value: &'a Value,
    _: Location,
) -> Result<Box<dyn for<'i> Keyword<'i>>, ValidationError<'a>> {
    let kind = kind(value).ok_or_else(|| ValidationError::schema(format!("{value} is not a quantity")))?;
    let may_be_null = match schema.get("type") {
        Some(Value::Array(types)) => types.iter().any(|one| one == "null"),
        _ => false,
    };
    Ok(Box::new(Dimension { kind, may_be_null }))
}

impl<'i> Keyword<'i> for Dimension {
    fn validate(&self, value: &'i Value) -> Result<(), ValidationError<'i>> {
        // Only the quantity's name travels; the wording reads the value again, for the place inside the text.
        if self.is_valid(value) { Ok(()) } else { Err(ValidationError::custom(self.kind.name())) }
    }

    fn is_valid(&self, value: &'i Value) -> bool {
        match value {
            Value::String(words) => self.kind.parse(words).is_ok(),
            Value::Null => self.may_be_null,
            _ => false,
        }
    }
}
