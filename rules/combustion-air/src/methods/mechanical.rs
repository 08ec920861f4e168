//! Outdoor air supplied by a fan.

use crate::air_space::AirSpace;
use crate::parameters::Limits;
use crate::trial::{Trial, Verdict};
use redtag_handbook::combustion_air as air;
use redtag_rule::prelude::*;
use redtag_rule::{remedy, remedy_at};
use uom::si::f64::VolumeRate;

/// Tries a fan.
pub fn attempt(space: &AirSpace, limits: &Limits) -> Trial {
    Trial::of("mechanical supply", "304.9", |sheet| {
        let exhaust = space.exhaust();
        let Some(fan) = space.fan() else {
            let supply = air::mechanical_supply(space.input.total(), exhaust.clone().unwrap_or_default(), &limits.mechanical);
            let cure = text!("supply {} of outdoor air by a fan interlocked with every burner", supply.total);
            return Ok(Verdict::Misses(text!("no fan supplies combustion air"), vec![remedy(cure)]));
        };
        let flow = need!(fan, flow)?;
        let alone = air::mechanical_supply(space.input.total(), VolumeRate::default(), &limits.mechanical);
        let enough_alone = at_least(flow.quantity(), alone.total);
        // What the exhaust takes only matters when the fan suffices without it.
        let exhaust = match exhaust {
            Ok(exhaust) => exhaust,
            Err(unresolved) if enough_alone => return Err(unresolved),
            Err(_) => VolumeRate::default(),
        };
        let supply = air::mechanical_supply(space.input.total(), exhaust, &limits.mechanical);
        let per = supply.combustion * (redtag_handbook::units::btu_per_hour(1000.0) / space.input.total());
        let working = text!("{} for each 1,000 Btu/h × {} = {}", per, space.input.total(), supply.combustion);
        sheet.line("combustion air", working, air::sources::MECHANICAL.text());
        if exhaust.value > 0.0 {
            let text = text!("{} exhausted from the same air is added: {}", exhaust, supply.total);
            sheet.line("make-up air", text, air::sources::MECHANICAL_MAKEUP.text());
        }
        if exhaust.value > 0.0 && fan.make_up_for_exhaust == Some(false) {
            let words = text!("what the exhaust fans draw, {}, is not made up", exhaust);
            sheet.test("make-up air", words.clone(), air::sources::MECHANICAL_MAKEUP.text(), false);
            return Ok(Verdict::Misses(words, vec![remedy(text!("supply {} by the fan, for the exhaust too", supply.total))]));
        }
        let holds = at_least(flow.quantity(), supply.total);
        sheet.test("fan", text!("{} supplied, {} needed", flow, supply.total), air::sources::MECHANICAL.text(), holds);
        if !holds {
            let words = text!("{} supplied of {} needed", flow, supply.total);
            return Ok(Verdict::Misses(words, vec![remedy(text!("supply {} by the fan", supply.total))]));
        }
        interlocked(sheet, space, &fan, flow.quantity(), supply.total)
    })
}

fn interlocked(
    sheet: &mut Sheet,
    space: &AirSpace,
    fan: &Place<MechanicalCombustionAir>,
    flow: VolumeRate,
    needed: VolumeRate,
) -> Lookup<Verdict> {
    let additional = need!(fan, additional_to_ventilation);
    if matches!(&additional, Ok(additional) if !**additional) {
        let words = text!("its flow is the ventilation of the house and not on top of it");
        sheet.test("on top of ventilation", words.clone(), air::sources::MECHANICAL_VENTILATION.text(), false);
        let cure = text!("supply {} for combustion on top of the ventilation rate", needed);
        return Ok(Verdict::Misses(words, vec![remedy(cure)]));
    }
    let (locked, _) = (need!(fan, interlocked), additional).together()?;
    let free: Vec<&str> = space.counted.iter().map(|a| a.id()).filter(|id| !locked.iter().any(|lock| lock == id)).collect();
    let holds = free.is_empty();
    let text = if holds {
        text!("every burner is interlocked with the fan")
    } else {
        text!("not interlocked with the fan: {}", free.join(", "))
    };
    sheet.test("interlock", text.clone(), air::sources::MECHANICAL_INTERLOCK.text(), holds);
    if holds {
        return Ok(Verdict::Passes(text!("{} supplied of {} needed, interlocked", flow, needed)));
    }
    let values: Vec<_> = free.iter().map(|id| (format!("{}/interlocked/-", fan.pointer()), json!(id))).collect();
    let cure = text!("interlock {} so that the main burner cannot fire while the fan stands still", free.join(", "));
    Ok(Verdict::Misses(text, vec![remedy_at(cure, &values)]))
}
