//! Surveyed floors: hand-worked surfaces, a fine grid beside the exact surface, and random floors.
//!
//! `REDTAG_FLOORS` sets how many random floors are tried.

use proptest::prelude::*;
use redtag_handbook::drainage::*;

const INCH: f64 = 0.0254;
const FOOT: f64 = 0.3048;

fn drain(x: f64, y: f64, rim: Option<f64>) -> DrainSpot {
    DrainSpot { at: [x, y], rim, radius: 2.5 * INCH }
}

fn rectangle(x: f64, y: f64, w: f64, h: f64) -> Vec<[f64; 2]> {
    vec![[x, y], [x + w, y], [x + w, y + h], [x, y + h]]
}

/// One facet worked by hand: 0.75 in over 6 ft and 0.5 in over 4 ft are 0.1768 in/ft together.
#[test]
fn a_plane_slopes_as_worked_by_hand() {
    let floor = Floor {
        points: vec![[0.0, 0.0, 0.0], [6.0 * FOOT, 0.0, 0.75 * INCH], [0.0, 4.0 * FOOT, 0.5 * INCH]],
        drains: vec![drain(0.0, 0.0, None)],
        ..Floor::default()
    };
    let surface = floor.surface().unwrap();
    let slopes = surface.slopes();
    assert_eq!(slopes.len(), 1);
    assert!((slopes[0].slope * 12.0 - 0.1768).abs() < 1e-4);
    let paths = surface.paths();
    assert_eq!(paths[0].end, PathEnd::Drain(0));
    assert!(surface.runoff().unwrap().ponds.is_empty());
}

/// A square pyramid standing on its point holds a third of its box: 4 m² by 0.05 m.
#[test]
fn a_pyramid_shaped_hollow_holds_a_third_of_its_box() {
    let mut points = vec![[1.0, 1.0, -0.05]];
    points.extend([[0.0, 0.0], [2.0, 0.0], [2.0, 2.0], [0.0, 2.0]].map(|[x, y]| [x, y, 0.0]));
    points.push([3.0, 1.0, -0.2]);
    let floor = Floor { points, drains: vec![drain(3.0, 1.0, None)], ..Floor::default() };
    let runoff = floor.surface().unwrap().runoff().unwrap();
    assert_eq!(runoff.ponds.len(), 1);
    let pond = &runoff.ponds[0];
    assert!((pond.volume - 4.0 * 0.05 / 3.0).abs() < 1e-9 && (pond.area - 4.0).abs() < 1e-9 && (pond.depth - 0.05).abs() < 1e-9);
    assert_eq!((pond.bounds, pond.outlet), ([[0.0, 0.0], [2.0, 2.0]], Outlet::Drain(0)));
}

/// A drain that stands 1/4 in proud of a level floor keeps 1/4 in on all of it.
#[test]
fn a_drain_set_too_high_keeps_the_floor_wet() {
    let points = rectangle(0.0, 0.0, 2.0, 2.0).into_iter().map(|[x, y]| [x, y, 0.0]).collect();
    let floor = Floor { points, drains: vec![drain(1.0, 1.0, Some(0.25 * INCH))], ..Floor::default() };
    let runoff = floor.surface().unwrap().runoff().unwrap();
    assert_eq!(runoff.ponds.len(), 1);
    assert!((runoff.ponds[0].depth - 0.25 * INCH).abs() < 1e-12);
    // All of it less the cone up to the rim.
    assert!((runoff.ponds[0].volume - (4.0 - 4.0 / 3.0) * 0.25 * INCH).abs() < 1e-9);
}

