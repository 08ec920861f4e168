//! A conditioned crawl space without vents needs a little air of its own, and may not be the supply plenum of the house.
//!
//! Closed crawl spaces stay dry only when their air moves: 1 cfm for each 50 ft2, supplied with a way back, exhausted, or
//! dried. Blowing all supply air through it spreads what grows there, and is barred in new buildings.
//!
//! **How it is measured.** For each crawl space that is conditioned and not vented: its floor area, what supply registers give it, what
//! its fan takes, or what a dehumidifier there takes out in a day (its condensate), 70 pints for each 1,000 ft2; and a way for air to
//! the rooms.
//!
//! **How it is fixed.** A small register and a transfer grille, an exhaust fan, or a dehumidifier.

use crate::runs;
use redtag_handbook::ducts::{crawl_space_air, dehumidification, sources};
use redtag_rule::prelude::*;
use redtag_rule::ways::{self, Behind};
use uom::si::f64::VolumeRate;

/// Floor for each cfm.
const PER: Quantity<dimensions::Area> =
    Quantity::new("floor_per_cfm", "50 ft2", "Floor of a conditioned crawl space for each cfm of air.", "IRC R408.3");
/// Path.
const PATH: Flag = Flag::new(
    "exhaust_needs_path",
    true,
    "Whether an exhausted crawl space needs a way for air from the rooms as well.",
    "from memory of IRC R408.3 item 2.1",
);
/// Dehumidifier.
const DRIED: Flag =
    Flag::new("dehumidifier_serves", true, "Whether a dehumidifier stands for the air.", "from memory of IRC R408.3 item 2.4");
/// What it takes out.
const PINTS: Number = Number::new(
    "dehumidifier_pints",
    70.0,
    "Pints of water a dehumidifier must take out in a day for each floor of that size.",
    "from memory of IRC R408.3 item 2.4",
)
.within(1.0, 500.0);
/// For which floor.
const PINTS_FLOOR: Quantity<dimensions::Area> = Quantity::new(
    "dehumidifier_floor",
    "1000 ft2",
    "The floor for which it must take out that much.",
    "from memory of IRC R408.3 item 2.4",
)
.within("100 ft2", "10,000 ft2");
/// Plenum.
const PLENUM: Flag = Flag::new(
    "plenum_barred",
    true,
    "Whether a crawl space may not be a supply plenum in a new building.",
    "from memory of IRC M1601.5",
);

/// The rule.
pub const RULE: Rule = Rule {
    citations: &[cited("IRC", "2021", "R408.3"), remembered("IRC", "2021", "M1601.5")],
    parameters: &[&PER, &PATH, &DRIED, &PINTS, &PINTS_FLOOR, &PLENUM],
    reads: &["/spaces", "/ducts", "/exhausts", "/equipment", "/openings", "/building"],
    ..Rule::new("ducts/crawl-space-air", "Air of a conditioned crawl space", check)
};

fn check(inquiry: &Inquiry) -> Vec<Finding> {
    let spaces = need!(inquiry.project(), spaces).every().into_iter().filter(|space| space.kind == SpaceKind::CrawlSpace);
    spaces.filter_map(|space| one(inquiry, &space)).collect()
}

fn one(inquiry: &Inquiry, space: &Place<Space>) -> Option<Finding> {
    if space.conditioned == Some(false) || space.vented_to_outdoors == Some(true) {
        return None;
    }
    Some(space.sheet("whether its air moves", |sheet| judge(inquiry, space, sheet)))
}

fn judge(inquiry: &Inquiry, space: &Place<Space>, sheet: &mut Sheet) -> Lookup<Text> {
    (need!(space, conditioned), need!(space, vented_to_outdoors)).together()?;
    plenum(inquiry, space, sheet);
    let floor = redtag_rule::size::floor_area(space)?;
    let needed = crawl_space_air(floor, inquiry.value(&PER));
    let source = sources::CRAWL.text();
    sheet.line("needed", text!("{} for {} of floor", needed, in_unit(floor, "ft²")), source);
    let dries = |equipment: &Place<Equipment>| {
        equipment.kind == EquipmentKind::Dehumidifier && equipment.space.as_deref() == Some(&space.id)
    };
    let dryer = need!(inquiry.project(), equipment).every().into_iter().find(dries);
    if let (true, Some(dryer)) = (inquiry.value(&DRIED), &dryer) {
        let takes = need!(dryer, condensate.flow)?;
        let asked = dehumidification(floor, inquiry.value(&PINTS), inquiry.value(&PINTS_FLOOR));
        let words =
            text!("{} takes {} out of it, {} is the least", dryer.label(), in_unit(takes.get(), "gph"), in_unit(asked, "gph"));
        if sheet.test("dehumidifier", words.clone(), source, at_least(takes.quantity(), asked)) {
            return Ok(words);
        }
    }
    let (supplied, exhausted) = (supplied(inquiry, space), exhausted(inquiry, space)).together()?;
    let path = path(inquiry, space);
    sheet.line("there", text!("{} supplied, {} exhausted", supplied, exhausted), "");
    if at_least(exhausted, needed) && !inquiry.value(&PATH) {
        return Ok(text!("{} are exhausted from it", exhausted));
    }
    let enough = at_least(exhausted, needed) || at_least(supplied, needed);
    // Where there is too little air it does not matter what a grille is for.
    let path = if enough { path? } else { path.unwrap_or(true) };
    if at_least(exhausted, needed) && path {
        return Ok(text!("{} are exhausted from it", exhausted));
    }
    if at_least(supplied, needed) && path {
        return Ok(text!("{} are supplied to it, with a way back", supplied));
    }
    let words = text!(
        "it needs {} supplied with a way back to the rooms, or exhausted, or a dehumidifier; there are {} and {}, {}",
        needed,
        supplied,
        exhausted,
        if path { "and a way to the rooms" } else { "and no way to the rooms" }
    );
    sheet.require("air", words, source, false);
    sheet.cure(text!("a register of {} and a transfer grille to the rooms, or a fan of {}, or a dehumidifier", needed, needed));
    Ok(Text::default())
}

