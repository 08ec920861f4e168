//! How far protection lets an appliance come closer to what can burn (IRC Table M1306.2, IFGC Table 308.2).

use crate::{Source, units};
use redtag_schema::quantity::at_least;
use uom::si::f64::Length;

/// Where the rows of the table come from: rows 1 to 3, 5 and 7 stand in documents we read, 4, 6 and 8 do not.
pub const READ: Source = Source::new("IRC Table M1306.2 (G2409.2)");
/// Rows that no document we read confirms.
pub const REMEMBERED: Source = Source::new("from memory of IRC Table M1306.2 (G2409.2)");
/// What a shield needs around it.
pub const CONSTRUCTION: Source = Source::new("IFGC Table 308.2, notes");
/// How far a shield must reach.
pub const EXTENT: Source = Source::new("from memory of IRC M1306.2");

/// A way to protect what can burn.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Protection {
    /// Masonry 3 1/2 in thick, no air space.
    Masonry,
    /// Insulation board 1/2 in over 1 in batts.
    BoardOverBatts,
    /// 24 gage sheet steel over 1 in batts, ventilated.
    SteelOverBatts,
    /// Masonry 3 1/2 in thick, ventilated.
    VentilatedMasonry,
    /// 24 gage sheet metal, ventilated.
    VentilatedSteel,
    /// Insulation board 1/2 in, ventilated.
    VentilatedBoard,
    /// Two sheets of 24 gage, each ventilated.
    DoubleSteel,
    /// Batts 1 in between two sheets of 24 gage, ventilated.
    BattsBetweenSteel,
}

/// Where what can burn is, seen from the appliance.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Towards {
    /// Above it.
    Above,
    /// Beside, behind or before it.
    Sides,
}

/// The clearance that is left, and how it was found.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Reduced {
    /// It stands in the table.
    Tabulated(Length),
    /// It lies between two columns of the table.
    Interpolated(Length),
}

impl Reduced {
    /// The clearance.
    pub const fn clearance(self) -> Length {
        match self {
            Self::Tabulated(clearance) | Self::Interpolated(clearance) => clearance,
        }
    }
}

/// The columns: clearance wanted without protection, in inches.
const COLUMNS: [f64; 5] = [36.0, 18.0, 12.0, 9.0, 6.0];

type Row = [f64; 5];
/// A cell in which the table has a dash.
const NONE: f64 = f64::NAN;
const OPEN: Row = [NONE; 5];

impl Protection {
    /// Above and beside, in inches.
    const fn rows(self) -> (Row, Row) {
        const SHEET: Row = [18.0, 9.0, 6.0, 5.0, 3.0];
        const BESIDE: Row = [12.0, 6.0, 4.0, 3.0, 3.0];
        match self {
            Self::Masonry => (OPEN, [24.0, 12.0, 9.0, 6.0, 5.0]),
            Self::BoardOverBatts => ([24.0, 12.0, 9.0, 6.0, 4.0], [18.0, 9.0, 6.0, 5.0, 3.0]),
            Self::VentilatedMasonry => (OPEN, [12.0, 6.0, 6.0, 6.0, 6.0]),
            Self::VentilatedSteel => (SHEET, [12.0, 6.0, 4.0, 3.0, 2.0]),
            Self::SteelOverBatts | Self::VentilatedBoard | Self::DoubleSteel | Self::BattsBetweenSteel => (SHEET, BESIDE),
        }
    }

    /// Whether air must move behind it.
    pub const fn ventilated(self) -> bool {
        !matches!(self, Self::Masonry | Self::BoardOverBatts)
    }

    /// Where its row comes from.
    pub const fn source(self) -> Source {
        match self {
            Self::VentilatedMasonry | Self::VentilatedBoard | Self::BattsBetweenSteel => REMEMBERED,
            _ => READ,
        }
    }

