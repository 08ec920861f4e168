//! Every printed capacity against the code's equation, with the band each table keeps. The bands were measured once and say
//! how the tables were made: those of 0.5 to 2 percent are rounding, the others follow another law or carry wrong labels.

use redtag_handbook::fuel::GasProperties;
use redtag_handbook::piping::*;
use redtag_handbook::units::*;

/// The equation over the printed figure, less one, for every cell that has a bore.
fn departures(table: &CapacityTable, value_of_gas: f64) -> Vec<(Size, f64, f64)> {
    let value = btu_per_cubic_foot(value_of_gas);
    let gas = PipedGas::of(table.gas);
    // The 0.3 in wc tables are for less than 7 in wc; the equation below 1.5 psi does not ask for the start.
    let start = table.from.pressure();
    let mut all = Vec::new();
    for size in table.columns {
        let Some(bore) = size.bore() else { continue };
        for point in table.points(*size, value) {
            let flow = flow_from(start, table.drop.pressure(), bore, point.length, &gas).unwrap();
            all.push((*size, in_feet(point.length), (flow * value / point.capacity).value - 1.0));
        }
    }
    all
}

#[track_caller]
fn within(name: &str, value: f64, band: (f64, f64), keep: impl Fn(f64) -> bool) -> usize {
    let table = TABLES.iter().find(|table| table.name.starts_with(name)).unwrap_or_else(|| panic!("no table {name}"));
    let all: Vec<_> = departures(table, value).into_iter().filter(|(_, length, _)| keep(*length)).collect();
    for (size, length, departure) in &all {
        assert!((band.0..=band.1).contains(departure), "{name}, {size}, {length} ft: {departure:+.4}");
    }
    all.len()
}

const ALL: fn(f64) -> bool = |_| true;

#[test]
fn natural_gas() {
    assert_eq!(within("IFGC 402.4(2)", 1000.0, (-0.006, 0.015), ALL), 84);
    assert_eq!(within("IFGC 402.4(3)", 1000.0, (0.003, 0.0105), ALL), 48);
    assert_eq!(within("IFGC 402.4(4)", 1000.0, (0.003, 0.0105), ALL), 20);
    // The table of 2 psi follows a law of its own: less than the equation over short lengths, more over long ones.
    assert_eq!(within("IFGC 402.4(5)", 1000.0, (-0.032, 0.137), ALL), 36);
}

#[test]
fn propane() {
    assert_eq!(within("IFGC 402.4(28)", 2500.0, (0.006, 0.017), |length| length <= 60.0), 36);
    // The rows printed for 80 and 100 ft are those of 70 and 80.
    assert_eq!(within("IFGC 402.4(28)", 2500.0, (-0.062, -0.054), |length| length == 80.0), 6);
    assert_eq!(within("IFGC 402.4(28)", 2500.0, (-0.107, -0.098), |length| length == 100.0), 6);
    assert_eq!(within("IFGC 402.4(27)", 2516.0, (0.012, 0.024), ALL), 24);
    assert_eq!(within("IFGC 402.4(25)", 2516.0, (0.012, 0.020), ALL), 24);
    assert_eq!(within("IFGC 402.4(26)", 2516.0, (0.012, 0.020), ALL), 9);
}

// The mean departures our notes give for the same tables. For the table of 2 psi the notes say 7.4 percent, of cells not all of
// which were kept; the 36 kept ones depart by 4.9 percent in the mean, within the same range.
#[test]
fn mean_departures() {
    let mean = |name: &str, value: f64| {
        let table = TABLES.iter().find(|table| table.name == name).unwrap();
        let all = departures(table, value);
        all.iter().map(|(_, _, departure)| departure.abs()).sum::<f64>() / all.len() as f64
    };
    let noted = [
        ("IFGC 402.4(2)", 1000.0, 0.0068),
        ("IFGC 402.4(3)", 1000.0, 0.0066),
        ("IFGC 402.4(4)", 1000.0, 0.0057),
        ("IFGC 402.4(5)", 1000.0, 0.0488),
    ];
    for (name, value, noted) in noted {
        assert!((mean(name, value) - noted).abs() < 0.0015, "{name}: {}", mean(name, value));
    }
}

// Manuals print this table in steps of 5 and 10 and without a named basis: it lies 1 percent below to 2 percent above.
#[test]
fn the_table_of_appliance_manuals() {
    assert_eq!(within("natural gas, 0.3 in wc drop", 1000.0, (-0.03, 0.03), ALL), 28);
}

// Bores of copper and polyethylene are from memory; that the printed capacities follow from them is the check on them.
#[test]
fn copper_and_polyethylene() {
    assert_eq!(within("IFGC table of semirigid copper", 2500.0, (0.0, 0.03), ALL), 9);
    assert_eq!(within("IFGC table of polyethylene pipe, propane", 2500.0, (0.0, 0.03), ALL), 11);
    assert_eq!(within("IFGC table of polyethylene pipe, natural gas", 1000.0, (-0.01, 0.02), ALL), 6);
}

// Corrugated tubing has no bore and no equation. Its rows fall with the root of the length, within the rounding of small figures,
// and a maker's own table (a tubing guide, pages 44 to 48) lies 16 percent below to 11 above the code's row.
#[test]
fn corrugated_tubing() {
    let table = TABLES.iter().find(|table| table.name == "IFGC 402.4(32)").unwrap();
    let value = GasProperties::propane_in_tables().value.heating_value;
    let heat = |number: u32, length: f64| {
        in_btu_per_hour(table.read(Size::Corrugated(number), feet(length), value).exact().unwrap()) / 1000.0
    };
    for (number, length, maker) in [
        (18, 10.0, 108.0),
        (25, 10.0, 316.0),
        (31, 10.0, 672.0),
        (18, 25.0, 70.0),
        (25, 25.0, 200.0),
        (31, 25.0, 402.0),
        (18, 50.0, 51.0),
        (25, 50.0, 141.0),
        (31, 50.0, 273.0),
    ] {
        let departure = maker / heat(number, length) - 1.0;
        assert!((-0.17..0.12).contains(&departure), "{number} {length}: {departure}");
    }
    for number in [18, 25, 31, 48, 62] {
        let root = heat(number, 10.0) / heat(number, 40.0);
        assert!((1.9..2.1).contains(&root), "{number}: {root}");
    }
    // Past its last row, and for the columns whose last rows were not seen, nothing is known.
    assert_eq!(table.read(Size::Corrugated(25), feet(91.0), value).least, None);
    assert_eq!(table.read(Size::Corrugated(18), feet(61.0), value).least, None);
}

// Computed in our notes (gas, example 15): a trunk of 366,000 Btu/h over 85 ft passes the printed row and not the equation.
#[test]
fn the_trap_of_the_mislabelled_rows() {
    let table = TABLES.iter().find(|table| table.name == "IFGC 402.4(28)").unwrap();
    let value = btu_per_cubic_foot(2500.0);
    let (one, load) = (Size::Steel(NominalSize::One), btu_per_hour(366_000.0));
    assert!(table.read(one, feet(85.0), value).least.unwrap() > load);
    let start = table.from.pressure();
    let flow = flow_from(start, table.drop.pressure(), one.bore().unwrap(), feet(85.0), &PipedGas::of(table.gas)).unwrap();
    assert!(flow * value < load && table.remark.is_some());
}
