//! Zones before a face that may slide left and right: is there a place for one, how deep could it be.

use super::{Face, Point, Room, Solid, TOUCHING, dot, point};

/// A place where the zone is free.
#[derive(Debug, Clone, PartialEq)]
pub struct Found {
    /// How far its middle is shifted along the face, to the right of somebody who looks at it.
    pub shift: f64,
    /// The zone.
    pub zone: Solid,
}

/// The deepest zone there is where the one asked for has no place.
#[derive(Debug, Clone, PartialEq)]
pub struct Blocked {
    /// How deep a zone of the width asked for can be, at best.
    pub depth: f64,
    /// Where it would be.
    pub shift: f64,
    /// The zone asked for, at that place.
    pub zone: Solid,
    /// What limits its depth there: a place in the list of obstacles; `None` for a wall.
    pub by: Option<usize>,
}

/// An obstacle before a face: `x` runs along the face from its middle, `y` away from it.
struct Ahead {
    corners: Vec<Point>,
    radius: f64,
    index: Option<usize>,
}

/// A zone to find a place for.
struct Search<'r> {
    face: Face,
    width: f64,
    most_shift: f64,
    room: Option<&'r Room>,
    ahead: Vec<Ahead>,
}

impl Face {
    /// Looks for a place for a zone `size` (width, depth) between two heights that covers at least `cover` of the face's width
    /// and into which no obstacle and no wall reaches. The place nearest to the middle is taken. To have the zone take in the
    /// whole face, or lie within it where the face is wider, ask for the lesser of both widths.
    ///
    /// # Errors
    /// The deepest zone there is, with what is in its way.
    pub fn find_space(
        &self,
        (width, depth): (f64, f64),
        heights: (f64, f64),
        cover: f64,
        room: Option<&Room>,
        obstacles: &[Solid],
    ) -> Result<Found, Blocked> {
        let search = Search::new(self, (width, depth), heights, cover, room, obstacles);
        if let Some(shift) = search.place(depth) {
            return Ok(Found { shift, zone: self.zone(depth, width, shift, heights) });
        }
        let (depth_there, shift) = search.deepest(depth);
        let by = search.nearest(shift);
        Err(Blocked { depth: depth_there, shift, zone: self.zone(depth, width, shift, heights), by })
    }

    /// How deep a zone of a width can be before the face, up to `most`, and where: (depth, shift).
    pub fn deepest_space(
        &self,
        (width, most): (f64, f64),
        heights: (f64, f64),
        cover: f64,
        room: Option<&Room>,
        obstacles: &[Solid],
    ) -> (f64, f64) {
        Search::new(self, (width, most), heights, cover, room, obstacles).deepest(most)
    }
}

impl<'r> Search<'r> {
    fn new(
        face: &Face,
        (width, depth): (f64, f64),
        heights: (f64, f64),
        cover: f64,
        room: Option<&'r Room>,
        obstacles: &[Solid],
    ) -> Self {
        let most_shift = ((face.width + width) / 2.0 - cover.min(face.width).min(width)).max(0.0);
        let band = Solid::new(super::Shape::circle(face.middle, 0.0), heights.0, heights.1);
        let local = |at: Point| point(dot(at - face.middle, face.along), dot(at - face.middle, face.out));
        let mut ahead = Vec::new();
        let mut add = |shape: &super::Shape, index: Option<usize>| {
            let round = shape.corners().len() == 1;
            let corners: Vec<Point> = if round || shape.radius() <= 0.0 {
                shape.corners().iter().map(|&corner| local(corner)).collect()
            } else {
                shape.outline().exterior().0.iter().map(|&corner| local(corner)).collect()
            };
            let radius = if round { shape.radius() } else { 0.0 };
            let (near, far) = spread(&corners, |corner| corner.y);
            let (left, right) = spread(&corners, |corner| corner.x);
            let wide = most_shift + width / 2.0;
            let reaches = near - radius < depth - TOUCHING
                && far + radius > TOUCHING
                && left - radius < wide - TOUCHING
                && right + radius > TOUCHING - wide;
            if reaches {
                ahead.push(Ahead { corners, radius, index });
            }
        };
        for (index, obstacle) in obstacles.iter().enumerate() {
            if obstacle.shares_height(&band) {
                add(&obstacle.plan, Some(index));
            }
        }
        for wall in room.map_or(&[][..], Room::walls) {
            add(&wall.face(), None);
        }
        Self { face: *face, width, most_shift, room, ahead }
    }

