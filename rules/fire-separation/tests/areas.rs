//! Board areas of random rooms, as a rule takes them off, against shapely.

use redtag_fire_separation::MODULE;
use redtag_rule::schema::contract::Finding;
use redtag_rule::testing::findings;
use serde_json::{Value, json};

const REFERENCE: &str = include_str!("../../handbook/reference/fire/areas.json");

fn metres(number: &Value) -> String {
    format!("{} m", number.as_f64().expect("a number"))
}

fn point(corner: &Value) -> Value {
    json!({"x": metres(&corner[0]), "y": metres(&corner[1])})
}

fn points(corners: &Value) -> Vec<Value> {
    corners.as_array().expect("corners").iter().map(point).collect()
}

/// A bare garage of that outline: every wall towards a hall, an attic over it.
fn garage(room: &Value) -> Value {
    let walls = room["walls"].as_array().expect("walls");
    let mut assemblies: Vec<Value> = walls
        .iter()
        .enumerate()
        .map(|(index, wall)| {
            json!({"id": format!("wall-{index}"), "kind": "wall", "from": point(&wall["from"]), "to": point(&wall["to"]),
                "beyond": {"kind": "space", "space": "hall"}, "framing": {"material": "wood"}, "layers": []})
        })
        .collect();
    assemblies.push(
        json!({"id": "ceiling", "kind": "ceiling", "beyond": {"kind": "attic"}, "framing": {"material": "wood"}, "layers": []}),
    );
    let mut openings = Vec::new();
    for (index, wall) in walls.iter().enumerate() {
        for (number, opening) in wall["openings"].as_array().expect("openings").iter().enumerate() {
            openings.push(json!({"id": format!("opening-{index}-{number}"), "kind": "window", "space": "garage",
                "beyond": {"kind": "space", "space": "hall"}, "assembly": format!("wall-{index}"),
                "at": {"x": metres(&opening["x"]), "y": metres(&opening["y"])}, "width": metres(&opening["width"]),
                "height": metres(&opening["height"]), "bottom_above_floor": metres(&opening["bottom"])}));
        }
    }
    let hole = points(&room["hole"]);
    let holes = if hole.is_empty() { json!([]) } else { json!([hole]) };
    json!({"schema": 1, "openings": openings, "spaces": [
        {"id": "garage", "kind": "attached-garage", "outline": points(&room["outline"]), "holes": holes,
            "ceiling_height": metres(&room["height"]), "assemblies": assemblies},
        {"id": "hall", "kind": "corridor"}]})
}

/// The face and the board left of it, as the worksheet says them, in square metres.
fn taken_off(finding: &Finding) -> (f64, f64) {
    let step = finding.worksheet.iter().find(|step| step.label == "take-off").expect("a take-off");
    (step.text.amounts[0].si, step.text.amounts[2].si)
}

fn near(ours: f64, theirs: &Value) {
    let theirs = theirs.as_f64().expect("a number");
    assert!((ours - theirs).abs() < 1e-9 * theirs.max(1.0), "{ours} against {theirs}");
}

#[test]
fn board_areas_are_those_of_shapely() {
    let reference: Value = serde_json::from_str(REFERENCE).expect("the reference is JSON");
    let rule = MODULE.entries.iter().find(|entry| entry.rule.id == "fire-separation/garage-separation").expect("the rule").rule;
    let mut compared = 0;
    for room in reference["rooms"].as_array().expect("rooms") {
        let answers = findings(rule, garage(room));
        for (index, wall) in room["walls"].as_array().expect("walls").iter().enumerate() {
            let id = format!("wall-{index}");
            let finding = answers.iter().find(|finding| finding.subject.id.as_deref() == Some(id.as_str())).expect("a finding");
            let (gross, net) = taken_off(finding);
            near(gross, &wall["gross"]);
            near(net, &wall["net"]);
            compared += 1;
        }
        let ceiling = answers.iter().find(|finding| finding.subject.id.as_deref() == Some("ceiling")).expect("a finding");
        near(taken_off(ceiling).1, &room["ceiling"]);
    }
    assert!(compared > 250, "{compared} walls");
}
