//! A vent that several appliances share carries all of them at once, and none of them blows into another.
//!
//! Only appliances of Category I may share a vent or chimney: one that pushes its gases would drive them out of the draft hood of
//! the next. Others share one only where their makers list it and the authority has accepted the design. Carbon monoxide kills: sizing, altering and testing vents is work for a licensed contractor, by the adopted code and
//! the listings.
//!
//! **How it is measured.** Every connector by the table for the height of the vent and its own rise, the common part by the sum of
//! the inputs; long connectors and elbows take their share off. The common part is no smaller than the largest connector and at
//! most seven times the area of the smallest outlet. Fan-assisted appliances have a least input as well. Where the tables say
//! nothing, draft-hood appliances may be sized by areas: the largest outlet and half of the others. No solid fuel on the same
//! flue.
//!
//! **How it is fixed.** A larger connector or common vent, more rise, or a vent of its own for the appliance that does not fit.

use crate::appliances::{all_served, category, direct_vent, served, vents};
use crate::sizing::{AREA_RULE, Decided, ELBOW, FROM_MEMORY, LINER, TIMES, calculated, category_one, decide};
use redtag_rule::prelude::*;
use uom::si::f64::Power;

/// Free length of a connector.
const FREE_LENGTH: Quantity<dimensions::Length> = Quantity::new(
    "connector_length_per_inch",
    "1.5 ft",
    "Horizontal length of a connector for each inch of its diameter that takes nothing off its capacity.",
    "IFGC 504.3.2",
);

/// The rule.
pub const RULE: Rule = Rule {
    citations: &[
        cited("IRC", "2018", "G2428.3"),
        cited("IFGC", "2018", "504.3"),
        remembered("IFGC", "2021", "503.10.4"),
        remembered("IFGC", "2021", "503.5.7.1"),
        remembered("IRC", "2021", "G2427.5.6.1"),
    ],
    parameters: &[&FROM_MEMORY, &AREA_RULE, &ELBOW, &LINER, &TIMES, &FREE_LENGTH],
    reads: &["/vents", "/equipment"],
    ..Rule::new("venting/common-vent", "Vents that appliances share", check)
};

fn check(inquiry: &Inquiry) -> Vec<Finding> {
    let shared = |vent: &&Place<Vent>| {
        vent.equipment.as_ref().is_some_and(|served| served.len() > 1) || vent.shared_with_solid_fuel == Some(true)
    };
    vents(inquiry)
        .iter()
        .filter(shared)
        .map(|vent| vent.sheet("whether they may share it", |sheet| judge(inquiry, sheet, vent)))
        .collect()
}

fn judge(inquiry: &Inquiry, sheet: &mut Sheet, vent: &Place<Vent>) -> Lookup<Text> {
    if let Some(solid) = sheet.want(need!(vent, shared_with_solid_fuel))
        && *solid
    {
        sheet.fault(text!("something that burns solid fuel shares it"));
        sheet.cure(text!("give the gas appliances a vent of their own"));
    }
    sheet.want(all_served(vent));
    let appliances = served(inquiry, vent)?;
    if appliances.len() < 2 {
        return Ok(text!("one appliance alone"));
    }
    if let Some(lookup) = by_listing(vent, &appliances) {
        return lookup;
    }
    if !of_category_one(sheet, &appliances) || calculated(vent) {
        return Ok(text!("sized by an accepted calculation"));
    }
    let Some(served) = category_one(inquiry, vent)? else {
        let what = "an accepted calculation of its size: one of its appliances has a burner the tables do not know";
        return Err(Unresolved::because(format!("{}/sizing_evidence", vent.pointer()), what));
    };
    let decided = decide(inquiry, sheet, vent, &served, inquiry.value(&FREE_LENGTH))?;
    let total = served.iter().fold(Power::default(), |sum, served| sum + served.input);
    if decided == Decided::Fails {
        served.iter().for_each(|served| sheet.related(served.place.pointer()));
    }
    Ok(text!("carries {} appliances, {} together", served.len(), in_unit(total, "Btu/h")))
}

/// Appliances none of which is of Category I share a vent only as their makers list it; nothing where one of them is, or is not
/// known to be otherwise.
fn by_listing(vent: &Place<Vent>, appliances: &[Place<Equipment>]) -> Option<Lookup<Text>> {
    let apart = |appliance: &Place<Equipment>| {
        direct_vent(appliance) == Ok(true) || category(appliance).is_ok_and(|category| category != VentCategory::CategoryI)
    };
    if !appliances.iter().all(apart) {
        return None;
    }
    if calculated(vent) {
        return Some(Ok(text!("shared as their makers list it, by an accepted design")));
    }
    if vent.sizing_evidence.as_ref().is_some_and(|evidence| evidence.accepted == Some(false)) {
        return None;
    }
    let what = "the accepted design of a common vent their makers list for these appliances: without one they may not share it";
    Some(Err(Unresolved::because(format!("{}/sizing_evidence", vent.pointer()), what)))
}

/// Names every appliance that may not share; whether there is none.
fn of_category_one(sheet: &mut Sheet, appliances: &[Place<Equipment>]) -> bool {
    for appliance in appliances {
        let Some(direct) = sheet.want(direct_vent(appliance)) else { continue };
        let why = if direct {
            text!("takes its air from outdoors by its own pipe")
        } else {
            match sheet.want(category(appliance)) {
                None | Some(VentCategory::CategoryI) => continue,
                Some(category) => text!(
                    "is of {}",
                    category.word().replace("category-", "Category ").to_uppercase().replace("CATEGORY", "Category")
                ),
            }
        };
        sheet.fault(text!("{} {} and may not share a vent", appliance.label(), why));
        sheet.related(appliance.pointer());
        sheet.cure(text!("give {} a vent of its own, as its instructions say", appliance.label()));
    }
    sheet.sound()
}
