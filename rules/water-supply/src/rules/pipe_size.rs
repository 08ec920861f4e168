//! Meter, service and main must be large enough for the house by the sizing table.
//!
//! The table asks for four things: the pressure left after height and devices, the length to the farthest tap, the supply units of
//! the house, and the sizes of meter with service and of the main behind it. It knows a few rows; where a size, a length or a
//! pressure is beyond them, nothing is guessed. **The cells are remembered and not read from a licensed copy**, which is why the
//! finding is advice unless a pack makes it more.
//!
//! **How it is measured.** Pressure in the street while water runs, or cut-in of the pump, less 0.433 psi for each foot up to the
//! highest outlet, less what meter, backflow preventer and treatment take. The developed length is measured along the pipe.
//!
//! **How it is fixed.** The next larger main or service.

use crate::figures::{GROUPS, PER_FOOT, TABLE};
use crate::network::{self, Counting, Network};
use crate::source;
use redtag_handbook::units;
use redtag_handbook::water::{MeterTable, NOMINAL, Row, elevation_loss, largest_units, nominal};
use redtag_rule::prelude::*;
use uom::si::f64::{Length, Pressure};

/// Whose rows.
const ROWS: Choice = Choice::new(
    "sizing_table",
    "residential",
    network::TABLES,
    "Whose table of meter, service and main sizes counts.",
    "from memory of 2018 IRC table P2903.7; UPC table 610.4 as an engineering handbook prints it",
);
/// Reducing valve.
const REDUCED: Quantity<dimensions::Ratio> = Quantity::new(
    "share_behind_reducer",
    "100 %",
    "The part of a reducing valve's setting that counts for sizing.",
    "UPC 608.2, as adopted by Signal Hill: 80 percent; the IRC counts all",
)
.within("50 %", "100 %");
/// Smallest service.
const SMALLEST: Quantity<dimensions::Length> =
    Quantity::new("smallest_service", "0.75 in", "The least nominal size of a service.", "from memory of IRC P2903.7")
        .within("0.5 in", "2 in");

/// The rule.
pub const RULE: Rule = Rule {
    level: Level::Advice,
    citations: &[remembered("IRC", "2018", "P2903.7"), remembered("IPC", "2018", "E201.1"), cited("UPC", "2018", "610.4")],
    parameters: &[&ROWS, &TABLE, &GROUPS, &PER_FOOT, &REDUCED, &SMALLEST],
    reads: &["/water", "/equipment"],
    ..Rule::new("water-supply/pipe-size", "Service and main large enough by the table", check)
};

const WANTED: &str = "whether service and main are large enough";

fn check(inquiry: &Inquiry) -> Vec<Finding> {
    let judged = |pipe: Place<'_, WaterPipe>| match pipe.kind {
        WaterPipeKind::Service => pipe.sheet(WANTED, |sheet| judge(inquiry, &pipe, sheet)),
        _ => pipe.not_applicable(text!("the table sizes services and the mains behind them")).done(),
    };
    need!(inquiry.project(), water.pipes).every().into_iter().map(judged).collect()
}

