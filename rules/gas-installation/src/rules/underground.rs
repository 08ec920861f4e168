//! Gas pipe in the ground lies deep enough for spade and frost, and is made of what the ground does not eat.
//!
//! Bare steel rusts through in a few years; a shallow pipe meets the first fence post; plastic without a wire along it is
//! never found again.
//!
//! **How it is measured.** Earth over the pipe: 12 in at least; 8 in for a line to a single appliance outdoors. Steel and
//! copper protected from corrosion, polyethylene with a tracer wire, corrugated tubing in a casing; aluminum and polyvinyl
//! chloride never.
//!
//! **How it is fixed.** Dug deeper or covered; wrapped, coated or replaced. Have buried lines marked before anybody digs.

use crate::{marks, parts};
use redtag_rule::prelude::*;

const SOURCE: &str = "from memory of IRC G2415.12 (IFGC 404.12)";
const COVER: Quantity<dimensions::Length> = Quantity::new(
    "least_cover",
    "12 in",
    "Least depth of earth over buried gas pipe.",
    "from memory of IFGC 404.12, as the plates of a code handbook on IRC 2000 print it; 18 in in plumbing codes of the other family",
)
.within("6 in", "48 in");
const SINGLE: Quantity<dimensions::Length> = Quantity::new(
    "least_cover_of_single_line",
    "8 in",
    "Least depth of earth over a line to one appliance outdoors.",
    "from memory of IFGC 404.12.1, as the plates of a code handbook on IRC 2000 print it",
)
.within("6 in", "48 in");

/// The rule.
pub const RULE: Rule = Rule {
    citations: &[
        remembered("IRC", "2021", "G2415.12"),
        remembered("IFGC", "2021", "404.12"),
        remembered("IFGC", "2021", "404.11"),
    ],
    parameters: &[&COVER, &SINGLE],
    reads: &["/equipment", "/gas"],
    ..Rule::new("gas-installation/underground", "Buried gas pipe", check)
};

const WANTED: &str = "whether the pipe may lie in the ground so";

fn check(inquiry: &Inquiry) -> Vec<Finding> {
    parts::each_pipe(inquiry, |pipe| match &pipe.routes {
        None => crate::named::sheet(pipe, WANTED, |_| need!(pipe, routes).map(|_| Text::default())),
        Some(routes) if !routes.contains(&GasPipeRoute::Underground) => {
            crate::named::not_concerned(pipe, text!("none of it lies in the ground"))
        }
        Some(_) => crate::named::sheet(pipe, WANTED, |sheet| judge(inquiry, pipe, sheet)),
    })
}

fn judge(inquiry: &Inquiry, pipe: &Place<GasSegment>, sheet: &mut Sheet) -> Lookup<Text> {
    let single = single_outdoors(inquiry, pipe);
    let least = if single { inquiry.value(&SINGLE) } else { inquiry.value(&COVER) };
    let deeper = |least| text!("bury it {} deep", least);
    parts::no_less(sheet, need!(pipe, burial_depth), least, ("the earth over it", "in"), deeper, SOURCE);
    if let Some(material) = sheet.want(need!(pipe, material)) {
        fit(pipe, *material, sheet);
    }
    if !sheet.sound() {
        marks::pipe(sheet, pipe, "buried gas pipe");
    }
    Ok(text!("deep enough, and made for the ground"))
}

/// Whether it feeds one appliance, and that one outdoors.
fn single_outdoors(inquiry: &Inquiry, pipe: &Place<GasSegment>) -> bool {
    let node = need!(pipe, to).and_then(|to| parts::node(inquiry, &to));
    let outlet = node.ok().filter(|node| node.kind == GasNodeKind::Outlet);
    let appliance = outlet.and_then(|node| need!(node, equipment).and_then(|id| inquiry.equipment(&id)).ok());
    appliance.is_some_and(|appliance| appliance.outdoors == Some(true))
}

fn fit(pipe: &Place<GasSegment>, material: GasPipeMaterial, sheet: &mut Sheet) {
    use GasPipeMaterial::{Aluminum, CorrugatedStainlessSteel, Other, Polyethylene, PolyvinylChloride};
    match material {
        Aluminum | PolyvinylChloride => {
            sheet.require("material", text!("{} may not lie in the ground", material), "IFGC 403", false);
            sheet.cure(text!("lay polyethylene with a tracer wire, or coated steel"));
        }
        Polyethylene => {
            let fault = ("tracer", text!("no tracer wire runs with it"));
            let cure = text!("lay a yellow insulated copper wire of 18 AWG along it, both ends above ground");
            parts::demand(sheet, need!(pipe, tracer_wire), fault, cure, "2018 IRC G2415.17.3 (IFGC 404.17.3)");
        }
        CorrugatedStainlessSteel => {
            let fault = ("casing", text!("corrugated tubing lies in the ground without a casing"));
            parts::demand(
                sheet,
                need!(pipe, vented_casing),
                fault,
                text!("lay it in the casing of its maker"),
                "the maker's instructions",
            );
        }
        Other => sheet.lack(Unresolved::at(format!("{}/material", pipe.pointer()))),
        metal => {
            let fault = ("corrosion", text!("nothing keeps the {} from corroding", metal));
            let cure = text!("wrap or coat it from end to end with what is made for the ground");
            parts::demand(sheet, need!(pipe, corrosion_protected), fault, cure, "from memory of IFGC 404.11");
        }
    }
}
