//! Carrying a piece out: paths are walked again, refusals are held against closed formulas and the worked example.
#![expect(clippy::print_stdout, reason = "how many corners are left undecided is a figure for whoever runs it")]

use redtag_handbook::space::removal::{Budget, Carried, Exit, Piece, Pose, Scene, carry, longest_around_corner};
use redtag_handbook::space::{Point, Shape, dot, point};

const INCH: f64 = 0.0254;
const GENEROUS: Budget = Budget { poses: 400_000, cells: 4_000_000 };

fn inch(x: f64, y: f64) -> Point {
    point(x * INCH, y * INCH)
}

fn wall(from: (f64, f64), to: (f64, f64)) -> Shape {
    Shape::line(inch(from.0, from.1), inch(to.0, to.1))
}

fn block(x: (f64, f64), y: (f64, f64)) -> Shape {
    Shape::convex(&[inch(x.0, y.0), inch(x.1, y.0), inch(x.1, y.1), inch(x.0, y.1)])
}

/// Walks a path in small parts and looks whether the piece meets anything: by another way than the search, which looks at
/// whole sweeps.
fn walks(piece: &Piece, scene: &Scene, exit: &Exit, path: &[Pose]) {
    assert!(dot(path[0].middle - piece.middle, path[0].middle - piece.middle) < 1e-18, "it begins at its place");
    for pair in path.windows(2) {
        let (from, to) = (pair[0], pair[1]);
        let mut turn = libm::atan2(
            from.along.x * to.along.y - from.along.y * to.along.x,
            from.along.x * to.along.x + from.along.y * to.along.y,
        );
        if turn.abs() > 1.6 {
            turn -= std::f64::consts::PI * turn.signum();
        }
        let parts = 40;
        for part in 0..=parts {
            let share = f64::from(part) / f64::from(parts);
            let (sin, cos) = (libm::sin(turn * share), libm::cos(turn * share));
            let along = point(from.along.x * cos - from.along.y * sin, from.along.x * sin + from.along.y * cos);
            let pose = Pose { middle: from.middle + (to.middle - from.middle) * share, along };
            let plan = piece.plan(&pose);
            for obstacle in scene.obstacles() {
                let depth = obstacle.overlap(&plan).unwrap_or(0.0);
                assert!(depth < 1e-6, "{depth} m into {obstacle:?} at {pose:?}");
            }
        }
    }
    let last = piece.plan(path.last().expect("a path"));
    assert!(last.extent(exit.out).0 - dot(exit.middle, exit.out) > -1e-6, "it ends past the exit");
}

/// The worked room: 120 in by 96 in with a door about x = 60 in its south wall, 5 in thick, and a hall along that wall.
fn worked(door: f64, hall: f64) -> (Piece, Scene, Exit) {
    let (left, right) = (60.0 - door / 2.0, 60.0 + door / 2.0);
    let outer = -5.0;
    let mut obstacles = vec![
        wall((0.0, 0.0), (left, 0.0)),
        wall((right, 0.0), (120.0, 0.0)),
        wall((120.0, 0.0), (120.0, 96.0)),
        wall((120.0, 96.0), (0.0, 96.0)),
        wall((0.0, 96.0), (0.0, 0.0)),
        wall((left, 0.0), (left, outer)),
        wall((right, 0.0), (right, outer)),
        wall((-60.0, outer), (left, outer)),
        wall((right, outer), (180.0, outer)),
        wall((-60.0, outer - hall), (180.0, outer - hall)),
        wall((-60.0, outer), (-60.0, outer - hall)),
        wall((180.0, outer), (180.0, outer - hall)),
    ];
    obstacles.push(block((0.0, 10.0), (30.0, 47.0)));
    obstacles.push(block((100.0, 118.0), (52.0, 85.0)));
    obstacles.push(Shape::circle(inch(60.0, 80.0), 12.0 * INCH));
    let piece = Piece::rectangle(inch(21.0, 81.0), point(1.0, 0.0), 21.0 * INCH, 29.5 * INCH);
    let scene = Scene::new(obstacles, (inch(-60.0, outer - hall), inch(180.0, 96.0)), piece.reach());
    (piece, scene, Exit { middle: inch(60.0, outer), out: point(0.0, -1.0), width: door * INCH })
}

// Worked example of the access chapter (SE(2) search on a grid of 1 in and 7.5 degrees, computed there).
#[test]
fn the_worked_replacement_path() {
    for (door, hall) in [(30.0, 36.0), (22.0, 36.0), (24.0, 30.0), (21.0, 36.0)] {
        let (piece, scene, exit) = worked(door, hall);
        match carry(&piece, &scene, &exit, &mut GENEROUS.clone()) {
            Carried::Out(path) => walks(&piece, &scene, &exit, &path),
            other => panic!("a door of {door} in and a hall of {hall} in: {other:?}"),
        }
    }
    for (door, hall) in [(18.0, 36.0), (22.0, 24.0)] {
        let (piece, scene, exit) = worked(door, hall);
        let carried = carry(&piece, &scene, &exit, &mut GENEROUS.clone());
        assert!(matches!(carried, Carried::Blocked(_)), "a door of {door} in and a hall of {hall} in: {carried:?}");
    }
}

