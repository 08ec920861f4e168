//! The tables hold together, and know every unit the trade's chapters use.

use crate::quantity::{Kind, System, spelling, unit};

#[test]
fn keys_are_in_the_form_they_are_looked_up_in() {
    for kind in Kind::ALL {
        for unit in kind.units() {
            assert_eq!(spelling::key(unit.symbol()), unit.keys[0], "{kind}");
            for key in unit.keys {
                assert_eq!(&spelling::key(key), key, "{kind}");
            }
        }
    }
}

#[test]
fn no_spelling_means_two_units_of_a_kind() {
    for kind in Kind::ALL {
        let mut keys: Vec<&str> = kind.units().iter().flat_map(|unit| unit.keys).copied().collect();
        let count = keys.len();
        keys.sort_unstable();
        keys.dedup();
        assert_eq!(keys.len(), count, "{kind}");
    }
}

#[test]
fn usual_units_are_units() {
    for kind in Kind::ALL {
        let facts = kind.facts();
        assert!(unit::find(facts.units, facts.us).is_some(), "{kind} {}", facts.us);
        assert!(unit::find(facts.units, facts.si).is_some(), "{kind} {}", facts.si);
        for system in [System::UsCustomary, System::Si] {
            assert!(!kind.print(1.0, system, None).is_empty());
        }
    }
}

#[test]
fn factors_are_positive_and_undo_themselves() {
    for kind in Kind::ALL {
        for unit in kind.units() {
            let there = unit.to_si(12.5);
            assert!(there > 0.0 && there.is_finite(), "{kind} {}", unit.symbol());
            assert!((unit.from_si(there) - 12.5).abs() < 1e-12, "{kind} {}", unit.symbol());
        }
    }
}

#[test]
fn the_si_unit_is_one() {
    for kind in Kind::ALL {
        if let Some(unit) = unit::find(kind.units(), kind.si_unit()) {
            assert_eq!(unit.to_si(1.0), 1.0, "{kind}");
        }
    }
}

#[test]
fn units_of_the_trade_are_known() {
    let used = "in ft mm m in² ft² mm² ft³ gal L in_wc psi psig Pa kPa bar psf inHg cfm cfh cfs gpm gph gpd ft³/h ft/s \
                ft/min Btu Btu/h kBtu/h Btu/ft³ Btu/gal therm kWh Wh kW W hp ton VA kVA A V kV Hz Ω ACH gpg ppm mg/L lb min \
                s h d day days hours °F °C % in/ft R kcmil mil";
    for text in used.split_whitespace() {
        let text = text.replace('_', " ");
        let known = Kind::ALL.iter().any(|kind| unit::find(kind.units(), &text).is_some());
        assert!(known, "{text}");
    }
}
