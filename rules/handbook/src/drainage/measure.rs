//! Units drainage is reckoned in.

use uom::si::f64::{Ratio, Time, Volume, VolumeRate};
use uom::si::{ratio, time, volume, volume_rate};

/// The gallon is 231 in³ (NIST SP 811, appendix B).
const GALLON: f64 = 231.0 * 0.0254 * 0.0254 * 0.0254;

/// A volume in gallons.
pub fn gallons(number: f64) -> Volume {
    Volume::new::<volume::cubic_meter>(number * GALLON)
}

/// The volume as a number of gallons.
pub fn in_gallons(volume: Volume) -> f64 {
    volume.get::<volume::cubic_meter>() / GALLON
}

/// A flow in gallons per minute.
pub fn gallons_per_minute(number: f64) -> VolumeRate {
    VolumeRate::new::<volume_rate::cubic_meter_per_second>(number * GALLON / 60.0)
}

/// The flow as a number of gallons per minute.
pub fn in_gallons_per_minute(flow: VolumeRate) -> f64 {
    flow.get::<volume_rate::cubic_meter_per_second>() * 60.0 / GALLON
}

/// A slope in inches per foot.
pub fn inches_per_foot(number: f64) -> Ratio {
    Ratio::new::<ratio::ratio>(number / 12.0)
}

/// A time in minutes.
pub fn minutes(number: f64) -> Time {
    Time::new::<time::second>(number * 60.0)
}
