//! What must hold of every load calculation and every run of a battery, whatever the figures.

use proptest::prelude::*;
use redtag_handbook::load::{Dwelling, Load, Rates, Use, in_volt_amperes, optional, standard, volt_amperes};
use redtag_handbook::standby::{Battery, DAY, run, shed};
use redtag_handbook::units::{fraction, in_kilowatt_hours, kilowatt_hours, square_inches};
use uom::si::f64::{Power, Time};
use uom::si::power::watt;
use uom::si::time::hour;

const USES: [Use; 10] = [
    Use::Appliance,
    Use::Dryer,
    Use::SpaceHeating,
    Use::HeatingAuxiliary,
    Use::Cooling,
    Use::HeatPump,
    Use::SupplementalHeat,
    Use::ThermalStorage,
    Use::VehicleCharging,
    Use::General,
];

fn dwelling() -> impl Strategy<Value = Dwelling> {
    let load = (0..USES.len(), 0.0..12_000.0_f64).prop_map(|(usage, power)| Load::new(USES[usage], volt_amperes(power)));
    (500.0..6_000.0_f64, prop::collection::vec(load, 0..12)).prop_map(|(feet, loads)| Dwelling {
        floor_area: square_inches(feet * 144.0),
        loads,
        ..Dwelling::default()
    })
}

fn store(kilowatts: f64) -> Battery {
    Battery {
        capacity: kilowatt_hours(kilowatts),
        reserve: kilowatt_hours(kilowatts * 0.1),
        charge_limit: None,
        charge_efficiency: fraction(0.95),
        charges: true,
    }
}

fn day() -> impl Strategy<Value = [Power; DAY]> {
    prop::collection::vec(0.0..3_000.0_f64, DAY).prop_map(|watts| std::array::from_fn(|index| Power::new::<watt>(watts[index])))
}

fn lasts(time: Option<Time>) -> f64 {
    time.map_or(f64::INFINITY, |time| time.get::<hour>())
}

proptest! {
    #[test]
    fn a_larger_house_or_another_load_never_counts_less(base in dwelling(), more in 0.0..9_000.0_f64, usage in 0..USES.len()) {
        let rates = Rates::default();
        let mut larger = base.clone();
        larger.floor_area *= 1.1;
        // The appliance factor itself may take away: four appliances can count less than three.
        if USES[usage] != Use::Appliance {
            larger.loads.push(Load::new(USES[usage], volt_amperes(more)));
        }
        let totals = |dwelling: &Dwelling| {
            let standard = standard(dwelling, &rates).unwrap();
            (in_volt_amperes(standard.total), in_volt_amperes(optional(dwelling, &rates).total))
        };
        let (before, after) = (totals(&base), totals(&larger));
        prop_assert!(after.0 >= before.0 - 1e-6 && after.1 >= before.1 - 1e-6);
        let parts: f64 = optional(&base, &rates).lines.iter().map(|line| in_volt_amperes(line.demand)).sum();
        prop_assert!((parts - before.1).abs() < 1e-6);
    }

    #[test]
    fn more_stored_lasts_longer_and_more_load_shorter(
        size in 1.0..40.0_f64, load in day(), sun in day(), begins in 0..DAY, factor in 1.0..2.0_f64,
    ) {
        let heavier = load.map(|power| power * factor);
        let base = run(&store(size), &load, &sun, None, begins, 240);
        prop_assert!(lasts(run(&store(size * factor), &load, &sun, None, begins, 240).lasts) >= lasts(base.lasts) - 1e-9);
        prop_assert!(lasts(run(&store(size), &heavier, &sun, None, begins, 240).lasts) <= lasts(base.lasts) + 1e-9);
        for each in &base.hours {
            let stored = in_kilowatt_hours(each.stored);
            prop_assert!(stored <= size + 1e-9 && stored >= size * 0.1 - 1e-9);
        }
    }

    #[test]
    fn what_is_shed_reaches_what_is_wanted_or_is_all_there_is(
        size in 1.0..20.0_f64, loads in prop::collection::vec(day(), 1..6), begins in 0..DAY, wanted in 1.0..72.0_f64,
    ) {
        let (none, wanted) = ([Power::default(); DAY], Time::new::<hour>(wanted));
        let steps = shed(&store(size), &none, &loads, &vec![true; loads.len()], &none, None, begins, wanted);
        let mut left = none;
        for (index, load) in loads.iter().enumerate() {
            if !steps.iter().any(|(shed, _)| *shed == index) {
                left.iter_mut().zip(load).for_each(|(sum, power)| *sum += *power);
            }
        }
        let after = lasts(run(&store(size), &left, &none, None, begins, 72).lasts);
        prop_assert!(after >= wanted.get::<hour>() - 1e-9 || steps.len() == loads.len());
        // Each step lasts at least as long as the one before.
        for pair in steps.windows(2) {
            prop_assert!(lasts(pair[1].1) >= lasts(pair[0].1) - 1e-9);
        }
    }
}
