//! What an appliance burns now, at which pressure and through which hole.

use redtag_handbook::combustion_air::round_area;
use redtag_handbook::fuel::{self, Firing, FuelGas, GasProperties, TypicalPressures};
use redtag_handbook::units;
use redtag_rule::prelude::*;
use uom::si::f64::{Area, Pressure};

/// Judges every appliance that burns gas, or may, or whose fuel is not said; the others are not concerned.
pub fn each<'a>(inquiry: &Inquiry<'a>, judge: impl Fn(&Place<'a, Equipment>, Lookup<Fuel>) -> Finding) -> Vec<Finding> {
    let judged = |item: Place<'a, Equipment>| match burns_now(&item) {
        Ok(fuel) if !is_gas(fuel) => item.not_applicable(text!("burns {}, not gas", fuel)).done(),
        fuel => judge(&item, fuel),
    };
    need!(inquiry.project(), equipment).every().into_iter().filter(kinds::may_burn).map(judged).collect()
}

/// Whether it is a fuel gas.
pub fn is_gas(fuel: Fuel) -> bool {
    matches!(fuel, Fuel::NaturalGas | Fuel::Propane | Fuel::Butane)
}

/// The gas as the handbook knows it.
pub fn known_gas(fuel: Fuel) -> Option<FuelGas> {
    match fuel {
        Fuel::NaturalGas => Some(FuelGas::Natural),
        Fuel::Propane => Some(FuelGas::Propane),
        _ => None,
    }
}

/// What the gas carries for design; `None` for gases the handbook has no figures of.
pub fn design(fuel: Fuel) -> Option<GasProperties> {
    known_gas(fuel).map(|gas| GasProperties::design(gas).value)
}

/// The pressures usual for a gas.
pub fn typical(fuel: Fuel) -> Option<TypicalPressures> {
    known_gas(fuel).map(|gas| fuel::typical_pressures(gas).value)
}

/// The conversion on record, unless it is said not to have been done.
pub fn conversion<'a>(appliance: &Place<'a, Equipment>) -> Option<Place<'a, Conversion>> {
    need!(appliance, fuel_burning.conversion).ok().filter(|conversion| conversion.performed != Some(false))
}

/// The fuel its burner is set up for: that of the conversion on record, else that of its rating plate.
pub fn burns_now(appliance: &Place<Equipment>) -> Lookup<Fuel> {
    kinds::burns(appliance)?;
    let fuel = match conversion(appliance) {
        Some(conversion) => need!(conversion, fuel),
        None => need!(appliance, fuel_burning.plate.fuel),
    };
    fuel.map(|fuel| *fuel)
}

/// Manifold pressure a plate states, else what is usual for the fuel.
pub fn plate_manifold(appliance: &Place<Equipment>, fuel: Fuel) -> Option<Pressure> {
    let plate = need!(appliance, fuel_burning.plate.manifold_pressure).ok().map(|pressure| pressure.quantity());
    plate.or_else(|| typical(fuel).map(|typical| typical.manifold))
}

/// Manifold pressure of the burner as it is: of the conversion, else of the plate, else what is usual for the fuel.
pub fn manifold_now(appliance: &Place<Equipment>, fuel: Fuel) -> Option<Pressure> {
    match conversion(appliance) {
        Some(conversion) => {
            let set = conversion.manifold_pressure.as_ref().map(|pressure| pressure.quantity());
            set.or_else(|| typical(fuel).map(|typical| typical.manifold))
        }
        None => plate_manifold(appliance, fuel),
    }
}

/// A burner orifice.
pub struct Orifice {
    /// Its area.
    pub area: Area,
    /// What it is called.
    pub words: Text,
}

/// The orifice on the rating plate, where it is stated in a form that can be worked with.
pub fn plate_orifice(appliance: &Place<Equipment>) -> Option<Orifice> {
    let plate = appliance.get().fuel_burning.as_ref()?.plate.as_ref()?;
    orifice(plate.orifice_drill, plate.orifice_diameter.as_ref())
}

/// The orifice of a conversion.
pub fn conversion_orifice(conversion: &Conversion) -> Option<Orifice> {
    orifice(conversion.orifice_drill, conversion.orifice_diameter.as_ref())
}

/// The orifice in the burner now.
pub fn orifice_now(appliance: &Place<Equipment>) -> Option<Orifice> {
    conversion(appliance).map_or_else(|| plate_orifice(appliance), |conversion| conversion_orifice(&conversion))
}

fn orifice(number: Option<u32>, diameter: Option<&quantity::Length>) -> Option<Orifice> {
    if let Some(diameter) = diameter {
        let area = round_area(diameter.quantity());
        return (area.value > 0.0).then(|| Orifice { area, words: text!("{}", in_unit(diameter, "in")) });
    }
    let drill = number.and_then(|number| u8::try_from(number).ok()).and_then(fuel::drill)?;
    let words = text!("No. {}, {}", u32::from(drill.number), in_unit(drill.diameter(), "in"));
    Some(Orifice { area: drill.area(), words })
}

/// The orifice a conversion would take in place of the one before, for the rated input, or for the input on its label where
/// both are stated.
pub fn converted_area(appliance: &Place<Equipment>, conversion: &Place<Conversion>, before: Area) -> Option<Area> {
    let firing = |fuel: Fuel, pressure| design(fuel).map(|gas| Firing { gas, pressure });
    let former = need!(appliance, fuel_burning.plate.fuel).ok()?;
    let fuel = burns_now(appliance).ok()?;
    let from = firing(*former, plate_manifold(appliance, *former).filter(|pressure| pressure.value > 0.0)?)?;
    let to = firing(fuel, manifold_now(appliance, fuel).filter(|pressure| pressure.value > 0.0)?)?;
    let rated = need!(appliance, fuel_burning.plate.input).ok().map(|input| input.quantity()).filter(|input| input.value > 0.0);
    let labelled = need!(conversion, label.input).ok().map(|input| input.quantity());
    let share = rated.zip(labelled).map_or(units::fraction(1.0), |(rated, labelled)| labelled / rated);
    Some(fuel::conversion_area(before, &from, &to) * share).filter(|area| area.value > 0.0)
}

/// The number drills an area lies between, in words.
pub fn drills_around(area: Area) -> Text {
    let named = |drill: fuel::Drill| text!("No. {} ({})", u32::from(drill.number), in_unit(drill.diameter(), "in"));
    match fuel::drills_around(area) {
        (Some(below), Some(above)) => text!("{} below, {} above", named(below), named(above)),
        (Some(below), None) => text!("above {}", named(below)),
        (None, Some(above)) => text!("below {}", named(above)),
        (None, None) => Text::default(),
    }
}
