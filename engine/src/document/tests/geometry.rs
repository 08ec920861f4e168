//! Outlines and boxes, as a project has them.

use crate::document::{Limits, Raw, check_geometry, syntax, text};
use serde_json::{Value, json};

/// An L-shaped room: 10 ft by 10 ft without the 4 ft by 4 ft in its northeast.
const ROOM: &[(&str, &str)] =
    &[("0 in", "0 in"), ("10 ft", "0 in"), ("10 ft", "6 ft"), ("6 ft", "6 ft"), ("6 ft", "10 ft"), ("0 in", "10 ft")];

fn said(document: &Value) -> Vec<String> {
    let text = serde_json::to_string_pretty(document).unwrap();
    let text = text::decode("house.json", text.as_bytes(), &Limits::default()).unwrap();
    let (value, spans) = syntax::parse(&text.file, 9).read.unwrap();
    let raw = Raw { file: text.file, value, spans };
    check_geometry::check(&raw).iter().map(|one| one.one_line().split_once(": ").unwrap().1.to_owned()).collect()
}

fn outline(corners: &[(&str, &str)]) -> Value {
    corners.iter().map(|(x, y)| json!({ "x": x, "y": y })).collect()
}

fn room(corners: &[(&str, &str)]) -> Vec<String> {
    said(&json!({ "spaces": [{ "id": "shop", "outline": outline(corners) }] }))
}

fn body(placement: Value) -> Vec<String> {
    let space = json!({ "id": "shop", "outline": outline(ROOM), "ceiling_height": "8 ft" });
    said(&json!({ "spaces": [space], "equipment": [{ "id": "f1", "space": "shop", "placement": placement }] }))
}

/// A body 2 ft wide and 3 ft deep whose front looks south.
fn at(x: &str, y: &str) -> Vec<String> {
    body(json!({ "x": x, "y": y, "width": "24 in", "depth": "36 in", "facing": "south" }))
}

#[test]
fn rooms_close() {
    assert_eq!(room(ROOM), [""; 0]);
    assert_eq!(room(&[("0 in", "0 in"), ("3 ft", "0 in"), ("0 in", "4 ft")]), [""; 0]);
}

#[test]
pub(crate) fn figures_that_are_no_rooms_are_told_apart() {
    let table: &[(&[(&str, &str)], &str)] = &[
        (&[], "`outline` has 0 different corners"),
        (&[("1 ft", "1 ft")], "`outline` has 1 different corner"),
        (&[("0 in", "0 in"), ("12 in", "0 in"), ("1 ft", "0 in")], "`outline` has 2 different corners"),
        (&[("0 in", "0 in"), ("3 ft", "0 in"), ("6 ft", "0 in")], "`outline` encloses no area"),
        (
            &[("0 in", "0 in"), ("9 ft", "9 ft"), ("9 ft", "0 in"), ("0 in", "9 ft")],
            "`outline` crosses itself: the side between corners 1 and 2 meets the one between corners 3 and 4",
        ),
        // A wall that runs back on itself.
        (
            &[("0 in", "0 in"), ("9 ft", "0 in"), ("9 ft", "9 ft"), ("9 ft", "4 ft"), ("0 in", "4 ft")],
            "`outline` crosses itself: the side between corners 2 and 3 meets the one between corners 3 and 4",
        ),
        // A corner that touches a wall.
        (
            &[("0 in", "0 in"), ("9 ft", "0 in"), ("9 ft", "9 ft"), ("4 ft", "0 in"), ("0 in", "9 ft")],
            "`outline` crosses itself: the side between corners 1 and 2 meets the one between corners 3 and 4",
        ),
    ];
    for (corners, wanted) in table {
        let said = room(corners);
        let errors: Vec<_> = said.iter().filter(|one| one.starts_with("error")).collect();
        assert_eq!(errors.len(), 1, "{corners:?}: {said:#?}");
        assert!(errors[0].contains(wanted), "{corners:?}: {said:#?}");
    }
}

