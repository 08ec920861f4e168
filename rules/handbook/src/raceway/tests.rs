//! Published and computed examples of raceway arithmetic.

use super::*;
use crate::units::{in_inches, in_square_inches, inches, square_inches};
use uom::si::electric_current::ampere;
use uom::si::f64::Area;

fn total(conductors: &[(u32, &str, Insulation)]) -> (u32, Area) {
    conductors.iter().fold((0, Area::default()), |(count, area), (each, size, insulation)| {
        let one = Conductor::listed(size, *insulation).expect("the row is known");
        (count + each, area + one.area * f64::from(*each))
    })
}

fn fits(kind: Kind, size: f64, (count, area): (u32, Area)) -> bool {
    let inside = inside(kind, inches(size)).expect("the row is known");
    area <= limit(&inside, &Limits::default(), count, false)
}

use Insulation::{BareStranded, CrossLinked, Rubber, Thermoplastic};

// Steel Tube Institute, post 4: 3 x 12, 4 x 10, 8 x 8 THWN take 0.4171 in2 and need 1 1/4 in tubing.
#[test]
fn a_published_mixed_fill_in_tubing() {
    let all = total(&[(3, "12", Thermoplastic), (4, "10", Thermoplastic), (8, "8", Thermoplastic)]);
    assert!((in_square_inches(all.1) - 0.4171).abs() < 1e-9);
    assert!(!fits(Kind::ElectricalMetallicTubing, 1.0, all) && fits(Kind::ElectricalMetallicTubing, 1.25, all));
    assert_eq!(bundling_factor(15), 0.50);
}

// Modern Commercial Wiring 2018, page 100, sample problem 6-8: 0.1442 in2 needs 3/4 in rigid conduit.
#[test]
fn a_published_mixed_fill_in_rigid_conduit() {
    let all = total(&[(1, "12", Thermoplastic), (1, "10", Thermoplastic), (3, "8", Thermoplastic)]);
    assert!((in_square_inches(all.1) - 0.1442).abs() < 1e-9);
    assert!(!fits(Kind::RigidMetalConduit, 0.5, all) && fits(Kind::RigidMetalConduit, 0.75, all));
}

// forums.mikeholt.com 133481 (Annex C): 0.346 / 0.0437 = 7.918 is eight conductors.
#[test]
fn the_published_rounding_of_note_7() {
    let one = inside(Kind::ElectricalMetallicTubing, inches(1.0)).unwrap();
    let eight = Conductor { area: square_inches(0.0437), ..Conductor::listed("8", CrossLinked).unwrap() };
    assert_eq!(same_size_count(&one, &Limits::default(), &eight, false), 8);
}

// Computed from chapter 9: 4 x 10 AWG of 0.28 in and a bare 8 AWG take 0.2633 in2; a backup feeder with spares 0.3032.
#[test]
fn computed_fills_of_chases() {
    let wire = Conductor::measured(inches(0.28));
    let bare = Conductor::listed("8", BareStranded).unwrap();
    let area = wire.area * 4.0 + bare.area;
    assert!((in_square_inches(area) - 0.2633).abs() < 5e-5);
    assert!(!fits(Kind::ElectricalMetallicTubing, 0.75, (5, area)) && fits(Kind::ElectricalMetallicTubing, 1.0, (5, area)));
    let feeder = total(&[(3, "4", Thermoplastic), (1, "8", Thermoplastic), (2, "14", Thermoplastic)]);
    assert!((in_square_inches(feeder.1) - 0.3032).abs() < 1e-9);
    let future = |kind| {
        let inside = inside(kind, inches(1.0)).unwrap();
        more(&inside, &Limits::default(), feeder, &Conductor::listed("12", Thermoplastic).unwrap(), false) >= 2
    };
    assert!(future(Kind::ElectricalMetallicTubing) && future(Kind::Pvc40) && !future(Kind::ElectricalNonmetallicTubing));
}

#[test]
fn a_third_conductor_can_make_two_fit() {
    let inside = inside(Kind::ElectricalMetallicTubing, inches(0.5)).unwrap();
    let one = Conductor { area: square_inches(0.05), ..Conductor::measured(inches(0.25)) };
    // Two take 0.10 of the 0.094 allowed for two; a third of 0.02 in2 makes 0.12 of 0.122.
    let third = Conductor { area: square_inches(0.02), ..one };
    assert_eq!(more(&inside, &Limits::default(), (2, square_inches(0.10)), &third, false), 1);
    assert_eq!(more(&inside, &Limits::default(), (1, one.area), &one, false), 0);
}

// Computed from the tables: 3 x 2/0 in 1 1/2 in PVC jam at 2.99; 3 x 3/0 in tubing at 2.757, 2.895 by the makers' method.
#[test]
fn jam_ratios() {
    let ratio = |kind, trade, size, bent| {
        let inside = inside(kind, inches(trade)).unwrap();
        jam_ratio(inside.diameter, Conductor::listed(size, Thermoplastic).unwrap().diameter, bent)
    };
    assert!((ratio(Kind::Pvc40, 1.5, "2/0", false) - 2.99).abs() < 0.005);
    assert!((ratio(Kind::ElectricalMetallicTubing, 1.5, "3/0", false) - 2.757).abs() < 0.001);
    assert!((ratio(Kind::ElectricalMetallicTubing, 1.5, "3/0", true) - 2.895).abs() < 0.001);
}

