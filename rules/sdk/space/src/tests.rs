use super::*;
use redtag_rule::schema::contract::Stage;
use redtag_rule::schema::project::Project;
use std::collections::BTreeMap;

fn project(value: redtag_rule::Value) -> Project {
    serde_json::from_value(value).expect("the project of a test reads")
}

const INCH: f64 = 0.0254;

fn house() -> redtag_rule::Value {
    json!({
        "schema": 1,
        "spaces": [{"id": "room", "kind": "mechanical-room", "outline": [
            {"x": "0 in", "y": "0 in"}, {"x": "120 in", "y": "0 in"}, {"x": "120 in", "y": "96 in"}, {"x": "0 in", "y": "96 in"}
        ]}, {"id": "hall", "kind": "corridor"}],
        "openings": [{
            "id": "door", "kind": "door", "space": "hall", "beyond": {"kind": "space", "space": "room"},
            "width": "32 in", "at": {"x": "60 in", "y": "-2 in"},
            "door": {"action": "swinging", "swings_into": "room", "hinges": "left", "clear_width": "30 in", "thickness": "1 1/2 in"}
        }],
        "equipment": [
            {"id": "furnace", "kind": "furnace", "space": "room", "mounting": "floor",
             "placement": {"x": "20 in", "y": "80 in", "width": "21 in", "depth": "30 in", "height": "34 in", "facing": "south"}},
            {"id": "tank", "kind": "pressure-tank", "space": "room", "mounting": "floor",
             "placement": {"x": "60 in", "y": "80 in", "width": "24 in", "height": "48 in", "footprint": "circle"}},
            {"id": "shelf", "kind": "fixed-object", "space": "room", "placement": {"x": "1 in", "y": "2 in"}},
            {"id": "drain", "kind": "floor-drain", "space": "room"}
        ]
    })
}

#[test]
fn a_room_with_its_doors_and_bodies_is_read() {
    let house = project(house());
    let parameters = BTreeMap::new();
    let inquiry = Inquiry::new(&house, &parameters, Stage::Final, "2025-01-01");
    let space = need!(inquiry.project(), spaces).unwrap().items().next().unwrap();
    let room = room(&space).unwrap();
    let (bodies, lacking) = standing(&inquiry, &space);
    assert_eq!((bodies.len(), bodies[1].body.round, bodies[1].faced), (2, true, false));
    assert_eq!(bodies[1].face(side(Side::Front).unwrap()).unwrap_err(), Unresolved::at("/equipment/1/placement/facing"));
    let missing: Vec<String> = lacking.unwrap().missing.into_iter().map(|missing| missing.pointer).collect();
    let wanted = ["facing", "width", "depth", "base", "height"].map(|field| format!("/equipment/2/placement/{field}"));
    assert_eq!(missing, wanted);
    // Its hinges are at the left seen from the hall, so at the right seen from the room: at the west end.
    let door = doors(&inquiry, &space, &room).remove(0).unwrap();
    assert!((door.doorway.clear() / INCH - 30.0).abs() < 1e-9 && door.beyond.is_some());
    let (least, most) = door.leaf.unwrap().bounds();
    assert!((least.x / INCH - 44.0).abs() < 1e-9 && (most.x / INCH - 45.5).abs() < 1e-9 && (most.y / INCH - 32.0).abs() < 1e-9);
    let (left, right) = door.doorway.jambs();
    assert!((left.x / INCH - 75.5).abs() < 1e-9 && (right.x / INCH - 45.5).abs() < 1e-9, "{left:?} {right:?}");
}
