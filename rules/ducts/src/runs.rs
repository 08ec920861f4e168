//! The ducts of the project, the spaces they pass, their size.

use redtag_rule::prelude::*;
use redtag_rule::schema::contract::{Measure, Part};
use redtag_rule::schema::quantity::{Kind, ThermalInsulance};
use uom::si::f64::{Area, Length};

/// The ducts of these kinds.
pub fn of_kinds<'a>(inquiry: &Inquiry<'a>, kinds: &[DuctKind]) -> Vec<Place<'a, Duct>> {
    need!(inquiry.project(), ducts).every().into_iter().filter(|duct| kinds.contains(&duct.kind)).collect()
}

/// The spaces a duct passes.
///
/// # Errors
/// Where they are not said.
pub fn passed<'a>(inquiry: &Inquiry<'a>, duct: &Place<'a, Duct>) -> Lookup<Vec<Place<'a, Space>>> {
    let named = need!(duct, spaces)?;
    let spaces: Vec<Lookup<Place<Space>>> = named.items().map(|id| inquiry.space(&id)).collect();
    spaces.together()
}

/// The diameter of a duct, or that of a round one as large as its cross-section.
///
/// # Errors
/// Where its size is not said.
pub fn size(duct: &Place<Duct>) -> Lookup<Length> {
    let round = |area: Area| (area / std::f64::consts::FRAC_PI_4).sqrt();
    match (&duct.diameter, &duct.width, &duct.height, &duct.area) {
        (Some(diameter), ..) => Ok(diameter.quantity()),
        (_, Some(width), Some(height), _) => Ok(round(width.quantity() * height.quantity())),
        (_, _, _, Some(area)) => Ok(round(area.quantity())),
        _ => {
            Err(Unresolved::because(format!("{}/diameter", duct.pointer()), "the diameter of the duct, or its width and height"))
        }
    }
}

/// A thermal resistance in a sentence.
pub fn resistance(value: ThermalInsulance) -> Part {
    Part::Amount(Measure { kind: Kind::ThermalResistance, si: value.value, unit: None, written: None })
}