// ecmweb.com quiz 15: 16 in and 20 in straight, 12 in and 29 in at an angle. 3 in and 2 in at an angle: 20 in, computed.
#[test]
fn published_pull_boxes() {
    let row = |sizes: &[f64]| Row(sizes.iter().map(|size| inches(*size)).collect());
    let number = |length: Option<Length>| length.map(in_inches).map(libm::round);
    assert_eq!(number(straight_length(&row(&[2.0]))), Some(16.0));
    assert_eq!(number(straight_length(&row(&[2.5, 2.0, 1.5]))), Some(20.0));
    assert_eq!(number(angle_distance(&row(&[2.0]))), Some(12.0));
    assert_eq!(number(angle_distance(&row(&[4.0, 3.0, 2.0]))), Some(29.0));
    assert_eq!(number(angle_distance(&row(&[2.0, 3.0]))), Some(20.0));
    assert_eq!(number(angle_distance(&row(&[]))), None);
}

// NEC 110.14(C), from memory: at 100 A nothing said is 60 degrees still.
#[test]
fn terminals_by_mark_and_by_device() {
    let device = |number| Some(ElectricCurrent::new::<ampere>(number));
    let cases = [
        (Some(90.0), None, TerminalRating::Ninety),
        (Some(75.0), device(15.0), TerminalRating::SeventyFive),
        (Some(60.0), device(200.0), TerminalRating::Sixty),
        (None, device(100.0), TerminalRating::Sixty),
        (None, device(110.0), TerminalRating::SeventyFive),
        (None, None, TerminalRating::Sixty),
    ];
    for (celsius, device, rating) in cases {
        assert_eq!(TerminalRating::marked(celsius, device), rating, "{celsius:?} {device:?}");
    }
}

// Computed from 310.15: eight 10 AWG at 45 C carry 24.36 A; on a roof at 40 C, 20 A with the sun's 33 K, 36.4 A without.
#[test]
fn derating() {
    let left = |celsius, count| {
        let rating = TerminalRating::Ninety;
        derated(("10 AWG", Metal::Copper), rating, rating, celsius, count).unwrap().left.get::<ampere>()
    };
    assert!((left(45.0, 8) - 24.36).abs() < 1e-9);
    assert!((left(40.0 + rooftop_adder(), 3) - 20.0).abs() < 1e-9 && (left(40.0, 3) - 36.4).abs() < 1e-9);
    assert_eq!(next_standard(ElectricCurrent::new::<ampere>(24.36)).unwrap().get::<ampere>(), 25.0);
    assert_eq!(ambient_factor(86.0, TerminalRating::Ninety), None);
    assert!(Conductor::listed("10", Rubber).is_some());
}

use uom::si::f64::ElectricCurrent;

// NEC 240.4(D) and Table 310.4, from memory.
#[test]
fn small_conductors_and_markings() {
    let limit = |size, metal| small_conductor_limit(size, metal).map(|limit| limit.get::<ampere>());
    assert_eq!((limit("10 AWG", Metal::Copper), limit("10 AWG", Metal::Aluminum)), (Some(30.0), Some(25.0)));
    assert_eq!((limit("12", Metal::Aluminum), limit("14", Metal::Aluminum), limit("8", Metal::Copper)), (Some(15.0), None, None));
    let amperes = ElectricCurrent::new::<ampere>;
    // Worked out at 20 A, 10 AWG may have no more than 20 A: the limit of small conductors caps, it does not lift.
    assert_eq!(largest_device("10 AWG", Metal::Copper, amperes(20.0), true), amperes(20.0));
    assert_eq!(largest_device("10 AWG", Metal::Copper, amperes(35.0), true), amperes(30.0));
    assert_eq!(largest_device("8 AWG", Metal::Copper, amperes(41.0), true), amperes(45.0));
    use TerminalRating::{Ninety, SeventyFive, Sixty};
    assert_eq!((insulation_rating("thwn-2", true), insulation_rating("THHN", true)), (Some(Ninety), Some(SeventyFive)));
    assert_eq!((insulation_rating("THHN/THWN-2", true), insulation_rating("TW", false)), (Some(Ninety), Some(Sixty)));
    assert_eq!((insulation_rating("QZW", false), insulation_rating("THHN/QZW", false)), (None, None));
    assert_eq!(insulation_rating("PV wire", true), Some(Ninety));
    assert_eq!((cable_column("NM-B"), cable_column("NM-B cable"), cable_column("THHN")), (Some(Sixty), Some(Sixty), None));
}

// Each column of the table rises with the size, aluminum below copper, cold above hot.
#[test]
fn the_table_is_in_order() {
    for metal in [Metal::Copper, Metal::Aluminum] {
        for rating in [TerminalRating::Sixty, TerminalRating::SeventyFive, TerminalRating::Ninety] {
            let column: Vec<f64> =
                ORDER.iter().filter_map(|size| table_ampacity(size, metal, rating)).map(|one| one.get::<ampere>()).collect();
            assert!(column.windows(2).all(|pair| pair[0] < pair[1]), "{metal:?} {rating:?}");
            assert_eq!(column.len(), if metal == Metal::Copper { 21 } else { 20 });
        }
    }
}

// Worked by hand from 314.16(B): four 12 AWG, two grounding 12 AWG, clamps, a device on 12 AWG: 4 + 1 + 1 + 2 allowances of 2.25 in3.
#[test]
fn fill_of_a_device_box() {
    let one = conductor_volume("12 AWG").unwrap();
    let fill = BoxFill { conductors: vec![one; 4], grounding: vec![one; 2], devices: vec![one], clamps: true };
    assert!((fill.volume() / one).value - 8.0 < 1e-9 && (fill.volume() / one).value > 8.0 - 1e-9);
    // Six grounding conductors count one and two quarters.
    let six = BoxFill { grounding: vec![one; 6], ..BoxFill::default() };
    assert!(((six.volume() / one).value - 1.5).abs() < 1e-9);
    assert_eq!((conductor_volume("4 AWG"), conductor_volume("none")), (None, None));
}
