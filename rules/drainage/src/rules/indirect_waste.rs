//! A long waste pipe that ends in the open needs a trap: what grows in it would smell up the room.
//!
//! Pipes that run by gravity are trapped where they are longer than 30 in sideways or 54 in along. **The pipe of a relief valve is
//! never trapped, however long: water that stands in it freezes or holds scalding steam back.** The tubes of softeners and
//! filters are pushed through under pressure and are not traps' business; they must be wide enough and not climb too far, or the
//! backwash does not lift the bed.
//!
//! **How it is measured.** Lengths as the project says; what runs out of it, where the equipment may have a relief valve; for tubes under pressure their bore, length and lift.
//!
//! **How it is fixed.** A trap below the equipment, or a receptor nearer to it. A tube gets the next size.

use crate::discharging::treats_water;
use redtag_handbook::units::{feet, inches};
use redtag_rule::prelude::*;

/// Sideways.
const SIDEWAYS: Quantity<dimensions::Length> = Quantity::new(
    "sideways_without_trap",
    "30 in",
    "Greatest length sideways of an indirect pipe without a trap.",
    "IPC 802.3, as a city that adopts it prints it; Wisconsin SPS 382.33(5)",
)
.within("12 in", "120 in");
/// Along.
const ALONG: Quantity<dimensions::Length> = Quantity::new(
    "length_without_trap",
    "54 in",
    "Greatest length along an indirect pipe without a trap.",
    "IPC 802.3, as a city that adopts it prints it",
)
.within("24 in", "180 in");
/// In all.
const LONGEST: Quantity<dimensions::Length> = Quantity::new(
    "greatest_length",
    "100 ft",
    "Greatest length of an indirect pipe that runs by gravity: 15 ft in some city codes; the model codes set none, 100 ft stands for that.",
    "city codes; no model code sets one",
)
.within("5 ft", "100 ft");
/// Lift of a tube.
const LIFT: Quantity<dimensions::Length> = Quantity::new(
    "lift_most",
    "8 ft",
    "Height a softener's tube may climb above its valve before it is worth a word.",
    "from memory of softener manuals: 8 ft at 40 to 50 psi",
)
.within("2 ft", "12 ft");

/// The rule.
pub const RULE: Rule = Rule {
    citations: &[cited("IPC", "2018", "802.3"), cited("Wisconsin SPS", "current", "382.33"), cited("IRC", "2018", "P2804.6.1")],
    parameters: &[&SIDEWAYS, &ALONG, &LONGEST, &LIFT],
    reads: &["/drainage", "/equipment"],
    ..Rule::new("drainage/indirect-waste", "Length of indirect waste pipes", check)
};

const WANTED: &str = "whether the pipe is short enough or trapped";

fn check(inquiry: &Inquiry) -> Vec<Finding> {
    let tubes = need!(inquiry.project(), drainage.indirect).every();
    tubes
        .iter()
        .map(|tube| {
            let from = need!(tube, equipment).and_then(|id| inquiry.equipment(&id));
            match from {
                Err(unresolved) => tube.ask(WANTED, || Err(unresolved)),
                Ok(from) if treats_water(from.kind) => tube.sheet(WANTED, |sheet| pushed(inquiry, tube, sheet)),
                Ok(from) => tube.sheet(WANTED, |sheet| match relief(inquiry, tube, &from)? {
                    true => never_trapped(tube, sheet),
                    false => judge(inquiry, tube, sheet),
                }),
            }
        })
        .collect()
}

/// Whether it is the pipe of a relief valve. What heats water has one, and must say what its pipe carries.
fn relief(inquiry: &Inquiry, tube: &Place<IndirectWaste>, from: &Place<Equipment>) -> Lookup<bool> {
    use EquipmentKind as K;
    if let Some(carries) = tube.carries {
        return Ok(carries == DischargeKind::Relief);
    }
    let heats = matches!(
        from.kind,
        K::StorageWaterHeater
            | K::TanklessWaterHeater
            | K::HeatPumpWaterHeater
            | K::IndirectWaterHeater
            | K::Boiler
            | K::PoolHeater
            | K::PressureTank
            | K::BufferTank
    );
    let discharges = need!(inquiry.project(), drainage.discharges).every();
    let mut own = discharges.iter().filter(|one| one.equipment.as_ref() == Some(&from.id) && one.drain == tube.drain).peekable();
    match own.peek() {
        Some(_) => Ok(own.any(|one| one.kind == DischargeKind::Relief)),
        None if heats => Err(tube.missing("/carries")),
        None => Ok(false),
    }
}

/// The pipe of a relief valve.
fn never_trapped(tube: &Place<IndirectWaste>, sheet: &mut Sheet) -> Lookup<Text> {
    let trapped = need!(tube, trapped)?;
    let words = if *trapped {
        "it is the pipe of a relief valve, and trapped"
    } else {
        "it is the pipe of a relief valve, without a trap"
    };
    if !sheet.require("trap", text!("{}", words), "IRC P2804.6.1 item 8", !*trapped) {
        sheet.cure_at(text!("take the trap out, let the pipe fall all the way"), &[(trapped.pointer().to_owned(), json!(false))]);
    }
    Ok(text!("the pipe of a relief valve, without a trap"))
}

fn judge(inquiry: &Inquiry, tube: &Place<IndirectWaste>, sheet: &mut Sheet) -> Lookup<Text> {
    let (sideways, length) = (need!(tube, horizontal_length), need!(tube, length)).together()?;
    let source = "IPC 802.3";
    let short = sheet.at_most("sideways", &sideways, &inquiry.value(&SIDEWAYS), "in", source)
        & sheet.at_most("along", &length, &inquiry.value(&ALONG), "in", source);
    if !short {
        let trapped = need!(tube, trapped)?;
        let words = text!("{} sideways, {} along, {}", sideways, length, if *trapped { "trapped" } else { "without a trap" });
        if !sheet.require("trap", words, source, *trapped) {
            sheet.cure_at(text!("a trap below the equipment"), &[(trapped.pointer().to_owned(), json!(true))]);
        }
    }
    let longest = inquiry.value(&LONGEST);
    let words = text!("{} long, {} is the most", length, in_unit(longest, "ft"));
    sheet.require("length", words, "city codes; no model code sets one", at_most(length.quantity(), longest));
    Ok(if short { text!("short enough without a trap") } else { text!("trapped") })
}

/// A tube under pressure: nothing of the code, but of its maker.
fn pushed(inquiry: &Inquiry, tube: &Place<IndirectWaste>, sheet: &mut Sheet) -> Lookup<Text> {
    let manual = "from memory of softener manuals";
    if let Ok(inside) = need!(tube, inside_diameter) {
        let long = tube.length.as_ref().is_some_and(|length| length.quantity() > feet(30.0));
        let least = inches(if long { 0.75 } else { 0.5 });
        let words = text!("{} inside, {} is usual for its length", inside, in_unit(least, "in"));
        if !sheet.test("bore", words.clone(), manual, at_least(inside.quantity(), least)) {
            sheet.advise(words);
        }
    }
    if let Ok(lift) = need!(tube, lift) {
        let words =
            text!("it climbs {}, {} is the most makers usually allow", in_unit(&lift, "ft"), in_unit(inquiry.value(&LIFT), "ft"));
        if !sheet.test("lift", words.clone(), manual, at_most(lift.quantity(), inquiry.value(&LIFT))) {
            sheet.advise(words);
        }
    }
    Ok(text!("pushed through under pressure: it needs no trap"))
}
