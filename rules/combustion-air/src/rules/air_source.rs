//! An attic or crawl space that supplies air to burn must itself be open to outdoors, and nothing may draw on it.
//!
//! A sealed attic or an encapsulated crawl space is indoors, however cold it is: burners that draw on it draw on the house. A
//! powered attic ventilator pulls the burners' gases back down the vent. Air that carries solvents, bleach, chlorine or
//! refrigerant eats heat exchangers through.
//!
//! **How it is measured.** For every attic or crawl space that an opening, a duct or an appliance's own pipe for air to burn
//! leads to, or that a burner stands in: whether it is vented to outdoors, whether a fan ventilates it, whether snow can block
//! its vents. For every room that burners take air from: what hangs in its air.
//!
//! **How it is fixed.** Take the air from outdoors instead, vent the attic or crawl space, remove the powered ventilator.

use crate::air_space::burners;
use crate::appliances::brings_own_air;
use redtag_rule::prelude::*;
use redtag_rule::ways;
use std::collections::BTreeSet;

/// Clear height of an attic used as the source.
const ATTIC_HEIGHT: Quantity<dimensions::Length> = Quantity::new(
    "attic_least_clear_height",
    "0 in",
    "Least clear height of an attic that supplies air; 0 for none. One city's code asks for 30 in.",
    "no figure in the model code; a city's mechanical code: 30 in",
);

/// The rule.
pub const RULE: Rule = Rule {
    citations: &[
        cited("IRC", "2021", "G2407.6"),
        remembered("IRC", "2021", "G2407.12"),
        cited("IFGC", "2021", "304.6"),
        remembered("IFGC", "2021", "304.12"),
    ],
    parameters: &[&ATTIC_HEIGHT],
    reads: &["/spaces", "/openings", "/ducts", "/equipment", "/vents"],
    ..Rule::new("combustion-air/air-source", "Where the air comes from", check)
};

fn check(inquiry: &Inquiry) -> Vec<Finding> {
    let project = inquiry.project();
    let Ok(spaces) = need!(project, spaces) else { return Vec::new() };
    let sources = sources(inquiry);
    let breathed: BTreeSet<&str> = burners(inquiry).iter().filter_map(|appliance| room_of(appliance)).collect();
    let mut findings: Vec<Finding> = burners(inquiry).iter().filter_map(|appliance| unnamed_source(inquiry, appliance)).collect();
    let for_air = |opening: &Place<Opening>| opening.purpose == Some(OpeningPurpose::CombustionAir) && opening.duct.is_none();
    let nowhere = need!(project, openings).every().into_iter().filter(for_air).filter(|opening| opening.beyond.is_none());
    findings.extend(nowhere.map(|opening| opening.ask("where its air comes from", || Err(opening.missing("/beyond")))));
    for space in spaces.items() {
        if sources.contains(space.get().id.as_str()) {
            findings.push(space.ask("whether it is outdoors for this purpose", || judge(inquiry, &space)));
        } else if breathed.contains(space.get().id.as_str())
            && let Some(finding) = contaminated(&space)
        {
            findings.push(finding);
        }
    }
    findings
}

/// The room an appliance takes its air from; none for one that brings its own.
fn room_of<'a>(appliance: &Place<'a, Equipment>) -> Option<&'a str> {
    if brings_own_air(appliance) { None } else { appliance.get().space.as_deref() }
}

/// The kind of space an appliance draws its air from through a pipe of its own.
fn drawn_from(appliance: &Equipment) -> Option<SpaceKind> {
    match appliance.fuel_burning.as_ref()?.combustion_air? {
        AirSource::Attic => Some(SpaceKind::Attic),
        AirSource::CrawlSpace => Some(SpaceKind::CrawlSpace),
        _ => None,
    }
}

/// The spaces an appliance's own pipe may draw on: the one its vent's intake names, else all of that kind.
fn own_sources<'a>(project: &'a Project, appliance: &Equipment) -> Vec<&'a str> {
    let Some(kind) = drawn_from(appliance) else { return Vec::new() };
    let serves = |vent: &&Vent| vent.equipment.iter().flatten().any(|id| *id == appliance.id);
    let vents = project.vents.iter().flatten().filter(serves);
    let named = vents.filter_map(|vent| vent.intake.as_ref()?.beyond.as_ref()?.space.as_deref()).collect::<Vec<_>>();
    if !named.is_empty() {
        return named;
    }
    project.spaces.iter().flatten().filter(|space| space.kind == kind).map(|space| space.id.as_str()).collect()
}

