//! A heater must be able to be shut off, drained and cleaned, and let air in where it could be sucked flat.
//!
//! A full-open valve in the cold supply stops a leak. A valve at the bottom drains the tank. A tankless heater is flushed of
//! scale through a pair of valves with ports. A tank that is filled from below empties backwards when the main breaks, and a
//! vacuum relief valve keeps its burner from heating a dry tank.
//!
//! **How it is measured.** By looking: the valve at the heater's cold pipe (full bore, in reach), the drain, the flushing valves,
//! where the cold water enters.
//!
//! **How it is fixed.** A full-open ball valve in the cold pipe within reach, a drain valve, the maker's set of isolation valves.

use crate::heater;
use redtag_rule::prelude::*;

/// Flushing.
const ISOLATION: Flag = Flag::new(
    "isolation_valves_required",
    false,
    "A tankless heater without valves to flush it is a fault, and not only worth knowing.",
    "common practice and makers' instructions; the model code does not ask for it",
);
/// Draining.
const DRAIN: Flag = Flag::new("drain_valve_required", true, "A tank has a valve to drain it.", "from memory of IRC P2801.2");
/// Vacuum.
const VACUUM: Flag = Flag::new(
    "vacuum_relief_if_bottom_fed",
    true,
    "A tank that is fed from below has a vacuum relief valve.",
    "from memory of IRC P2804.7",
);

/// The rule.
pub const RULE: Rule = Rule {
    citations: &[remembered("IRC", "2021", "P2903.9.2"), cited("IRC", "2015", "P2801.2"), remembered("IRC", "2021", "P2804.7")],
    parameters: &[&ISOLATION, &DRAIN, &VACUUM],
    reads: &["/equipment", "/water"],
    ..Rule::new("water-heating/service-valves", "Valves to shut off, drain and clean it", check)
};

fn check(inquiry: &Inquiry) -> Vec<Finding> {
    heater::each(inquiry, |heater| {
        heater.sheet("whether it can be shut off, drained and cleaned", |sheet| {
            shutoff(inquiry, heater, sheet);
            if heater::stores(heater) {
                tank(inquiry, heater, sheet)
            } else {
                tankless(inquiry, heater, sheet)
            }
            Ok(text!("it can be shut off, drained and cleaned"))
        })
    })
}

fn shutoff(inquiry: &Inquiry, heater: &Place<Equipment>, sheet: &mut Sheet) {
    let serves = |valve: &Place<WaterValve>| {
        valve.kind == WaterValveKind::EquipmentShutoff && valve.serves.as_ref().is_some_and(|serves| serves.contains(&heater.id))
    };
    let Some(valves) = sheet.want(need!(inquiry.project(), water.valves)) else { return };
    let mut unsaid = valves.items().filter(|valve| valve.kind == WaterValveKind::EquipmentShutoff && valve.serves.is_none());
    if let Some(valve) = valves.items().find(serves) {
        let (open, reach) = (sheet.want(need!(valve, full_open)), sheet.want(need!(valve, accessible)));
        let holds = open.as_ref().is_none_or(|open| **open) && reach.as_ref().is_none_or(|reach| **reach);
        if !sheet.test("cold supply", text!("{}: full open and in reach", valve.label()), "IRC P2903.9.2, from memory", holds) {
            sheet.fault(text!("the valve in its cold supply is not full open or cannot be reached"));
            sheet.related(valve.pointer());
        }
        return;
    }
    if let Some(valve) = unsaid.next() {
        return sheet.lack(valve.missing("/serves"));
    }
    let Some(there) = sheet.want(need!(heater, water_heating.cold_shutoff)) else { return };
    if !sheet.test("cold supply", text!("a full-open valve in its cold supply"), "IRC P2903.9.2, from memory", *there) {
        sheet.fault(text!("no full-open valve shuts its cold supply"));
        sheet.cure_at(
            text!("fit a full-open ball valve in its cold pipe, within reach"),
            &[(there.pointer().to_owned(), json!(true))],
        );
    }
}

fn tank(inquiry: &Inquiry, heater: &Place<Equipment>, sheet: &mut Sheet) {
    if let Some(drain) = sheet.want(need!(heater, water_heating.drain_valve))
        && inquiry.value(&DRAIN)
        && !sheet.test("drain valve", text!("a valve at the bottom drains it"), "IRC P2801.2, from memory", *drain)
    {
        sheet.fault(text!("no valve drains the tank"));
        sheet.cure_at(text!("fit a drain valve at its bottom"), &[(drain.pointer().to_owned(), json!(true))]);
    }
    if !inquiry.value(&VACUUM) {
        return;
    }
    let Some(below) = sheet.want(need!(heater, water_heating.bottom_fed)) else { return };
    let vacuum = need!(heater, relief).every().iter().any(|valve| valve.kind == ReliefKind::Vacuum);
    if *below && !sheet.test("vacuum relief", text!("it is fed from below"), "IRC P2804.7, from memory", vacuum) {
        sheet.fault(text!("it is fed from below and no vacuum relief valve lets air in"));
        sheet.cure(text!("fit a vacuum relief valve in its cold pipe, above the tank"));
    }
}

fn tankless(inquiry: &Inquiry, heater: &Place<Equipment>, sheet: &mut Sheet) {
    let Some(there) = sheet.want(need!(heater, water_heating.isolation_valves)) else { return };
    if sheet.test("isolation valves", text!("valves with ports to flush it"), "common practice", *there) {
        return;
    }
    let words = text!("no valves to flush it of scale");
    if inquiry.value(&ISOLATION) {
        sheet.fault(words)
    } else {
        sheet.advise(words)
    }
    sheet.cure_at(text!("fit the maker's set of isolation valves"), &[(there.pointer().to_owned(), json!(true))]);
}
