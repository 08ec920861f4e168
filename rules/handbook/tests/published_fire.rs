//! Figures of the fire sections against published tables and worked examples.

use redtag_handbook::fire::*;
use redtag_handbook::units::{btu_per_hour, feet, inches, square_inches};
use redtag_schema::quantity::at_least;
use uom::si::f64::Time;
use uom::si::time::{hour, minute};

/// IRC Table R302.6, as the 2015 commentary and a garage-door guide print it.
#[test]
fn the_rows_of_the_garage_table() {
    let table = GarageTable::default();
    let half = inches(0.5);
    assert_eq!((table.residence.gypsum, table.residence.type_x), (half, false));
    assert_eq!((table.habitable_above.gypsum, table.habitable_above.type_x), (inches(0.625), true));
    assert_eq!((table.structure.gypsum, table.structure.type_x), (half, false));
    assert_eq!((table.near_dwelling.gypsum, table.near), (half, feet(3.0)));
    let beside = |habitable| Beside::Dwelling { habitable };
    assert_eq!(garage_row(beside(true), true), Some(GarageRow::HabitableAbove));
    assert_eq!(garage_row(beside(false), true), Some(GarageRow::Residence));
    assert_eq!(garage_row(beside(true), false), Some(GarageRow::Residence));
    assert_eq!(garage_row(Beside::Attic, true), Some(GarageRow::Residence));
    assert_eq!(garage_row(Beside::Open, false), None);
}

/// UL Design U305: 2x4 studs at most 16 in apart, fireblocked, 5/8 in Type X board on each side.
#[test]
fn the_one_hour_wall() {
    let board = |type_x| Layer {
        on_face: Some(true),
        material: Some(Material::Gypsum),
        thickness: Some(inches(0.625)),
        type_x: Some(type_x),
        complete: Some(true),
    };
    let wall = WallConstruction {
        wood: Some(true),
        depth: Some(inches(3.5)),
        spacing: Some(inches(16.0)),
        fireblocked: Some(true),
        this: vec![board(true)],
        beyond: vec![board(true)],
    };
    let holds = |wall: &WallConstruction| hour_wall(wall, &Rated::default()).into_iter().all(|(_, answer)| answer.yes());
    assert!(holds(&wall));
    assert!(!holds(&WallConstruction { spacing: Some(inches(24.0)), ..wall.clone() }));
    assert!(!holds(&WallConstruction { beyond: vec![board(false)], ..wall.clone() }));
    assert!(!holds(&WallConstruction { fireblocked: None, ..wall }));
}

/// IRC R302.11.1 as a county prints it: materials and thicknesses.
#[test]
fn fireblocking_materials() {
    let limits = BlockLimits::default();
    let thin = |number: f64| Some(inches(number * 0.99));
    for (material, least, joints) in [
        (Blocking::Lumber, 1.5, None),
        (Blocking::StructuralPanel, 23.0 / 32.0, Some(true)),
        (Blocking::Particleboard, 0.75, Some(true)),
        (Blocking::Gypsum, 0.5, None),
        (Blocking::Millboard, 0.25, None),
        (Blocking::GlassFiber, 16.0, None),
    ] {
        assert_eq!(blocks(material, Some(inches(least)), joints, &limits), Answer::Yes, "{material:?}");
        assert_eq!(blocks(material, thin(least), joints, &limits), Answer::No, "{material:?}");
        assert!(matches!(blocks(material, None, joints, &limits), Answer::Depends(_)), "{material:?}");
    }
    assert_eq!(blocks(Blocking::DoubleBoard, None, None, &limits), Answer::Yes);
    assert_eq!(blocks(Blocking::Nothing, Some(inches(4.0)), Some(true), &limits), Answer::No);
    for (material, least) in [(Blocking::Gypsum, 0.5), (Blocking::StructuralPanel, 0.375), (Blocking::Particleboard, 0.375)] {
        assert_eq!(stops_draft(material, Some(inches(least)), &limits), Answer::Yes, "{material:?}");
        assert_eq!(stops_draft(material, thin(least), &limits), Answer::No, "{material:?}");
    }
}

