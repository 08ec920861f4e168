//! Random rooms, broken ones among them: nothing panics, nothing answers NaN, and what is found is free.
//!
//! `REDTAG_RANDOM_ROOMS=10000 cargo test --release -p redtag-handbook --test space_random` looks at more of them.

use redtag_handbook::space::removal::{Budget, Carried, Exit, Piece, Scene, carry};
use redtag_handbook::space::{Body, Passages, Point, Room, Shape, Side, Solid, Widest, bearing, deepest, free_area, point};

/// A generator of our own: the same rooms on every machine.
struct Dice(u64);

impl Dice {
    fn roll(&mut self) -> f64 {
        self.0 ^= self.0 << 13;
        self.0 ^= self.0 >> 7;
        self.0 ^= self.0 << 17;
        (self.0 >> 11) as f64 / (1_u64 << 53) as f64
    }

    fn between(&mut self, low: f64, high: f64) -> f64 {
        low + (high - low) * self.roll()
    }

    fn one_in(&mut self, number: f64) -> bool {
        self.roll() < 1.0 / number
    }

    fn at(&mut self) -> Point {
        point(self.between(-0.5, 5.0), self.between(-0.5, 4.5))
    }
}

/// An outline, and whether it is sound: a project with one that is not is refused before any rule sees it.
fn outline(dice: &mut Dice) -> (Vec<Point>, bool) {
    if dice.one_in(12.0) {
        // Anything: too few corners, lines that cross, corners on one line, repeats.
        let count = (dice.roll() * 7.0) as usize;
        let mut corners: Vec<Point> = (0..count).map(|_| dice.at()).collect();
        if let (true, Some(&first)) = (dice.one_in(2.0), corners.first()) {
            corners.extend([first, first]);
        }
        return (corners, false);
    }
    let (x, y) = (dice.between(1.0, 5.0), dice.between(1.0, 4.5));
    let (a, b) = (dice.between(0.2, x), dice.between(0.2, y));
    if dice.one_in(2.0) {
        return (vec![point(0.0, 0.0), point(x, 0.0), point(x, y), point(0.0, y)], true);
    }
    (vec![point(0.0, 0.0), point(x, 0.0), point(x, b), point(a, b), point(a, y), point(0.0, y)], true)
}

fn body(dice: &mut Dice) -> Body {
    let size = |dice: &mut Dice| if dice.one_in(15.0) { 0.0 } else { dice.between(0.02, 1.0) };
    let turn = if dice.one_in(2.0) { (dice.roll() * 8.0).floor() * std::f64::consts::FRAC_PI_4 } else { dice.between(0.0, 7.0) };
    let base = if dice.one_in(4.0) { dice.between(0.0, 2.0) } else { 0.0 };
    let round = dice.one_in(3.0);
    Body { middle: dice.at(), front: bearing(turn), width: size(dice), depth: size(dice), base, height: size(dice) * 2.0, round }
}

fn finite(numbers: &[f64], what: &str, seed: u64) {
    assert!(numbers.iter().all(|number| !number.is_nan()), "seed {seed}: {what} answers {numbers:?}");
}

fn look(seed: u64) {
    let mut dice = Dice(seed.wrapping_mul(0x9e37_79b9_7f4a_7c15) | 1);
    let (corners, sound) = outline(&mut dice);
    let holes = if dice.one_in(6.0) {
        vec![vec![point(0.3, 0.3), point(0.3, 0.6), point(0.6, 0.6), point(0.6, 0.3)]]
    } else {
        Vec::new()
    };
    let Some(room) = Room::new(&corners, &holes) else { return };
    let bodies: Vec<Body> = (0..(dice.roll() * 9.0) as usize).map(|_| body(&mut dice)).collect();
    let solids: Vec<Solid> = bodies.iter().map(Body::solid).collect();
    let shapes: Vec<Shape> = solids.iter().map(|solid| solid.plan.clone()).collect();
    let free = free_area(&room, &shapes);
    finite(&[room.area(), free], "area", seed);
    assert!(
        free >= -1e-6 && (!sound || !holes.is_empty() || free <= room.area() + 1e-6),
        "seed {seed}: {free} of {}",
        room.area()
    );
    pairs(&solids, seed);
    let from = dice.at();
    let door = room.doorway(point(from.x, 0.0), dice.between(0.0, 1.2), 1.0);
    let mut pieces: Vec<Shape> = room.faces(door.as_ref()).into_iter().map(|(_, face)| face).collect();
    pieces.extend(shapes);
    let ways = Passages::new(&room, pieces.clone());
    let goal = dice.at();
    let widest = ways.widest(door.map_or(from, |door| door.middle + door.out * 0.001), goal);
    finite(&[widest.width()], "width", seed);
    if let Widest::Pinched(pair) = widest {
        finite(&[pair.from.x, pair.from.y, pair.to.x, pair.to.y], "pinch", seed);
        assert!(pair.distance <= 2.0 * ways.clearance(goal).0 + 1e-9, "seed {seed}");
    }
    zones(&mut dice, &room, &bodies, &solids, seed);
    if let (Some(door), Some(body)) = (door, bodies.first()) {
        let exit = Exit { middle: door.clear_middle(), out: door.out, width: door.clear() };
        let kept = pieces.len() - bodies.len();
        pieces.remove(kept);
        carried(body, pieces, &exit, seed);
    }
}

