//! What a project draws, as shapes in metres, and what is missing to draw it.
//!
//! Every reader of a drawing reads it here: the gate of documents, the rules, the handbook's floors, every picture. So a body
//! stands at one place and looks one way whoever asks. There is no trade in it and no rule.
//!
//! Plan coordinates run east (x) and north (y), heights up; all in metres, bearings in radians clockwise from plan north.
//!
//! ```
//! # use redtag_schema::project::Placement;
//! let placement: Placement = serde_json::from_value(serde_json::json!(
//!     {"x": "1 m", "y": "2 m", "width": "2 m", "depth": "1 m", "height": "1 m", "facing": "east"}))?;
//! let body = redtag_plan::body(&placement, true).map_err(|lacking| format!("{lacking:?}"))?;
//! assert_eq!(body.bounds(), [[0.5, 1.0], [1.5, 3.0]]);
//! let unplaced = Placement { x: None, ..placement };
//! assert_eq!(redtag_plan::body(&unplaced, true).unwrap_err(), ["x"]);
//! # Ok::<(), Box<dyn std::error::Error>>(())
//! ```

mod bearing;
mod body;
mod ring;
mod room;

pub use bearing::{direction, front, of_compass};
pub use body::{Body, body, footprint, overlap};
pub use ring::{area, contains, distance_to_edge, signed_area};
pub use room::{Opened, Outline, Run, opening, outline, run};

/// A place in plan: east and north of the datum.
pub type At = [f64; 2];

/// A point of a project.
pub fn at(point: &redtag_schema::project::Point) -> At {
    [point.x.si(), point.y.si()]
}

/// The corners of a list of points.
pub fn corners(points: &[redtag_schema::project::Point]) -> Vec<At> {
    points.iter().map(at).collect()
}
