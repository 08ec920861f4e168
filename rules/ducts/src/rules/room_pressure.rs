//! A room with open combustion should not lose more air to ducts and fans than it is given.
//!
//! What is drawn from the room is drawn down the vent. Good practice keeps the sum of supply, return and exhaust at zero or more.
//! A draft test with every fan running shows whether a vent spills; that is work for a licensed contractor.
//!
//! **How it is measured.** For each space with a draft hood or open burner: supply registers less return grilles less fans without
//! make-up air.
//!
//! **How it is fixed.** Close the return there; make-up air; appliances that bring their own air.

use crate::flames;
use redtag_handbook::ducts::{NetAir, sources};
use redtag_rule::prelude::*;
use std::collections::BTreeSet;
use uom::si::f64::VolumeRate;

/// The least gain.
const LEAST: Quantity<dimensions::VolumeFlow> =
    Quantity::new("least_gain", "0 cfm", "Least sum of supply less return less exhaust of such a room.", "common practice");

/// The rule.
pub const RULE: Rule = Rule {
    level: Level::Advice,
    citations: &[remembered("IRC", "2021", "G2407.4")],
    parameters: &[&LEAST],
    reads: &["/spaces", "/ducts", "/exhausts", "/equipment"],
    ..Rule::new("ducts/room-pressure", "Air of rooms with open combustion", check)
};

fn check(inquiry: &Inquiry) -> Vec<Finding> {
    let moved: BTreeSet<String> = openings(inquiry).iter().filter_map(|opening| opening.space.clone()).collect();
    let spaces = need!(inquiry.project(), spaces).every().into_iter().filter(|space| moved.contains(&space.id));
    spaces.filter_map(|space| one(inquiry, &space)).collect()
}

fn openings<'a>(inquiry: &Inquiry<'a>) -> Vec<Place<'a, DuctOpening>> {
    need!(inquiry.project(), ducts).every().iter().flat_map(|duct| need!(duct, openings).every()).collect()
}

fn one(inquiry: &Inquiry, space: &Place<Space>) -> Option<Finding> {
    match flames::in_space(inquiry, &space.id) {
        Ok(flames) if flames.is_empty() => None,
        Err(unresolved) => Some(space.ask("whether ducts and fans draw on a burner there", || Err(unresolved))),
        Ok(_) => Some(space.sheet("whether ducts and fans draw on a burner there", |sheet| {
            let air = net(inquiry, space)?;
            let least = inquiry.value(&LEAST);
            let words = text!("{} supplied, {} returned, {} exhausted", air.supply, air.returned, air.exhaust);
            if !sheet.test("air of the room", words.clone(), sources::NET_AIR.text(), at_least(air.gain(), least)) {
                sheet.advise(text!("{}: the room with open combustion loses {}", words, -air.gain()));
                sheet.cure(text!("close the return there, or give the room as much air as is taken"));
            }
            Ok(words)
        })),
    }
}

fn net(inquiry: &Inquiry, space: &Place<Space>) -> Lookup<NetAir> {
    let here = openings(inquiry).into_iter().filter(|opening| opening.space.as_deref() == Some(&space.id));
    let flows: Vec<Lookup<(DuctOpeningKind, VolumeRate)>> =
        here.map(|opening| Ok((opening.kind, need!(opening, flow)?.quantity()))).collect();
    let unmade = |exhaust: &Place<Exhaust>| {
        let made_up = exhaust.make_up.as_ref().is_some_and(|make_up| make_up.kind != MakeUpKind::None);
        exhaust.space.as_deref() == Some(&space.id)
            && exhaust.kind != ExhaustKind::BalancedVentilator
            && !made_up
            && exhaust.runs_with_burners != Some(false)
    };
    let fans = need!(inquiry.project(), exhausts).every().into_iter().filter(unmade);
    let fans: Vec<Lookup<VolumeRate>> = fans.map(|exhaust| need!(exhaust, flow).map(|flow| flow.quantity())).collect();
    let (flows, fans) = (flows.together(), fans.together()).together()?;
    let mut air = NetAir { exhaust: fans.into_iter().fold(VolumeRate::default(), |sum, flow| sum + flow), ..NetAir::default() };
    for (kind, flow) in flows {
        match kind {
            DuctOpeningKind::Supply => air.supply += flow,
            DuctOpeningKind::Return => air.returned += flow,
            _ => air.exhaust += flow,
        }
    }
    Ok(air)
}
