//! An amount of one dimension, with the words its author used.

use super::{Dimension, Kind, QuantityError, System, parse};
use serde::de::{self, Deserializer, MapAccess, Visitor};
use serde::ser::{self, SerializeStruct, Serializer};
use serde::{Deserialize, Serialize};
use std::fmt;
use std::marker::PhantomData;

/// An amount: a number in SI base units and, when a person wrote it, the words they used.
///
/// Reads a string (`"36 in"`) or the canonical object; writes the canonical object
/// `{"si": 0.9144, "unit": "m", "written": "36 in"}`.
pub struct Amount<D: Dimension> {
    si: f64,
    written: Option<Box<str>>,
    dimension: PhantomData<fn() -> D>,
}

impl<D: Dimension> Amount<D> {
    /// An amount that was calculated. `si` is in SI base units; a number that is not finite cannot be serialized.
    pub fn from_si(si: f64) -> Self {
        Self { si, written: None, dimension: PhantomData }
    }

    /// An amount that was read, with the author's words.
    pub(crate) fn from_parts(si: f64, written: Option<Box<str>>) -> Self {
        Self { si, written, dimension: PhantomData }
    }

    /// An amount that was calculated with `uom`.
    pub fn from_quantity(quantity: &D::Quantity) -> Self {
        Self::from_si(D::si(quantity))
    }

    /// Reads an amount as people write it.
    ///
    /// # Errors
    /// When the text is not an amount of this dimension: see [`QuantityError`].
    pub fn parse(text: &str) -> Result<Self, QuantityError> {
        let si = D::KIND.parse(text)?;
        Ok(Self { si, written: Some(text.trim().into()), dimension: PhantomData })
    }

    /// The number in SI base units, such as metres.
    pub fn si(&self) -> f64 {
        self.si
    }

    /// The author's words, if a person wrote this amount.
    pub fn written(&self) -> Option<&str> {
        self.written.as_deref()
    }

    /// The amount as the `uom` type of its dimension, to calculate with.
    pub fn quantity(&self) -> D::Quantity {
        D::quantity(self.si)
    }

    /// What this amount measures.
    pub fn kind(&self) -> Kind {
        D::KIND
    }

    /// The amount in the usual unit of `system`, whatever the author wrote.
    pub fn print(&self, system: System) -> String {
        D::KIND.print(self.si, system, None)
    }

    /// The amount in `unit` (symbol or any spelling): `print_in("in²")`.
    pub fn print_in(&self, unit: &str) -> String {
        D::KIND.print(self.si, System::UsCustomary, Some(unit))
    }
}

/// The author's words, or else US customary units.
impl<D: Dimension> fmt::Display for Amount<D> {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match &self.written {
            Some(words) => f.write_str(words),
            None => f.write_str(&self.print(System::UsCustomary)),
        }
    }
}

impl<D: Dimension> fmt::Debug for Amount<D> {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{} {}", self.si, D::KIND.si_unit())?;
        match &self.written {
            Some(words) => write!(f, " ({words:?})"),
            None => Ok(()),
        }
    }
}

impl<D: Dimension> Clone for Amount<D> {
    fn clone(&self) -> Self {
        Self { si: self.si, written: self.written.clone(), dimension: PhantomData }
    }
}

/// Same number and same words. To hold an amount against a limit use [`at_least`](super::at_least) and
/// [`at_most`](super::at_most).
impl<D: Dimension> PartialEq for Amount<D> {
    fn eq(&self, other: &Self) -> bool {
        self.si == other.si && self.written == other.written
    }
}

impl<D: Dimension> std::str::FromStr for Amount<D> {
    type Err = QuantityError;

    fn from_str(text: &str) -> Result<Self, QuantityError> {
        Self::parse(text)
    }
}

impl<D: Dimension> Serialize for Amount<D> {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        write_canonical(D::KIND, self.si, self.written(), serializer)
    }
}

impl<'de, D: Dimension> Deserialize<'de> for Amount<D> {
    fn deserialize<T: Deserializer<'de>>(deserializer: T) -> Result<Self, T::Error> {
        let (si, written) = deserializer.deserialize_any(AmountVisitor(D::KIND))?;
        Ok(Self { si, written, dimension: PhantomData })
    }
}

// From here on nothing depends on the dimension's type: a rule module would carry a copy for each.

fn write_canonical<S: Serializer>(kind: Kind, si: f64, written: Option<&str>, serializer: S) -> Result<S::Ok, S::Error> {
    if !si.is_finite() {
        let message = format!("{} of {si} {} is not a finite number", kind.phrase(), kind.si_unit());
        return Err(ser::Error::custom(message));
    }
    let mut object = serializer.serialize_struct("Amount", 2 + usize::from(written.is_some()))?;
    object.serialize_field("si", &si)?;
    object.serialize_field("unit", kind.si_unit())?;
    match written {
        Some(words) => object.serialize_field("written", words)?,
        None => object.skip_field("written")?,
    }
    object.end()
}

/// The number and the words of an amount of this kind.
pub(crate) fn read(kind: Kind, value: &serde_json::Value) -> Result<(f64, Option<Box<str>>), serde_json::Error> {
    value.deserialize_any(AmountVisitor(kind))
}

struct AmountVisitor(Kind);

/// The canonical object. Unknown fields are passed over: a later version may add some.
#[derive(Deserialize)]
struct Canonical {
    si: f64,
    unit: Option<String>,
    written: Option<Box<str>>,
}

impl<'de> Visitor<'de> for AmountVisitor {
    type Value = (f64, Option<Box<str>>);

    fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let example = self.0.examples().first().copied().unwrap_or_default();
        write!(f, "{} in quotation marks, such as \"{example}\"", self.0.phrase())
    }

    fn visit_str<E: de::Error>(self, text: &str) -> Result<Self::Value, E> {
        let si = self.0.parse(text).map_err(E::custom)?;
        Ok((si, Some(text.trim().into())))
    }

    fn visit_f64<E: de::Error>(self, number: f64) -> Result<Self::Value, E> {
        Err(bare_number(self.0, number.to_string()))
    }

    fn visit_i64<E: de::Error>(self, number: i64) -> Result<Self::Value, E> {
        Err(bare_number(self.0, number.to_string()))
    }

    fn visit_u64<E: de::Error>(self, number: u64) -> Result<Self::Value, E> {
        Err(bare_number(self.0, number.to_string()))
    }

    fn visit_map<A: MapAccess<'de>>(self, map: A) -> Result<Self::Value, A::Error> {
        let found = Canonical::deserialize(de::value::MapAccessDeserializer::new(map))?;
        let (kind, base) = (self.0, self.0.si_unit());
        if let Some(unit) = found.unit.filter(|unit| unit != base) {
            let message = format!("the unit of {} here is \"{base}\", not \"{unit}\"", kind.phrase());
            return Err(de::Error::custom(message));
        }
        parse::check(found.si, &format!("{} {base}", found.si), kind).map_err(de::Error::custom)?;
        Ok((found.si, found.written))
    }
}

fn bare_number<E: de::Error>(kind: Kind, number: String) -> E {
    E::custom(QuantityError::NoUnit { choices: kind.choices(&number), range: 0..number.len(), wanted: kind, number })
}
