//! The dimensions as types, so that a field of the project can be only one of them.

use super::Kind;
use std::marker::PhantomData;
use uom::si::{ISQ, Quantity, SI};
use uom::typenum::{N1, P1, P3, Z0};

/// Thermal insulance, square metre kelvins per watt: the reciprocal of `uom`'s heat transfer coefficient, which has no
/// name of its own there.
pub type ThermalInsulance = Quantity<ISQ<Z0, N1, P3, Z0, P1, Z0, Z0>, SI<f64>, f64>;

/// What an [`Amount`](super::Amount) measures.
pub trait Dimension: sealed::Sealed + 'static {
    /// The same dimension as a value.
    const KIND: Kind;
    /// The `uom` type that formulas calculate with.
    type Quantity;
    /// The `uom` quantity of a number in SI base units.
    fn quantity(si: f64) -> Self::Quantity;
    /// The number in SI base units of a `uom` quantity.
    fn si(quantity: &Self::Quantity) -> f64;
}

mod sealed {
    pub trait Sealed {}
}

macro_rules! dimensions {
    ($($name:ident => $quantity:ty),+ $(,)?) => {
        /// One empty type per dimension: the parameter of [`Amount`](super::Amount).
        pub mod dimensions {
            $(
                #[doc = concat!("The dimension of [`", stringify!($name), "`](super::super::", stringify!($name), ").")]
                #[derive(Debug, Clone, Copy, PartialEq, Eq)]
                pub enum $name {}
            )+
        }
        $(
            impl sealed::Sealed for dimensions::$name {}
            impl Dimension for dimensions::$name {
                const KIND: Kind = Kind::$name;
                type Quantity = $quantity;
                fn quantity(si: f64) -> Self::Quantity {
                    Quantity { dimension: PhantomData, units: PhantomData, value: si }
                }
                fn si(quantity: &Self::Quantity) -> f64 {
                    quantity.value
                }
            }
        )+
    };
}

// Heat per volume has the dimension of a pressure, and `uom` gives both one type; likewise volt-amperes and watts.
dimensions! {
    Length => uom::si::f64::Length,
    Position => uom::si::f64::Length,
    Area => uom::si::f64::Area,
    Volume => uom::si::f64::Volume,
    Power => uom::si::f64::Power,
    ApparentPower => uom::si::f64::Power,
    Pressure => uom::si::f64::Pressure,
    VolumeFlow => uom::si::f64::VolumeRate,
    Temperature => uom::si::f64::ThermodynamicTemperature,
    TemperatureDifference => uom::si::f64::TemperatureInterval,
    Energy => uom::si::f64::Energy,
    Slope => uom::si::f64::Ratio,
    Ratio => uom::si::f64::Ratio,
    AirChangeRate => uom::si::f64::Frequency,
    Current => uom::si::f64::ElectricCurrent,
    Voltage => uom::si::f64::ElectricPotential,
    Charge => uom::si::f64::ElectricCharge,
    Mass => uom::si::f64::Mass,
    Angle => uom::si::f64::Angle,
    Duration => uom::si::f64::Time,
    HeatingValue => uom::si::f64::Pressure,
    Velocity => uom::si::f64::Velocity,
    ThermalResistance => ThermalInsulance,
    Resistance => uom::si::f64::ElectricalResistance,
    Frequency => uom::si::f64::Frequency,
    Concentration => uom::si::f64::MassConcentration,
}
