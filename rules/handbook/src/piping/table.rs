//! The code's capacity tables: what each is for, and which one fits a piece of piping.

use super::tables::TABLES;
use super::{CapacityPoint, Reading, Size, read};
use crate::fuel::FuelGas;
use crate::units::{self, HeatingValue};
use redtag_schema::quantity::{at_least, at_most};
use uom::si::f64::{Length, Power, Pressure};

/// A pressure as a table states it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Stated {
    /// In inches of water.
    Water(f64),
    /// In pounds per square inch.
    Pounds(f64),
}

impl Stated {
    /// The pressure.
    pub fn pressure(self) -> Pressure {
        match self {
            Self::Water(number) => units::inches_of_water(number),
            Self::Pounds(number) => units::psi(number),
        }
    }
}

/// What a table's figures count.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Printed {
    /// Cubic feet of gas per hour.
    CubicFeet,
    /// Thousands of British thermal units per hour.
    ThousandBtu,
}

/// A row: length in feet, capacities in the order of the columns. A cell that was not seen is [`UNSEEN`].
pub type Row = (f64, &'static [f64]);

/// A cell that was not seen.
pub const UNSEEN: f64 = 0.0;

/// A printed table of capacities.
#[derive(Debug)]
pub struct CapacityTable {
    /// What it is called in a citation.
    pub name: &'static str,
    /// The gas.
    pub gas: FuelGas,
    /// Least pressure at the start of the piping it is for.
    pub from: Stated,
    /// The drop it allows.
    pub drop: Stated,
    /// What its figures count.
    pub printed: Printed,
    /// Its columns that were seen.
    pub columns: &'static [Size],
    /// Its rows that were seen.
    pub rows: &'static [Row],
    /// Lengths of rows between them that were not seen, in feet.
    pub unseen: &'static [f64],
    /// What to know when it is used: where it parts from the equation.
    pub remark: Option<&'static str>,
    /// How its figures are known.
    pub source: &'static str,
}

impl CapacityTable {
    /// The known capacities of a size as heat, shortest row first.
    pub fn points(&self, size: Size, heating_value: HeatingValue) -> Vec<CapacityPoint> {
        let Some(column) = self.columns.iter().position(|column| *column == size) else { return Vec::new() };
        let cells = self.rows.iter().filter_map(|(length, cells)| cells.get(column).map(|cell| (*length, *cell)));
        let point = |(length, cell)| CapacityPoint { length: units::feet(length), capacity: self.heat(cell, heating_value) };
        cells.filter(|(_, cell)| *cell != UNSEEN).map(point).collect()
    }

    /// A printed figure as heat.
    pub fn heat(&self, printed: f64, heating_value: HeatingValue) -> Power {
        match self.printed {
            Printed::CubicFeet => units::cubic_feet_per_hour(printed) * heating_value,
            Printed::ThousandBtu => units::btu_per_hour(printed * 1000.0),
        }
    }

    /// What it says of a size and length.
    pub fn read(&self, size: Size, length: Length, heating_value: HeatingValue) -> Reading {
        let unseen: Vec<Length> = self.unseen.iter().map(|row| units::feet(*row)).collect();
        read(&self.points(size, heating_value), &unseen, length)
    }

    /// The longest row that was seen.
    pub fn last_row(&self) -> Length {
        units::feet(self.rows.iter().map(|row| row.0).fold(0.0, f64::max))
    }
}

/// The table for piping of one kind that starts at a pressure and may lose `drop`: the one with the greatest drop not above
/// it, made for a pressure not above that of the piping. A table made for a lower pressure is on the safe side, because gas
/// under more pressure is denser.
pub fn table_for(gas: FuelGas, kind: Size, start: Pressure, drop: Pressure) -> Option<&'static CapacityTable> {
    let fits = |table: &&CapacityTable| {
        table.gas == gas
            && table.columns.iter().any(|column| column.is_kin(kind))
            && at_least(start, table.from.pressure())
            && at_most(table.drop.pressure(), drop)
    };
    let rank = |table: &CapacityTable| (table.drop.pressure().value, table.from.pressure().value);
    TABLES.iter().copied().filter(fits).max_by(|one, other| {
        let ((drop, from), (other_drop, other_from)) = (rank(one), rank(other));
        drop.total_cmp(&other_drop).then(from.total_cmp(&other_from))
    })
}

