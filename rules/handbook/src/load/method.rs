//! The methods.

use super::{Demand, Dwelling, Line, Load, RANGES, Rates, Use, apparent, in_volt_amperes, range_demand};
use crate::source::Source;
use crate::units::in_square_inches;
use uom::si::f64::{ElectricCurrent, ElectricPotential, Power, Ratio};

const GENERAL: Source = Source::new("NEC 220.41, 220.52 of 2023 (220.12, 220.52 before)");
const GENERAL_DEMAND: Source = Source::new("NEC Table 220.45 of 2023 (220.42 before); rows from memory");
const APPLIANCES: Source = Source::new("NEC 220.53");
const DRYERS: Source = Source::new("NEC 220.54");
const HEAT: Source = Source::new("NEC 220.51, 220.60");
const VEHICLES: Source = Source::new("NEC 220.57 of 2023");
const MOTOR: Source = Source::new("NEC 220.50, 430.24");
const OPTIONAL: Source = Source::new("NEC 220.82");
const EXISTING: Source = Source::new("NEC 220.83, from memory for heat and cooling that are added");
const MEASURED: Source = Source::new("NEC 220.87");
const MANAGED: Source = Source::new("NEC 220.70 of 2023");

/// The standard method, part III. `None` where a row of a table it needs is not known.
pub fn standard(dwelling: &Dwelling, rates: &Rates) -> Option<Demand> {
    let loads = coincident(&dwelling.loads);
    let sum = |usage| of(&loads, usage);
    let (heating, cooling) = seasons(&loads);
    let weather = if heating > cooling { heating } else { cooling };
    let mut lines = Vec::from(general(dwelling, rates));
    let connected = lines.iter().fold(Power::default(), |total, line| total + line.connected);
    // The floor area and the circuits share one factor, so that they are said once connected and once by what counts.
    lines = vec![Line {
        what: "lighting, receptacles, small appliances, laundry",
        connected,
        demand: tiers(connected, rates),
        source: GENERAL_DEMAND,
    }];
    lines.extend(appliances(&loads, rates));
    lines.extend([
        full("clothes dryers", dryers(&loads, rates), DRYERS),
        cooking(&loads)?,
        full("heating with fuel: blowers, burners, circulators", sum(Use::HeatingAuxiliary), HEAT),
        full(
            if heating > cooling { "electric heat, more than the cooling" } else { "cooling, not less than the electric heat" },
            weather,
            HEAT,
        ),
        full("charging of vehicles", vehicles(&loads, rates), VEHICLES),
    ]);
    let largest = largest_motor(&loads, heating > cooling);
    lines.push(Line { what: "largest motor, added", connected: largest, demand: largest * rates.largest_motor, source: MOTOR });
    Some(Demand::of(lines))
}

/// Whether the optional method may be used: a dwelling on a three-wire service or feeder of 100 A at least.
pub fn optional_applies(rating: ElectricCurrent) -> bool {
    redtag_schema::quantity::at_least(rating, ElectricCurrent::new::<uom::si::electric_current::ampere>(100.0))
}

/// The optional method for one dwelling unit (220.82).
pub fn optional(dwelling: &Dwelling, rates: &Rates) -> Demand {
    let loads = coincident(&dwelling.loads);
    let connected = counted_together(dwelling, &loads, rates);
    let (what, weather, demand) = weather(&loads, dwelling.heating_zones, rates);
    let above = excess(connected, rates.optional_first);
    Demand::of([
        full("general load, the first part in full", connected - above, OPTIONAL),
        Line { what: "general load, the rest", connected: above, demand: above * rates.optional_factor, source: OPTIONAL },
        Line { what, connected: weather, demand, source: OPTIONAL },
    ])
}

/// The method for an existing dwelling that gets more load (220.83). `conditioning_added` says whether heat or cooling is part
/// of what is added: then it counts in full, but for heat in four zones and more.
pub fn existing(dwelling: &Dwelling, rates: &Rates, conditioning_added: bool) -> Demand {
    let loads = coincident(&dwelling.loads);
    let mut connected = counted_together(dwelling, &loads, rates);
    let (heating, cooling) = seasons(&loads);
    let weather = if heating > cooling { heating } else { cooling };
    let apart = conditioning_added && !(heating > cooling && dwelling.heating_zones >= 4);
    if !apart {
        connected += weather;
    }
    let above = excess(connected, rates.existing_first);
    Demand::of([
        full("the first part in full", connected - above, EXISTING),
        Line { what: "the rest", connected: above, demand: above * rates.optional_factor, source: EXISTING },
        full("heat or cooling", if apart { weather } else { Power::default() }, EXISTING),
    ])
}

/// An existing dwelling by its recorded peak, and what is added to it (220.87).
pub fn measured(peak: Power, added: Power, rates: &Rates) -> Demand {
    Demand::of([
        Line { what: "recorded peak", connected: peak, demand: peak * rates.measured_factor, source: MEASURED },
        full("what is added", added, MEASURED),
    ])
}

/// What a system that manages load counts: its set point, whatever stands behind it (220.70). It is a continuous load.
pub fn managed(set_point: ElectricCurrent, volts: ElectricPotential) -> Demand {
    Demand::of([full("set point of the load management", apparent(set_point, volts), MANAGED)])
}

fn full(what: &'static str, connected: Power, source: Source) -> Line {
    Line { what, connected, demand: connected, source }
}

fn excess(power: Power, limit: Power) -> Power {
    if power > limit { power - limit } else { Power::default() }
}

fn of(loads: &[Load], usage: Use) -> Power {
    loads.iter().filter(|load| load.usage == usage).fold(Power::default(), |sum, load| sum + load.power)
}