/// AWC DCA 1: class A to 25, B to 75, C to 200, smoke at most 450; untreated wood panels are class C.
#[test]
fn flame_spread_classes() {
    let of = |flame, smoke| FlameIndexes { flame: Some(flame), smoke: Some(smoke) };
    let limits = FlameLimits::default();
    let panel = |indexes| surface_meets(Material::OtherCombustible, indexes, &limits);
    assert_eq!(panel(of(200.0, 450.0)), Answer::Yes);
    assert_eq!(panel(of(201.0, 450.0)), Answer::No);
    assert_eq!(panel(of(200.0, 451.0)), Answer::No);
    assert_eq!(surface_meets(Material::StructuralPanel, FlameIndexes::default(), &limits), Answer::Yes);
    let class_b = FlameLimits { finish: 75.0, ..limits };
    assert!(matches!(surface_meets(Material::StructuralPanel, FlameIndexes::default(), &class_b), Answer::Depends(_)));
    assert_eq!(surface_meets(Material::GlassFiber, of(26.0, 50.0), &limits), Answer::No);
}

/// Worked example: furnace of 120,000 and two heaters of 199,000 Btu/h are 518,000 Btu/h together; the largest piece is 199,000.
#[test]
fn incidental_use_by_both_readings() {
    let room = IncidentalRoom { inputs: [120_000.0, 199_000.0, 199_000.0].map(btu_per_hour).to_vec() };
    let limits =
        IncidentalLimits { input: btu_per_hour(400_000.0), pressure: uom::si::f64::Pressure::default(), horsepower: 10.0 };
    let near = |ours: uom::si::f64::Power, theirs: f64| ((ours - btu_per_hour(theirs)).value).abs() < 1e-6;
    let (largest, over) = incidental(&room, Reading::SinglePiece, &limits);
    assert!(near(largest, 199_000.0) && !over);
    let (sum, over) = incidental(&room, Reading::Sum, &limits);
    assert!(near(sum, 518_000.0) && over);
    assert!((boiler_horsepower(btu_per_hour(334_750.0)) - 10.0).abs() < 1e-9);
}

/// Memory of IRC R302.4: firestop as good as the assembly; grout around metal pipe of 6 in in masonry.
#[test]
fn fillings() {
    let hours = |number: f64| Time::new::<hour>(number);
    let rated = |masonry| Standard::Firestop { rating: hours(1.0), masonry, grouted_pipe: inches(6.0) };
    let pipe = Some(inches(6.0));
    assert_eq!(filled(Going::Other, Filling::ListedFirestop, Some(Time::new::<minute>(60.0)), None, rated(false)), Some(true));
    assert_eq!(filled(Going::Other, Filling::ListedFirestop, Some(hours(0.99)), None, rated(false)), Some(false));
    assert_eq!(filled(Going::Other, Filling::ListedFirestop, None, None, rated(false)), None);
    assert_eq!(filled(Going::MetalPipe, Filling::Grout, None, pipe, rated(true)), Some(true));
    assert_eq!(filled(Going::MetalPipe, Filling::Grout, None, pipe, rated(false)), Some(false));
    assert_eq!(filled(Going::Other, Filling::Grout, None, pipe, rated(true)), Some(false));
    for (filling, holds) in
        [(Filling::Fireblocking, true), (Filling::Grout, true), (Filling::Sealant, false), (Filling::Nothing, false)]
    {
        assert_eq!(filled(Going::Other, filling, None, None, Standard::Fireblock), Some(holds));
    }
    // 5 in hole, 3.5 in pipe: (25 - 12.25) pi / 4 = 10.0138 in2.
    let gap = Annulus::of(inches(5.0), inches(3.5)).expect("a gap");
    assert!((gap.area - square_inches(10.013_827)).value.abs() < 1e-9 && at_least(gap.width, inches(0.75)));
    assert_eq!(Annulus::of(inches(3.0), inches(3.5)), None);
}

/// Boxes: the worst stretch of a wall.
#[test]
fn boxes_in_the_worst_stretch() {
    let boxes: Vec<_> = [1.0, 3.0, 9.0, 11.0, 30.0].map(|at| (feet(at), square_inches(16.0))).to_vec();
    let area = greatest_box_area(&boxes, feet(10.0));
    // From 1 ft to 11 ft, both ends counted.
    assert!((area - square_inches(64.0)).value.abs() < 1e-12);
    assert!((greatest_box_area(&boxes, feet(7.9)) - square_inches(32.0)).value.abs() < 1e-12);
    assert_eq!(greatest_box_area(&[], feet(10.0)).value, 0.0);
}

/// Sheets without waste.
#[test]
fn whole_sheets() {
    assert_eq!([0.0, 1.0, 32.0, 32.1, 128.0].map(|area| sheets(feet(area) * feet(1.0))), [0, 1, 1, 2, 4]);
}