    /// The shift nearest to the middle at which a zone of this depth is free.
    fn place(&self, depth: f64) -> Option<f64> {
        let half = self.width / 2.0;
        let barred: Vec<(f64, f64)> = self
            .ahead
            .iter()
            .filter_map(|obstacle| obstacle.along(depth))
            .map(|(left, right)| (left - half, right + half))
            .collect();
        let ends = barred.iter().flat_map(|&(left, right)| [left, right]);
        let mut shifts: Vec<f64> = ends.chain([0.0]).filter(|shift| shift.abs() <= self.most_shift + TOUCHING).collect();
        shifts.sort_by(|a, b| a.abs().total_cmp(&b.abs()).then(a.total_cmp(b)));
        let free = |&shift: &f64| {
            barred.iter().all(|&(left, right)| shift <= left + TOUCHING || shift >= right - TOUCHING)
                && self.indoors(shift, depth)
        };
        shifts.into_iter().find(free)
    }

    /// Whether the zone there, which no wall cuts, lies in the room.
    fn indoors(&self, shift: f64, depth: f64) -> bool {
        let middle = self.face.middle + self.face.along * shift + self.face.out * (depth / 2.0);
        self.room.is_none_or(|room| room.contains(middle))
    }

    /// The deepest zone, up to a depth, to a hundredth of a millimetre: (depth, shift).
    fn deepest(&self, most: f64) -> (f64, f64) {
        if let Some(shift) = self.place(most) {
            return (most, shift);
        }
        let (mut free, mut barred, mut at) = (0.0, most, 0.0);
        while barred - free > 1e-5 {
            let middle = (free + barred) / 2.0;
            match self.place(middle) {
                Some(shift) => (free, at) = (middle, shift),
                None => barred = middle,
            }
        }
        let exact = self.depth_at(at).map_or(free, |(depth, _)| depth);
        (if (exact - free).abs() < 1e-4 { exact } else { free }, at)
    }

    /// How deep the zone at a shift is free, and up to what.
    fn depth_at(&self, shift: f64) -> Option<(f64, Option<usize>)> {
        let half = (self.width / 2.0 - 3.0 * TOUCHING).max(0.0);
        let window = (shift - half, shift + half);
        let depths = self.ahead.iter().filter_map(|obstacle| Some((obstacle.near(window)?, obstacle.index)));
        depths.min_by(|a, b| a.0.total_cmp(&b.0))
    }

    fn nearest(&self, shift: f64) -> Option<usize> {
        self.depth_at(shift).and_then(|(_, index)| index)
    }
}

impl Ahead {
    /// What part of the strip before the face, up to a depth, it takes: from, to along the face.
    fn along(&self, depth: f64) -> Option<(f64, f64)> {
        let (near, far) = (TOUCHING, depth - TOUCHING);
        if let [middle] = self.corners.as_slice() {
            let beside = middle.y - middle.y.clamp(near, far);
            let square = self.radius * self.radius - beside * beside;
            return (square > 0.0 || (self.radius == 0.0 && beside == 0.0))
                .then(|| (middle.x - square.max(0.0).sqrt(), middle.x + square.max(0.0).sqrt()));
        }
        let within = clipped(&clipped(&self.corners, |at| at.y - near), |at| far - at.y);
        (!within.is_empty()).then(|| spread(&within, |corner| corner.x))
    }

    /// How far from the face it begins between two places along it; `None` where it has no part there before the face.
    fn near(&self, window: (f64, f64)) -> Option<f64> {
        if let [middle] = self.corners.as_slice() {
            let beside = middle.x - middle.x.clamp(window.0, window.1);
            let square = self.radius * self.radius - beside * beside;
            let ahead = middle.y + square.max(0.0).sqrt() > TOUCHING;
            return (ahead && (square > 0.0 || (self.radius == 0.0 && beside == 0.0)))
                .then(|| (middle.y - square.max(0.0).sqrt()).max(0.0));
        }
        let within = clipped(&clipped(&self.corners, |at| at.x - window.0), |at| window.1 - at.x);
        let (near, far) = (!within.is_empty()).then(|| spread(&within, |corner| corner.y))?;
        (far > TOUCHING).then_some(near.max(0.0))
    }
}

fn spread(corners: &[Point], measure: impl Fn(&Point) -> f64) -> (f64, f64) {
    let all = corners.iter().map(measure);
    all.fold((f64::INFINITY, f64::NEG_INFINITY), |(least, most), at| (least.min(at), most.max(at)))
}