/// Of the loads that never run together, the largest.
fn coincident(loads: &[Load]) -> Vec<Load> {
    let beaten = |index: usize, load: &Load| {
        load.group.is_some()
            && loads.iter().enumerate().any(|(other_index, other)| {
                other.group == load.group && (other.power > load.power || (other.power == load.power && other_index < index))
            })
    };
    loads.iter().enumerate().filter(|(index, load)| !beaten(*index, load)).map(|(_, load)| *load).collect()
}

fn general(dwelling: &Dwelling, rates: &Rates) -> [Line; 2] {
    let square_feet = in_square_inches(dwelling.floor_area) / 144.0;
    let circuits = f64::from(dwelling.small_appliance_circuits) + f64::from(dwelling.laundry_circuits);
    [
        full("lighting and receptacles", rates.per_square_foot * square_feet, GENERAL),
        full("small appliances and laundry", rates.per_circuit * circuits, GENERAL),
    ]
}

fn tiers(connected: Power, rates: &Rates) -> Power {
    let third = excess(connected, rates.second);
    let second = excess(connected - third, rates.first);
    (connected - second - third) + second * rates.second_factor + third * rates.third_factor
}

/// Appliances fastened in place: those large enough share a factor where there are enough of them.
fn appliances(loads: &[Load], rates: &Rates) -> [Line; 2] {
    let fastened = || loads.iter().filter(|load| load.usage == Use::Appliance);
    let large = |load: &&Load| load.fastened && (load.power >= rates.appliance_power || load.shaft >= rates.appliance_shaft);
    let sum = |loads: Vec<&Load>| loads.iter().fold(Power::default(), |sum, load| sum + load.power);
    let (counted, rest): (Vec<&Load>, Vec<&Load>) = fastened().partition(large);
    let factor = if counted.len() >= rates.appliances { rates.appliance_factor } else { super::share(1.0) };
    let connected = sum(counted);
    [
        Line { what: "appliances fastened in place", connected, demand: connected * factor, source: APPLIANCES },
        full("small appliances fastened in place", sum(rest), APPLIANCES),
    ]
}

fn raised(loads: &[Load], usage: Use, least: Power) -> Power {
    let each = loads.iter().filter(|load| load.usage == usage).map(|load| if load.power > least { load.power } else { least });
    each.fold(Power::default(), |sum, power| sum + power)
}

/// Up to four dryers count in full; more than a dwelling has are not known here and count in full too.
fn dryers(loads: &[Load], rates: &Rates) -> Power {
    raised(loads, Use::Dryer, rates.dryer)
}

fn vehicles(loads: &[Load], rates: &Rates) -> Power {
    raised(loads, Use::VehicleCharging, rates.vehicle)
}

fn cooking(loads: &[Load]) -> Option<Line> {
    let nameplates: Vec<Power> = loads.iter().filter(|load| load.usage == Use::Cooking).map(|load| load.power).collect();
    let connected = of(loads, Use::Cooking);
    Some(Line { what: "cooking", connected, demand: range_demand(&nameplates)?, source: RANGES })
}

const WARM: [Use; 4] = [Use::SpaceHeating, Use::HeatPump, Use::SupplementalHeat, Use::ThermalStorage];
const COLD: [Use; 2] = [Use::Cooling, Use::HeatPump];

/// Heating and cooling never run together: what each draws.
fn seasons(loads: &[Load]) -> (Power, Power) {
    let sum = |uses: &[Use]| uses.iter().fold(Power::default(), |sum, usage| sum + of(loads, *usage));
    (sum(&WARM), sum(&COLD))
}

/// The largest motor of what counts: cooling does not where the heat is larger, nor the other way round.
fn largest_motor(loads: &[Load], warm: bool) -> Power {
    let left_out = |usage: Use| {
        let (counts, other): (&[Use], &[Use]) = if warm { (&WARM, &COLD) } else { (&COLD, &WARM) };
        other.contains(&usage) && !counts.contains(&usage)
    };
    let motors = loads.iter().filter(|load| load.usage != Use::General && !left_out(load.usage)).map(|load| load.motor);
    motors.fold(Power::default(), |most, motor| if motor > most { motor } else { most })
}

/// Everything the optional method puts under one factor: all but heating and cooling.
fn counted_together(dwelling: &Dwelling, loads: &[Load], rates: &Rates) -> Power {
    let [lighting, circuits] = general(dwelling, rates);
    let plain = [Use::Appliance, Use::Cooking, Use::Dryer, Use::HeatingAuxiliary];
    let nameplates = plain.iter().fold(Power::default(), |sum, usage| sum + of(loads, *usage));
    lighting.connected + circuits.connected + nameplates + vehicles(loads, rates)
}

/// The largest of the ways in which heating or cooling may count: its name, what is connected, what counts.
fn weather(loads: &[Load], zones: u32, rates: &Rates) -> (&'static str, Power, Power) {
    let sum = |usage| of(loads, usage);
    let (pump, supplement, heat) = (sum(Use::HeatPump), sum(Use::SupplementalHeat), sum(Use::SpaceHeating));
    let factor: Ratio = if zones >= 4 { rates.many_zones } else { rates.few_zones };
    let ways = [
        ("cooling", sum(Use::Cooling) + pump, sum(Use::Cooling) + pump),
        ("heat pump with supplemental heat", pump + supplement, pump + supplement * rates.few_zones),
        ("electric heat", heat, heat * factor),
        ("thermal storage", sum(Use::ThermalStorage), sum(Use::ThermalStorage)),
    ];
    let more = |a: &(&str, Power, Power), b: &(&str, Power, Power)| in_volt_amperes(a.2).total_cmp(&in_volt_amperes(b.2));
    ways.into_iter().max_by(more).unwrap_or(("heating or cooling", Power::default(), Power::default()))
}
