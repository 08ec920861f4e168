//! Which pressure-reducing valve holds what down.

use crate::chain;
use redtag_rule::prelude::*;

/// The pressure-reducing valve the whole house hangs behind, if there is one.
///
/// # Errors
/// Where no valves are told, or where it cannot be seen whether one of them stands before the whole house.
pub fn of_the_house<'a>(inquiry: &Inquiry<'a>) -> Lookup<Option<Place<'a, WaterValve>>> {
    on_the_way(inquiry, &[], &[])
}

/// The pressure-reducing valve on the way to something: one that serves it, one in a pipe on its way, or one before the whole house.
///
/// # Errors
/// Where no valves are told, or where it cannot be seen whether one of them stands on the way.
pub fn on_the_way<'a>(inquiry: &Inquiry<'a>, ids: &[&str], way: &[String]) -> Lookup<Option<Place<'a, WaterValve>>> {
    let valves = need!(inquiry.project(), water.valves)?;
    let mut unseen = None;
    for valve in valves.items().filter(|valve| valve.kind == WaterValveKind::PressureReducing) {
        let serves = valve.serves.as_deref().unwrap_or_default();
        let own = serves.iter().any(|id| ids.contains(&id.as_str()));
        if own || valve.pipe.as_ref().is_some_and(|pipe| way.contains(pipe)) {
            return Ok(Some(valve));
        }
        match whole_house(inquiry, &valve) {
            Ok(true) => return Ok(Some(valve)),
            Ok(false) => {}
            Err(unresolved) => unseen = Unresolved::joined(unseen, unresolved),
        }
    }
    unseen.map_or(Ok(None), Err)
}

/// Whether everything in the house that is drunk from hangs behind a valve.
fn whole_house(inquiry: &Inquiry, valve: &Place<WaterValve>) -> Lookup<bool> {
    let units = need!(inquiry.project(), building.dwelling_units).every();
    let serves = valve.serves.as_deref().unwrap_or_default();
    if !serves.is_empty() {
        let unit = |id: &String| units.iter().any(|unit| &unit.id == id);
        return Ok(serves.iter().all(unit) && units.iter().all(|unit| serves.contains(&unit.id)));
    }
    let pipe = need!(valve, pipe)?;
    let pipes = need!(inquiry.project(), water.pipes).every();
    let Some(own) = pipes.iter().find(|known| known.id == *pipe) else { return Err(Unresolved::at(pipe.pointer())) };
    if own.kind == WaterPipeKind::Service && !pipes.iter().any(|pipe| pipe.kind == own.kind && pipe.id != own.id) {
        return Ok(true);
    }
    let before: Vec<&str> = chain(&pipes, &own.id).iter().map(|pipe| pipe.get().id.as_str()).collect();
    let others = pipes.iter().filter(|pipe| drunk_from(pipe) && !before.contains(&pipe.id.as_str()) && !outdoors(inquiry, pipe));
    for other in others {
        let way = chain(&pipes, &other.id);
        if way.iter().any(|pipe| pipe.id == own.id) {
            continue;
        }
        let Some(first) = way.last().filter(|first| first.kind != WaterPipeKind::Service && first.from.is_none()) else {
            return Ok(false);
        };
        return Err(first.missing("/from"));
    }
    // A tap on a pipe before the valve feels the whole pressure.
    let hangs_before = |fixture: &Place<Fixture>| {
        let pipes = [&fixture.cold_pipe, &fixture.hot_pipe];
        let early = |id: &String| id != &own.id && before.contains(&id.as_str());
        !outdoor(fixture.kind) && pipes.into_iter().flatten().any(early)
    };
    Ok(!need!(inquiry.project(), water.fixtures).every().iter().any(hangs_before))
}

fn drunk_from(pipe: &Place<WaterPipe>) -> bool {
    use WaterPipeKind as Kind;
    matches!(pipe.kind, Kind::Cold | Kind::Hot | Kind::Manifold | Kind::Recirculation)
}

fn outdoor(kind: FixtureKind) -> bool {
    matches!(kind, FixtureKind::HoseBibb | FixtureKind::Irrigation)
}

/// Whether only hoses and sprinklers hang on a pipe, which often branches off before the valve.
fn outdoors(inquiry: &Inquiry, pipe: &Place<WaterPipe>) -> bool {
    let fixtures = need!(inquiry.project(), water.fixtures).every();
    let on = |fixture: &&Place<Fixture>| [&fixture.cold_pipe, &fixture.hot_pipe].into_iter().flatten().any(|id| *id == pipe.id);
    let mut hung = fixtures.iter().filter(on).peekable();
    hung.peek().is_some() && hung.all(|fixture| outdoor(fixture.kind))
}
