//! The standby source must start every motor it feeds, the well pump first of all.
//!
//! A motor that stands still draws five to eight times its running current until it turns. A source that cannot give that for
//! as long as it takes drops its voltage, trips or shuts down: the house has power and no water.
//!
//! **How it is measured.** What the motor draws with its rotor locked: by its plate, else by its code letter at the upper end, else
//! by the table for its power. A soft start or a drive lets a share of it through. To that comes all else that runs; where motors
//! start at once, the starts of the others too. Against what the inverter gives for a short time, for at least as long as the
//! start takes, against the locked-rotor current its maker allows, and at its voltage.
//!
//! **How it is fixed.** A soft start or a drive on the motor, an inverter that gives more, starts one after the other, or less
//! that runs meanwhile.

use crate::starts::{self, Starting};
use crate::{loads, plan, source};
use redtag_handbook::standby::{Order, Start, Surge, surge};
use redtag_rule::prelude::*;
use redtag_rule_load::kva;
use uom::si::electric_potential::volt;
use uom::si::f64::{Power, Ratio};
use uom::si::ratio::ratio;

/// Near.
const MARGIN: Quantity<dimensions::Ratio> =
    Quantity::new("margin", "5 %", "How little may be left over before the start is called close.", "common practice")
        .within("0 %", "100 %");

/// The rule.
pub const RULE: Rule = Rule {
    citations: &[
        cited("NEC", "2023", "430.7(B)"),
        cited("NEC", "2008", "430.251(A)"),
        cited("NEC", "2023", "702.4(A)"),
        remembered("maker's instructions", "", "surge output and locked-rotor current"),
    ],
    parameters: &[&starts::SOFT, &starts::DRIVE, &starts::TIME, &starts::TABLE, &MARGIN],
    reads: &["/spaces", "/equipment", "/electrical"],
    ..Rule::new("standby-power/motor-start", "Starting motors from the standby source", check)
};

const WANTED: &str = "whether the standby source starts it";
const SOURCE: &str = "the inverter's plate";
/// Motors of one kind, at most.
const MOST: u32 = 1_000;

fn check(inquiry: &Inquiry) -> Vec<Finding> {
    let mut findings = Vec::new();
    for transfer in loads::transfers(inquiry) {
        let backed = match loads::on(inquiry, &transfer) {
            Ok(backed) => backed,
            Err(unresolved) => {
                findings.push(transfer.ask(WANTED, || Err(unresolved)));
                continue;
            }
        };
        for load in backed.iter().filter(|load| starts::surges(inquiry, load)) {
            let (motors, others) = company(inquiry, load, &backed);
            findings.push(load.sheet(WANTED, |sheet| {
                let words = judge(inquiry, &transfer, &motors, &others, sheet);
                if !sheet.sound() {
                    plan::mark(inquiry, need!(load, equipment), "does not start from the standby source", sheet);
                    let _ = source::of(inquiry, &transfer).map(|source| source.mark(inquiry, "does not start it", sheet));
                }
                words
            }));
        }
    }
    findings
}

/// A load first and the other motors after it, and what else runs while it starts: nothing of its own group, and of every other
/// group the largest.
fn company<'a>(
    inquiry: &Inquiry<'a>,
    load: &Place<'a, Load>,
    backed: &[Place<'a, Load>],
) -> (Vec<Place<'a, Load>>, Vec<Place<'a, Load>>) {
    let own_group = |other: &Load| load.noncoincident_group.is_some() && other.noncoincident_group == load.noncoincident_group;
    let rest: Vec<Place<Load>> = backed.iter().filter(|other| other.id != load.id && !own_group(other)).cloned().collect();
    // What does not say how much it runs with is kept, so that it is asked for.
    let most = Power::new::<uom::si::power::watt>(f64::MAX);
    let rest = loads::coincident(&rest, |load| loads::running(load).unwrap_or(most));
    let (motors, others): (Vec<_>, Vec<_>) = rest.into_iter().partition(|other| starts::surges(inquiry, other));
    (std::iter::once(load.clone()).chain(motors).collect(), others)
}

