//! Which way things look.

use crate::At;
use redtag_schema::project::{Compass, Placement};
use std::f64::consts::{FRAC_PI_2, FRAC_PI_4};

/// The bearing a word means; nothing for a word of a later version.
pub fn of_compass(word: Compass) -> Option<f64> {
    let eighth = match word {
        Compass::North => 0.0,
        Compass::Northeast => 1.0,
        Compass::East => 2.0,
        Compass::Southeast => 3.0,
        Compass::South => 4.0,
        Compass::Southwest => 5.0,
        Compass::West => 6.0,
        Compass::Northwest => 7.0,
        Compass::Unrecognised => return None,
    };
    Some(eighth * FRAC_PI_4)
}

/// The bearing of a body's front: its word, else its angle. A document whose word and angle disagree is refused before anybody
/// asks.
pub fn front(placement: &Placement) -> Option<f64> {
    placement.facing.and_then(of_compass).or_else(|| placement.bearing.as_ref().map(|bearing| bearing.si()))
}

/// The unit vector of a bearing. Quarter turns are exact.
pub fn direction(bearing: f64) -> At {
    let quarters = bearing / FRAC_PI_2;
    if (quarters - quarters.round()).abs() < 1e-12 {
        return match quarters.round().rem_euclid(4.0) as u8 {
            0 => [0.0, 1.0],
            1 => [1.0, 0.0],
            2 => [0.0, -1.0],
            _ => [-1.0, 0.0],
        };
    }
    [libm::sin(bearing), libm::cos(bearing)]
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn words_and_angles_look_the_same_way() {
        for (word, degrees) in
            [(Compass::North, 0.0), (Compass::Southeast, 135.0), (Compass::West, -90.0), (Compass::West, 270.0_f64)]
        {
            let (one, two) = (direction(of_compass(word).unwrap()), direction(degrees.to_radians()));
            assert!((one[0] - two[0]).abs() < 1e-12 && (one[1] - two[1]).abs() < 1e-12, "{word:?}");
        }
        assert_eq!(of_compass(Compass::Unrecognised), None);
    }
}
