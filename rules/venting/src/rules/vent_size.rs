//! The vent of one Category I appliance is wide enough for what it burns, and narrow enough to stay warm.
//!
//! Too small, and the gases spill into the room; too large, and they cool, condense and eat the vent, or hang and fall back.
//! Carbon monoxide kills: sizing, altering and testing vents is work for a licensed contractor, by the adopted code and the
//! listings of the appliance and the vent.
//!
//! **How it is measured.** The appliance's input by its plate, as at sea level, against the table for its height, its lateral and
//! its diameter; heights and laterals between two rows are interpolated, and nothing is read beyond a table. Elbows beyond the
//! two a table counts in take a tenth off each. Fan-assisted appliances have a least input as well, held against the least
//! they burn. The vent is at most seven times as wide in area as the outlet. Where the tables say nothing, draft-hood
//! appliances may be sized by areas.
//!
//! **How it is fixed.** The size of pipe the table asks for, a listed double-wall connector, a shorter lateral, fewer elbows, or
//! an accepted calculation.

use crate::appliances::{all_served, vents};
use crate::sizing::{AREA_RULE, ELBOW, FROM_MEMORY, LINER, TIMES, calculated, category_one, decide};
use redtag_handbook::units;
use redtag_rule::prelude::*;

/// The rule.
pub const RULE: Rule = Rule {
    citations: &[
        cited("IRC", "2018", "G2428.2"),
        cited("IFGC", "2018", "504.2"),
        remembered("IRC", "2021", "G2427.6.8.1"),
        remembered("IFGC", "2021", "503.6.10.1"),
    ],
    parameters: &[&FROM_MEMORY, &AREA_RULE, &ELBOW, &LINER, &TIMES],
    reads: &["/vents", "/equipment"],
    ..Rule::new("venting/vent-size", "Size of a vent of one appliance", check)
};

fn check(inquiry: &Inquiry) -> Vec<Finding> {
    let alone = |vent: &&Place<Vent>| vent.equipment.as_ref().is_none_or(|served| served.len() <= 1);
    vents(inquiry)
        .iter()
        .filter(alone)
        .map(|vent| vent.sheet("whether it has the right size", |sheet| judge(inquiry, sheet, vent)))
        .collect()
}

fn judge(inquiry: &Inquiry, sheet: &mut Sheet, vent: &Place<Vent>) -> Lookup<Text> {
    sheet.want(all_served(vent));
    if vent.equipment.as_ref().is_some_and(Vec::is_empty) {
        return Ok(text!("nothing is on it"));
    }
    if calculated(vent) {
        return Ok(text!("sized by an accepted calculation"));
    }
    let Some(served) = category_one(inquiry, vent)? else {
        return Ok(text!("sized by the instructions of its appliance, not by these tables"));
    };
    decide(inquiry, sheet, vent, &served, units::feet(1.5))?;
    let input = served.iter().map(|served| in_unit(served.input, "Btu/h")).next();
    Ok(input.map_or_else(|| text!("its size suits"), |input| text!("its size suits {}", input)))
}
