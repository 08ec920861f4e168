//! A floor as a surface: flat triangles over the points measured on it.
//!
//! The surface is the Delaunay triangulation of the measured points with the edges of the slab, pads, recesses and break
//! lines forced into it. Where an edge has a corner nobody measured, its level is that of the surface of measured points
//! alone; outside their hull it is carried level from the nearest of them, and the share of floor that rests on such levels
//! is told ([`Surface::carried_share`]). Points are sorted first, so that their order never matters.

use spade::handles::FixedVertexHandle;
use spade::{ConstrainedDelaunayTriangulation, HasPosition, Point2, Triangulation};

/// A sunken part of a floor, with upright sides.
#[derive(Clone, Debug, PartialEq, Default)]
pub struct Sunken {
    /// Its outline.
    pub outline: Vec<[f64; 2]>,
    /// Its depth below the floor around it.
    pub depth: f64,
}

/// A drain in a floor.
#[derive(Clone, Debug, PartialEq)]
pub struct DrainSpot {
    /// Where its middle is.
    pub at: [f64; 2],
    /// Level of its rim; that of the floor there where it is not known.
    pub rim: Option<f64>,
    /// Half its width: heights measured within it are its own.
    pub radius: f64,
}

/// A door water may run out of.
#[derive(Clone, Debug, PartialEq)]
pub struct Door {
    /// Where its middle is.
    pub at: [f64; 2],
    /// Level of its threshold, where known; water never leaves by a door whose threshold is not.
    pub threshold: Option<f64>,
}

/// A measured floor, in metres.
#[derive(Clone, Debug, PartialEq, Default)]
pub struct Floor {
    /// The slab's outline; that of the measured points where it is empty.
    pub outline: Vec<[f64; 2]>,
    /// Measured points: x, y, level.
    pub points: Vec<[f64; 3]>,
    /// Lines along which it bends.
    pub break_lines: Vec<Vec<[f64; 2]>>,
    /// What water does not cross.
    pub pads: Vec<Vec<[f64; 2]>>,
    /// Sunken parts.
    pub recesses: Vec<Sunken>,
    /// Its drains.
    pub drains: Vec<DrainSpot>,
    /// Its doors.
    pub doors: Vec<Door>,
}

/// Why there is no surface.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum NoSurface {
    /// Fewer than three points that are not in one line.
    TooFewPoints,
    /// The outline encloses nothing of them.
    NothingInside,
}

/// A floor of flat triangles.
#[derive(Clone, Debug, PartialEq)]
pub struct Surface {
    /// Corners: x, y, level.
    pub nodes: Vec<[f64; 3]>,
    /// Triangles, counter-clockwise.
    pub faces: Vec<[usize; 3]>,
    /// The corners next to each corner.
    pub neighbours: Vec<Vec<usize>>,
    /// The node of each drain, where it lies on the floor.
    pub drains: Vec<Option<usize>>,
    /// The node of each door.
    pub doors: Vec<Option<usize>>,
    /// Thresholds of the doors.
    pub thresholds: Vec<Option<f64>>,
    /// Which nodes' levels are carried from the nearest measured point.
    pub carried: Vec<bool>,
}

/// How far apart two places count as one when edges and lines are joined to measured points: 1 in.
const JOIN: f64 = 0.0254;
/// Width of the upright side of a recess, as it is drawn: 1/8 in.
const SIDE: f64 = 0.003_175;

#[derive(Clone, Copy, Debug)]
struct Corner {
    at: [f64; 2],
    level: f64,
    carried: bool,
}

impl HasPosition for Corner {
    type Scalar = f64;
    fn position(&self) -> Point2<f64> {
        Point2::new(self.at[0], self.at[1])
    }
}

type Mesh = ConstrainedDelaunayTriangulation<Corner>;

impl Floor {
    /// The surface of the floor.
    ///
    /// # Errors
    /// Where the points do not make one.
    pub fn surface(&self) -> Result<Surface, NoSurface> {
        let points = merged(self.points.iter().filter(|p| p.iter().all(|c| c.is_finite())).map(|&p| rounded(p)).collect());
        let ground = Ground::of(points.iter().copied().filter(|p| self.on_floor([p[0], p[1]])).collect());
        let ground = if ground.faces.is_empty() { Ground::of(points.clone()) } else { ground };
        if ground.faces.is_empty() {
            return Err(NoSurface::TooFewPoints);
        }
        let mut builder = Builder::new(self, &ground, &points);
        builder.measured(&points);
        builder.rings();
        let surface = builder.surface();
        if surface.faces.is_empty() { Err(NoSurface::NothingInside) } else { Ok(surface) }
    }

