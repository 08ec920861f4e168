//! A draft hood or draft regulator stands in the same room as its appliance, at the pressure of its combustion air.
//!
//! A draft hood balances the pull of the vent against the air of the room. In another room, at another pressure, it spills.
//!
//! **How it is measured.** By the space the draft hood is in, where that is not the appliance's own.
//!
//! **How it is fixed.** Move the hood or regulator into the appliance's room; work for a licensed contractor.

use crate::air_space::burners;
use redtag_rule::prelude::*;

/// The rule.
pub const RULE: Rule = Rule {
    citations: &[remembered("IRC", "2021", "G2407.3"), remembered("IFGC", "2021", "304.3")],
    reads: &["/equipment"],
    ..Rule::new("combustion-air/draft-hood-room", "Draft hoods in the appliance's room", check)
};

fn check(inquiry: &Inquiry) -> Vec<Finding> {
    let hooded = |appliance: &&Place<Equipment>| {
        matches!(
            appliance.fuel_burning.as_ref().and_then(|burning| burning.burner),
            Some(Burner::DraftHood | Burner::PowerVenter)
        )
    };
    ask_each(burners(inquiry).iter().filter(hooded), "whether its draft hood is in its room", judge)
}

fn judge(appliance: &Place<Equipment>) -> Lookup<FindingBuilder> {
    let elsewhere = appliance.fuel_burning.as_ref().and_then(|burning| burning.draft_hood_space.as_ref());
    let Some(hood) = elsewhere else {
        return Ok(appliance.complies(text!("its draft hood is in its own room")));
    };
    let own = need!(appliance, space)?;
    if hood == own.get() {
        return Ok(appliance.complies(text!("its draft hood is in its own room")));
    }
    let summary = text!("its draft hood is in {}, the appliance in {}", hood.as_str(), own.get().as_str());
    Ok(appliance.correction(summary).remedy(text!("move the draft hood into the appliance's room")))
}
