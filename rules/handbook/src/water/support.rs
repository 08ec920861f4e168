//! How far apart a water pipe must be held. Source: [`sources::SUPPORT`](super::sources::SUPPORT).

use super::TubeKind;
use crate::units;
use uom::si::f64::Length;

/// Greatest distances between supports.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Support {
    /// Where the pipe runs level.
    pub level: Length,
    /// Where it runs upright.
    pub upright: Length,
}

/// The spacing of a pipe; `None` for what is not known.
pub fn support_spacing(kind: TubeKind, steel: bool, size: Length) -> Option<Support> {
    let inches = units::in_inches(size);
    let small = inches < 1.01;
    let (level, upright) = match kind {
        TubeKind::CopperK | TubeKind::CopperL | TubeKind::CopperM if inches < 1.26 => (units::feet(6.0), units::feet(10.0)),
        TubeKind::CopperK | TubeKind::CopperL | TubeKind::CopperM => (units::feet(10.0), units::feet(10.0)),
        TubeKind::Pex => (if small { units::inches(32.0) } else { units::feet(4.0) }, units::feet(10.0)),
        TubeKind::Cpvc => (if small { units::feet(3.0) } else { units::feet(4.0) }, units::feet(10.0)),
        TubeKind::Schedule40 if steel => (units::feet(12.0), units::feet(15.0)),
        TubeKind::Schedule40 => (units::feet(4.0), units::feet(10.0)),
        TubeKind::Polyethylene => return None,
    };
    Some(Support { level, upright })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::units::{feet, inches};

    #[test]
    fn what_is_not_known_stays_unknown() {
        assert_eq!(support_spacing(TubeKind::CopperL, false, inches(1.25)).map(|support| support.level), Some(feet(6.0)));
        assert_eq!(support_spacing(TubeKind::Pex, false, inches(1.0)).map(|support| support.level), Some(inches(32.0)));
        assert_eq!(support_spacing(TubeKind::Polyethylene, false, inches(1.0)), None);
    }
}
