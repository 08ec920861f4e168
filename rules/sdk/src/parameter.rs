//! What a pack may set: a parameter is a constant of the rule file, listed in the rule and read from the case.

use redtag_schema::contract::{ParameterDescription, ParameterKind};
use redtag_schema::quantity::{Amount, Dimension};
use serde_json::{Value, json};
use std::marker::PhantomData;

/// A parameter of any kind.
pub trait Parameter: Sync {
    /// Its name, snake_case.
    fn name(&self) -> &'static str;
    /// Its description.
    fn describe(&self) -> ParameterDescription;
    /// Whether a value set for it has its shape.
    fn takes(&self, value: &Value) -> bool;
}

/// A parameter whose value has a Rust type.
pub trait Typed: Parameter {
    /// The type.
    type Value;
    /// The value the rulebook gives; `None` where it has another shape.
    fn read(&self, value: &Value) -> Option<Self::Value>;
    /// The value of the model code.
    fn default_value(&self) -> Self::Value;
}

/// An amount with a unit.
pub struct Quantity<D> {
    figure: bool,
    name: &'static str,
    purpose: &'static str,
    default: &'static str,
    source: &'static str,
    least: Option<&'static str>,
    most: Option<&'static str>,
    dimension: PhantomData<fn() -> D>,
}

impl<D: Dimension> Quantity<D> {
    /// A parameter with the model code's value, written with its unit, and where that value comes from.
    pub const fn new(name: &'static str, default: &'static str, purpose: &'static str, source: &'static str) -> Self {
        Self { figure: false, name, purpose, default, source, least: None, most: None, dimension: PhantomData }
    }

    /// The range a pack may choose from, ends included.
    #[must_use]
    pub const fn within(mut self, least: &'static str, most: &'static str) -> Self {
        self.least = Some(least);
        self.most = Some(most);
        self
    }

    /// Says that several rules of the family read it: it is one figure of the law, `family/name`, and a pack sets it once for
    /// all of them.
    #[must_use]
    pub const fn figure(mut self) -> Self {
        self.figure = true;
        self
    }
}

impl<D: Dimension> Parameter for Quantity<D> {
    fn name(&self) -> &'static str {
        self.name
    }

    fn takes(&self, value: &Value) -> bool {
        Typed::read(self, value).is_some()
    }

    fn describe(&self) -> ParameterDescription {
        ParameterDescription {
            figure: figure(self.figure, self.name),
            least: self.least.map(Value::from),
            most: self.most.map(Value::from),
            ..description(self.name, self.purpose, ParameterKind::Quantity(D::KIND), json!(self.default), self.source)
        }
    }
}

impl<D: Dimension> Typed for Quantity<D> {
    type Value = D::Quantity;

    fn read(&self, value: &Value) -> Option<D::Quantity> {
        serde_json::from_value::<Amount<D>>(value.clone()).ok().map(|amount| amount.quantity())
    }

    fn default_value(&self) -> D::Quantity {
        let amount = Amount::<D>::parse(self.default);
        amount.unwrap_or_else(|error| panic!("the default of parameter {} is not readable: {error}", self.name)).quantity()
    }
}

/// A plain number.
pub struct Number {
    figure: bool,
    name: &'static str,
    purpose: &'static str,
    default: f64,
    source: &'static str,
    range: Option<(f64, f64)>,
}

impl Number {
    /// A parameter with the model code's value and where that value comes from.
    pub const fn new(name: &'static str, default: f64, purpose: &'static str, source: &'static str) -> Self {
        Self { figure: false, name, purpose, default, source, range: None }
    }

    /// The range a pack may choose from, ends included.
    #[must_use]
    pub const fn within(mut self, least: f64, most: f64) -> Self {
        self.range = Some((least, most));
        self
    }

    /// Says that several rules of the family read it: it is one figure of the law, `family/name`, and a pack sets it once for
    /// all of them.
    #[must_use]
    pub const fn figure(mut self) -> Self {
        self.figure = true;
        self
    }
}

impl Parameter for Number {
    fn name(&self) -> &'static str {
        self.name
    }

    fn takes(&self, value: &Value) -> bool {
        Typed::read(self, value).is_some()
    }

    fn describe(&self) -> ParameterDescription {
        ParameterDescription {
            figure: figure(self.figure, self.name),
            least: self.range.map(|(least, _)| json!(least)),
            most: self.range.map(|(_, most)| json!(most)),
            ..description(self.name, self.purpose, ParameterKind::Number, json!(self.default), self.source)
        }
    }
}

impl Typed for Number {
    type Value = f64;
    fn read(&self, value: &Value) -> Option<f64> {
        value.as_f64()
    }
    fn default_value(&self) -> f64 {
        self.default
    }
}

/// Yes or no.
pub struct Flag {
    figure: bool,
    name: &'static str,
    purpose: &'static str,
    default: bool,
    source: &'static str,
}

