//! Where fuel burns in a house, an alarm wakes people before carbon monoxide kills them in their sleep.
//!
//! Carbon monoxide has no smell. It comes from a vent that spills, a burner that starves, a car left running in a garage.
//!
//! **How it is measured.** In a dwelling with an appliance that burns fuel, a fireplace or stove, or a garage that opens into it: an
//! alarm outside every sleeping room, and one inside where the appliance stands in that room or in the bath that opens into it. In
//! a new building alarms sound together and are wired, with a battery behind them.
//!
//! **How it is fixed.** Alarms where they are missing, of a listed kind, set as their instructions say.

use crate::garage::is_garage;
use redtag_rule::prelude::*;
use redtag_rule::ways::{self, Behind};

/// Interconnection.
const TOGETHER: Choice = Choice::new(
    "interconnected",
    "new-buildings",
    &["never", "new-buildings", "always"],
    "Where several carbon monoxide alarms must sound together.",
    "from memory of IRC R315.5",
);
/// Wiring.
const WIRED: Choice = Choice::new(
    "wired",
    "new-buildings",
    &["never", "new-buildings", "always"],
    "Where carbon monoxide alarms must have the building's wiring with a battery behind it.",
    "from memory of IRC R315.6",
);
/// Garages.
const GARAGE: Flag = Flag::new(
    "attached_garages_count",
    true,
    "Whether an attached garage that opens into the dwelling asks for alarms by itself.",
    "IRC R315.2.1",
);
/// Every story.
const STORY: Flag = Flag::new(
    "every_story",
    false,
    "Whether every story with a sleeping room below or on it needs an alarm of its own.",
    "no rule of the model code; Massachusetts 248 CMR 5.08 has alarms on each level",
);

/// The rule.
pub const RULE: Rule = Rule {
    citations: &[cited("IRC", "2021", "R315.3"), cited("IRC", "2021", "R315.2"), remembered("IRC", "2021", "R315.5")],
    parameters: &[&TOGETHER, &WIRED, &GARAGE, &STORY],
    reads: &["/building", "/spaces", "/openings", "/equipment", "/exhausts"],
    ..Rule::new("appliance-safety/carbon-monoxide-alarms", "Carbon monoxide alarms", check)
};

fn check(inquiry: &Inquiry) -> Vec<Finding> {
    let spaces = need!(inquiry.project(), spaces).every();
    let why = reason(inquiry);
    let rooms = spaces.iter().filter(|space| space.kind == SpaceKind::SleepingRoom);
    rooms.map(|room| one(inquiry, room, &why)).collect()
}

fn one(inquiry: &Inquiry, room: &Place<Space>, why: &Lookup<Option<String>>) -> Finding {
    match why {
        Err(unresolved) => room.ask("whether anything burns fuel", || Err(unresolved.clone())),
        Ok(None) => room.not_applicable(text!("nothing burns fuel in the dwelling")).done(),
        Ok(Some(why)) => {
            room.sheet("whether a carbon monoxide alarm wakes who sleeps there", |sheet| judge(inquiry, sheet, room, why))
        }
    }
}

/// What asks for alarms.
fn reason(inquiry: &Inquiry) -> Lookup<Option<String>> {
    let equipment = need!(inquiry.project(), equipment)?;
    let indoors: Vec<_> = equipment.items().filter(|item| item.outdoors != Some(true)).collect();
    if let Some(appliance) = indoors.iter().find(|item| kinds::burns(item) == Ok(true)) {
        return Ok(Some(appliance.label()));
    }
    let hearths = need!(inquiry.project(), exhausts).every();
    if let Some(hearth) = hearths.iter().find(|item| matches!(item.kind, ExhaustKind::Fireplace | ExhaustKind::Stove)) {
        return Ok(Some(hearth.label()));
    }
    let spaces = need!(inquiry.project(), spaces).every();
    let attached = spaces.iter().find(|space| space.kind == SpaceKind::AttachedGarage);
    match attached {
        Some(garage) if inquiry.value(&GARAGE) && opens_into_dwelling(inquiry, garage)? => Ok(Some(garage.label())),
        _ => indoors.iter().map(kinds::burns).collect::<Vec<_>>().together().map(|_| None),
    }
}

fn opens_into_dwelling(inquiry: &Inquiry, garage: &Place<Space>) -> Lookup<bool> {
    leads_to(inquiry, garage, |behind| match behind {
        Behind::Space(space) => !is_garage(space.kind),
        Behind::Elsewhere(kind) => matches!(kind, BeyondKind::Conditioned | BeyondKind::DwellingUnit),
    })
}

