//! Slopes and capacities of drains.

use super::family::{CodeFamily, DrainSize};
use super::measure::inches_per_foot;
use super::sources;
use crate::{Sourced, units};
use uom::si::f64::{Length, Ratio};

/// The least slope of a horizontal drain. `flat_approved`: the authority has found 1/4 in/ft impracticable (UPC only).
pub fn least_slope(family: CodeFamily, nominal: Length, flat_approved: bool) -> Sourced<Ratio> {
    let up_to = |inches: f64| units::in_inches(nominal) <= inches + 1e-9;
    let (slope, source) = match family {
        CodeFamily::Irc => (if up_to(2.5) { 0.25 } else { 0.125 }, sources::SLOPE_IRC),
        CodeFamily::Ipc if up_to(2.5) => (0.25, sources::SLOPE_IPC),
        CodeFamily::Ipc => (if up_to(6.0) { 0.125 } else { 0.0625 }, sources::SLOPE_IPC),
        CodeFamily::Upc => (if flat_approved && !up_to(3.0) { 0.125 } else { 0.25 }, sources::SLOPE_UPC),
        CodeFamily::Massachusetts => (if up_to(3.0) { 0.25 } else { 0.125 }, sources::SLOPE_MASSACHUSETTS),
    };
    Sourced::new(inches_per_foot(slope), source)
}

/// Most fixture units on a horizontal branch of a stack; `None` where the cell is not known.
pub fn branch_capacity(family: CodeFamily, size: DrainSize, slope: Ratio) -> Option<Sourced<f64>> {
    use DrainSize as S;
    match family {
        CodeFamily::Irc | CodeFamily::Ipc => {
            let most = match size {
                S::OneAndAHalf => 3.0,
                S::Two => 6.0,
                S::TwoAndAHalf => 12.0,
                S::Three => 20.0,
                S::Four => 160.0,
                _ => return None,
            };
            Some(Sourced::new(most, sources::CAPACITY_BRANCH))
        }
        CodeFamily::Upc => uniform_horizontal(size, slope),
        CodeFamily::Massachusetts => None,
    }
}

/// Most fixture units on a stack; `None` where the cell is not known.
pub fn stack_capacity(family: CodeFamily, size: DrainSize) -> Option<Sourced<f64>> {
    use DrainSize as S;
    let (table, source) = match family {
        CodeFamily::Irc | CodeFamily::Ipc => {
            ([None, Some(4.0), Some(10.0), Some(20.0), Some(48.0), Some(240.0)], sources::CAPACITY_BRANCH)
        }
        CodeFamily::Upc => ([Some(1.0), Some(2.0), Some(16.0), Some(32.0), Some(48.0), Some(256.0)], sources::CAPACITY_UPC),
        CodeFamily::Massachusetts => return None,
    };
    let row = [S::OneAndAQuarter, S::OneAndAHalf, S::Two, S::TwoAndAHalf, S::Three, S::Four];
    let at = row.iter().position(|known| *known == size)?;
    table.get(at).copied().flatten().map(|most| Sourced::new(most, source))
}

/// Slopes of the building drain table, in inches per foot.
const COLUMNS: [f64; 4] = [0.0625, 0.125, 0.25, 0.5];

/// Most fixture units on a building drain, its branches and the building sewer at a slope. A slope between two columns
/// counts as the flatter one, beyond the steepest as that. `None` where the cell is empty or not known.
pub fn building_drain_capacity(family: CodeFamily, size: DrainSize, slope: Ratio) -> Option<Sourced<f64>> {
    use DrainSize as S;
    let row: [Option<f64>; 4] = match (family, size) {
        (CodeFamily::Upc, _) => return uniform_horizontal(size, slope),
        (CodeFamily::Massachusetts, _) => return None,
        (CodeFamily::Ipc, S::OneAndAQuarter) => [None, None, Some(1.0), Some(1.0)],
        (CodeFamily::Ipc, S::OneAndAHalf) => [None, None, Some(3.0), Some(3.0)],
        (CodeFamily::Irc, S::OneAndAQuarter | S::OneAndAHalf | S::Five | S::Six | S::Eight) => return None,
        (CodeFamily::Irc, S::Two) => [None, None, Some(21.0), Some(27.0)],
        (CodeFamily::Ipc, S::Two) => [None, None, Some(21.0), Some(26.0)],
        (_, S::TwoAndAHalf) => [None, None, Some(24.0), Some(31.0)],
        (_, S::Three) => [None, Some(36.0), Some(42.0), Some(50.0)],
        (_, S::Four) => [None, Some(180.0), Some(216.0), Some(250.0)],
        (_, S::Five) => [None, Some(390.0), Some(480.0), Some(575.0)],
        (_, S::Six) => [None, Some(700.0), Some(840.0), Some(1000.0)],
        (_, S::Eight) => [Some(1400.0), Some(1600.0), Some(1920.0), Some(2300.0)],
    };
    let column = COLUMNS.iter().rposition(|column| at_least(slope, *column))?;
    row.get(column).copied().flatten().map(|most| Sourced::new(most, sources::CAPACITY_DRAIN))
}

/// The UPC's one column; at 1/8 in/ft a drain carries 0.8 of it (from memory of the table's note).
fn uniform_horizontal(size: DrainSize, slope: Ratio) -> Option<Sourced<f64>> {
    use DrainSize as S;
    let most = match size {
        S::OneAndAQuarter | S::OneAndAHalf => 1.0,
        S::Two => 8.0,
        S::TwoAndAHalf => 14.0,
        S::Three => 35.0,
        S::Four => 216.0,
        _ => return None,
    };
    let share = if at_least(slope, 0.25) { 1.0 } else { 0.8 };
    Some(Sourced::new(most * share, sources::CAPACITY_UPC))
}

fn at_least(slope: Ratio, inches: f64) -> bool {
    redtag_schema::quantity::at_least(slope, inches_per_foot(inches))
}
