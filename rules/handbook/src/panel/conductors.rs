//! Conductors of a dwelling's service, of grounding electrodes and of equipment.

use crate::raceway::{Metal, kcmil, next_standard, rank};
use crate::source::Source;
use redtag_schema::quantity::at_least;
use uom::si::electric_current::ampere;
use uom::si::f64::ElectricCurrent;

/// Where the service sizes come from.
pub const SERVICE: Source = Source::new("NEC 310.12 (a published residential service chart)");
/// Where the sizes of grounding electrode conductors come from.
pub const ELECTRODE: Source = Source::new("from memory of NEC Table 250.66");
/// Where those of equipment grounding conductors come from.
pub const EQUIPMENT: Source = Source::new("from memory of NEC Table 250.122 (200 A confirmed in print)");

type ServiceRow = (f64, &'static str, &'static str);
const SERVICES: [ServiceRow; 11] = [
    (100.0, "4 AWG", "2 AWG"),
    (110.0, "3 AWG", "1 AWG"),
    (125.0, "2 AWG", "1/0 AWG"),
    (150.0, "1 AWG", "2/0 AWG"),
    (175.0, "1/0 AWG", "3/0 AWG"),
    (200.0, "2/0 AWG", "4/0 AWG"),
    (225.0, "3/0 AWG", "250 kcmil"),
    (250.0, "4/0 AWG", "300 kcmil"),
    (300.0, "250 kcmil", "350 kcmil"),
    (350.0, "350 kcmil", "500 kcmil"),
    (400.0, "400 kcmil", "600 kcmil"),
];

/// The least size of conductors that carry the whole load of one dwelling from a service of this rating. `None` outside 100 to
/// 400 A.
pub fn service_conductor(rating: ElectricCurrent, metal: Metal) -> Option<&'static str> {
    let number = rating.get::<ampere>();
    let row = SERVICES.iter().find(|row| number <= row.0 * (1.0 + 1e-9)).filter(|_| number >= 100.0 * (1.0 - 1e-9))?;
    Some(if metal == Metal::Copper { row.1 } else { row.2 })
}

/// What conductors of a service must carry.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Serving {
    /// The whole load of one dwelling, single phase: 83 percent of the rating from 100 to 400 A (310.12).
    OneDwelling,
    /// Anything else: the rating, the next standard size allowed (230.42, 240.4(B)).
    Other,
}

/// Whether the figure of 310.12 may be used.
pub fn dwelling_figure(rating: ElectricCurrent, serving: Serving) -> bool {
    let number = rating.get::<ampere>();
    serving == Serving::OneDwelling && (100.0 * (1.0 - 1e-9)..=400.0 * (1.0 + 1e-9)).contains(&number)
}

/// The least ampacity conductors of a service, all sets together, may have for a rating.
pub fn service_ampacity(rating: ElectricCurrent, serving: Serving) -> ElectricCurrent {
    if dwelling_figure(rating, serving) { rating * 0.83 } else { rating }
}

/// Whether conductors of a service suit its rating, `sets` of them in parallel: by the table of one dwelling where that may be
/// used, else by what they carry. `None` for a size the tables do not list.
pub fn service_holds(size: &str, metal: Metal, sets: u32, rating: ElectricCurrent, serving: Serving) -> Option<bool> {
    let each = crate::raceway::table_ampacity(size, metal, crate::raceway::TerminalRating::SeventyFive)?;
    let all = each * f64::from(sets);
    if dwelling_figure(rating, serving) {
        let tabled = service_conductor(rating, metal).and_then(rank).zip(rank(size)).is_some_and(|(least, own)| own >= least);
        return Some((sets == 1 && tabled) || at_least(all, service_ampacity(rating, serving)));
    }
    Some(at_least(next_standard(all).unwrap_or(all), rating))
}

/// The thinnest conductors that may run in parallel: 1/0 AWG (310.10(G)).
pub fn may_run_in_parallel(size: &str) -> Option<bool> {
    rank(size).zip(rank("1/0")).map(|(own, least)| own >= least)
}

