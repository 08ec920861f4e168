//! Water heaters, the water that comes to them, and the pipes they feed.

use redtag_rule::prelude::*;
use uom::si::f64::Pressure;

/// Whether it heats water for taps.
pub fn heats(item: &Place<Equipment>) -> bool {
    use EquipmentKind as Kind;
    matches!(
        item.kind,
        Kind::StorageWaterHeater | Kind::TanklessWaterHeater | Kind::HeatPumpWaterHeater | Kind::IndirectWaterHeater
    )
}

/// Whether it keeps water hot in a tank.
pub fn stores(item: &Place<Equipment>) -> bool {
    item.kind != EquipmentKind::TanklessWaterHeater
}

/// Every water heater.
pub fn all<'a>(inquiry: &Inquiry<'a>) -> Vec<Place<'a, Equipment>> {
    need!(inquiry.project(), equipment).every().into_iter().filter(heats).collect()
}

/// Judges every water heater.
pub fn each<'a>(inquiry: &Inquiry<'a>, judge: impl Fn(&Place<'a, Equipment>) -> Finding) -> Vec<Finding> {
    all(inquiry).iter().map(judge).collect()
}

/// The coldest water that comes in winter, of all sources that may be drunk.
///
/// # Errors
/// Where no source says its temperature.
pub fn coldest<'a>(inquiry: &Inquiry<'a>) -> Lookup<Place<'a, quantity::Temperature>> {
    let temperatures: Vec<_> = redtag_rule_water::drinking(inquiry)?.iter().map(|source| need!(source, temperature)).collect();
    let all = temperatures.together()?;
    let coldest = all.into_iter().min_by(|one, other| one.si().total_cmp(&other.si()));
    coldest.ok_or_else(|| Unresolved::at("/water/sources"))
}

/// The greatest pressure at rest in a heater: that of a pressure-reducing valve on its way, else the greatest of the sources.
///
/// # Errors
/// Where neither is told, or where it cannot be seen whether a valve stands on the way.
pub fn at_rest(inquiry: &Inquiry, heater: &Place<Equipment>) -> Lookup<(Pressure, &'static str)> {
    let way = crate::closed::upstream_of(inquiry, heater).map(|way| way.ids).unwrap_or_default();
    redtag_rule_water::at_rest(inquiry, &[&heater.id], &way)
}

/// The pipes that begin at a heater and those behind them; all hot pipes where the house has one heater and none is named.
pub fn pipes_of<'a>(inquiry: &Inquiry<'a>, heater: &Place<Equipment>) -> Vec<Place<'a, WaterPipe>> {
    let pipes = need!(inquiry.project(), water.pipes).every();
    let alone = all(inquiry).len() == 1;
    let unnamed = pipes.iter().all(|pipe| pipe.heater.is_none());
    let hot = |pipe: &Place<WaterPipe>| matches!(pipe.kind, WaterPipeKind::Hot | WaterPipeKind::Recirculation);
    if alone && unnamed {
        return pipes.into_iter().filter(hot).collect();
    }
    let serves = |pipe: &Place<WaterPipe>| begins_at(&pipes, pipe.get(), &heater.id);
    pipes.iter().filter(|pipe| serves(pipe)).cloned().collect()
}

/// Whether a pipe, or one before it, begins at the heater.
fn begins_at(pipes: &[Place<WaterPipe>], pipe: &WaterPipe, heater: &str) -> bool {
    let mut at = Some(pipe);
    // No pipe is passed twice: a loop in the file ends the walk.
    for _ in 0..=pipes.len() {
        let Some(here) = at else { return false };
        if let Some(named) = &here.heater {
            return named == heater;
        }
        at = here.from.as_ref().and_then(|from| pipes.iter().find(|pipe| &pipe.id == from)).map(|pipe| pipe.get());
    }
    false
}

/// Where a heater stands, in metres: its middle in plan and the height of its underside, with the space.
pub fn stands(inquiry: &Inquiry, heater: &Place<Equipment>) -> Option<(f64, f64, f64, Option<String>)> {
    let placement = heater.get().placement.as_ref()?;
    let (x, y) = (placement.x.as_ref()?.si(), placement.y.as_ref()?.si());
    let space = need!(heater, space).and_then(|id| inquiry.space(&id)).ok();
    let floor = space.as_ref().and_then(|space| space.floor_elevation.as_ref()).map_or(0.0, |floor| floor.si());
    Some((x, y, floor, heater.get().space.clone()))
}
