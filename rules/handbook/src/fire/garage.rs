//! Which row of the table of garage separations an assembly falls under.

use super::{Finish, Material};
use crate::units::feet;
use uom::si::f64::Length;

/// What lies on the side of an assembly that is not the garage.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Beside {
    /// A part of the dwelling.
    Dwelling {
        /// Whether it is a habitable room.
        habitable: bool,
    },
    /// An attic.
    Attic,
    /// Another garage, the open air, the ground.
    Open,
}

/// A row of the table.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum GarageRow {
    /// From the residence and attics.
    Residence,
    /// From habitable rooms above the garage.
    HabitableAbove,
    /// Structure that carries a floor or ceiling of the separation.
    Structure,
    /// A garage close to a dwelling on the same lot.
    NearDwelling,
}

/// The finishes the table asks for.
#[derive(Clone, Debug, PartialEq)]
pub struct GarageTable {
    /// Towards the residence and attics, on the garage's side.
    pub residence: Finish,
    /// Under habitable rooms.
    pub habitable_above: Finish,
    /// On structure that carries such a floor or ceiling.
    pub structure: Finish,
    /// Inside the outer walls of a garage close to a dwelling.
    pub near_dwelling: Finish,
    /// How close that is: nearer than this.
    pub near: Length,
}

impl Default for GarageTable {
    fn default() -> Self {
        let half = Finish::half_inch().or(&[Material::Plaster, Material::Masonry]);
        Self {
            residence: half.clone(),
            habitable_above: Finish::type_x().or(&[Material::Masonry]),
            structure: half.clone(),
            near_dwelling: half,
            near: feet(3.0),
        }
    }
}

impl GarageTable {
    /// The finish of a row.
    pub fn finish(&self, row: GarageRow) -> &Finish {
        match row {
            GarageRow::Residence => &self.residence,
            GarageRow::HabitableAbove => &self.habitable_above,
            GarageRow::Structure => &self.structure,
            GarageRow::NearDwelling => &self.near_dwelling,
        }
    }
}

/// The row of an assembly between a garage and what lies beside it, or above it. What lies under a garage has no row.
pub fn garage_row(beside: Beside, above: bool) -> Option<GarageRow> {
    match beside {
        Beside::Dwelling { habitable: true } if above => Some(GarageRow::HabitableAbove),
        Beside::Dwelling { .. } | Beside::Attic => Some(GarageRow::Residence),
        Beside::Open => None,
    }
}
