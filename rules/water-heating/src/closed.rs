//! Whether water that grows when it is heated can go back where it came from.

use crate::heater;
use redtag_rule::prelude::*;

/// A device that lets water one way only.
pub struct Stop<'a> {
    /// The valve.
    pub valve: Place<'a, WaterValve>,
}

/// The pipes a heater's water takes.
pub struct Way {
    /// Their ids, from the heater back.
    pub ids: Vec<String>,
    /// What is missing to follow them to the source.
    open: Option<Unresolved>,
}

/// The devices between the source and a heater that close the pipe behind it.
///
/// # Errors
/// Where no valves are told, where the pipes to a valve are not, or where it is not said whether a valve lets water back.
pub fn stops<'a>(inquiry: &Inquiry<'a>, served: &Place<Equipment>) -> Lookup<Vec<Stop<'a>>> {
    let valves = need!(inquiry.project(), water.valves)?;
    let upstream = upstream_of(inquiry, served);
    let (mut stops, mut unseen) = (Vec::new(), None);
    for valve in valves.items().filter(|valve| one_way(valve.kind)) {
        let closes = concerns(inquiry, &valve, served, upstream.as_ref())
            .and_then(|concerns| if concerns { closes(inquiry, &valve, served) } else { Ok(false) });
        match closes {
            Ok(true) => stops.push(Stop { valve }),
            Ok(false) => {}
            Err(unresolved) => unseen = Unresolved::joined(unseen, unresolved),
        }
    }
    match unseen {
        Some(unresolved) if stops.is_empty() => Err(unresolved),
        _ => Ok(stops),
    }
}

fn one_way(kind: WaterValveKind) -> bool {
    use WaterValveKind as Kind;
    matches!(
        kind,
        Kind::Check
            | Kind::DualCheck
            | Kind::DualCheckWithVent
            | Kind::DoubleCheck
            | Kind::ReducedPressureZone
            | Kind::PressureReducing
    )
}

/// Whether a valve on the heater's way keeps water from going back.
fn closes(inquiry: &Inquiry, valve: &Place<WaterValve>, served: &Place<Equipment>) -> Lookup<bool> {
    if valve.kind == WaterValveKind::PressureReducing {
        return Ok(!*need!(valve, bypass)?);
    }
    if valve.bypass == Some(true) {
        return Ok(false);
    }
    // The check of a well pump stands before the tank that takes the water up.
    let at_the_heater = valve.serves.as_ref().is_some_and(|serves| serves.contains(&served.id));
    if valve.kind == WaterValveKind::Check && !at_the_heater && behind_tanks(inquiry) {
        return need!(valve, before_pressure_tank).map(|before| !*before);
    }
    Ok(true)
}

/// Whether all drinking water comes through a pressure tank of its own.
fn behind_tanks(inquiry: &Inquiry) -> bool {
    let sources = redtag_rule_water::drinking(inquiry).unwrap_or_default();
    !sources.is_empty() && sources.iter().all(|source| source.pressure_tank.is_some())
}

/// Whether the heater's water comes through a valve. One that serves something else alone stands in a branch; one in a pipe that
/// does not lead to the heater is passed over where the pipes say so.
fn concerns(inquiry: &Inquiry, valve: &Place<WaterValve>, served: &Place<Equipment>, upstream: Option<&Way>) -> Lookup<bool> {
    if let Some(serves) = valve.serves.as_ref().filter(|serves| !serves.is_empty()) {
        if serves.contains(&served.id) {
            return Ok(true);
        }
        let units =
            need!(inquiry.project(), building.dwelling_units).listed_only("units are listed where there is more than one");
        if !serves.iter().any(|id| units.iter().any(|unit| &unit.id == id)) {
            return Ok(false);
        }
    }
    match (upstream, &valve.pipe) {
        (Some(way), Some(pipe)) if way.ids.contains(pipe) => Ok(true),
        (Some(Way { open: Some(unresolved), .. }), Some(_)) => Err(unresolved.clone()),
        (Some(_), Some(_)) => Ok(false),
        _ => Ok(true),
    }
}

/// The pipes from the heater back to the source; `None` where none is told.
pub fn upstream_of(inquiry: &Inquiry, served: &Place<Equipment>) -> Option<Way> {
    let pipes = need!(inquiry.project(), water.pipes).every();
    let first = heater::pipes_of(inquiry, served).into_iter().find(|pipe| pipe.kind == WaterPipeKind::Hot)?;
    let chain = redtag_rule_water::chain(&pipes, &first.id);
    if chain.len() < 2 {
        return None;
    }
    let last = chain.last().filter(|last| last.kind != WaterPipeKind::Service && last.from.is_none());
    let open = last.map(|last| last.missing("/from"));
    Some(Way { ids: chain.iter().map(|pipe| pipe.get().id.clone()).collect(), open })
}
