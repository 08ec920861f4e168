//! The call contract between the host and a rule module: JSON documents inside the WIT functions of `schema/wit/rules.wit`.
//!
//! Guests ignore unknown fields and default missing ones, so a field may be added without a new contract version.
//! Nothing here may ever be renamed or change its meaning within contract 1.

mod answer;
mod description;
mod part;
mod parts;
mod printed;
mod request;
mod text;
mod value;

pub use answer::{Answer, Bound, Finding, Mark, Missing, Outcome, Point3, Remedy, Shape, Step, Subject};
pub use description::{
    Citation, Description, FigureDescription, Level, ParameterDescription, ParameterKind, RuleDescription, Standing,
};
pub use part::{IntoPart, Part};
pub use parts::{ALWAYS, copy_part, parts};
pub use printed::printed;
pub use request::{Request, RuleInForce, Stage};
pub use text::{Measure, Text};
pub use value::{value_wanted, value_words};

/// The contract version this crate describes; the version of the WIT package.
pub const CONTRACT: semver::Version = semver::Version::new(1, 0, 0);

/// The number in the `schema` field of every contract document.
pub const SCHEMA: u32 = 1;
