//! Water that comes faster than it goes: levels over time.

use super::basin::Basin;
use super::inlet::Strainer;
use uom::si::f64::{Length, VolumeRate};
use uom::si::{length, volume_rate};

/// A flow that lasts for a while.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Inflow {
    /// Cubic metres per second.
    pub flow: f64,
    /// Seconds.
    pub duration: f64,
}

/// What lets water go.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Outflow {
    /// The strainer; `None` for an open hub or pipe.
    pub strainer: Option<Strainer>,
    /// The most its trap and pipe carry.
    pub pipe: VolumeRate,
}

impl Outflow {
    /// A drain that is blocked.
    pub fn blocked() -> Self {
        Self { strainer: None, pipe: VolumeRate::default() }
    }

    /// What leaves with water so deep over the rim, in cubic metres per second.
    pub fn at(&self, depth: f64) -> f64 {
        if depth <= 0.0 {
            return 0.0;
        }
        let pipe = self.pipe.get::<volume_rate::cubic_meter_per_second>();
        let depth = Length::new::<length::meter>(depth);
        self.strainer.map_or(pipe, |strainer| strainer.flow(depth).get::<volume_rate::cubic_meter_per_second>().min(pipe))
    }
}

/// One moment.
#[derive(Clone, Copy, Debug, PartialEq, Default)]
pub struct Moment {
    /// Seconds from the start.
    pub time: f64,
    /// What comes, cubic metres per second.
    pub inflow: f64,
    /// What goes.
    pub outflow: f64,
    /// How deep it stands over the rim, in metres.
    pub depth: f64,
    /// What stands, in cubic metres.
    pub volume: f64,
}

/// What came of it.
#[derive(Clone, Debug, PartialEq)]
pub struct Routed {
    /// Every step.
    pub moments: Vec<Moment>,
    /// The deepest moment.
    pub peak: Moment,
    /// When it was gone again; `None` where it never was.
    pub cleared: Option<f64>,
    /// Everything that came, in cubic metres.
    pub total: f64,
}

/// Water this shallow is gone: 1/32 in.
const GONE: f64 = 0.000_79;
/// How long after the last inflow it is watched.
const WATCHED: f64 = 24.0 * 3600.0;

/// Leads inflows one after the other through a basin and what drains it. Steps of a second, longer where a discharge lasts
/// longer than 25 minutes; each solves for the volume at its end, so that no step overshoots however small the basin is.
pub fn route(basin: &Basin, outflow: &Outflow, inflows: &[Inflow]) -> Routed {
    let lasts: f64 = inflows.iter().map(|inflow| inflow.duration.max(0.0)).sum();
    let step = (lasts / 1500.0).max(1.0);
    let mut routed = Routed { moments: vec![Moment::default()], peak: Moment::default(), cleared: None, total: 0.0 };
    let mut now = Moment::default();
    for inflow in inflows {
        let mut left = inflow.duration.max(0.0);
        while left > 1e-9 {
            let width = step.min(left);
            now = advance(basin, outflow, &now, inflow.flow.max(0.0), width);
            routed.total += inflow.flow.max(0.0) * width;
            routed.take(now);
            left -= width;
        }
    }
    let mut width = step;
    while now.depth > GONE && now.time < lasts + WATCHED && outflow.at(now.depth) > 0.0 {
        now = advance(basin, outflow, &now, 0.0, width);
        routed.take(now);
        width = (width * 1.01).min(60.0);
    }
    routed.cleared = (now.depth <= GONE).then_some(now.time);
    routed
}

impl Routed {
    fn take(&mut self, now: Moment) {
        if now.depth > self.peak.depth {
            self.peak = now;
        }
        self.moments.push(now);
    }

    /// About so many moments spread over the whole, the deepest among them.
    pub fn sampled(&self, count: usize) -> Vec<Moment> {
        let every = self.moments.len().div_ceil(count.max(1)).max(1);
        let last = self.moments.len().saturating_sub(1);
        let kept = |index: usize, moment: &Moment| {
            let changes =
                index > 0 && self.moments.get(index + 1).is_some_and(|next| (next.inflow - moment.inflow).abs() > 1e-12);
            index.is_multiple_of(every) || index == last || *moment == self.peak || changes
        };
        self.moments.iter().enumerate().filter(|(index, moment)| kept(*index, moment)).map(|(_, moment)| *moment).collect()
    }
}

/// The moment one step later: V1 = V0 + dt (in - out(V1)).
fn advance(basin: &Basin, outflow: &Outflow, now: &Moment, inflow: f64, width: f64) -> Moment {
    let most = now.volume + inflow * width;
    let volume = left(basin, outflow, most, width);
    let depth = if volume > 0.0 { basin.at_volume(volume).depth.max(0.0) } else { 0.0 };
    let gone = if width > 0.0 { (most - volume) / width } else { 0.0 };
    Moment { time: now.time + width, inflow, outflow: gone, depth, volume }
}

/// The volume V left of what there was and came, V = most - dt out(V). What leaves never falls with V, so there is one; found by
/// false position, halving the weight of an end that stays (Illinois), in a handful of steps where halving takes fifty.
fn left(basin: &Basin, outflow: &Outflow, most: f64, width: f64) -> f64 {
    let short = |volume: f64| volume + width * outflow.at(basin.at_volume(volume).depth) - most;
    let (mut low, mut high) = (0.0, most);
    let (mut below, mut above) = (-most, short(most));
    let close = most * 1e-11;
    for _ in 0..60 {
        if high - low <= close || above <= 0.0 {
            break;
        }
        let guess = (high - above * (high - low) / (above - below)).clamp(low, high);
        let off = short(guess);
        if off.abs() <= close {
            return guess;
        }
        if off < 0.0 {
            (low, below) = (guess, off);
            above /= 2.0;
        } else {
            (high, above) = (guess, off);
            below /= 2.0;
        }
    }
    if above <= 0.0 { high } else { (low + high) / 2.0 }
}
