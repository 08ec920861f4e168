//! The load of a dwelling on its service or on a feeder: the standard and the optional method of NEC Article 220.
//!
//! A [`Dwelling`] lists what there is; [`standard`], [`optional`], [`existing`], [`measured`] and [`managed`] answer a
//! [`Demand`] line by line. Whatever an edition or a jurisdiction changes stands in [`Rates`]. Apparent powers are typed as
//! powers: 1 VA is 1 W here.
//!
//! The figures are those of NEC 2023, sections 220.41 to 220.87, from a transcription of its text, where a line does not
//! say that it is remembered.

mod method;
mod neutral;
mod range;
#[cfg(test)]
mod tests;

pub use method::{existing, managed, measured, optional, optional_applies, standard};
pub use neutral::{Neutral, neutral};
pub use range::{RANGES, range_demand};

use crate::source::Source;
use uom::si::electric_current::ampere;
use uom::si::electric_potential::volt;
use uom::si::f64::{Area, ElectricCurrent, ElectricPotential, Power, Ratio};
use uom::si::power::{kilowatt, watt};
use uom::si::ratio::ratio;

/// What a load is for: the methods count each use in their own way.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Use {
    /// Lights and receptacles of general circuits, small-appliance and laundry circuits: the floor area and the number of
    /// circuits count for them, their own figures do not.
    General,
    /// An appliance fastened in place, or on a circuit of its own; water heaters and pumps too.
    Appliance,
    /// Household cooking equipment.
    Cooking,
    /// A clothes dryer.
    Dryer,
    /// Electric space heating.
    SpaceHeating,
    /// Blowers, burners and circulators of heating that burns fuel; they run with the cooling too.
    HeatingAuxiliary,
    /// Air conditioning.
    Cooling,
    /// The compressor of a heat pump: it heats and it cools.
    HeatPump,
    /// Electric heat that runs with a heat pump.
    SupplementalHeat,
    /// Electric thermal storage.
    ThermalStorage,
    /// Charging of electric vehicles.
    VehicleCharging,
}

/// One load.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Load {
    /// What it is for.
    pub usage: Use,
    /// Its nameplate.
    pub power: Power,
    /// What of it is its largest motor; zero where it has none.
    pub motor: Power,
    /// The power of that motor at its shaft; zero where it is not known.
    pub shaft: Power,
    /// Loads of one group never run together: the largest of them counts.
    pub group: Option<usize>,
    /// Whether it is fastened in place: what is plugged in and moved does not earn the factor of appliances.
    pub fastened: bool,
}

impl Load {
    /// A load without a motor that counts.
    pub fn new(usage: Use, power: Power) -> Self {
        Self { usage, power, motor: Power::default(), shaft: Power::default(), group: None, fastened: true }
    }

    /// A load that is a motor altogether.
    pub fn motor(usage: Use, power: Power) -> Self {
        Self { motor: power, ..Self::new(usage, power) }
    }
}

/// What a calculation covers.
#[derive(Debug, Clone, PartialEq)]
pub struct Dwelling {
    /// Floor area by the outside dimensions, without garages, porches and what cannot be made habitable.
    pub floor_area: Area,
    /// Small-appliance circuits.
    pub small_appliance_circuits: u32,
    /// Laundry circuits.
    pub laundry_circuits: u32,
    /// How many zones of electric heat are controlled apart from each other.
    pub heating_zones: u32,
    /// The loads.
    pub loads: Vec<Load>,
}

impl Default for Dwelling {
    /// A dwelling with the two small-appliance circuits and the laundry circuit every one of them has.
    fn default() -> Self {
        let floor_area = Area::default();
        Self { floor_area, small_appliance_circuits: 2, laundry_circuits: 1, heating_zones: 1, loads: Vec::new() }
    }
}

