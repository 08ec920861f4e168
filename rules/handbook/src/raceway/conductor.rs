//! Diameters and areas of conductors, NEC chapter 9, Tables 5 and 8.
//!
//! Printed in a web copy of *NEC 2008 chapter 9 table 5*; the RHH and RHW columns and Table 8 are from memory. Every
//! row agrees with pi/4 d^2, to 0.00006 in2 in Table 5 and to the three digits printed in Table 8.

use crate::source::Source;
use crate::units::{in_inches, inches, square_inches};
use uom::si::f64::{Area, Length};

/// Where the rows of thermoplastic and cross-linked insulation come from.
pub const TABLE_5: Source = Source::new("NEC chapter 9 Table 5 (web copy of 2008)");
/// Where those of the sizes in kcmil come from.
pub const TABLE_5_LARGE: Source = Source::new("from memory of NEC chapter 9 Table 5, consistent with pi/4 d^2");
/// Where those of rubber insulation come from.
pub const TABLE_5_RUBBER: Source = Source::new("from memory of NEC chapter 9 Table 5, consistent with pi/4 d^2");
/// Where those of bare conductors come from.
pub const TABLE_8: Source = Source::new("from memory of NEC chapter 9 Table 8, consistent with pi/4 d^2");

/// Size in AWG or kcmil, diameter in inches, area in square inches as printed.
type Row = (&'static str, f64, f64);

const THHN: &[Row] = &[
    ("14", 0.111, 0.0097),
    ("12", 0.13, 0.0133),
    ("10", 0.164, 0.0211),
    ("8", 0.216, 0.0366),
    ("6", 0.254, 0.0507),
    ("4", 0.324, 0.0824),
    ("3", 0.352, 0.0973),
    ("2", 0.384, 0.1158),
    ("1", 0.446, 0.1562),
    ("1/0", 0.486, 0.1855),
    ("2/0", 0.532, 0.2223),
    ("3/0", 0.584, 0.2679),
    ("4/0", 0.642, 0.3237),
    ("250", 0.711, 0.397),
    ("300", 0.766, 0.4608),
    ("350", 0.817, 0.5242),
    ("400", 0.864, 0.5863),
    ("500", 0.949, 0.7073),
    ("600", 1.051, 0.8676),
];
const XHHW_2: &[Row] = &[
    ("14", 0.133, 0.0139),
    ("12", 0.152, 0.0181),
    ("10", 0.176, 0.0243),
    ("8", 0.236, 0.0437),
    ("6", 0.274, 0.059),
    ("4", 0.322, 0.0814),
    ("3", 0.35, 0.0962),
    ("2", 0.382, 0.1146),
    ("1", 0.442, 0.1534),
    ("1/0", 0.482, 0.1825),
    ("2/0", 0.528, 0.219),
    ("3/0", 0.58, 0.2642),
    ("4/0", 0.638, 0.3197),
    ("250", 0.705, 0.3904),
    ("300", 0.76, 0.4536),
    ("350", 0.811, 0.5166),
    ("400", 0.858, 0.5782),
    ("500", 0.943, 0.6984),
    ("600", 1.053, 0.8709),
];
const RHW_2_BARE_JACKET: &[Row] = &[
    ("14", 0.163, 0.0209),
    ("12", 0.182, 0.026),
    ("10", 0.206, 0.0333),
    ("8", 0.266, 0.0556),
    ("6", 0.304, 0.0726),
    ("4", 0.352, 0.0973),
    ("3", 0.38, 0.1134),
    ("2", 0.412, 0.1333),
    ("1", 0.492, 0.1901),
    ("1/0", 0.532, 0.2223),
    ("2/0", 0.578, 0.2624),
    ("3/0", 0.63, 0.3117),
    ("4/0", 0.688, 0.3718),
];
const RHW_2_COVERED: &[Row] = &[
    ("14", 0.193, 0.0293),
    ("12", 0.212, 0.0353),
    ("10", 0.236, 0.0437),
    ("8", 0.326, 0.0835),
    ("6", 0.364, 0.1041),
    ("4", 0.412, 0.1333),
    ("3", 0.44, 0.1521),
    ("2", 0.472, 0.175),
    ("1", 0.582, 0.266),
    ("1/0", 0.622, 0.3039),
    ("2/0", 0.668, 0.3505),
    ("3/0", 0.72, 0.4072),
    ("4/0", 0.778, 0.4754),
];
const BARE_STRANDED: &[Row] = &[
    ("14", 0.073, 0.004),
    ("12", 0.092, 0.006),
    ("10", 0.116, 0.011),
    ("8", 0.146, 0.017),
    ("6", 0.184, 0.027),
    ("4", 0.232, 0.042),
    ("3", 0.26, 0.053),
    ("2", 0.292, 0.067),
    ("1", 0.332, 0.087),
    ("1/0", 0.372, 0.109),
    ("2/0", 0.418, 0.137),
    ("3/0", 0.47, 0.173),
    ("4/0", 0.528, 0.219),
    ("250", 0.575, 0.26),
    ("300", 0.63, 0.312),
    ("350", 0.681, 0.364),
    ("400", 0.728, 0.416),
    ("500", 0.813, 0.519),
    ("600", 0.893, 0.626),
];
const BARE_SOLID: &[Row] = &[("14", 0.064, 0.003), ("12", 0.081, 0.005), ("10", 0.102, 0.008), ("8", 0.128, 0.013)];

/// What is around a conductor.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Insulation {
    /// THHN, THWN, THWN-2.
    Thermoplastic,
    /// XHHW, XHHW-2.
    CrossLinked,
    /// RHH, RHW, RHW-2 without an outer covering, also of cable marked USE-2 beside one of these.
    Rubber,
    /// The same with an outer covering.
    RubberCovered,
    /// Nothing; stranded.
    BareStranded,
    /// Nothing; solid.
    BareSolid,
}

