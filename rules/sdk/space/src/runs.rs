//! Pipes and ducts in the open.

use crate::point;
use redtag_handbook::space::{Body, Point, Shape, Solid};
use redtag_rule::prelude::*;
use redtag_rule::schema::project as p;

/// How near the end of a run comes to what it is joined to, in metres (6 in).
const JOINED: f64 = 6.0 * 0.0254;

/// A straight piece of a pipe or duct.
#[derive(Debug, Clone)]
pub struct Run {
    /// Its pointer.
    pub pointer: String,
    /// What to call it.
    pub label: String,
    /// Where it runs; heights from the floor of the room.
    pub solid: Solid,
    /// Where the whole line begins and ends.
    pub ends: [Point; 2],
    /// The equipment it says it belongs to.
    pub of: Option<String>,
}

impl Run {
    /// Whether it is joined to a piece of equipment: it says so, or its line begins or ends there.
    pub fn joins(&self, id: &str, body: &Body) -> bool {
        let plan = body.plan();
        let near = |end: &Point| plan.gap(&Shape::circle(*end, 0.0)).distance <= JOINED;
        self.of.as_deref() == Some(id) || self.ends.iter().any(near)
    }
}

/// The pipes and ducts of a room: those drawn, and those that are there without a line or a height.
#[derive(Debug, Clone, Default)]
pub struct Runs {
    /// What is drawn.
    pub drawn: Vec<Run>,
    /// Pointers of what runs here and nobody says where.
    pub undrawn: Vec<String>,
}

/// One thing that runs along a line.
struct Line<'a> {
    pointer: String,
    label: String,
    spaces: &'a Option<Vec<String>>,
    line: &'a Option<Vec<p::Point>>,
    /// Width in plan.
    width: Option<f64>,
    /// Underside and top above the floor.
    heights: Option<(f64, f64)>,
    /// The equipment it says it belongs to.
    of: Option<String>,
}

impl Runs {
    /// What runs through a room.
    pub fn of(inquiry: &Inquiry, space: &Place<Space>) -> Self {
        let floor = space.floor_elevation.as_ref().map_or(0.0, |elevation| elevation.si());
        let mut runs = Self::default();
        let project = inquiry.project();
        need!(project, ducts).every().iter().for_each(|duct| runs.add(space, duct_line(duct)));
        for segment in need!(project, gas.segments).every() {
            let heights = about(segment.height.as_ref(), segment.nominal_size.as_ref());
            let (pipe, label) = (segment.get(), format!("gas pipe {}", segment.id));
            runs.add(space, pipe_line(segment.pointer(), label, (&pipe.spaces, &pipe.line), &pipe.nominal_size, heights));
        }
        for water in need!(project, water.pipes).every() {
            let heights = about(water.height.as_ref(), water.size.as_ref());
            let (pipe, label) = (water.get(), format!("water pipe {}", water.id));
            runs.add(space, pipe_line(water.pointer(), label, (&pipe.spaces, &pipe.line), &pipe.size, heights));
        }
        for drain in need!(project, drainage.pipes).every() {
            let (pipe, label) = (drain.get(), format!("drain pipe {}", drain.id));
            let heights = drain_heights(pipe, floor);
            runs.add(space, pipe_line(drain.pointer(), label, (&pipe.spaces, &pipe.line), &pipe.size, heights));
        }
        runs
    }

    fn add(&mut self, space: &Place<Space>, line: Line) {
        if !line.spaces.iter().flatten().any(|through| *through == space.id) {
            return;
        }
        match (line.line, line.width, line.heights) {
            (Some(points), Some(width), Some((bottom, top))) if points.len() > 1 => {
                let ends = [point(&points[0]), point(&points[points.len() - 1])];
                let run = |pair: &[p::Point]| {
                    let plan = Shape::line(point(&pair[0]), point(&pair[1])).grown(width / 2.0);
                    let (pointer, label, of) = (line.pointer.clone(), line.label.clone(), line.of.clone());
                    Run { pointer, label, solid: Solid::new(plan, bottom, top), ends, of }
                };
                self.drawn.extend(points.windows(2).map(run));
            }
            _ => self.undrawn.push(line.pointer),
        }
    }
}

fn about(height: Option<&quantity::Length>, size: Option<&quantity::Length>) -> Option<(f64, f64)> {
    let (height, half) = (height?.si(), size?.si() / 2.0);
    Some((height - half, height + half))
}

fn drain_heights(drain: &p::DrainPipe, floor: f64) -> Option<(f64, f64)> {
    let (upper, lower) = (drain.upper_invert.as_ref()?.si() - floor, drain.lower_invert.as_ref()?.si() - floor);
    Some((upper.min(lower), upper.max(lower) + drain.size.as_ref()?.si()))
}

fn pipe_line<'a>(
    pointer: &str,
    label: String,
    (spaces, line): (&'a Option<Vec<String>>, &'a Option<Vec<p::Point>>),
    size: &Option<quantity::Length>,
    heights: Option<(f64, f64)>,
) -> Line<'a> {
    Line { pointer: pointer.to_owned(), label, spaces, line, width: size.as_ref().map(|size| size.si()), heights, of: None }
}

fn duct_line<'a>(duct: &Place<'a, Duct>) -> Line<'a> {
    let size = |side: &Option<quantity::Length>| side.as_ref().or(duct.diameter.as_ref()).map(|size| size.si());
    let heights = duct.base.as_ref().zip(size(&duct.height)).map(|(base, height)| (base.si(), base.si() + height));
    let (spaces, line) = (&duct.get().spaces, &duct.get().line);
    Line {
        pointer: duct.pointer().to_owned(),
        label: duct.label(),
        spaces,
        line,
        width: size(&duct.width),
        heights,
        of: duct.equipment.clone(),
    }
}
