//! Around a right-angled corner the closed formula decides: where the piece is short enough, by its path, along which the piece's outer
//! side keeps its ends on both outer walls; where it is too long, by proof. A grid finds the one only where there is room to spare,
//! and a flood the other only where there is much too little.
//!
//! In the frame of the corner, `u` along one outer wall and `v` along the other, the outer side of length `l` at an angle `t` runs
//! from `(l cos t, 0)` to `(0, l sin t)`, and the piece lies beside it, away from the corner. None of its corners ever leaves the
//! quadrant, so that the two outer walls are never hit; what else stands near is held against the piece grown by what its points move
//! within half a step.

use super::super::{Point, Shape, dot, norm, point, turned, unit};
use super::scene::{Exit, Piece, Pose, Scene};

/// Steps of a quarter turn.
const STEPS: usize = 720;
/// What the piece keeps from the outer walls, in metres: less than a hair.
const SLACK: f64 = 1e-5;

/// A corner between two walls: where it is, the directions along them, and which obstacles they are.
struct Corner {
    at: Point,
    along: [Point; 2],
    walls: [usize; 2],
}

/// A path around some corner of the scene and past the exit, every move of it proven free.
pub(super) fn path(piece: &Piece, scene: &Scene, exit: &Exit) -> Option<Vec<Pose>> {
    if piece.round() || piece.radius > 0.0 {
        return None;
    }
    let long = if piece.half_width >= piece.half_depth { piece.along } else { turned(piece.along) };
    corners(scene).into_iter().find_map(|corner| {
        let [u, v] = corner.along;
        let lies_along = |wall: Point| dot(long, wall).abs() > 1.0 - 1e-9;
        match (lies_along(u), lies_along(v)) {
            (true, _) => around(piece, scene, exit, &corner),
            (_, true) => {
                let swapped = Corner { along: [v, u], walls: [corner.walls[1], corner.walls[0]], ..corner };
                around(piece, scene, exit, &swapped)
            }
            _ => None,
        }
    })
}

/// Pairs of straight walls that meet at a right angle.
fn corners(scene: &Scene) -> Vec<Corner> {
    let lines: Vec<(usize, (Point, Point))> =
        scene.obstacles().iter().enumerate().filter_map(|(index, shape)| Some((index, straight(shape)?))).collect();
    let mut found = Vec::new();
    for (place, (first, one)) in lines.iter().enumerate() {
        for (second, other) in &lines[place + 1..] {
            for (at, far) in [(one.0, one.1), (one.1, one.0)] {
                for (meets, end) in [(other.0, other.1), (other.1, other.0)] {
                    let (Some(u), Some(v)) = (unit(far - at), unit(end - meets)) else { continue };
                    if norm(at - meets) < 1e-6 && dot(u, v).abs() < 1e-9 {
                        found.push(Corner { at, along: [u, v], walls: [*first, *second] });
                    }
                }
            }
        }
    }
    found
}

/// The path around one corner, for a piece that lies along its first wall.
fn around(piece: &Piece, scene: &Scene, exit: &Exit, corner: &Corner) -> Option<Vec<Pose>> {
    let [u, v] = corner.along;
    let (l, w) = (2.0 * piece.half_width.max(piece.half_depth), 2.0 * piece.half_width.min(piece.half_depth));
    let wide = piece.half_width >= piece.half_depth;
    let slack = (u + v) * SLACK;
    let pose = |angle: f64| {
        let (sin, cos) = (libm::sin(angle), libm::cos(angle));
        let middle = corner.at + slack + (u * cos + v * sin) * (l / 2.0) + (u * sin + v * cos) * (w / 2.0);
        let outer = v * sin - u * cos;
        Pose { middle, along: if wide { outer } else { turned(outer) } }
    };
    let step = std::f64::consts::FRAC_PI_2 / STEPS as f64;
    let poses: Vec<Pose> = (0..=STEPS).map(|index| pose(step * index as f64)).collect();
    // No point of the piece moves farther than this while the angle changes by half a step.
    let margin = (l + w) * step / 2.0;
    let grown = Piece { half_width: piece.half_width + margin, half_depth: piece.half_depth + margin, ..*piece };
    let rest = point(0.0, 0.0);
    let open = poses.iter().all(|pose| scene.holds(pose.middle) && scene.free_but(&grown, pose, rest, corner.walls));
    if !open {
        return None;
    }
    let start = Pose { along: poses[0].along, ..piece.pose() };
    let mut path = vec![piece.pose()];
    path.extend(two_legs(piece, scene, &start, poses[0].middle, [v, u])?);
    path.extend(&poses);
    let last = poses[STEPS];
    let beyond = piece.extent(last.along, exit.out) + 1e-6 - dot(last.middle - exit.middle, exit.out);
    if beyond > 0.0 {
        let across = turned(exit.out);
        let aside = dot(exit.middle - last.middle, across);
        let straight = last.middle + exit.out * beyond;
        let legs = two_legs(piece, scene, &last, straight, [exit.out, across]);
        path.extend(legs.or_else(|| two_legs(piece, scene, &last, straight + across * aside, [exit.out, across]))?);
    }
    Some(path)
}

