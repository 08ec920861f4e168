//! What a wall or a body is: grounded, live, combustible.

use crate::gear;
use crate::scene::{Scene, Thing, in_plan};
use redtag_handbook::clearance::electrical::Condition;
use redtag_handbook::space::{Shape, Solid, Wall, cross, dot, norm, unit};
use redtag_rule::prelude::*;
use redtag_rule::schema::project as p;

/// How far the face of a wall may lie from the line an assembly is drawn along, in metres: a thick wall.
const REACH: f64 = 0.3;

/// The walls of the project that lie behind a wall of the outline.
pub fn assemblies_at<'a>(scene: &Scene<'a>, wall: &Wall) -> Vec<Place<'a, Assembly>> {
    let all = need!(scene.space, assemblies).every();
    all.into_iter().filter(|assembly| runs_along(assembly.get(), wall)).collect()
}

fn runs_along(assembly: &Assembly, wall: &Wall) -> bool {
    let (Some(from), Some(to)) = (&assembly.from, &assembly.to) else { return false };
    if !matches!(assembly.kind, p::AssemblyKind::Wall | p::AssemblyKind::FoundationWall) {
        return false;
    }
    let (from, to) = (in_plan(from), in_plan(to));
    let (Some(along), Some(its)) = (unit(wall.to - wall.from), unit(to - from)) else { return false };
    let (start, end) = (dot(from - wall.from, along), dot(to - wall.from, along));
    let shared = start.max(end).min(norm(wall.to - wall.from)) - start.min(end).max(0.0);
    cross(along, its).abs() < 0.02 && dot(from - wall.from, wall.out).abs() <= REACH && shared > 0.01
}

/// The condition a wall makes for the working space before it.
///
/// # Errors
/// What is missing of it.
pub fn condition_of_wall(scene: &Scene, wall: &Wall) -> Lookup<Condition> {
    let assemblies = assemblies_at(scene, wall);
    if assemblies.is_empty() {
        return Err(scene.space.missing("/assemblies"));
    }
    let grounded: Vec<bool> = assemblies.iter().map(is_grounded).collect::<Lookup<_>>()?;
    Ok(if grounded.contains(&true) { Condition::Two } else { Condition::One })
}

/// Concrete, brick and tile count as grounded, and so does steel.
fn is_grounded(assembly: &Place<Assembly>) -> Lookup<bool> {
    use p::{FramingMaterial as F, LayerMaterial as L};
    let here = |layer: &Place<p::Layer>| layer.face != Some(p::Face::Beyond);
    let layers = need!(assembly, layers);
    if let Some(outermost) = layers.clone().ok().and_then(|layers| layers.items().filter(here).last()) {
        return Ok(matches!(*need!(outermost, material)?, L::Masonry | L::Tile | L::SheetSteel));
    }
    let framing = need!(assembly, framing.material);
    let bare = framing.as_ref().is_ok_and(|framing| matches!(**framing, F::Concrete | F::Masonry | F::Steel));
    if bare || assembly.kind == p::AssemblyKind::FoundationWall {
        return Ok(true);
    }
    layers?;
    framing.map(|_| false)
}

/// The condition a body makes for the working space before it.
///
/// # Errors
/// What is missing of it.
pub fn condition_of_body(thing: &Thing) -> Lookup<Condition> {
    let equipment = &thing.equipment;
    let live = equipment.electrical.as_ref().and_then(|electrical| electrical.serviced_energized);
    if gear::is_worked_on(equipment) && live != Some(false) {
        return Ok(Condition::Three);
    }
    match equipment.grounded_surface {
        Some(grounded) => Ok(if grounded { Condition::Two } else { Condition::One }),
        None if equipment.kind == EquipmentKind::BrineTank => Ok(Condition::One),
        None if is_metal(equipment.kind) || gear::is_electrical(equipment) => Ok(Condition::Two),
        None => Err(equipment.missing("/grounded_surface")),
    }
}

/// Whether the outside of such a thing is a metal jacket (common practice).
pub fn is_metal(kind: EquipmentKind) -> bool {
    use EquipmentKind as K;
    let jackets = [
        K::Furnace,
        K::AirHandler,
        K::Boiler,
        K::HeatPump,
        K::AirConditioner,
        K::UnitHeater,
        K::RoomHeater,
        K::WallFurnace,
        K::GasFireplace,
        K::StorageWaterHeater,
        K::TanklessWaterHeater,
        K::HeatPumpWaterHeater,
        K::IndirectWaterHeater,
        K::PoolHeater,
        K::Range,
        K::ClothesDryer,
        K::ClothesWasher,
        K::Dishwasher,
        K::Refrigerator,
        K::Grill,
        K::SolidFuelHeater,
        K::OilHeater,
        K::PressureTank,
        K::ExpansionTank,
        K::BufferTank,
        K::WellController,
        K::Pump,
        K::Circulator,
        K::GasMeter,
        K::GasManifold,
        K::GasRegulator,
        K::GasContainer,
        K::HeatRecoveryVentilator,
        K::EnergyRecoveryVentilator,
        K::ExhaustFan,
        K::CombustionAirFan,
    ];
    jackets.contains(&kind)
}

/// Whether the outside of a body can burn.
///
/// # Errors
/// Where nobody says and its kind does not.
pub fn body_burns(equipment: &Place<Equipment>) -> Lookup<bool> {
    match equipment.combustible {
        Some(burns) => Ok(burns),
        None if is_metal(equipment.kind) || gear::is_electrical(equipment) => Ok(false),
        None => Err(equipment.missing("/combustible")),
    }
}

/// Whether a wall, floor or ceiling counts as something that can burn. Gypsum board on wood counts, since labels speak of
/// combustible construction.
///
/// # Errors
/// What is missing of it.
pub fn assembly_burns(assembly: &Place<Assembly>, gypsum_on_steel: bool) -> Lookup<bool> {
    use p::{FramingMaterial as F, LayerMaterial as L};
    let here = |layer: &&p::Layer| layer.face != Some(p::Face::Beyond);
    let burns = |material: L| {
        let wood = [L::OrientedStrandBoard, L::Plywood, L::Wood, L::FoamBoard, L::SprayFoam, L::OtherCombustible];
        wood.contains(&material) || (gypsum_on_steel && material == L::GypsumBoard)
    };
    if assembly.layers.iter().flatten().filter(here).filter_map(|layer| layer.material).any(burns) {
        return Ok(true);
    }
    let wood = [F::Wood, F::WoodIJoist, F::OpenWebTruss, F::CompositeLumber];
    let framing = need!(assembly, framing.material);
    if framing.as_ref().is_ok_and(|framing| wood.contains(framing)) {
        return Ok(true);
    }
    // What stands before steel or masonry may be wood.
    let layers = need!(assembly, layers)?;
    layers.items().filter(|layer| here(&layer.get())).map(|layer| need!(layer, material)).collect::<Vec<_>>().together()?;
    if assembly.kind == p::AssemblyKind::FoundationWall { Ok(false) } else { framing.map(|_| false) }
}

/// The face of a wall as a thin solid up to a height, behind its face.
pub fn thin(wall: &Wall, height: f64) -> Solid {
    let back = wall.out * 1e-3;
    Solid::new(Shape::convex(&[wall.from, wall.from + back, wall.to + back, wall.to]), 0.0, height)
}
