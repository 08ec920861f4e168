//! How wide one can walk.
//!
//! The widest upright round body that can walk from one place to another past convex obstacles, exactly. Two obstacles nearer
//! to each other than the body's width form a barrier. Barriers part two places only where some of them close to a ring around
//! one of the two: a chain of obstacles whose line crosses a ray from one place, and a ray from the other, an odd number of
//! times between them. So the pairs are joined from the nearest on, and the first that closes such a ring is the pinch; its
//! distance is the width. (A union of convex sets has the shape of its nerve, so no ring is missed and none is invented.)

use super::{Point, Room, Shape, TOUCHING};

/// Two obstacles and their nearest points.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Pair {
    /// The two, by their places in the list.
    pub pieces: (usize, usize),
    /// How far apart they are.
    pub distance: f64,
    /// The nearest point of the first.
    pub from: Point,
    /// The nearest point of the second.
    pub to: Point,
}

/// What limits the width of a way.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Widest {
    /// The way is pinched between two obstacles.
    Pinched(Pair),
    /// Nothing on the way is narrower than the place it leads to, which is this wide, limited by this obstacle.
    AtGoal(f64, usize),
    /// Nothing limits it.
    Open,
}

impl Widest {
    /// The width, in metres; infinite where nothing limits it.
    pub fn width(&self) -> f64 {
        match self {
            Self::Pinched(pair) => pair.distance,
            Self::AtGoal(width, _) => *width,
            Self::Open => f64::INFINITY,
        }
    }
}

/// Obstacles made ready to ask how wide one can walk between them.
#[derive(Debug, Clone)]
pub struct Passages {
    pieces: Vec<Shape>,
    pairs: Vec<(Pair, [Point; 4])>,
}

impl Passages {
    /// Makes obstacles ready. Give the walls too ([`Room::faces`], with the gap of the door one comes in by). Pairs whose gap
    /// lies outside the room do not count.
    pub fn new(room: &Room, pieces: Vec<Shape>) -> Self {
        let mut pairs = Vec::new();
        for first in 0..pieces.len() {
            for second in first + 1..pieces.len() {
                let gap = pieces[first].gap(&pieces[second]);
                if gap.distance > TOUCHING && !room.contains((gap.from + gap.to) / 2.0) {
                    continue;
                }
                let pair = Pair { pieces: (first, second), distance: gap.distance, from: gap.from, to: gap.to };
                pairs.push((pair, [pieces[first].middle(), gap.from, gap.to, pieces[second].middle()]));
            }
        }
        pairs.sort_by(|a, b| a.0.distance.total_cmp(&b.0.distance));
        Self { pieces, pairs }
    }

    /// The obstacles.
    pub fn pieces(&self) -> &[Shape] {
        &self.pieces
    }

    /// The widest way between two places; how much room there is at `from` itself does not count, at `to` it does.
    pub fn widest(&self, from: Point, to: Point) -> Widest {
        let pinch = self.pinch(from, to);
        let (here, nearest) = self.clearance(to);
        match pinch {
            Some(pair) if pair.distance <= 2.0 * here => Widest::Pinched(pair),
            _ if nearest == usize::MAX => Widest::Open,
            _ => Widest::AtGoal(2.0 * here, nearest),
        }
    }

    /// The pair that pinches the way between two places; `None` where no width is too much.
    pub fn pinch(&self, from: Point, to: Point) -> Option<Pair> {
        self.pinch_among(from, to, |_| true)
    }

    /// The same among some of the obstacles only.
    pub fn pinch_among(&self, from: Point, to: Point, counts: impl Fn(usize) -> bool) -> Option<Pair> {
        let mut rings = Rings::new(self.pieces.len());
        let closes = |(pair, chain): &&(Pair, [Point; 4])| {
            if !counts(pair.pieces.0) || !counts(pair.pieces.1) {
                return false;
            }
            let odd = crossings(chain, from) ^ crossings(chain, to);
            rings.join(pair.pieces.0, pair.pieces.1, odd)
        };
        self.pairs.iter().find(closes).map(|(pair, _)| *pair)
    }

    /// How far a place is from the nearest obstacle, and which that is.
    pub fn clearance(&self, at: Point) -> (f64, usize) {
        let distances = self.pieces.iter().enumerate().map(|(index, piece)| (piece.distance(at), index));
        distances.min_by(|a, b| a.0.total_cmp(&b.0)).unwrap_or((f64::INFINITY, usize::MAX))
    }
}

