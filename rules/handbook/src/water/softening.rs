//! How much hardness comes, and how long a softener holds out.

/// Hardness with iron counted in, grains per gallon; iron in milligrams per liter. Source:
/// [`sources::SOFTENING`](super::sources::SOFTENING).
pub fn compensated_hardness(grains_per_gallon: f64, iron: f64, grains_for_iron: f64) -> f64 {
    grains_per_gallon + grains_for_iron * iron
}

/// Grains that come in a day.
pub fn hardness_per_day(people: f64, gallons_a_day: f64, grains_per_gallon: f64) -> f64 {
    people * gallons_a_day * grains_per_gallon
}

/// Days from one regeneration to the next; `None` where no hardness comes.
pub fn days_between(capacity: f64, grains_a_day: f64) -> Option<f64> {
    (grains_a_day > 0.0).then(|| capacity / grains_a_day)
}

/// Grains one cubic foot of resin gives back for so many pounds of salt, in a straight line between the printed ones; `None` outside
/// them. Source: [`sources::EXCHANGE`](super::sources::EXCHANGE).
pub fn exchange_capacity(pounds_of_salt: f64) -> Option<f64> {
    const LINES: [(f64, f64); 5] = [(6.0, 21_000.0), (7.5, 22_000.0), (8.0, 24_000.0), (10.0, 25_000.0), (15.0, 30_000.0)];
    let pair = LINES.windows(2).find(|pair| (pair[0].0..=pair[1].0).contains(&pounds_of_salt))?;
    let ((from, low), (to, high)) = (pair[0], pair[1]);
    Some(low + (high - low) * (pounds_of_salt - from) / (to - from))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn outside_the_printed_lines_nothing_is_known() {
        assert_eq!(exchange_capacity(8.0), Some(24_000.0));
        assert_eq!((exchange_capacity(5.9), exchange_capacity(15.1)), (None, None));
        assert_eq!(days_between(36_000.0, 0.0), None);
    }
}
