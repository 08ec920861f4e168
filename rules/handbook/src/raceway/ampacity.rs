//! What heat leaves of a conductor's ampacity: NEC Table 310.16, its corrections for ambient temperature and its adjustments
//! for conductors that lie together.

use super::rank;
use crate::source::Source;
use redtag_schema::quantity::at_most;
use uom::si::electric_current::ampere;
use uom::si::f64::ElectricCurrent;

/// Where the ampacities come from.
pub const AMPACITY: Source =
    Source::new("NEC Table 310.16 (copper to 4/0 AWG as printed by a public table; aluminum and kcmil sizes from memory)");
/// Where the bundling factors come from.
pub const BUNDLING: Source = Source::new("NEC 310.15(C)(1) (public solar-design table file)");
/// Where the ambient factors come from.
pub const AMBIENT: Source =
    Source::new("NEC 310.15(B)(1), 90 C column (public solar-design table file); 60 and 75 C columns from memory");

/// What a conductor is made of.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Metal {
    /// Copper.
    Copper,
    /// Aluminum, also copper-clad.
    Aluminum,
}

/// The temperature a termination or insulation is rated for.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
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
            None if device.is_some_and(|device| !at_most(device, amperes(100.0))) => Self::SeventyFive,
            None => Self::Sixty,
        }
    }
}

/// The markings of insulation with the temperature they are rated for in a dry place and in a wet one (from memory of NEC Table
/// 310.4 and, for cables, 334.80, 338.10(B)(4) and 340.80: the ampacity of nonmetallic-sheathed and underground feeder cable is
/// that of the 60 degree column).
const MARKINGS: &[(&str, TerminalRating, TerminalRating)] = {
    use TerminalRating::{Ninety, SeventyFive, Sixty};
    &[
        ("TW", Sixty, Sixty),
        ("UF", Sixty, Sixty),
        ("UF-B", Sixty, Sixty),
        ("NM", Sixty, Sixty),
        ("NM-B", Sixty, Sixty),
        ("NMC-B", Sixty, Sixty),
        ("RHW", SeventyFive, SeventyFive),
        ("THW", SeventyFive, SeventyFive),
        ("THWN", SeventyFive, SeventyFive),
        ("USE", SeventyFive, SeventyFive),
        ("XHHW", Ninety, SeventyFive),
        ("THHW", Ninety, SeventyFive),
        ("THHN", Ninety, SeventyFive),
        ("RHH", Ninety, SeventyFive),
        ("XHH", Ninety, SeventyFive),
        ("RHW-2", Ninety, Ninety),
        ("THW-2", Ninety, Ninety),
        ("THWN-2", Ninety, Ninety),
        ("USE-2", Ninety, Ninety),
        ("XHHW-2", Ninety, Ninety),
        ("XHHN", Ninety, SeventyFive),
        ("PV", Ninety, Ninety),
        ("SER", SeventyFive, SeventyFive),
        ("SE", SeventyFive, SeventyFive),
        ("SEU", SeventyFive, SeventyFive),
    ]
};

/// The temperature insulation is rated for by its marking, in a dry or a wet place; of several markings on one conductor
/// (`THHN/THWN-2`) the best holds. `None` where one of them is not known here: an unknown marking is no rating.
pub fn insulation_rating(marking: &str, wet: bool) -> Option<TerminalRating> {
    let mut best = None;
    for one in marking.split(['/', ',']).map(|one| one.trim().to_ascii_uppercase()) {
        let one = one.trim_end_matches(" WIRE").trim_end_matches(" CABLE").trim();
        let (_, dry, in_wet) = MARKINGS.iter().find(|(known, ..)| *known == one)?;
        best = best.max(Some(if wet { *in_wet } else { *dry }));
    }
    best
}

/// The temperature whose column limits a cable whatever its conductors are rated for: 60 degrees for nonmetallic-sheathed and
/// underground feeder cable.
pub fn cable_column(marking: &str) -> Option<TerminalRating> {
    let marking = marking.trim().to_ascii_uppercase();
    let of = |known: &str| marking == known || marking.starts_with(&format!("{known} "));
    ["NM-B", "NM", "NMC-B", "UF", "UF-B"].into_iter().any(of).then_some(TerminalRating::Sixty)
}

type Column = [f64; SIZES];
const SIZES: usize = 21;
const COPPER: [Column; 3] = [
    [
        15.0, 20.0, 30.0, 40.0, 55.0, 70.0, 85.0, 95.0, 110.0, 125.0, 145.0, 165.0, 195.0, 215.0, 240.0, 260.0, 280.0, 320.0,
        350.0, 385.0, 400.0,
    ],
    [
        20.0, 25.0, 35.0, 50.0, 65.0, 85.0, 100.0, 115.0, 130.0, 150.0, 175.0, 200.0, 230.0, 255.0, 285.0, 310.0, 335.0, 380.0,
        420.0, 460.0, 475.0,
    ],
    [
        25.0, 30.0, 40.0, 55.0, 75.0, 95.0, 115.0, 130.0, 145.0, 170.0, 195.0, 225.0, 260.0, 290.0, 320.0, 350.0, 380.0, 430.0,
        475.0, 520.0, 535.0,
    ],
];
/// From 12 AWG on; aluminum of 14 AWG is not made for building wire.
const ALUMINUM: [Column; 3] = [
    [
        0.0, 15.0, 25.0, 35.0, 40.0, 55.0, 65.0, 75.0, 85.0, 100.0, 115.0, 130.0, 150.0, 170.0, 195.0, 210.0, 225.0, 260.0,
        285.0, 315.0, 320.0,
    ],
    [
        0.0, 20.0, 30.0, 40.0, 50.0, 65.0, 75.0, 90.0, 100.0, 120.0, 135.0, 155.0, 180.0, 205.0, 230.0, 250.0, 270.0, 310.0,
        340.0, 375.0, 385.0,
    ],
    [
        0.0, 25.0, 35.0, 45.0, 55.0, 75.0, 85.0, 100.0, 115.0, 135.0, 150.0, 175.0, 205.0, 230.0, 260.0, 280.0, 305.0, 350.0,
        385.0, 425.0, 435.0,
    ],
];