fn detects(alarm: &Alarm) -> bool {
    matches!(alarm.kind, AlarmKind::CarbonMonoxide | AlarmKind::SmokeAndCarbonMonoxide)
}

fn judge(inquiry: &Inquiry, sheet: &mut Sheet, room: &Place<Space>, why: &str) -> Lookup<Text> {
    let alarms = need!(inquiry.project(), building.alarms)?;
    let ours: Vec<Place<Alarm>> = alarms.items().filter(|alarm| detects(alarm)).collect();
    let source = "IRC R315.3";
    sheet.line("because of", text!("{}", why), "IRC R315.2");
    let outside: Vec<&Place<Alarm>> =
        ours.iter().filter(|alarm| alarm.outside_sleeping_rooms.as_ref().is_some_and(|rooms| rooms.contains(&room.id))).collect();
    // Where no alarm says outside which rooms it hangs, it was not asked; where one does, silence means none.
    let silent = ours.iter().all(|alarm| alarm.outside_sleeping_rooms.is_none());
    if let (true, Some(first)) = (silent, ours.iter().find(|alarm| alarm.space.as_ref() != Some(&room.id))) {
        return Err(first.missing("/outside_sleeping_rooms"));
    }
    let (outside, elsewhere): (Vec<_>, Vec<_>) =
        outside.into_iter().partition(|alarm| same_story(inquiry, alarm, room) != Some(false));
    for alarm in &elsewhere {
        sheet.related(alarm.pointer());
        sheet.line("another story", text!("{} hangs on another story than it", alarm.id.as_str()), source);
    }
    for alarm in outside.iter().filter(|alarm| alarm.listed_for_place == Some(false)) {
        sheet.require("place", text!("the listing of {} does not allow its place", alarm.id.as_str()), source, false);
        sheet.cure(text!("hang {} where its listing allows", alarm.id.as_str()));
    }
    let words = text!(
        "{} outside it",
        if outside.is_empty() { "no carbon monoxide alarm hangs" } else { "a carbon monoxide alarm hangs" }
    );
    if !sheet.require("outside", words, source, !outside.is_empty()) {
        sheet.cure(text!("hang a listed carbon monoxide alarm outside {}, in its immediate vicinity", room.label()));
        mark(sheet, room);
    }
    inside(inquiry, sheet, room, &ours);
    for alarm in &outside {
        kind(inquiry, sheet, alarm, ours.len());
    }
    if inquiry.value(&STORY) {
        story(sheet, inquiry, room, &ours);
    }
    Ok(text!("a carbon monoxide alarm hangs outside it"))
}

/// Whether an alarm hangs on the story of a room; nothing where that is not told.
fn same_story(inquiry: &Inquiry, alarm: &Place<Alarm>, room: &Place<Space>) -> Option<bool> {
    let there = inquiry.space(&need!(alarm, space).ok()?).ok()?;
    Some(there.story? == room.story?)
}

/// An appliance in the room, or in a bath that opens into it, asks for an alarm inside.
fn inside(inquiry: &Inquiry, sheet: &mut Sheet, room: &Place<Space>, alarms: &[Place<Alarm>]) {
    let equipment = need!(inquiry.project(), equipment).every();
    let mut within = None;
    let mut untold = None;
    for item in equipment.iter().filter(|item| kinds::may_burn(item) && item.outdoors != Some(true)) {
        let inside = match need!(item, space) {
            Ok(space) if *space.get() == room.id => Ok(true),
            Ok(space) => is_its_bath(inquiry, &space, &room.id),
            Err(unresolved) => Err(unresolved),
        };
        match inside {
            Ok(true) => within = Some(item),
            Ok(false) => {}
            Err(unresolved) => untold = Unresolved::joined(untold, unresolved),
        }
    }
    let has = alarms.iter().any(|alarm| alarm.space.as_ref() == Some(&room.id));
    if within.is_none() && !has {
        // A burner that may stand in the room or its bath would ask for an alarm inside.
        untold.into_iter().for_each(|untold| sheet.lack(untold));
    }
    let Some(appliance) = within else { return };
    if sheet.want(kinds::burns(appliance)) != Some(true) {
        return;
    }
    let words = text!(
        "{} stands in it or its bath, and {} in it",
        appliance.label(),
        if has { "an alarm hangs" } else { "no alarm hangs" }
    );
    if !sheet.require("inside", words, "IRC R315.3", has) {
        sheet.related(appliance.pointer());
        sheet.cure(text!("hang a listed carbon monoxide alarm in {}", room.label()));
    }
}

