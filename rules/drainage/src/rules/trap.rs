//! Every drain needs a trap of the right kind and size, with a seal deep enough, near its outlet.
//!
//! The water in the trap is all that keeps sewer gas out of the room. S-traps siphon themselves, bell and drum traps clog and lose
//! their seal, a trap that is too small backs up on the floor.
//!
//! **How it is measured.** Kind and size of the trap, depth of its seal (2 to 4 in), height and distance from the drain's outlet
//! to the weir. A standpipe that takes a clothes washer has a trap of 2 in. Standpipes have a height of their own; the IPC lets floor drains off the distance.
//!
//! **How it is fixed.** A P-trap of the size the drain asks for, close under it.

use crate::network::Network;
use redtag_handbook::drainage::sources;
use redtag_handbook::units::inches;
use redtag_rule::prelude::*;

/// Least seal.
const SEAL_LEAST: Quantity<dimensions::Length> =
    Quantity::new("seal_least", "2 in", "Least depth of a trap's seal.", "IRC P3201.2").within("1 in", "4 in");
/// Deepest seal.
const SEAL_MOST: Quantity<dimensions::Length> =
    Quantity::new("seal_most", "4 in", "Greatest depth of a trap's seal.", "IRC P3201.2").within("2 in", "8 in");
/// Down to the weir.
const DOWN: Quantity<dimensions::Length> =
    Quantity::new("outlet_to_weir_most", "24 in", "Greatest height from a drain's outlet down to its trap weir.", "IRC P3201.6")
        .within("12 in", "60 in");
/// Sideways to the weir.
const ASIDE: Quantity<dimensions::Length> =
    Quantity::new("sideways_most", "30 in", "Greatest distance sideways from a drain's outlet to its trap weir.", "IRC P3201.6")
        .within("12 in", "60 in");
/// The IPC's exception.
const EXEMPT: Flag = Flag::new(
    "floor_drains_exempt",
    false,
    "Whether floor drains, floor sinks and hub drains are let off the distance to the weir, as in the IPC.",
    "IPC 1002.1, as Ohio 4101:3-10 prints it",
);

/// The rule.
pub const RULE: Rule = Rule {
    citations: &[
        cited("IRC", "2018", "P3201.2"),
        cited("IRC", "2018", "P3201.6"),
        remembered("IRC", "2021", "P3201.5"),
        remembered("IRC", "2021", "P3201.7"),
    ],
    parameters: &[&SEAL_LEAST, &SEAL_MOST, &DOWN, &ASIDE, &EXEMPT],
    reads: &["/drainage", "/water"],
    ..Rule::new("drainage/trap", "Traps", check)
};

const WANTED: &str = "whether the trap is of the right kind, size and depth";

fn check(inquiry: &Inquiry) -> Vec<Finding> {
    Network::of(inquiry)
        .drains
        .iter()
        .map(|drain| {
            if least_size(drain.kind).is_none() {
                return drain.not_applicable(text!("a {} has no trap of its own", drain.kind)).done();
            }
            drain.sheet(WANTED, |sheet| judge(inquiry, drain, sheet))
        })
        .collect()
}

/// Least trap, in inches. From memory of IRC Table P3201.7; floor sinks and hubs as floor drains.
fn least_size(kind: DrainKind) -> Option<f64> {
    match kind {
        DrainKind::FloorDrain | DrainKind::FloorSink | DrainKind::HubDrain => Some(2.0),
        DrainKind::LaundryTub | DrainKind::Sink | DrainKind::Standpipe => Some(1.5),
        _ => None,
    }
}

