//! Where gas burns in a fireplace built for wood, the fireplace's damper cannot be shut.
//!
//! A log set burns with the chimney's draft alone. With the damper shut its gases come into the room. Carbon monoxide kills; setting
//! up log sets and blocking dampers is work for a licensed contractor.
//!
//! **How it is measured.** For every gas fireplace or decorative appliance that is said to stand in a fireplace built for solid fuel: whether
//! the damper is taken out or fixed open as the instructions ask.
//!
//! **How it is fixed.** Take the damper out, or fit the clamp of the log set's maker.

use redtag_rule::prelude::*;

const SOURCE: &str = "from memory of IRC G2432 (IFGC 602)";

/// The rule.
pub const RULE: Rule = Rule {
    citations: &[remembered("IRC", "2021", "G2453"), remembered("IRC", "2021", "G2432"), remembered("IFGC", "2021", "602")],
    reads: &["/equipment"],
    ..Rule::new("venting/fireplace-damper", "Dampers of fireplaces that burn gas", check)
};

fn check(inquiry: &Inquiry) -> Vec<Finding> {
    let all = need!(inquiry.project(), equipment).every();
    let wanted = "whether its chimney can be shut";
    all.iter()
        .filter(|item| item.kind == EquipmentKind::GasFireplace && item.outdoors != Some(true))
        .map(|item| item.sheet(wanted, |sheet| judge(sheet, item)))
        .collect()
}

fn judge(sheet: &mut Sheet, item: &Place<Equipment>) -> Lookup<Text> {
    if !*need!(item, fuel_burning.in_solid_fuel_fireplace)? {
        return Ok(text!("it stands in no fireplace built for solid fuel"));
    }
    if item.fuel_burning.as_ref().and_then(|burning| burning.burner) == Some(Burner::Unvented) {
        return Ok(text!("it is made to burn without a vent"));
    }
    let fixed = need!(item, fuel_burning.fireplace_damper_fixed)?;
    let words = text!("the damper of its fireplace {} be shut", if *fixed { "cannot" } else { "can" });
    if !sheet.require("damper", words, SOURCE, *fixed) {
        let cure = text!("take the damper out, or fix it open with the clamp of the log set's maker");
        sheet.cure_at(cure, &[(fixed.pointer().to_owned(), json!(true))]);
    }
    Ok(text!("the damper of its fireplace cannot be shut"))
}
