//! What heat leaves of a conductor's ampacity: NEC Table 310.16 for copper, its corrections for ambient temperature and its
//! adjustments for conductors that lie together.

use super::rank;
use crate::source::Source;
use uom::si::electric_current::ampere;
use uom::si::f64::ElectricCurrent;

/// Where the bundling factors come from.
pub const BUNDLING: Source = Source::new("NEC 310.15(C)(1) (public solar-design table file)");
/// Where the ambient factors come from.
pub const AMBIENT: Source =
    Source::new("NEC 310.15(B)(1), 90 C column (public solar-design table file); 75 C column from memory");

/// The temperature a termination or insulation is rated for.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum TerminalRating {
    /// 60 degrees Celsius.
    Sixty,
    /// 75 degrees Celsius.
    SeventyFive,
    /// 90 degrees Celsius.
    Ninety,
}

impl TerminalRating {
    /// The rating of terminals: as marked, in degrees Celsius; where nothing is said, 60 degrees up to 100 A and 75 above (from
    /// memory of NEC 110.14(C)). A device that is not said either counts as a small one.
    pub fn marked(celsius: Option<f64>, device: Option<ElectricCurrent>) -> Self {
        match celsius {
            Some(celsius) if celsius > 89.0 => Self::Ninety,
            Some(celsius) if celsius > 74.0 => Self::SeventyFive,
            Some(_) => Self::Sixty,
            None if device.is_some_and(|device| !redtag_schema::quantity::at_most(device, amperes(100.0))) => Self::SeventyFive,
            None => Self::Sixty,
        }
    }
}

const COPPER_60: [f64; 13] = [15.0, 20.0, 30.0, 40.0, 55.0, 70.0, 85.0, 95.0, 110.0, 125.0, 145.0, 165.0, 195.0];
const COPPER_75: [f64; 13] = [20.0, 25.0, 35.0, 50.0, 65.0, 85.0, 100.0, 115.0, 130.0, 150.0, 175.0, 200.0, 230.0];
const COPPER_90: [f64; 13] = [25.0, 30.0, 40.0, 55.0, 75.0, 95.0, 115.0, 130.0, 145.0, 170.0, 195.0, 225.0, 260.0];

fn amperes(number: f64) -> ElectricCurrent {
    ElectricCurrent::new::<ampere>(number)
}

/// Ampacity of a copper conductor by the table, at 30 degrees Celsius and three conductors at most together (noisebridge.net
/// AWG table). `None` above 4/0.
pub fn table_ampacity(size: &str, rating: TerminalRating) -> Option<ElectricCurrent> {
    let column = match rating {
        TerminalRating::Sixty => &COPPER_60,
        TerminalRating::SeventyFive => &COPPER_75,
        TerminalRating::Ninety => &COPPER_90,
    };
    rank(size).map(|rank| amperes(column[rank]))
}

/// The largest overcurrent device of the small conductors, whatever their ampacity (from memory of NEC 240.4(D)).
pub fn small_conductor_limit(size: &str) -> Option<ElectricCurrent> {
    let limits = [15.0, 20.0, 30.0];
    rank(size).and_then(|rank| limits.get(rank)).map(|limit| amperes(*limit))
}

/// The factor for `count` conductors that carry current together over more than 24 in.
pub fn bundling_factor(count: u32) -> f64 {
    match count {
        0..=3 => 1.0,
        4..=6 => 0.80,
        7..=9 => 0.70,
        10..=20 => 0.50,
        21..=30 => 0.45,
        31..=40 => 0.40,
        _ => 0.35,
    }
}

const NINETY: [(f64, f64); 16] = [
    (10.0, 1.15),
    (15.0, 1.12),
    (20.0, 1.08),
    (25.0, 1.04),
    (30.0, 1.00),
    (35.0, 0.96),
    (40.0, 0.91),
    (45.0, 0.87),
    (50.0, 0.82),
    (55.0, 0.76),
    (60.0, 0.71),
    (65.0, 0.65),
    (70.0, 0.58),
    (75.0, 0.50),
    (80.0, 0.41),
    (85.0, 0.29),
];
const SEVENTY_FIVE: [(f64, f64); 7] =
    [(30.0, 1.00), (35.0, 0.94), (40.0, 0.88), (45.0, 0.82), (50.0, 0.75), (55.0, 0.67), (60.0, 0.58)];

/// The factor for the temperature around a conductor, in degrees Celsius; `None` past the last known row. The 75 degree
/// column is not known below 26 degrees, where leaving the factor at 1 is on the safe side.
pub fn ambient_factor(celsius: f64, rating: TerminalRating) -> Option<f64> {
    let rows: &[(f64, f64)] = match rating {
        TerminalRating::Ninety => &NINETY,
        TerminalRating::SeventyFive => &SEVENTY_FIVE,
        TerminalRating::Sixty => return None,
    };
    // 1e-6: what converting from Fahrenheit leaves over.
    rows.iter().find(|(upto, _)| celsius <= upto + 1e-6).map(|(_, factor)| *factor)
}

/// What the sun adds to the temperature about a raceway on a roof, in kelvin, where it lies lower than a height over it.
pub const fn rooftop_adder() -> f64 {
    33.0
}

/// Ampacity after both factors.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Derated {
    /// By the table.
    pub table: ElectricCurrent,
    /// For the temperature.
    pub ambient: f64,
    /// For conductors together.
    pub bundling: f64,
    /// What is left; never more than the terminations allow.
    pub left: ElectricCurrent,
}

/// Ampacity of a copper conductor with insulation for `insulation`, at terminations for `terminals`, `celsius` about it, with
/// `count` conductors that carry current together.
pub fn derated(size: &str, insulation: TerminalRating, terminals: TerminalRating, celsius: f64, count: u32) -> Option<Derated> {
    let table = table_ampacity(size, insulation)?;
    let (ambient, bundling) = (ambient_factor(celsius, insulation)?, bundling_factor(count));
    let corrected = table * (ambient * bundling);
    let at_terminals = table_ampacity(size, terminals)?;
    let left = if at_terminals < corrected { at_terminals } else { corrected };
    Some(Derated { table, ambient, bundling, left })
}

/// Standard ratings of overcurrent devices, amperes (from memory of NEC 240.6(A)).
const STANDARD: [f64; 26] = [
    15.0, 20.0, 25.0, 30.0, 35.0, 40.0, 45.0, 50.0, 60.0, 70.0, 80.0, 90.0, 100.0, 110.0, 125.0, 150.0, 175.0, 200.0, 225.0,
    250.0, 300.0, 350.0, 400.0, 450.0, 500.0, 600.0,
];

/// The standard overcurrent device at or next above a current; `None` past 600 A.
pub fn next_standard(current: ElectricCurrent) -> Option<ElectricCurrent> {
    let number = current.get::<ampere>();
    STANDARD.iter().find(|rating| **rating >= number * (1.0 - 1e-9)).map(|rating| amperes(*rating))
}
