//! Where batteries stand in a dwelling, its basement or its attached garage, an alarm must notice a fire there and sound with
//! the others.
//!
//! A battery fire grows in minutes, and people asleep two floors up must hear of it. In a garage or an unheated room a smoke
//! alarm is outside its listing: exhaust and frost set it off or put it out. A heat alarm belongs there.
//!
//! **How it is measured.** What notices a fire near the system and whether it sounds with the alarms of the dwelling, as the system
//! says or by the alarms of the building in the same space; in a garage or an unconditioned space it must be a heat alarm or
//! detector, elsewhere a smoke alarm: a heat alarm alone notices a fire too late where a smoke alarm can be.
//!
//! **How it is fixed.** An interconnected smoke alarm in the room; a listed heat alarm or detector, interconnected, where smoke
//! alarms cannot be used.

use crate::place::{self, Class};
use crate::units::{self, Unit};
use redtag_rule::prelude::*;

/// Detached structures.
const DETACHED: Flag = Flag::new(
    "detached_structures",
    false,
    "Whether detached garages and accessory structures need detection too.",
    "IRC R328.7 names rooms in dwellings, basements and attached garages",
);

/// The rule.
pub const RULE: Rule = Rule {
    citations: &[cited("IRC", "2021", "R328.7")],
    parameters: &[&DETACHED],
    reads: &["/spaces", "/equipment", "/electrical/storage", "/building/alarms"],
    ..Rule::new("energy-storage/detection", "Fire detection near batteries", check)
};

const WANTED: &str = "whether a fire near it would be noticed";
const SOURCE: &str = "IRC R328.7";

fn check(inquiry: &Inquiry) -> Vec<Finding> {
    units::each(inquiry, WANTED, |unit| {
        let standing = place::of(inquiry, unit);
        match &standing {
            Ok(standing) if !concerned(inquiry, standing.class) => {
                unit.unit.not_applicable(text!("stands in {}", standing.class.words())).done()
            }
            _ => unit.unit.sheet(WANTED, |sheet| judge(inquiry, unit, standing?, sheet)),
        }
    })
}

fn concerned(inquiry: &Inquiry, class: Class) -> bool {
    matches!(class, Class::Inside | Class::AttachedGarage) || (class == Class::Detached && inquiry.value(&DETACHED))
}

fn judge(inquiry: &Inquiry, unit: &Unit, standing: place::Standing, sheet: &mut Sheet) -> Lookup<Text> {
    let detection = detection(inquiry, unit, &standing)?;
    let pointer = format!("{}/detection", unit.system.pointer());
    let garage = standing.class != Class::Inside;
    let words = match detection {
        StorageDetection::HeatAlarm if garage => return Ok(text!("a heat alarm that sounds with the others")),
        StorageDetection::HeatAlarm => return heat_alarm(standing, sheet, pointer),
        StorageDetection::SmokeAlarm if garage => text!("a smoke alarm is not listed for a garage or accessory structure"),
        StorageDetection::SmokeAlarm => return smoke_alarm(standing, sheet, &pointer),
        StorageDetection::NotInterconnected => text!("the alarm near it does not sound with the others"),
        _ => text!("nothing notices a fire near it"),
    };
    sheet.require("detection", words, SOURCE, false);
    cure(garage, sheet, pointer);
    Ok(Text::default())
}

/// As the system says, else by the alarms in its space.
fn detection(inquiry: &Inquiry, unit: &Unit, standing: &place::Standing) -> Lookup<StorageDetection> {
    let unsaid = match need!(unit.system, detection) {
        Ok(said) => return Ok(*said),
        Err(unresolved) => unresolved,
    };
    let Some(space) = &standing.space else { return Err(unsaid) };
    let alarms = need!(inquiry.project(), building.alarms).every();
    let of = |kinds: &[AlarmKind]| {
        let here = |alarm: &&Place<Alarm>| kinds.contains(&alarm.kind) && alarm.space.as_ref() == Some(&space.id);
        let found: Vec<&Place<Alarm>> = alarms.iter().filter(here).collect();
        found.iter().find(|alarm| alarm.interconnected != Some(false)).or(found.first()).map(|alarm| (*alarm).clone())
    };
    let smoke = of(&[AlarmKind::Smoke, AlarmKind::SmokeAndCarbonMonoxide]).map(|alarm| (alarm, StorageDetection::SmokeAlarm));
    let heat = of(&[AlarmKind::Heat]).map(|alarm| (alarm, StorageDetection::HeatAlarm));
    // Of several that one counts that is asked for in such a place.
    let best = if standing.class == Class::Inside { smoke.or(heat) } else { heat.or(smoke) };
    let (alarm, detection) = best.ok_or(unsaid)?;
    Ok(if *need!(alarm, interconnected)? { detection } else { StorageDetection::NotInterconnected })
}

/// A heat alarm alone will do only where a smoke alarm is outside its listing.
fn heat_alarm(standing: place::Standing, sheet: &mut Sheet, pointer: String) -> Lookup<Text> {
    let Some(space) = standing.space else { return Ok(Text::default()) };
    if *need!(space, conditioned)? {
        let words = text!("a heat alarm alone in {}, where a smoke alarm can be", space.label());
        sheet.require("detection", words, SOURCE, false);
        cure(false, sheet, pointer);
    }
    Ok(text!("a heat alarm that sounds with the others"))
}

/// A smoke alarm needs a heated room.
fn smoke_alarm(standing: place::Standing, sheet: &mut Sheet, pointer: &str) -> Lookup<Text> {
    let Some(space) = standing.space else { return Ok(Text::default()) };
    let conditioned = need!(space, conditioned)?;
    let words = text!("a smoke alarm in {}, which is not conditioned: outside what smoke alarms are listed for", space.label());
    if !*conditioned {
        sheet.require("detection", words, SOURCE, false);
        cure(true, sheet, pointer.to_owned());
    }
    Ok(text!("a smoke alarm that sounds with the others"))
}

fn cure(heat: bool, sheet: &mut Sheet, pointer: String) {
    let (words, word) = if heat { ("heat alarm or detector", "heat-alarm") } else { ("smoke alarm", "smoke-alarm") };
    sheet.cure_at(text!("fit a listed {} that sounds with the alarms of the dwelling", words), &[(pointer, json!(word))]);
}
