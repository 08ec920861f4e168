//! Flows, velocities and leakage.

use crate::units::{cubic_feet_per_minute, feet, in_feet, in_inches_of_water, inches_of_water};
use redtag_schema::quantity::at_least;
use uom::si::f64::{Area, Length, Pressure, Ratio, Velocity, VolumeRate};

/// Velocity in the face of filters that lie side by side in a flow; `None` where they have no face.
pub fn face_velocity(flow: VolumeRate, width: Length, height: Length, filters: u32) -> Option<Velocity> {
    let face: Area = width * height * f64::from(filters);
    (face.value > 0.0).then(|| flow / face)
}

/// Air a conditioned crawl space needs: one cfm for each `per` of floor.
pub fn crawl_space_air(floor: Area, per: Area) -> VolumeRate {
    cubic_feet_per_minute((floor / per).value)
}

/// Water a dehumidifier must take out of a crawl space: `pints` in a day for each `per` of floor.
pub fn dehumidification(floor: Area, pints: f64, per: Area) -> VolumeRate {
    let day = uom::si::f64::Time::new::<uom::si::time::day>(1.0);
    let pint = uom::si::f64::Volume::new::<uom::si::volume::pint_liquid>(pints);
    pint / day * (floor / per).value
}

/// Pressure a duct system may lose in 100 ft: what the fan leaves over for it, over its total equivalent length. `None` for no
/// length.
pub fn friction_rate(available: Pressure, length: Length) -> Option<Pressure> {
    let feet = in_feet(length);
    (feet > 0.0).then(|| inches_of_water(in_inches_of_water(available) * 100.0 / feet))
}

/// Leakage a system may have at 25 Pa: a flow for each 100 ft2 of conditioned floor.
pub fn leakage_limit(floor: Area, per_hundred: VolumeRate) -> VolumeRate {
    per_hundred * (floor / (feet(10.0) * feet(10.0))).value
}

/// Whether make-up air comes close enough to what is exhausted.
pub fn make_up_share(make_up: VolumeRate, exhaust: VolumeRate, share: Ratio) -> bool {
    at_least(make_up, exhaust * share)
}

/// Air a room gains and loses.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct NetAir {
    /// Supplied to it.
    pub supply: VolumeRate,
    /// Taken back from it.
    pub returned: VolumeRate,
    /// Exhausted from it.
    pub exhaust: VolumeRate,
}

impl NetAir {
    /// What it gains; below zero it is drawn on, and so is every vent in it.
    pub fn gain(&self) -> VolumeRate {
        self.supply - self.returned - self.exhaust
    }
}
