//! The vents of a project and the gas appliances they serve.

use redtag_handbook::venting::Draft;
use redtag_rule::prelude::*;
use uom::si::f64::{Length, Power};

/// The vents; nothing where the project does not list them, which the rule on vents of appliances tells.
pub fn vents<'a>(inquiry: &Inquiry<'a>) -> Vec<Place<'a, Vent>> {
    need!(inquiry.project(), vents).every()
}

/// The connectors of all vents, each with its vent.
pub fn connectors<'a>(inquiry: &Inquiry<'a>) -> Vec<(Place<'a, Vent>, Place<'a, VentConnector>)> {
    let of = |vent: &Place<'a, Vent>| need!(vent, connectors).every().into_iter().map(|c| (vent.clone(), c)).collect::<Vec<_>>();
    vents(inquiry).iter().flat_map(of).collect()
}

/// The appliances a vent serves.
pub fn served<'a>(inquiry: &Inquiry<'a>, vent: &Place<'a, Vent>) -> Lookup<Vec<Place<'a, Equipment>>> {
    let ids = need!(vent, equipment)?;
    ids.items().map(|id| inquiry.equipment(&id)).collect::<Vec<_>>().together()
}

/// Whether the appliances listed are all on a vent: what is not listed is carried too.
///
/// # Errors
/// `equipment_complete`, where it is not said that they are.
pub fn all_served(vent: &Place<Vent>) -> Lookup<()> {
    let wanted = "whether these are all the appliances on the vent: its size and its kind hold for those that are listed";
    let whole = vent.equipment_complete == Some(true);
    whole.then_some(()).ok_or_else(|| Unresolved::because(format!("{}/equipment_complete", vent.pointer()), wanted))
}

/// Whether it burns a fuel gas, or may as far as is said: what burns oil, wood or coal has another code.
pub fn burns_gas(appliance: &Place<Equipment>) -> bool {
    use Fuel as F;
    let plate = appliance.fuel_burning.as_ref().and_then(|burning| burning.plate.as_ref());
    let other = matches!(plate.and_then(|plate| plate.fuel), Some(F::FuelOil | F::Kerosene | F::Wood | F::Pellets | F::Coal));
    let by_kind = matches!(appliance.kind, EquipmentKind::OilHeater | EquipmentKind::SolidFuelHeater);
    kinds::may_burn(appliance) && !other && !(by_kind && plate.and_then(|plate| plate.fuel).is_none())
}

/// Whether it is a gas appliance that must be vented: not one that cooks or dries, nor a room heater or fireplace made to burn
/// without a vent.
pub fn needs_vent(appliance: &Place<Equipment>) -> bool {
    use EquipmentKind as K;
    let heater = matches!(appliance.kind, K::RoomHeater | K::GasFireplace);
    let unvented = heater && appliance.fuel_burning.as_ref().is_some_and(|burning| burning.burner == Some(Burner::Unvented));
    let other = matches!(appliance.kind, K::Range | K::ClothesDryer | K::Grill | K::Refrigerator);
    burns_gas(appliance) && !unvented && !other && appliance.outdoors != Some(true)
}

/// Whether it takes its air from outdoors through a pipe of its own.
pub fn direct_vent(appliance: &Place<Equipment>) -> Lookup<bool> {
    let open = [Burner::DraftHood, Burner::PowerVenter, Burner::Unvented].map(Some);
    if open.contains(&appliance.fuel_burning.as_ref().and_then(|burning| burning.burner)) {
        // A draft hood breathes the room, whatever else is said of the appliance.
        return Ok(false);
    }
    Ok(*need!(appliance, fuel_burning.combustion_air)? == AirSource::DirectVent)
}

/// Whether it has such a burner of draft, or may as far as is said: a gas appliance that needs a vent and whose burner is not
/// said, unless it is known to take its air from outdoors or to be of another category than I.
pub fn may_have(appliance: &Place<Equipment>, burner: Burner) -> bool {
    if !needs_vent(appliance) {
        return false;
    }
    let of_draft =
        || direct_vent(appliance) != Ok(true) && category(appliance).map_or(true, |category| category == VentCategory::CategoryI);
    match appliance.fuel_burning.as_ref().map(|burning| burning.burner) {
        Some(Some(said)) => said == burner,
        Some(None) => of_draft(),
        None => true,
    }
}

/// Its venting category.
pub fn category(appliance: &Place<Equipment>) -> Lookup<VentCategory> {
    Ok(*need!(appliance, fuel_burning.plate.vent_category)?.get())
}

/// Whether its vent gases may condense: Category II, IV, or said to be condensing.
pub fn condenses(appliance: &Place<Equipment>) -> Lookup<bool> {
    match category(appliance) {
        Ok(category) => Ok(matches!(category, VentCategory::CategoryIi | VentCategory::CategoryIv)),
        Err(unresolved) => match appliance.fuel_burning.as_ref().and_then(|burning| burning.condensing) {
            Some(condensing) => Ok(condensing),
            None => Err(unresolved),
        },
    }
}

/// Which column of the tables it belongs to; nothing where a separate fan or a power burner takes it out of them.
pub fn draft(appliance: &Place<Equipment>) -> Lookup<Option<Draft>> {
    Ok(match *need!(appliance, fuel_burning.burner)? {
        Burner::DraftHood | Burner::NaturalDraft => Some(Draft::Natural),
        Burner::FanAssisted => Some(Draft::Fan),
        _ => None,
    })
}

/// Its input by the plate; the tables take it as at sea level.
pub fn input(appliance: &Place<Equipment>) -> Lookup<Power> {
    Ok(need!(appliance, fuel_burning.plate.input)?.quantity())
}

/// The least it burns: the least by the plate, and less where it was set back for the elevation.
pub fn least_input(appliance: &Place<Equipment>) -> Lookup<Power> {
    let least = need!(appliance, fuel_burning.plate.input_minimum)?.quantity();
    let set = need!(appliance, fuel_burning.derate.input).map(|input| input.quantity());
    Ok(set.map_or(least, |set| set.min(least)))
}

/// Diameter of its draft hood outlet or flue collar.
pub fn outlet(appliance: &Place<Equipment>) -> Lookup<Length> {
    Ok(need!(appliance, fuel_burning.vent_connector_diameter)?.quantity())
}

/// Whether the connector is one thickness of metal.
///
/// # Errors
/// Where its material is not said, or does not tell how many walls it has.
pub fn single_wall(connector: &Place<VentConnector>) -> Lookup<bool> {
    use VentMaterial as M;
    let material = need!(connector, material)?;
    match material.get() {
        M::GalvanizedSteel | M::StainlessSteel => Ok(true),
        M::Masonry | M::ClayTile | M::Other => {
            Err(Unresolved::because(material.pointer(), "whether it is single-wall or listed double-wall metal pipe"))
        }
        _ => Ok(false),
    }
}

/// Whether a material is plastic.
pub fn is_plastic(material: VentMaterial) -> bool {
    use VentMaterial as M;
    matches!(material, M::PolyvinylChloride | M::ChlorinatedPolyvinylChloride | M::Polypropylene | M::Abs)
}