/// The least copper conductor to a grounding electrode, or to bond a metal water pipe, for service conductors of a size, `sets` in
/// parallel: the circular mils of all count (250.66, 250.102(C)). `None` for a size that is not known.
pub fn electrode_conductor(service: &str, metal: Metal, sets: u32) -> Option<&'static str> {
    // From memory of Table 250.66: kcmil up to which a row reaches, copper and aluminum.
    let rows: [(f64, f64, &'static str); 6] = [
        (66.36, 105.6, "8 AWG"),
        (105.6, 167.8, "6 AWG"),
        (167.8, 250.0, "4 AWG"),
        (350.0, 500.0, "2 AWG"),
        (600.0, 900.0, "1/0 AWG"),
        (1_100.0, 1_750.0, "2/0 AWG"),
    ];
    let area = kcmil(service)? * f64::from(sets.max(1));
    let reaches = |row: &&(f64, f64, &'static str)| area <= (if metal == Metal::Copper { row.0 } else { row.1 }) * (1.0 + 1e-9);
    Some(rows.iter().find(reaches).map_or("3/0 AWG", |row| row.2))
}

/// The least copper equipment grounding conductor for an overcurrent device. `None` past 400 A.
pub fn equipment_grounding(device: ElectricCurrent) -> Option<&'static str> {
    let rows = [
        (15.0, "14 AWG"),
        (20.0, "12 AWG"),
        (60.0, "10 AWG"),
        (100.0, "8 AWG"),
        (200.0, "6 AWG"),
        (300.0, "4 AWG"),
        (400.0, "3 AWG"),
    ];
    let number = device.get::<ampere>();
    rows.iter().find(|row| number <= row.0 * (1.0 + 1e-9)).map(|row| row.1)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn amperes(number: f64) -> ElectricCurrent {
        ElectricCurrent::new::<ampere>(number)
    }

    // A published residential service chart (2020 NEC Table 310.12).
    #[test]
    fn published_service_sizes() {
        assert_eq!(service_conductor(amperes(200.0), Metal::Copper), Some("2/0 AWG"));
        assert_eq!(service_conductor(amperes(200.0), Metal::Aluminum), Some("4/0 AWG"));
        assert_eq!(service_conductor(amperes(400.0), Metal::Aluminum), Some("600 kcmil"));
        assert_eq!(
            (service_conductor(amperes(99.0), Metal::Copper), service_conductor(amperes(401.0), Metal::Copper)),
            (None, None)
        );
    }

    // 83 percent of the rating against the 75 degree column, as 310.12 itself says, for what the table here reaches.
    #[test]
    fn the_table_follows_its_own_rule() {
        for (rating, copper, _) in SERVICES.iter() {
            let carries = crate::raceway::table_ampacity(copper, Metal::Copper, crate::raceway::TerminalRating::SeventyFive);
            let carries = carries.expect("the size is tabulated").get::<ampere>();
            assert!(carries >= 0.83 * rating, "{copper} carries {carries} A of {rating} A");
        }
    }

    #[test]
    fn electrodes_and_equipment() {
        assert_eq!(electrode_conductor("2/0 AWG", Metal::Copper, 1), Some("4 AWG"));
        assert_eq!(electrode_conductor("4/0 AWG", Metal::Aluminum, 1), Some("4 AWG"));
        // Two sets of 4/0 aluminum are 423.2 kcmil: 2 AWG.
        assert_eq!(electrode_conductor("4/0 AWG", Metal::Aluminum, 2), Some("2 AWG"));
        assert_eq!(electrode_conductor("500 kcmil", Metal::Copper, 3), Some("3/0 AWG"));
        assert_eq!((equipment_grounding(amperes(200.0)), equipment_grounding(amperes(401.0))), (Some("6 AWG"), None));
    }

    // Computed from 310.12, 310.16 and 240.4(B): 2 x 4 AWG aluminum carry 130 A of 332; 4 AWG copper is none for 600 A.
    #[test]
    fn services_in_parallel_large_and_small() {
        let holds = |size, metal, sets, rating, serving| service_holds(size, metal, sets, amperes(rating), serving);
        use Serving::{OneDwelling, Other};
        assert_eq!(holds("4 AWG", Metal::Aluminum, 2, 400.0, OneDwelling), Some(false));
        assert_eq!(holds("4/0 AWG", Metal::Aluminum, 2, 400.0, OneDwelling), Some(true));
        assert_eq!(holds("4/0 AWG", Metal::Aluminum, 1, 200.0, OneDwelling), Some(true));
        // 180 A at 75 C: 200 A is the next standard size.
        assert_eq!(holds("4/0 AWG", Metal::Aluminum, 1, 200.0, Other), Some(true));
        assert_eq!(holds("3/0 AWG", Metal::Aluminum, 1, 200.0, Other), Some(false));
        assert_eq!(holds("4 AWG", Metal::Copper, 1, 600.0, Other), Some(false));
        assert_eq!(holds("14 AWG", Metal::Copper, 1, 60.0, OneDwelling), Some(false));
        assert_eq!(holds("6 AWG", Metal::Copper, 1, 60.0, OneDwelling), Some(true));
        assert_eq!(holds("none", Metal::Copper, 1, 60.0, OneDwelling), None);
        assert_eq!((may_run_in_parallel("1/0 AWG"), may_run_in_parallel("1 AWG")), (Some(true), Some(false)));
    }
}
