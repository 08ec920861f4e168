//! Rooms, openings and runs.

use crate::{At, area, at, contains, corners};
use redtag_schema::project::{Opening, Point, Space};

/// The outline of a room with what is cut out of it.
#[derive(Debug, Clone, PartialEq)]
pub struct Outline {
    /// Its corners.
    pub corners: Vec<At>,
    /// What is cut out of it.
    pub holes: Vec<Vec<At>>,
}

/// The outline of a space; nothing where it is not drawn or encloses nothing.
pub fn outline(space: &Space) -> Option<Outline> {
    let ring = corners(space.outline.as_ref()?);
    let holes = space.holes.iter().flatten().map(|hole| corners(hole)).collect();
    (ring.len() >= 3 && area(&ring) > 0.0).then_some(Outline { corners: ring, holes })
}

impl Outline {
    /// Its floor area, holes taken off.
    pub fn area(&self) -> f64 {
        (area(&self.corners) - self.holes.iter().map(|hole| area(hole)).sum::<f64>()).max(0.0)
    }

    /// Whether a place lies in it and in no hole.
    pub fn contains(&self, at: At) -> bool {
        contains(&self.corners, at) && !self.holes.iter().any(|hole| contains(hole, at))
    }

    /// The straight walls, each from one corner to the next, those of holes last.
    pub fn walls(&self) -> impl Iterator<Item = [At; 2]> {
        let sides = |ring: &[At]| ring.iter().zip(ring.iter().cycle().skip(1)).map(|(a, b)| [*a, *b]).collect::<Vec<_>>();
        std::iter::once(&self.corners).chain(&self.holes).flat_map(move |ring| sides(ring))
    }
}

/// An opening as it is drawn.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Opened {
    /// Its middle in plan.
    pub at: At,
    /// Its width.
    pub width: f64,
    /// Height of its lower and upper edge above the floor, where both are said.
    pub heights: Option<(f64, f64)>,
}

/// An opening in plan.
///
/// # Errors
/// The fields that are missing.
pub fn opening(opening: &Opening) -> Result<Opened, Vec<&'static str>> {
    let width = opening.width.as_ref().or(opening.diameter.as_ref());
    let (Some(middle), Some(width)) = (&opening.at, width) else {
        let lacking = [("at", opening.at.is_none()), ("width", width.is_none())];
        return Err(lacking.into_iter().filter(|(_, lacking)| *lacking).map(|(name, _)| name).collect());
    };
    let height = opening.height.as_ref().or(opening.diameter.as_ref()).map(|height| height.si());
    let bottom = opening.bottom_above_floor.as_ref().map(|bottom| bottom.si());
    let heights = height.zip(bottom).map(|(height, bottom)| (bottom, bottom + height));
    Ok(Opened { at: at(middle), width: width.si(), heights })
}

/// A pipe, duct or raceway: the line of its middle, and how thick it is.
#[derive(Debug, Clone, PartialEq)]
pub struct Run {
    /// The line in plan.
    pub line: Vec<At>,
    /// Its thickness.
    pub thickness: f64,
}

/// A run from the line a project gives it; nothing where it has no length.
pub fn run(line: Option<&Vec<Point>>, thickness: f64) -> Option<Run> {
    let line = corners(line?);
    (line.len() >= 2).then_some(Run { line, thickness })
}

#[cfg(test)]
mod tests {
    use super::*;
    use serde_json::{Value, json};

    fn square(from: &str, to: &str) -> Value {
        json!([{"x": from, "y": from}, {"x": to, "y": from}, {"x": to, "y": to}, {"x": from, "y": to}])
    }

    #[test]
    fn a_room_has_its_holes_taken_off() {
        let space = |outline: Value| -> Space {
            let hole = square("1 m", "2 m");
            serde_json::from_value(json!({"id": "room", "kind": "mechanical-room", "outline": outline, "holes": [hole]})).unwrap()
        };
        let room = outline(&space(square("0 m", "4 m"))).unwrap();
        assert_eq!((room.area(), room.walls().count()), (15.0, 8));
        assert!(room.contains([3.0, 3.0]) && !room.contains([1.5, 1.5]) && !room.contains([5.0, 1.0]));
        assert_eq!(outline(&space(json!([]))), None);
    }

    #[test]
    fn an_opening_names_what_it_lacks() {
        let read = |value: Value| opening(&serde_json::from_value(value).unwrap());
        assert_eq!(read(json!({"id": "o", "kind": "door"})).unwrap_err(), ["at", "width"]);
        let louver =
            json!({"id": "o", "kind": "louver", "at": {"x": "1 m", "y": "0 m"}, "diameter": "2 m", "bottom_above_floor": "1 m"});
        assert_eq!(read(louver).unwrap().heights, Some((1.0, 3.0)));
    }
}
