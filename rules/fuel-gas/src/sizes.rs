//! The size of a pipe as the tables name it, and its bore.

use redtag_handbook::piping::{NominalSize, PLASTICS, Size, TUBES, inside_diameter_schedule_10};
use redtag_rule::prelude::*;
use uom::si::f64::Length;

/// A pipe's size.
#[derive(Debug, Clone, Copy)]
pub struct Sized {
    /// The column of a table.
    pub size: Size,
    /// The inside diameter; none of corrugated tubing.
    pub bore: Option<Length>,
}

/// The size of a pipe.
///
/// # Errors
/// When the material or the size is not said, or the material is none the tables are for.
pub fn of(segment: &Place<GasSegment>) -> Lookup<Sized> {
    let material = need!(segment, material)?;
    let known = match *material {
        GasPipeMaterial::CorrugatedStainlessSteel => {
            let number = need!(segment, equivalent_hydraulic_diameter)?;
            return Ok(Sized { size: Size::Corrugated(*number), bore: None });
        }
        GasPipeMaterial::SteelSchedule40
        | GasPipeMaterial::SteelSchedule10
        | GasPipeMaterial::CopperK
        | GasPipeMaterial::CopperL
        | GasPipeMaterial::CopperAcr
        | GasPipeMaterial::Polyethylene => *material,
        _ => {
            let what = "steel, copper, corrugated tubing or polyethylene: the sizing tables know no other pipe";
            return Err(Unresolved::because(material.pointer(), what));
        }
    };
    let nominal = need!(segment, nominal_size)?;
    let size = named(known, nominal.quantity())
        .ok_or_else(|| Unresolved::because(nominal.pointer(), format!("a nominal size of {known} pipe")))?;
    let stated = segment.inside_diameter.as_ref().map(|diameter| diameter.quantity()).filter(|diameter| diameter.value > 0.0);
    Ok(Sized { size, bore: stated.or_else(|| bore(known, size)) })
}

/// The size of that nominal length in a material.
pub fn named(material: GasPipeMaterial, nominal: Length) -> Option<Size> {
    let same = |other: Length| at_least(other, nominal) && at_most(other, nominal);
    match material {
        GasPipeMaterial::SteelSchedule40 | GasPipeMaterial::SteelSchedule10 => {
            NominalSize::from_nominal(nominal).map(Size::Steel)
        }
        GasPipeMaterial::CopperAcr => TUBES.into_iter().find(|tube| same(tube.outside_diameter())).map(Size::Copper),
        GasPipeMaterial::Polyethylene => PLASTICS.into_iter().find(|pipe| same(pipe.nominal())).map(Size::Plastic),
        _ => TUBES.into_iter().find(|tube| same(tube.nominal())).map(Size::Copper),
    }
}

/// The bore of a size in a material.
pub fn bore(material: GasPipeMaterial, size: Size) -> Option<Length> {
    match (material, size) {
        (GasPipeMaterial::SteelSchedule10, Size::Steel(nominal)) => inside_diameter_schedule_10(nominal),
        _ => size.bore(),
    }
}

/// What to write in the project for a size, and where below the pipe.
pub fn written(material: GasPipeMaterial, size: Size) -> Option<(&'static str, redtag_rule::Value)> {
    match size {
        Size::Corrugated(number) => Some(("/equivalent_hydraulic_diameter", json!(number))),
        Size::Copper(tube) if material == GasPipeMaterial::CopperAcr => {
            Some(("/nominal_size", json!(quantity::Length::from_quantity(&tube.outside_diameter()).print_in("in"))))
        }
        _ => Some(("/nominal_size", json!(size.to_string()))),
    }
}
