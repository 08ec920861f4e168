//! Vents of gas appliances: capacity tables of Category I vents, connectors, terminals above roofs and through walls.
//!
//! [`single`] and [`shared`] read the tables, with interpolation between rows and never beyond them; [`reduction`] holds what
//! elbows and long connectors take off; [`area`] is the older rule by areas; [`connector`], [`roof`] and [`wall`] are the
//! distances and slopes.

pub mod area;
mod common_tables;
pub mod connector;
mod grid;
pub mod near;
pub mod reduction;
pub mod roof;
pub mod shared;
pub mod single;
mod single_tables;
pub mod sources;
pub mod wall;

pub use grid::{Basis, Capacity};
use uom::si::f64::Length;

/// How a Category I appliance sends what it burnt up the vent.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Draft {
    /// With a draft hood, or by natural draft: "NAT".
    Natural,
    /// With a fan of its own: "FAN".
    Fan,
}

/// The wall of a vent connector.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Wall {
    /// Listed Type B, or insulated as well.
    Double,
    /// One thickness of metal.
    Single,
}

/// Which column of a table a diameter is: 3 in to 9 in, whole inches only.
fn column(diameter: Length) -> Option<usize> {
    (3..=9).position(|inches| grid::same(diameter, crate::units::inches(f64::from(inches))))
}

/// The table diameter one size up: the next whole inch, to 9 in.
pub fn next_size(diameter: Length) -> Option<Length> {
    (3..=9).map(|inches| crate::units::inches(f64::from(inches))).find(|&size| size > diameter && !grid::same(size, diameter))
}