#[test]
fn pads_walls_and_recesses_shape_the_surface() {
    let mut points: Vec<[f64; 3]> = rectangle(0.0, 0.0, 4.0, 3.0).into_iter().map(|[x, y]| [x, y, 0.02]).collect();
    points.push([2.0, 1.5, 0.0]);
    let floor = Floor {
        outline: rectangle(0.0, 0.0, 4.0, 3.0),
        points,
        pads: vec![rectangle(0.5, 0.5, 0.6, 0.6)],
        recesses: vec![Sunken { outline: rectangle(1.5, 1.0, 1.0, 1.0), depth: 0.02 }],
        drains: vec![drain(2.0, 1.5, None)],
        doors: vec![Door { at: [4.0, 1.5], threshold: Some(0.05) }],
        ..Floor::default()
    };
    let surface = floor.surface().unwrap();
    assert!((surface.area() - (12.0 - 0.36)).abs() < 1e-6);
    assert_eq!(surface.carried_share(), 0.0);
    assert!(surface.level([0.8, 0.8]).is_none());
    let bottom = surface.level([1.6, 1.1]).unwrap();
    assert!((bottom - 0.0).abs() < 0.002, "{bottom}");
    let (level, door) = surface.lowest_threshold(surface.drains[0].unwrap()).unwrap();
    assert_eq!((level, door), (0.05, 0));
    let basin = Basin::around(&surface, surface.drains[0].unwrap());
    assert!(basin.at_depth(0.01).area < 1.0 && basin.at_depth(0.04).area > 11.0);
    let half = basin.at_volume(basin.at_depth(0.015).volume).depth;
    assert!((half - 0.015).abs() < 1e-4);
}

#[test]
fn what_makes_no_surface_is_said() {
    let of = |points: Vec<[f64; 3]>| Floor { points, ..Floor::default() }.surface().unwrap_err();
    assert_eq!(of(vec![]), NoSurface::TooFewPoints);
    assert_eq!(of(vec![[0.0; 3], [1.0, 1.0, 0.0], [2.0, 2.0, 1.0], [f64::NAN, 0.0, 0.0]]), NoSurface::TooFewPoints);
    let away = Floor {
        outline: rectangle(50.0, 50.0, 0.0, 0.0),
        points: vec![[0.0; 3], [1.0, 0.0, 0.0], [0.0, 1.0, 0.0]],
        ..Floor::default()
    };
    assert_eq!(away.surface().unwrap_err(), NoSurface::NothingInside);
}

fn coordinate() -> impl Strategy<Value = f64> {
    // Half of them on a grid, so that four points on one circle and points in one line are common.
    prop_oneof![(0..=10i32).prop_map(|step| f64::from(step) * 0.5), 0.0..5.0f64]
}

fn level() -> impl Strategy<Value = f64> {
    prop_oneof![(-8..=8i32).prop_map(|step| f64::from(step) * 0.25 * INCH), -0.05..0.05f64]
}

fn ring(least: usize) -> impl Strategy<Value = Vec<[f64; 2]>> {
    prop::collection::vec((coordinate(), coordinate()).prop_map(|(x, y)| [x, y]), least..6)
}

fn floors() -> impl Strategy<Value = Floor> {
    let points = prop::collection::vec((coordinate(), coordinate(), level()).prop_map(|(x, y, z)| [x, y, z]), 0..40);
    let outline = prop_oneof![
        Just(vec![]),
        Just(rectangle(0.0, 0.0, 5.0, 5.0)),
        Just(vec![[0.0, 0.0], [5.0, 0.0], [5.0, 2.5], [2.5, 2.5], [2.5, 5.0], [0.0, 5.0]]),
        ring(0),
    ];
    let recess = (ring(0), 0.0..0.05f64).prop_map(|(outline, depth)| Sunken { outline, depth });
    let drains = (coordinate(), coordinate(), prop::option::of(level())).prop_map(|(x, y, rim)| drain(x, y, rim));
    let doors =
        (coordinate(), coordinate(), prop::option::of(level())).prop_map(|(x, y, threshold)| Door { at: [x, y], threshold });
    let lists = (prop::collection::vec(ring(0), 0..3), prop::collection::vec(ring(0), 0..3), prop::collection::vec(recess, 0..3));
    (points, outline, lists, prop::collection::vec(drains, 0..4), prop::collection::vec(doors, 0..3)).prop_map(
        |(points, outline, (break_lines, pads, recesses), drains, doors)| Floor {
            outline,
            points,
            break_lines,
            pads,
            recesses,
            drains,
            doors,
        },
    )
}

