//! The way water takes over a floor, and how steep it is.

use super::plan::plan_area;
use super::surface::Surface;

/// How a triangle slopes.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct FaceSlope {
    /// Its place in the list.
    pub face: usize,
    /// Its slope, rise over run.
    pub slope: f64,
    /// How far it reaches along its slope, in metres.
    pub run: f64,
    /// Its plan area, in square metres.
    pub area: f64,
}

/// Where a path ends.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum PathEnd {
    /// In a drain, by its place in the list.
    Drain(usize),
    /// In a hollow, at a node.
    Hollow(usize),
    /// Where the floor is level.
    Level,
}

/// A path of steepest descent.
#[derive(Clone, Debug, PartialEq)]
pub struct FlowPath {
    /// Its corners.
    pub points: Vec<[f64; 3]>,
    /// The least slope of its pieces.
    pub least_slope: f64,
    /// Length of the flattest piece, in metres.
    pub flattest_run: f64,
    /// Its length in plan, in metres.
    pub length: f64,
    /// Where it ends.
    pub end: PathEnd,
}

enum At {
    /// Entering a triangle at a place.
    Face(usize, [f64; 3]),
    /// Running down an edge towards its lower end.
    Edge(usize, [f64; 3]),
    /// At a corner.
    Node(usize),
    /// At the end.
    End(PathEnd),
}

/// Slopes below this are level: 1/1000 in/ft.
const LEVEL: f64 = 8e-5;
/// Pieces shorter than this do not count as the flattest: 3 in.
const SHORT: f64 = 0.0762;

impl Surface {
    /// The slope of every triangle.
    pub fn slopes(&self) -> Vec<FaceSlope> {
        let slope = |(face, nodes): (usize, &[usize; 3])| {
            let corners = self.corners(nodes);
            let [gx, gy] = gradient(&corners);
            let steepness = libm::hypot(gx, gy);
            let along = corners.map(|corner| (corner[0] * gx + corner[1] * gy) / steepness.max(1e-300));
            let reach =
                along.iter().copied().fold(f64::NEG_INFINITY, f64::max) - along.iter().copied().fold(f64::INFINITY, f64::min);
            let run = if steepness < 1e-12 { plan_area(&corners).sqrt() } else { reach };
            FaceSlope { face, slope: steepness, run, area: plan_area(&corners) }
        };
        self.faces.iter().enumerate().map(slope).collect()
    }

    /// The path water takes from the middle of every triangle.
    pub fn paths(&self) -> Vec<FlowPath> {
        let walker = Walker::new(self);
        (0..self.faces.len()).map(|face| walker.walk(face)).collect()
    }
}

struct Walker<'a> {
    surface: &'a Surface,
    gradients: Vec<[f64; 2]>,
    around: Vec<Vec<usize>>,
}

impl<'a> Walker<'a> {
    fn new(surface: &'a Surface) -> Self {
        let gradients = surface.faces.iter().map(|face| gradient(&surface.corners(face))).collect();
        let mut around = vec![Vec::new(); surface.nodes.len()];
        for (index, face) in surface.faces.iter().enumerate() {
            face.iter().for_each(|node| around[*node].push(index));
        }
        Self { surface, gradients, around }
    }

    fn walk(&self, face: usize) -> FlowPath {
        let corners = self.surface.corners(&self.surface.faces[face]);
        let start: [f64; 3] = std::array::from_fn(|axis| corners.iter().map(|corner| corner[axis]).sum::<f64>() / 3.0);
        let mut path =
            FlowPath { points: vec![start], least_slope: f64::INFINITY, flattest_run: 0.0, length: 0.0, end: PathEnd::Level };
        let mut at = At::Face(face, start);
        // Every piece goes down; the number only guards against rounding.
        for _ in 0..2 * self.surface.faces.len() + 16 {
            at = match at {
                At::Face(face, from) => self.over(face, from, &mut path),
                At::Edge(node, from) => {
                    let end = self.surface.nodes[node];
                    path.go(from, end);
                    if from[2] - end[2] <= LEVEL * libm::hypot(from[0] - end[0], from[1] - end[1]) && self.drain(node).is_none() {
                        At::End(PathEnd::Level)
                    } else {
                        At::Node(node)
                    }
                }
                At::Node(node) => self.at_node(node),
                At::End(end) => {
                    path.end = end;
                    break;
                }
            };
        }
        path
    }

    fn drain(&self, node: usize) -> Option<usize> {
        self.surface.drains.iter().position(|drain| *drain == Some(node))
    }

    /// Across a triangle, straight down its slope.
    fn over(&self, face: usize, from: [f64; 3], path: &mut FlowPath) -> At {
        let [gx, gy] = self.gradients[face];
        let steepness = libm::hypot(gx, gy);
        if steepness < LEVEL {
            path.flat(self.surface, face, steepness);
            return At::End(PathEnd::Level);
        }
        let (dx, dy) = (-gx / steepness, -gy / steepness);
        let nodes = self.surface.faces[face];
        let mut best: Option<(f64, usize, usize)> = None;
        for (a, b) in [(nodes[0], nodes[1]), (nodes[1], nodes[2]), (nodes[2], nodes[0])] {
            let (pa, pb) = (self.surface.nodes[a], self.surface.nodes[b]);
            let (ex, ey) = (pb[0] - pa[0], pb[1] - pa[1]);
            // Counter-clockwise: the outside lies to the right of each edge.
            let leaving = dx * ey - dy * ex;
            if leaving <= 1e-12 * libm::hypot(ex, ey) {
                continue;
            }
            let ahead = ((pa[0] - from[0]) * ey - (pa[1] - from[1]) * ex) / leaving;
            if best.is_none_or(|(least, ..)| ahead < least) {
                best = Some((ahead, a, b));
            }
        }
        let Some((ahead, a, b)) = best else { return At::End(PathEnd::Level) };
        let ahead = ahead.max(0.0);
        let at = [from[0] + dx * ahead, from[1] + dy * ahead];
        // The level is read from the edge: a sliver's slope is too steep to be multiplied.
        let to = [at[0], at[1], on_edge(self.surface.nodes[a], self.surface.nodes[b], at)];
        path.go(from, to);
        self.beyond(face, (a, b), to)
    }

