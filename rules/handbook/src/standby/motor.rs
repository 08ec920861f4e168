//! Single-phase motors: full-load and locked-rotor currents and code letters by the tables of NEC Article 430.

use crate::source::Source;
use uom::si::electric_current::ampere;
use uom::si::electric_potential::volt;
use uom::si::f64::{ElectricCurrent, ElectricPotential, Power};
use uom::si::power::watt;

/// Where full-load currents come from.
pub const FULL_LOAD: Source = Source::new("NEC Table 430.248");
/// Where locked-rotor currents by power come from.
pub const LOCKED_ROTOR: Source = Source::new("NEC Table 430.251(A) (text of 2008): six times the full-load current");
/// Where code letters come from.
pub const CODE_LETTERS: Source = Source::new("NEC Table 430.7(B)");

/// One horsepower in watts: 550 foot pounds-force per second (NIST SP 811).
const HORSEPOWER: f64 = 745.699_871_582_270_2;

/// Horsepower; amperes at 115, 200, 208 and 230 V.
const ROWS: [(f64, [f64; 4]); 12] = [
    (1.0 / 6.0, [4.4, 2.5, 2.4, 2.2]),
    (0.25, [5.8, 3.3, 3.2, 2.9]),
    (1.0 / 3.0, [7.2, 4.1, 4.0, 3.6]),
    (0.5, [9.8, 5.6, 5.4, 4.9]),
    (0.75, [13.8, 7.9, 7.6, 6.9]),
    (1.0, [16.0, 9.2, 8.8, 8.0]),
    (1.5, [20.0, 11.5, 11.0, 10.0]),
    (2.0, [24.0, 13.8, 13.2, 12.0]),
    (3.0, [34.0, 19.6, 18.7, 17.0]),
    (5.0, [56.0, 32.2, 30.8, 28.0]),
    (7.5, [80.0, 46.0, 44.0, 40.0]),
    (10.0, [100.0, 57.5, 55.0, 50.0]),
];

/// Horsepower; locked-rotor amperes at 115, 208 and 230 V.
const LOCKED: [(f64, [f64; 3]); 9] = [
    (0.5, [58.8, 32.5, 29.4]),
    (0.75, [82.8, 45.8, 41.4]),
    (1.0, [96.0, 53.0, 48.0]),
    (1.5, [120.0, 66.0, 60.0]),
    (2.0, [144.0, 80.0, 72.0]),
    (3.0, [204.0, 113.0, 102.0]),
    (5.0, [336.0, 186.0, 168.0]),
    (7.5, [480.0, 265.0, 240.0]),
    (10.0, [600.0, 332.0, 300.0]),
];

/// What a code letter stands for, in kilovolt-amperes for each horsepower while the motor stands still.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Letter {
    /// The least.
    pub least: f64,
    /// The most; the last letter has none.
    pub most: Option<f64>,
}

// The 3.14 of the first letter is no approximation of pi.
#[allow(clippy::approx_constant)]
const LETTERS: [(&str, f64, f64); 18] = [
    ("A", 0.0, 3.14),
    ("B", 3.15, 3.54),
    ("C", 3.55, 3.99),
    ("D", 4.0, 4.49),
    ("E", 4.5, 4.99),
    ("F", 5.0, 5.59),
    ("G", 5.6, 6.29),
    ("H", 6.3, 7.09),
    ("J", 7.1, 7.99),
    ("K", 8.0, 8.99),
    ("L", 9.0, 9.99),
    ("M", 10.0, 11.19),
    ("N", 11.2, 12.49),
    ("P", 12.5, 13.99),
    ("R", 14.0, 15.99),
    ("S", 16.0, 17.99),
    ("T", 18.0, 19.99),
    ("U", 20.0, 22.39),
];

/// A power at the shaft.
pub fn horsepower(number: f64) -> Power {
    Power::new::<watt>(number * HORSEPOWER)
}

/// The power as a number of horsepower.
pub fn in_horsepower(power: Power) -> f64 {
    power.get::<watt>() / HORSEPOWER
}

/// The column of a table: 110 to 120 V, 200 V, 208 V, 220 to 240 V.
fn column(volts: ElectricPotential) -> Option<usize> {
    let volts = volts.get::<volt>();
    let within = |least: f64, most: f64| (least - 1e-6..=most + 1e-6).contains(&volts);
    [(110.0, 120.0), (200.0, 200.0), (208.0, 208.0), (220.0, 240.0)].iter().position(|(least, most)| within(*least, *most))
}

fn row<const N: usize>(rows: &[(f64, [f64; N])], power: Power) -> Option<&[f64; N]> {
    let wanted = in_horsepower(power);
    // 1e-3: a third of a horsepower is written 0.33 or 1/3.
    rows.iter().find(|(row, _)| (row - wanted).abs() <= 4e-3 * row.max(1.0)).map(|(_, amperes)| amperes)
}

/// Full-load current of a single-phase motor; `None` between the rows and for other voltages.
pub fn full_load_current(power: Power, volts: ElectricPotential) -> Option<ElectricCurrent> {
    let column = column(volts)?;
    row(&ROWS, power)?.get(column).map(|number| ElectricCurrent::new::<ampere>(*number))
}

/// Locked-rotor current of a single-phase motor by its power alone; `None` where the table has no figure. Motors with a code
/// letter, and well pumps, often draw more.
pub fn locked_rotor_current(power: Power, volts: ElectricPotential) -> Option<ElectricCurrent> {
    let column = match column(volts)? {
        0 => 0,
        2 => 1,
        3 => 2,
        _ => return None,
    };
    row(&LOCKED, power)?.get(column).map(|number| ElectricCurrent::new::<ampere>(*number))
}

/// What a code letter stands for; `None` for what is none.
pub fn code_letter(letter: &str) -> Option<Letter> {
    if letter.trim().eq_ignore_ascii_case("V") {
        return Some(Letter { least: 22.4, most: None });
    }
    let known = LETTERS.iter().find(|(known, ..)| letter.trim().eq_ignore_ascii_case(known));
    known.map(|(_, least, most)| Letter { least: *least, most: Some(*most) })
}

/// The most apparent power a motor of a code letter draws while it starts; `None` for the last letter, which has no end, and
/// for what is no letter.
pub fn locked_rotor_power(letter: &str, power: Power) -> Option<Power> {
    let most = code_letter(letter)?.most?;
    Some(Power::new::<watt>(most * 1_000.0 * in_horsepower(power)))
}
