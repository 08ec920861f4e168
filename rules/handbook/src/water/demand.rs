//! From supply fixture units to a flow: nobody opens everything at once.

use super::measure::gallons_per_minute;
use uom::si::f64::VolumeRate;

/// Whose curve, for systems that flush by tank.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum DemandCurve {
    /// IRC P2903.6(1), the same as IPC E103.3(3).
    Residential,
    /// NSPC B.5.4, far lower at small loads.
    Standard,
}

const RESIDENTIAL: &[(f64, f64)] = &[
    (1.0, 3.0),
    (2.0, 5.0),
    (3.0, 6.5),
    (4.0, 8.0),
    (5.0, 9.4),
    (6.0, 10.7),
    (7.0, 11.8),
    (8.0, 12.8),
    (9.0, 13.7),
    (10.0, 14.6),
    (11.0, 15.4),
    (12.0, 16.0),
    (13.0, 16.5),
    (14.0, 17.0),
    (15.0, 17.5),
    (16.0, 18.0),
    (17.0, 18.4),
    (18.0, 18.8),
    (19.0, 19.2),
    (20.0, 19.6),
    (25.0, 21.5),
    (30.0, 23.3),
    (35.0, 24.9),
    (40.0, 26.3),
    (45.0, 27.7),
    (50.0, 29.1),
    (60.0, 32.0),
    (70.0, 35.0),
    (80.0, 38.0),
    (90.0, 41.0),
    (100.0, 43.5),
    (120.0, 48.0),
    (140.0, 52.5),
    (160.0, 57.0),
    (180.0, 61.0),
    (200.0, 65.0),
];

/// Between 14 and 120 units the lines are not known.
const STANDARD_LOW: &[(f64, f64)] = &[
    (3.0, 3.0),
    (4.0, 4.0),
    (5.0, 4.5),
    (6.0, 5.0),
    (7.0, 6.0),
    (8.0, 7.0),
    (9.0, 7.5),
    (10.0, 8.0),
    (11.0, 8.5),
    (12.0, 9.0),
    (13.0, 10.0),
    (14.0, 10.5),
];
const STANDARD_HIGH: &[(f64, f64)] = &[
    (120.0, 49.0),
    (140.0, 53.0),
    (160.0, 57.0),
    (180.0, 61.0),
    (200.0, 65.0),
    (225.0, 70.0),
    (250.0, 75.0),
    (300.0, 85.0),
    (400.0, 105.0),
    (500.0, 125.0),
    (750.0, 170.0),
];

/// The greatest flow to be expected of so many units, in a straight line between the printed ones; `None` outside what is known.
/// Below the first line the flow falls in proportion to the units. Sources: [`sources::DEMAND`](super::sources::DEMAND),
/// [`sources::STANDARD_DEMAND`](super::sources::STANDARD_DEMAND).
pub fn peak_demand(curve: DemandCurve, units: f64) -> Option<VolumeRate> {
    let flow = match curve {
        DemandCurve::Residential => on_line(RESIDENTIAL, units),
        DemandCurve::Standard => on_line(STANDARD_LOW, units).or_else(|| between(STANDARD_HIGH, units)),
    };
    flow.map(gallons_per_minute)
}

fn on_line(line: &[(f64, f64)], units: f64) -> Option<f64> {
    let &(first, flow) = line.first()?;
    if (0.0..first).contains(&units) { Some(flow * units / first) } else { between(line, units) }
}

fn between(line: &[(f64, f64)], units: f64) -> Option<f64> {
    let pair = line.windows(2).find(|pair| pair[0].0 <= units && units <= pair[1].0)?;
    let ((from, low), (to, high)) = (pair[0], pair[1]);
    Some(low + (high - low) * (units - from) / (to - from))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::water::measure::in_gallons_per_minute;

    fn flow(curve: DemandCurve, units: f64) -> Option<f64> {
        peak_demand(curve, units).map(in_gallons_per_minute)
    }

    #[test]
    fn lines_and_what_lies_between() {
        let close = |units: f64, gpm: f64| (flow(DemandCurve::Residential, units).unwrap() - gpm).abs() < 1e-9;
        assert!(
            close(0.0, 0.0)
                && close(0.5, 1.5)
                && close(1.0, 3.0)
                && close(10.0, 14.6)
                && close(22.5, 20.55)
                && close(200.0, 65.0)
        );
        assert_eq!(flow(DemandCurve::Residential, 200.1), None);
        assert_eq!(flow(DemandCurve::Residential, f64::NAN), None);
    }

    #[test]
    fn a_gap_in_what_is_known_stays_one() {
        assert!(flow(DemandCurve::Standard, 14.0).is_some() && flow(DemandCurve::Standard, 120.0).is_some());
        assert_eq!(flow(DemandCurve::Standard, 60.0), None);
        assert_eq!(flow(DemandCurve::Standard, 751.0), None);
    }

    // A curve that falls anywhere would let a house draw less for having more in it.
    #[test]
    fn more_units_never_draw_less() {
        let mut last = 0.0;
        for tenths in 0..=2000 {
            let now = flow(DemandCurve::Residential, f64::from(tenths) / 10.0).unwrap();
            assert!(now >= last);
            last = now;
        }
    }
}
