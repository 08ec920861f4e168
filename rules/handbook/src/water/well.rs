//! A well pump and its pressure tank.

use super::measure::{gallons, in_gallons};

use uom::si::f64::{Pressure, Time, Volume, VolumeRate};

/// The part of a tank's volume it gives between cut-out and cut-in, by Boyle's law in absolute pressures. Nothing where cut-out is
/// not above cut-in. Source: [`sources::DRAWDOWN`](super::sources::DRAWDOWN).
pub fn drawdown_factor(precharge: Pressure, cut_in: Pressure, cut_out: Pressure, atmosphere: Pressure) -> f64 {
    let absolute = |gauge: Pressure| (gauge + atmosphere).value;
    let (charged, low, high) = (absolute(precharge), absolute(cut_in), absolute(cut_out));
    if low <= 0.0 || high <= low {
        return 0.0;
    }
    // Water stands in the tank only above the precharge: air cannot fill more than the tank.
    let air = |pressure: f64| (charged / pressure).min(1.0);
    air(low) - air(high)
}

/// The water a tank gives between cut-out and cut-in.
pub fn drawdown(volume: Volume, precharge: Pressure, cut_in: Pressure, cut_out: Pressure, atmosphere: Pressure) -> Volume {
    volume * drawdown_factor(precharge, cut_in, cut_out, atmosphere)
}

/// The tank in which a pump of some flow runs so long at least; `None` where the tank would give nothing.
pub fn tank_volume_for(flow: VolumeRate, run: Time, factor: f64) -> Option<Volume> {
    (factor > 0.0).then(|| gallons(in_gallons(flow * run) / factor))
}

/// The flow of a pump at another pressure, on the parabola through its rated point and the pressure it makes at no flow; `None` where
/// the two do not form one.
pub fn pump_flow_at(rated: VolumeRate, at: Pressure, shutoff: Pressure, wanted: Pressure) -> Option<VolumeRate> {
    let (span, left) = ((shutoff - at).value, (shutoff - wanted).value);
    (span > 0.0).then(|| rated * if left > 0.0 { (left / span).sqrt() } else { 0.0 })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::units::psi;
    use crate::water::measure::gallons_per_minute;

    #[test]
    fn a_precharge_above_cut_in_leaves_the_tank_empty_for_a_while() {
        let factor = drawdown_factor(psi(50.0), psi(40.0), psi(60.0), psi(14.7));
        assert!((factor - (1.0 - 64.7 / 74.7)).abs() < 1e-12);
        assert_eq!(drawdown_factor(psi(38.0), psi(60.0), psi(40.0), psi(14.7)), 0.0);
    }

    #[test]
    fn a_pump_gives_nothing_above_its_shutoff_pressure() {
        let flow = |wanted: f64| pump_flow_at(gallons_per_minute(10.0), psi(50.0), psi(90.0), psi(wanted)).unwrap().value;
        assert!((flow(50.0) - gallons_per_minute(10.0).value).abs() < 1e-15);
        assert_eq!(flow(95.0), 0.0);
        assert!(flow(80.0) < flow(60.0));
        assert_eq!(pump_flow_at(gallons_per_minute(10.0), psi(50.0), psi(50.0), psi(40.0)), None);
    }
}
