//! The surface of walls and ceilings must not spread flame or make smoke faster than the code allows.
//!
//! Board, plaster, tile and masonry keep any limit. Untreated wood and structural panels are class C by their trade's own
//! publication and just keep the limit of a finish. Insulation left in view is held to a lower one; kraft facing breaks it.
//!
//! **How it is measured.** For each wall and ceiling: the layer seen from the room, by its flame spread and smoke-developed index where
//! they are stated, else by what its material is known for.
//!
//! **How it is fixed.** Board over it, a treated or listed product, insulation without facing, or its report.

use crate::faces;
use crate::parts::{Part, parts};
use redtag_handbook::fire::{Answer, Face as Side, FlameIndexes, FlameLimits, Material, Surface, sources, surface_meets};
use redtag_rule::prelude::*;

/// Finish.
const FINISH: Number =
    Number::new("finish_flame_spread", 200.0, "Greatest flame spread index of a wall or ceiling finish.", "IRC R302.9")
        .within(0.0, 500.0);
/// Insulation.
const INSULATION: Number = Number::new(
    "insulation_flame_spread",
    25.0,
    "Greatest flame spread index of insulation and its facing.",
    "from memory of IRC R302.10",
)
.within(0.0, 500.0);
/// Smoke.
const SMOKE: Number =
    Number::new("smoke_developed", 450.0, "Greatest smoke-developed index of either.", "IRC R302.9").within(0.0, 1000.0);

/// The rule.
pub const RULE: Rule = Rule {
    citations: &[cited("IRC", "2021", "R302.9"), remembered("IRC", "2021", "R302.10")],
    parameters: &[&FINISH, &INSULATION, &SMOKE],
    reads: &["/spaces"],
    ..Rule::new("fire-separation/finish-flame-spread", "Flame spread of what one sees", check)
};

fn check(inquiry: &Inquiry) -> Vec<Finding> {
    let seen = |part: &Part| part.is_wall() || part.is_overhead();
    parts(inquiry).iter().filter(|part| seen(part)).filter_map(|part| one(inquiry, part)).collect()
}

fn one(inquiry: &Inquiry, part: &Part) -> Option<Finding> {
    let layers = part.assembly.layers.as_ref()?;
    let here = faces::of(layers, Side::This);
    let last = here.iter().rposition(|layer| layer.on_face != Some(false))?;
    // Through the gaps of a layer one sees the one under it.
    let seen = (0..=last).rev().filter(|&index| here[index].on_face != Some(false));
    let (mut shown, mut under, mut unsure) = (Vec::new(), Vec::new(), None);
    for index in seen {
        if unsure.is_some() {
            under.push(index)
        } else {
            shown.push(index)
        }
        match here[index].complete {
            Some(true) => break,
            Some(false) => {}
            None => unsure = unsure.or(Some(index)),
        }
    }
    Some(part.assembly.sheet("whether its surface spreads flame too fast", |sheet| {
        // Whether a layer is whole matters where what lies under it would not do.
        let mut below = Sheet::default();
        judge(inquiry, part, &under, &mut below)?;
        if let (Some(index), false) = (unsure, below.settled()) {
            sheet.lack(Unresolved::at(format!("{}/layers/{index}/complete", part.assembly.pointer())));
        }
        judge(inquiry, part, &shown, sheet)
    }))
}

fn judge(inquiry: &Inquiry, part: &Part, shown: &[usize], sheet: &mut Sheet) -> Lookup<Text> {
    let limits =
        FlameLimits { finish: inquiry.value(&FINISH), insulation: inquiry.value(&INSULATION), smoke: inquiry.value(&SMOKE) };
    let list = need!(part.assembly, layers)?;
    for (index, layer) in list.items().enumerate().filter(|(index, _)| shown.contains(index)) {
        let material = sheet.want(need!(layer, material)).and_then(|material| faces::material(*material.get()));
        sheet.want(need!(layer, face));
        let Some(material) = material else { continue };
        // Foam is held to its barrier by another rule.
        if material == Material::Foam {
            continue;
        }
        let indexes = FlameIndexes { flame: layer.flame_spread.map(f64::from), smoke: layer.smoke_developed.map(f64::from) };
        let (most, source) = match Surface::of(material) {
            Surface::Finish => (limits.finish, sources::FINISH.text()),
            Surface::Insulation => (limits.insulation, sources::INSULATION.text()),
        };
        let words = text!(
            "{}: flame spread {} and smoke {} are the most",
            faces::one(layer.get()),
            most.to_string(),
            limits.smoke.to_string()
        );
        match surface_meets(material, indexes, &limits) {
            Answer::Yes => {
                sheet.test("surface", words, source, true);
            }
            Answer::No => {
                sheet.require("surface", words, source, false);
                sheet.cure(text!("cover it with gypsum board, or use a product that keeps the indexes"));
            }
            Answer::Depends(_) => {
                let flame = layer.flame_spread.is_none();
                faces::lack(
                    sheet,
                    list.pointer(),
                    if flame { vec![(index, redtag_handbook::fire::LayerFact::Surface)] } else { Vec::new() },
                );
                if layer.smoke_developed.is_none() {
                    sheet.lack(layer.missing("/smoke_developed"));
                }
            }
        }
    }
    Ok(text!("its surface keeps the limits"))
}
