//! Tables of meter, service and distribution sizes.

use super::measure::gallons_per_minute;
use super::{TubeKind, nominal};
use crate::units;
use redtag_schema::quantity::at_most;
use uom::si::f64::{Length, Pressure, VolumeRate};

/// Whose table.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum MeterTable {
    /// IRC P2903.7, the same as IPC E201.1.
    Residential,
    /// UPC 610.4.
    Uniform,
}

/// A band of pressures that share rows.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum PressureBand {
    /// 30 to 39 psi (30 to 45 in the other table).
    Low,
    /// 40 to 49 psi.
    Middle,
    /// 50 to 60 psi (46 to 60 in the other table).
    High,
    /// Above 60 psi.
    Highest,
}

/// A row: the meter and service, and the distribution pipe.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub struct Row {
    /// Place of the meter and service size among the nominal sizes.
    pub service: usize,
    /// Place of the distribution size among the nominal sizes.
    pub distribution: usize,
}

impl MeterTable {
    /// The band of a pressure left after rises and losses; `None` below the table. Fractions between two printed bands belong to the
    /// lower one.
    pub fn band(self, pressure: Pressure) -> Option<PressureBand> {
        let (psi, touch) = (units::in_psi(pressure), 1e-6);
        let from: &[(f64, PressureBand)] = match self {
            Self::Residential => &[(50.0, PressureBand::High), (40.0, PressureBand::Middle), (30.0, PressureBand::Low)],
            Self::Uniform => &[(46.0, PressureBand::High), (30.0, PressureBand::Low)],
        };
        if psi > 60.0 + touch {
            return Some(PressureBand::Highest);
        }
        from.iter().find(|(least, _)| psi >= least - touch).map(|&(_, band)| band)
    }

    fn lengths(self) -> &'static [f64] {
        match self {
            Self::Residential => &[40.0, 60.0, 80.0, 100.0, 150.0, 200.0, 250.0, 300.0, 400.0, 500.0],
            Self::Uniform => &[40.0, 60.0, 80.0, 100.0, 150.0, 200.0],
        }
    }

    fn cells(self, band: PressureBand) -> Option<&'static [&'static [f64]; 5]> {
        Some(match (self, band) {
            (Self::Residential, PressureBand::Low) => &RESIDENTIAL_30,
            (Self::Residential, PressureBand::Middle) => &RESIDENTIAL_40,
            (Self::Residential, PressureBand::High) => &RESIDENTIAL_50,
            (Self::Residential, PressureBand::Highest) => &RESIDENTIAL_60,
            (Self::Uniform, PressureBand::Low) => &UNIFORM_30,
            (Self::Uniform, PressureBand::Middle) => return None,
            (Self::Uniform, PressureBand::High) => &UNIFORM_46,
            (Self::Uniform, PressureBand::Highest) => &UNIFORM_60,
        })
    }
}

/// The rows that are known: 3/4 in with 1/2, 3/4 and 1 in; 1 in with 1 and 1-1/4 in.
const ROWS: [(usize, usize); 5] = [(1, 0), (1, 1), (1, 2), (2, 2), (2, 3)];

/// The most supply units a row carries over a developed length; `None` where the cell is not known. Where the table has no such row,
/// one with a smaller service and the same distribution size stands in. Sources:
/// [`sources::METER_TABLE`](super::sources::METER_TABLE), [`sources::UNIFORM_METER_TABLE`](super::sources::UNIFORM_METER_TABLE).
pub fn largest_units(table: MeterTable, band: PressureBand, row: Row, length: Length) -> Option<f64> {
    let column = table.lengths().iter().position(|&most| at_most(length, units::feet(most)))?;
    let cells = table.cells(band)?;
    let rows = || ROWS.iter().zip(cells).filter(|((_, distribution), _)| *distribution == row.distribution);
    let cell = |cells: &&'static [f64]| cells.get(column).copied();
    if let Some((_, cells)) = rows().find(|((service, _), _)| *service == row.service) {
        return cell(cells);
    }
    rows().filter(|((service, _), _)| *service < row.service).filter_map(|(_, cells)| cell(cells)).reduce(f64::max)
}