fn judge(inquiry: &Inquiry, service: &Place<WaterPipe>, sheet: &mut Sheet) -> Lookup<Text> {
    let size = need!(service, size)?;
    let smallest = inquiry.value(&SMALLEST);
    if !sheet.at_least("service", &size, &smallest, "in", "IRC P2903.7, from memory") {
        sheet.fault(text!("the service is {}, {} is the least", size, in_unit(smallest, "in")));
    }
    let network = Network::of(inquiry)?;
    let counting = Counting::new(inquiry.value(&TABLE), "residential", inquiry.value(&GROUPS));
    let (pressure, length, (units, _), main) = (
        left(inquiry, service, &network),
        need!(inquiry.project(), water.longest_length),
        network.units(service, counting),
        main(&network, service),
    )
        .together()?;
    let table = if inquiry.value(&ROWS) == "uniform" { MeterTable::Uniform } else { MeterTable::Residential };
    sheet.line(
        "pressure for the table",
        text!("{} after height and devices", in_unit(pressure, "psi")),
        "IRC P2903.7, from memory",
    );
    let unknown = |what: &str| Unresolved::because(service.pointer(), format!("sizing by an engineer: {what}"));
    let band = table.band(pressure).ok_or_else(|| unknown("less pressure is left than the table begins with"))?;
    let service_at = meter(inquiry, &size).ok_or_else(|| unknown("the size of meter or service is none of the table's"))?;
    let row = |main: Length| nominal(main).map(|distribution| Row { service: service_at, distribution });
    let cell = row(main).and_then(|row| largest_units(table, band, row, length.quantity()));
    let most =
        cell.ok_or_else(|| unknown("the table has no cell that is known for these sizes, this length and this pressure"))?;
    let words = text!(
        "{} supply units of {} over {} with a service of {} and a main of {}",
        format!("{units:.1}"),
        format!("{most:.1}"),
        in_unit(&length, "ft"),
        size,
        in_unit(main, "in")
    );
    let holds = at_most(units, most);
    sheet.test("units", words.clone(), "IRC table P2903.7, from memory; UPC table 610.4", holds);
    if !holds {
        sheet.fault(words);
        let serves = |main: Length| {
            row(main).and_then(|row| largest_units(table, band, row, length.quantity())).is_some_and(|most| at_most(units, most))
        };
        if let Some(larger) = NOMINAL.into_iter().map(units::inches).find(|&larger| serves(larger)) {
            sheet.cure(text!("a main of {} behind the service", in_unit(larger, "in")));
        } else {
            sheet.cure(text!("a larger service and main, sized by calculation"));
        }
    }
    Ok(text!("{} supply units, the table allows {}", format!("{units:.1}"), format!("{most:.1}")))
}

/// The place of the smaller of meter and service among the nominal sizes.
fn meter(inquiry: &Inquiry, service: &quantity::Length) -> Option<usize> {
    let metered = source::of_the_house(inquiry).ok().and_then(|source| source.get().meter_size.clone());
    let service = nominal(service.quantity())?;
    metered.map_or(Some(service), |meter| nominal(meter.quantity()).map(|meter| meter.min(service)))
}

/// The largest main that branches from the service.
fn main(network: &Network, service: &Place<WaterPipe>) -> Lookup<Length> {
    let behind = network.pipes.iter().filter(|pipe| pipe.from.as_ref() == Some(&service.id) && pipe.kind == WaterPipeKind::Cold);
    let sizes: Vec<_> = behind.map(|pipe| need!(*pipe, size)).collect();
    let largest = sizes.together()?.into_iter().map(|size| size.quantity()).reduce(Length::max);
    largest.ok_or_else(|| Unresolved::because("/water/pipes", "the cold main that branches from the service"))
}

/// Pressure after height and devices.
fn left(inquiry: &Inquiry, service: &Place<WaterPipe>, network: &Network) -> Lookup<Pressure> {
    let source = source::of_the_house(inquiry)?;
    let (start, _) = source::running(inquiry, &source, (&[], &[]))?;
    let start = if redtag_rule_water::of_the_house(inquiry)?.is_some() { start * inquiry.value(&REDUCED) } else { start };
    let mut highest = units::feet(0.0);
    for fixture in &network.fixtures {
        let rise = match need!(*fixture, rise) {
            Ok(told) => told.quantity(),
            Err(_) => {
                let chain =
                    fixture.cold_pipe.as_ref().or(fixture.hot_pipe.as_ref()).map(|id| network.chain(id)).unwrap_or_default();
                let rises: Vec<_> = chain.iter().map(|pipe| need!(**pipe, rise)).collect();
                rises.together()?.into_iter().map(|rise| rise.quantity()).sum()
            }
        };
        highest = highest.max(rise);
    }
    let mut drops: Vec<Lookup<Pressure>> = Vec::new();
    if source.kind == WaterSourceKind::PublicMain {
        drops.push(need!(source, meter_pressure_drop).map(|drop| drop.quantity()));
    }
    for step in need!(inquiry.project(), water.treatment)?.items() {
        drops.push(need!(step, pressure_drop).map(|drop| drop.quantity()));
    }
    let checks = |valve: &Place<WaterValve>| {
        use WaterValveKind as Kind;
        valve.pipe.as_ref() == Some(&service.id)
            && matches!(valve.kind, Kind::DualCheck | Kind::DoubleCheck | Kind::ReducedPressureZone)
    };
    for valve in need!(inquiry.project(), water.valves)?.items().filter(checks) {
        drops.push(need!(valve, pressure_drop).map(|drop| drop.quantity()));
    }
    let devices: Pressure = drops.together()?.into_iter().sum();
    Ok(start - elevation_loss(highest, inquiry.value(&PER_FOOT)) - devices)
}
