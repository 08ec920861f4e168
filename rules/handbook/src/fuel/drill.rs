//! Number drills, the sizes orifice spuds are stamped with.

use super::sources;
use crate::{Source, units};
use std::f64::consts::PI;
use uom::si::f64::{Area, Length};

/// A number drill.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Drill {
    /// Its number; larger numbers are smaller drills.
    pub number: u8,
    /// Its diameter in inches.
    pub diameter_in_inches: f64,
}

impl Drill {
    /// Its diameter.
    pub fn diameter(&self) -> Length {
        units::inches(self.diameter_in_inches)
    }

    /// The area of the hole it makes.
    pub fn area(&self) -> Area {
        self.diameter() * self.diameter() * (PI / 4.0)
    }

    /// Where the diameter comes from.
    pub fn source(&self) -> Source {
        if self.number >= 61 { sources::DRILLS_TABULATED } else { sources::DRILLS_REMEMBERED }
    }
}

macro_rules! drills {
    ($($number:literal $diameter:literal),+ $(,)?) => {
        /// Number drills from the smallest up. Sources: [`sources::DRILLS_TABULATED`], [`sources::DRILLS_REMEMBERED`].
        pub const DRILLS: &[Drill] = &[$(Drill { number: $number, diameter_in_inches: $diameter }),+];
    };
}

#[rustfmt::skip]
drills![
    80 0.0135, 79 0.0145, 78 0.0160, 77 0.0180, 76 0.0200, 75 0.0210, 74 0.0225, 73 0.0240, 72 0.0250, 71 0.0260,
    70 0.0280, 69 0.0292, 68 0.0310, 67 0.0320, 66 0.0330, 65 0.0350, 64 0.0360, 63 0.0370, 62 0.0380, 61 0.0390,
    60 0.0400, 59 0.0410, 58 0.0420, 57 0.0430, 56 0.0465, 55 0.0520, 54 0.0550, 53 0.0595, 52 0.0635, 51 0.0670,
    50 0.0700, 49 0.0730, 48 0.0760, 47 0.0785, 46 0.0810, 45 0.0820, 44 0.0860, 43 0.0890, 42 0.0935, 41 0.0960,
    40 0.0980, 39 0.0995, 38 0.1015, 37 0.1040, 36 0.1065, 35 0.1100, 34 0.1110, 33 0.1130, 32 0.1160, 31 0.1200,
    30 0.1285,
];

/// The drill of a number; `None` outside the table, 80 to 30.
pub fn drill(number: u8) -> Option<Drill> {
    DRILLS.iter().copied().find(|drill| drill.number == number)
}

/// The largest drill not above an area and the smallest above it. Either is `None` beyond the table.
pub fn drills_around(area: Area) -> (Option<Drill>, Option<Drill>) {
    let above = DRILLS.partition_point(|drill| redtag_schema::quantity::at_most(drill.area(), area));
    let below = above.checked_sub(1).map(|index| DRILLS[index]);
    (below, DRILLS.get(above).copied())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn numbers_fall_as_diameters_rise() {
        for pair in DRILLS.windows(2) {
            assert_eq!(pair[0].number, pair[1].number + 1);
            assert!(pair[0].diameter_in_inches < pair[1].diameter_in_inches);
        }
    }

    #[test]
    fn an_area_lies_between_two_drills() {
        let number = |drill: Option<Drill>| drill.map(|drill| drill.number);
        let around = |area| {
            let (below, above) = drills_around(units::square_inches(area));
            (number(below), number(above))
        };
        assert_eq!(around(0.002_568), (Some(54), Some(53)));
        assert_eq!(around(1e-6), (None, Some(80)));
        assert_eq!(around(1.0), (Some(30), None));
        let (exact, _) = drills_around(drill(42).unwrap().area());
        assert_eq!(number(exact), Some(42));
    }

    #[test]
    fn the_table_ends_where_it_ends() {
        assert_eq!(drill(29), None);
        assert_eq!(drill(81), None);
    }
}
