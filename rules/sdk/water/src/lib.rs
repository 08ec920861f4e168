//! The water that comes to a house, as several families read it: its sources, the pipes it takes, its pressure at rest and the valve
//! that holds that down. A valve counts for what hangs behind it and for nothing else.

mod reducer;

use redtag_rule::prelude::*;
pub use reducer::{of_the_house, on_the_way};
use uom::si::f64::Pressure;

/// Asks whether the outlets listed are all there are, where nobody says so: a flow is that of what is listed, and one more outlet
/// may be too much. A fault stands without that answer.
pub fn all_fixtures(inquiry: &Inquiry, sheet: &mut Sheet) {
    let said = need!(inquiry.project(), water.fixtures_complete);
    if !said.is_ok_and(|whole| *whole) {
        let wanted = "whether these are all the fixtures: the flow is that of what is listed";
        sheet.lack(Unresolved::because("/water/fixtures_complete", wanted));
    }
}

/// The sources whose water may be drunk.
///
/// # Errors
/// Where no sources are told.
pub fn drinking<'a>(inquiry: &Inquiry<'a>) -> Lookup<Vec<Place<'a, WaterSource>>> {
    let sources = need!(inquiry.project(), water.sources)?;
    Ok(sources.items().filter(|source| source.potable != Some(false)).collect())
}

/// The pipes from one back to the source, itself first. A loop in the file ends the walk.
pub fn chain<'p, 'a>(pipes: &'p [Place<'a, WaterPipe>], id: &str) -> Vec<&'p Place<'a, WaterPipe>> {
    let mut chain: Vec<&Place<'a, WaterPipe>> = Vec::new();
    let mut next = pipes.iter().find(|pipe| pipe.id == id);
    while let Some(pipe) = next.filter(|pipe| chain.iter().all(|passed| passed.id != pipe.id)) {
        chain.push(pipe);
        next = pipe.from.as_ref().and_then(|from| pipes.iter().find(|pipe| &pipe.id == from));
    }
    chain
}

/// The pump of a source.
///
/// # Errors
/// Where it is not told.
pub fn pump<'a>(inquiry: &Inquiry<'a>, source: &Place<'a, WaterSource>) -> Lookup<Place<'a, Equipment>> {
    need!(source, pump).and_then(|id| inquiry.equipment(&id))
}

/// Whether a drive keeps the pressure of its pump constant.
pub fn constant<'a>(inquiry: &Inquiry<'a>, source: &Place<'a, WaterSource>) -> bool {
    let drive = pump(inquiry, source).ok().and_then(|item| item.get().pump.as_ref()?.constant_pressure);
    drive == Some(true)
}

/// The pressure of a source at rest, nothing held down: behind a pump that starts and stops it is where the pump stops. Where both
/// that and a pressure at rest are told the greater counts.
///
/// # Errors
/// Where it is not told.
pub fn unreduced<'a>(inquiry: &Inquiry<'a>, source: &Place<'a, WaterSource>) -> Lookup<Pressure> {
    let pumped = (source.pump.is_some() || source.pump_on.is_some()) && !constant(inquiry, source);
    let told = need!(source, static_pressure).map(|pressure| pressure.quantity());
    match need!(source, pump_off) {
        Ok(off) => Ok(told.map_or(off.quantity(), |told| told.max(off.quantity()))),
        Err(unresolved) if pumped => Err(unresolved),
        Err(_) => told,
    }
}

/// The greatest pressure of all drinking water at rest, nothing held down.
///
/// # Errors
/// Where a source does not say its own, or there is none.
pub fn greatest_unreduced(inquiry: &Inquiry) -> Lookup<Pressure> {
    let all: Vec<_> = drinking(inquiry)?.iter().map(|source| unreduced(inquiry, source)).collect();
    all.together()?.into_iter().reduce(Pressure::max).ok_or_else(|| Unresolved::at("/water/sources"))
}

/// The pressure at rest at the end of a way, and in words where it is taken: that of the valve that holds it down, or of the sources.
/// `ids` are the things the water is for, `way` the pipes it takes there where they are told.
///
/// # Errors
/// Where it is not told, or where it cannot be seen whether a valve stands on the way.
pub fn at_rest(inquiry: &Inquiry, ids: &[&str], way: &[String]) -> Lookup<(Pressure, &'static str)> {
    let source = greatest_unreduced(inquiry);
    match on_the_way(inquiry, ids, way)? {
        Some(valve) => {
            let set = need!(valve, set_pressure)?.quantity();
            // A valve set above what comes does nothing.
            Ok(match source {
                Ok(pressure) if pressure < set => (pressure, "at the source"),
                _ => (set, "behind the pressure-reducing valve"),
            })
        }
        None => Ok((source?, "at the source")),
    }
}

#[cfg(test)]
mod tests;