/// The part of a convex polygon, or of a line, on the side where a linear measure is not negative.
fn clipped(corners: &[Point], measure: impl Fn(Point) -> f64) -> Vec<Point> {
    let mut kept = Vec::with_capacity(corners.len() + 1);
    for (index, &from) in corners.iter().enumerate() {
        let to = corners[(index + 1) % corners.len()];
        let (a, b) = (measure(from), measure(to));
        if a >= 0.0 {
            kept.push(from);
        }
        if (a > 0.0 && b < 0.0) || (a < 0.0 && b > 0.0) {
            kept.push(from + (to - from) * (a / (a - b)));
        }
    }
    kept
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::space::{Body, Shape, Side};

    const INCH: f64 = 0.0254;

    fn inch(x: f64, y: f64) -> Point {
        point(x * INCH, y * INCH)
    }

    fn solid(x: (f64, f64), y: (f64, f64)) -> Solid {
        let plan = Shape::convex(&[inch(x.0, y.0), inch(x.1, y.0), inch(x.1, y.1), inch(x.0, y.1)]);
        Solid::new(plan, 0.0, 60.0 * INCH)
    }

    fn body(middle: (f64, f64), front: Point, size: (f64, f64)) -> Body {
        let (width, depth) = (size.0 * INCH, size.1 * INCH);
        Body { middle: inch(middle.0, middle.1), front, width, depth, base: 0.0, height: 1.0, round: false }
    }

    // The access chapter's worked example of the 30 in by 30 in space, computed there with an outside geometry library.
    #[test]
    fn the_space_is_searched_for_and_not_assumed_centred() {
        let room = Room::new(&[inch(0.0, 0.0), inch(120.0, 0.0), inch(120.0, 96.0), inch(0.0, 96.0)], &[]).unwrap();
        let furnace = body((20.5, 81.25), point(0.0, -1.0), (21.0, 29.5)).face(Side::Front);
        let tankless = solid((0.0, 10.0), (30.0, 47.0));
        let size = (30.0 * INCH, 30.0 * INCH);
        let found = furnace.find_space(size, (0.0, 2.0), 21.0 * INCH, Some(&room), std::slice::from_ref(&tankless)).unwrap();
        assert!((found.shift / INCH - 4.5).abs() < 1e-6, "centred at 20.5, it must begin at 10 and so be centred at 25");
        // The brine tank, reached from the west, beside a round pressure tank.
        let brine = body((109.0, 68.5), point(-1.0, 0.0), (33.0, 18.0)).face(Side::Front);
        let pressure = Solid::new(Shape::circle(inch(60.0, 80.0), 12.0 * INCH), 0.0, 1.0);
        let found = brine.find_space(size, (0.0, 2.0), 15.0 * INCH, Some(&room), std::slice::from_ref(&pressure)).unwrap();
        let low = found.zone.corners().0[1] / INCH;
        assert!((37.0..53.5).contains(&low) && pressure.overlap(&found.zone).is_none(), "{low}");
    }

    #[test]
    fn thirty_six_inches_pass_and_a_hair_less_does_not() {
        let panel = body((0.0, 2.0), point(0.0, -1.0), (14.5, 4.0)).face(Side::Front);
        let asked = |front: f64| {
            let tank = Solid::new(Shape::circle(inch(0.0, -front - 9.0), 9.0 * INCH), 0.0, 1.0);
            let shelf = solid((-40.0, 40.0), (-90.0, -front - 18.0));
            panel.find_space((30.0 * INCH, 36.0 * INCH), (0.0, 2.0), 14.5 * INCH, None, &[tank, shelf])
        };
        assert!(asked(36.0).is_ok());
        let blocked = asked(34.0).unwrap_err();
        assert_eq!(blocked.by, Some(0));
        // However far it slides, it takes in the whole panel, and the tank stands before its middle.
        assert!((blocked.depth / INCH - 34.0).abs() < 1e-6, "{blocked:?}");
        let flat = |front: f64| {
            panel.find_space((30.0 * INCH, 36.0 * INCH), (0.0, 2.0), 14.5 * INCH, None, &[solid((-40.0, 40.0), (-90.0, -front))])
        };
        assert!(flat(36.0).is_ok());
        assert!((flat(35.9).unwrap_err().depth / INCH - 35.9).abs() < 1e-6);
    }

    #[test]
    fn walls_bound_the_space() {
        let room = Room::new(&[inch(0.0, 0.0), inch(40.0, 0.0), inch(40.0, 29.0), inch(0.0, 29.0)], &[]).unwrap();
        let panel = body((8.0, 27.0), point(0.0, -1.0), (14.5, 4.0)).face(Side::Front);
        let blocked = panel.find_space((30.0 * INCH, 30.0 * INCH), (0.0, 2.0), 14.5 * INCH, Some(&room), &[]).unwrap_err();
        assert!((blocked.depth / INCH - 25.0).abs() < 1e-6 && blocked.by.is_none(), "{blocked:?}");
        assert!((blocked.shift / INCH - 7.0).abs() < 1e-4, "the wall at the left pushes it aside: {}", blocked.shift / INCH);
    }

    #[test]
    fn a_zone_without_width_is_no_reason_to_panic() {
        let panel = body((0.0, 2.0), point(0.0, -1.0), (0.0, 4.0)).face(Side::Front);
        let before = solid((-40.0, 40.0), (-90.0, -1.0));
        let blocked = panel.find_space((0.0, 1.0), (0.0, 2.0), 0.0, None, &[before]).unwrap_err();
        assert!(blocked.depth.is_finite());
    }
}
