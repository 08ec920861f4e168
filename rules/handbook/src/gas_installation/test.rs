//! The pressure gas piping is tested at.

use uom::si::f64::Pressure;

/// The least test pressure: a multiple of the working pressure, and never less than a floor.
///
/// The model code takes 1.5 times and 3 psi (IRC G2417.4.1, IFGC 406.4.1).
pub fn least_test_pressure(working: Pressure, factor: f64, floor: Pressure) -> Pressure {
    let multiple = working * factor;
    if multiple > floor { multiple } else { floor }
}

/// The greatest reading a gauge may have that the test is read from: a multiple of the test pressure (IRC G2417.4: 5).
pub fn greatest_gauge(test: Pressure, factor: f64) -> Pressure {
    test * factor
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::units::{in_psi, inches_of_water, psi};

    #[test]
    fn three_psi_governs_up_to_two() {
        let least = |working| in_psi(least_test_pressure(working, 1.5, psi(3.0)));
        assert!((least(inches_of_water(11.0)) - 3.0).abs() < 1e-9);
        assert!((least(psi(2.0)) - 3.0).abs() < 1e-9);
        assert!((least(psi(5.0)) - 7.5).abs() < 1e-9);
        assert!((in_psi(greatest_gauge(psi(3.0), 5.0)) - 15.0).abs() < 1e-9);
    }
}
