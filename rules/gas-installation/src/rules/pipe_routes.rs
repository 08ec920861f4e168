//! Gas pipe keeps out of ducts, chimneys, vents, shafts and other people's dwellings; outdoors it stays off the ground and
//! the roof; under a building or in a solid floor it lies in a casing.
//!
//! A leak in a duct is blown through the house; one in a shaft reaches every story.
//!
//! **How it is measured.** By where each pipe runs, and the spaces it goes through. Outdoors: 3 1/2 in above ground or roof
//! at least. Under a building or in a solid floor: a casing sealed indoors and open to the outdoors, or a covered channel.
//!
//! **How it is fixed.** The pipe moved, or lifted on blocks, or sleeved; the pressure test again.

use crate::{marks, parts};
use redtag_rule::prelude::*;

const SOURCE: &str = "IRC G2415.3 (IFGC 404.3)";
const PROHIBITED: Choices = Choices::new(
    "prohibited",
    &["in-duct", "in-chimney", "in-shaft", "through-other-unit"],
    &["in-duct", "in-chimney", "in-shaft", "through-other-unit", "through-battery-room", "in-solid-floor", "concealed"],
    "Places where gas pipe may not run.",
    "IRC G2415.3 (IFGC 404.3)",
);
const ABOVE: Quantity<dimensions::Length> = Quantity::new(
    "least_above_grade",
    "3.5 in",
    "Least height of outdoor pipe above the ground or the roof.",
    "IRC G2415.9 (IFGC 404.9); 2015 residential gas checklist",
)
.within("0 in", "24 in");

/// The rule.
pub const RULE: Rule = Rule {
    citations: &[cited("IRC", "2015", "G2415.3"), cited("IFGC", "2015", "404.3"), remembered("IRC", "2021", "G2415.6")],
    parameters: &[&PROHIBITED, &ABOVE],
    reads: &["/spaces", "/building", "/gas"],
    ..Rule::new("gas-installation/pipe-routes", "Where gas pipe may run", check)
};

const WANTED: &str = "whether gas pipe may run there";

fn check(inquiry: &Inquiry) -> Vec<Finding> {
    parts::each_pipe(inquiry, |pipe| crate::named::sheet(pipe, WANTED, |sheet| judge(inquiry, pipe, sheet)))
}

fn judge(inquiry: &Inquiry, pipe: &Place<GasSegment>, sheet: &mut Sheet) -> Lookup<Text> {
    let prohibited = inquiry.value(&PROHIBITED);
    let routes = need!(pipe, routes)?;
    if routes.is_empty() {
        sheet.lack(Unresolved::at(routes.pointer()));
    }
    for route in routes.iter() {
        match route {
            GasPipeRoute::Unrecognised => sheet.lack(Unresolved::at(routes.pointer())),
            GasPipeRoute::ThroughOtherUnit if prohibited.contains(&route.word()) => other_unit(inquiry, sheet),
            route if prohibited.contains(&route.word()) => barred(&text!("it runs {}", *route), sheet),
            GasPipeRoute::UnderBuilding if hangs_in_crawl_space(inquiry, pipe) => {
                sheet.line("route", text!("it hangs in a crawl space, above the ground"), SOURCE);
            }
            GasPipeRoute::InSolidFloor | GasPipeRoute::UnderBuilding => casing(pipe, *route, sheet),
            _ => {}
        }
    }
    let open_air = |route: &GasPipeRoute| matches!(route, GasPipeRoute::Outdoors | GasPipeRoute::Underground);
    let spaces = need!(pipe, spaces);
    if !routes.iter().all(open_air) {
        sheet.want(spaces.clone());
    }
    for id in spaces.into_iter().flat_map(|spaces| spaces.items()) {
        if let Some(space) = sheet.want(inquiry.space(&id)).filter(|space| space.kind == SpaceKind::Plenum) {
            sheet.related(space.pointer());
            barred(&text!("it runs through {}", space.label()), sheet);
        }
    }
    if parts::runs(pipe, GasPipeRoute::Outdoors) {
        let lift = |least| text!("lift it to {} on blocks made for it", least);
        let height = ("its height above ground or roof", "in");
        parts::no_less(sheet, need!(pipe, above_grade), inquiry.value(&ABOVE), height, lift, "IRC G2415.9 (IFGC 404.9)");
    }
    if !sheet.sound() {
        marks::pipe(sheet, pipe, "gas pipe");
    }
    Ok(text!("nothing forbids where it runs"))
}

/// Whether it runs through a crawl space with no earth over it: then it is under the building, and not in the ground.
fn hangs_in_crawl_space(inquiry: &Inquiry, pipe: &Place<GasSegment>) -> bool {
    let buried = pipe.burial_depth.is_some() || parts::runs(pipe, GasPipeRoute::Underground);
    let mut spaces = need!(pipe, spaces).into_iter().flat_map(|spaces| spaces.items());
    let crawl = |id: Place<String>| inquiry.space(&id).is_ok_and(|space| space.kind == SpaceKind::CrawlSpace);
    !buried && spaces.any(crawl)
}

fn barred(words: &Text, sheet: &mut Sheet) {
    sheet.require("route", words.clone(), SOURCE, false);
    sheet.cure(text!("run it another way"));
}

/// Between townhouses only.
fn other_unit(inquiry: &Inquiry, sheet: &mut Sheet) {
    let Some(occupancy) = sheet.want(need!(inquiry.project(), building.occupancy)) else { return };
    let townhouse = *occupancy == Occupancy::Townhouse;
    let words = text!("it runs through another unit of a {}", *occupancy);
    match townhouse {
        true => barred(&words, sheet),
        false => sheet.line("route", words, SOURCE),
    }
}

fn casing(pipe: &Place<GasSegment>, route: GasPipeRoute, sheet: &mut Sheet) {
    let fault = ("casing", text!("it runs {} without a casing or covered channel", route));
    let cure = text!("lay it in a casing that is sealed indoors and open to the outdoors");
    parts::demand(sheet, need!(pipe, vented_casing), fault, cure, "from memory of IFGC 404.8 and 404.14");
}
