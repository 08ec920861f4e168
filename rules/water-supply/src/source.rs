//! Where the water comes from, and at which pressure.

use redtag_rule::prelude::*;
use uom::si::f64::Pressure;

/// Every source.
pub fn all<'a>(inquiry: &Inquiry<'a>) -> Vec<Place<'a, WaterSource>> {
    need!(inquiry.project(), water.sources).every()
}

/// The source the taps of the house hang on: the first whose water may be drunk.
///
/// # Errors
/// Where none is told.
pub fn of_the_house<'a>(inquiry: &Inquiry<'a>) -> Lookup<Place<'a, WaterSource>> {
    let sources = need!(inquiry.project(), water.sources)?;
    let drinking = sources.items().find(|source| source.potable != Some(false));
    drinking.ok_or_else(|| Unresolved::at("/water/sources"))
}

/// The pressure-reducing valve on the way in, if there is one.
///
/// # Errors
/// Where no valves are told.
pub fn reducer<'a>(inquiry: &Inquiry<'a>) -> Lookup<Option<Place<'a, WaterValve>>> {
    let valves = need!(inquiry.project(), water.valves)?;
    Ok(valves.items().find(|valve| valve.kind == WaterValveKind::PressureReducing))
}

/// The pump of a source.
pub fn pump<'a>(inquiry: &Inquiry<'a>, source: &Place<'a, WaterSource>) -> Lookup<Place<'a, Equipment>> {
    need!(source, pump).and_then(|id| inquiry.equipment(&id))
}

/// Whether a drive keeps the pressure of its pump constant.
pub fn constant(inquiry: &Inquiry, source: &Place<WaterSource>) -> bool {
    let Some(id) = source.get().pump.as_ref() else { return false };
    let pumps = need!(inquiry.project(), equipment).every();
    let pump = pumps.iter().find(|item| &item.id == id).and_then(|item| item.get().pump.as_ref());
    pump.is_some_and(|pump| pump.constant_pressure == Some(true))
}

/// The pressure the house can count on while water runs, and in words what it is. Behind a pump with cut-in and cut-out that is
/// cut-in; behind a drive its set pressure; at a main what is left while water runs.
///
/// # Errors
/// Where it is not told.
pub fn running<'a>(inquiry: &Inquiry<'a>, source: &Place<'a, WaterSource>) -> Lookup<(Pressure, &'static str)> {
    let pumped = source.get().pump.is_some();
    let (pressure, words) = match (pumped, pumped && constant(inquiry, source)) {
        (true, true) => (need!(source, static_pressure), "set pressure of the drive"),
        (true, false) => (need!(source, pump_on), "cut-in of the pump"),
        (false, _) => (need!(source, residual_pressure), "left at the main while water runs"),
    };
    let pressure = pressure?.quantity();
    match reducer(inquiry)? {
        Some(valve) => {
            let set = need!(valve, set_pressure)?.quantity();
            Ok(if set < pressure { (set, "behind the pressure-reducing valve") } else { (pressure, words) })
        }
        None => Ok((pressure, words)),
    }
}
