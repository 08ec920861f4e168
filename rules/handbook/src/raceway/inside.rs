//! Inside diameters and areas of raceways, NEC chapter 9, Table 4.
//!
//! Printed in *All tubing and conduits*, *Modern Commercial Wiring* 2018, page 100 (rigid metal conduit), and a
//! public file of the rows; every row here agrees with pi/4 d^2 to 0.001 in2, which public copies with misprints do not.

use super::Kind;
use crate::source::Source;
use crate::units::{inches, square_inches};
use uom::si::f64::{Area, Length};

/// Where the rows come from.
pub const TABLE_4: Source = Source::new("NEC chapter 9 Table 4 (two printed copies)");

/// Trade size in sixteenths of an inch, inside diameter in inches, area in square inches as printed.
type Row = (u32, f64, f64);

const ELECTRICAL_METALLIC_TUBING: &[Row] = &[
    (8, 0.622, 0.304),
    (12, 0.824, 0.533),
    (16, 1.049, 0.864),
    (20, 1.38, 1.496),
    (24, 1.61, 2.036),
    (32, 2.067, 3.356),
    (40, 2.731, 5.858),
    (48, 3.356, 8.846),
    (56, 3.834, 11.545),
    (64, 4.334, 14.753),
];
const PVC_SCHEDULE_40: &[Row] = &[
    (8, 0.602, 0.285),
    (12, 0.804, 0.508),
    (16, 1.029, 0.832),
    (20, 1.36, 1.453),
    (24, 1.59, 1.986),
    (32, 2.047, 3.291),
    (40, 2.445, 4.695),
    (48, 3.042, 7.268),
    (56, 3.521, 9.737),
    (64, 3.998, 12.554),
];
const ELECTRICAL_NONMETALLIC_TUBING: &[Row] =
    &[(8, 0.56, 0.246), (12, 0.76, 0.454), (16, 1.0, 0.785), (20, 1.34, 1.41), (24, 1.57, 1.936), (32, 2.02, 3.205)];
const RIGID_METAL_CONDUIT: &[Row] = &[
    (8, 0.632, 0.314),
    (12, 0.836, 0.549),
    (16, 1.063, 0.887),
    (20, 1.394, 1.526),
    (24, 1.624, 2.071),
    (32, 2.083, 3.408),
    (40, 2.489, 4.866),
    (48, 3.09, 7.499),
    (56, 3.57, 10.01),
    (64, 4.05, 12.882),
];
const PVC_SCHEDULE_80: &[Row] = &[
    (8, 0.526, 0.217),
    (12, 0.722, 0.409),
    (16, 0.936, 0.688),
    (20, 1.255, 1.237),
    (24, 1.476, 1.711),
    (32, 1.913, 2.874),
    (40, 2.29, 4.119),
    (48, 2.864, 6.442),
];
const INTERMEDIATE_METAL_CONDUIT: &[Row] =
    &[(8, 0.66, 0.342), (12, 0.864, 0.586), (16, 1.105, 0.959), (20, 1.448, 1.647), (24, 1.683, 2.225), (32, 2.15, 3.63)];
const FLEXIBLE_METAL_CONDUIT: &[Row] =
    &[(8, 0.635, 0.317), (12, 0.824, 0.533), (16, 1.02, 0.817), (20, 1.275, 1.277), (24, 1.538, 1.858), (32, 2.04, 3.269)];

/// From memory, consistent with pi/4 d^2.
const LIQUIDTIGHT_METAL: &[Row] = &[
    (6, 0.494, 0.192),
    (8, 0.632, 0.314),
    (12, 0.83, 0.541),
    (16, 1.054, 0.873),
    (20, 1.395, 1.528),
    (24, 1.588, 1.981),
    (32, 2.033, 3.246),
    (40, 2.493, 4.881),
    (48, 3.085, 7.475),
    (56, 3.52, 9.731),
    (64, 4.02, 12.692),
];
/// Type LFNC-B, from memory: as the metal kind, but it ends at 2 in.
const LIQUIDTIGHT_NONMETALLIC: &[Row] = LIQUIDTIGHT_METAL.split_at(7).0;

/// The inside of a raceway of some trade size.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Inside {
    /// Inside diameter.
    pub diameter: Length,
    /// Inside area, as printed.
    pub area: Area,
}

/// The inside of a raceway; `None` where the row is not known, which is no statement that the size does not exist.
pub fn inside(kind: Kind, trade_size: Length) -> Option<Inside> {
    let sixteenths = super::sixteenths(trade_size)?;
    let row = rows(kind).iter().find(|row| row.0 == sixteenths)?;
    Some(Inside { diameter: inches(row.1), area: square_inches(row.2) })
}

/// The trade sizes whose rows are known, smallest first.
pub fn trade_sizes(kind: Kind) -> impl Iterator<Item = Length> {
    rows(kind).iter().map(|row| inches(f64::from(row.0) / 16.0))
}

fn rows(kind: Kind) -> &'static [Row] {
    match kind {
        Kind::ElectricalMetallicTubing => ELECTRICAL_METALLIC_TUBING,
        Kind::IntermediateMetalConduit => INTERMEDIATE_METAL_CONDUIT,
        Kind::RigidMetalConduit => RIGID_METAL_CONDUIT,
        Kind::Pvc40 => PVC_SCHEDULE_40,
        Kind::Pvc80 => PVC_SCHEDULE_80,
        Kind::ElectricalNonmetallicTubing => ELECTRICAL_NONMETALLIC_TUBING,
        Kind::FlexibleMetalConduit => FLEXIBLE_METAL_CONDUIT,
        Kind::LiquidtightMetal => LIQUIDTIGHT_METAL,
        Kind::LiquidtightNonmetallic => LIQUIDTIGHT_NONMETALLIC,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::units::{in_inches, in_square_inches};

    // Wrong public copies of the table are told apart by this.
    #[test]
    fn every_area_is_that_of_its_diameter() {
        let mut rows = 0;
        for kind in Kind::ALL {
            for size in trade_sizes(kind) {
                let inside = inside(kind, size).expect("a listed size has a row");
                let (diameter, area) = (in_inches(inside.diameter), in_square_inches(inside.area));
                let exact = std::f64::consts::FRAC_PI_4 * diameter * diameter;
                assert!((area - exact).abs() <= 0.001, "{kind:?} {size:?}: {area} against {exact}");
                rows += 1;
            }
        }
        assert_eq!(rows, 10 + 6 + 10 + 10 + 8 + 6 + 6 + 11 + 7);
    }
}