/// An appliance that draws on an attic or crawl space the project does not describe.
fn unnamed_source(inquiry: &Inquiry, appliance: &Place<Equipment>) -> Option<Finding> {
    let kind = drawn_from(appliance)?;
    if !own_sources(inquiry.project().get(), appliance).is_empty() {
        return None;
    }
    let what = format!("the {} this appliance takes its air from, and how it is vented", kind.word().replace('-', " "));
    Some(
        appliance
            .ask("whether its air comes from a space that is as good as outdoors", || Err(Unresolved::because("/spaces", what))),
    )
}

/// The attics and crawl spaces that openings, ducts and appliances' own pipes for air to burn lead to, and those that burners
/// stand in.
fn sources<'a>(inquiry: &Inquiry<'a>) -> BTreeSet<&'a str> {
    let project = inquiry.project().get();
    let by_opening = project.openings.iter().flatten().filter(|opening| opening.purpose == Some(OpeningPurpose::CombustionAir));
    let by_duct = project.ducts.iter().flatten().filter(|duct| duct.kind == DuctKind::CombustionAir);
    let ends = by_opening.filter_map(|o| o.beyond.as_ref()).chain(by_duct.filter_map(|duct| duct.terminates.as_ref()));
    let own = project.equipment.iter().flatten();
    let burners = burners(inquiry);
    let standing = burners.iter().filter(|one| !brings_own_air(one)).filter_map(|one| one.get().space.as_deref());
    let named: BTreeSet<&str> = ends
        .filter_map(|end| end.space.as_deref())
        .chain(own.flat_map(|one| own_sources(project, one)))
        .chain(standing)
        .collect();
    let attic = |space: &&'a Space| crate::rooms::is_source(space);
    project.spaces.iter().flatten().filter(attic).map(|space| space.id.as_str()).filter(|id| named.contains(id)).collect()
}

fn judge(inquiry: &Inquiry, space: &Place<Space>) -> Lookup<FindingBuilder> {
    let mut faults = Vec::new();
    let vented = need!(space, vented_to_outdoors);
    if matches!(&vented, Ok(vented) if !**vented) {
        faults.push(text!("{} is not vented to outdoors, so it is no source of outdoor air", space.label()));
    }
    if space.power_ventilated == Some(true) {
        faults.push(text!("a fan ventilates {} and draws on the burners' air", space.label()));
    }
    let least = inquiry.value(&ATTIC_HEIGHT);
    let height = match space.kind {
        SpaceKind::Attic if least.value > 0.0 => need!(space, minimum_clear_height).map(Some),
        _ => Ok(None),
    };
    if let Ok(Some(height)) = &height
        && !at_least(height.quantity(), least)
    {
        faults.push(text!("it is {} high at its lowest, {} is the least", height, in_unit(least, "in")));
    }
    if !faults.is_empty() {
        let builder =
            space.correction(Text::list(&faults)).remedy(text!("take the combustion air from outdoors by ducts of its own"));
        let vent = text!("open it to outdoors by permanent vents and take any powered ventilator out");
        return Ok(builder.remedy(vent));
    }
    let attic_fan = match space.kind {
        SpaceKind::Attic => need!(space, power_ventilated).map(|_| ()),
        _ => Ok(()),
    };
    (vented.map(|_| ()), attic_fan, height).together()?;
    if space.vents_can_be_blocked == Some(true) {
        return Ok(space.advice(text!("snow or ice can block the vents of {}", space.label())));
    }
    Ok(space.complies(text!("{} is vented to outdoors and no fan draws on it", space.label())))
}

fn contaminated(space: &Place<Space>) -> Option<Finding> {
    let found = match need!(space, contaminants) {
        Ok(found) if !found.is_empty() => found,
        // What opens to a room decides what its burners breathe: one more door, and it may be a bedroom's.
        found => {
            let told = (found, ways::all_openings_told(space)).together().map(|_| ());
            return told.err().map(|unsaid| space.ask("whether burners may take its air", || Err(unsaid)));
        }
    };
    let barred =
        |one: &&Contaminant| matches!(one, Contaminant::FlammableVapor | Contaminant::CombustibleDust | Contaminant::Refrigerant);
    let words = |list: Vec<&Contaminant>| list.iter().map(|one| one.to_string()).collect::<Vec<_>>().join(", ");
    let source = "from memory of IFGC 304.12; appliance manuals ask for outdoor air near chemicals";
    let dangerous: Vec<&Contaminant> = found.iter().filter(barred).collect();
    let builder = if dangerous.is_empty() {
        let summary = text!("{} in its air: appliance instructions ask for outdoor air there", words(found.iter().collect()));
        space.advice(summary)
    } else {
        let summary = text!("burners may not take air with {} in it", words(dangerous));
        space.correction(summary).remedy(text!("move the burners, or give them outdoor air by sealed pipes"))
    };
    Some(builder.step("air of the room", text!("{}", words(found.iter().collect())), source).done())
}