    /// From an edge into the next triangle, or down the edge where that one rises.
    fn beyond(&self, face: usize, (a, b): (usize, usize), at: [f64; 3]) -> At {
        let (pa, pb) = (self.surface.nodes[a], self.surface.nodes[b]);
        for (node, corner) in [(a, pa), (b, pb)] {
            if libm::hypot(corner[0] - at[0], corner[1] - at[1]) < 1e-9 {
                return At::Node(node);
            }
        }
        let lower = if pa[2] <= pb[2] { a } else { b };
        let next = self.around[a].iter().copied().find(|&other| other != face && self.surface.faces[other].contains(&b));
        let Some(next) = next else { return At::Edge(lower, at) };
        let [gx, gy] = self.gradients[next];
        let (ex, ey) = (pb[0] - pa[0], pb[1] - pa[1]);
        // Down the next triangle leads away from this one when it leaves on this edge's outside.
        let away = -gx * ey + gy * ex;
        if away > 1e-12 || libm::hypot(gx, gy) < LEVEL { At::Face(next, at) } else { At::Edge(lower, at) }
    }

    /// At a corner: the steepest of the edges and triangles that lead down.
    fn at_node(&self, node: usize) -> At {
        if let Some(drain) = self.drain(node) {
            return At::End(PathEnd::Drain(drain));
        }
        let here = self.surface.nodes[node];
        let mut steepest = (LEVEL, None);
        for &other in &self.surface.neighbours[node] {
            let there = self.surface.nodes[other];
            let slope = (here[2] - there[2]) / libm::hypot(here[0] - there[0], here[1] - there[1]).max(1e-12);
            if slope > steepest.0 {
                steepest = (slope, Some(At::Edge(other, here)));
            }
        }
        for &face in &self.around[node] {
            let [gx, gy] = self.gradients[face];
            let slope = libm::hypot(gx, gy);
            if slope > steepest.0 && self.leads_into(node, face) {
                steepest = (slope, Some(At::Face(face, here)));
            }
        }
        steepest.1.unwrap_or_else(|| {
            let level = self.surface.neighbours[node].iter().any(|other| self.surface.nodes[*other][2] <= here[2]);
            At::End(if level { PathEnd::Level } else { PathEnd::Hollow(node) })
        })
    }

    /// Whether the steepest way down a triangle from one of its corners lies inside it.
    fn leads_into(&self, node: usize, face: usize) -> bool {
        let nodes = self.surface.faces[face];
        let Some(at) = nodes.iter().position(|corner| *corner == node) else { return false };
        let (here, a, b) =
            (self.surface.nodes[node], self.surface.nodes[nodes[(at + 1) % 3]], self.surface.nodes[nodes[(at + 2) % 3]]);
        let [gx, gy] = self.gradients[face];
        let cross = |x: [f64; 3], dx: f64, dy: f64| (x[0] - here[0]) * dy - (x[1] - here[1]) * dx;
        cross(a, -gx, -gy) > 0.0 && cross(b, -gx, -gy) < 0.0
    }
}

impl FlowPath {
    fn go(&mut self, from: [f64; 3], to: [f64; 3]) {
        let run = libm::hypot(to[0] - from[0], to[1] - from[1]);
        if run < 1e-9 {
            return;
        }
        self.length += run;
        self.points.push(to);
        let slope = (from[2] - to[2]) / run;
        if run >= SHORT && slope < self.least_slope {
            (self.least_slope, self.flattest_run) = (slope, run);
        }
    }

    fn flat(&mut self, surface: &Surface, face: usize, slope: f64) {
        if slope < self.least_slope {
            (self.least_slope, self.flattest_run) = (slope, plan_area(&surface.corners(&surface.faces[face])).sqrt());
        }
    }
}

/// Rise over run of a triangle's plane, east and north.
fn gradient(t: &[[f64; 3]; 3]) -> [f64; 2] {
    let (u, v) =
        ([t[1][0] - t[0][0], t[1][1] - t[0][1], t[1][2] - t[0][2]], [t[2][0] - t[0][0], t[2][1] - t[0][1], t[2][2] - t[0][2]]);
    let determinant = u[0] * v[1] - u[1] * v[0];
    if determinant == 0.0 {
        return [0.0; 2];
    }
    [(u[2] * v[1] - u[1] * v[2]) / determinant, (u[0] * v[2] - u[2] * v[0]) / determinant]
}

/// The level of an edge beside a place.
fn on_edge(a: [f64; 3], b: [f64; 3], at: [f64; 2]) -> f64 {
    let (ex, ey) = (b[0] - a[0], b[1] - a[1]);
    let length = ex * ex + ey * ey;
    let share = if length > 0.0 { ((at[0] - a[0]) * ex + (at[1] - a[1]) * ey) / length } else { 0.0 };
    a[2] + (b[2] - a[2]) * share.clamp(0.0, 1.0)
}
