//! Equipment that is wired in can be disconnected within sight of it, or by a switch or breaker that locks open.
//!
//! Whoever has their hands in a fan or a terminal box must know that nobody switches it on.
//!
//! **How it is measured.** Wired-in heating, cooling and pumping equipment: its disconnect is within sight and no further than 50 ft
//! (as stated or as drawn, the larger), or lockable. A cord and plug is a disconnect. Air conditioners and heat pumps outdoors need one within sight and readily
//! accessible whether or not it locks.
//!
//! **How it is fixed.** A switch beside the equipment, or a lock-open fitting on its breaker that stays there.

use redtag_rule::prelude::*;
use uom::si::f64::Length;

/// How far.
const SIGHT: Quantity<dimensions::Length> =
    Quantity::new("within_sight", "50 ft", "How far away a disconnect within sight may be.", "NEC article 100")
        .within("1 ft", "100 ft");
/// Outdoor units.
const CONDENSERS: Flag = Flag::new(
    "cooling_within_sight",
    true,
    "Whether air conditioners and heat pumps need a disconnect within sight even where it locks.",
    "from memory of NEC 440.14",
);

/// The rule.
pub const RULE: Rule = Rule {
    citations: &[
        cited("NEC", "2020", "422.31"),
        cited("NEC", "2020", "424.19"),
        remembered("NEC", "2020", "440.14"),
        remembered("NEC", "2020", "430.102"),
    ],
    parameters: &[&SIGHT, &CONDENSERS],
    reads: &["/equipment", "/electrical/disconnects"],
    ..Rule::new("panels/disconnects", "Disconnects of equipment", check)
};

const WANTED: &str = "whether it can be disconnected safely";

fn check(inquiry: &Inquiry) -> Vec<Finding> {
    let equipment = need!(inquiry.project(), equipment).every();
    equipment
        .iter()
        .filter(|one| concerned(one.kind) && kinds::electrical(one) == Ok(true))
        .map(|one| {
            let cord = one.electrical.as_ref().is_some_and(|supply| supply.connection == Some(ConnectionKind::CordAndPlug));
            if cord {
                return one.complies(text!("its cord and plug disconnect it")).done();
            }
            one.sheet(WANTED, |sheet| judge(inquiry, one, sheet))
        })
        .collect()
}

fn concerned(kind: EquipmentKind) -> bool {
    use EquipmentKind as K;
    matches!(
        kind,
        K::Pump
            | K::WellController
            | K::RoomHeater
            | K::Furnace
            | K::AirHandler
            | K::Boiler
            | K::HeatPump
            | K::AirConditioner
            | K::UnitHeater
            | K::StorageWaterHeater
            | K::TanklessWaterHeater
            | K::HeatPumpWaterHeater
    )
}

fn judge<'a>(inquiry: &Inquiry<'a>, equipment: &Place<'a, Equipment>, sheet: &mut Sheet) -> Lookup<Text> {
    need!(equipment, electrical.connection)?;
    let id = need!(equipment, electrical.disconnect)?;
    let disconnect = need!(inquiry.project(), electrical.disconnects).named(&id)?;
    let cooling = matches!(equipment.kind, EquipmentKind::HeatPump | EquipmentKind::AirConditioner);
    let strict = cooling && inquiry.value(&CONDENSERS);
    if strict
        && let Some(accessible) = sheet.want(need!(disconnect, readily_accessible))
        && !*accessible
    {
        let words = text!("disconnect {} is not readily accessible", disconnect.id);
        sheet.require("access", words, "from memory of NEC 440.14", false);
        sheet.related(disconnect.pointer());
        sheet.cure(text!("move it where one can get at it at once: not behind the unit, not above it"));
    }
    if disconnect.lockable == Some(true) && !strict {
        return Ok(text!("disconnect {} locks open", disconnect.id));
    }
    let (sight, distance) = (need!(disconnect, within_sight), away(inquiry, &disconnect, equipment)).together()?;
    let most = inquiry.value(&SIGHT);
    let seen = *sight && at_most(distance, most);
    let how = if *sight { "within sight" } else { "out of sight" };
    let away = in_unit(distance, "ft");
    let words = text!("disconnect {} is {}, {} away; {} is the most", disconnect.id, how, away, in_unit(most, "ft"));
    if seen {
        return Ok(words);
    }
    if !strict {
        need!(disconnect, lockable)?;
    }
    let locked = if strict { "" } else { ", and does not lock open" };
    sheet.require("disconnect", text!("{}{}", words, locked), "NEC 422.31, 424.19, 440.14", false);
    sheet.related(disconnect.pointer());
    sheet.cure(text!("put a switch within sight of it"));
    if !strict {
        sheet.cure_at(
            text!("fit a lock to the breaker that stays there"),
            &[(format!("{}/lockable", disconnect.pointer()), json!(true))],
        );
    }
    Ok(Text::default())
}

/// How far the disconnect is: as stated, or by positions; the larger where both are there.
fn away<'a>(inquiry: &Inquiry<'a>, disconnect: &Place<'a, Disconnect>, equipment: &Place<'a, Equipment>) -> Lookup<Length> {
    let stated = need!(disconnect, distance).map(|distance| distance.quantity());
    let drawn = need!(disconnect, equipment).and_then(|id| redtag_rule_space::between(&inquiry.equipment(&id)?, equipment));
    match (stated, drawn) {
        (Ok(stated), Ok(drawn)) if drawn > stated => Ok(drawn),
        (Ok(stated), _) => Ok(stated),
        (Err(_), Ok(drawn)) => Ok(drawn),
        (Err(unresolved), Err(_)) => Err(unresolved),
    }
}
