//! Stored energy lasts so many hours; where they are fewer than wanted, the review says which load to shed first.
//!
//! A battery is bought by its plate. What is left of it after depth, age, cold, losses and reserve, divided by what really runs, is
//! the number of hours the house has.
//!
//! **How it is measured.** Usable energy, or the plate's times depth and inverter efficiency; times what age and cold leave; less the
//! reserve. Hour by hour from the hour the outage begins: the loads by their duty or by their hours, what the inverter idles, what the
//! sun gives in that hour, and a generator that starts and stops by the charge, in its hours, while its fuel lasts. A lithium battery
//! below the temperature it may be charged at takes nothing up. Exact within each hour.
//!
//! **How it is fixed.** Shed loads, in the order said, or add stored energy, sun or a generator.

use crate::{loads, stored};
use redtag_handbook::standby::{self as trade, Battery, DAY, Recharge, Run, run};
use redtag_handbook::units::in_kilowatt_hours;
use redtag_rule::prelude::*;
use uom::si::f64::{Energy, Power, Time};
use uom::si::time;

/// Hours looked at, at most: 60 days.
const FURTHEST: f64 = 1_440.0;
/// The sun.
const SUN: Flag = Flag::new(
    "sun_counts",
    true,
    "Whether solar output in the hours the project says counts.",
    "common practice: some authorities and owners plan for days without sun",
);
/// How far it looks.
const DAYS: Number =
    Number::new("days_looked_at", 14.0, "How many days of outage are looked at.", "common practice").within(1.0, 60.0);

/// The rule.
pub const RULE: Rule = Rule {
    level: Level::Advice,
    citations: &[remembered("design practice", "", "run time of stored energy"), cited("NEC", "2023", "702.4(A)(1)")],
    parameters: &[
        &stored::HEALTH,
        &stored::COLD,
        &stored::CHARGING,
        &stored::DEPTH,
        &stored::LEAD_DEPTH,
        &stored::TAKEN,
        &SUN,
        &DAYS,
    ],
    reads: &["/site", "/spaces", "/equipment", "/electrical"],
    ..Rule::new("standby-power/runtime", "How long stored energy lasts", check)
};

const WANTED: &str = "how long it lasts";

fn check(inquiry: &Inquiry) -> Vec<Finding> {
    let systems = need!(inquiry.project(), electrical.storage).every();
    let backed = loads::backed_up(inquiry);
    if backed.as_ref().is_ok_and(Vec::is_empty) {
        return systems.iter().map(|system| system.not_applicable(text!("no load is backed up")).done()).collect();
    }
    // Systems of one house share its loads: the first speaks for all.
    systems.first().into_iter().map(|first| first.sheet(WANTED, |sheet| judge(inquiry, &systems, sheet))).collect()
}

/// What is run.
struct Plan<'a> {
    battery: Battery,
    loads: Vec<Place<'a, Load>>,
    powers: Vec<[Power; DAY]>,
    idle: [Power; DAY],
    solar: [Power; DAY],
    recharge: Option<Recharge>,
    begins: usize,
    hours: usize,
}

impl Plan<'_> {
    fn run(&self, battery: &Battery, loads: &[[Power; DAY]], hours: usize) -> Run {
        let mut sum = self.idle;
        for load in loads {
            sum.iter_mut().zip(load).for_each(|(sum, power)| *sum += *power);
        }
        run(battery, &sum, &self.solar, self.recharge.as_ref(), self.begins, hours)
    }
}

fn judge<'a>(inquiry: &Inquiry<'a>, systems: &[Place<'a, StorageSystem>], sheet: &mut Sheet) -> Lookup<Text> {
    let wanted = need!(inquiry.project(), electrical.standby.runtime).map(|time| time.quantity());
    let plan = plan(inquiry, systems, sheet);
    let (wanted, mut plan) = (wanted, plan).together()?;
    // As far as is wanted, but no further than the store can be followed in one call.
    let looked = wanted.get::<time::hour>().ceil().clamp(1.0, FURTHEST) as usize;
    plan.hours = plan.hours.max(looked);
    let result = plan.run(&plan.battery, &plan.powers, plan.hours);
    told(&plan, &result, sheet);
    let lasts = match result.lasts {
        Some(time) => text!("{}", hours(time)),
        None => text!("more than {}", hours(Time::new::<time::hour>(plan.hours as f64))),
    };
    let words = text!("lasts {}, {} are wanted", lasts, hours(wanted));
    let holds = at_least(result.lasts.unwrap_or(Time::new::<time::hour>(plan.hours as f64)), wanted);
    if !sheet.require("run time", words.clone(), "the load list, hour by hour", holds) && result.lasts.is_some() {
        shed(&plan, wanted, sheet);
        add(&plan, wanted, sheet);
    }
    Ok(words)
}

