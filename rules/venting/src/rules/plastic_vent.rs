//! A plastic vent is of a material the appliance's instructions name, and is put together as that material asks.
//!
//! Plastic softens, cracks and opens at its joints where the gases are hotter than it bears. Only the appliance's maker has tested
//! which pipe holds; the listing counts for that pipe and no other. Carbon monoxide kills: vents are work for a licensed contractor.
//!
//! **How it is measured.** The material of the vent against the materials its appliance's instructions name, the listing of the
//! appliance, and the primer where the material asks for it.
//!
//! **How it is fixed.** Pipe of a named material, or a listed special gas vent the instructions name.

use crate::appliances::{is_plastic, served, vents};
use redtag_handbook::venting::sources;
use redtag_rule::prelude::*;

/// Primer.
const PRIMED: Choices = Choices::new(
    "primed_materials",
    &["polyvinyl-chloride", "chlorinated-polyvinyl-chloride"],
    &["polyvinyl-chloride", "chlorinated-polyvinyl-chloride", "abs", "polypropylene"],
    "Plastic materials whose joints must be primed.",
    "from memory of IFGC 503.4.1.1",
);

/// The rule.
pub const RULE: Rule = Rule {
    citations: &[remembered("IRC", "2021", "G2427.4.1"), remembered("IFGC", "2021", "503.4.1")],
    parameters: &[&PRIMED],
    reads: &["/vents", "/equipment"],
    ..Rule::new("venting/plastic-vent", "Plastic vents by listing", check)
};

fn check(inquiry: &Inquiry) -> Vec<Finding> {
    let plastic = |vent: &&Place<Vent>| vent.kind == VentKind::Plastic || vent.material.is_some_and(is_plastic);
    vents(inquiry)
        .iter()
        .filter(plastic)
        .map(|vent| vent.sheet("whether its plastic is allowed", |sheet| judge(inquiry, sheet, vent)))
        .collect()
}

fn judge(inquiry: &Inquiry, sheet: &mut Sheet, vent: &Place<Vent>) -> Lookup<Text> {
    let material = *need!(vent, material)?;
    for appliance in served(inquiry, vent)? {
        let listed = appliance.listing.as_ref().and_then(|listing| listing.listed);
        match listed {
            None => sheet.lack(appliance.missing("/listing/listed")),
            Some(listed) => {
                let words = text!(
                    "{} is {}",
                    appliance.label(),
                    if listed { "listed" } else { "not listed, and no plastic vent may serve it" }
                );
                sheet.require("listing", words, sources::PLASTIC.text(), listed);
            }
        }
        if let Some(named) = sheet.want(need!(appliance, fuel_burning.vent_materials_named)) {
            let list = named.iter().map(ToString::to_string).collect::<Vec<_>>().join(", ");
            let list = if list.is_empty() { "no plastic".to_owned() } else { list };
            let words = text!("{} pipe; the instructions of {} name {}", material, appliance.label(), list.as_str());
            if !sheet.require("material", words, sources::PLASTIC.text(), named.contains(&material)) {
                sheet.related(appliance.pointer());
                match named.first() {
                    Some(first) => {
                        let pointer = format!("{}/material", vent.pointer());
                        sheet.cure_at(text!("use one of the materials named: {}", list), &[(pointer, json!(first.word()))]);
                    }
                    None => sheet.cure(text!("use a listed vent the instructions name")),
                }
            }
        }
    }
    if inquiry.value(&PRIMED).contains(&material.word())
        && let Some(primed) = sheet.want(need!(vent, primed))
    {
        let words = text!("its joints {}", if *primed { "were primed" } else { "were not primed" });
        if !sheet.require("primer", words, sources::PLASTIC.text(), *primed) {
            sheet.cure(text!("take its joints apart and make them anew with primer"));
        }
    }
    Ok(text!("{} pipe that the instructions name", material))
}