    /// Whether a place is neither on a pad nor in a recess.
    fn on_floor(&self, at: [f64; 2]) -> bool {
        !self.pads.iter().any(|pad| inside(pad, at)) && !self.recesses.iter().any(|recess| inside(&recess.outline, at))
    }
}

/// The surface of the measured points alone, to read levels from.
struct Ground {
    points: Vec<[f64; 3]>,
    faces: Vec<[[f64; 3]; 3]>,
}

impl Ground {
    fn of(points: Vec<[f64; 3]>) -> Self {
        let mut mesh = Mesh::new();
        for p in &points {
            // Coordinates are finite and rounded: insertion cannot fail, and a point it refused would only be left out.
            let _ = mesh.insert(Corner { at: [p[0], p[1]], level: p[2], carried: false });
        }
        let corner = |v: spade::handles::VertexHandle<'_, Corner, _, _, _>| [v.data().at[0], v.data().at[1], v.data().level];
        let faces = mesh.inner_faces().map(|face| face.vertices().map(corner)).collect();
        Self { points, faces }
    }

    /// The level at a place, and whether it is carried from the nearest point.
    fn level(&self, at: [f64; 2]) -> (f64, bool) {
        for face in &self.faces {
            if let Some(shares) = shares(face, at) {
                return (face.iter().zip(shares).map(|(corner, share)| corner[2] * share).sum(), false);
            }
        }
        let near = self.points.iter().min_by(|a, b| far(**a, at).total_cmp(&far(**b, at)));
        (near.map_or(0.0, |point| point[2]), true)
    }
}

struct Builder<'a> {
    floor: &'a Floor,
    ground: &'a Ground,
    corners: Vec<Corner>,
    edges: Vec<[usize; 2]>,
    drains: Vec<usize>,
    doors: Vec<usize>,
    outline: Vec<[f64; 2]>,
}

impl<'a> Builder<'a> {
    fn new(floor: &'a Floor, ground: &'a Ground, points: &[[f64; 3]]) -> Self {
        let outline = if floor.outline.len() >= 3 { clean(&floor.outline) } else { hull(points) };
        Self { floor, ground, corners: Vec::new(), edges: Vec::new(), drains: Vec::new(), doors: Vec::new(), outline }
    }

    /// The corner at a place; the first one told there stays.
    fn corner(&mut self, at: [f64; 2], level: f64, carried: bool) -> usize {
        let at = [round(at[0]), round(at[1])];
        if let Some(known) = self.corners.iter().position(|corner| corner.at == at) {
            return known;
        }
        self.corners.push(Corner { at, level, carried });
        self.corners.len() - 1
    }

    /// Drains first, then the measured points that are floor.
    fn measured(&mut self, points: &[[f64; 3]]) {
        let own = |drain: &DrainSpot, p: &[f64; 3]| far(*p, drain.at) <= drain.radius * drain.radius;
        for drain in &self.floor.drains {
            let here = points.iter().filter(|p| own(drain, p)).min_by(|a, b| far(**a, drain.at).total_cmp(&far(**b, drain.at)));
            let level = drain.rim.or(here.map(|p| p[2])).unwrap_or_else(|| self.ground.level(drain.at).0);
            let node = self.corner(drain.at, level, false);
            self.drains.push(node);
        }
        for p in points {
            let at = [p[0], p[1]];
            let on_pad = self.floor.pads.iter().any(|pad| inside(pad, at));
            if !on_pad && !self.floor.drains.iter().any(|drain| own(drain, p)) {
                self.corner(at, p[2], false);
            }
        }
    }