impl Flag {
    /// A parameter with the model code's value and where that value comes from.
    pub const fn new(name: &'static str, default: bool, purpose: &'static str, source: &'static str) -> Self {
        Self { figure: false, name, purpose, default, source }
    }

    /// Says that several rules of the family read it: it is one figure of the law, `family/name`, and a pack sets it once for
    /// all of them.
    #[must_use]
    pub const fn figure(mut self) -> Self {
        self.figure = true;
        self
    }
}

impl Parameter for Flag {
    fn name(&self) -> &'static str {
        self.name
    }

    fn takes(&self, value: &Value) -> bool {
        Typed::read(self, value).is_some()
    }
    fn describe(&self) -> ParameterDescription {
        ParameterDescription {
            figure: figure(self.figure, self.name),
            ..description(self.name, self.purpose, ParameterKind::Flag, json!(self.default), self.source)
        }
    }
}

impl Typed for Flag {
    type Value = bool;
    fn read(&self, value: &Value) -> Option<bool> {
        value.as_bool()
    }
    fn default_value(&self) -> bool {
        self.default
    }
}

/// One of several words.
pub struct Choice {
    figure: bool,
    name: &'static str,
    purpose: &'static str,
    default: &'static str,
    choices: &'static [&'static str],
    source: &'static str,
}

impl Choice {
    /// A parameter with the model code's word, the words allowed, and where the default comes from.
    pub const fn new(
        name: &'static str,
        default: &'static str,
        choices: &'static [&'static str],
        purpose: &'static str,
        source: &'static str,
    ) -> Self {
        Self { figure: false, name, purpose, default, choices, source }
    }

    /// Says that several rules of the family read it: it is one figure of the law, `family/name`, and a pack sets it once for
    /// all of them.
    #[must_use]
    pub const fn figure(mut self) -> Self {
        self.figure = true;
        self
    }
}

impl Parameter for Choice {
    fn name(&self) -> &'static str {
        self.name
    }

    fn takes(&self, value: &Value) -> bool {
        Typed::read(self, value).is_some()
    }
    fn describe(&self) -> ParameterDescription {
        ParameterDescription {
            figure: figure(self.figure, self.name),
            choices: self.choices.iter().map(|&word| word.to_owned()).collect(),
            ..description(self.name, self.purpose, ParameterKind::Choice, json!(self.default), self.source)
        }
    }
}

impl Typed for Choice {
    type Value = &'static str;
    fn read(&self, value: &Value) -> Option<&'static str> {
        let word = value.as_str()?;
        self.choices.iter().find(|&&choice| choice == word).copied()
    }
    fn default_value(&self) -> &'static str {
        self.default
    }
}

/// Some of several words.
pub struct Choices {
    figure: bool,
    name: &'static str,
    purpose: &'static str,
    default: &'static [&'static str],
    choices: &'static [&'static str],
    source: &'static str,
}

impl Choices {
    /// A parameter with the model code's words, the words allowed, and where the default comes from.
    pub const fn new(
        name: &'static str,
        default: &'static [&'static str],
        choices: &'static [&'static str],
        purpose: &'static str,
        source: &'static str,
    ) -> Self {
        Self { figure: false, name, purpose, default, choices, source }
    }

    /// Says that several rules of the family read it: it is one figure of the law, `family/name`, and a pack sets it once for
    /// all of them.
    #[must_use]
    pub const fn figure(mut self) -> Self {
        self.figure = true;
        self
    }
}

impl Parameter for Choices {
    fn name(&self) -> &'static str {
        self.name
    }

    fn takes(&self, value: &Value) -> bool {
        Typed::read(self, value).is_some()
    }
    fn describe(&self) -> ParameterDescription {
        ParameterDescription {
            figure: figure(self.figure, self.name),
            choices: self.choices.iter().map(|&word| word.to_owned()).collect(),
            ..description(self.name, self.purpose, ParameterKind::Choices, json!(self.default), self.source)
        }
    }
}

impl Typed for Choices {
    type Value = Vec<&'static str>;
    fn read(&self, value: &Value) -> Option<Vec<&'static str>> {
        let words = value.as_array()?;
        words.iter().map(|word| self.choices.iter().find(|&&choice| Some(choice) == word.as_str()).copied()).collect()
    }
    fn default_value(&self) -> Vec<&'static str> {
        self.default.to_vec()
    }
}

/// What a figure of this name is called in its family; the module puts its own name before it.
fn figure(is: bool, name: &str) -> Option<String> {
    is.then(|| name.replace('_', "-"))
}

fn description(name: &str, purpose: &str, kind: ParameterKind, default: Value, source: &str) -> ParameterDescription {
    ParameterDescription {
        name: name.to_owned(),
        figure: None,
        purpose: purpose.to_owned(),
        kind,
        default,
        least: None,
        most: None,
        choices: Vec::new(),
        source: source.to_owned(),
    }
}