impl Insulation {
    /// The insulation a marking names; `None` for what the tables do not list, such as PV wire: its real diameter counts.
    pub fn marked(marking: &str) -> Option<Self> {
        match marking.trim().to_ascii_uppercase().as_str() {
            "THHN" | "THWN" | "THWN-2" | "THHN/THWN-2" => Some(Self::Thermoplastic),
            "XHHW" | "XHHW-2" => Some(Self::CrossLinked),
            "RHH" | "RHW" | "RHW-2" | "RHH/RHW-2" | "USE-2/RHH/RHW-2" => Some(Self::Rubber),
            "BARE" | "BARE STRANDED" => Some(Self::BareStranded),
            "BARE SOLID" => Some(Self::BareSolid),
            _ => None,
        }
    }

    fn rows(self) -> (&'static [Row], Source) {
        match self {
            Self::Thermoplastic => (THHN, TABLE_5),
            Self::CrossLinked => (XHHW_2, TABLE_5),
            Self::Rubber => (RHW_2_BARE_JACKET, TABLE_5_RUBBER),
            Self::RubberCovered => (RHW_2_COVERED, TABLE_5_RUBBER),
            Self::BareStranded => (BARE_STRANDED, TABLE_8),
            Self::BareSolid => (BARE_SOLID, TABLE_8),
        }
    }
}

/// A conductor or cable as it fills a raceway.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Conductor {
    /// Outside diameter.
    pub diameter: Length,
    /// Area taken.
    pub area: Area,
    /// Where that comes from.
    pub source: Source,
}

impl Conductor {
    /// A conductor the tables list, by its size (`10 AWG`, `1/0`).
    pub fn listed(size: &str, insulation: Insulation) -> Option<Self> {
        let size = bare_size(size)?;
        let (rows, source) = insulation.rows();
        let row = rows.iter().find(|row| row.0 == size)?;
        let large = size.parse::<u32>().is_ok_and(|number| number >= 250) && source == TABLE_5;
        let source = if large { TABLE_5_LARGE } else { source };
        Some(Self { diameter: inches(row.1), area: square_inches(row.2), source })
    }

    /// A cable, or a conductor the tables do not list, by its real diameter; an oval cable by its greater one.
    pub fn measured(diameter: Length) -> Self {
        let number = in_inches(diameter);
        let area = square_inches(std::f64::consts::FRAC_PI_4 * number * number);
        Self { diameter, area, source: Source::new("NEC chapter 9 Table 1 notes 5 and 9: real dimensions") }
    }
}

