//! A storage system needs a disconnect that can be reached and seen or locked, and in one- and two-family dwellings a way to
//! shut it down from outdoors.
//!
//! Firefighters will not walk to a burning battery to switch it off, and an electrician must know that nobody switches it on.
//!
//! **How it is measured.** The disconnect is readily accessible and either within sight and near, or lockable; the shutdown is
//! outdoors and readily accessible.
//!
//! **How it is fixed.** A disconnect within sight of the system or one that locks open; an outdoor shutdown, marked as the
//! authority asks.

use crate::units;
use redtag_rule::prelude::*;
use uom::si::f64::Length;

/// Outdoors.
const OUTDOOR: Flag = Flag::new(
    "outdoor_shutdown",
    true,
    "Whether a shutdown outdoors is required at one- and two-family dwellings.",
    "NEC 706.15(A) of 2020 and 2023; none in 2017",
);
/// How near the disconnect must be.
const DISTANCE: Quantity<dimensions::Length> = Quantity::new(
    "disconnect_distance",
    "10 ft",
    "How far from the system a disconnect within sight may be where it cannot be locked open.",
    "NEC 706.15 of 2023",
)
.within("1 ft", "50 ft");

/// The rule.
pub const RULE: Rule = Rule {
    citations: &[cited("NEC", "2023", "706.15")],
    parameters: &[&OUTDOOR, &DISTANCE],
    reads: &["/equipment", "/electrical/storage", "/electrical/disconnects"],
    ..Rule::new("energy-storage/shutdown", "Disconnect and outdoor shutdown", check)
};

const WANTED: &str = "whether it can be shut down";
const SOURCE: &str = "NEC 706.15";

fn check(inquiry: &Inquiry) -> Vec<Finding> {
    units::systems(inquiry).iter().map(|system| system.sheet(WANTED, |sheet| judge(inquiry, system, sheet))).collect()
}

fn judge<'a>(inquiry: &Inquiry<'a>, system: &Place<'a, StorageSystem>, sheet: &mut Sheet) -> Lookup<Text> {
    if inquiry.value(&OUTDOOR)
        && let Some(outdoors) = sheet.want(need!(system, outdoor_shutdown))
    {
        let words = if *outdoors { "can be shut down from outdoors" } else { "cannot be shut down from outdoors" };
        if !sheet.require("outdoor shutdown", text!("{}", words), "NEC 706.15(A)", *outdoors) {
            sheet.cure_at(
                text!("put a readily accessible shutdown outdoors, marked as the authority asks"),
                &[(outdoors.pointer().to_owned(), json!(true))],
            );
        }
    }
    let disconnect = need!(inquiry.project(), electrical.disconnects).named(&need!(system, disconnect)?)?;
    if let Some(accessible) = sheet.want(need!(disconnect, readily_accessible)) {
        let words = if *accessible { "readily accessible" } else { "not readily accessible" };
        if !sheet.require("access", text!("disconnect {} is {}", disconnect.id, words), SOURCE, *accessible) {
            sheet.cure(text!("clear the way to it or move it"));
        }
    }
    if disconnect.lockable != Some(true) {
        in_sight(inquiry, system, &disconnect, sheet)?;
    }
    Ok(text!("can be disconnected and shut down"))
}

/// A disconnect that cannot be locked must be seen and near.
fn in_sight<'a>(
    inquiry: &Inquiry<'a>,
    system: &Place<'a, StorageSystem>,
    disconnect: &Place<'a, Disconnect>,
    sheet: &mut Sheet,
) -> Lookup<()> {
    let (sight, distance) = (need!(disconnect, within_sight), away(inquiry, system, disconnect)).together()?;
    let most = inquiry.value(&DISTANCE);
    let near = at_most(distance, most);
    let seen = if *sight { "within sight" } else { "out of sight" };
    let words = text!(
        "disconnect {} is {}, {} away ({} is the most), and not lockable",
        disconnect.id,
        seen,
        in_unit(distance, "ft"),
        in_unit(most, "ft")
    );
    if !sheet.require("sight", words, SOURCE, *sight && near) {
        sheet.related(disconnect.pointer());
        sheet.cure_at(
            text!("use a disconnect that locks open, or put it within sight and {}", in_unit(most, "ft")),
            &[(format!("{}/lockable", disconnect.pointer()), json!(true))],
        );
    }
    Ok(())
}

/// How far the disconnect is from the farthest unit by positions, or as stated; the larger where both are there.
fn away<'a>(inquiry: &Inquiry<'a>, system: &Place<'a, StorageSystem>, disconnect: &Place<'a, Disconnect>) -> Lookup<Length> {
    let switch = need!(disconnect, equipment).and_then(|id| inquiry.equipment(&id));
    let units = need!(system, units).every();
    let drawn = units.iter().filter_map(|unit| {
        let unit = need!(unit, equipment).and_then(|id| inquiry.equipment(&id)).ok()?;
        redtag_rule_space::between(switch.as_ref().ok()?, &unit).ok()
    });
    let drawn = drawn.reduce(|a, b| if b > a { b } else { a });
    match (need!(disconnect, distance).map(|distance| distance.quantity()), drawn) {
        (Ok(stated), Some(drawn)) if drawn > stated => Ok(drawn),
        (Err(_), Some(drawn)) => Ok(drawn),
        (stated, _) => stated,
    }
}