/// A corridor `a` wide that turns into one `b` wide, and a piece in the first.
fn corner(a: f64, b: f64, width: f64, length: f64) -> (Piece, Scene, Exit) {
    let long = 2.0 * length;
    let obstacles = vec![
        // The first runs south to north with its outer wall in the west; the second runs east at its north end.
        wall((0.0, -long), (0.0, b)),
        wall((0.0, b), (long, b)),
        wall((a, -long), (a, 0.0)),
        wall((a, 0.0), (long, 0.0)),
        wall((0.0, -long), (a, -long)),
    ];
    let piece = Piece::rectangle(inch(a / 2.0, -long + length / 2.0 + 1.0), point(0.0, 1.0), length * INCH, width * INCH);
    let scene = Scene::new(obstacles, (inch(0.0, -long), inch(2.0 * long, b)), piece.reach());
    (piece, scene, Exit { middle: inch(a + length / 2.0, b / 2.0), out: point(1.0, 0.0), width: b * INCH })
}

// The rectangle around a right-angled corner: min over the angle of a/cos + b/sin - w/(sin cos); for w = 0 the ladder,
// (a^(2/3) + b^(2/3))^(3/2). Values of the access chapter, computed there with scipy.
#[test]
fn the_closed_formula_of_the_corner() {
    let values = [((36.0, 36.0, 21.0), 59.8), ((36.0, 36.0, 24.0), 53.8), ((36.0, 32.0, 21.0), 54.0)];
    let more = [((36.0, 30.0, 21.0), 51.0), ((36.0, 28.0, 22.0), 45.8), ((42.0, 36.0, 24.0), 62.1)];
    for ((a, b, w), listed) in values.into_iter().chain(more) {
        let longest = longest_around_corner(a, b, w);
        // One of them, 62.1, is listed a little high: the formula gives 62.047.
        assert!((longest - listed).abs() < 0.06, "({a}, {b}, {w}): {longest}, listed {listed}");
    }
    let third = |side: f64| libm::pow(side, 2.0 / 3.0);
    for (a, b) in [(36.0, 36.0), (36.0, 30.0), (42.0, 28.0)] {
        let ladder = libm::pow(third(a) + third(b), 1.5);
        assert!((longest_around_corner(a, b, 0.0) - ladder).abs() < 1e-6, "{a} {b}: {ladder}");
    }
    let square = 2.0 * 2.0_f64.sqrt() * 36.0 - 2.0 * 21.0;
    assert!((longest_around_corner(36.0, 36.0, 21.0) - square).abs() < 1e-6);
}

#[test]
fn the_search_turns_the_corner_as_the_formula_says() {
    // Closer to the limit than this the search answers that it does not know.
    for (a, b, width) in [(36.0, 36.0, 21.0), (36.0, 30.0, 21.0), (42.0, 36.0, 24.0)] {
        let longest = longest_around_corner(a, b, width);
        for (over, fits) in [(-3.0, true), (4.0, false)] {
            let (piece, scene, exit) = corner(a, b, width, longest + over);
            let carried = carry(&piece, &scene, &exit, &mut GENEROUS.clone());
            match (&carried, fits) {
                (Carried::Out(path), true) => walks(&piece, &scene, &exit, path),
                (Carried::Blocked(_), false) => {}
                _ => panic!("({a}, {b}, {width}), {over} in over {longest}: {carried:?}"),
            }
        }
    }
    // Right at the limit, and whatever the budget, no wrong claim.
    for over in [-1.0, -0.25, 0.25, 1.0] {
        let (piece, scene, exit) = corner(36.0, 36.0, 21.0, longest_around_corner(36.0, 36.0, 21.0) + over);
        for share in [0, 1, 100, 4_000] {
            let mut budget = Budget { poses: share, cells: 20 * share };
            match carry(&piece, &scene, &exit, &mut budget) {
                Carried::Out(path) => walks(&piece, &scene, &exit, &path),
                Carried::Blocked(_) => assert!(over > 0.0),
                Carried::Undecided(_) => {}
            }
        }
    }
}

/// Random corners, pieces about the limit of the closed formula: no claim against it, and few left undecided.
#[test]
fn few_pieces_at_random_corners_are_left_undecided() {
    let corners: u32 = std::env::var("REDTAG_RANDOM_CORNERS").ok().and_then(|many| many.parse().ok()).unwrap_or(30);
    let mut state = 0x9e37_79b9_7f4a_7c15_u64;
    let mut random = |least: f64, most: f64| {
        state ^= state << 13;
        state ^= state >> 7;
        state ^= state << 17;
        least + (most - least) * ((state >> 11) as f64 / (1_u64 << 53) as f64)
    };
    let (mut fits, mut undecided) = (0, [0, 0]);
    for _ in 0..corners {
        let (a, b) = (random(28.0, 48.0), random(28.0, 48.0));
        let width = random(12.0, a.min(b) - 4.0);
        let longest = longest_around_corner(a, b, width);
        let length = (longest + random(-4.0, 4.0)).max(a.max(b) + 1.0);
        let (piece, scene, exit) = corner(a, b, width, length);
        let carried = carry(&piece, &scene, &exit, &mut Budget::ONE_PIECE.clone());
        fits += u32::from(length <= longest);
        match carried {
            Carried::Out(path) => {
                assert!(length <= longest + 1e-6, "({a}, {b}, {width}): {length} got around, {longest} is the limit");
                walks(&piece, &scene, &exit, &path);
            }
            Carried::Blocked(_) => assert!(length > longest - 1e-6, "({a}, {b}, {width}): {length} is held, {longest} fits"),
            Carried::Undecided(_) => undecided[usize::from(length > longest)] += 1,
        }
    }
    let too_long = corners - fits;
    println!("{corners} corners: undecided are {} of {fits} that fit, {} of {too_long} that do not", undecided[0], undecided[1]);
    assert!(undecided[0] * 10 <= fits, "{} of {fits} pieces that fit are left undecided", undecided[0]);
    assert!(undecided[1] * 10 <= too_long, "{} of {too_long} pieces that do not fit are left undecided", undecided[1]);
}
