//! In a garage nothing that can light stands low.
//!
//! Petrol vapour is heavier than air and lies on the floor. A pilot, an igniter or a burner near the floor sets it off: people have
//! been burnt to death by a water heater and a can that fell over. Gas work is for a licensed contractor.
//!
//! **How it is measured.** The height of the ignition source above the floor, in garages and in rooms that open only into one and belong to
//! no living space: 18 in at least. For a utility or mechanical room that opens into the house as well it is advice. An appliance listed as resistant to igniting flammable vapours is excepted.
//!
//! **How it is fixed.** A platform that lifts the ignition source, an appliance that is listed as resistant, or another room.

use crate::garage::{Near, is_not_living_space, place};
use redtag_rule::prelude::*;

/// Height.
const HEIGHT: Quantity<dimensions::Length> = Quantity::new(
    "least_height",
    "18 in",
    "Height of an ignition source above the floor of a garage.",
    "IFGC 305.3 (commentary of 2006)",
);
/// Exception.
const RESISTANT: Flag = Flag::new(
    "vapor_resistant_excepted",
    true,
    "Whether an appliance listed as resistant to igniting flammable vapours may stand on the floor.",
    "from memory of IRC G2408.2, exception",
);
/// Annexes.
const ANNEX: Flag = Flag::new(
    "annexes_count",
    true,
    "Whether a room that opens only into the garage and belongs to no living space counts as garage.",
    "IFGC 305.3 (commentary of 2006)",
);

/// Rooms between.
const BETWEEN: Choice = Choice::new(
    "rooms_between",
    "advice",
    &["house", "advice", "garage"],
    "What a room is that opens into the garage and into the house as well and belongs to no living space.",
    "IRC G2408.2, M1307.3: rooms that communicate with a private garage and are no living space; the commentary of 2006 reads a utility \
     room between as living space",
);

/// The rule.
pub const RULE: Rule = Rule {
    citations: &[
        cited("IRC", "2006", "G2408.2"),
        cited("IFGC", "2006", "305.3"),
        cited("IRC", "2009", "M1307.3"),
        cited("IRC", "2021", "M1307.3"),
    ],
    parameters: &[&HEIGHT, &RESISTANT, &ANNEX, &BETWEEN],
    reads: &["/equipment", "/spaces", "/openings"],
    ..Rule::new("appliance-safety/ignition-height", "Ignition sources in garages", check)
};

fn check(inquiry: &Inquiry) -> Vec<Finding> {
    let all = need!(inquiry.project(), equipment).every();
    let burns = all.iter().filter(|item| kinds::may_burn(item) && item.outdoors != Some(true));
    burns.map(|item| one(inquiry, item)).collect()
}

fn one(inquiry: &Inquiry, appliance: &Place<Equipment>) -> Finding {
    let space = need!(appliance, space).and_then(|id| inquiry.space(&id));
    let near = space.and_then(|space| Ok((place(inquiry, &space)?, space)));
    match near {
        Err(unresolved) => appliance.ask("whether it stands in a garage", || Err(unresolved)),
        Ok((Near::Garage, space)) => judged(inquiry, appliance, &space),
        Ok((Near::Annex, space)) if inquiry.value(&ANNEX) => judged(inquiry, appliance, &space),
        Ok((Near::Between, space)) if inquiry.value(&BETWEEN) != "house" && is_not_living_space(&space) => {
            let found = judged(inquiry, appliance, &space);
            if inquiry.value(&BETWEEN) == "garage" || found.outcome != Outcome::Correction { found } else { doubtful(found) }
        }
        Ok(_) => appliance.not_applicable(text!("it stands in no garage")).done(),
    }
}

/// A room that opens into the garage and into the house: some inspectors read it as part of the garage.
fn doubtful(mut found: Finding) -> Finding {
    found.outcome = Outcome::Advice;
    found.summary =
        found.summary.then(&text!("; its room opens into the garage and into the house, which some inspectors read as garage"));
    found
}

fn judged(inquiry: &Inquiry, appliance: &Place<Equipment>, space: &Place<Space>) -> Finding {
    appliance.sheet("whether its ignition source is high enough", |sheet| judge(inquiry, sheet, appliance, space))
}

fn judge(inquiry: &Inquiry, sheet: &mut Sheet, appliance: &Place<Equipment>, space: &Place<Space>) -> Lookup<Text> {
    kinds::burns(appliance)?;
    let resistant = appliance.fuel_burning.as_ref().and_then(|burning| burning.flammable_vapor_resistant);
    if resistant == Some(true) && inquiry.value(&RESISTANT) {
        return Ok(text!("listed as resistant to igniting flammable vapors"));
    }
    let least = inquiry.value(&HEIGHT);
    let height = need!(appliance, fuel_burning.ignition_source_height)?;
    let words =
        text!("ignites {} above the floor of {}, {} is the least", in_unit(&height, "in"), space.label(), in_unit(least, "in"));
    if sheet.require("ignition source", words, "IFGC 305.3", at_least(height.quantity(), least)) {
        return Ok(text!("ignites {} above the floor", in_unit(&height, "in")));
    }
    let more = least - height.quantity();
    sheet.related(space.pointer());
    let inches = redtag_handbook::units::in_inches(least);
    let set = (height.pointer().to_owned(), json!(format!("{inches} in")));
    sheet.cure_at(text!("lift it by {} on a platform", in_unit(more, "in")), &[set]);
    sheet.cure(text!("use an appliance listed as resistant to igniting flammable vapors"));
    mark(sheet, appliance, height.si(), "ignition source too low");
    Ok(Text::default())
}

fn mark(sheet: &mut Sheet, appliance: &Place<Equipment>, up: f64, what: &str) {
    let placement =
        appliance.placement.as_ref().and_then(|placement| Some((placement.x.as_ref()?.si(), placement.y.as_ref()?.si())));
    if let Some((x, y)) = placement {
        sheet.mark(point_mark(appliance.space.as_deref(), format!("{}: {what}", appliance.id), [x, y, up]));
    }
}
