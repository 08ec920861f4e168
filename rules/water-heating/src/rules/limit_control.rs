//! A heater that fires by itself must have a second control that shuts off the heat before the water boils.
//!
//! The thermostat is the first to fail. The limit is a control of its own that cuts fuel or power; the relief valve comes after
//! it and does not replace it. **Without it a stuck thermostat boils the tank.**
//!
//! **How it is measured.** From the listing or the rating plate: a limit or energy cut-off separate from the thermostat, and the
//! temperature at which it acts. The exact figure of the code is not known here: what is asked is that it acts below the relief
//! valve's temperature.
//!
//! **How it is fixed.** A listed heater has it. One whose limit was bridged or taken out is not to be used until a licensed trade
//! has put it back.

use crate::heater;
use redtag_rule::prelude::*;

/// At what temperature.
const BEFORE: Quantity<dimensions::Temperature> = Quantity::new(
    "acts_before",
    "210 F",
    "The limit acts at this temperature at the latest.",
    "from memory of IPC chapter 5: before the relief valve's 210 F; the figure is not confirmed",
)
.within("160 F", "210 F");

/// The rule.
pub const RULE: Rule = Rule {
    citations: &[remembered("IPC", "2021", "504"), remembered("IRC", "2021", "P2801.4")],
    parameters: &[&BEFORE],
    reads: &["/equipment"],
    ..Rule::new("water-heating/limit-control", "A limit that cuts the heat", check)
};

fn check(inquiry: &Inquiry) -> Vec<Finding> {
    heater::each(inquiry, |heater| heater.sheet("whether a limit cuts the heat", |sheet| judge(inquiry, heater, sheet)))
}

fn judge(inquiry: &Inquiry, heater: &Place<Equipment>, sheet: &mut Sheet) -> Lookup<Text> {
    let limit = need!(heater, water_heating.limit_control)?;
    if !sheet.test("limit", text!("a control apart from the thermostat cuts the heat"), "IPC chapter 5, from memory", *limit) {
        sheet.fault(text!("nothing but its thermostat cuts the heat"));
        sheet.cure(text!("take it out of use until a licensed trade has fitted the maker's limit control"));
        return Ok(Text::default());
    }
    if let Some(acts) = sheet.want(need!(heater, water_heating.limit_temperature)) {
        let most = quantity::Temperature::from_quantity(&inquiry.value(&BEFORE));
        if !sheet.at_most("acts at", &acts, &most, "F", "IPC chapter 5, from memory") {
            sheet.fault(text!("its limit acts at {}, {} is the most", acts, most));
        }
    }
    Ok(text!("a limit of its own cuts the heat"))
}