/// Whether a chain of straight pieces crosses the ray east of a place an odd number of times.
fn crossings(chain: &[Point], place: Point) -> bool {
    chain.windows(2).fold(false, |odd, pair| {
        let (a, b) = (pair[0], pair[1]);
        if (a.y > place.y) == (b.y > place.y) {
            return odd;
        }
        odd ^ (a.x + (place.y - a.y) / (b.y - a.y) * (b.x - a.x) > place.x)
    })
}

/// Obstacles joined so far, each with the parity of its chain to the first of its group.
struct Rings {
    parent: Vec<(usize, bool)>,
}

impl Rings {
    fn new(count: usize) -> Self {
        Self { parent: (0..count).map(|index| (index, false)).collect() }
    }

    fn root(&mut self, mut index: usize) -> (usize, bool) {
        let mut odd = false;
        while self.parent[index].0 != index {
            let (above, parity) = self.parent[index];
            let (top, further) = self.parent[above];
            self.parent[index] = (top, parity ^ further);
            odd ^= self.parent[index].1;
            index = top;
        }
        (index, odd)
    }

    /// Joins two; answers whether that closes a ring of odd parity.
    fn join(&mut self, a: usize, b: usize, odd: bool) -> bool {
        let ((root_a, odd_a), (root_b, odd_b)) = (self.root(a), self.root(b));
        let parity = odd ^ odd_a ^ odd_b;
        if root_a == root_b {
            return parity;
        }
        self.parent[root_a] = (root_b, parity);
        false
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::space::point;

    fn inch(x: f64, y: f64) -> Point {
        point(x * 0.0254, y * 0.0254)
    }

    fn rectangle(x: (f64, f64), y: (f64, f64)) -> Shape {
        Shape::convex(&[inch(x.0, y.0), inch(x.1, y.0), inch(x.1, y.1), inch(x.0, y.1)])
    }

    // The access chapter's worked example of a service path: the handbook's own computation, checked with an outside geometry
    // library (see reference/space.py).
    #[test]
    fn the_worked_room_has_its_widths() {
        let room = Room::new(&[inch(0.0, 0.0), inch(120.0, 0.0), inch(120.0, 96.0), inch(0.0, 96.0)], &[]).unwrap();
        let door = room.doorway(inch(60.0, 0.0), 32.0 * 0.0254, 0.1).unwrap();
        let mut pieces: Vec<Shape> = room.faces(Some(&door)).into_iter().map(|(_, face)| face).collect();
        let walls = pieces.len();
        pieces.push(rectangle((10.0, 31.0), (66.5, 96.0)));
        pieces.push(rectangle((0.0, 10.0), (30.0, 47.0)));
        pieces.push(rectangle((100.0, 118.0), (52.0, 85.0)));
        pieces.push(Shape::circle(inch(60.0, 80.0), 12.0 * 0.0254));
        let ways = Passages::new(&room, pieces);
        let from = door.middle + door.out * 0.001;
        for goal in [inch(25.0, 51.5), inch(25.0, 38.5), inch(85.0, 68.5)] {
            let widest = ways.widest(from, goal);
            assert!((widest.width() / 0.0254 - 30.0).abs() < 1e-9, "{goal:?}: {widest:?}");
        }
        // Behind the gap between furnace and pressure tank.
        let pair = ways.pinch(from, inch(35.0, 94.0)).unwrap();
        assert!(pair.pieces == (walls, walls + 3) && (pair.distance / 0.0254 - 17.0).abs() < 1e-9, "{pair:?}");
        assert!((ways.pinch(from, inch(60.0, 40.0)).unwrap().distance / 0.0254 - 32.0).abs() < 1e-9, "the door");
    }

    #[test]
    fn a_place_in_an_obstacle_has_no_width() {
        let room = Room::new(&[inch(0.0, 0.0), inch(99.0, 0.0), inch(99.0, 99.0), inch(0.0, 99.0)], &[]).unwrap();
        let ways = Passages::new(&room, vec![rectangle((10.0, 20.0), (10.0, 20.0))]);
        assert_eq!(ways.widest(inch(50.0, 50.0), inch(15.0, 15.0)), Widest::AtGoal(0.0, 0));
        assert_eq!(Passages::new(&room, Vec::new()).widest(inch(1.0, 1.0), inch(2.0, 2.0)), Widest::Open);
    }
}
