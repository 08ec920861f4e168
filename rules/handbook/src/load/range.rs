//! Household cooking equipment: what NEC Table 220.55 leaves of its nameplate.

use super::{kilovolt_amperes, volt_amperes};
use crate::source::Source;
use uom::si::f64::Power;
use uom::si::power::kilowatt;

/// Where the figures come from.
pub const RANGES: Source =
    Source::new("NEC Table 220.55: one range up to 12 kW counts 8 kW, 5 % more per kW above; other rows from memory");

/// Column C of the table for one to five ranges of 12 kW at most.
const TOGETHER: [f64; 5] = [8.0, 11.0, 14.0, 17.0, 20.0];
/// Below this the columns for small appliances may be used (note 3 of the table).
const SMALL_KILOWATTS: f64 = 8.75;
/// Column B for one to five of them.
const SMALL_FACTORS: [f64; 5] = [0.80, 0.65, 0.55, 0.50, 0.45];

/// The demand of ranges, ovens and cooking tops by their nameplates; `None` for more than five of them, whose rows are not
/// known here. Nothing below 1.75 kW is cooking equipment of this table: it counts in full.
pub fn range_demand(nameplates: &[Power]) -> Option<Power> {
    let (large, small): (Vec<f64>, Vec<f64>) = nameplates
        .iter()
        .map(|power| power.get::<kilowatt>())
        .filter(|kilowatts| *kilowatts > 1.75)
        .partition(|kilowatts| *kilowatts > SMALL_KILOWATTS);
    let least: f64 = nameplates.iter().map(|power| power.get::<kilowatt>()).filter(|kilowatts| *kilowatts <= 1.75).sum();
    let together = by_column_c(large.len() + small.len(), large.iter().chain(&small).copied())?;
    let apart = by_column_c(large.len(), large.iter().copied())? + by_column_b(&small)?;
    Some(kilovolt_amperes(together.min(apart)) + volt_amperes(least * 1_000.0))
}

/// Up to 12 kW by the column; above, 5 % more for each kilowatt or major fraction of one by which the mean exceeds 12 kW, a
/// range below 12 kW counting as one of 12 (notes 1 and 2, from memory).
fn by_column_c(count: usize, kilowatts: impl Iterator<Item = f64>) -> Option<f64> {
    if count == 0 {
        return Some(0.0);
    }
    let base = TOGETHER.get(count - 1)?;
    let mean = kilowatts.map(|each| each.max(12.0)).sum::<f64>() / count as f64;
    // A major fraction is one of a half or more.
    let above = libm::floor(mean - 12.0 + 0.5);
    Some(base * (1.0 + 0.05 * above))
}

fn by_column_b(kilowatts: &[f64]) -> Option<f64> {
    if kilowatts.is_empty() {
        return Some(0.0);
    }
    SMALL_FACTORS.get(kilowatts.len() - 1).map(|factor| kilowatts.iter().sum::<f64>() * factor)
}
