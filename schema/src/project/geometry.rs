//! Where things are. Plan coordinates run east (x) and north (y) from one datum of the whole building; heights run up.

use super::read::{Read, Reader, required};
use crate::quantity::{Angle, Length, Position};
use serde::Serialize;
use serde_json::Value;

/// A point in plan.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[cfg_attr(feature = "json-schema", derive(schemars::JsonSchema), schemars(deny_unknown_fields))]
pub struct Point {
    /// Distance east of the building's datum.
    pub x: Position,
    /// Distance north of the building's datum.
    pub y: Position,
}

impl Read for Point {
    fn read_from(value: &mut Value, reader: &mut Reader) -> Self {
        let mut point = Self { x: Position::from_si(0.0), y: Position::from_si(0.0) };
        if let Some(fields) = reader.object(value) {
            required(fields, "x", &mut point.x, reader);
            required(fields, "y", &mut point.y, reader);
        }
        point
    }
}

read_by_value!(Point);

words! {
    /// A direction in plan.
    Compass {
        /// Plan north.
        North "north",
        /// Between north and east.
        Northeast "northeast",
        /// Plan east.
        East "east",
        /// Between south and east.
        Southeast "southeast",
        /// Plan south.
        South "south",
        /// Between south and west.
        Southwest "southwest",
        /// Plan west.
        West "west",
        /// Between north and west.
        Northwest "northwest",
    }
}

words! {
    /// The shape of a body seen from above.
    Footprint {
        /// A rectangle.
        Rectangle "rectangle",
        /// A circle as wide as `width`.
        Circle "circle",
    }
}

record! {
    /// Where a body stands and how large it is: an upright box turned to its facing.
    Placement {
        /// East of the datum to the middle of the body.
        x: Position;
        /// North of the datum to the middle of the body.
        y: Position;
        /// Height of its underside above the floor of its space.
        base: Position;
        /// Width, seen from the front.
        width: Length;
        /// Depth, from front to back.
        depth: Length;
        /// Height of the body itself.
        height: Length;
        /// Which way its front (the control side) faces.
        facing: Compass;
        /// Where no word fits: the direction its front faces, clockwise from plan north.
        bearing: Angle;
        /// Its shape seen from above; a rectangle unless said.
        footprint: Footprint;
    }
}

words! {
    /// A side of a body.
    Side {
        /// The control side.
        Front "front",
        /// Opposite the control side.
        Back "back",
        /// Left of somebody who faces the front.
        Left "left",
        /// Right of somebody who faces the front.
        Right "right",
        /// Above it.
        Top "top",
        /// Below it.
        Bottom "bottom",
    }
}

record! {
    /// Free distances around a body.
    Clearances {
        /// In front.
        front: Length;
        /// Behind.
        back: Length;
        /// At the sides; the lesser where they differ.
        sides: Length;
        /// At the left alone, where it differs.
        left: Length;
        /// At the right alone, where it differs.
        right: Length;
        /// Above.
        above: Length;
        /// Below.
        below: Length;
        /// Around its vent connector.
        vent: Length;
        /// Around its supply plenum and the first 3 ft of duct.
        plenum: Length;
    }
}

words! {
    /// What lies on the other side.
    BeyondKind {
        /// Another space of this project.
        Space "space",
        /// The open air.
        Outdoors "outdoors",
        /// An attic that is not described as a space.
        Attic "attic",
        /// A crawl space that is not described as a space.
        CrawlSpace "crawl-space",
        /// A garage that is not described as a space.
        Garage "garage",
        /// Another dwelling unit.
        DwellingUnit "dwelling-unit",
        /// Conditioned rooms that are not described as spaces.
        Conditioned "conditioned",
        /// Earth.
        Ground "ground",
        /// The inside of a chimney or shaft.
        Shaft "shaft",
        /// Something else.
        Other "other",
    }
}

record! {
    /// The other side of an opening, a wall or a duct's end.
    Beyond: BeyondKind {
        /// The space, where the kind is `space`, or where an attic, crawl space or garage is described as one.
        space: String => "space";
    }
}
