//! Traps and trap arms.

use super::family::{CodeFamily, DrainSize};
use super::measure::{gallons_per_minute, inches_per_foot};
use super::sources;
use crate::{Source, units};
use uom::si::f64::{Length, Ratio, VolumeRate};

/// What a trap arm may be.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct TrapArm {
    /// Its least slope.
    pub slope: Ratio,
    /// Its greatest developed length to the vent.
    pub length: Length,
    /// Where both come from.
    pub source: Source,
}

/// The trap arm of a trap; `None` where the cell is not known.
pub fn trap_arm(family: CodeFamily, size: DrainSize) -> Option<TrapArm> {
    use DrainSize as S;
    let row = match size {
        S::OneAndAQuarter => 0,
        S::OneAndAHalf => 1,
        S::Two => 2,
        S::Three => 3,
        S::Four => 4,
        _ => return None,
    };
    let (slopes, lengths, source) = match family {
        CodeFamily::Irc | CodeFamily::Ipc => {
            ([0.25, 0.25, 0.25, 0.125, 0.125], [60.0, 72.0, 96.0, 144.0, 192.0], sources::TRAP_ARM_ICC)
        }
        CodeFamily::Upc => ([0.25; 5], [30.0, 42.0, 60.0, 72.0, 120.0], sources::TRAP_ARM_UPC),
        CodeFamily::Massachusetts => return None,
    };
    Some(TrapArm { slope: inches_per_foot(*slopes.get(row)?), length: units::inches(*lengths.get(row)?), source })
}

/// The flow a shower's trap of a size takes. Source: [`sources::TRAP_SIZE`](super::sources::TRAP_SIZE).
pub fn shower_trap_flow(size: DrainSize) -> Option<VolumeRate> {
    Some(gallons_per_minute(match size {
        DrainSize::OneAndAHalf => 5.7,
        DrainSize::Two => 12.3,
        DrainSize::Three => 25.8,
        DrainSize::Four => 55.6,
        _ => return None,
    }))
}
