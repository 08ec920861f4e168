//! Water that condenses in a vent finds its way out.
//!
//! A condensing appliance makes acid water in its vent. Where it stands in a sag it blocks the pipe and eats it, and the gases go
//! elsewhere. Vents are work for a licensed contractor.
//!
//! **How it is measured.** For every vent of a Category II or IV or another condensing appliance: whether condensate drains out of it,
//! and its slope back towards the appliance or drain where any of it lies sideways.
//!
//! **How it is fixed.** Hang it to the slope, with supports that keep out sags, and connect its drain.

use crate::appliances::{condenses, served, vents};
use redtag_rule::prelude::*;

/// Slope.
const SLOPE: Quantity<dimensions::Slope> = Quantity::new(
    "least_slope",
    "1/4 in/ft",
    "How much a condensing vent falls back at least, where its instructions ask for no more.",
    "common practice: appliance instructions",
);

/// The rule.
pub const RULE: Rule = Rule {
    citations: &[remembered("IRC", "2021", "G2427.9"), remembered("IFGC", "2021", "503.9")],
    parameters: &[&SLOPE],
    reads: &["/vents", "/equipment"],
    ..Rule::new("venting/condensate", "Condensate of vents", check)
};

fn check(inquiry: &Inquiry) -> Vec<Finding> {
    vents(inquiry).iter().map(|vent| one(inquiry, vent)).collect()
}

fn one(inquiry: &Inquiry, vent: &Place<Vent>) -> Finding {
    let condensing = served(inquiry, vent).and_then(|served| {
        Ok(served.iter().map(condenses).collect::<Vec<_>>().together()?.into_iter().any(|condenses| condenses))
    });
    match condensing {
        Ok(false) => vent.not_applicable(text!("nothing condenses in it in service")).done(),
        Ok(true) => vent.sheet("whether its condensate drains", |sheet| judge(inquiry, sheet, vent)),
        Err(unresolved) => vent.ask("whether anything condenses in it", || Err(unresolved)),
    }
}

fn judge(inquiry: &Inquiry, sheet: &mut Sheet, vent: &Place<Vent>) -> Lookup<Text> {
    if let Some(drained) = sheet.want(need!(vent, condensate_drained)) {
        let words = text!("condensate {}", if *drained { "drains out of it" } else { "does not drain out of it" });
        if !sheet.require("drain", words, "from memory of IFGC 503.9", *drained) {
            sheet.cure_at(text!("connect a drain with a trap at its low point"), &[(drained.pointer().to_owned(), json!(true))]);
        }
    }
    let upright = vent.lateral.as_ref().is_some_and(|lateral| at_most(lateral.si(), 0.0));
    if !upright && let Some(slope) = sheet.want(need!(vent, slope)) {
        let least = inquiry.value(&SLOPE);
        let bound = in_unit(crate::marks::slope(least), "in/ft");
        let words = text!("falls back {}, {} is the least", in_unit(&slope, "in/ft"), bound);
        if !sheet.require("slope", words, "common practice: appliance instructions", at_least(slope.si(), least.value)) {
            let set = json!(format!("{} in/ft", least.value * 12.0));
            sheet.cure_at(text!("hang it to {} back towards the appliance", bound), &[(slope.pointer().to_owned(), set)]);
        }
    }
    Ok(text!("its condensate drains"))
}