    /// The clearance left of one that is wanted. `None` where the table has no figure: a dash, more than 36 in, less than 6 in,
    /// or a value between two columns where nobody may interpolate.
    pub fn reduces(self, wanted: Length, towards: Towards, interpolate: bool) -> Option<Reduced> {
        let (above, sides) = self.rows();
        let row = if towards == Towards::Above { above } else { sides };
        let column = units::inches;
        let same = |&at: &usize| at_least(wanted, column(COLUMNS[at])) && at_least(column(COLUMNS[at]), wanted);
        if let Some(at) = (0..COLUMNS.len()).find(same) {
            return (!row[at].is_nan()).then(|| Reduced::Tabulated(column(row[at])));
        }
        let inches = units::in_inches(wanted);
        let at = (1..COLUMNS.len()).find(|&at| COLUMNS[at - 1] > inches && inches > COLUMNS[at])?;
        let (more, less) = (row[at - 1], row[at]);
        let share = (inches - COLUMNS[at]) / (COLUMNS[at - 1] - COLUMNS[at]);
        (interpolate && !more.is_nan() && !less.is_nan()).then(|| Reduced::Interpolated(column(less + (more - less) * share)))
    }
}

/// How far protection must reach beyond the appliance's edge so that the way around it to what can burn is as long as the
/// clearance wanted: the other side of a right triangle whose long side is that clearance and whose short side is the distance
/// of what can burn.
pub fn least_reach(wanted: Length, distance: Length) -> Length {
    let square = wanted.value * wanted.value - distance.value * distance.value;
    Length::new::<uom::si::length::meter>(square.max(0.0).sqrt())
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::units::{in_inches, inches};

    fn left(protection: Protection, wanted: f64, towards: Towards) -> Option<f64> {
        let reduced = protection.reduces(inches(wanted), towards, true);
        reduced.map(|reduced| (in_inches(reduced.clearance()) * 1000.0).round() / 1000.0)
    }

    // IRC Table M1306.2 rows c, e, g and b, columns 36, 18, 9 and 6, as printed in a plan-review handout and a manual.
    #[test]
    fn the_table_as_printed() {
        use Protection::{BoardOverBatts, DoubleSteel, Masonry, SteelOverBatts, VentilatedSteel};
        let sides = |protection| [36.0, 18.0, 9.0, 6.0].map(|wanted| left(protection, wanted, Towards::Sides).unwrap());
        assert_eq!(sides(SteelOverBatts), [12.0, 6.0, 3.0, 3.0]);
        assert_eq!(sides(VentilatedSteel), [12.0, 6.0, 3.0, 2.0]);
        assert_eq!(sides(DoubleSteel), [12.0, 6.0, 3.0, 3.0]);
        assert_eq!(sides(BoardOverBatts), [18.0, 9.0, 5.0, 3.0]);
        assert_eq!((left(Masonry, 36.0, Towards::Sides), left(Masonry, 36.0, Towards::Above)), (Some(24.0), None));
    }

    // Worked in our notes for a ventilated sheet: 6 in beside it leaves 2 in, 36 in above it 18 in.
    #[test]
    fn a_ventilated_sheet() {
        let sheet = Protection::VentilatedSteel;
        assert_eq!((left(sheet, 6.0, Towards::Sides), left(sheet, 36.0, Towards::Above)), (Some(2.0), Some(18.0)));
    }

    // Computed: 12 in beside a ventilated sheet is 4 in and above it 6 in, both tabulated; 15 in is 5 in by interpolation.
    #[test]
    fn between_columns_and_beyond_them() {
        let sheet = Protection::VentilatedSteel;
        assert_eq!((left(sheet, 12.0, Towards::Sides), left(sheet, 12.0, Towards::Above)), (Some(4.0), Some(6.0)));
        assert_eq!(left(sheet, 15.0, Towards::Sides), Some(5.0));
        assert_eq!(sheet.reduces(inches(15.0), Towards::Sides, false), None);
        assert_eq!([5.9, 36.1, 0.0].map(|wanted| left(sheet, wanted, Towards::Sides)), [None; 3]);
        assert_eq!(left(Protection::VentilatedMasonry, 7.0, Towards::Above), None);
    }

    #[test]
    fn the_way_around_is_as_long_as_the_clearance() {
        // A triangle of 3, 4 and 5.
        assert!((in_inches(least_reach(inches(5.0), inches(3.0))) - 4.0).abs() < 1e-12);
        assert_eq!(least_reach(inches(3.0), inches(5.0)).value, 0.0);
    }
}
