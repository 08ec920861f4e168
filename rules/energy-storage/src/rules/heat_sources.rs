//! Batteries and burners should keep away from each other.
//!
//! Heat ages a battery and may start what ends in a fire; a burner is an ignition source for what a failing battery gives off.
//! The model codes give no distance: the instructions of both decide, and some fire departments add a figure of their own.
//!
//! **How it is measured.** The distance through the air between each unit and every fuel-burning appliance in the same room.
//! What may burn fuel and does not say whether it does, and a burner that does not say where it stands, is asked about.
//! Less than three feet is worth a look at both sets of instructions; a jurisdiction that names a distance makes it a limit.
//!
//! **How it is fixed.** More distance, or a word in the instructions of both that this one will do.

use crate::plan::{self, Placed};
use crate::units;
use redtag_rule::prelude::*;
use redtag_rule_space::{length, stand};

const SOURCE: &str = "common practice: no distance is printed in IRC R328 or NFPA 855 chapter 15";
/// Apart.
const DISTANCE: Quantity<dimensions::Length> =
    Quantity::new("distance", "36 in", "Nearer than this to a burner is worth a look.", SOURCE).within("0 in", "240 in");
/// Whether it is law.
const REQUIRED: Flag =
    Flag::new("distance_required", false, "Whether the jurisdiction makes the distance a requirement.", SOURCE);

/// The rule.
pub const RULE: Rule = Rule {
    citations: &[remembered("NEC", "2020", "110.3(B)")],
    parameters: &[&DISTANCE, &REQUIRED],
    reads: &["/spaces", "/equipment", "/electrical/storage"],
    ..Rule::new("energy-storage/heat-sources", "Batteries near burners", check)
};

const WANTED: &str = "whether a burner stands too near";

fn check(inquiry: &Inquiry) -> Vec<Finding> {
    let placed = plan::placed(inquiry);
    let burners: Vec<Place<Equipment>> =
        need!(inquiry.project(), equipment).every().into_iter().filter(kinds::may_burn).collect();
    units::each(inquiry, WANTED, |unit| {
        let own = placed.iter().find(|one| one.unit.unit.pointer() == unit.unit.pointer());
        let near: Vec<&Place<Equipment>> = match own.and_then(|own| own.room.as_ref()) {
            Some(room) => burners.iter().filter(|burner| may_stand_in(burner, room)).collect(),
            None => Vec::new(),
        };
        match own {
            Some(own) if !near.is_empty() => unit.unit.sheet(WANTED, |sheet| judge(inquiry, own, &near, sheet)),
            _ => unit.unit.not_applicable(text!("no burner in its room")).done(),
        }
    })
}

/// Whether it stands in a room, or nobody says where it stands.
fn may_stand_in(burner: &Equipment, room: &str) -> bool {
    burner.space.as_deref().map_or(burner.outdoors != Some(true), |space| space == room)
}

fn judge(inquiry: &Inquiry, own: &Placed, burners: &[&Place<Equipment>], sheet: &mut Sheet) -> Lookup<Text> {
    let asked = inquiry.value(&DISTANCE);
    let body = own.stand.clone()?.solid();
    for burner in burners {
        if sheet.want(kinds::burns(burner)) != Some(true) {
            continue;
        }
        if burner.space.is_none() {
            sheet.lack(burner.missing("/space"));
            continue;
        }
        let Some(other) = sheet.want(stand(burner)) else { continue };
        let gap = body.gap(&other.solid());
        let distance = length(gap.distance);
        let words = text!("{} from {}, {} is wanted", distance, burner.label(), asked);
        if sheet.test("distance", words.clone(), SOURCE, at_least(distance, asked)) {
            continue;
        }
        sheet.related(burner.pointer());
        let ends = [[gap.from.0.x, gap.from.0.y, gap.from.1], [gap.to.0.x, gap.to.0.y, gap.to.1]];
        sheet.mark(line_mark(own.room.as_deref(), "battery near a burner", &ends));
        if inquiry.value(&REQUIRED) {
            sheet.fault(words);
            sheet.cure(text!("move it {} further away", asked - distance));
        } else {
            sheet.advise(text!("{}; look at the instructions of both", words));
        }
    }
    Ok(text!("{} or more from every burner in the room", asked))
}