fn hours(time: Time) -> redtag_rule::Part {
    // To the minute: a run time is no more exact than that.
    let rounded = Time::new::<time::minute>((time.get::<time::minute>() + 1e-6).floor());
    in_unit(rounded, "h")
}

fn shed(plan: &Plan, wanted: Time, sheet: &mut Sheet) {
    let may: Vec<bool> = plan.loads.iter().map(|load| load.essential != Some(true)).collect();
    let recharge = plan.recharge.as_ref();
    let steps = trade::shed(&plan.battery, &plan.idle, &plan.powers, &may, &plan.solar, recharge, plan.begins, wanted);
    let (mut names, mut values, mut left) = (Vec::new(), Vec::new(), plan.powers.clone());
    for (index, _) in &steps {
        let load = &plan.loads[*index];
        left[*index] = [Power::default(); DAY];
        // The search looks only as far as what is wanted; here the rest is run to its end.
        let lasts = plan.run(&plan.battery, &left, plan.hours).lasts;
        let lasts = match lasts {
            Some(time) => text!("{}", hours(time)),
            None => text!("more than {}", hours(Time::new::<time::hour>(plan.hours as f64))),
        };
        let then = if names.is_empty() { "shed" } else { "then shed" };
        let words = text!("{} {}: {}", then, load.label(), lasts);
        sheet.line("what to shed", words.clone(), "");
        names.push(words);
        values.push((format!("{}/backed_up", load.pointer()), json!(false)));
    }
    let enough = steps.last().is_some_and(|(_, lasts)| lasts.is_none_or(|lasts| at_least(lasts, wanted)));
    if enough {
        sheet.cure_at(Text::list(&names), &values);
    } else {
        sheet.line("what to shed", text!("all that may be shed is not enough"), "");
    }
}

/// The energy that would do.
fn add(plan: &Plan, wanted: Time, sheet: &mut Sheet) {
    let looked = wanted.get::<time::hour>().ceil().clamp(0.0, FURTHEST) as usize;
    let with = |more: Energy| {
        let battery = Battery { capacity: plan.battery.capacity + more, ..plan.battery };
        plan.run(&battery, &plan.powers, looked).lasts.is_none_or(|time| time >= wanted)
    };
    let mut most = Energy::new::<uom::si::energy::kilowatt_hour>(1.0);
    while !with(most) {
        most *= 2.0;
        if in_kilowatt_hours(most) > 1e4 {
            return;
        }
    }
    let mut least = Energy::default();
    for _ in 0..24 {
        let middle = (least + most) / 2.0;
        if with(middle) { most = middle } else { least = middle }
    }
    let tenths = (in_kilowatt_hours(most) * 10.0).ceil() / 10.0;
    let more = Energy::new::<uom::si::energy::kilowatt_hour>(tenths);
    sheet.cure(text!("{} more of energy that can be used", in_unit(more, "kWh")));
}

fn told(plan: &Plan, result: &Run, sheet: &mut Sheet) {
    for (load, powers) in plan.loads.iter().zip(&plan.powers) {
        let mean = powers.iter().fold(Power::default(), |sum, power| sum + *power) / DAY as f64;
        sheet.line(&load.id, text!("{} on the average", in_unit(mean, "W")), "the load list");
    }
    for hour in result.hours.iter().take(DAY) {
        let words = text!(
            "{} of load, {} of sun, generator {}, {} stored at its end",
            in_unit(hour.load, "W"),
            in_unit(hour.solar, "W"),
            in_unit(hour.generator, "min"),
            in_unit(hour.stored, "kWh")
        );
        sheet.line(&format!("hour {}", hour.of_day), words, "");
    }
}

