//! How far apart raceways are held.

use super::Kind;
use crate::source::Source;
use crate::units::{feet, in_inches, inches};
use uom::si::f64::Length;

const PUBLISHED: Source = Source::new("NEC 344.30, 352.30, 358.30; first support from memory");
const REMEMBERED: Source = Source::new("from memory of NEC 348.30, 350.30, 356.30, 362.30");

/// How a raceway is held.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Support {
    /// The greatest distance between supports.
    pub spacing: Length,
    /// The greatest distance of the first support from a box or end.
    pub first: Length,
    /// Where that comes from.
    pub source: Source,
}

/// How a raceway of a kind and trade size is held. Straight runs of threaded rigid conduit may be held further apart.
pub fn support(kind: Kind, trade_size: Length, threaded_straight: bool) -> Support {
    let size = in_inches(trade_size);
    let (spacing, first, source) = match kind {
        Kind::RigidMetalConduit | Kind::IntermediateMetalConduit if threaded_straight => {
            (feet(threaded(size)), feet(3.0), PUBLISHED)
        }
        Kind::ElectricalMetallicTubing | Kind::RigidMetalConduit | Kind::IntermediateMetalConduit => {
            (feet(10.0), feet(3.0), PUBLISHED)
        }
        Kind::Pvc40 | Kind::Pvc80 => (feet(plastic(size)), feet(3.0), PUBLISHED),
        Kind::ElectricalNonmetallicTubing => (feet(3.0), feet(3.0), REMEMBERED),
        Kind::FlexibleMetalConduit | Kind::LiquidtightMetal => (feet(4.5), inches(12.0), REMEMBERED),
        Kind::LiquidtightNonmetallic => (feet(3.0), inches(12.0), REMEMBERED),
    };
    Support { spacing, first, source }
}

fn threaded(size: f64) -> f64 {
    match size {
        size if size < 0.9 => 10.0,
        size if size < 1.1 => 12.0,
        size if size < 1.6 => 14.0,
        size if size < 2.6 => 16.0,
        _ => 20.0,
    }
}

fn plastic(size: f64) -> f64 {
    match size {
        size if size < 1.1 => 3.0,
        size if size < 2.1 => 5.0,
        size if size < 3.1 => 6.0,
        size if size < 5.1 => 7.0,
        _ => 8.0,
    }
}
