//! A well pump must be able to backwash every filter, and the well to follow it.
//!
//! A filter that is backwashed with too little flow never lifts its bed and fails in a season. A well that is pumped faster than
//! it yields runs dry, and the pump with it.
//!
//! **How it is measured.** The pump's flow at the pressure the device needs, on a parabola through its rated point and the
//! pressure it makes against a closed valve; the yield of the well over hours; the backwash flow of each device. And the greatest
//! flow of the house against pump and tank together over the minutes a peak lasts.
//!
//! **How it is fixed.** A device with a smaller backwash, a larger pump where the well allows it, storage where it does not.

use crate::source;
use redtag_handbook::water::{atmosphere_at, drawdown, pump_flow_at};
use redtag_rule::prelude::*;
use uom::si::f64::VolumeRate;

/// Peak.
const PEAK: Quantity<dimensions::Duration> = Quantity::new(
    "peak",
    "5 min",
    "How long the greatest flow of the house lasts.",
    "common practice: a peak of minutes is met from the tank",
)
.within("1 min", "60 min");

/// The rule.
pub const RULE: Rule = Rule {
    level: Level::Advice,
    citations: &[remembered("IRC", "2021", "P2903.3"), remembered("manufacturer's instructions", "any", "backwash flow")],
    parameters: &[&PEAK],
    reads: &["/water", "/equipment", "/site"],
    ..Rule::new("water-supply/well-supply", "A well that can backwash and follow the house", check)
};

fn check(inquiry: &Inquiry) -> Vec<Finding> {
    let judged = |source: Place<'_, WaterSource>| {
        if source.pump.is_none() {
            return source.not_applicable(text!("no pump feeds the house from it")).done();
        }
        source.sheet("whether it follows the house", |sheet| judge(inquiry, &source, sheet))
    };
    source::all(inquiry).into_iter().map(judged).collect()
}

fn judge(inquiry: &Inquiry, source: &Place<WaterSource>, sheet: &mut Sheet) -> Lookup<Text> {
    let (pump, yields) = (redtag_rule_water::pump(inquiry, source), need!(source, sustained_flow)).together()?;
    let flow = need!(pump, pump.flow)?;
    for step in need!(inquiry.project(), water.treatment).every() {
        let Some(device) = sheet.want(need!(step, equipment).and_then(|id| inquiry.equipment(&id))) else { continue };
        let Ok(backwash) = need!(device, treatment.backwash) else { continue };
        let gives = at_device(&pump, &device, flow.quantity());
        let label = device.label();
        if !sheet.at_least(&format!("pump, {label}"), &gives, &backwash, "gpm", "the device's instructions") {
            sheet.fault(text!(
                "{} backwashes with {}, the pump gives {}",
                label,
                in_unit(&backwash, "gpm"),
                in_unit(gives, "gpm")
            ));
        }
        if !sheet.at_least(&format!("well, {label}"), &yields, &backwash, "gpm", "the device's instructions") {
            sheet.fault(text!(
                "{} backwashes with {}, the well yields {}",
                label,
                in_unit(&backwash, "gpm"),
                in_unit(&yields, "gpm")
            ));
        }
    }
    if let Ok(expected) = need!(inquiry.project(), water.design_flow) {
        peak(inquiry, source, (flow.quantity(), expected.quantity()), sheet);
    }
    Ok(text!("the well yields {}, the pump gives {}", in_unit(&yields, "gpm"), in_unit(&flow, "gpm")))
}

/// The flow of the pump at the pressure a device needs.
fn at_device(pump: &Place<Equipment>, device: &Place<Equipment>, flow: VolumeRate) -> VolumeRate {
    let facts =
        (need!(pump, pump.pressure), need!(pump, pump.shutoff_pressure), need!(device, treatment.minimum_pressure)).together();
    let Ok((at, shutoff, wanted)) = facts else { return flow };
    // Below its rated point the curve is not known to go on: no more than the rated flow is counted.
    pump_flow_at(flow, at.quantity(), shutoff.quantity(), wanted.quantity()).map_or(flow, |there| there.min(flow))
}

/// Pump and tank together over a peak.
fn peak(inquiry: &Inquiry, source: &Place<WaterSource>, (flow, expected): (VolumeRate, VolumeRate), sheet: &mut Sheet) {
    let tank = need!(source, pressure_tank).and_then(|id| inquiry.equipment(&id));
    let stored = tank.and_then(|tank| {
        let (volume, charge, on, off, elevation) = (
            need!(tank, tank.volume),
            need!(tank, tank.precharge),
            need!(source, pump_on),
            need!(source, pump_off),
            need!(inquiry.project(), site.elevation),
        )
            .together()?;
        Ok(drawdown(volume.quantity(), charge.quantity(), on.quantity(), off.quantity(), atmosphere_at(elevation.quantity())))
    });
    let together = flow + stored.map_or(flow * 0.0, |stored| stored / inquiry.value(&PEAK));
    if !sheet.at_least("over a peak", &together, &expected, "gpm", "common practice") {
        sheet.fault(text!(
            "{} are expected, pump and tank give {} over a peak",
            in_unit(expected, "gpm"),
            in_unit(together, "gpm")
        ));
        sheet.cure(text!("a larger tank or pump, or less at one time"));
    }
}
