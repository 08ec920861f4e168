//! A standby source must carry what the transfer puts on it.
//!
//! Where a person moves the loads by hand, they choose what runs. An automatic transfer asks nobody: everything behind it comes
//! on at once, and a source that cannot carry it trips, in the dark, again and again.
//!
//! **How it is measured.** Manual transfer: the nameplates of the loads the owner means to run at one time, those marked as
//! backed up. Automatic transfer and island operation, as the jurisdiction selects: the whole load by Article 220, standard or
//! optional method, or what listed load management leaves of it; or, for a source that runs alone, the largest single load.
//! Against the continuous output of the source, in the heat of its place where that is known.
//!
//! **How it is fixed.** A larger source, listed load management set to what it carries, or fewer loads behind the transfer.

use crate::{demand, loads, source};
use redtag_handbook::load as trade;
use redtag_rule::prelude::*;
use redtag_rule_load::{kva, va};
use uom::si::electric_current::ampere;
use uom::si::f64::Power;

/// The reading.
const BASIS: Choice = Choice::new(
    "automatic_basis",
    "full-load",
    &["full-load", "largest-load", "power-control", "as-designed"],
    "What a source behind an automatic transfer or an island switch must carry: the load transferred, its largest single load, the set point of a listed power control system and the largest single load, or what the design says it was chosen by.",
    "NEC 702.4(A)(2) of 2023 against 710.15(A): authorities read it in two ways; power control from 702.4 of 2026",
);
/// Management.
const MANAGED: Flag = Flag::new(
    "load_management_counts",
    true,
    "Whether listed load management may keep the load of an automatic transfer down to what the source carries.",
    "NEC 702.4(A)(2) of 2023",
);

/// The rule.
pub const RULE: Rule = Rule {
    citations: &[cited("NEC", "2023", "702.4(A)"), cited("NEC", "2017", "710.15(A)"), cited("NEC", "2023", "220.82")],
    parameters: &[&BASIS, &MANAGED, &demand::METHOD, &demand::VEHICLE],
    reads: &["/spaces", "/equipment", "/electrical"],
    ..Rule::new("standby-power/capacity", "Capacity of the standby source", check)
};

const WANTED: &str = "whether the source carries what is transferred to it";

fn check(inquiry: &Inquiry) -> Vec<Finding> {
    loads::transfers(inquiry).iter().map(|transfer| transfer.sheet(WANTED, |sheet| judge(inquiry, transfer, sheet))).collect()
}

fn judge<'a>(inquiry: &Inquiry<'a>, transfer: &Place<'a, Transfer>, sheet: &mut Sheet) -> Lookup<Text> {
    let (source, backed) = (source::of(inquiry, transfer), loads::on(inquiry, transfer)).together()?;
    let given = source.continuous(inquiry, sheet)?;
    sheet.related(source.pointer());
    let text = carried(inquiry, transfer, (&source, given), &backed, sheet)?;
    if !sheet.sound() {
        source.mark(inquiry, "too small for what is transferred", sheet);
    }
    Ok(text)
}

/// By the rule that is asked for.
fn carried<'a>(
    inquiry: &Inquiry<'a>,
    transfer: &Place<'a, Transfer>,
    (source, given): (&source::Source, Power),
    backed: &Loads<'a>,
    sheet: &mut Sheet,
) -> Lookup<Text> {
    sheet.line("source", text!("{} gives {} for hours", source.label(), kva(given)), "its plate");
    if matches!(transfer.kind, TransferKind::Manual | TransferKind::Interlock) {
        redtag_rule_load::whole(inquiry, sheet);
        return by_hand(backed, source, given, sheet);
    }
    match inquiry.value(&BASIS) {
        "largest-load" => largest(inquiry, backed, source, given, sheet),
        "power-control" if is_power_control(transfer) => {
            managed(inquiry, transfer, backed, source, given, sheet)?;
            largest(inquiry, backed, source, given, sheet)
        }
        "as-designed" => match *need!(inquiry.project(), electrical.standby.basis)?.get() {
            CapacityBasis::LargestLoad => largest(inquiry, backed, source, given, sheet),
            _ => full(inquiry, transfer, backed, source, given, sheet),
        },
        _ => full(inquiry, transfer, backed, source, given, sheet),
    }
}

fn is_power_control(transfer: &Place<Transfer>) -> bool {
    need!(transfer, load_management).is_ok_and(|management| matches!(management.kind, LoadManagementKind::PowerControl))
}

type Loads<'a> = [Place<'a, Load>];

fn by_hand(backed: &Loads, source: &source::Source, given: Power, sheet: &mut Sheet) -> Lookup<Text> {
    let of = |load: &Place<Load>| loads::nameplate(load).map(|power| power * loads::count(load));
    backed.iter().map(of).collect::<Vec<_>>().together()?;
    let kept = loads::coincident(backed, |load| of(load).unwrap_or_default());
    for load in &kept {
        sheet.line(&load.id, text!("{}", va(of(load)?)), "its plate");
    }
    let sum = kept.iter().map(|load| of(load).unwrap_or_default()).fold(Power::default(), |sum, power| sum + power);
    let words =
        text!("the loads meant to run at one time are {}, {} is the most {} carries", kva(sum), kva(given), source.label());
    if !sheet.require("load", words.clone(), "NEC 702.4(A)(1)", at_most(sum, given)) {
        let over = kva(sum - given);
        sheet.cure(text!("do without {} of them, or a source of {} at least", over, kva(sum)));
    }
    Ok(words)
}

