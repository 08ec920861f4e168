//! The pipe equations against the code's printed tables and worked examples. Each check names its source.

use redtag_handbook::fuel::{FuelGas, GasProperties};
use redtag_handbook::piping::*;
use redtag_handbook::units::*;
use uom::si::f64::Pressure;

/// A printed row: length in feet, capacities from 1/2 in up.
type Row = (f64, &'static [f64]);

fn natural(size: NominalSize, length: f64, drop: f64) -> f64 {
    let gas = PipedGas::of(FuelGas::Natural);
    in_cubic_feet_per_hour(flow_low(inside_diameter(size), feet(length), inches_of_water(drop), &gas).unwrap())
}

/// Thousands of Btu/h of propane at 2500 Btu/ft3, as the table is printed.
fn propane(size: NominalSize, length: f64, drop: f64) -> f64 {
    let gas = PipedGas::of(FuelGas::Propane);
    let flow = flow_low(inside_diameter(size), feet(length), inches_of_water(drop), &gas).unwrap();
    in_btu_per_hour(GasProperties::propane_in_tables().value.input_of(flow)) / 1000.0
}

fn high(gas: FuelGas, size: NominalSize, length: f64, ends: (f64, f64)) -> f64 {
    let ends = HighPressure::at_sea_level(psi(ends.0), psi(ends.1));
    in_cubic_feet_per_hour(flow_high(inside_diameter(size), feet(length), &ends, &PipedGas::of(gas)).unwrap())
}

/// Every cell of the rows: equation over table less one lies within the band.
#[track_caller]
fn within(rows: &[Row], band: (f64, f64), equation: impl Fn(NominalSize, f64) -> f64) {
    for (length, printed) in rows {
        for (size, printed) in SIZES.into_iter().zip(*printed) {
            let departure = equation(size, *length) / printed - 1.0;
            assert!((band.0..=band.1).contains(&departure), "{size}, {length} ft: {departure:+.4} of {printed}");
        }
    }
}

// From memory of 2018 IFGC table 402.4(2), natural gas, 0.5 in wc; the row of 10 ft and the first three cells of 60 ft are
// confirmed by table 402.4(3) and appendix A.7.1. The band is the one measured in our notes.
#[test]
fn natural_gas_at_half_an_inch() {
    #[rustfmt::skip]
    let rows: [Row; 14] = [
        (10.0, &[172.0, 360.0, 678.0, 1390.0, 2090.0, 4020.0]), (20.0, &[118.0, 247.0, 466.0, 957.0, 1430.0, 2760.0]),
        (30.0, &[95.0, 199.0, 374.0, 768.0, 1150.0, 2220.0]), (40.0, &[81.0, 170.0, 320.0, 657.0, 985.0, 1900.0]),
        (50.0, &[72.0, 151.0, 284.0, 583.0, 873.0, 1680.0]), (60.0, &[65.0, 137.0, 257.0, 528.0, 791.0, 1520.0]),
        (70.0, &[60.0, 126.0, 237.0, 486.0, 728.0, 1400.0]), (80.0, &[56.0, 117.0, 220.0, 452.0, 677.0, 1300.0]),
        (90.0, &[52.0, 110.0, 207.0, 424.0, 635.0, 1220.0]), (100.0, &[50.0, 104.0, 195.0, 400.0, 600.0, 1160.0]),
        (125.0, &[44.0, 92.0, 173.0, 355.0, 532.0, 1020.0]), (150.0, &[40.0, 83.0, 157.0, 322.0, 482.0, 928.0]),
        (175.0, &[37.0, 77.0, 144.0, 296.0, 443.0, 854.0]), (200.0, &[34.0, 71.0, 134.0, 275.0, 412.0, 794.0]),
    ];
    within(&rows, (-0.006, 0.015), |size, length| natural(size, length, 0.5));
}

// Published: 2018 IFGC table 402.4(3), natural gas, 3.0 in wc.
#[test]
fn natural_gas_at_three_inches() {
    #[rustfmt::skip]
    let rows: [Row; 8] = [
        (10.0, &[454.0, 949.0, 1790.0, 3670.0, 5500.0, 10_600.0]), (20.0, &[312.0, 652.0, 1230.0, 2520.0, 3780.0, 7280.0]),
        (30.0, &[250.0, 524.0, 986.0, 2030.0, 3030.0, 5840.0]), (40.0, &[214.0, 448.0, 844.0, 1730.0, 2600.0, 5000.0]),
        (50.0, &[190.0, 397.0, 748.0, 1540.0, 2300.0, 4430.0]), (60.0, &[172.0, 360.0, 678.0, 1390.0, 2090.0, 4020.0]),
        (70.0, &[158.0, 331.0, 624.0, 1280.0, 1920.0, 3700.0]), (80.0, &[147.0, 308.0, 580.0, 1190.0, 1790.0, 3440.0]),
    ];
    within(&rows, (0.0, 0.0105), |size, length| natural(size, length, 3.0));
}

// Published: 2018 IFGC table 402.4(4), natural gas, 6.0 in wc.
#[test]
fn natural_gas_at_six_inches() {
    let rows: [Row; 5] = [
        (10.0, &[660.0, 1380.0, 2600.0, 5340.0]),
        (20.0, &[454.0, 949.0, 1790.0, 3670.0]),
        (40.0, &[312.0, 652.0, 1230.0, 2520.0]),
        (60.0, &[250.0, 524.0, 986.0, 2030.0]),
        (80.0, &[214.0, 448.0, 844.0, 1730.0]),
    ];
    within(&rows, (0.0, 0.0105), |size, length| natural(size, length, 6.0));
}

// Published: 2018 IFGC table 402.4(5), natural gas, 2 psi with a drop of 1 psi. This table follows another law, so the band
// is wide: it is the reason a plan at this pressure is sized by the table.
#[test]
fn natural_gas_at_two_pounds_departs_from_the_equation() {
    #[rustfmt::skip]
    let rows: [Row; 9] = [
        (10.0, &[1510.0, 3040.0, 5560.0, 11_400.0]), (20.0, &[1070.0, 2150.0, 3930.0, 8070.0]),
        (30.0, &[869.0, 1760.0, 3210.0, 6590.0]), (40.0, &[753.0, 1520.0, 2780.0, 5710.0]),
        (50.0, &[673.0, 1360.0, 2490.0, 5110.0]), (60.0, &[615.0, 1240.0, 2270.0, 4660.0]),
        (70.0, &[569.0, 1150.0, 2100.0, 4320.0]), (80.0, &[532.0, 1080.0, 1970.0, 4040.0]),
        (90.0, &[502.0, 1010.0, 1850.0, 3810.0]),
    ];
    within(&rows, (-0.032, 0.137), |size, length| high(FuelGas::Natural, size, length, (2.0, 1.0)));
}

// Published: 2018 IFGC table 402.4(28), propane, 11 in wc with a drop of 0.5, rows to 60 ft. The rows labelled 80 and 100
// carry what the equation gives at 70 and 80 ft.
#[test]
fn propane_at_half_an_inch() {
    #[rustfmt::skip]
    let rows: [Row; 6] = [
        (10.0, &[291.0, 608.0, 1150.0, 2350.0, 3520.0, 6790.0]), (20.0, &[200.0, 418.0, 787.0, 1620.0, 2420.0, 4660.0]),
        (30.0, &[160.0, 336.0, 632.0, 1300.0, 1940.0, 3750.0]), (40.0, &[137.0, 287.0, 541.0, 1110.0, 1660.0, 3210.0]),
        (50.0, &[122.0, 255.0, 480.0, 985.0, 1480.0, 2840.0]), (60.0, &[110.0, 231.0, 434.0, 892.0, 1340.0, 2570.0]),
    ];
    within(&rows, (0.006, 0.018), |size, length| propane(size, length, 0.5));
    let mislabelled: [Row; 2] = [(70.0, &[101.0, 212.0, 400.0, 821.0]), (80.0, &[94.0, 197.0, 372.0, 763.0])];
    within(&mislabelled, (0.006, 0.018), |size, length| propane(size, length, 0.5));
    assert!(propane(NominalSize::Half, 80.0, 0.5) < 101.0 * 0.95);
    assert!(propane(NominalSize::Half, 100.0, 0.5) < 94.0 * 0.91);
}

// Published: Rheem 802PA manual, page 27, propane at 0.5 in wc: 1/2 in carries 96, 89 and 78 thousand Btu/h at 70, 80 and
// 100 ft. Its basis is not printed; it lies below the equation by up to 9 percent.
#[test]
fn a_furnace_manual_agrees_with_the_equation_and_not_with_the_labels() {
    for (length, printed) in [(70.0, 96.0), (80.0, 89.0), (100.0, 78.0)] {
        let departure = propane(NominalSize::Half, length, 0.5) / printed - 1.0;
        assert!((0.0..0.10).contains(&departure), "{length}: {departure}");
    }
}

// Published: 2018 IFGC table 402.4(27), propane, 2 psi with a drop of 1 psi, thousand Btu/h at 2516 Btu/ft3; and 402.4(25),
// 10 psi with a drop of 1 psi; and 402.4(26), 10 psi with a drop of 3 psi.
#[test]
fn propane_at_pounds() {
    let thousands = |ends| move |size: NominalSize, length: f64| high(FuelGas::Propane, size, length, ends) * 2516.0 / 1000.0;
    #[rustfmt::skip]
    let two: [Row; 8] = [
        (10.0, &[2680.0, 5590.0, 10_500.0]), (20.0, &[1840.0, 3850.0, 7240.0]), (30.0, &[1480.0, 3090.0, 5820.0]),
        (40.0, &[1260.0, 2640.0, 4980.0]), (50.0, &[1120.0, 2340.0, 4410.0]), (60.0, &[1010.0, 2120.0, 4000.0]),
        (70.0, &[934.0, 1950.0, 3680.0]), (80.0, &[869.0, 1820.0, 3420.0]),
    ];
    within(&two, (0.010, 0.024), thousands((2.0, 1.0)));
    #[rustfmt::skip]
    let ten: [Row; 8] = [
        (10.0, &[3320.0, 6950.0, 13_100.0]), (20.0, &[2280.0, 4780.0, 9000.0]), (30.0, &[1830.0, 3840.0, 7220.0]),
        (40.0, &[1570.0, 3280.0, 6180.0]), (50.0, &[1390.0, 2910.0, 5480.0]), (60.0, &[1260.0, 2640.0, 4970.0]),
        (70.0, &[1160.0, 2430.0, 4570.0]), (80.0, &[1080.0, 2260.0, 4250.0]),
    ];
    within(&ten, (0.010, 0.024), thousands((10.0, 9.0)));
    let steep: [Row; 3] =
        [(10.0, &[5890.0, 12_300.0, 23_200.0]), (50.0, &[2460.0, 5150.0, 9710.0]), (70.0, &[2050.0, 4300.0, 8090.0])];
    within(&steep, (0.010, 0.024), thousands((10.0, 7.0)));
}

/// Drop in inches of water, for thousands of Btu/h of propane at 2500 Btu/ft3.
fn propane_drop(thousands: f64, size: NominalSize, length: f64) -> f64 {
    let flow = GasProperties::propane_in_tables().value.flow_for(btu_per_hour(thousands * 1000.0));
    let drop: Pressure = drop_low(flow, inside_diameter(size), feet(length), &PipedGas::of(FuelGas::Propane)).unwrap();
    in_inches_of_water(drop)
}

// Computed in our notes: a propane manifold of 60 ft, drop along the remote path.
#[test]
fn a_propane_manifold_stays_within_its_drop() {
    let path = [
        (366.0, NominalSize::One, 20.0, 0.119),
        (167.0, NominalSize::ThreeQuarters, 15.0, 0.067),
        (87.0, NominalSize::Half, 15.0, 0.079),
        (65.0, NominalSize::Half, 10.0, 0.031),
    ];
    let mut total = 0.0;
    for (load, size, length, printed) in path {
        let drop = propane_drop(load, size, length);
        assert!((drop - printed).abs() < 0.000_6, "{load}: {drop} {printed}");
        total += drop;
    }
    assert!((total - 0.296).abs() < 0.001, "{total}");
}

// Computed in our notes: a trunk of 85 equivalent feet passes the row labelled 100 and fails the equation.
#[test]
fn the_equation_fails_a_trunk_the_printed_row_passes() {
    assert!((propane(NominalSize::One, 85.0, 0.5) - 364.2).abs() < 0.3);
    assert!((propane(NominalSize::One, 100.0, 0.5) - 333.5).abs() < 0.3);
    assert!(propane(NominalSize::One, 85.0, 0.5) < 366.0);
}

// Published: IFGC appendix A.7.1, 60 ft at 0.5 in wc: outlets of 35, 75, 35 and 100 cfh. The example sizes by the table; the
// equation gives the same sizes.
#[test]
fn the_longest_length_example_of_the_appendix() {
    let gas = PipedGas::of(FuelGas::Natural);
    let size = |flow: f64| {
        let least = diameter_low(cubic_feet_per_hour(flow), feet(60.0), inches_of_water(0.5), &gas).unwrap();
        SIZES.into_iter().find(|size| inside_diameter(*size) >= least).unwrap()
    };
    assert_eq!(size(35.0), NominalSize::Half);
    assert_eq!(size(75.0), NominalSize::ThreeQuarters);
    assert_eq!(size(110.0), NominalSize::ThreeQuarters);
    assert_eq!(size(135.0), NominalSize::ThreeQuarters);
    assert_eq!(size(245.0), NominalSize::One);
}

// Published: Gastite brochure, page 90, pressure drops of steel pipe per foot; its table lies 3 to 5 percent above the equation.
#[test]
fn a_drop_table_of_a_tubing_maker() {
    let gas = PipedGas::of(FuelGas::Natural);
    let rows = [(100.0, NominalSize::Half, 0.019), (300.0, NominalSize::Half, 0.142), (500.0, NominalSize::One, 0.029)];
    for (flow, size, printed) in rows {
        let drop = drop_low(cubic_feet_per_hour(flow), inside_diameter(size), feet(1.0), &gas).unwrap();
        let departure = printed / in_inches_of_water(drop) - 1.0;
        assert!((0.02..0.055).contains(&departure), "{flow}: {departure}");
    }
}