    /// Every edge that is forced: the slab, pads, recesses, break lines. In an order of their own, not the project's.
    fn rings(&mut self) {
        let measured = self.corners.len();
        let mut doors: Vec<[f64; 2]> = Vec::new();
        for door in &self.floor.doors {
            doors.push(on_ring(&self.outline, door.at));
        }
        let mut slab = self.outline.clone();
        weave(&mut slab, &doors.iter().map(|d| (*d, f64::INFINITY)).collect::<Vec<_>>());
        let spots: Vec<_> = self.corners[..measured].iter().map(|corner| (corner.at, JOIN)).collect();
        weave(&mut slab, &spots);
        self.ring(&slab, 0.0, true);
        self.doors = doors
            .iter()
            .map(|&at| {
                let (level, carried) = self.ground.level(at);
                self.corner(at, level, carried)
            })
            .collect();
        let mut pads = self.floor.pads.clone();
        pads.sort_by(|a, b| order(a, b));
        for pad in pads {
            self.ring(&clean(&pad), 0.0, true);
        }
        let mut recesses = self.floor.recesses.clone();
        recesses.sort_by(|a, b| order(&a.outline, &b.outline).then(a.depth.total_cmp(&b.depth)));
        for recess in recesses.iter().filter(|recess| recess.outline.len() >= 3) {
            let lip = clean(&recess.outline);
            self.ring(&lip, 0.0, true);
            self.ring(&inset(&lip), recess.depth, true);
        }
        let mut lines = self.floor.break_lines.clone();
        lines.sort_by(|a, b| order(a, b));
        for line in lines {
            let joined: Vec<_> = line.iter().map(|&at| self.joined(at, measured)).collect();
            self.ring(&joined, 0.0, false);
        }
    }

    /// The measured point a place belongs to, or the place itself.
    fn joined(&self, at: [f64; 2], measured: usize) -> [f64; 2] {
        let near = self.corners[..measured].iter().map(|corner| corner.at).min_by(|a, b| gap(*a, at).total_cmp(&gap(*b, at)));
        near.filter(|near| gap(*near, at) <= JOIN * JOIN).unwrap_or(at)
    }

    fn ring(&mut self, places: &[[f64; 2]], below: f64, closed: bool) {
        let mut nodes = Vec::with_capacity(places.len());
        for &at in places.iter().filter(|at| at.iter().all(|c| c.is_finite())) {
            let (level, carried) = self.ground.level(at);
            nodes.push(self.corner(at, level - below, carried));
        }
        let count = nodes.len();
        let edges = nodes.iter().zip(nodes.iter().cycle().skip(1)).take(if closed { count } else { count.saturating_sub(1) });
        self.edges.extend(edges.map(|(a, b)| [*a, *b]).filter(|[a, b]| a != b));
    }

    fn surface(self) -> Surface {
        let mut order: Vec<usize> = (0..self.corners.len()).collect();
        order
            .sort_by(|a, b| place(&self.corners[*a]).partial_cmp(&place(&self.corners[*b])).unwrap_or(std::cmp::Ordering::Equal));
        let mut mesh = Mesh::new();
        let mut handles: Vec<Option<FixedVertexHandle>> = vec![None; self.corners.len()];
        for index in order {
            handles[index] = mesh.insert(self.corners[index]).ok();
        }
        for [a, b] in &self.edges {
            if let (Some(a), Some(b)) = (handles[*a], handles[*b]) {
                mesh.add_constraint_and_split(a, b, |p| {
                    let (level, carried) = self.ground.level([p.x, p.y]);
                    Corner { at: [p.x, p.y], level, carried }
                });
            }
        }
        let kept = |at: [f64; 2]| inside(&self.outline, at) && !self.floor.pads.iter().any(|pad| inside(pad, at));
        let corners: Vec<Corner> = mesh.vertices().map(|vertex| *vertex.data()).collect();
        let faces = mesh.inner_faces().map(|face| face.vertices().map(|vertex| vertex.fix().index()));
        let faces: Vec<[usize; 3]> = faces.filter(|face| kept(middle(face.map(|node| corners[node].at)))).collect();
        let node = |index: &usize| handles[*index].map(|handle| handle.index());
        let mut surface = Surface {
            nodes: corners.iter().map(|corner| [corner.at[0], corner.at[1], corner.level]).collect(),
            neighbours: neighbours(corners.len(), &faces),
            faces,
            drains: self.drains.iter().map(node).collect(),
            doors: self.doors.iter().map(node).collect(),
            thresholds: self.floor.doors.iter().map(|door| door.threshold).collect(),
            carried: corners.iter().map(|corner| corner.carried).collect(),
        };
        let beside = |node: &Option<usize>| node.filter(|node| !surface.neighbours[*node].is_empty());
        let (drains, doors) = (surface.drains.iter().map(beside).collect(), surface.doors.iter().map(beside).collect());
        (surface.drains, surface.doors) = (drains, doors);
        surface
    }
}

impl Surface {
    /// The corners of a triangle.
    pub fn corners(&self, face: &[usize; 3]) -> [[f64; 3]; 3] {
        face.map(|node| self.nodes[node])
    }

    /// Its plan area.
    pub fn area(&self) -> f64 {
        self.faces.iter().map(|face| plan_area(&self.corners(face))).sum()
    }

