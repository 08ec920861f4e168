//! Batteries may stand only in a few kinds of places: garages, accessory structures, outdoors, and utility, storage and
//! basement spaces of the dwelling. Never where people live or sleep, nor in a closet that opens into a bedroom.
//!
//! A battery that fails gives off smoke and gas within seconds. Where somebody sleeps, or must pass to get out, that kills.
//!
//! **How it is measured.** The kind of the space each unit stands in, whether it is habitable (basements may be), and what its doors
//! and other openings lead to; a room whose way in is not described, or leads nobody says where, is asked about. An attached garage
//! must be separated from the dwelling; utility and storage spaces must be finished or made of what does not burn: the rules on
//! separation and on the finish of walls look at that wall by wall. Systems under 1 kWh, and listed units marked for habitable
//! space, are exempt. A battery that belongs to no system is held to its place all the same.
//!
//! **How it is fixed.** Move it: to the garage, outdoors, or to a utility room whose door leads to a hall.

use crate::place;
use crate::units;
use redtag_rule::prelude::*;

/// Kinds of spaces that count as the utility, storage and basement spaces of the model code.
const SPACES: Choices = Choices::new(
    "spaces_allowed",
    &[
        "utility-room",
        "mechanical-room",
        "furnace-room",
        "boiler-room",
        "electrical-room",
        "battery-room",
        "equipment-closet",
        "storage-room",
        "storage-closet",
        "under-stairs",
        "basement",
        "workshop",
        "laundry-room",
    ],
    &[
        "utility-room",
        "mechanical-room",
        "furnace-room",
        "boiler-room",
        "electrical-room",
        "battery-room",
        "equipment-closet",
        "storage-room",
        "storage-closet",
        "under-stairs",
        "basement",
        "workshop",
        "laundry-room",
        "office",
        "corridor",
        "crawl-space",
        "attic",
    ],
    "The kinds of spaces inside the dwelling that count as utility closets, basements, storage or utility spaces.",
    "IRC R328.4; which kinds of rooms those are is common practice",
);
/// Detached ones.
const ACCESSORY: Flag = Flag::new(
    "garages_allowed",
    true,
    "Whether garages and accessory structures are places for batteries.",
    "IRC R328.4, items 1 and 2",
);

/// The rule.
pub const RULE: Rule = Rule {
    citations: &[cited("IRC", "2021", "R328.4"), cited("NFPA 855", "2023", "15.5")],
    parameters: &[&SPACES, &ACCESSORY],
    reads: &["/spaces", "/openings", "/equipment", "/electrical/storage"],
    ..Rule::new("energy-storage/location", "Places for batteries", check)
};

const WANTED: &str = "whether it may stand here";

fn check(inquiry: &Inquiry) -> Vec<Finding> {
    let mut findings =
        units::each(inquiry, WANTED, |unit| unit.unit.sheet(WANTED, |sheet| judge(inquiry, place::of(inquiry, unit), sheet)));
    // Where it may stand does not hang on its papers.
    let strays = units::strays(inquiry).into_iter();
    findings.extend(strays.map(|one| one.sheet(WANTED, |sheet| judge(inquiry, place::of_equipment(inquiry, &one), sheet))));
    findings
}

fn judge<'a>(inquiry: &Inquiry<'a>, standing: Lookup<place::Standing<'a>>, sheet: &mut Sheet) -> Lookup<Text> {
    let standing = standing?;
    let Some(space) = standing.space else {
        return Ok(text!("stands outdoors"));
    };
    let words = text!("stands in {}", space.label());
    let garage = matches!(standing.class, place::Class::AttachedGarage | place::Class::Detached);
    let kind_allowed = if garage { inquiry.value(&ACCESSORY) } else { inquiry.value(&SPACES).contains(&space.kind.word()) };
    let not_allowed = text!("{}: {} is no place for batteries", words, space.kind);
    let said = if kind_allowed { words.clone() } else { not_allowed };
    if !sheet.require("kind of space", said, "IRC R328.4", kind_allowed) {
        elsewhere(&space, sheet);
        return Ok(words);
    }
    if garage {
        return Ok(words);
    }
    // A basement is named without regard to how it is used.
    if space.kind != SpaceKind::Basement
        && let Some(habitable) = sheet.want(need!(space, habitable))
    {
        let said = if *habitable { text!("{} is habitable", space.label()) } else { text!("not habitable") };
        if !sheet.require("habitable", said, "IRC R328.4", !*habitable) {
            elsewhere(&space, sheet);
        }
    }
    bedrooms(inquiry, &space, sheet)?;
    Ok(words)
}

/// Whether the space opens into a sleeping room.
fn bedrooms<'a>(inquiry: &Inquiry<'a>, space: &Place<'a, Space>, sheet: &mut Sheet) -> Lookup<()> {
    let openings = need!(inquiry.project(), openings)?;
    let mut ways_in = 0;
    for opening in openings.items() {
        let passage = matches!(opening.kind, OpeningKind::Door | OpeningKind::DoorlessOpening | OpeningKind::Hatch);
        let beyond = opening.beyond.as_ref();
        let there = beyond.and_then(|beyond| beyond.space.as_deref());
        let own = opening.space.as_deref();
        let other = match (own == Some(&space.id), there == Some(&space.id)) {
            (true, _) => other_side(&opening),
            (_, true) => need!(opening, space).map(|own| Some(own.get().clone())),
            // A door that says of one side only that it is another room may lead here.
            _ if passage && own.is_none() => Err(opening.missing("/space")),
            _ => continue,
        };
        ways_in += u32::from(passage);
        let Some(Some(other)) = sheet.want(other) else { continue };
        let sleeping = need!(inquiry.project(), spaces).every().into_iter().find(|room| room.id == other);
        if sleeping.is_some_and(|room| room.kind == SpaceKind::SleepingRoom) {
            sheet.related(opening.pointer());
            sheet.test("way out", text!("{} leads to a sleeping room", opening.label()), "IRC R328.4", false);
            sheet.fault(text!("{} opens into the sleeping room {}", space.label(), other));
            elsewhere(space, sheet);
        }
    }
    if ways_in == 0 {
        let wanted = format!("the door or other way into {}, and the space it leads to", space.label());
        return Err(Unresolved::because(openings.pointer(), wanted));
    }
    Ok(())
}

/// The space on the other side of an opening; none where it is no room.
fn other_side(opening: &Place<Opening>) -> Lookup<Option<String>> {
    let beyond = need!(opening, beyond)?;
    if let Some(space) = &beyond.space {
        return Ok(Some(space.clone()));
    }
    use BeyondKind as B;
    match beyond.kind {
        B::Outdoors | B::Ground | B::Garage | B::Attic | B::CrawlSpace | B::Shaft => Ok(None),
        _ => Err(beyond.missing("/space")),
    }
}

fn elsewhere(space: &Place<Space>, sheet: &mut Sheet) {
    sheet.related(space.pointer());
    sheet.cure(text!(
        "move it to a garage separated from the dwelling, outdoors 3 ft from doors and windows, or to a finished utility room \
         that does not open into a sleeping room"
    ));
}
