//! Free floor and walking width of random rooms against shapely (reference/space.py, its answers in reference/space.json).

use redtag_handbook::space::{Passages, Point, Room, Shape, free_area, point};
use serde_json::Value;

const INCH: f64 = 0.0254;

fn at(pair: &Value) -> Point {
    point(pair[0].as_f64().unwrap() * INCH, pair[1].as_f64().unwrap() * INCH)
}

fn points(list: &Value) -> Vec<Point> {
    list.as_array().unwrap().iter().map(at).collect()
}

fn body(given: &Value) -> Shape {
    match given.get("circle") {
        Some(circle) => Shape::circle(at(circle), circle[2].as_f64().unwrap() * INCH),
        None => Shape::convex(&points(&given["corners"])),
    }
}

#[test]
fn random_rooms_agree_with_shapely() {
    let file: Value = serde_json::from_str(include_str!("../reference/space.json")).unwrap();
    let rooms = file["rooms"].as_array().unwrap();
    assert!(rooms.len() >= 200);
    let (mut widest_miss, mut area_miss, mut pinched) = (0.0_f64, 0.0_f64, 0);
    for given in rooms {
        let room = Room::new(&points(&given["outline"]), &[]).unwrap();
        let bodies: Vec<Shape> = given["bodies"].as_array().unwrap().iter().map(body).collect();
        let (left, right) = (given["door"][0].as_f64().unwrap(), given["door"][1].as_f64().unwrap());
        let door = room.doorway(point((left + right) / 2.0 * INCH, 0.0), (right - left) * INCH, 0.01).unwrap();
        let free = free_area(&room, &bodies) / (INCH * INCH);
        let mut pieces: Vec<Shape> = room.faces(Some(&door)).into_iter().map(|(_, face)| face).collect();
        pieces.extend(bodies);
        let ways = Passages::new(&room, pieces);
        let widest = ways.widest(door.middle + door.out * 0.001, at(&given["goal"]));
        let (width, listed) = (widest.width() / INCH, given["width"].as_f64().unwrap());
        // Shapely's walls are 2e-5 in thick, its arcs are chords, its bisection ends at 2e-4 in: together under 0.01 in.
        assert!((width - listed).abs() < 0.01, "seed {}: {width} in, shapely {listed} in, {widest:?}", given["seed"]);
        widest_miss = widest_miss.max((width - listed).abs());
        let listed = given["free_area"].as_f64().unwrap();
        // Circles are polygons of their own area here, inscribed polygons of 512 corners there.
        assert!((free - listed).abs() < 0.2, "seed {}: {free} in2, shapely {listed} in2", given["seed"]);
        area_miss = area_miss.max((free - listed).abs());
        pinched += usize::from(matches!(widest, redtag_handbook::space::Widest::Pinched(_)));
    }
    assert!(widest_miss < 0.001 && area_miss < 0.05, "as measured when it was written: {widest_miss} in, {area_miss} in2");
    assert!(pinched > 40, "{pinched} ways are pinched between two obstacles, the others where they end");
}
