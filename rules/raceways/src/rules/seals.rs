//! Where a raceway passes from warm to cold, or out of the ground, its ends are sealed; a spare one is capped.
//!
//! Warm moist air moves through a conduit like through a chimney, and its water runs into the panel. Into an open end come
//! mice, water and, from a garage or crawl space, gas.
//!
//! **How it is measured.** Ends in spaces that are heated and spaces that are not, on the roof or outdoors: such a raceway is
//! sealed at one end at least. A spare one is capped at both. A raceway that holds conductors of 4 AWG or larger has an insulating
//! bushing at each enclosure.
//!
//! **How it is fixed.** Sealant listed for raceways, caps, bushings.

use crate::inside;
use redtag_handbook::raceway as trade;
use redtag_rule::prelude::*;

/// Bushings.
const BUSHING_SIZE: Choice = Choice::new(
    "bushing_from_size",
    "4 AWG",
    &["8 AWG", "6 AWG", "4 AWG", "2 AWG"],
    "The conductor size from which on an insulating bushing is needed.",
    "NEC 300.4(G) of 2023",
);
/// Caps.
const CAPS: Flag = Flag::new(
    "spare_ends_capped",
    true,
    "Whether the ends of a spare raceway must be capped or sealed.",
    "NEC 300.5(G) for raceways from the ground; elsewhere common practice",
);

/// The rule.
pub const RULE: Rule = Rule {
    citations: &[cited("NEC", "2020", "300.7(A)"), cited("NEC", "2020", "300.5(G)"), cited("NEC", "2020", "300.4(G)")],
    parameters: &[&BUSHING_SIZE, &CAPS],
    stages: &[Stage::RoughIn, Stage::Final],
    reads: &["/raceways", "/spaces"],
    ..Rule::new("raceways/seals", "Seals, caps and bushings", check)
};

const WANTED: &str = "whether its ends are closed as they must be";

fn check(inquiry: &Inquiry) -> Vec<Finding> {
    inside::every(inquiry)
        .iter()
        .map(|raceway| match raceway.kind {
            RacewayKind::Sleeve | RacewayKind::MetalCladCable => raceway.not_applicable(text!("no raceway with ends")).done(),
            _ => raceway.sheet(WANTED, |sheet| judge(inquiry, raceway, sheet)),
        })
        .collect()
}

fn judge<'a>(inquiry: &Inquiry<'a>, raceway: &Place<'a, Raceway>, sheet: &mut Sheet) -> Lookup<Text> {
    let ends: Vec<(&str, Place<RacewayEnd>)> = [("from", need!(raceway, from)), ("to", need!(raceway, to))]
        .into_iter()
        .filter_map(|(name, end)| sheet.want(end).map(|end| (name, end)))
        .collect();
    let warm: Vec<Option<bool>> = ends.iter().map(|(_, end)| sheet.want(heated(inquiry, end))).collect();
    if warm.len() == 2 && warm.contains(&Some(true)) && warm.contains(&Some(false)) {
        between_temperatures(&ends, sheet);
    }
    if raceway.spare.is_none() && inquiry.value(&CAPS) && raceway.conductors.as_ref().is_some_and(Vec::is_empty) {
        sheet.lack(raceway.missing("/spare"));
    }
    if raceway.spare == Some(true) && inquiry.value(&CAPS) {
        for (name, end) in &ends {
            // What ends in a panel is closed by it.
            if end.at.is_none() {
                closed(name, end, sheet);
            }
        }
    }
    bushings(inquiry, raceway, &ends, sheet)?;
    Ok(text!("its ends are closed as they must be"))
}

/// Whether an end lies in heated space.
fn heated<'a>(inquiry: &Inquiry<'a>, end: &Place<'a, RacewayEnd>) -> Lookup<bool> {
    if end.on_roof == Some(true) || end.outdoors == Some(true) {
        return Ok(false);
    }
    let space = inquiry.space(&need!(end, space)?)?;
    need!(space, conditioned).map(|conditioned| *conditioned)
}

fn between_temperatures(ends: &[(&str, Place<RacewayEnd>)], sheet: &mut Sheet) {
    if ends.iter().any(|(_, end)| end.sealed == Some(true)) {
        sheet.test("seal", text!("sealed between warm and cold"), "NEC 300.7(A)", true);
        return;
    }
    let unknown: Vec<_> = ends.iter().filter(|(_, end)| end.sealed.is_none()).collect();
    if let Some((_, end)) = unknown.first() {
        sheet.lack(end.missing("/sealed"));
        return;
    }
    sheet.require("seal", text!("runs from warm to cold and is sealed at neither end"), "NEC 300.7(A)", false);
    if let Some((_, end)) = ends.first() {
        let pointer = format!("{}/sealed", end.pointer());
        sheet.cure_at(text!("seal it with sealant listed for raceways"), &[(pointer, json!(true))]);
    }
}

/// A spare end is capped or sealed.
fn closed(name: &str, end: &Place<RacewayEnd>, sheet: &mut Sheet) {
    match (end.capped, end.sealed) {
        (Some(true), _) | (_, Some(true)) => {}
        (None, _) => sheet.lack(end.missing("/capped")),
        (Some(false), _) => {
            sheet.require("cap", text!("spare, and open at its `{}` end", name), "NEC 300.5(G); common practice", false);
            sheet.cure_at(text!("cap it"), &[(format!("{}/capped", end.pointer()), json!(true))]);
        }
    }
}

fn bushings(inquiry: &Inquiry, raceway: &Place<Raceway>, ends: &[(&str, Place<RacewayEnd>)], sheet: &mut Sheet) -> Lookup<()> {
    let least = trade::rank(inquiry.value(&BUSHING_SIZE));
    let conductors = need!(raceway, conductors).every();
    let thick = |one: &Place<RacewayConductor>| {
        let insulated = one.insulation.as_deref().is_none_or(|marking| !marking.eq_ignore_ascii_case("bare"));
        insulated && one.size.as_deref().is_some_and(|size| trade::rank(size).is_none_or(|rank| Some(rank) >= least))
    };
    if !conductors.iter().any(thick) {
        return Ok(());
    }
    for (name, end) in ends {
        // What ends in no enclosure that is told may end in one.
        if sheet.want(need!(end, at)).is_none() {
            continue;
        }
        let Some(bushing) = sheet.want(need!(end, bushing)) else { continue };
        let words =
            text!("conductors of {} or larger, no insulating bushing at its `{}` end", inquiry.value(&BUSHING_SIZE), *name);
        if !*bushing {
            sheet.require("bushing", words, "NEC 300.4(G)", false);
            sheet.cure_at(text!("put an insulating bushing on"), &[(bushing.pointer().to_owned(), json!(true))]);
        }
    }
    Ok(())
}