/// What editions and jurisdictions change.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Rates {
    /// General lighting per square foot.
    pub per_square_foot: Power,
    /// Each small-appliance and each laundry circuit.
    pub per_circuit: Power,
    /// General load that counts in full by the standard method.
    pub first: Power,
    /// General load above which the third factor counts.
    pub second: Power,
    /// Factor between the two.
    pub second_factor: Ratio,
    /// Factor above both.
    pub third_factor: Ratio,
    /// How many appliances fastened in place make the appliance factor count.
    pub appliances: usize,
    /// That factor.
    pub appliance_factor: Ratio,
    /// An appliance below both this and `appliance_shaft` is not one of them.
    pub appliance_power: Power,
    /// The power at the shaft from which a motor is one of them.
    pub appliance_shaft: Power,
    /// The least a dryer counts.
    pub dryer: Power,
    /// The least the charging of vehicles counts; zero before 2023.
    pub vehicle: Power,
    /// Share of the largest motor that is added by the standard method.
    pub largest_motor: Ratio,
    /// Load that counts in full by the optional method.
    pub optional_first: Power,
    /// Load that counts in full by the method for existing dwellings.
    pub existing_first: Power,
    /// Factor above either.
    pub optional_factor: Ratio,
    /// Factor of electric heat in fewer than four zones, and of supplemental heat, by the optional method.
    pub few_zones: Ratio,
    /// Factor of electric heat in four zones and more.
    pub many_zones: Ratio,
    /// How much a measured peak is raised by.
    pub measured_factor: Ratio,
}

impl Default for Rates {
    fn default() -> Self {
        Self {
            per_square_foot: volt_amperes(3.0),
            per_circuit: volt_amperes(1_500.0),
            first: volt_amperes(3_000.0),
            second: volt_amperes(120_000.0),
            second_factor: share(0.35),
            third_factor: share(0.25),
            appliances: 4,
            appliance_factor: share(0.75),
            appliance_power: volt_amperes(500.0),
            // 1/4 hp of 550 ft lbf/s each (NIST SP 811).
            appliance_shaft: Power::new::<watt>(0.25 * 745.699_871_582_270_2),
            dryer: volt_amperes(5_000.0),
            vehicle: volt_amperes(7_200.0),
            largest_motor: share(0.25),
            optional_first: volt_amperes(10_000.0),
            existing_first: volt_amperes(8_000.0),
            optional_factor: share(0.40),
            few_zones: share(0.65),
            many_zones: share(0.40),
            measured_factor: share(1.25),
        }
    }
}

/// A line of a calculation.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Line {
    /// What it counts.
    pub what: &'static str,
    /// What is connected.
    pub connected: Power,
    /// What counts of it.
    pub demand: Power,
    /// Where the figure comes from.
    pub source: Source,
}

/// A load calculation.
#[derive(Debug, Clone, PartialEq)]
pub struct Demand {
    /// Line by line; lines of nothing are left out.
    pub lines: Vec<Line>,
    /// The sum of what counts.
    pub total: Power,
}

impl Demand {
    /// The sum of lines.
    pub fn of(lines: impl IntoIterator<Item = Line>) -> Self {
        let lines: Vec<Line> = lines.into_iter().filter(|line| line.connected > Power::default()).collect();
        let total = lines.iter().fold(Power::default(), |sum, line| sum + line.demand);
        Self { lines, total }
    }

    /// The current at a voltage: line to line for 120/240 V.
    pub fn current(&self, volts: ElectricPotential) -> ElectricCurrent {
        current(self.total, volts)
    }
}

/// An apparent power.
pub fn volt_amperes(number: f64) -> Power {
    Power::new::<watt>(number)
}

/// The power as a number of volt-amperes.
pub fn in_volt_amperes(power: Power) -> f64 {
    power.get::<watt>()
}

/// Single-phase current of an apparent power; zero volts answer zero.
pub fn current(power: Power, volts: ElectricPotential) -> ElectricCurrent {
    let volts = volts.get::<volt>();
    ElectricCurrent::new::<ampere>(if volts > 0.0 { power.get::<watt>() / volts } else { 0.0 })
}

/// Single-phase apparent power of a current.
pub fn apparent(current: ElectricCurrent, volts: ElectricPotential) -> Power {
    Power::new::<watt>(current.get::<ampere>() * volts.get::<volt>())
}

fn share(number: f64) -> Ratio {
    Ratio::new::<ratio>(number)
}

fn kilovolt_amperes(number: f64) -> Power {
    Power::new::<kilowatt>(number)
}
