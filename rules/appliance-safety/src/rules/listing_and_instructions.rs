//! A gas appliance is listed, and its instructions stay with it.
//!
//! The listing is what the code trusts instead of testing the appliance anew, and half of what the code asks stands in the
//! instructions: clearances, vent, air, gas. An inspector reads them at the appliance. Gas work is for a licensed contractor.
//!
//! **How it is measured.** Whether the appliance bears the mark of a testing agency; at the final inspection, whether its instructions are
//! left at the site. What was there before this work is not asked.
//!
//! **How it is fixed.** Hand over the instructions, or print them anew; an appliance without a listing is replaced, or the authority
//! decides on it.

use redtag_rule::prelude::*;

/// The rule.
pub const RULE: Rule = Rule {
    citations: &[
        remembered("IRC", "2021", "G2404.3"),
        remembered("IRC", "2021", "G2408.1"),
        remembered("IFGC", "2021", "301.3"),
        remembered("IFGC", "2021", "305.1"),
    ],
    reads: &["/equipment"],
    ..Rule::new("appliance-safety/listing-and-instructions", "Listing and instructions of gas appliances", check)
};

fn check(inquiry: &Inquiry) -> Vec<Finding> {
    let all = need!(inquiry.project(), equipment).every();
    all.iter().filter(|item| burns_gas(item)).map(|item| one(inquiry, item)).collect()
}

/// Whether it burns gas, or may as far as is said.
fn burns_gas(item: &Place<Equipment>) -> bool {
    use Fuel as F;
    let fuel = need!(item, fuel_burning.plate.fuel).ok().map(|fuel| *fuel);
    let by_kind = matches!(item.kind, EquipmentKind::OilHeater | EquipmentKind::SolidFuelHeater);
    let other = fuel.map_or(by_kind, |fuel| matches!(fuel, F::FuelOil | F::Kerosene | F::Wood | F::Pellets | F::Coal));
    kinds::may_burn(item) && !other
}

fn one(inquiry: &Inquiry, item: &Place<Equipment>) -> Finding {
    if item.existing == Some(true) {
        return item.not_applicable(text!("it was there before this work")).done();
    }
    item.sheet("whether it is listed and its instructions are there", |sheet| {
        kinds::burns(item)?;
        if let Some(listed) = sheet.want(need!(item, listing.listed)) {
            let words = text!("it {} listed", if *listed { "is" } else { "is not" });
            if !sheet.require("listing", words, "IFGC 301.3, from memory", *listed) {
                sheet.cure(text!("use a listed appliance, or have the authority decide on this one"));
            }
        }
        if inquiry.stage() == Stage::Final
            && let Some(there) = sheet.want(need!(item, fuel_burning.instructions_on_site))
        {
            let words = text!("its instructions {} at the site", if *there { "are" } else { "are not" });
            if !sheet.require("instructions", words, "IFGC 305.1, from memory", *there) {
                sheet.cure_at(text!("leave its instructions at the appliance"), &[(there.pointer().to_owned(), json!(true))]);
            }
        }
        Ok(text!("listed, and its instructions are with it"))
    })
}