fn judge<'a>(
    inquiry: &Inquiry<'a>,
    transfer: &Place<'a, Transfer>,
    motors: &[Place<'a, Load>],
    others: &[Place<'a, Load>],
    sheet: &mut Sheet,
) -> Lookup<Text> {
    let load = &motors.first().ok_or_else(|| Unresolved::at("/electrical/loads"))?;
    let source = source::of(inquiry, transfer)?;
    sheet.related(source.pointer());
    redtag_rule_load::whole(inquiry, sheet);
    let own = starts::of(inquiry, load, sheet)?;
    let rest = rest(inquiry, motors, &own, others)?;
    let inverter = match &source {
        source::Source::Inverter(inverter) => inverter,
        source::Source::Generator(generator) => {
            let gives = need!(generator, starting)?.quantity();
            enough(inquiry, load, (&own, &rest), (gives, &source), sheet);
            return order(inquiry, &rest, gives, sheet);
        }
    };
    let gives = sheet.want(need!(inverter, surge)).map(|surge| surge.quantity());
    if let Some(gives) = gives {
        enough(inquiry, load, (&own, &rest), (gives, &source), sheet);
    }
    time(inverter, &own, sheet);
    limits(inquiry, load, inverter, &own, sheet);
    match gives {
        Some(gives) => order(inquiry, &rest, gives, sheet),
        None => Ok(text!("starts")),
    }
}

/// What the source must give when motors start one after the other, and all at once.
struct Rest {
    staggered: Surge,
    together: Surge,
    order: Option<Order>,
}

impl Rest {
    /// By the order that is said; by the easier one where it is not.
    fn surge(&self) -> Surge {
        if self.order == Some(Order::Simultaneous) { self.together } else { self.staggered }
    }
}

fn rest<'a>(inquiry: &Inquiry<'a>, motors: &[Place<'a, Load>], own: &Starting, others: &[Place<'a, Load>]) -> Lookup<Rest> {
    let mut list: Vec<Lookup<Start>> = Vec::new();
    for (index, motor) in motors.iter().enumerate() {
        let running = need!(motor, running).map(|running| running.quantity());
        let start = if index == 0 {
            // What it runs with does not matter while it starts, unless there are more of it.
            let running = if motor.count.unwrap_or(1) > 1 { running } else { Ok(running.unwrap_or_default()) };
            running.map(|running| Start { running, starting: own.power })
        } else {
            let starting = starts::of(inquiry, motor, &mut Sheet::default()).map(|it| it.power);
            (running, starting).together().map(|(running, starting)| Start { running, starting })
        };
        // Each of several starts by itself.
        list.extend((0..motor.count.unwrap_or(1).clamp(1, MOST)).map(|_| start.clone()));
    }
    let base: Vec<Lookup<Power>> = others.iter().map(loads::running).collect();
    let (motors, base) = (list.together(), base.together()).together()?;
    let base = base.iter().fold(Power::default(), |sum, power| sum + *power);
    let unknown = || Unresolved::at("/electrical/loads");
    let staggered = surge(&motors, 0, base, Order::Staggered).ok_or_else(unknown)?;
    let together = surge(&motors, 0, base, Order::Simultaneous).ok_or_else(unknown)?;
    let order = need!(inquiry.project(), electrical.standby.starts).ok().map(|order| match *order {
        StartOrder::Simultaneous => Order::Simultaneous,
        _ => Order::Staggered,
    });
    Ok(Rest { staggered, together, order })
}

fn enough<'a>(
    inquiry: &Inquiry<'a>,
    load: &Place<'a, Load>,
    (own, rest): (&Starting, &Rest),
    (gives, source): (Power, &source::Source),
    sheet: &mut Sheet,
) {
    let surge = rest.surge();
    let meanwhile =
        if rest.order == Some(Order::Simultaneous) { "all others running or starting too" } else { "all others running" };
    sheet.line("meanwhile", text!("{}: {}", meanwhile, kva(surge.others)), "the load list");
    let holds = at_most(surge.needed, gives);
    let words = text!(
        "{}: {} and {} of others are {} for {}, {} is the most {} gives for a short time",
        if holds { "starts" } else { "does not start" },
        kva(own.power),
        kva(surge.others),
        kva(surge.needed),
        in_unit(own.time, "s"),
        kva(gives),
        source.label()
    );
    if sheet.require("surge", words, SOURCE, holds) {
        return;
    }
    sheet.line("short by", text!("{}", kva(surge.needed - gives)), "");
    soft_start(inquiry, load, own, gives, surge, sheet);
    if rest.order == Some(Order::Simultaneous) && at_most(rest.staggered.needed, gives) {
        sheet.cure_at(
            text!("start the motors one after the other: {} is then the most", kva(rest.staggered.needed)),
            &[("/electrical/standby/starts".to_owned(), json!("staggered"))],
        );
    }
    if gives > own.power {
        sheet.cure(text!("let no more than {} run while it starts", kva(gives - own.power)));
    }
    sheet.cure(text!("a source that gives {} for {} at least", kva(surge.needed), in_unit(own.time, "s")));
}

/// The share a soft start may let through, where that is one in use.
fn soft_start<'a>(inquiry: &Inquiry<'a>, load: &Place<'a, Load>, own: &Starting, gives: Power, surge: Surge, sheet: &mut Sheet) {
    let Some(motor) = loads::motor(inquiry, load).filter(|_| own.direct.value > 0.0 && gives > surge.others) else { return };
    let per_cent = ((gives - surge.others).value / own.direct.value * 100.0).floor();
    if !(15.0..100.0).contains(&per_cent) {
        return;
    }
    let share = Ratio::new::<ratio>(per_cent / 100.0);
    sheet.cure_at(
        text!("a soft start or a drive that lets {} of the locked-rotor current through at most", share),
        &[
            (format!("{}/soft_start", motor.pointer()), json!(true)),
            (format!("{}/soft_start_share", motor.pointer()), json!(format!("{per_cent} %"))),
        ],
    );
}