fn pairs(solids: &[Solid], seed: u64) {
    for (index, first) in solids.iter().enumerate() {
        for second in &solids[index + 1..] {
            let (gap, back) = (first.gap(second), second.gap(first));
            finite(&[gap.distance, gap.plan, gap.from.0.x, gap.to.0.y], "gap", seed);
            assert!((gap.distance - back.distance).abs() < 1e-9, "seed {seed}: {gap:?} and {back:?}");
            if let Some(overlap) = first.overlap(second) {
                finite(&[overlap.depth, overlap.plan], "overlap", seed);
                assert!(gap.distance < 1e-9 && overlap.depth > 0.0, "seed {seed}: {gap:?}, {overlap:?}");
                let other = second.overlap(first).expect("both ways");
                assert!((other.plan - overlap.plan).abs() < 1e-9, "seed {seed}: {overlap:?} and {other:?}");
            }
        }
    }
}

fn zones(dice: &mut Dice, room: &Room, bodies: &[Body], solids: &[Solid], seed: u64) {
    for (index, body) in bodies.iter().enumerate() {
        let side = [Side::Front, Side::Back, Side::Left, Side::Right][(dice.roll() * 4.0) as usize];
        let face = body.face(side);
        let others: Vec<Solid> =
            solids.iter().enumerate().filter(|(at, _)| *at != index).map(|(_, solid)| solid.clone()).collect();
        let (width, depth) = (dice.between(0.0, 1.0), dice.between(0.0, 1.2));
        match face.find_space((width, depth), (0.0, 1.0), dice.between(0.0, 1.0), Some(room), &others) {
            Ok(found) => {
                finite(&[found.shift], "shift", seed);
                let inside = deepest(&found.zone, &others);
                assert!(inside.is_none_or(|(_, overlap)| overlap.plan < 1e-6), "seed {seed}: {inside:?} in {found:?}");
            }
            Err(blocked) => {
                finite(&[blocked.shift, blocked.depth], "deepest", seed);
                assert!(blocked.depth <= depth + 1e-9 && blocked.depth >= 0.0, "seed {seed}: {blocked:?}");
            }
        }
        let free = face.cover(dice.one_in(2.0)).free_angle(&others);
        finite(&[free.angle], "angle", seed);
        assert!((0.0..=std::f64::consts::PI + 1e-9).contains(&free.angle), "seed {seed}: {free:?}");
    }
}

fn carried(body: &Body, obstacles: Vec<Shape>, exit: &Exit, seed: u64) {
    let piece = if body.round {
        Piece::cylinder(body.middle, body.width)
    } else {
        Piece::rectangle(body.middle, point(-body.front.y, body.front.x), body.width, body.depth)
    };
    let scene = Scene::new(obstacles, (point(-1.5, -2.5), point(6.5, 6.0)), piece.reach());
    let mut budget = Budget { poses: 150, cells: 1_500 };
    match carry(&piece, &scene, exit, &mut budget) {
        Carried::Out(path) => {
            for pose in &path {
                finite(&[pose.middle.x, pose.middle.y, pose.along.x, pose.along.y], "path", seed);
            }
            for pose in path.iter().skip(1) {
                let plan = piece.plan(pose);
                let inside = scene.obstacles().iter().filter_map(|obstacle| obstacle.overlap(&plan)).fold(0.0_f64, f64::max);
                assert!(inside < 1e-6, "seed {seed}: {inside} at {pose:?}");
            }
        }
        Carried::Blocked(held) | Carried::Undecided(held) => {
            finite(&[held.at.middle.x, held.at.middle.y], "held", seed);
        }
    }
}

#[test]
fn no_random_room_panics_or_answers_nan() {
    let count = std::env::var("REDTAG_RANDOM_ROOMS").ok().and_then(|number| number.parse().ok()).unwrap_or(300);
    for seed in 1..=count {
        look(seed);
    }
}
