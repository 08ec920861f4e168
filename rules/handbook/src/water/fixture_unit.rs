//! Supply fixture units: what an outlet counts for when the flow of a whole house is asked.

/// What water is drawn at, as the tables know it.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Outlet {
    /// A bathtub, with or without a shower.
    Bathtub,
    /// A clothes washer.
    ClothesWasher,
    /// A dishwasher.
    Dishwasher,
    /// Bathtub or shower, lavatory and water closet of one bathroom.
    FullBath,
    /// Lavatory and water closet of one bathroom.
    HalfBath,
    /// A hose bibb.
    HoseBibb,
    /// A hose bibb after the first.
    AnotherHoseBibb,
    /// Kitchen sink and dishwasher.
    Kitchen,
    /// A kitchen sink.
    KitchenSink,
    /// Clothes washer and laundry tub.
    Laundry,
    /// A laundry tub.
    LaundryTub,
    /// A lavatory.
    Lavatory,
    /// A shower stall.
    Shower,
    /// A water closet with a tank.
    WaterCloset,
}

/// Whose table.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum UnitTable {
    /// IRC P2903.6.
    Residential,
    /// UPC 610.3, private use.
    Uniform,
}

/// Units of one outlet on each side and on a pipe that feeds both.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SupplyUnits {
    /// On a hot pipe; `None` where the table does not part hot from cold.
    pub hot: Option<f64>,
    /// On a cold pipe; `None` where the table does not part them.
    pub cold: Option<f64>,
    /// On a pipe that feeds both.
    pub total: f64,
}

/// The units of an outlet; `None` where the table has no line for it that is known. Sources:
/// [`sources::SUPPLY_UNITS`](super::sources::SUPPLY_UNITS),
/// [`sources::SUPPLY_UNITS_REMEMBERED`](super::sources::SUPPLY_UNITS_REMEMBERED),
/// [`sources::UNIFORM_UNITS`](super::sources::UNIFORM_UNITS).
pub fn supply_units(table: UnitTable, outlet: Outlet) -> Option<SupplyUnits> {
    match table {
        UnitTable::Residential => Some(residential(outlet)),
        UnitTable::Uniform => uniform(outlet).map(|total| SupplyUnits { hot: None, cold: None, total }),
    }
}

fn residential(outlet: Outlet) -> SupplyUnits {
    let (hot, cold, total) = match outlet {
        Outlet::FullBath => (1.5, 2.7, 3.6),
        Outlet::HalfBath => (0.5, 2.5, 2.6),
        Outlet::Kitchen => (1.9, 1.0, 2.5),
        Outlet::Laundry => (1.8, 1.8, 2.5),
        Outlet::Lavatory => (0.5, 0.5, 0.7),
        Outlet::Dishwasher => (1.4, 0.0, 1.4),
        Outlet::HoseBibb | Outlet::AnotherHoseBibb => (0.0, 2.5, 2.5),
        Outlet::WaterCloset => (0.0, 2.2, 2.2),
        Outlet::Bathtub | Outlet::ClothesWasher | Outlet::KitchenSink | Outlet::LaundryTub | Outlet::Shower => (1.0, 1.0, 1.4),
    };
    SupplyUnits { hot: Some(hot), cold: Some(cold), total }
}

fn uniform(outlet: Outlet) -> Option<f64> {
    Some(match outlet {
        Outlet::Bathtub | Outlet::ClothesWasher => 4.0,
        Outlet::Dishwasher | Outlet::KitchenSink => 1.5,
        Outlet::HoseBibb | Outlet::WaterCloset => 2.5,
        Outlet::AnotherHoseBibb | Outlet::Lavatory => 1.0,
        Outlet::Shower => 2.0,
        Outlet::FullBath | Outlet::HalfBath | Outlet::Kitchen | Outlet::Laundry | Outlet::LaundryTub => return None,
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_pipe_that_feeds_both_sides_never_counts_more_than_both() {
        for outlet in [Outlet::Bathtub, Outlet::FullBath, Outlet::HalfBath, Outlet::Kitchen, Outlet::Laundry, Outlet::Lavatory] {
            let units = supply_units(UnitTable::Residential, outlet).unwrap();
            let (hot, cold) = (units.hot.unwrap(), units.cold.unwrap());
            assert!(units.total <= hot + cold + 1e-12 && units.total >= hot.max(cold));
        }
    }

    #[test]
    fn what_the_other_table_does_not_say_stays_unknown() {
        assert_eq!(supply_units(UnitTable::Uniform, Outlet::FullBath), None);
        assert_eq!(supply_units(UnitTable::Uniform, Outlet::Bathtub).map(|units| units.hot), Some(None));
    }
}
