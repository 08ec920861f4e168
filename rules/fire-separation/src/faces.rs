//! The layers of a face as the handbook takes them, and in words.

use redtag_handbook::fire::{Face as Side, Layer as Known, LayerFact, Material};
use redtag_rule::prelude::*;

/// The layers of a list as far as they are known of one face.
pub fn of(layers: &[Layer], side: Side) -> Vec<Known> {
    let wanted = if side == Side::This { Face::This } else { Face::Beyond };
    layers
        .iter()
        .map(|layer| known(layer, layer.face.filter(|face| *face != Face::Unrecognised).map(|face| face == wanted)))
        .collect()
}

/// The layers around a beam or post: all of them are on its face.
pub fn around(layers: &[Layer]) -> Vec<Known> {
    layers.iter().map(|layer| known(layer, Some(true))).collect()
}

fn known(layer: &Layer, on_face: Option<bool>) -> Known {
    Known {
        on_face,
        material: layer.material.and_then(material),
        thickness: layer.thickness.as_ref().map(|thickness| thickness.quantity()),
        type_x: layer.type_x,
        complete: layer.complete,
    }
}

/// The material of a layer.
pub fn material(said: LayerMaterial) -> Option<Material> {
    use LayerMaterial as L;
    Some(match said {
        L::GypsumBoard => Material::Gypsum,
        L::Plaster => Material::Plaster,
        L::OrientedStrandBoard | L::Plywood => Material::StructuralPanel,
        L::Wood => Material::Wood,
        L::CementBoard => Material::CementBoard,
        L::Tile => Material::Tile,
        L::SheetSteel => Material::SheetSteel,
        L::Masonry => Material::Masonry,
        L::FoamBoard | L::SprayFoam => Material::Foam,
        L::MineralWool => Material::MineralWool,
        L::GlassFiber => Material::GlassFiber,
        L::OtherNoncombustible => Material::OtherNoncombustible,
        L::OtherCombustible => Material::OtherCombustible,
        L::Unrecognised => return None,
    })
}

/// Where a fact of a layer is said.
pub fn pointer(list: &str, (index, fact): (usize, LayerFact)) -> String {
    let field = match fact {
        LayerFact::Face => "face",
        LayerFact::Material => "material",
        LayerFact::Thickness => "thickness",
        LayerFact::TypeX => "type_x",
        LayerFact::Complete => "complete",
        LayerFact::Surface => "flame_spread",
    };
    format!("{list}/{index}/{field}")
}

/// Notes every fact of the layers that an answer depends on.
pub fn lack(sheet: &mut Sheet, list: &str, facts: Vec<(usize, LayerFact)>) {
    facts.into_iter().for_each(|fact| sheet.lack(Unresolved::at(pointer(list, fact))));
}

/// The layers of a face in words.
pub fn words(layers: &[Layer], side: Side) -> Text {
    let said: Vec<Text> = layers
        .iter()
        .zip(of(layers, side))
        .filter(|(_, known)| known.on_face != Some(false))
        .map(|(layer, _)| one(layer))
        .collect();
    if said.is_empty() { text!("bare framing") } else { Text::list(&said) }
}

/// A layer in words.
pub fn one(layer: &Layer) -> Text {
    let kind = match (layer.type_x, layer.material) {
        (Some(true), _) => "Type X ",
        (None, Some(LayerMaterial::GypsumBoard)) => "(Type X or not is not said) ",
        _ => "",
    };
    let gaps = if layer.complete == Some(false) { ", not on the whole face" } else { "" };
    let material = layer.material.map_or_else(|| "a layer of unsaid material".to_owned(), |material| material.to_string());
    match &layer.thickness {
        Some(thickness) => text!("{} {}{}{}", in_unit(thickness.quantity(), "in"), kind, material, gaps),
        None => text!("{}{} of unsaid thickness{}", kind, material, gaps),
    }
}
