//! There must be a way out of the place where somebody works on electrical equipment, and in attics and crawl spaces an
//! opening large enough to get in.
//!
//! From an arc one runs. Where the equipment is large, two ways out, and doors that open by a push of the body.
//!
//! **How it is measured.** At least one door or opening of the room. From 1,200 A and more than 6 ft of width on, an entrance
//! 24 in by 78 in at each end. From 800 A on, doors within 25 ft open outwards and have panic hardware. In a crawl space the
//! opening is 22 in by 30 in at least, above a ceiling or in an attic 22 in by 22 in. A room set aside for batteries is
//! pointed out.
//!
//! **How it is fixed.** Make the opening larger, add a second one, change the door. In a house the large sizes hardly occur.

use crate::gear;
use crate::scene::Scenes;
use redtag_rule::prelude::*;
use redtag_rule::ways;
use uom::si::f64::Length;

/// Large equipment: its rating.
const LARGE: Quantity<dimensions::Current> =
    Quantity::new("large_rating", "1200 A", "Equipment of this rating and more may need two entrances.", "NEC 110.26(C)(2)");
/// Large equipment: its width.
const LARGE_WIDTH: Quantity<dimensions::Length> =
    Quantity::new("large_width", "72 in", "Equipment wider than this may need two entrances.", "NEC 110.26(C)(2)");
/// Doors with panic hardware.
const PANIC: Quantity<dimensions::Current> = Quantity::new(
    "panic_rating",
    "800 A",
    "From this rating on near doors open outwards with panic hardware.",
    "NEC 110.26(C)(3)",
);
/// Opening of a crawl space: the longer side.
const CRAWL: Quantity<dimensions::Length> =
    Quantity::new("crawl_opening_length", "30 in", "Longer side of the opening to a crawl space.", "NEC 110.26(A)(4)");
/// Opening: the shorter side.
const OPENING: Quantity<dimensions::Length> = Quantity::new(
    "opening_width",
    "22 in",
    "Sides of the opening above a ceiling, and shorter side of that to a crawl space.",
    "NEC 110.26(A)(4)",
);

/// The rule.
pub const RULE: Rule = Rule {
    citations: &[cited("NEC", "2020", "110.26(A)(4), (C)"), cited("NEC", "2020", "480.10(E)")],
    parameters: &[&LARGE, &LARGE_WIDTH, &PANIC, &CRAWL, &OPENING],
    reads: &["/spaces", "/openings", "/equipment", "/electrical"],
    ..Rule::new("clearances/electrical-entrance", "Way out of the electrical working space", check)
};

fn check(inquiry: &Inquiry) -> Vec<Finding> {
    let scenes = Scenes::of(inquiry);
    gear::each_indoors(inquiry, gear::is_worked_on, |equipment| {
        equipment.sheet("whether there is a way out", |sheet| judge(inquiry, &scenes, equipment, sheet))
    })
}