/// The number of a size without its unit: `10` of `10 AWG`, `250` of `250 kcmil`.
pub fn bare_size(size: &str) -> Option<&str> {
    let size = size.trim();
    let without = ["AWG", "awg", "kcmil", "MCM"].into_iter().find_map(|unit| size.strip_suffix(unit)).unwrap_or(size);
    let number = without.trim().trim_start_matches('#');
    ORDER.contains(&number).then_some(number)
}

/// Sizes, thinnest first: AWG, then kcmil.
pub const ORDER: [&str; 21] = [
    "14", "12", "10", "8", "6", "4", "3", "2", "1", "1/0", "2/0", "3/0", "4/0", "250", "300", "350", "400", "500", "600", "700",
    "750",
];

/// Where a size stands in the order of sizes; larger is thicker.
pub fn rank(size: &str) -> Option<usize> {
    let size = bare_size(size)?;
    ORDER.iter().position(|known| *known == size)
}

/// The size of so many circular mils or the next larger one; `None` past 750 kcmil.
pub fn size_of_kcmil(kcmil: f64) -> Option<&'static str> {
    ORDER.iter().zip(AREAS).find(|(_, area)| *area >= kcmil * (1.0 - 1e-9)).map(|(size, _)| *size)
}

/// The area of a size in thousands of circular mils (NEC chapter 9 Table 8, from memory).
pub fn kcmil(size: &str) -> Option<f64> {
    rank(size).map(|rank| AREAS[rank])
}

const AREAS: [f64; 21] = [
    4.11, 6.53, 10.38, 16.51, 26.24, 41.74, 52.62, 66.36, 83.69, 105.6, 133.1, 167.8, 211.6, 250.0, 300.0, 350.0, 400.0, 500.0,
    600.0, 700.0, 750.0,
];

/// A size with its unit: `4 AWG`, `1/0 AWG`, `250 kcmil`.
pub fn with_unit(size: &str) -> String {
    let unit = if size.parse::<u32>().is_ok_and(|number| number >= 250) { "kcmil" } else { "AWG" };
    format!("{size} {unit}")
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::units::in_square_inches;

    #[test]
    fn every_area_is_that_of_its_diameter() {
        use Insulation as I;
        let (mut rows, mut worst) = (0, 0.0_f64);
        for (insulation, tolerance) in [
            (I::Thermoplastic, 6e-5),
            (I::CrossLinked, 6e-5),
            (I::Rubber, 6e-5),
            (I::RubberCovered, 6e-5),
            // 12 AWG is printed 0.006 and would round to 0.007.
            (I::BareStranded, 7e-4),
            (I::BareSolid, 6e-4),
        ] {
            for size in ORDER {
                let Some(row) = Conductor::listed(size, insulation) else { continue };
                let (diameter, area) = (in_inches(row.diameter), in_square_inches(row.area));
                let off = (area - std::f64::consts::FRAC_PI_4 * diameter * diameter).abs();
                assert!(off <= tolerance, "{insulation:?} {size}: {area} is {off} off");
                worst = worst.max(off / tolerance);
                rows += 1;
            }
        }
        assert!(rows == 13 * 5 + 4 + 6 * 3 && worst > 0.5, "{rows} {worst}");
    }

    #[test]
    fn sizes_are_read_with_and_without_their_unit() {
        assert_eq!(
            (bare_size("10 AWG"), bare_size("#8"), bare_size("1/0"), bare_size("250 kcmil")),
            (Some("10"), Some("8"), Some("1/0"), Some("250"))
        );
        assert!(rank("4/0") > rank("1/0") && rank("14") < rank("12") && rank("251 kcmil").is_none());
        assert_eq!((size_of_kcmil(42.0), size_of_kcmil(751.0), kcmil("4 AWG")), (Some("3"), None, Some(41.74)));
        assert_eq!((with_unit("4/0"), with_unit("250")), ("4/0 AWG".to_owned(), "250 kcmil".to_owned()));
        assert_eq!((Insulation::marked("thwn-2"), Insulation::marked("PV wire")), (Some(Insulation::Thermoplastic), None));
    }
}
