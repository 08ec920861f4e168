//! The joints of supply and return ducts, of filter boxes and air handlers must be sealed, and the system tight where it was tested.
//!
//! A leaking return in a mechanical room draws on the vents there; a leaking supply heats a crawl space.
//!
//! **How it is measured.** By what each duct and cabinet says of its joints. Where leakage at 25 Pa is stated, the sum over the ducts is
//! held against the limit for the conditioned floor.
//!
//! **How it is fixed.** Mastic, or tape and closures listed for ducts, on every joint, seam and connection.

use crate::runs;
use redtag_handbook::ducts::{leakage_limit, sources};
use redtag_rule::prelude::*;

/// Leakage.
const LEAKAGE: Quantity<dimensions::VolumeFlow> = Quantity::new(
    "leakage_per_100_ft2",
    "4 cfm",
    "Greatest leakage at 25 Pa of the finished system for each 100 ft2 of conditioned floor.",
    "IECC R403.3.6; published plan sheets show 4",
);
/// Leakage at rough-in.
const LEAKAGE_ROUGH: Quantity<dimensions::VolumeFlow> = Quantity::new(
    "leakage_at_rough_in",
    "3 cfm",
    "The same at rough-in, without the air handler.",
    "IECC R403.3.6; published plan sheets show 3",
);

/// The rule.
pub const RULE: Rule = Rule {
    citations: &[remembered("IRC", "2021", "M1601.4.1"), cited("IECC", "2018", "R403.3.2")],
    parameters: &[&LEAKAGE, &LEAKAGE_ROUGH],
    reads: &["/ducts", "/equipment", "/building"],
    ..Rule::new("ducts/sealing", "Sealed ducts", check)
};

fn check(inquiry: &Inquiry) -> Vec<Finding> {
    let ducts = runs::of_kinds(inquiry, &[DuctKind::Supply, DuctKind::Return]);
    let mut findings: Vec<Finding> = ducts.iter().map(one).collect();
    let cabinets = need!(inquiry.project(), equipment).every();
    let moves = |equipment: &&Place<Equipment>| {
        matches!(equipment.kind, EquipmentKind::Furnace | EquipmentKind::AirHandler) && equipment.outdoors != Some(true)
    };
    findings.extend(cabinets.iter().filter(moves).map(cabinet));
    findings.extend(tested(inquiry, &ducts));
    findings
}

fn one(duct: &Place<Duct>) -> Finding {
    duct.sheet("whether its joints are sealed", |sheet| {
        let sealed = need!(duct, sealed)?;
        if !sheet.require("joints", text!("its joints must be sealed"), sources::SEALING.text(), *sealed.get()) {
            sheet.cure_at(
                text!("seal every joint with mastic or a closure listed for ducts"),
                &[(sealed.pointer().to_owned(), json!(true))],
            );
        }
        Ok(text!("its joints are sealed"))
    })
}

fn cabinet(equipment: &Place<Equipment>) -> Finding {
    equipment.sheet("whether its cabinet is sealed", |sheet| {
        let sealed = need!(equipment, air_moving.sealed)?;
        if !sheet.require("cabinet", text!("its cabinet and filter slot must be sealed"), sources::SEALING.text(), *sealed.get())
        {
            sheet.cure_at(text!("seal the cabinet and cover the filter slot"), &[(sealed.pointer().to_owned(), json!(true))]);
        }
        Ok(text!("its cabinet and filter slot are sealed"))
    })
}

/// The leakage that was measured, where any was.
fn tested(inquiry: &Inquiry, ducts: &[Place<Duct>]) -> Option<Finding> {
    let stated: Vec<_> = ducts.iter().filter_map(|duct| duct.leakage.as_ref()).map(|leakage| leakage.quantity()).collect();
    let total = stated.into_iter().reduce(|sum, more| sum + more)?;
    Some(inquiry.project().sheet("whether the ducts are tight", |sheet| {
        let floor = need!(inquiry.project(), building.conditioned_floor_area)?.quantity();
        let per = if inquiry.stage() == Stage::RoughIn { inquiry.value(&LEAKAGE_ROUGH) } else { inquiry.value(&LEAKAGE) };
        let limit = leakage_limit(floor, per);
        if !sheet.at_most("leakage", &total, &limit, "cfm", sources::LEAKAGE.text()) {
            sheet.fault(text!("the ducts leak {}, {} is the most for {} of floor", total, limit, in_unit(floor, "ft²")));
            sheet.cure(text!("find and seal the leaks, and test again"));
        }
        Ok(text!("they leak {} at 25 Pa, {} is the most", total, limit))
    }))
}