/// Whether a clothes washer empties into a standpipe.
fn takes_washer(inquiry: &Inquiry, drain: &Place<Drain>) -> Lookup<bool> {
    let own = |into: &Option<String>| into.as_ref() == Some(&drain.id);
    let discharges = need!(inquiry.project(), drainage.discharges).every();
    let runs = discharges.iter().any(|one| one.kind == DischargeKind::ClothesWasher && own(&one.drain));
    let fixtures = need!(inquiry.project(), water.fixtures);
    if runs || fixtures.clone().every().iter().any(|one| one.kind == FixtureKind::ClothesWasher && own(&one.drain)) {
        return Ok(true);
    }
    let washers = fixtures?.items().filter(|one| one.kind == FixtureKind::ClothesWasher);
    washers.map(|one| need!(one, drain)).collect::<Vec<_>>().together()?;
    // A washer that is not listed may empty into it; so small a trap is for anything else.
    need!(inquiry.project(), water.fixtures_complete).and_then(|whole| {
        if *whole { Ok(false) } else { Err(Unresolved::because(whole.pointer(), "the fixtures that are not listed")) }
    })
}

fn judge(inquiry: &Inquiry, drain: &Place<Drain>, sheet: &mut Sheet) -> Lookup<Text> {
    let trap = need!(drain, trap)?;
    if trap.kind != TrapKind::P {
        let words =
            if trap.kind == TrapKind::None { text!("there is no trap") } else { text!("a {} trap is prohibited", trap.kind) };
        sheet.test("kind", words.clone(), "from memory of IRC P3201.5", false);
        sheet.fault(words);
        sheet.cure_at(text!("fit a P-trap"), &[(format!("{}/kind", trap.pointer()), json!("p"))]);
        return Ok(text!("no P-trap"));
    }
    if let (Some(size), Some(least)) = (sheet.want(need!(trap, size)), least_size(drain.kind)) {
        let small = drain.kind == DrainKind::Standpipe && !at_least(size.quantity(), inches(2.0));
        let washer = if small { sheet.want(takes_washer(inquiry, drain)) } else { None };
        let least = if washer == Some(true) { inches(2.0) } else { inches(least) };
        let words = text!("{} trap on a {}, {} is the least", size, drain.kind, in_unit(least, "in"));
        if !sheet.require("size", words, sources::TRAP_SIZE.text(), at_least(size.quantity(), least)) {
            let value = json!(quantity::Length::from_quantity(&least).print_in("in"));
            sheet.cure_at(text!("a {} trap", in_unit(least, "in")), &[(size.pointer().to_owned(), value)]);
        }
    }
    if let Some(seal) = sheet.want(need!(trap, seal)) {
        let (least, most) = (inquiry.value(&SEAL_LEAST), inquiry.value(&SEAL_MOST));
        let words = text!("a seal of {}, it must be {} to {}", seal, in_unit(least, "in"), in_unit(most, "in"));
        let holds = at_least(seal.quantity(), least) && at_most(seal.quantity(), most);
        sheet.require("seal", words, sources::TRAP_SEAL.text(), holds);
    }
    let floor = matches!(drain.kind, DrainKind::FloorDrain | DrainKind::FloorSink | DrainKind::HubDrain);
    if drain.kind != DrainKind::Standpipe && !(floor && inquiry.value(&EXEMPT)) {
        if let Some(down) = sheet.want(need!(trap, outlet_to_weir)) {
            let words = text!("{} from the outlet down to the weir, {} is the most", down, in_unit(inquiry.value(&DOWN), "in"));
            sheet.require(
                "height to the weir",
                words,
                sources::OUTLET_TO_WEIR.text(),
                at_most(down.quantity(), inquiry.value(&DOWN)),
            );
        }
        if let Some(aside) = sheet.want(need!(trap, outlet_to_weir_sideways)) {
            let words = text!("{} sideways to the weir, {} is the most", aside, in_unit(inquiry.value(&ASIDE), "in"));
            sheet.require(
                "distance to the weir",
                words,
                sources::OUTLET_TO_WEIR.text(),
                at_most(aside.quantity(), inquiry.value(&ASIDE)),
            );
        }
    }
    Ok(text!("a P-trap of the right size with a seal of the right depth"))
}
