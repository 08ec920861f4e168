//! What a sloping pipe carries, full and part full.

use uom::si::f64::{Area, Length, Ratio, Velocity, VolumeRate};
use uom::si::{area, length, ratio, velocity, volume_rate};

/// Water in a pipe that is not full.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PartFull {
    /// What flows.
    pub flow: VolumeRate,
    /// How fast.
    pub velocity: Velocity,
    /// Its cross-section.
    pub area: Area,
}

/// Flow in a pipe filled to a share of its diameter, by Manning's formula. `roughness` is n.
/// Source: [`sources::MANNING`](super::sources::MANNING).
pub fn part_full(diameter: Length, fill: f64, slope: Ratio, roughness: f64) -> PartFull {
    let d = diameter.get::<length::meter>();
    let fill = fill.clamp(0.0, 1.0);
    let theta = 2.0 * libm::acos(1.0 - 2.0 * fill);
    let (wet, perimeter) = (d * d / 8.0 * (theta - libm::sin(theta)), d * theta / 2.0);
    let radius = if perimeter > 0.0 { wet / perimeter } else { 0.0 };
    let slope = slope.get::<ratio::ratio>().max(0.0);
    let speed = if roughness > 0.0 { libm::pow(radius, 2.0 / 3.0) * slope.sqrt() / roughness } else { 0.0 };
    PartFull {
        flow: VolumeRate::new::<volume_rate::cubic_meter_per_second>(wet * speed),
        velocity: Velocity::new::<velocity::meter_per_second>(speed),
        area: Area::new::<area::square_meter>(wet),
    }
}

/// Flow in a full pipe.
pub fn full_flow(diameter: Length, slope: Ratio, roughness: f64) -> VolumeRate {
    part_full(diameter, 1.0, slope, roughness).flow
}

/// The share of the diameter at which a pipe carries a flow; `None` where it cannot without being pressed. The most a pipe
/// carries is at 0.938 of its diameter.
pub fn fill_carrying(diameter: Length, slope: Ratio, roughness: f64, flow: VolumeRate) -> Option<f64> {
    const FULLEST: f64 = 0.938;
    if part_full(diameter, FULLEST, slope, roughness).flow < flow {
        return None;
    }
    let (mut low, mut high) = (0.0, FULLEST);
    for _ in 0..60 {
        let middle = (low + high) / 2.0;
        if part_full(diameter, middle, slope, roughness).flow < flow { low = middle } else { high = middle }
    }
    Some(high)
}