    /// The share of the area whose triangles rest on a level carried from the nearest measured point.
    pub fn carried_share(&self) -> f64 {
        let on = |face: &&[usize; 3]| face.iter().any(|node| self.carried[*node]);
        let carried: f64 = self.faces.iter().filter(on).map(|face| plan_area(&self.corners(face))).sum();
        let whole = self.area();
        if whole > 0.0 { carried / whole } else { 0.0 }
    }

    /// The level of the floor at a place; `None` off the floor.
    pub fn level(&self, at: [f64; 2]) -> Option<f64> {
        self.faces.iter().find_map(|face| {
            let corners = self.corners(face);
            shares(&corners, at).map(|shares| corners.iter().zip(shares).map(|(corner, share)| corner[2] * share).sum())
        })
    }
}

/// Plan area of a triangle.
pub(super) fn plan_area(t: &[[f64; 3]; 3]) -> f64 {
    ((t[1][0] - t[0][0]) * (t[2][1] - t[0][1]) - (t[2][0] - t[0][0]) * (t[1][1] - t[0][1])).abs() / 2.0
}

/// The shares of a triangle's corners in a place; `None` outside it.
fn shares(t: &[[f64; 3]; 3], at: [f64; 2]) -> Option<[f64; 3]> {
    let cross = |a: [f64; 3], b: [f64; 3]| (b[0] - a[0]) * (at[1] - a[1]) - (b[1] - a[1]) * (at[0] - a[0]);
    let parts = [cross(t[1], t[2]), cross(t[2], t[0]), cross(t[0], t[1])];
    let whole: f64 = parts.iter().sum();
    let within = whole != 0.0 && parts.iter().all(|part| part / whole >= -1e-9);
    within.then(|| parts.map(|part| part / whole))
}

/// Whether a place is inside a polygon.
fn inside(polygon: &[[f64; 2]], at: [f64; 2]) -> bool {
    let next = polygon.iter().cycle().skip(1);
    let crossed = polygon
        .iter()
        .zip(next)
        .filter(|(a, b)| (a[1] > at[1]) != (b[1] > at[1]) && at[0] < (b[0] - a[0]) * (at[1] - a[1]) / (b[1] - a[1]) + a[0]);
    polygon.len() >= 3 && crossed.count() % 2 == 1
}

fn neighbours(count: usize, faces: &[[usize; 3]]) -> Vec<Vec<usize>> {
    let mut all = vec![Vec::new(); count];
    for &[a, b, c] in faces {
        for (from, to) in [(a, b), (b, a), (b, c), (c, b), (c, a), (a, c)] {
            if !all[from].contains(&to) {
                all[from].push(to);
            }
        }
    }
    all.iter_mut().for_each(|list: &mut Vec<usize>| list.sort_unstable());
    all
}

/// Puts places into a ring where they lie within their reach of one of its edges.
fn weave(ring: &mut Vec<[f64; 2]>, places: &[([f64; 2], f64)]) {
    let mut woven = Vec::with_capacity(ring.len() + places.len());
    let mut rest: Vec<_> = places.to_vec();
    for (a, b) in ring.iter().zip(ring.iter().cycle().skip(1)) {
        woven.push(*a);
        let mut along: Vec<(f64, [f64; 2])> = Vec::new();
        rest.retain(|(at, reach)| {
            let (share, off) = beside(*a, *b, *at);
            let on = share > 0.0 && share < 1.0 && off <= if reach.is_infinite() { 1e-6 } else { *reach };
            if on {
                along.push((share, *at));
            }
            !on
        });
        along.sort_by(|x, y| x.0.total_cmp(&y.0));
        woven.extend(along.into_iter().map(|(_, at)| at));
    }
    woven.dedup();
    *ring = woven;
}

/// How far along an edge a place is, as a share of it, and how far beside it.
fn beside(a: [f64; 2], b: [f64; 2], at: [f64; 2]) -> (f64, f64) {
    let (along, off) = ([b[0] - a[0], b[1] - a[1]], [at[0] - a[0], at[1] - a[1]]);
    let length = along[0] * along[0] + along[1] * along[1];
    if length == 0.0 {
        return (0.0, gap(a, at).sqrt());
    }
    let share = (off[0] * along[0] + off[1] * along[1]) / length;
    let held = share.clamp(0.0, 1.0);
    (share, gap([a[0] + along[0] * held, a[1] + along[1] * held], at).sqrt())
}