fn judge<'a>(inquiry: &Inquiry<'a>, scenes: &Scenes<'a>, equipment: &Place<'a, Equipment>, sheet: &mut Sheet) -> Lookup<Text> {
    let space = &scenes.around(equipment)?.space;
    match space.kind {
        SpaceKind::CrawlSpace => return hatch(inquiry, space, inquiry.value(&CRAWL), sheet),
        SpaceKind::Attic | SpaceKind::Plenum => return hatch(inquiry, space, inquiry.value(&OPENING), sheet),
        SpaceKind::BatteryRoom => {
            let words = "doors of a room set aside for standby batteries open outwards with panic hardware; the authority decides whether this is one";
            sheet.advise(text!("{}", words));
        }
        _ => {}
    }
    let (doors, may_be): (Vec<_>, Vec<_>) =
        ways::openings_of(inquiry, space)?.into_iter().filter(ways::Way::is_passage).partition(|way| way.own.is_some());
    let doors: Vec<Place<Opening>> = doors.into_iter().map(|way| way.opening).collect();
    if doors.is_empty() && space.access.is_none() {
        return Err(Unresolved::because("/openings", format!("the door or opening by which people get into {}", space.label())));
    }
    let rating = gear::rating(inquiry, equipment);
    if let (None, true) = (rating, equipment.kind == EquipmentKind::Panel) {
        // A large one would need doors that open outwards, or a second way out.
        sheet.want(bus_rating(inquiry, equipment));
    }
    if rating.is_some_and(|rating| at_least(rating, inquiry.value(&PANIC))) {
        doors.iter().for_each(|door| panic_hardware(door, space, sheet));
        // A door of which one side is not said may be one of them.
        may_be.into_iter().filter_map(|way| way.behind.err()).for_each(|unsaid| sheet.lack(unsaid));
    }
    if rating.is_some_and(|rating| at_least(rating, inquiry.value(&LARGE))) {
        let width = need!(equipment, placement.width)?;
        if !at_most(width.quantity(), inquiry.value(&LARGE_WIDTH)) && doors.len() < 2 {
            sheet.fault(text!(
                "it is {} wide and its room has one way out; such equipment has one at each end",
                in_unit(&width, "in")
            ));
            sheet.cure(text!("add an entrance 24 in by 78 in at the other end, or leave the working space twice as deep, which the authority may accept"));
        }
    }
    Ok(text!("{} out of its room", if doors.len() == 1 { "one way" } else { "several ways" }))
}

/// Where the rating of a panel would be said.
fn bus_rating(inquiry: &Inquiry, equipment: &Place<Equipment>) -> Lookup<()> {
    if let Some(panel) = gear::panel(inquiry, equipment) {
        return need!(panel, bus_rating).map(|_| ());
    }
    let panels = need!(inquiry.project(), electrical.panels)?;
    let untied = panels.items().filter(|panel| panel.equipment.is_none()).map(|panel| panel.missing("/equipment"));
    let what = format!("what panel {} is: its bus rating", equipment.id);
    Err(untied.reduce(Unresolved::and).unwrap_or_else(|| Unresolved::because(panels.pointer(), what)))
}

fn panic_hardware(opening: &Place<Opening>, space: &Place<Space>, sheet: &mut Sheet) {
    if opening.kind != OpeningKind::Door {
        return;
    }
    if let Some(into) = sheet.want(need!(opening, door.swings_into))
        && *into.get() == space.get().id
    {
        sheet.fault(text!("{} opens into the room, not outwards", opening.label()));
        sheet.related(opening.pointer());
    }
    if let Some(fitted) = sheet.want(need!(opening, door.panic_hardware))
        && !*fitted
    {
        sheet.fault(text!("{} has no panic hardware", opening.label()));
        sheet.cure_at(text!("fit listed panic hardware"), &[(fitted.pointer().to_owned(), json!(true))]);
    }
}

fn hatch(inquiry: &Inquiry, space: &Place<Space>, longer: Length, sheet: &mut Sheet) -> Lookup<Text> {
    let shorter = inquiry.value(&OPENING);
    let (width, length) = (need!(space, access.opening_width), need!(space, access.opening_length)).together()?;
    let (least, most) =
        if width.si() <= length.si() { (width.quantity(), length.quantity()) } else { (length.quantity(), width.quantity()) };
    let words = text!(
        "its opening is {} by {}, {} by {} is the least",
        in_unit(least, "in"),
        in_unit(most, "in"),
        in_unit(shorter, "in"),
        in_unit(longer, "in")
    );
    if !sheet.test("opening", words.clone(), "NEC 110.26(A)(4)", at_least(least, shorter) && at_least(most, longer)) {
        sheet.fault(words);
        sheet.cure(text!("make the opening {} by {}", in_unit(shorter, "in"), in_unit(longer, "in")));
    }
    Ok(text!("the opening is {} by {}", in_unit(least, "in"), in_unit(most, "in")))
}
