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
    /// What may run here: nobody says through which spaces it runs, nor draws it elsewhere.
    pub astray: Vec<Unresolved>,
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

    /// Holds what is not drawn against what the project says of it: pipes and ducts that keep clear of what must be free.
    pub fn undrawn_clear(&self, space: &Place<Space>, sheet: &mut Sheet) {
        if self.undrawn.is_empty() && self.astray.is_empty() {
            return;
        }
        let clear = need!(space, undrawn_runs_clear);
        if self.undrawn.is_empty() && clear.is_err() {
            return self.astray.iter().for_each(|astray| sheet.lack(astray.clone()));
        }
        let Some(clear) = sheet.want(clear) else { return };
        let many = self.undrawn.len().max(1).to_string();
        let words = if *clear { "keep clear of it, as the project says" } else { "do not keep clear of it, as the project says" };
        sheet.require("pipes and ducts", text!("{} whose line is not drawn {}", many, words), "as the project says", *clear);
    }

    fn add(&mut self, space: &Place<Space>, line: Line) {
        if line.spaces.is_none() && may_cross(space, line.line.as_ref()) {
            self.astray.push(Unresolved::at(format!("{}/spaces", line.pointer)));
        }
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

/// Whether a line may lead through a space: it does in plan, or one of the two is not drawn.
fn may_cross(space: &Place<Space>, line: Option<&Vec<p::Point>>) -> bool {
    let (Ok(room), Some(points)) = (crate::room(space), line) else { return true };
    let crosses = |pair: &[p::Point]| {
        let piece = Shape::line(point(&pair[0]), point(&pair[1]));
        room.contains(point(&pair[0])) || room.walls().iter().any(|wall| wall.face().overlap(&piece).is_some())
    };
    points.windows(2).any(crosses) || points.last().is_some_and(|last| room.contains(point(last)))
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
