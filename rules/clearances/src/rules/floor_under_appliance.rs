//! An appliance that burns fuel stands on a floor that burns only if its listing allows that.
//!
//! The heat below a firebox chars a wooden floor where nobody sees it.
//!
//! **How it is measured.** The floor of the room: wood in its framing or layers, or a wooden surface, is a floor that burns.
//! What hangs on a wall or from above has a clearance below it on its label instead.
//!
//! **How it is fixed.** Put it on a base its instructions name, or choose one that is listed for such floors. On a platform the
//! floor below it counts too, unless the platform is masonry or concrete, as a pad drawn under it.

use crate::scene::in_plan;
use crate::surface;
use redtag_handbook::space::Shape;
use redtag_rule::prelude::*;

/// Gypsum board plays no part in a floor.
const GYPSUM: bool = false;

/// A pad under it.
const PAD_COUNTS: Flag = Flag::new(
    "pad_counts",
    true,
    "Whether a masonry or concrete pad drawn under the whole appliance makes the floor one that does not burn.",
    "common practice",
);

/// The rule.
pub const RULE: Rule = Rule {
    citations: &[remembered("IRC", "2021", "M1306.1"), remembered("IFGC", "2021", "305.1")],
    parameters: &[&PAD_COUNTS],
    reads: &["/spaces", "/equipment"],
    ..Rule::new("clearances/floor-under-appliance", "Floors that burn under appliances", check)
};

fn check(inquiry: &Inquiry) -> Vec<Finding> {
    let all = need!(inquiry.project(), equipment).every();
    let burning = all.iter().filter(|equipment| kinds::may_burn(equipment) && equipment.outdoors != Some(true));
    burning
        .map(|appliance| {
            let hangs =
                matches!(appliance.mounting, Some(Mounting::Wall | Mounting::Recessed | Mounting::Suspended | Mounting::Roof));
            if hangs {
                return appliance.not_applicable(text!("it hangs; its label says what is below it")).done();
            }
            appliance.sheet("whether it may stand on this floor", |sheet| judge(inquiry, appliance, sheet))
        })
        .collect()
}

fn judge(inquiry: &Inquiry, appliance: &Place<Equipment>, sheet: &mut Sheet) -> Lookup<Text> {
    kinds::burns(appliance)?;
    let allowed = need!(appliance, fuel_burning.combustible_floor_allowed);
    if allowed.as_ref().is_ok_and(|allowed| **allowed) {
        return Ok(text!("its listing allows a floor that burns"));
    }
    let id = need!(appliance, space)?;
    let space = inquiry.space(&id)?;
    if inquiry.value(&PAD_COUNTS) && on_pad(&space, appliance) {
        return Ok(text!("it stands on a pad"));
    }
    if !burns(&space)? {
        return Ok(text!("the floor does not burn"));
    }
    sheet.related(space.pointer());
    let allowed = allowed?;
    sheet.require(
        "floor",
        text!("it stands on a floor that burns, and its listing does not allow that"),
        "the appliance's label",
        *allowed,
    );
    sheet.cure(text!("put it on a base its instructions name, or choose one listed for such floors"));
    Ok(Text::default())
}

/// Whether the floor of a space burns.
fn burns(space: &Place<Space>) -> Lookup<bool> {
    let floors = need!(space, assemblies).every().into_iter().filter(|assembly| assembly.kind == AssemblyKind::Floor);
    let told: Vec<bool> = floors.map(|floor| surface::assembly_burns(&floor, GYPSUM)).collect::<Lookup<_>>()?;
    let surface = space.floor_survey.as_ref().and_then(|survey| survey.material);
    match (told.contains(&true), told.is_empty(), surface) {
        (true, _, _) | (false, _, Some(FloorMaterial::Wood)) => Ok(true),
        (false, false, _) | (false, true, Some(FloorMaterial::Concrete | FloorMaterial::Earth)) => Ok(false),
        _ => Err(space.missing("/floor_survey/material")),
    }
}

/// Whether a pad of the floor survey lies under the whole appliance.
fn on_pad(space: &Space, appliance: &Place<Equipment>) -> bool {
    let Ok(stand) = redtag_rule_space::stand(appliance) else { return false };
    let pads = space.floor_survey.iter().flat_map(|survey| survey.pads.iter().flatten());
    let plan = stand.body.plan();
    pads.map(|pad| Shape::convex(&pad.iter().map(in_plan).collect::<Vec<_>>())).any(|pad| {
        let covers = plan.corners().iter().all(|&corner| pad.contains(corner));
        covers && (plan.radius() <= 0.0 || pad.area() >= plan.area())
    })
}