fn volume(floor: &Floor) -> Option<f64> {
    let surface = floor.surface().ok()?;
    for path in surface.paths() {
        assert!(path.least_slope > -1e-6, "{path:?}");
    }
    if let Some(node) = surface.drains.iter().flatten().next() {
        let basin = Basin::around(&surface, *node);
        assert!(basin.at_depth(0.02).volume >= basin.at_depth(0.01).volume);
    }
    let runoff = surface.runoff()?;
    for (node, level) in surface.nodes.iter().zip(&runoff.fill.levels) {
        assert!(*level >= node[2]);
    }
    for pond in &runoff.ponds {
        assert!(
            pond.volume >= 0.0 && pond.area >= 0.0 && pond.depth > 0.0 && pond.volume <= pond.area * pond.depth + 1e-12,
            "{pond:?}"
        );
    }
    Some(runoff.ponds.iter().map(|pond| pond.volume).sum())
}

fn tries() -> u32 {
    std::env::var("REDTAG_FLOORS").ok().and_then(|number| number.parse().ok()).unwrap_or(300)
}

proptest! {
    #![proptest_config(ProptestConfig { cases: tries(), failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn ponds_of_random_floors_are_never_negative_and_never_change_with_the_order(floor in floors(), turn in 0usize..40) {
        let first = volume(&floor);
        let mut other = floor;
        other.points.reverse();
        let turn = turn % other.points.len().max(1);
        other.points.rotate_left(turn);
        other.pads.reverse();
        other.recesses.reverse();
        other.break_lines.reverse();
        prop_assert_eq!(first, volume(&other));
    }

    /// The surface read on a 2.5 cm grid and flooded there. A path over the surface and its copy over the cells differ by
    /// less than the steepest slope times a cell, so the depth anywhere does too: that times the area bounds the volume.
    #[test]
    fn ponds_agree_with_a_fine_grid_within_the_bound(points in prop::collection::vec((0.0..2.0f64, 0.0..2.0f64, -0.03..0.03f64), 3..14)) {
        const CELL: f64 = 0.025;
        let mut points: Vec<[f64; 3]> = points.into_iter().map(|(x, y, z)| [x, y, z]).collect();
        points.extend(rectangle(0.0, 0.0, 2.0, 2.0).into_iter().map(|[x, y]| [x, y, 0.03]));
        let floor = Floor { points, drains: vec![drain(1.0125, 1.0125, Some(-0.04))], ..Floor::default() };
        let surface = floor.surface().unwrap();
        let exact: f64 = surface.runoff().unwrap().ponds.iter().map(|pond| pond.volume).sum();
        let cells = 80;
        let at = |index: usize| [(index % cells) as f64 * CELL + CELL / 2.0, (index / cells) as f64 * CELL + CELL / 2.0];
        let heights: Vec<f64> = (0..cells * cells).map(|index| surface.level(at(index)).unwrap_or(f64::MAX)).collect();
        let outlet = 40 * cells + 40;
        let grid = Grid { columns: cells, heights };
        let fill = grid.fill(&[outlet], true);
        let rough: f64 = fill.levels.iter().zip(&grid.heights).map(|(level, height)| (level - height) * CELL * CELL).sum();
        let steepest = surface.slopes().iter().map(|face| face.slope).fold(0.0, f64::max);
        let bound = 1.5 * steepest * CELL * surface.area();
        prop_assert!((exact - rough).abs() <= bound, "exact {} grid {} bound {}", exact, rough, bound);
    }
}
