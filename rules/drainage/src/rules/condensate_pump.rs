//! A pump that lifts condensate from a space nobody lives in must stop the equipment when it fails.
//!
//! In an attic or crawl space a dead pump is found by the stain on the ceiling.
//!
//! **How it is measured.** Whether a pump lifts the condensate, where the equipment stands, and whether the pump's failure stops it.
//!
//! **How it is fixed.** The pump's safety switch wired into the equipment's control circuit.

use super::condensate_drain::makes_condensate;
use redtag_rule::prelude::*;

/// Where it is asked for.
const EVERYWHERE: Flag = Flag::new(
    "everywhere",
    false,
    "Whether the interlock is asked for wherever a pump lifts condensate, and not only in attics, crawl spaces and the like.",
    "2018 IRC M1411.4, page 531, speaks of uninhabitable spaces",
);

/// The rule.
pub const RULE: Rule = Rule {
    citations: &[cited("IRC", "2018", "M1411.4")],
    parameters: &[&EVERYWHERE],
    reads: &["/equipment", "/spaces"],
    ..Rule::new("drainage/condensate-pump", "Condensate pumps", check)
};

const WANTED: &str = "whether the failure of its condensate pump stops it";

fn check(inquiry: &Inquiry) -> Vec<Finding> {
    let equipment = need!(inquiry.project(), equipment).every();
    let wet = equipment.iter().filter(|thing| makes_condensate(thing));
    wet.map(|thing| {
        match need!(thing, condensate.pumped) {
            Ok(pumped) if *pumped => thing.sheet(WANTED, |sheet| judge(inquiry, thing, sheet)),
            Ok(_) => thing.not_applicable(text!("no pump lifts its condensate")).done(),
            // A pump that may be there matters where its failure would have to stop the equipment.
            Err(_) if stops(thing) || !hidden(inquiry, thing) => {
                thing.not_applicable(text!("whether a pump lifts its condensate makes no difference here")).done()
            }
            Err(unresolved) => thing.ask(WANTED, || Err(unresolved)),
        }
    })
    .collect()
}

/// Whether the pump's failure is said to stop it.
fn stops(thing: &Equipment) -> bool {
    thing.condensate.as_ref().and_then(|made| made.pump_stops_equipment) == Some(true)
}

/// Whether the interlock is asked for where it stands, or may be.
fn hidden(inquiry: &Inquiry, thing: &Place<Equipment>) -> bool {
    let space = need!(thing, space).and_then(|id| inquiry.space(&id));
    inquiry.value(&EVERYWHERE) || space.map_or(thing.outdoors != Some(true), |space| is_hidden(space.kind))
}

/// A space nobody lives in.
fn is_hidden(kind: SpaceKind) -> bool {
    use SpaceKind as K;
    matches!(kind, K::Attic | K::CrawlSpace | K::Shaft | K::Plenum | K::Pit)
}

fn judge(inquiry: &Inquiry, thing: &Place<Equipment>, sheet: &mut Sheet) -> Lookup<Text> {
    let asked = inquiry.value(&EVERYWHERE) || {
        let space = inquiry.space(&need!(thing, space)?)?;
        sheet.line("place", text!("in {}", space.label()), "");
        is_hidden(space.kind)
    };
    let stops = need!(thing, condensate.pump_stops_equipment);
    if !asked {
        if stops.as_ref().is_ok_and(|stops| !**stops) {
            sheet.advise(text!("nothing stops it when its condensate pump fails"));
        }
        return Ok(text!("the pump stands where it is seen"));
    }
    let stops = stops?;
    let words =
        if *stops { text!("the pump's failure stops it") } else { text!("nothing stops it when its condensate pump fails") };
    if !sheet.require("interlock", words.clone(), "2018 IRC M1411.4", *stops) {
        sheet.cure_at(
            text!("wire the pump's safety switch into its control circuit"),
            &[(stops.pointer().to_owned(), json!(true))],
        );
    }
    Ok(words)
}
