//! A floor as a surface: flat triangles over the points measured on it.
//!
//! The surface is the Delaunay triangulation of the measured points with the edges of the slab, pads, recesses and break
//! lines forced into it. Where an edge has a corner nobody measured, its level is that of the surface of measured points
//! alone; outside their hull it is carried level from the nearest of them, and the share of floor that rests on such levels
//! is told ([`Surface::carried_share`]). Points are sorted first, so that their order never matters.

use super::plan::{
    clean, crossing, far, gap, hull, inset, merged, middle, on_ring, order, plan_area, round, rounded, shares, weave,
};
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

/// Both ends of an edge, to sort by.
struct Ends([f64; 4]);

impl Ends {
    fn total_cmp_all(&self, other: &Self) -> std::cmp::Ordering {
        let pairs = self.0.iter().zip(&other.0).map(|(a, b)| a.total_cmp(b));
        pairs.fold(std::cmp::Ordering::Equal, std::cmp::Ordering::then)
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
        !self.pads.iter().any(|pad| redtag_plan::contains(pad, at))
            && !self.recesses.iter().any(|recess| redtag_plan::contains(&recess.outline, at))
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
            let on_pad = self.floor.pads.iter().any(|pad| redtag_plan::contains(pad, at));
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

    /// Cuts the edges where they meet, so that none crosses another. They are sorted first: the order of the project's lists
    /// must not show. What rounding leaves crossing all the same is left out when the edges are forced.
    fn cut(&mut self) {
        let mut edges: Vec<[usize; 2]> =
            self.edges.iter().map(|&[a, b]| if self.before(b, a) { [b, a] } else { [a, b] }).collect();
        edges.sort_by(|x, y| self.sorted(x).total_cmp_all(&self.sorted(y)));
        edges.dedup();
        let mut cuts: Vec<Vec<(f64, usize)>> = vec![Vec::new(); edges.len()];
        for first in 0..edges.len() {
            for second in first + 1..edges.len() {
                let [p, q] = edges[first].map(|node| self.corners[node].at);
                let [r, s] = edges[second].map(|node| self.corners[node].at);
                if let Some((along_first, along_second)) = crossing([p, q], [r, s]) {
                    let at = [p[0] + (q[0] - p[0]) * along_first, p[1] + (q[1] - p[1]) * along_first];
                    let (level, carried) = self.ground.level(at);
                    let node = self.corner(at, level, carried);
                    cuts[first].push((along_first, node));
                    cuts[second].push((along_second, node));
                }
            }
        }
        let parts = edges.iter().zip(cuts).flat_map(|(&[from, to], mut cuts)| {
            cuts.sort_by(|a, b| a.0.total_cmp(&b.0));
            let stops: Vec<usize> = [from].into_iter().chain(cuts.into_iter().map(|(_, node)| node)).chain([to]).collect();
            stops.windows(2).map(|pair| [pair[0], pair[1]]).filter(|[a, b]| a != b).collect::<Vec<_>>()
        });
        self.edges = parts.collect();
    }

    fn before(&self, a: usize, b: usize) -> bool {
        let (a, b) = (self.corners[a].at, self.corners[b].at);
        a[0].total_cmp(&b[0]).then(a[1].total_cmp(&b[1])).is_lt()
    }

    fn sorted(&self, edge: &[usize; 2]) -> Ends {
        let [a, b] = edge.map(|node| self.corners[node].at);
        Ends([a[0], a[1], b[0], b[1]])
    }

    fn surface(mut self) -> Surface {
        self.cut();
        let mut order: Vec<usize> = (0..self.corners.len()).collect();
        order
            .sort_by(|a, b| place(&self.corners[*a]).partial_cmp(&place(&self.corners[*b])).unwrap_or(std::cmp::Ordering::Equal));
        let mut mesh = Mesh::new();
        let mut handles: Vec<Option<FixedVertexHandle>> = vec![None; self.corners.len()];
        for index in order {
            handles[index] = mesh.insert(self.corners[index]).ok();
        }
        for [a, b] in &self.edges {
            if let (Some(a), Some(b)) = (handles[*a], handles[*b])
                && a != b
                && mesh.can_add_constraint(a, b)
            {
                mesh.add_constraint(a, b);
            }
        }
        let kept = |at: [f64; 2]| {
            redtag_plan::contains(&self.outline, at) && !self.floor.pads.iter().any(|pad| redtag_plan::contains(pad, at))
        };
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

fn place(corner: &Corner) -> [f64; 2] {
    corner.at
}