/// Air that supply registers give a space.
fn supplied(inquiry: &Inquiry, space: &Place<Space>) -> Lookup<VolumeRate> {
    let ducts = runs::of_kinds(inquiry, &[DuctKind::Supply, DuctKind::OutdoorAir]);
    let openings = ducts.iter().flat_map(|duct| need!(duct, openings).every());
    let here = openings.filter(|opening| opening.kind == DuctOpeningKind::Supply && opening.space.as_deref() == Some(&space.id));
    let flows: Vec<Lookup<VolumeRate>> = here.map(|opening| need!(opening, flow).map(|flow| flow.quantity())).collect();
    Ok(flows.together()?.into_iter().fold(VolumeRate::default(), |sum, flow| sum + flow))
}

/// Air that fans take from a space.
fn exhausted(inquiry: &Inquiry, space: &Place<Space>) -> Lookup<VolumeRate> {
    let here =
        need!(inquiry.project(), exhausts).every().into_iter().filter(|exhaust| exhaust.space.as_deref() == Some(&space.id));
    let flows: Vec<Lookup<VolumeRate>> = here.map(|exhaust| need!(exhaust, flow).map(|flow| flow.quantity())).collect();
    Ok(flows.together()?.into_iter().fold(VolumeRate::default(), |sum, flow| sum + flow))
}

/// Whether air can get between a space and a room: through a grille or hole, or a return. One for air to burn is none.
fn path(inquiry: &Inquiry, space: &Place<Space>) -> Lookup<bool> {
    let mut untold = None;
    for way in ways::openings_of(inquiry, space)? {
        let open = matches!(
            way.opening.kind,
            OpeningKind::TransferGrille | OpeningKind::FloorGrille | OpeningKind::Hole | OpeningKind::DuctTerminal
        );
        if !open || way.opening.purpose == Some(OpeningPurpose::CombustionAir) {
            continue;
        }
        let joins = way.leads(|behind| matches!(behind, Behind::Space(_)));
        match joins.and_then(|joins| if joins { need!(way.opening, purpose).map(|_| true) } else { Ok(false) }) {
            Ok(true) => return Ok(true),
            Ok(false) => {}
            Err(unresolved) => untold = Unresolved::joined(untold, unresolved),
        }
    }
    untold.map_or(Ok(false), Err)
}

/// Whether supply air of the house goes through the crawl space.
fn plenum(inquiry: &Inquiry, space: &Place<Space>, sheet: &mut Sheet) {
    let work = need!(inquiry.project(), building.work);
    if !inquiry.value(&PLENUM) || work.as_ref().is_ok_and(|work| **work != Work::NewConstruction) {
        return;
    }
    for duct in runs::of_kinds(inquiry, &[DuctKind::Supply]) {
        match ends_in(&duct, space) {
            Ok(false) => {}
            Err(unresolved) => sheet.lack(unresolved),
            Ok(true) => {
                if sheet.want(work.clone()).is_some() {
                    ends(&duct, sheet);
                }
            }
        }
    }
}

fn ends(duct: &Place<Duct>, sheet: &mut Sheet) {
    sheet.require(
        "plenum",
        text!("the supply duct {} ends in it: a crawl space may not be the supply plenum", duct.id.clone()),
        sources::PLENUM.text(),
        false,
    );
    sheet.related(duct.pointer());
    sheet.cure(text!("run ducts to the rooms"));
}

/// Whether a duct ends in a crawl space: by its end, or nowhere else where it has registers.
fn ends_in(duct: &Place<Duct>, space: &Place<Space>) -> Lookup<bool> {
    let Some(end) = &duct.terminates else {
        return if duct.openings.is_some() { Ok(false) } else { Err(duct.missing("/terminates")) };
    };
    match (&end.space, end.kind) {
        (Some(id), _) => Ok(*id == space.id),
        (None, BeyondKind::Space | BeyondKind::CrawlSpace) => Err(duct.missing("/terminates/space")),
        (None, _) => Ok(false),
    }
}
