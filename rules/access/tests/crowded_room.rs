//! A room with sixty pieces of equipment in it: what the family's work in a guest is measured on.
//!
//! `REDTAG_CROWDED_ROOM=FILE cargo test -p redtag-access --test crowded_room` writes the project, to be reviewed with the
//! program: `redtag review --log debug --packs PACK FILE` tells the fuel. `REDTAG_CROWDED_AISLE` sets the width of its aisles
//! in inches.

use redtag_rule::schema::contract::Outcome;
use redtag_rule::testing::findings;
use redtag_rule::{Value, json};

/// Inches as an author writes them.
fn inches(number: f64) -> String {
    format!("{number} in")
}

/// What stands in the room, over and over: kind, width, depth (0 for a cylinder), height.
const KINDS: [(&str, f64, f64, f64); 10] = [
    ("furnace", 21.0, 29.5, 40.0),
    ("storage-water-heater", 22.0, 0.0, 58.0),
    ("fixed-object", 30.0, 18.0, 72.0),
    ("water-softener", 12.0, 0.0, 54.0),
    ("boiler", 24.0, 30.0, 40.0),
    ("pressure-tank", 24.0, 0.0, 48.0),
    ("brine-tank", 18.0, 0.0, 34.0),
    ("air-handler", 21.0, 24.0, 60.0),
    ("expansion-tank", 12.0, 0.0, 20.0),
    ("panel", 14.5, 6.0, 40.0),
];

/// Six rows of ten between aisles `aisle` wide, in a room with a hall along its door.
fn room(aisle: f64) -> Value {
    let pitch = 32.0 + aisle;
    let (wide, deep) = (10.0 * 38.0 - 8.0 + 2.0 * aisle, 6.0 * pitch + aisle);
    let corner = |x: f64, y: f64| json!({"x": inches(x), "y": inches(y)});
    let rectangle = |x0: f64, y0: f64, x1: f64, y1: f64| json!([corner(x0, y0), corner(x1, y0), corner(x1, y1), corner(x0, y1)]);
    let mut equipment = Vec::new();
    for index in 0..60_usize {
        let (row, column) = (index / 10, index % 10);
        let (kind, width, depth, height) = KINDS[(index + 3 * row) % KINDS.len()];
        let mut placement = json!({
            "x": inches(aisle + 15.0 + 38.0 * column as f64),
            "y": inches(aisle + 16.0 + pitch * row as f64),
            "width": inches(width),
            "height": inches(height),
            "facing": if row % 2 == 0 { "south" } else { "north" },
        });
        if depth == 0.0 {
            placement["footprint"] = json!("circle");
        } else {
            placement["depth"] = inches(depth).into();
        }
        let mut piece = json!({
            "id": format!("piece-{index}"), "kind": kind, "space": "room", "mounting": "floor", "placement": placement,
            "service": {"sides": ["front"], "pulls": [{"part": "part", "side": "front", "distance": "16 in"}]},
            "fuel_burning": {"combustion_air": "direct-vent", "burner": "power-vented"},
        });
        if depth > 0.0 {
            let part = json!({"width": inches(width), "depth": inches(depth), "height": inches(height)});
            piece["service"]["largest_part"] = part;
        }
        equipment.push(piece);
    }
    json!({
        "schema": 1,
        "name": "Sixty pieces in one room, made by a test",
        "spaces": [
            {"id": "room", "kind": "mechanical-room", "outline": rectangle(0.0, 0.0, wide, deep), "ceiling_height": "9 ft",
             "floor_survey": {"level": true}},
            {"id": "hall", "kind": "corridor", "outline": rectangle(-60.0, -45.0, wide + 60.0, -5.0), "ceiling_height": "9 ft"}
        ],
        "openings": [{
            "id": "door", "kind": "door", "space": "room", "beyond": {"kind": "space", "space": "hall"}, "width": "36 in",
            "at": corner(wide / 2.0, -2.0),
            "door": {"action": "swinging", "swings_into": "hall", "hinges": "left", "clear_width": "34 in",
                     "clear_height": "79 in", "thickness": "1 3/8 in"}
        }],
        "equipment": equipment
    })
}

#[test]
fn sixty_pieces_are_judged_every_one() {
    let mut project = room(38.0);
    // The way on from the hall is not drawn: the project says that it is free.
    for piece in project["equipment"].as_array_mut().expect("a list") {
        piece["service"]["blocked_by_construction"] = json!(false);
    }
    if let Ok(file) = std::env::var("REDTAG_CROWDED_ROOM") {
        let aisle = std::env::var("REDTAG_CROWDED_AISLE").ok().and_then(|inches| inches.parse().ok());
        let written = aisle.map_or_else(|| project.clone(), room);
        std::fs::write(file, serde_json::to_string_pretty(&written).expect("it is JSON")).expect("the file is written");
    }
    let mut judged = 0;
    for entry in redtag_access::MODULE.entries {
        let found = findings(entry.rule, project.clone());
        assert!(found.iter().all(|one| one.outcome != Outcome::Unresolved), "{}", entry.rule.id);
        judged += found.iter().filter(|one| one.outcome != Outcome::NotApplicable).count();
    }
    assert!(judged > 150, "{judged}");
}

#[test]
fn a_tighter_room_ends_in_findings_too() {
    // Here the aisles are too narrow for the larger pieces: every search ends, in a way, a proof or an honest "undecided".
    let project = room(25.0);
    let path = redtag_access::MODULE.entries.iter().find(|entry| entry.rule.id == "access/replacement-path");
    let found = findings(path.expect("the rule").rule, project);
    assert!(found.iter().filter(|one| one.outcome != Outcome::NotApplicable).count() > 25);
}
