//! Conductors of a dwelling's service, of grounding electrodes and of equipment.

use crate::source::Source;
use uom::si::electric_current::ampere;
use uom::si::f64::ElectricCurrent;

/// Where the service sizes come from.
pub const SERVICE: Source = Source::new("NEC 310.12 (elliottelectric.com residential service chart)");
/// Where the sizes of grounding electrode conductors come from.
pub const ELECTRODE: Source = Source::new("from memory of NEC Table 250.66");
/// Where those of equipment grounding conductors come from.
pub const EQUIPMENT: Source = Source::new("from memory of NEC Table 250.122 (200 A confirmed by electrical-contractor.net)");

/// What a conductor is made of.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Metal {
    /// Copper.
    Copper,
    /// Aluminum, also copper-clad.
    Aluminum,
}

const ORDER: [&str; 19] =
    ["14", "12", "10", "8", "6", "4", "3", "2", "1", "1/0", "2/0", "3/0", "4/0", "250", "300", "350", "400", "500", "600"];

/// Where a size stands in the order of sizes, `4 AWG` before `4/0` before `250 kcmil`; larger is thicker.
pub fn rank(size: &str) -> Option<usize> {
    let number = size.trim().trim_start_matches('#').split_whitespace().next()?;
    ORDER.iter().position(|known| *known == number)
}

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

/// The least copper conductor to a grounding electrode for the size of copper service conductors; for aluminum ones the size of
/// copper of the same row of [`service_conductor`].
pub fn electrode_conductor(service: &str, metal: Metal) -> Option<&'static str> {
    let copper = match metal {
        Metal::Copper => service,
        Metal::Aluminum => SERVICES.iter().find(|row| rank(row.2) == rank(service)).map(|row| row.1)?,
    };
    let at = rank(copper)?;
    let upto = |size: &str| rank(size).is_some_and(|limit| at <= limit);
    Some(match () {
        () if upto("2") => "8 AWG",
        () if upto("1/0") => "6 AWG",
        () if upto("3/0") => "4 AWG",
        () if upto("350") => "2 AWG",
        () => "1/0 AWG",
    })
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

    // elliottelectric.com residential service chart (2020 NEC Table 310.12).
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
        for (rating, copper, _) in SERVICES.iter().take(8) {
            let carries = crate::raceway::table_ampacity(copper, crate::raceway::TerminalRating::SeventyFive);
            let carries = carries.expect("the size is tabulated").get::<ampere>();
            assert!(carries >= 0.83 * rating, "{copper} carries {carries} A of {rating} A");
        }
    }

    #[test]
    fn electrodes_and_equipment() {
        assert_eq!(electrode_conductor("2/0 AWG", Metal::Copper), Some("4 AWG"));
        assert_eq!(electrode_conductor("4/0 AWG", Metal::Aluminum), Some("4 AWG"));
        assert_eq!((equipment_grounding(amperes(200.0)), equipment_grounding(amperes(401.0))), (Some("6 AWG"), None));
        assert!(rank("250 kcmil") > rank("4/0 AWG") && rank("none").is_none());
    }
}