#[cfg(test)]
mod tests {
    use super::super::NominalSize;
    use super::*;
    use crate::units::*;

    const STEEL: Size = Size::Steel(NominalSize::One);

    fn named(gas: FuelGas, kind: Size, start: Pressure, drop: Pressure) -> Option<&'static str> {
        table_for(gas, kind, start, drop).map(|table| table.name)
    }

    #[test]
    fn pressure_and_drop_choose_the_table() {
        let natural = |start, drop| named(FuelGas::Natural, STEEL, start, drop);
        let water = inches_of_water;
        assert_eq!(natural(water(7.0), water(0.5)), Some("IFGC 402.4(2)"));
        assert_eq!(natural(water(7.0), water(3.0)), Some("IFGC 402.4(2)"));
        assert_eq!(natural(water(8.0), water(3.0)), Some("IFGC 402.4(3)"));
        assert_eq!(natural(water(11.0), water(6.0)), Some("IFGC 402.4(4)"));
        assert_eq!(natural(psi(2.0), psi(1.0)), Some("IFGC 402.4(5)"));
        assert_eq!(natural(water(6.0), water(0.2)), None);
        let propane = |start, drop| named(FuelGas::Propane, STEEL, start, drop);
        assert_eq!(propane(water(11.0), water(0.5)), Some("IFGC 402.4(28)"));
        assert_eq!(propane(water(10.0), water(0.5)), None);
        assert_eq!(propane(psi(10.0), psi(3.0)), Some("IFGC 402.4(26)"));
        assert_eq!(propane(psi(2.0), psi(1.0)), Some("IFGC 402.4(27)"));
        assert_eq!(named(FuelGas::Natural, Size::Corrugated(25), water(7.0), water(0.5)), None);
    }

    #[test]
    fn every_table_is_rectangular_ordered_and_falls_with_length() {
        for table in TABLES {
            assert!(table.rows.windows(2).all(|pair| pair[0].0 < pair[1].0), "{}", table.name);
            assert!(table.rows.iter().all(|(_, cells)| cells.len() == table.columns.len()), "{}", table.name);
            assert!(table.unseen.iter().all(|row| table.rows.iter().all(|(known, _)| known != row)), "{}", table.name);
            for column in table.columns {
                let points = table.points(*column, btu_per_cubic_foot(1000.0));
                assert!(points.windows(2).all(|pair| pair[0].capacity > pair[1].capacity), "{} {column}", table.name);
            }
        }
    }

    // Boundary vectors of our notes: natural gas at 60 ft and propane at 60 ft.
    #[test]
    fn rows_are_not_read_between() {
        let natural = table_for(FuelGas::Natural, STEEL, inches_of_water(7.0), inches_of_water(0.5)).unwrap();
        let exact = |table: &CapacityTable, size, length| {
            let reading = table.read(Size::Steel(size), feet(length), btu_per_cubic_foot(1000.0));
            reading.exact().map(|heat| in_btu_per_hour(heat).round())
        };
        assert_eq!(exact(natural, NominalSize::ThreeQuarters, 60.0), Some(137_000.0));
        assert_eq!(exact(natural, NominalSize::ThreeQuarters, 60.1), Some(126_000.0));
        let propane = table_for(FuelGas::Propane, STEEL, inches_of_water(11.0), inches_of_water(0.5)).unwrap();
        assert_eq!(exact(propane, NominalSize::One, 60.0), Some(434_000.0));
        assert_eq!(exact(propane, NominalSize::One, 60.1), Some(400_000.0));
        assert_eq!(exact(propane, NominalSize::One, 100.1), None);
    }
}
