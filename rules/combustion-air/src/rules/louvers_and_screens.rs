//! A louver, grille or screen in an opening for combustion air must leave it open: fixed or proven open, and not too fine.
//!
//! A grille that can be shut will be shut; a fine screen clogs with lint. A motorized louver must be proven fully open before
//! a burner may light, and the burner must stop when it closes.
//!
//! **How it is measured.** Clear width of the screen's mesh; whether the opening can be closed; what a motorized louver does.
//! What a screen takes from the free area is only known from its maker: where that is not stated, the finding says so.
//!
//! **How it is fixed.** Coarser screen, louvers locked open, or an interlock with every burner. The free area itself is
//! judged under combustion air supply.

use crate::air_space::burners;
use crate::appliances::brings_own_air;
use crate::openings;
use redtag_handbook::combustion_air::{screen_mesh_suffices, sources};
use redtag_rule::prelude::*;

/// Least mesh.
const LEAST_MESH: Quantity<dimensions::Length> =
    Quantity::new("least_screen_mesh", "1/4 in", "Least clear width of the mesh of a screen.", "IFGC 304.10")
        .within("0 in", "2 in");

/// The rule.
pub const RULE: Rule = Rule {
    citations: &[cited("IRC", "2021", "G2407.10"), cited("IFGC", "2021", "304.10")],
    parameters: &[&LEAST_MESH],
    reads: &["/openings", "/equipment"],
    ..Rule::new("combustion-air/louvers-and-screens", "Combustion-air openings stay open", check)
};

fn check(inquiry: &Inquiry) -> Vec<Finding> {
    let project = inquiry.project();
    let Ok(all) = need!(project, openings) else { return Vec::new() };
    let breathed: Vec<&str> =
        burners(inquiry).iter().filter(|one| !brings_own_air(one)).filter_map(|one| one.get().space.as_deref()).collect();
    let from_burners = |opening: &Place<Opening>| {
        let far = opening.get().beyond.as_ref().and_then(|beyond| beyond.space.as_deref());
        [opening.get().space.as_deref(), far].into_iter().flatten().any(|id| breathed.contains(&id))
    };
    // One that does not say what it is for counts toward the air of the burners beside it, so it is held to the same.
    let for_air = all.items().filter(|opening| match opening.purpose {
        Some(purpose) => purpose == OpeningPurpose::CombustionAir,
        None => openings::lets_air_through(opening) && from_burners(opening),
    });
    for_air.map(|opening| opening.ask("whether the opening stays open", || judge(inquiry, &opening))).collect()
}

fn judge(inquiry: &Inquiry, opening: &Place<Opening>) -> Lookup<FindingBuilder> {
    let source = sources::LOUVERS.text();
    let mut steps = Vec::new();
    let mut faults = Vec::new();
    let open = openings::stays_open(opening);
    if let Ok(false) = open {
        faults.push(match opening.permanence {
            Some(Permanence::Motorized) => text!("its motorized louver is not proven open before and during firing"),
            _ => text!("it can be closed by hand"),
        });
    }
    let mesh = mesh_of(opening);
    if let Ok(Some(mesh)) = &mesh {
        let least = inquiry.value(&LEAST_MESH);
        let holds = screen_mesh_suffices(*mesh, least);
        steps.push((text!("mesh {}, {} is the least", in_unit(*mesh, "in"), in_unit(least, "in")), holds));
        if !holds {
            faults.push(text!("its screen's mesh is {}, {} is the least", in_unit(*mesh, "in"), in_unit(least, "in")));
        }
    }
    if faults.is_empty() {
        // What the air of burners hangs on must be there for it, and not to replace what a fan draws out.
        (open.clone(), mesh.clone(), need!(opening, purpose)).together()?;
    }
    let builder = match faults.is_empty() {
        false => opening
            .correction(Text::list(&faults))
            .remedy(text!("lock the louver open, and fit a screen no finer than asked, or none")),
        true if derate_unknown(opening) => opening
            .advice(text!("what its screen takes from the free area is not stated: ask its maker, or leave the screen out")),
        true => opening.complies(text!("stays open")),
    };
    Ok(steps.into_iter().fold(builder, |builder, (text, holds)| builder.test("screen", text, source, holds)))
}

/// The mesh, where there is a screen.
fn mesh_of(opening: &Place<Opening>) -> Lookup<Option<uom::si::f64::Length>> {
    match &opening.screen {
        // Nobody screens the grille between two rooms; at outdoors somebody must say.
        None if between_rooms(opening) => Ok(None),
        None => Err(opening.missing("/screen/fitted")),
        Some(screen) if screen.fitted == Some(false) => Ok(None),
        Some(_) => need!(opening, screen.mesh).map(|mesh| Some(mesh.quantity())),
    }
}

fn between_rooms(opening: &Opening) -> bool {
    opening.duct.is_none() && opening.beyond.as_ref().is_some_and(|beyond| beyond.kind == BeyondKind::Space)
}

fn derate_unknown(opening: &Opening) -> bool {
    opening.screen.as_ref().is_some_and(|screen| screen.fitted != Some(false) && screen.free_fraction.is_none())
}

#[cfg(test)]
mod tests {
    use super::*;
    use redtag_rule::json;
    use redtag_rule::testing::{findings, outcomes};

    fn opening(more: redtag_rule::Value) -> redtag_rule::Value {
        let mut opening = json!({"id": "lower", "kind": "louver", "purpose": "combustion-air", "permanence": "fixed"});
        for (name, value) in more.as_object().unwrap() {
            opening[name] = value.clone();
        }
        json!({"schema": 1, "openings": [opening]})
    }

    #[test]
    fn a_mesh_of_exactly_a_quarter_inch_is_coarse_enough() {
        let with = |mesh: &str| opening(json!({"screen": {"fitted": true, "mesh": mesh, "free_fraction": "80 %"}}));
        assert_eq!(outcomes(&findings(&RULE, with("6.35 mm"))), [("lower", Outcome::Complies)]);
        assert_eq!(outcomes(&findings(&RULE, with("0.249 in"))), [("lower", Outcome::Correction)]);
    }

    #[test]
    fn a_motorized_louver_must_be_proven_and_must_stop_the_burners() {
        let with = |interlock| opening(json!({"permanence": "motorized", "interlock": interlock, "screen": {"fitted": false}}));
        let both = json!({"proven_open_before_ignition": true, "burners_stop_when_closed": true});
        let one = json!({"proven_open_before_ignition": true, "burners_stop_when_closed": false});
        assert_eq!(outcomes(&findings(&RULE, with(both))), [("lower", Outcome::Complies)]);
        assert_eq!(outcomes(&findings(&RULE, with(one))), [("lower", Outcome::Correction)]);
        let unsaid = findings(&RULE, with(json!({"proven_open_before_ignition": true})));
        assert_eq!(unsaid[0].outcome, Outcome::Unresolved);
        assert_eq!(unsaid[0].missing[0].pointer, "/openings/0/interlock/burners_stop_when_closed");
    }
}
