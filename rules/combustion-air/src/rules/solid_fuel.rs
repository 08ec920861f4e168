//! A fire of wood, pellets or coal in the same zone as an open gas burner competes with it for air.
//!
//! A fireplace draws hundreds of cubic feet of air a minute up its chimney. In a tight zone it pulls the gas burner's vent
//! backwards. Gas and solid fuel do not share a flue unless that is listed.
//!
//! **How it is measured.** For every fireplace, stove and solid-fuel heater in a space with burners that take room air: whether it
//! has a passage to outdoors of its own and tight doors, and whether that passage is of the right size.
//!
//! **How it is fixed.** Outdoor air for the fire, tight doors, direct-vent gas appliances, or an engineer's design.

use crate::air_space::{burners, exhausts};
use crate::appliances::{brings_own_air, counts_none};
use redtag_handbook::combustion_air::{FireplaceAir, sources};
use redtag_rule::prelude::*;
use std::collections::BTreeSet;

/// Least passage.
const LEAST: Quantity<dimensions::Area> =
    Quantity::new("fireplace_air_least", "6 in2", "Least area of a fireplace's passage to outdoors.", "from memory of IRC R1006");
/// Greatest passage.
const MOST: Quantity<dimensions::Area> = Quantity::new(
    "fireplace_air_most",
    "55 in2",
    "Greatest area of a fireplace's passage to outdoors.",
    "from memory of IRC R1006",
);

/// The rule.
pub const RULE: Rule = Rule {
    level: Level::Required,
    citations: &[remembered("IRC", "2021", "R1006"), remembered("IRC", "2021", "M1701.1"), remembered("IFGC", "2021", "304.4")],
    parameters: &[&LEAST, &MOST],
    reads: &["/exhausts", "/equipment"],
    ..Rule::new("combustion-air/solid-fuel", "Fires beside gas burners", check)
};

fn check(inquiry: &Inquiry) -> Vec<Finding> {
    let breathing: Vec<Lookup<Option<String>>> = burners(inquiry).iter().map(room).collect();
    let breathing = breathing.together().map(|rooms| rooms.into_iter().flatten().collect::<BTreeSet<String>>());
    let fire = |exhaust: &&Place<Exhaust>| matches!(exhaust.kind, ExhaustKind::Fireplace | ExhaustKind::Stove);
    let fires = exhausts(inquiry);
    ask_each(fires.iter().filter(fire), "whether the fire competes with a burner", |fire| judge(inquiry, fire, &breathing))
}

fn room(appliance: &Place<Equipment>) -> Lookup<Option<String>> {
    if brings_own_air(appliance) || counts_none(appliance) {
        return Ok(None);
    }
    kinds::burns(appliance).map(|_| appliance.space.clone())
}

fn judge(inquiry: &Inquiry, exhaust: &Place<Exhaust>, breathing: &Lookup<BTreeSet<String>>) -> Lookup<FindingBuilder> {
    let space = need!(exhaust, space)?;
    let passage = FireplaceAir { least: inquiry.value(&LEAST), greatest: inquiry.value(&MOST) };
    if let Some(area) = &exhaust.outdoor_air_area {
        let holds = passage.admits(area.quantity());
        if !holds && exhaust.kind == ExhaustKind::Fireplace {
            let (least, most) = (in_unit(passage.least, "in²"), in_unit(passage.greatest, "in²"));
            let summary = text!("its passage to outdoors is {}, {} to {} is right", in_unit(area, "in²"), least, most);
            return Ok(exhaust.correction(summary.clone()).test("passage", summary, sources::FIREPLACE_AIR.text(), false));
        }
    }
    // A fireplace that takes air from outdoors does so through a passage of the right size.
    if exhaust.kind == ExhaustKind::Fireplace && exhaust.outdoor_air != Some(false) {
        need!(exhaust, outdoor_air_area)?;
    }
    if !breathing.clone()?.contains(space.get()) {
        return Ok(exhaust.complies(text!("no burner takes its air from the same space")));
    }
    let outdoor = need!(exhaust, outdoor_air)?;
    let doors = exhaust.tight_doors == Some(true);
    if *outdoor && doors {
        return Ok(exhaust.complies(text!("it has outdoor air of its own and tight doors")));
    }
    let summary = text!("it draws on the same air as a gas burner: an engineered or mechanical supply is called for");
    let remedy = text!("give the fire a passage to outdoors and tight doors, or the burner air of its own");
    Ok(exhaust.advice(summary).remedy(remedy))
}
