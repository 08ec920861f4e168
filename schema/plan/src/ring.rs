//! Closed lines: what they enclose and what lies in them.

use crate::At;

/// The area a ring encloses, positive where it runs counterclockwise, by the shoelace formula.
pub fn signed_area(ring: &[At]) -> f64 {
    let next = ring.iter().cycle().skip(1);
    ring.iter().zip(next).map(|(a, b)| a[0] * b[1] - b[0] * a[1]).sum::<f64>() / 2.0
}

/// The area a ring encloses, whichever way it runs.
pub fn area(ring: &[At]) -> f64 {
    signed_area(ring).abs()
}

/// Whether a place lies in a ring: an odd number of its sides lies east of it. A place on a side may count either way.
pub fn contains(ring: &[At], at: At) -> bool {
    let next = ring.iter().cycle().skip(1);
    let crossed = ring
        .iter()
        .zip(next)
        .filter(|(a, b)| (a[1] > at[1]) != (b[1] > at[1]) && at[0] < (b[0] - a[0]) * (at[1] - a[1]) / (b[1] - a[1]) + a[0]);
    ring.len() >= 3 && crossed.count() % 2 == 1
}

/// Distance of a place from the nearest side of a ring; infinite where the ring has no side.
pub fn distance_to_edge(ring: &[At], at: At) -> f64 {
    let sides = ring.iter().zip(ring.iter().cycle().skip(1));
    sides.map(|(a, b)| to_line(*a, *b, at)).fold(f64::INFINITY, f64::min)
}

fn to_line(a: At, b: At, at: At) -> f64 {
    let (ex, ey, px, py) = (b[0] - a[0], b[1] - a[1], at[0] - a[0], at[1] - a[1]);
    let share = ((px * ex + py * ey) / (ex * ex + ey * ey).max(1e-18)).clamp(0.0, 1.0);
    let (dx, dy) = (px - ex * share, py - ey * share);
    (dx * dx + dy * dy).sqrt()
}

#[cfg(test)]
mod tests {
    use super::*;

    /// An L: 4 by 3 without the 2 by 1 in its northeast.
    const ELL: [At; 6] = [[0.0, 0.0], [4.0, 0.0], [4.0, 2.0], [2.0, 2.0], [2.0, 3.0], [0.0, 3.0]];

    #[test]
    fn a_ring_encloses_its_area_whichever_way_it_runs() {
        let mut back = ELL;
        back.reverse();
        assert_eq!((signed_area(&ELL), signed_area(&back), area(&back)), (10.0, -10.0, 10.0));
        assert_eq!((area(&[]), area(&ELL[..2])), (0.0, 0.0));
    }

    #[test]
    fn what_lies_in_the_notch_lies_outside() {
        assert!(contains(&ELL, [1.0, 2.5]) && contains(&ELL, [3.0, 1.0]));
        assert!(!contains(&ELL, [3.0, 2.5]) && !contains(&ELL, [-0.1, 1.0]) && !contains(&ELL[..2], [1.0, 0.0]));
        assert!((distance_to_edge(&ELL, [3.0, 2.5]) - 0.5).abs() < 1e-12 && distance_to_edge(&[], [0.0, 0.0]).is_infinite());
    }
}