fn amperes(number: f64) -> ElectricCurrent {
    ElectricCurrent::new::<ampere>(number)
}

/// Ampacity of a conductor by the table, at 30 degrees Celsius and three conductors at most together. `None` for sizes the
/// table does not have.
pub fn table_ampacity(size: &str, metal: Metal, rating: TerminalRating) -> Option<ElectricCurrent> {
    let table = if metal == Metal::Copper { &COPPER } else { &ALUMINUM };
    let column = match rating {
        TerminalRating::Sixty => &table[0],
        TerminalRating::SeventyFive => &table[1],
        TerminalRating::Ninety => &table[2],
    };
    rank(size).and_then(|rank| column.get(rank)).filter(|number| **number > 0.0).map(|number| amperes(*number))
}

/// The largest overcurrent device of the small conductors, whatever their ampacity (NEC 240.4(D), as a maker of wire prints it): copper of 14,
/// 12 and 10 AWG 15, 20 and 30 A, aluminum of 12 and 10 AWG 15 and 25 A.
pub fn small_conductor_limit(size: &str, metal: Metal) -> Option<ElectricCurrent> {
    let limits: [f64; 3] = if metal == Metal::Copper { [15.0, 20.0, 30.0] } else { [0.0, 15.0, 25.0] };
    rank(size).and_then(|rank| limits.get(rank)).filter(|limit| **limit > 0.0).map(|limit| amperes(*limit))
}

/// The largest overcurrent device for conductors: the next standard size above what they carry where that is allowed and
/// what they carry is no standard size, up to 800 A; never more than small conductors may have (NEC 240.4(B), (C), (D)).
pub fn largest_device(size: &str, metal: Metal, ampacity: ElectricCurrent, next: bool) -> ElectricCurrent {
    let most = if next { next_standard(ampacity).unwrap_or(ampacity) } else { ampacity };
    match small_conductor_limit(size, metal) {
        Some(limit) if limit < most => limit,
        _ => most,
    }
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

const NINETY: &[(f64, f64)] = &[
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
const SEVENTY_FIVE: &[(f64, f64)] = &[
    (10.0, 1.20),
    (15.0, 1.15),
    (20.0, 1.11),
    (25.0, 1.05),
    (30.0, 1.00),
    (35.0, 0.94),
    (40.0, 0.88),
    (45.0, 0.82),
    (50.0, 0.75),
    (55.0, 0.67),
    (60.0, 0.58),
    (65.0, 0.47),
    (70.0, 0.33),
];
const SIXTY: &[(f64, f64)] = &[
    (10.0, 1.29),
    (15.0, 1.22),
    (20.0, 1.15),
    (25.0, 1.08),
    (30.0, 1.00),
    (35.0, 0.91),
    (40.0, 0.82),
    (45.0, 0.71),
    (50.0, 0.58),
    (55.0, 0.41),
];

/// The factor for the temperature around a conductor, in degrees Celsius; `None` past the last row, where the conductor may not
/// be used at all.
pub fn ambient_factor(celsius: f64, rating: TerminalRating) -> Option<f64> {
    let rows = match rating {
        TerminalRating::Ninety => NINETY,
        TerminalRating::SeventyFive => SEVENTY_FIVE,
        TerminalRating::Sixty => SIXTY,
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

/// Ampacity of a conductor with insulation for `insulation`, at terminations for `terminals`, `celsius` about it, with
/// `count` conductors that carry current together.
pub fn derated(
    (size, metal): (&str, Metal),
    insulation: TerminalRating,
    terminals: TerminalRating,
    celsius: f64,
    count: u32,
) -> Option<Derated> {
    let table = table_ampacity(size, metal, insulation)?;
    let (ambient, bundling) = (ambient_factor(celsius, insulation)?, bundling_factor(count));
    let corrected = table * (ambient * bundling);
    let at_terminals = table_ampacity(size, metal, terminals)?;
    let left = if at_terminals < corrected { at_terminals } else { corrected };
    Some(Derated { table, ambient, bundling, left })
}

/// Standard ratings of overcurrent devices, amperes (from memory of NEC 240.6(A)). From 800 A on the next size up is not
/// allowed any more (240.4(C)).
const STANDARD: [f64; 28] = [
    15.0, 20.0, 25.0, 30.0, 35.0, 40.0, 45.0, 50.0, 60.0, 70.0, 80.0, 90.0, 100.0, 110.0, 125.0, 150.0, 175.0, 200.0, 225.0,
    250.0, 300.0, 350.0, 400.0, 450.0, 500.0, 600.0, 700.0, 800.0,
];

/// The standard overcurrent device at or next above a current; `None` past 800 A.
pub fn next_standard(current: ElectricCurrent) -> Option<ElectricCurrent> {
    let number = current.get::<ampere>();
    STANDARD.iter().find(|rating| **rating >= number * (1.0 - 1e-9)).map(|rating| amperes(*rating))
}

/// The standard overcurrent device at or next below a current; `None` below 15 A.
pub fn standard_below(current: ElectricCurrent) -> Option<ElectricCurrent> {
    let number = current.get::<ampere>();
    STANDARD.iter().rev().find(|rating| **rating <= number * (1.0 + 1e-9)).map(|rating| amperes(*rating))
}