/// Whether a space is the bath of a room: a door joins them. A door whose other side is not said may.
fn is_its_bath(inquiry: &Inquiry, space: &str, room: &str) -> Lookup<bool> {
    let is_bath = |other: &&Place<Space>| matches!(other.kind, SpaceKind::Bathroom | SpaceKind::ToiletRoom) && other.id == space;
    let spaces = need!(inquiry.project(), spaces).every();
    let Some(bath) = spaces.iter().find(is_bath) else { return Ok(false) };
    leads_to(inquiry, bath, |behind| matches!(behind, Behind::Space(behind) if behind.id == room))
}

/// Whether some opening of a space leads to such a place. Doors whose sides are not said may.
fn leads_to(inquiry: &Inquiry, space: &Place<Space>, there: impl Fn(&Behind) -> bool) -> Lookup<bool> {
    let mut untold = None;
    for way in ways::openings_of(inquiry, space)? {
        let door = matches!(way.opening.kind, OpeningKind::Door | OpeningKind::DoorlessOpening);
        match way.leads(&there) {
            Ok(true) => return Ok(true),
            Err(unresolved) if door => untold = Unresolved::joined(untold, unresolved),
            _ => {}
        }
    }
    untold.map_or(Ok(false), Err)
}

fn kind(inquiry: &Inquiry, sheet: &mut Sheet, alarm: &Place<Alarm>, count: usize) {
    let work = inquiry.project().building.as_ref().and_then(|building| building.work);
    let asked = |choice: &str, sheet: &mut Sheet| match choice {
        "always" => true,
        "never" => false,
        _ => match work {
            Some(work) => work == Work::NewConstruction,
            None => {
                sheet.lack(Unresolved::at("/building/work"));
                false
            }
        },
    };
    if asked(inquiry.value(&TOGETHER), sheet)
        && count > 1
        && let Some(joined) = sheet.want(need!(alarm, interconnected))
    {
        let words =
            text!("{} {}", alarm.id.as_str(), if *joined { "sounds with the others" } else { "does not sound with the others" });
        if !sheet.require("together", words, "from memory of IRC R315.5", *joined) {
            sheet.cure_at(text!("join it with the others"), &[(joined.pointer().to_owned(), json!(true))]);
        }
    }
    if asked(inquiry.value(&WIRED), sheet)
        && let Some(power) = sheet.want(need!(alarm, power))
    {
        let holds = *power == AlarmPower::WiredWithBattery;
        let words = text!("{} has its power from {}", alarm.id.as_str(), power_words(*power));
        if !sheet.require("power", words, "from memory of IRC R315.6", holds) {
            sheet.cure_at(text!("wire it, with a battery behind"), &[(power.pointer().to_owned(), json!("wired-with-battery"))]);
        }
    }
}

fn power_words(power: AlarmPower) -> &'static str {
    match power {
        AlarmPower::WiredWithBattery => "the wiring, with a battery behind it",
        AlarmPower::Wired => "the wiring alone",
        _ => "a battery alone",
    }
}

fn story(sheet: &mut Sheet, inquiry: &Inquiry, room: &Place<Space>, alarms: &[Place<Alarm>]) {
    let Some(own) = sheet.want(need!(room, story)) else { return };
    let spaces = need!(inquiry.project(), spaces).every();
    let mut stories: Vec<i32> = spaces
        .iter()
        .filter(|space| !matches!(space.kind, SpaceKind::Attic | SpaceKind::CrawlSpace))
        .filter_map(|space| space.story)
        .filter(|story| story <= own.get())
        .collect();
    stories.sort_unstable();
    stories.dedup();
    let on = |story: i32| {
        alarms
            .iter()
            .any(|alarm| spaces.iter().any(|space| Some(&space.id) == alarm.space.as_ref() && space.story == Some(story)))
    };
    for story in stories {
        let words =
            text!("story {}: {}", story, if on(story) { "an alarm hangs there" } else { "no carbon monoxide alarm hangs there" });
        if !sheet.require("every story", words, "the jurisdiction", on(story)) {
            sheet.cure(text!("hang a carbon monoxide alarm on story {}", story));
        }
    }
}

fn mark(sheet: &mut Sheet, room: &Place<Space>) {
    let Some(outline) = room.outline.as_ref().filter(|outline| !outline.is_empty()) else { return };
    let count = outline.len() as f64;
    let x = outline.iter().map(|point| point.x.si()).sum::<f64>() / count;
    let y = outline.iter().map(|point| point.y.si()).sum::<f64>() / count;
    sheet.mark(point_mark(Some(&room.id), format!("{}: no carbon monoxide alarm outside", room.id), [x, y, 0.0]));
}