/// The nearest place on a ring.
fn on_ring(ring: &[[f64; 2]], at: [f64; 2]) -> [f64; 2] {
    let edges = ring.iter().zip(ring.iter().cycle().skip(1));
    let nearest = edges.min_by(|x, y| beside(*x.0, *x.1, at).1.total_cmp(&beside(*y.0, *y.1, at).1));
    nearest.map_or(at, |(a, b)| {
        let share = beside(*a, *b, at).0.clamp(0.0, 1.0);
        [round(a[0] + (b[0] - a[0]) * share), round(a[1] + (b[1] - a[1]) * share)]
    })
}

/// A ring drawn in by the width of an upright side.
fn inset(ring: &[[f64; 2]]) -> Vec<[f64; 2]> {
    let count = ring.len();
    let twice: f64 = ring.iter().zip(ring.iter().cycle().skip(1)).map(|(a, b)| a[0] * b[1] - b[0] * a[1]).sum();
    let turn = if twice >= 0.0 { 1.0 } else { -1.0 };
    (0..count)
        .map(|index| {
            let (before, here, after) = (ring[(index + count - 1) % count], ring[index], ring[(index + 1) % count]);
            let (n1, n2) = (normal(before, here, turn), normal(here, after, turn));
            let blend = 1.0 + n1[0] * n2[0] + n1[1] * n2[1];
            let scale = SIDE / blend.max(0.2);
            [here[0] + (n1[0] + n2[0]) * scale, here[1] + (n1[1] + n2[1]) * scale]
        })
        .collect()
}

fn normal(a: [f64; 2], b: [f64; 2], turn: f64) -> [f64; 2] {
    let length = gap(a, b).sqrt();
    if length == 0.0 { [0.0; 2] } else { [-(b[1] - a[1]) / length * turn, (b[0] - a[0]) / length * turn] }
}

/// The convex hull, counter-clockwise.
fn hull(points: &[[f64; 3]]) -> Vec<[f64; 2]> {
    let half = |points: &mut dyn Iterator<Item = &[f64; 3]>| {
        let mut chain: Vec<[f64; 2]> = Vec::new();
        for p in points {
            while let [.., a, b] = chain[..] {
                if (b[0] - a[0]) * (p[1] - a[1]) - (b[1] - a[1]) * (p[0] - a[0]) > 0.0 {
                    break;
                }
                chain.pop();
            }
            chain.push([p[0], p[1]]);
        }
        chain.pop();
        chain
    };
    let mut ring = half(&mut points.iter());
    ring.extend(half(&mut points.iter().rev()));
    ring
}

/// Points sorted, several at one place made their mean.
fn merged(mut points: Vec<[f64; 3]>) -> Vec<[f64; 3]> {
    points.sort_by(|a, b| a[0].total_cmp(&b[0]).then(a[1].total_cmp(&b[1])).then(a[2].total_cmp(&b[2])));
    let same = |a: &[f64; 3], b: &[f64; 3]| a[0] == b[0] && a[1] == b[1];
    points.chunk_by(same).map(|all| [all[0][0], all[0][1], all.iter().map(|p| p[2]).sum::<f64>() / all.len() as f64]).collect()
}

fn clean(ring: &[[f64; 2]]) -> Vec<[f64; 2]> {
    let mut ring: Vec<_> =
        ring.iter().filter(|at| at.iter().all(|c| c.is_finite())).map(|at| [round(at[0]), round(at[1])]).collect();
    ring.dedup();
    ring
}

fn order(a: &[[f64; 2]], b: &[[f64; 2]]) -> std::cmp::Ordering {
    a.iter().flatten().partial_cmp(b.iter().flatten()).unwrap_or(std::cmp::Ordering::Equal)
}

fn place(corner: &Corner) -> [f64; 2] {
    corner.at
}

fn middle(at: [[f64; 2]; 3]) -> [f64; 2] {
    [(at[0][0] + at[1][0] + at[2][0]) / 3.0, (at[0][1] + at[1][1] + at[2][1]) / 3.0]
}

/// To a tenth of a micrometre, so that no two corners are almost one. Adding zero makes -0 into 0.
fn round(coordinate: f64) -> f64 {
    (coordinate * 1e7).round() / 1e7 + 0.0
}

fn rounded(p: [f64; 3]) -> [f64; 3] {
    [round(p[0]), round(p[1]), p[2]]
}

fn gap(a: [f64; 2], b: [f64; 2]) -> f64 {
    (a[0] - b[0]) * (a[0] - b[0]) + (a[1] - b[1]) * (a[1] - b[1])
}

fn far(p: [f64; 3], at: [f64; 2]) -> f64 {
    gap([p[0], p[1]], at)
}
