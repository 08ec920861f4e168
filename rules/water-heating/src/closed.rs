//! Whether water that grows when it is heated can go back where it came from.

use crate::heater;
use redtag_rule::prelude::*;

/// A device that lets water one way only.
pub struct Stop<'a> {
    /// The valve.
    pub valve: Place<'a, WaterValve>,
}

/// The devices between the source and a heater that close the pipe behind it.
///
/// # Errors
/// Where no valves are told, or where it is not said whether a pressure-reducing valve lets water back.
pub fn stops<'a>(inquiry: &Inquiry<'a>, served: &Place<Equipment>) -> Lookup<Vec<Stop<'a>>> {
    let valves = need!(inquiry.project(), water.valves)?;
    let upstream = upstream_of(inquiry, served);
    let mut stops = Vec::new();
    for valve in valves.items().filter(|valve| concerns(inquiry, valve, served, upstream.as_deref())) {
        let closes = match valve.kind {
            WaterValveKind::Check
            | WaterValveKind::DualCheck
            | WaterValveKind::DualCheckWithVent
            | WaterValveKind::DoubleCheck
            | WaterValveKind::ReducedPressureZone => valve.bypass != Some(true),
            WaterValveKind::PressureReducing => !*need!(valve, bypass)?,
            _ => false,
        };
        if closes {
            stops.push(Stop { valve });
        }
    }
    Ok(stops)
}

/// Whether the heater's water comes through a valve. One that serves something else alone stands in a branch; one in a pipe that
/// does not lead to the heater is passed over where the pipes say so.
fn concerns(inquiry: &Inquiry, valve: &Place<WaterValve>, served: &Place<Equipment>, upstream: Option<&[String]>) -> bool {
    if let Some(serves) = valve.serves.as_ref().filter(|serves| !serves.is_empty()) {
        if serves.contains(&served.id) {
            return true;
        }
        let units =
            need!(inquiry.project(), building.dwelling_units).listed_only("units are listed where there is more than one");
        if !serves.iter().any(|id| units.iter().any(|unit| &unit.id == id)) {
            return false;
        }
    }
    match (upstream, &valve.pipe) {
        (Some(upstream), Some(pipe)) => upstream.contains(pipe),
        _ => true,
    }
}

/// The pipes from the heater back to the source; `None` where they are not told.
fn upstream_of(inquiry: &Inquiry, served: &Place<Equipment>) -> Option<Vec<String>> {
    let pipes = need!(inquiry.project(), water.pipes).every();
    let first = heater::pipes_of(inquiry, served).into_iter().find(|pipe| pipe.kind == WaterPipeKind::Hot)?;
    let mut chain = vec![first.id.clone()];
    let mut from = first.from.clone();
    while let Some(id) = from {
        if chain.contains(&id) {
            break;
        }
        from = pipes.iter().find(|pipe| pipe.id == id).and_then(|pipe| pipe.from.clone());
        chain.push(id);
    }
    (chain.len() > 1).then_some(chain)
}
