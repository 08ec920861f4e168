//! Random rooms through every rule: nothing panics, every finding says something, and no number is lost.

use crate::MODULE;
use redtag_rule::prelude::*;
use redtag_rule::schema::contract::Shape;
use redtag_rule::testing::findings;
use redtag_rule::{Rule, Value};

/// A small generator: Knuth's linear congruential one (MMIX), its upper bits.
struct Dice(u64);

impl Dice {
    fn below(&mut self, most: u64) -> u64 {
        self.0 = self.0.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        (self.0 >> 33) % most
    }

    fn inches(&mut self, least: u64, most: u64) -> String {
        let eighths = self.below((most - least) * 8 + 1) + least * 8;
        format!("{} in", eighths as f64 / 8.0)
    }

    fn of<'a>(&mut self, words: &[&'a str]) -> &'a str {
        words[self.below(words.len() as u64) as usize]
    }
}

const KINDS: [&str; 14] = [
    "panel",
    "disconnect",
    "inverter",
    "battery",
    "boiler",
    "furnace",
    "storage-water-heater",
    "water-softener",
    "brine-tank",
    "pressure-tank",
    "fixed-object",
    "sump",
    "pull-box",
    "solid-fuel-heater",
];
const FACINGS: [&str; 8] = ["north", "northeast", "east", "southeast", "south", "southwest", "west", "northwest"];

fn equipment(dice: &mut Dice, index: u64) -> Value {
    let kind = dice.of(&KINDS);
    let mut placement = json!({
        "x": dice.inches(0, 160), "y": dice.inches(0, 120), "width": dice.inches(0, 40), "depth": dice.inches(0, 40),
        "height": dice.inches(0, 90), "base": dice.inches(0, 60)
    });
    match dice.below(4) {
        0 => placement["footprint"] = json!("circle"),
        1 => placement["bearing"] = json!(format!("{} deg", dice.below(360))),
        2 => {
            placement.as_object_mut().unwrap().remove("x");
        }
        _ => {}
    }
    if dice.below(8) > 0 {
        placement["facing"] = json!(dice.of(&FACINGS));
    }
    let mut one = json!({"id": format!("e{index}"), "kind": kind, "space": "room", "mounting": dice.of(&["floor", "wall"])});
    if dice.below(12) > 0 {
        one["placement"] = placement;
    }
    one["electrical"] = json!({"voltage_to_ground": dice.of(&["48 V", "120 V", "277 V", "800 V", "2000 V"]), "door_hinges": dice.of(&["left", "right"])});
    if matches!(kind, "boiler" | "furnace" | "storage-water-heater" | "solid-fuel-heater") {
        one["listing"] = json!({"listed": true});
        one["fuel_burning"] = json!({"closet_listed": dice.below(2) == 0});
        one["label_clearances"] = json!({"front": dice.inches(0, 36), "back": dice.inches(0, 20), "sides": dice.inches(0, 20), "above": dice.inches(0, 36)});
        one["service"] = json!({"sides": ["front", "top"], "depth": dice.inches(0, 40), "width": dice.inches(0, 40)});
        one["reduction_allowed"] = json!(true);
        one["protections"] = json!([{"id": format!("p{index}"), "kind": "ventilated-steel", "side": "back", "distance": "1 in",
            "air_space": "1 in", "edge_opening": "1 in", "noncombustible_spacers": true, "spacer_behind_appliance": false, "extends": dice.inches(0, 20)}]);
    }
    if dice.below(3) > 0 {
        one["combustible"] = json!(dice.below(2) == 0);
    }
    one
}

fn room(dice: &mut Dice) -> Value {
    let corner = |dice: &mut Dice| json!({"x": dice.inches(0, 160), "y": dice.inches(0, 120)});
    // Sometimes a plain rectangle, sometimes any polygon at all, also one that crosses itself or encloses nothing.
    let outline: Vec<Value> = if dice.below(2) == 0 {
        let (w, h) = (dice.inches(60, 160), dice.inches(60, 120));
        vec![
            json!({"x": "0 in", "y": "0 in"}),
            json!({"x": w, "y": "0 in"}),
            json!({"x": w, "y": h}),
            json!({"x": "0 in", "y": h}),
        ]
    } else {
        let corners = dice.below(6);
        (0..corners).map(|_| corner(dice)).collect()
    };
    let ends = (corner(dice), corner(dice));
    let bodies = dice.below(9) + 1;
    let all: Vec<Value> = (0..bodies).map(|index| equipment(dice, index)).collect();
    json!({
        "schema": 1,
        "spaces": [{"id": "room", "kind": dice.of(&["mechanical-room", "equipment-closet", "crawl-space", "attic"]), "outline": outline,
            "ceiling_height": dice.inches(60, 120),
            "assemblies": [{"id": "w", "kind": "wall", "from": ends.0, "to": ends.1, "framing": {"material": dice.of(&["wood", "concrete"])}}]}],
        "openings": [{"id": "door", "kind": "door", "space": "room", "width": dice.inches(0, 40), "at": corner(dice),
            "door": {"action": "swinging", "swings_into": "room", "hinges": "left", "clear_width": dice.inches(0, 40), "thickness": "1 3/8 in"}}],
        "equipment": all,
        "drainage": {"pipes": [{"id": "d", "kind": "condensate", "spaces": ["room"], "size": dice.inches(0, 4), "line": [corner(dice), corner(dice)],
            "upper_invert": dice.inches(0, 100), "lower_invert": dice.inches(0, 100)}]}
    })
}

fn whole(rule: &Rule, found: &[Finding], project: &Value) {
    for finding in found {
        assert!(!finding.summary.template.is_empty(), "{} says nothing of {project}", rule.id);
        let numbers = finding.worksheet.iter().flat_map(|step| &step.text.amounts).chain(&finding.summary.amounts);
        assert!(numbers.into_iter().all(|amount| amount.si.is_finite()), "{} answers no number: {project}", rule.id);
        let unresolved = finding.outcome == Outcome::Unresolved;
        assert_eq!(unresolved, !finding.missing.is_empty(), "{} of {project}", rule.id);
        for mark in &finding.marks {
            let sound = match &mark.shape {
                Shape::Box { from, to } => [from.x, from.y, from.z, to.x, to.y, to.z].iter().all(|at| at.is_finite()),
                _ => true,
            };
            assert!(sound, "{} marks nowhere: {project}", rule.id);
        }
    }
}

#[test]
fn no_random_room_panics_or_loses_a_number() {
    let rooms: u64 = std::env::var("REDTAG_RANDOM_ROOMS").ok().and_then(|text| text.parse().ok()).unwrap_or(60);
    let mut dice = Dice(7);
    let mut seen = std::collections::BTreeSet::new();
    for _ in 0..rooms {
        let project = room(&mut dice);
        for entry in MODULE.entries {
            let found = findings(entry.rule, project.clone());
            whole(entry.rule, &found, &project);
            seen.extend(found.iter().map(|finding| format!("{:?}", finding.outcome)));
        }
    }
    assert_eq!(seen.len(), 5, "rooms of every sort came up: {seen:?}");
}