#[test]
pub(crate) fn a_corner_given_again_is_a_warning() {
    let mut corners = ROOM.to_vec();
    corners.push(("0 ft", "0 mm"));
    assert_eq!(room(&corners), ["warning: corner 7 of `outline` repeats corner 1 (/spaces/0/outline/6)"]);
    corners.pop();
    corners.insert(2, ("120 in", "0 in"));
    assert_eq!(room(&corners), ["warning: corner 3 of `outline` repeats corner 2 (/spaces/0/outline/2)"]);
}

#[test]
fn what_cannot_be_read_is_passed_over() {
    assert_eq!(room(&[("0 in", "0 in"), ("3 ft", "nought")]), [""; 0]);
    assert_eq!(said(&json!({ "spaces": 3, "equipment": [{ "space": "shop", "placement": 4 }] })), [""; 0]);
    assert_eq!(said(&json!(null)), [""; 0]);
}

#[test]
fn a_body_may_touch_the_walls_in_other_units() {
    assert_eq!(at("12 in", "18 in"), [""; 0]);
    assert_eq!(at("304.8 mm", "457.2 mm"), [""; 0]);
    assert_eq!(at("5 ft", "102 in"), [""; 0], "snug in the northern arm");
}

#[test]
pub(crate) fn how_far_a_body_oversteps_is_said() {
    let beyond = |x, y| {
        let said = at(x, y);
        assert_eq!(said.len(), 1, "{x} {y}: {said:#?}");
        said[0].split(" beyond").next().unwrap().to_owned()
    };
    assert_eq!(beyond("11 in", "18 in"), "error: `f1` reaches 1 in");
    assert_eq!(beyond("12 in", "14 1/2 in"), "error: `f1` reaches 3.5 in");
    // Its middle is outside: the farthest corner counts.
    assert_eq!(beyond("5 ft", "-18 in"), "error: `f1` reaches 36 in");
    // The inner corner of the room stands 2 in inside the body, all of whose corners but one lie in the room.
    assert_eq!(beyond("62 in", "60 in"), "error: `f1` reaches 2 in");
}

#[test]
fn a_wall_that_runs_through_a_body_is_noticed_though_all_its_corners_are_inside() {
    let slot = [
        ("0 in", "0 in"),
        ("10 ft", "0 in"),
        ("10 ft", "10 ft"),
        ("62 in", "10 ft"),
        ("62 in", "2 ft"),
        ("58 in", "2 ft"),
        ("58 in", "10 ft"),
        ("0 in", "10 ft"),
    ];
    let space = json!({ "id": "shop", "outline": outline(&slot) });
    let placement = json!({ "x": "5 ft", "y": "6 ft", "width": "24 in", "depth": "36 in", "facing": "east" });
    let said = said(&json!({ "spaces": [space], "equipment": [{ "id": "f1", "space": "shop", "placement": placement }] }));
    assert_eq!(said.len(), 1, "{said:#?}");
    assert!(said[0].starts_with("error: `f1` reaches "), "{said:#?}");
}

#[test]
fn facing_turns_the_body() {
    let facing = |word: &str| body(json!({ "x": "18 in", "y": "12 in", "width": "24 in", "depth": "36 in", "facing": word }));
    assert_eq!(facing("east"), [""; 0]);
    assert_eq!(facing("west"), [""; 0]);
    assert_eq!(facing("north").len(), 1);
    let bearing = |words: &str| body(json!({ "x": "18 in", "y": "12 in", "width": "24 in", "depth": "36 in", "bearing": words }));
    assert_eq!(bearing("90 deg"), [""; 0]);
    assert_eq!(bearing("0 deg").len(), 1);
    // Turned by an eighth, a square of 2 ft needs 2 ft times the square root of 2: its corner is 16.97 in from its middle.
    let eighth = |x: &str| body(json!({ "x": x, "y": "5 ft", "width": "24 in", "depth": "24 in", "facing": "northeast" }));
    assert_eq!(eighth("17 in"), [""; 0]);
    assert_eq!(eighth("16.9 in").len(), 1);
}

