//! A water heater must have relief against pressure and against temperature, able to carry off all the heat put into it.
//!
//! Water held under pressure far above its boiling point flashes to steam when the tank gives way: **a heater without working
//! relief can level a house.** Thermostats and gas valves fail; relief is what is left.
//!
//! **How it is measured.** From the valve's tag: it opens at 150 psi or less and not above what the tank may hold, but at 25 psi or
//! more above the pressure of the pipe at rest, or it drips every night until somebody plugs it; at 210 F or less, and its capacity in Btu/h is not less than the heater's input. Its probe sits in the water of the top 6 in of the tank.
//! No valve stands between it and the tank. One combined valve or two separate ones will do. A tankless heater has at least a pressure relief valve.
//!
//! **How it is fixed.** A listed valve of the right set pressure and capacity in the tapping the maker made for it, fitted by a
//! licensed plumber. Never a plug, never a used valve.

use crate::heater;
use redtag_rule::prelude::*;
use uom::si::f64::Power;

/// Pressure.
const PRESSURE: Quantity<dimensions::Pressure> = Quantity::new(
    "greatest_pressure",
    "150 psi",
    "The most a relief valve may be set to.",
    "from memory of IRC P2804.3 and IPC 504.4",
)
.within("30 psi", "160 psi");
/// Above the pipe's own pressure.
const MARGIN: Quantity<dimensions::Pressure> = Quantity::new(
    "above_system_pressure",
    "25 psi",
    "How far above the pressure of the pipe at rest a relief valve opens at least.",
    "from memory of IRC P2804.3",
)
.within("0 psi", "50 psi");
/// Temperature.
const TEMPERATURE: Quantity<dimensions::Temperature> = Quantity::new(
    "greatest_temperature",
    "210 F",
    "The hottest water at which a relief valve may still be shut.",
    "from memory of IRC P2804.4 and IPC 504.4",
)
.within("180 F", "210 F");

/// The rule.
pub const RULE: Rule = Rule {
    citations: &[remembered("IRC", "2021", "P2804"), remembered("IPC", "2021", "504.4")],
    parameters: &[&PRESSURE, &MARGIN, &TEMPERATURE],
    reads: &["/equipment", "/water", "/building"],
    ..Rule::new("water-heating/relief-valve", "Relief against pressure and temperature", check)
};

const WANTED: &str = "whether the heater can relieve pressure and temperature";

fn check(inquiry: &Inquiry) -> Vec<Finding> {
    heater::each(inquiry, |heater| heater.sheet(WANTED, |sheet| judge(inquiry, heater, sheet)))
}

fn judge(inquiry: &Inquiry, heater: &Place<Equipment>, sheet: &mut Sheet) -> Lookup<Text> {
    let relief = need!(heater, relief)?;
    let has = |kind: ReliefKind| relief.get().iter().any(|valve| valve.kind == kind);
    let both = has(ReliefKind::TemperatureAndPressure);
    if !sheet.test(
        "pressure relief",
        text!("a valve opens on pressure"),
        "IRC P2804.1, from memory",
        both || has(ReliefKind::Pressure),
    ) {
        sheet.fault(text!("no valve relieves pressure"));
    }
    if heater::stores(heater) && !both {
        sheet.fault(text!("no valve relieves temperature"));
        sheet.test("temperature relief", text!("none of its valves opens on temperature"), "IRC P2804.1, from memory", false);
    }
    if !sheet.sound() {
        sheet.cure(text!("have a licensed plumber fit a listed temperature and pressure relief valve in the tank's own tapping"));
    }
    for valve in relief.items().filter(|valve| valve.kind != ReliefKind::Vacuum) {
        one(inquiry, heater, &valve, sheet);
    }
    Ok(text!("relief set low enough and large enough for the heat put in"))
}