fn largest(inquiry: &Inquiry, backed: &Loads, source: &source::Source, given: Power, sheet: &mut Sheet) -> Lookup<Text> {
    redtag_rule_load::whole(inquiry, sheet);
    let counted = |load: &Place<Load>| loads::purpose(inquiry, load).map(|usage| usage != trade::Use::General);
    let singles: Vec<bool> = backed.iter().map(counted).collect::<Vec<_>>().together()?;
    let singles: Vec<&Place<Load>> = backed.iter().zip(singles).filter(|(_, single)| *single).map(|(load, _)| load).collect();
    let powers = singles.iter().map(|load| loads::nameplate(load)).collect::<Vec<_>>().together()?;
    let most = singles.iter().zip(powers).max_by(|a, b| a.1.value.total_cmp(&b.1.value));
    let Some((load, power)) = most else { return Ok(text!("there is no single load behind it")) };
    let words = text!(
        "its largest single load is the {} of {}, {} is the most {} carries",
        load.label(),
        kva(power),
        kva(given),
        source.label()
    );
    if !sheet.require("largest load", words.clone(), "NEC 710.15(A)", at_most(power, given)) {
        sheet.related(load.pointer());
        sheet.cure_at(
            text!("take the {} off the standby source, or a source of {} at least", load.label(), kva(power)),
            &[(format!("{}/backed_up", load.pointer()), json!(false))],
        );
    }
    Ok(words)
}

fn full<'a>(
    inquiry: &Inquiry<'a>,
    transfer: &Place<'a, Transfer>,
    backed: &Loads<'a>,
    source: &source::Source,
    given: Power,
    sheet: &mut Sheet,
) -> Lookup<Text> {
    let rating = transfer.rating.as_ref().map(|rating| rating.quantity());
    if let Ok(management) = need!(transfer, load_management)
        && !matches!(management.kind, LoadManagementKind::None)
        && inquiry.value(&MANAGED)
    {
        return managed(inquiry, transfer, backed, source, given, sheet);
    }
    let load = demand::of(inquiry, backed, rating, sheet)?;
    redtag_rule_load::whole(inquiry, sheet);
    let words = text!("transfers {} by itself, {} is the most {} carries", kva(load), kva(given), source.label());
    if !sheet.require("load transferred", words.clone(), "NEC 702.4(A)(2)", at_most(load, given)) {
        cures(inquiry, transfer, backed, (load, given), sheet);
    }
    Ok(words)
}

/// What would do: a larger source, management, or loads left off, the largest first.
fn cures<'a>(
    inquiry: &Inquiry<'a>,
    transfer: &Place<'a, Transfer>,
    backed: &Loads<'a>,
    (load, given): (Power, Power),
    sheet: &mut Sheet,
) {
    if inquiry.value(&MANAGED) {
        let set = trade::current(given, source::line_to_line()).get::<ampere>().floor();
        let management = json!({"kind": "power-control", "listed": true, "set_point": format!("{set} A")});
        sheet.cure_at(
            text!("keep the load down to {} A with listed load management", format!("{set}")),
            &[(format!("{}/load_management", transfer.pointer()), management)],
        );
    }
    let rating = transfer.rating.as_ref().map(|rating| rating.quantity());
    let mut left: Vec<Place<Load>> = backed.to_vec();
    let power = |load: &Place<Load>| loads::nameplate(load).unwrap_or_default() * loads::count(load);
    left.sort_by(|a, b| power(b).value.total_cmp(&power(a).value));
    let (mut off, mut values) = (Vec::new(), Vec::new());
    while !left.is_empty() {
        let gone = left.remove(0);
        off.push(gone.label());
        values.push((format!("{}/backed_up", gone.pointer()), json!(false)));
        let Ok(rest) = demand::of(inquiry, &left, rating, &mut Sheet::default()) else { break };
        if at_most(rest, given) {
            let words = text!("take off the standby panel: {}; {} is left", off.join(", "), kva(rest));
            sheet.cure_at(words, &values);
            break;
        }
    }
    sheet.cure(text!("a source of {} at least", kva(load)));
}

/// Load management: its set point, else what it does not shed.
fn managed<'a>(
    inquiry: &Inquiry<'a>,
    transfer: &Place<'a, Transfer>,
    backed: &Loads<'a>,
    source: &source::Source,
    given: Power,
    sheet: &mut Sheet,
) -> Lookup<Text> {
    let management = need!(transfer, load_management)?;
    if let Some(listed) = sheet.want(need!(management, listed))
        && !sheet.require(
            "listing",
            text!("its load management is {}", if *listed { "listed" } else { "not listed" }),
            "NEC 750.30",
            *listed,
        )
    {
        sheet.cure_at(text!("use listed load management"), &[(listed.pointer().to_owned(), json!(true))]);
    }
    let load = match need!(management, set_point) {
        Ok(set) => {
            let load = trade::managed(set.quantity(), source::line_to_line()).total;
            sheet.line("set point", text!("{} is {}", set, kva(load)), "NEC 220.70 of 2023");
            load
        }
        Err(unresolved) => {
            let sheds = need!(management, sheds).map_err(|_| unresolved)?;
            redtag_rule_load::whole(inquiry, sheet);
            let left: Vec<Place<Load>> = backed.iter().filter(|load| !sheds.contains(&load.id)).cloned().collect();
            demand::of(inquiry, &left, transfer.rating.as_ref().map(|rating| rating.quantity()), sheet)?
        }
    };
    let words = text!("its load management leaves {}, {} is the most {} carries", kva(load), kva(given), source.label());
    if !sheet.require("load managed", words.clone(), "NEC 702.4(A)(2)", at_most(load, given)) {
        let set = trade::current(given, source::line_to_line()).get::<ampere>().floor();
        sheet.cure_at(
            text!("set it to {} A", format!("{set}")),
            &[(format!("{}/set_point", management.pointer()), json!(format!("{set} A")))],
        );
    }
    Ok(words)
}