#[test]
fn a_body_that_faces_nowhere_is_held_to_what_is_certain() {
    let nowhere = |x: &str| body(json!({ "x": x, "y": "5 ft", "width": "24 in", "depth": "36 in" }));
    assert_eq!(nowhere("12 in"), [""; 0]);
    assert_eq!(nowhere("11 in").len(), 1);
    assert_eq!(body(json!({ "x": "-1 in", "y": "5 ft" })).len(), 1, "its middle alone is known");
    let round = |x: &str| body(json!({ "x": x, "y": "5 ft", "width": "24 in", "footprint": "circle", "facing": "northeast" }));
    assert_eq!(round("12 in"), [""; 0]);
    assert!(round("11 in")[0].starts_with("error: `f1` reaches 1 in beyond"), "{:?}", round("11 in"));
}

#[test]
fn what_is_cut_out_of_a_room_is_not_room() {
    let chimney = outline(&[("2 ft", "2 ft"), ("4 ft", "2 ft"), ("4 ft", "4 ft"), ("2 ft", "4 ft")]);
    let space = json!({ "id": "shop", "outline": outline(ROOM), "holes": [chimney] });
    let stand = |x: &str, y: &str, width: &str| {
        let placement = json!({ "x": x, "y": y, "width": width, "depth": width, "facing": "north" });
        said(&json!({ "spaces": [space], "equipment": [{ "id": "f1", "space": "shop", "placement": placement }] }))
    };
    assert_eq!(stand("1 ft", "3 ft", "24 in"), [""; 0]);
    assert!(stand("13 in", "3 ft", "24 in")[0].starts_with("error: `f1` reaches 1 in beyond"));
    assert_eq!(stand("3 ft", "3 ft", "6 in").len(), 1, "wholly inside the chimney");
}

#[test]
fn what_is_set_in_a_wall_may_lie_in_it() {
    let placement = json!({ "x": "5 ft", "y": "-2 in", "width": "15 in", "depth": "4 in", "facing": "north" });
    let space = json!({ "id": "shop", "outline": outline(ROOM) });
    let panel = json!({ "id": "p1", "space": "shop", "placement": placement, "mounting": "recessed" });
    assert_eq!(said(&json!({ "spaces": [space], "equipment": [panel] })), [""; 0]);
}

#[test]
pub(crate) fn a_body_ends_under_the_ceiling() {
    let tall = |height: &str, base: &str| {
        body(
            json!({ "x": "5 ft", "y": "5 ft", "width": "12 in", "depth": "12 in", "facing": "north", "height": height, "base": base }),
        )
    };
    assert_eq!(tall("2438.4 mm", "0 in"), [""; 0], "exactly 8 ft");
    assert_eq!(tall("6 ft", "24 in"), [""; 0]);
    let said = tall("6 ft", "25 in");
    assert_eq!(said.len(), 1);
    assert!(said[0].contains("1 in above the ceiling of `shop` (/equipment/0/placement/height)"), "{said:?}");
}

#[test]
pub(crate) fn bodies_that_stand_in_each_other_are_told() {
    let thing = |id: &str, x: &str, base: &str, mounting: &str| {
        json!({ "id": id, "kind": "furnace", "space": "shop", "mounting": mounting, "placement": {
            "x": x, "y": "3 ft", "base": base, "width": "2 ft", "depth": "2 ft", "height": "3 ft", "facing": "south"
        } })
    };
    let told = |other: Value| {
        let space = json!({ "id": "shop", "outline": outline(ROOM), "ceiling_height": "8 ft" });
        said(&json!({ "spaces": [space], "equipment": [thing("f1", "3 ft", "0 ft", "floor"), other] }))
    };
    assert_eq!(told(thing("f2", "4 ft", "0 ft", "floor")), ["warning: `f1` stands 12 in deep in `f2` (/equipment/0/placement)"]);
    // Beside it, above it, set in the wall, and by half an inch of a drawing made by hand.
    for other in [
        thing("f2", "5 ft", "0 ft", "floor"),
        thing("f2", "3 ft", "3 ft", "wall"),
        thing("f2", "4 ft", "0 ft", "recessed"),
        thing("f2", "59.5 in", "0 ft", "floor"),
    ] {
        assert_eq!(told(other), [""; 0]);
    }
}