fn time(inverter: &Place<Inverter>, own: &Starting, sheet: &mut Sheet) {
    let Some(lasts) = sheet.want(need!(inverter, surge_duration)) else { return };
    let words = text!(
        "takes {} to start, {} gives its surge for {}",
        in_unit(own.time, "s"),
        inverter.label(),
        in_unit(lasts.get(), "s")
    );
    if !sheet.require("time", words, SOURCE, at_least(lasts.quantity(), own.time)) {
        sheet.cure(text!("an inverter that gives its surge for {} at least", in_unit(own.time, "s")));
    }
}

/// What its maker says of motors, and its voltage.
fn limits(inquiry: &Inquiry, load: &Place<Load>, inverter: &Place<Inverter>, own: &Starting, sheet: &mut Sheet) {
    if let (Ok(most), Some(locked)) = (need!(inverter, locked_rotor_capability), own.current) {
        let actual = locked * own.share;
        let words = text!("draws {} while it starts, {} is the most {} is made to start", actual, most, inverter.label());
        if !sheet.require("locked rotor", words, SOURCE, at_most(actual, most.quantity())) {
            sheet.cure(text!("an inverter made to start {} at least, or a soft start", actual));
        }
    }
    let Some(volts) = sheet.want(loads::voltage(inquiry, load)) else { return };
    if volts.get::<volt>() < 200.0 {
        return;
    }
    if let Some(split) = sheet.want(need!(inverter, split_phase)) {
        let makes = if *split { "makes 240 V" } else { "makes 120 V only" };
        let words = text!("runs at {}, {} {}", volts, inverter.label(), makes);
        if !sheet.require("voltage", words, SOURCE, *split) {
            sheet.cure(text!("an inverter that makes 120/240 V, or a listed autotransformer"));
        }
    }
}

/// The last word: what the order of starts and a thin margin add.
fn order(inquiry: &Inquiry, rest: &Rest, gives: Power, sheet: &mut Sheet) -> Lookup<Text> {
    let surge = rest.surge();
    if rest.order.is_none() && at_most(rest.staggered.needed, gives) && !at_most(rest.together.needed, gives) {
        sheet.line("all at once", text!("{} would be needed", kva(rest.together.needed)), "");
        sheet.lack(Unresolved::because("/electrical/standby/starts", "whether the motors start one after the other or at once"));
    }
    let left = Ratio::new::<ratio>(if gives.value > 0.0 { 1.0 - surge.needed.value / gives.value } else { 0.0 });
    if at_most(surge.needed, gives) && !at_least(left, inquiry.value(&MARGIN)) {
        sheet.advise(text!("starts, with {} to spare: weak batteries or a cold pump may stop it", left));
    }
    Ok(text!("starts: {} is needed, {} is there", kva(surge.needed), kva(gives)))
}

#[cfg(test)]
mod tests {
    use super::*;
    use redtag_rule::schema::quantity::System;
    use redtag_rule::testing::findings;
    use redtag_rule::{Value, json};

    fn boatyard() -> Value {
        let text = include_str!("../../../../examples/houses/boatyard-corrected.json");
        text.parse().expect("the house is JSON")
    }

    fn well(project: &Value) -> Finding {
        let all = findings(&RULE, project.clone());
        all.into_iter().find(|finding| finding.subject.id.as_deref() == Some("load-well")).expect("the house has a well pump")
    }

    #[test]
    fn the_boatyards_standby_panel_starts_its_well_pump_or_not() {
        let mut house = boatyard();
        assert_eq!(well(&house).outcome, Outcome::Complies);
        let motor = |house: &Value| {
            let loads = house["electrical"]["loads"].as_array().expect("loads");
            loads.iter().position(|load| load["id"] == "load-well").expect("the load")
        };
        let at = motor(&house);
        house["electrical"]["loads"][at]["motor"]["soft_start"] = json!(false);
        // 41.8 A at 240 V are 10.032 kVA, with 710 W of others 10.742 kVA.
        house["electrical"]["inverters"][0]["surge"] = json!("10.742 kVA");
        assert_ne!(well(&house).outcome, Outcome::Correction);
        house["electrical"]["inverters"][0]["surge"] = json!("9 kVA");
        let refused = well(&house);
        assert_eq!(refused.outcome, Outcome::Correction);
        let words = refused.summary.print(System::UsCustomary);
        assert!(words.starts_with("does not start: 10.032 kVA and 0.71 kVA of others are 10.742 kVA"), "{words}");
        let cure = refused.remedies.iter().find(|remedy| !remedy.patch.is_empty()).expect("a cure that can be tried");
        for change in &cure.patch {
            let path = change["path"].as_str().expect("a pointer");
            let (parent, field) = path.rsplit_once('/').expect("a field");
            house.pointer_mut(parent).expect("the place")[field] = change["value"].clone();
        }
        assert_ne!(well(&house).outcome, Outcome::Correction);
    }
}