fn one(inquiry: &Inquiry, heater: &Place<Equipment>, valve: &Place<Relief>, sheet: &mut Sheet) {
    if let Some(set) = sheet.want(need!(valve, pressure)) {
        let most = inquiry.value(&PRESSURE);
        if !sheet.at_most("set pressure", &set, &most, "psi", "IRC P2804.3, from memory") {
            sheet.fault(text!("{} opens at {}, {} is the most", valve.label(), in_unit(&set, "psi"), in_unit(most, "psi")));
            let written = quantity::Pressure::from_quantity(&most).print_in("psi");
            sheet.cure_at(text!("fit a valve set to {}", in_unit(most, "psi")), &[(set.pointer().to_owned(), json!(written))]);
        }
        margin(inquiry, heater, (valve, &set), sheet);
        if heater::stores(heater)
            && let Some(holds) = sheet.want(need!(heater, tank.maximum_pressure))
            && !sheet.at_most("what the tank holds", &set, &holds, "psi", "IRC P2804.3, from memory")
        {
            sheet.fault(text!("{} opens at {}, the tank holds {}", valve.label(), in_unit(&set, "psi"), in_unit(&holds, "psi")));
        }
    }
    if let Some(before) = sheet.want(need!(valve, valve_before_it)) {
        let words = if *before { "a valve can cut it off from the tank" } else { "nothing can cut it off from the tank" };
        if !sheet.require("free way", text!("{}", words), "IRC P2804.6, from memory", !*before) {
            sheet.cure_at(text!("take the valve between them out"), &[(before.pointer().to_owned(), json!(false))]);
        }
    }
    if valve.kind == ReliefKind::TemperatureAndPressure {
        if let Some(hot) = sheet.want(need!(valve, temperature)) {
            let most = quantity::Temperature::from_quantity(&inquiry.value(&TEMPERATURE));
            if !sheet.at_most("set temperature", &hot, &most, "F", "IRC P2804.4, from memory") {
                sheet.fault(text!("{} opens at {}, {} is the most", valve.label(), hot, most));
            }
        }
        if heater::stores(heater)
            && let Some(top) = sheet.want(need!(valve, in_top_of_tank))
            && !sheet.test("probe", text!("in the top 6 in of the tank"), "IRC P2804.4, from memory", *top)
        {
            sheet.fault(text!(
                "the probe of {} is not in the top 6 in of the tank: it does not feel the hottest water",
                valve.label()
            ));
        }
    }
    let (Some(capacity), Some(input)) = (sheet.want(need!(valve, capacity)), sheet.want(input(heater))) else { return };
    if !sheet.at_least("capacity", &capacity, &input, "Btu/h", "IRC P2804.2, from memory") {
        sheet.fault(text!("{} carries off {}, {} is put in", valve.label(), capacity, in_unit(input, "Btu/h")));
        sheet.cure(text!("fit a valve that carries off {} at least", in_unit(input, "Btu/h")));
    }
}

/// Far enough above the pressure of the pipe. Where the pipe itself stands too high, that is to be brought down first.
fn margin(inquiry: &Inquiry, heater: &Place<Equipment>, (valve, set): (&Place<Relief>, &quantity::Pressure), sheet: &mut Sheet) {
    let Some((line, whence)) = sheet.want(heater::at_rest(inquiry, heater)) else { return };
    let least = line + inquiry.value(&MARGIN);
    let holds = at_least(set.quantity(), least);
    let words = text!("{} {}, it must open at {} or more", in_unit(line, "psi"), whence, in_unit(least, "psi"));
    if !sheet.test("above the pipe", words, "IRC P2804.3, from memory", holds) {
        sheet.fault(text!(
            "{} opens at {}, which is less than {} above the pipe's own {}",
            valve.label(),
            in_unit(set, "psi"),
            in_unit(inquiry.value(&MARGIN), "psi"),
            in_unit(line, "psi")
        ));
        sheet.cure(text!("hold the pressure of the pipe down, or fit a valve of a higher setting that the tank bears"));
    }
}

/// Heat put into the heater: what it burns or draws, else what its coil gives.
fn input(heater: &Place<Equipment>) -> Lookup<Power> {
    if let Ok(input) = need!(heater, fuel_burning.plate.input) {
        return Ok(input.quantity());
    }
    if let Ok(power) = need!(heater, electrical.power) {
        return Ok(power.quantity());
    }
    need!(heater, water_heating.output).map(|output| output.quantity())
}
