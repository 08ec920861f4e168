//! Flow and flowing pressure an outlet needs at least. Source: [`sources::OUTLETS`](super::sources::OUTLETS).

use super::Outlet;
use super::measure::gallons_per_minute;
use crate::units;
use uom::si::f64::{Pressure, VolumeRate};

/// The least flow and pressure at an outlet; `None` where the table has no line for it. A shower or tub behind a valve that balances
/// pressure or works by thermostat needs more pressure.
pub fn outlet_needs(outlet: Outlet, balanced: bool) -> Option<(VolumeRate, Pressure)> {
    let (gpm, psi) = match outlet {
        Outlet::Bathtub => (4.0, 20.0),
        Outlet::Dishwasher => (2.75, 8.0),
        Outlet::LaundryTub => (4.0, 8.0),
        Outlet::Lavatory => (0.8, 8.0),
        Outlet::Shower if balanced => (2.5, 20.0),
        Outlet::Shower => (2.5, 8.0),
        Outlet::HoseBibb | Outlet::AnotherHoseBibb => (5.0, 8.0),
        Outlet::KitchenSink => (1.75, 8.0),
        Outlet::WaterCloset => (3.0, 20.0),
        _ => return None,
    };
    Some((gallons_per_minute(gpm), units::psi(psi)))
}
