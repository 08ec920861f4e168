//! Drainage fixture units.

use super::family::{CodeFamily, DrainSize};
use super::measure::in_gallons_per_minute;
use super::sources;
use crate::Sourced;
use uom::si::f64::VolumeRate;

/// What loads a drain.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum FixtureLoad {
    /// A bar sink.
    BarSink,
    /// A bathtub.
    Bathtub,
    /// A bidet.
    Bidet,
    /// A clothes washer's standpipe.
    ClothesWasher,
    /// A dishwasher.
    Dishwasher,
    /// A kitchen sink.
    KitchenSink,
    /// A lavatory.
    Lavatory,
    /// A laundry tub.
    LaundryTub,
    /// A shower.
    Shower,
    /// A water closet of 1.6 gal a flush.
    WaterCloset,
    /// A floor drain, before what discharges into it.
    FloorDrain,
}

/// Its drainage fixture units; `None` where the family's row is not known here.
pub fn fixture_units(family: CodeFamily, load: FixtureLoad) -> Option<Sourced<f64>> {
    use FixtureLoad as F;
    match family {
        CodeFamily::Irc | CodeFamily::Ipc => {
            let known_of_both = !matches!(load, F::BarSink | F::Bidet | F::FloorDrain);
            let units = match load {
                F::BarSink | F::Bidet | F::Lavatory => 1.0,
                F::Bathtub | F::ClothesWasher | F::Dishwasher | F::KitchenSink | F::LaundryTub | F::Shower => 2.0,
                F::WaterCloset => 3.0,
                F::FloorDrain if family == CodeFamily::Ipc => 2.0,
                F::FloorDrain => 0.0,
            };
            let known = known_of_both || family == CodeFamily::Irc || load == F::FloorDrain;
            known.then_some(Sourced::new(units, sources::UNITS_IRC))
        }
        CodeFamily::Upc => {
            let units = match load {
                F::BarSink | F::Lavatory => 1.0,
                F::Bathtub | F::Dishwasher | F::KitchenSink | F::LaundryTub | F::Shower => 2.0,
                F::ClothesWasher | F::WaterCloset => 3.0,
                F::FloorDrain => 2.0,
                F::Bidet => return None,
            };
            Some(Sourced::new(units, sources::UNITS_UPC))
        }
        CodeFamily::Massachusetts => None,
    }
}

/// Units of an intermittent flow by the UPC's classes; `None` above 50 gpm, where the authority decides. A flow between two
/// classes counts as the larger. Source: [`sources::UNITS_INTERMITTENT`](super::sources::UNITS_INTERMITTENT).
pub fn intermittent_flow_units(flow: VolumeRate) -> Option<f64> {
    let gpm = in_gallons_per_minute(flow);
    let classes = [(7.5, 1.0), (15.0, 2.0), (30.0, 4.0), (50.0, 6.0)];
    classes.into_iter().find(|(most, _)| gpm <= most + 1e-9).map(|(_, units)| units)
}

/// Units of a fixture no table lists, by its trap (from memory of IPC Table 709.2).
pub fn trap_size_units(size: DrainSize) -> Option<f64> {
    Some(match size {
        DrainSize::OneAndAQuarter => 1.0,
        DrainSize::OneAndAHalf => 2.0,
        DrainSize::Two => 3.0,
        DrainSize::TwoAndAHalf => 4.0,
        DrainSize::Three => 5.0,
        DrainSize::Four => 6.0,
        _ => return None,
    })
}