/// Straight moves from a pose to a place, first along one direction and then along the other, either first.
fn two_legs(piece: &Piece, scene: &Scene, from: &Pose, to: Point, ways: [Point; 2]) -> Option<Vec<Pose>> {
    let by = to - from.middle;
    [ways, [ways[1], ways[0]]].into_iter().find_map(|[first, second]| {
        let (one, other) = (first * dot(by, first), second * dot(by, second));
        let between = Pose { middle: from.middle + one, ..*from };
        let free = scene.free_far(piece, from, one) && scene.free_far(piece, &between, other);
        free.then(|| vec![between, Pose { middle: to, ..*from }])
    })
}

/// Whether the piece stands in a corridor, closed at its other end, whose corner it does not get around, and the way out lies in the
/// corridor behind that.
///
/// In the frame of the corner the corridors are what lies between the outer walls (`v = 0`, `u = 0`) and the inner ones (`v = b` and
/// `u = a`, from the inner corner on). A piece longer than the least of the closed formula, at the angle of that least, fits in neither
/// corridor and not at the corner: with `l sin t + w cos t <= b`, `l` would be no more than the formula at `t`. Nor does it at that
/// angle turned the other way, where it must fit in one corridor alone. To get from one corridor into the other it would have to pass
/// one of these two angles.
pub(super) fn closed(piece: &Piece, scene: &Scene, exit: &Exit) -> bool {
    if piece.round() || piece.radius > 0.0 {
        return false;
    }
    let lines: Vec<(Point, Point)> = scene.obstacles().iter().filter_map(straight).collect();
    corners(scene).into_iter().any(|corner| {
        let [u, v] = corner.along;
        let walls = corner.walls;
        let swapped = Corner { at: corner.at, along: [v, u], walls: [walls[1], walls[0]] };
        [corner, swapped].iter().any(|corner| holds(piece, scene, exit, corner, &lines))
    })
}

/// The ends of a straight wall.
fn straight(shape: &Shape) -> Option<(Point, Point)> {
    match shape.corners() {
        [from, to] if shape.radius() <= 0.0 => Some((*from, *to)),
        _ => None,
    }
}

/// Whether a piece in the first corridor of a corner is held there.
fn holds(piece: &Piece, scene: &Scene, exit: &Exit, corner: &Corner, lines: &[(Point, Point)]) -> bool {
    const NEAR: f64 = 1e-6;
    let [u, v] = corner.along;
    let local = |at: Point| point(dot(at - corner.at, u), dot(at - corner.at, v));
    let (l, w) = (2.0 * piece.half_width.max(piece.half_depth), 2.0 * piece.half_width.min(piece.half_depth));
    let reach = |wall: usize, along: Point| {
        let ends = scene.obstacles().get(wall).and_then(straight);
        ends.map_or(0.0, |(from, to)| dot(from - corner.at, along).max(dot(to - corner.at, along)))
    };
    let outer = (reach(corner.walls[0], u), reach(corner.walls[1], v));
    let local_lines: Vec<(Point, Point)> = lines.iter().map(|&(from, to)| (local(from), local(to))).collect();
    let both = |line: &(Point, Point)| [*line, (line.1, line.0)];
    // The inner corner: a wall along `u` and one along `v` that begin there.
    let along_u: Vec<(Point, Point)> =
        local_lines.iter().flat_map(both).filter(|(from, to)| (to.y - from.y).abs() < NEAR && to.x > from.x).collect();
    let along_v: Vec<(Point, Point)> =
        local_lines.iter().flat_map(both).filter(|(from, to)| (to.x - from.x).abs() < NEAR && to.y > from.y).collect();
    along_u.iter().any(|(inner, end_u)| {
        let second = along_v.iter().find(|(from, _)| norm(*from - *inner) < NEAR);
        let Some((_, end_v)) = second.filter(|_| inner.x > NEAR && inner.y > NEAR) else { return false };
        let (first_long, second_long) = (outer.0.min(end_u.x), outer.1.min(end_v.y));
        let across = |(from, to): &(Point, Point)| {
            (from.x - to.x).abs() < NEAR
                && from.y.min(to.y) < NEAR
                && from.y.max(to.y) > inner.y - NEAR
                && from.x < first_long + NEAR
        };
        let shut = local_lines.iter().filter(|line| across(line)).map(|(from, _)| from.x).filter(|at| *at > inner.x);
        let shut = shut.fold(f64::INFINITY, f64::min);
        let plan = piece.plan(&piece.pose());
        let within = plan
            .corners()
            .iter()
            .map(|&at| local(at))
            .all(|at| at.x > -NEAR && at.x < shut + NEAR && at.y > -NEAR && at.y < inner.y + NEAR);
        let leads_on = dot(exit.out, v) > 1.0 - 1e-9 && local(exit.middle).y > inner.y - NEAR;
        let long_enough = second_long > inner.y + libm::hypot(l, w);
        let wide_enough = w < inner.x && w < inner.y && l > inner.x && l > inner.y;
        shut.is_finite()
            && within
            && leads_on
            && long_enough
            && wide_enough
            && l > super::longest_around_corner(inner.x, inner.y, w) + NEAR
    })
}
