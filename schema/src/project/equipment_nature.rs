//! What the kinds of equipment are by nature: what a rule may take for granted when nothing but the kind is said.
//!
//! A kind that is named wakes every rule its nature concerns. What may or may not be so is asked; it is never taken for the
//! lenient answer.

use super::EquipmentKind;

/// How far a kind settles a question.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Settled {
    /// Everything of this kind does.
    Always,
    /// Some do and some do not: the file has to say.
    Sometimes,
    /// Nothing of this kind does.
    Never,
}

/// What a kind of equipment is by nature.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Nature {
    /// Whether it burns fuel.
    pub burns_fuel: Settled,
    /// Whether it holds or leads water.
    pub holds_water: Settled,
    /// Whether it is joined to the wiring of the building or is a part of it.
    pub electrical: Settled,
    /// Whether what it burnt, or its moist air, has to be led outdoors by a vent or duct of its own.
    pub vented: Settled,
    /// Whether it keeps energy that can do harm while everything is shut off: charge, pressure, fuel.
    pub stores_energy: Settled,
    /// Whether it moves the air of rooms.
    pub moves_air: Settled,
    /// Why no rule asks anything of it when it stands alone in a room and in nobody's way.
    pub nothing_asked: Option<&'static str>,
}

const A: Settled = Settled::Always;
const S: Settled = Settled::Sometimes;
const N: Settled = Settled::Never;

macro_rules! natures {
    ($($kind:ident: $burns:ident $water:ident $wired:ident $vented:ident $energy:ident $air:ident $($why:literal)?;)+) => {
        impl EquipmentKind {
            /// What a thing of this kind is by nature. Of a word of a later version nothing is known.
            pub const fn nature(self) -> Nature {
                #[allow(unused_assignments, unused_mut)] // A kind that is asked about has no reason to give.
                match self {
                    $(Self::$kind => {
                        let mut why = None;
                        $(why = Some($why);)?
                        Nature {
                            burns_fuel: $burns,
                            holds_water: $water,
                            electrical: $wired,
                            vented: $vented,
                            stores_energy: $energy,
                            moves_air: $air,
                            nothing_asked: why,
                        }
                    })+
                    Self::Unrecognised => Nature {
                        burns_fuel: S, holds_water: S, electrical: S, vented: S, stores_energy: S, moves_air: S, nothing_asked: None,
                    },
                }
            }
        }
    };
}

natures! {
    // kind                  burns water wired vented energy air
    Furnace:                  S N A S N A;
    AirHandler:               N N A N N A;
    Boiler:                   S A A S N N;
    HeatPump:                 N N A N N S;
    AirConditioner:           N N A N N S;
    UnitHeater:               S N S S N A;
    RoomHeater:               S N S S N S;
    WallFurnace:              S N S S N S;
    GasFireplace:             A N S S N S;
    StorageWaterHeater:       S A S S N N;
    TanklessWaterHeater:      S A S S N N;
    HeatPumpWaterHeater:      N A A N N S;
    IndirectWaterHeater:      N A S N N N;
    PoolHeater:               S A S S N N;
    Range:                    S N S N N N;
    ClothesDryer:             S N A S N A;
    ClothesWasher:            N A A N N N;
    Dishwasher:               N A A N N N;
    Refrigerator:             S S S N N N;
    Grill:                    S N S N N N;
    SolidFuelHeater:          A S S A N S;
    OilHeater:                A S S A N S;
    WaterSoftener:            N A S N N N;
    BrineTank:                N A N N N N;
    IronFilter:               N A S N N N;
    SedimentFilter:           N A N N N N;
    CarbonFilter:             N A S N N N;
    AcidNeutralizer:          N A S N N N;
    UltravioletDisinfection:  N A A N N N;
    ReverseOsmosis:           N A S N N N;
    PressureTank:             N A N N A N;
    ExpansionTank:            N A N N A N;
    BufferTank:               N A S N N N;
    Cistern:                  N A N N N N;
    WellController:           N N A N N N;
    Pump:                     N S A N N N;
    Circulator:               N A A N N N;
    Panel:                    N N A N N N;
    ElectricMeter:            N N A N N N;
    Disconnect:               N N A N N N;
    TransferSwitch:           N N A N N N;
    MicrogridInterconnect:    N N A N N N;
    Inverter:                 N N A N S N;
    Battery:                  N N A N A N;
    ChargeController:         N N A N N N;
    Generator:                A N A A N N;
    GeneratorInlet:           N N A N N N "it is a plug on a wall: the transfer equipment behind it is asked about";
    SolarArray:               N N A N N N;
    VehicleCharger:           N N A N N N;
    PullBox:                  N N A N N N;
    GasMeter:                 N N N N N N;
    GasManifold:              N N N N N N;
    GasRegulator:             N N N S N N;
    GasContainer:             N N N S A N;
    FloorDrain:               N S N N N N;
    Sump:                     N A S N N N;
    Sink:                     N A N N N N;
    HeatRecoveryVentilator:   N S A A N A;
    EnergyRecoveryVentilator: N S A A N A;
    ExhaustFan:               N N A A N A;
    CombustionAirFan:         N N A N N A;
    Dehumidifier:             N A A N N A;
    Humidifier:               N A S N N S;
    Machine:                  N N A N N N;
    FixedObject:              N N N N N N "it is only in the way: the rules of free space look at it where it has a place";
    Other:                    S S S S S S;
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_kind_without_any_nature_says_why_nothing_is_asked() {
        for kind in EquipmentKind::ALL {
            let it = kind.nature();
            let plain = [it.burns_fuel, it.holds_water, it.electrical, it.vented, it.stores_energy, it.moves_air]
                .iter()
                .all(|one| *one == N);
            let gas = matches!(kind, EquipmentKind::GasMeter | EquipmentKind::GasManifold | EquipmentKind::GasRegulator);
            assert!(!plain || gas || it.nothing_asked.is_some(), "{kind}");
            assert!(it.vented != A || it.burns_fuel != N || it.moves_air == A, "{kind} vents nothing");
        }
    }
}