/// The most flow through the main of a manifold with a line to every outlet; `None` for sizes that are not listed. Source:
/// [`sources::MANIFOLD`](super::sources::MANIFOLD).
pub fn manifold_capacity(kind: TubeKind, size: Length) -> Option<VolumeRate> {
    let plastic = matches!(kind, TubeKind::Pex | TubeKind::Cpvc | TubeKind::Polyethylene);
    let listed: &[f64; 4] = if plastic { &[17.0, 29.0, 46.0, 66.0] } else { &[11.0, 20.0, 31.0, 44.0] };
    let at = nominal(size)?.checked_sub(1)?;
    listed.get(at).map(|&gpm| gallons_per_minute(gpm))
}

const RESIDENTIAL_30: [&[f64]; 5] = [
    &[2.5, 2.0, 1.5, 1.5, 1.0, 1.0, 0.5, 0.5, 0.0, 0.0],
    &[9.5, 7.5, 6.0, 5.5, 4.0, 3.5, 3.0, 2.5, 2.0, 1.5],
    &[32.0, 25.0, 20.0, 16.5, 11.0, 9.0, 7.8, 6.5, 5.5, 4.5],
    &[32.0, 32.0, 27.0, 21.0, 13.5, 10.0, 8.0, 7.0, 5.5, 5.0],
    &[80.0, 80.0, 70.0, 61.0, 45.0, 34.0, 27.0, 22.0, 16.0, 12.0],
];
const RESIDENTIAL_40: [&[f64]; 5] = [
    &[3.0, 2.5, 2.0, 1.5, 1.5, 1.0, 1.0, 0.5, 0.5, 0.5],
    &[9.5, 9.5, 8.5, 7.0, 5.5, 4.5, 3.5, 3.0, 2.5, 2.0],
    &[32.0, 32.0, 32.0, 26.0, 18.0, 13.5, 10.5, 9.0, 7.5, 6.0],
    &[32.0, 32.0, 32.0, 32.0, 21.0, 15.0, 11.5, 9.5, 7.5, 6.5],
    &[80.0, 80.0, 80.0, 80.0, 65.0, 52.0, 42.0, 35.0, 26.0, 20.0],
];
const RESIDENTIAL_50: [&[f64]; 5] = [
    &[3.0, 3.0, 2.5, 2.0, 1.5, 1.0, 1.0, 1.0, 0.5, 0.5],
    &[9.5, 9.5, 9.5, 8.5, 6.5, 5.0, 4.5, 4.0, 3.0, 2.5],
    &[32.0, 32.0, 32.0, 32.0, 25.0, 18.5, 14.5, 12.0, 9.5, 8.0],
    &[32.0, 32.0, 32.0, 32.0, 30.0, 22.0, 16.5, 13.0, 10.0, 8.0],
    &[80.0, 80.0, 80.0, 80.0, 80.0, 68.0, 57.0, 48.0, 35.0, 28.0],
];
/// The cell of 1 in with 1 in at 250 ft is remembered as 28, the same as at 200 ft, which cannot be right beside its neighbours:
/// it is left out, and what is longer than 200 ft is not known there.
const RESIDENTIAL_60: [&[f64]; 5] = [
    &[3.0, 3.0, 3.0, 2.5, 2.0, 1.5, 1.5, 1.0, 1.0, 0.5],
    &[9.5, 9.5, 9.5, 9.5, 7.5, 6.0, 5.0, 4.5, 3.5, 3.0],
    &[32.0, 32.0, 32.0, 32.0, 32.0, 24.0, 19.5, 15.5, 11.5, 9.5],
    &[32.0, 32.0, 32.0, 32.0, 32.0, 28.0],
    &[80.0, 80.0, 80.0, 80.0, 80.0, 80.0, 69.0, 60.0, 46.0, 36.0],
];
const UNIFORM_30: [&[f64]; 5] = [
    &[6.0, 5.0, 4.0, 3.0, 2.0, 1.0],
    &[16.0, 16.0, 14.0, 12.0, 9.0, 6.0],
    &[29.0, 25.0, 23.0, 21.0, 17.0, 15.0],
    &[36.0, 31.0, 27.0, 25.0, 20.0, 17.0],
    &[54.0, 47.0, 42.0, 38.0, 32.0, 28.0],
];
const UNIFORM_46: [&[f64]; 5] = [
    &[7.0, 7.0, 6.0, 5.0, 4.0, 3.0],
    &[20.0, 20.0, 19.0, 17.0, 14.0, 11.0],
    &[39.0, 39.0, 36.0, 33.0, 28.0, 23.0],
    &[39.0, 39.0, 39.0, 36.0, 30.0, 25.0],
    &[78.0, 78.0, 76.0, 67.0, 52.0, 44.0],
];
const UNIFORM_60: [&[f64]; 5] = [
    &[7.0, 7.0, 7.0, 6.0, 5.0, 4.0],
    &[20.0, 20.0, 20.0, 20.0, 17.0, 13.0],
    &[39.0, 39.0, 39.0, 39.0, 35.0, 30.0],
    &[39.0, 39.0, 39.0, 39.0, 38.0, 32.0],
    &[78.0, 78.0, 78.0, 78.0, 74.0, 62.0],
];

