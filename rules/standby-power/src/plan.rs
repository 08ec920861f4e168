//! Where the gear of a standby system stands on the plan.

use redtag_rule::prelude::*;
use redtag_rule_space::{solid_mark, stand};

/// Marks a piece of equipment where its room and its body are said; leaves the sheet alone where they are not.
pub fn mark(inquiry: &Inquiry, equipment: Lookup<Place<String>>, label: &str, sheet: &mut Sheet) {
    let Ok(equipment) = equipment.and_then(|id| inquiry.equipment(&id)) else { return };
    let space = need!(equipment, space).and_then(|id| inquiry.space(&id));
    if let (Ok(space), Ok(standing)) = (space, stand(&equipment)) {
        sheet.mark(solid_mark(&space, label, &standing.solid()));
    }
}