fn plan<'a>(inquiry: &Inquiry<'a>, systems: &[Place<'a, StorageSystem>], sheet: &mut Sheet) -> Lookup<Plan<'a>> {
    let stores: Vec<Lookup<Battery>> = systems.iter().map(|system| stored::store(inquiry, system, sheet)).collect();
    let idles: Vec<Lookup<Power>> = systems.iter().map(|system| stored::idle(inquiry, system)).collect();
    let backed = loads::backed_up(inquiry)?;
    let powers: Vec<Lookup<[Power; DAY]>> = backed.iter().map(hourly).collect();
    let (stores, idles, powers) = (stores.together(), idles.together(), powers.together()).together()?;
    let battery = stores.into_iter().reduce(stored::both).ok_or_else(|| Unresolved::at("/electrical/storage"))?;
    sheet.line("to use", text!("{}", in_unit(battery.capacity - battery.reserve, "kWh")), "");
    let idle = idles.into_iter().fold(Power::default(), |sum, power| sum + power);
    let solar = if inquiry.value(&SUN) { sun(inquiry, sheet) } else { [Power::default(); DAY] };
    let recharge = recharge(inquiry, sheet);
    // The hour matters only where hours differ.
    let even = backed.iter().all(|load| load.hourly_duty.is_none())
        && recharge.is_none()
        && solar.iter().all(|power| power.value == 0.0);
    let begins = match need!(inquiry.project(), electrical.standby.outage_begins) {
        Ok(hour) => *hour.get() as usize % DAY,
        Err(_) if even => 0,
        Err(unresolved) => return Err(unresolved),
    };
    let hours = (inquiry.value(&DAYS).clamp(1.0, 60.0) * 24.0) as usize;
    Ok(Plan { battery, loads: backed, powers, idle: [idle; DAY], solar, recharge, begins, hours })
}

fn hourly(load: &Place<Load>) -> Lookup<[Power; DAY]> {
    let running = loads::running(load);
    if let Ok(shares) = need!(load, hourly_duty) {
        if shares.len() != DAY {
            return Err(Unresolved::because(shares.pointer(), "24 shares, one for each hour of the day"));
        }
        let running = running?;
        return Ok(std::array::from_fn(|hour| running * shares.get()[hour].quantity()));
    }
    let (running, duty) = (running, need!(load, duty)).together()?;
    Ok([running * duty.quantity(); DAY])
}

fn sun(inquiry: &Inquiry, sheet: &mut Sheet) -> [Power; DAY] {
    let mut sum = [Power::default(); DAY];
    for array in need!(inquiry.project(), electrical.solar).every() {
        match need!(array, hourly_output) {
            Ok(output) if array.future != Some(true) && output.len() == DAY => {
                sum.iter_mut().zip(output.get()).for_each(|(sum, power)| *sum += power.quantity());
            }
            _ => sheet.line("sun", text!("{} is not counted: its output hour by hour is not said", array.id), ""),
        }
    }
    sum
}

fn recharge(inquiry: &Inquiry, sheet: &mut Sheet) -> Option<Recharge> {
    let generators = need!(inquiry.project(), electrical.generators).every();
    let told = |generator: &Place<Generator>| {
        let power = generator.charging_power.as_ref()?.quantity();
        let (start, stop) = generator.starts_at_charge.as_ref().zip(generator.stops_at_charge.as_ref())?;
        if at_most(stop.quantity(), start.quantity()) {
            return None;
        }
        let hours = generator.hours.as_ref();
        Some(Recharge {
            power,
            start: start.quantity(),
            stop: stop.quantity(),
            hours: std::array::from_fn(|hour| hours.is_none_or(|hours| hours.contains(&(hour as u32)))),
            fuel: generator.fuel_lasts.as_ref().map(|fuel| fuel.quantity()),
        })
    };
    for generator in &generators {
        if let Some(recharge) = told(generator) {
            return Some(recharge);
        }
        sheet.line(
            "generator",
            text!("{} is not counted: nothing says that it charges the batteries from one charge to a higher one", generator.id),
            "",
        );
    }
    None
}
