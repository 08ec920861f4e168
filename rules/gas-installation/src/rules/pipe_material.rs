//! Gas pipe is of a material made for gas, for the gas, and for its place.
//!
//! Plastic burns through in a fire and feeds it; sulfur in the gas eats copper from inside; thin steel is cut through by its
//! own threads; steel in the weather rusts.
//!
//! **How it is measured.** The material against where the pipe runs: polyethylene in the ground outdoors only, polyvinyl
//! chloride nowhere, aluminum neither outdoors nor in the ground, copper only where the gas carries no more than 0.3 grain of
//! hydrogen sulfide in 100 ft³, Schedule 10 steel not threaded, steel outdoors kept from corroding.
//!
//! **How it is fixed.** Replaced by what may run there, or coated. The pressure test again.

use crate::{marks, parts};
use redtag_rule::prelude::*;

const SOURCE: &str = "IRC G2414 (IFGC 403)";
const THIN: Flag = Flag::new(
    "schedule_10_allowed",
    true,
    "Whether Schedule 10 steel pipe may carry gas where its joints are not threaded.",
    "2018 residential gas checklist on IRC G2414.4.2",
);
const CORRUGATED: Flag = Flag::new(
    "corrugated_tubing_allowed",
    true,
    "Whether corrugated stainless steel tubing may be used.",
    "IRC G2414.5.4 (IFGC 403.5.4); barred by some utilities and cities, from memory",
);

/// The rule.
pub const RULE: Rule = Rule {
    citations: &[cited("IRC", "2018", "G2414"), remembered("IFGC", "2021", "403")],
    parameters: &[&THIN, &CORRUGATED],
    reads: &["/gas"],
    ..Rule::new("gas-installation/pipe-material", "Material of gas pipe", check)
};

const WANTED: &str = "whether the pipe is of a material for its place";

fn check(inquiry: &Inquiry) -> Vec<Finding> {
    parts::each_pipe(inquiry, |pipe| crate::named::sheet(pipe, WANTED, |sheet| judge(inquiry, pipe, sheet)))
}

fn judge(inquiry: &Inquiry, pipe: &Place<GasSegment>, sheet: &mut Sheet) -> Lookup<Text> {
    use GasPipeMaterial::{Aluminum, CorrugatedStainlessSteel, Other, Polyethylene, PolyvinylChloride, SteelSchedule10};
    let material = need!(pipe, material)?;
    match *material {
        PolyvinylChloride => barred(text!("polyvinyl chloride is not for fuel gas"), sheet),
        Other => sheet.lack(Unresolved::because(material.pointer(), "a material made for fuel gas")),
        Polyethylene => {
            let routes = need!(pipe, routes)?;
            if !routes.iter().all(|route| *route == GasPipeRoute::Underground) || routes.is_empty() {
                barred(text!("polyethylene runs where it is not in the ground outdoors"), sheet);
            }
        }
        Aluminum => {
            need!(pipe, routes)?;
            let wet = [GasPipeRoute::Outdoors, GasPipeRoute::Underground, GasPipeRoute::UnderBuilding];
            if wet.into_iter().any(|route| parts::runs(pipe, route)) {
                barred(text!("aluminum runs outdoors or in the ground"), sheet);
            }
        }
        CorrugatedStainlessSteel if !inquiry.value(&CORRUGATED) => barred(text!("corrugated tubing is not allowed here"), sheet),
        SteelSchedule10 => thin(inquiry, pipe, sheet),
        copper if parts::is_copper(copper) => sulfur(inquiry, copper, sheet),
        _ => {}
    }
    if parts::is_steel(*material) {
        need!(pipe, routes)?;
        if parts::runs(pipe, GasPipeRoute::Outdoors) {
            let fault = ("weather", text!("nothing keeps the steel from rusting outdoors"));
            let cure = text!("use galvanized pipe, or coat it for the weather");
            parts::demand(sheet, need!(pipe, corrosion_protected), fault, cure, "from memory of IFGC 404.11");
        }
    }
    if !sheet.sound() {
        marks::pipe(sheet, pipe, "material");
    }
    Ok(text!("{} may run there", *material))
}

fn sulfur(inquiry: &Inquiry, copper: GasPipeMaterial, sheet: &mut Sheet) {
    let Some(corrosive) = sheet.want(need!(inquiry.project(), gas.supply.corrosive)) else { return };
    if !sheet.test("sulfur", text!("{}", copper), "from memory of IFGC 403.4.3", !*corrosive) {
        sheet.fault(text!("copper, and the gas carries more hydrogen sulfide than copper stands"));
        sheet.cure(text!("replace it by steel"));
    }
}

fn barred(words: Text, sheet: &mut Sheet) {
    sheet.require("material", words, SOURCE, false);
    sheet.cure(text!("replace it by steel pipe, or by tubing listed for gas"));
}

fn thin(inquiry: &Inquiry, pipe: &Place<GasSegment>, sheet: &mut Sheet) {
    if !inquiry.value(&THIN) {
        barred(text!("Schedule 10 steel is not allowed here"), sheet);
        return;
    }
    let Some(joint) = sheet.want(need!(pipe, joint)) else { return };
    let words = text!("Schedule 10 steel, {} joints", *joint);
    if !sheet.require("joints", words, SOURCE, *joint != GasJoint::Threaded) {
        let cure = text!("weld it, use press-connect fittings listed for it, or Schedule 40");
        sheet.cure_at(cure, &[(joint.pointer().to_owned(), json!("welded"))]);
    }
}