#[cfg(test)]
mod tests {
    use super::*;
    use crate::units::{feet, inches, psi};

    const ALL: [(MeterTable, PressureBand); 7] = [
        (MeterTable::Residential, PressureBand::Low),
        (MeterTable::Residential, PressureBand::Middle),
        (MeterTable::Residential, PressureBand::High),
        (MeterTable::Residential, PressureBand::Highest),
        (MeterTable::Uniform, PressureBand::Low),
        (MeterTable::Uniform, PressureBand::High),
        (MeterTable::Uniform, PressureBand::Highest),
    ];

    #[test]
    fn longer_runs_and_lower_bands_never_carry_more() {
        for (table, band) in ALL {
            for cells in table.cells(band).unwrap() {
                assert!(cells.windows(2).all(|pair| pair[1] <= pair[0]), "{table:?} {band:?} {cells:?}");
            }
        }
        for (lower, higher) in ALL.iter().zip(ALL.iter().skip(1)).filter(|(lower, higher)| lower.0 == higher.0) {
            for (low, high) in lower.0.cells(lower.1).unwrap().iter().zip(higher.0.cells(higher.1).unwrap()) {
                assert!(low.iter().zip(high.iter()).all(|(low, high)| low <= high), "{lower:?} {higher:?}");
            }
        }
    }

    #[test]
    fn bands_meet_at_their_printed_ends() {
        let band = |at: f64| MeterTable::Residential.band(psi(at));
        assert_eq!((band(29.9), band(30.0)), (None, Some(PressureBand::Low)));
        assert_eq!((band(39.9), band(40.0)), (Some(PressureBand::Low), Some(PressureBand::Middle)));
        assert_eq!((band(60.0), band(60.1)), (Some(PressureBand::High), Some(PressureBand::Highest)));
        assert_eq!(MeterTable::Uniform.band(psi(45.5)), Some(PressureBand::Low));
    }

    #[test]
    fn what_is_not_known_stays_unknown() {
        let row = |service, distribution| Row { service, distribution };
        let known = |row, length| largest_units(MeterTable::Residential, PressureBand::Highest, row, feet(length));
        assert_eq!(known(row(2, 2), 200.0), Some(28.0));
        assert_eq!(known(row(2, 2), 250.0), None, "not even by the row of a smaller service");
        assert_eq!(known(row(3, 3), 100.0), Some(80.0), "a larger service may stand in");
        assert_eq!(known(row(3, 4), 100.0), None, "no row of a 1-1/2 in main is known");
        assert_eq!(known(row(1, 2), 501.0), None);
        assert_eq!(manifold_capacity(TubeKind::Pex, inches(0.5)), None);
    }
}
