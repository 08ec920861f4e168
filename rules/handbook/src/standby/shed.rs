//! What a source must give while motors start, and which load to shed first.

use super::{Battery, DAY, Recharge, run};
use uom::si::f64::{Power, Time};

/// In which order motors start.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Order {
    /// One after the other.
    Staggered,
    /// All at once.
    Simultaneous,
}

/// A motor.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Start {
    /// While it runs.
    pub running: Power,
    /// While it starts, soft start included.
    pub starting: Power,
}

/// What the start of one motor asks for.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Surge {
    /// All others while it starts.
    pub others: Power,
    /// Itself and all others.
    pub needed: Power,
}

/// What the source must give while motor `which` starts, beside `base` of loads that are no motors. `None` where there is no
/// such motor.
pub fn surge(motors: &[Start], which: usize, base: Power, order: Order) -> Option<Surge> {
    let starter = motors.get(which)?;
    let of = |motor: &Start| match order {
        Order::Staggered => motor.running,
        Order::Simultaneous => motor.starting,
    };
    let rest = motors.iter().enumerate().filter(|(index, _)| *index != which);
    let others = rest.fold(base, |sum, (_, motor)| sum + of(motor));
    Some(Surge { others, needed: others + starter.starting })
}

/// The loads in the order of the energy each takes in a day, the largest first.
pub fn largest_first(loads: &[[Power; DAY]]) -> Vec<usize> {
    let energy = |index: &usize| loads[*index].iter().fold(Power::default(), |sum, power| sum + *power);
    let mut order: Vec<usize> = (0..loads.len()).collect();
    order.sort_by(|a, b| energy(b).value.total_cmp(&energy(a).value));
    order
}

/// Which loads to shed so that the rest lasts `wanted` hours, and how long it lasts after each: `None` when past the time
/// looked at. Where one load is enough it is the smallest that is; otherwise the one that gains most goes first.
/// `may_go` says which loads may be shed; `base` is what runs anyway.
#[allow(clippy::too_many_arguments)]
pub fn shed(
    battery: &Battery,
    base: &[Power; DAY],
    loads: &[[Power; DAY]],
    may_go: &[bool],
    solar: &[Power; DAY],
    recharge: Option<&Recharge>,
    begins: usize,
    wanted: Time,
) -> Vec<(usize, Option<Time>)> {
    let hours = libm::ceil(wanted.get::<uom::si::time::hour>()).clamp(0.0, 24.0 * 60.0) as usize;
    let mut kept: Vec<bool> = vec![true; loads.len()];
    let lasting = |kept: &[bool]| {
        let mut sum = *base;
        for (load, _) in loads.iter().zip(kept).filter(|(_, kept)| **kept) {
            sum.iter_mut().zip(load).for_each(|(sum, power)| *sum += *power);
        }
        run(battery, &sum, solar, recharge, begins, hours).lasts
    };
    let enough = |lasts: Option<Time>| lasts.is_none_or(|lasts| lasts >= wanted);
    let mut steps = Vec::new();
    let mut order = largest_first(loads);
    order.retain(|index| may_go.get(*index).copied().unwrap_or(false));
    while !enough(lasting(&kept)) {
        let without = |index: usize| {
            let mut kept = kept.clone();
            kept[index] = false;
            lasting(&kept)
        };
        let tried: Vec<(usize, Option<Time>)> = order.iter().filter(|i| kept[**i]).map(|i| (*i, without(*i))).collect();
        // The order is by energy: the last that is enough is the smallest.
        let smallest = tried.iter().rev().find(|(_, lasts)| enough(*lasts));
        let most = || {
            tried
                .iter()
                .rev()
                .max_by(|a, b| a.1.map_or(f64::INFINITY, |t| t.value).total_cmp(&b.1.map_or(f64::INFINITY, |t| t.value)))
        };
        let Some((index, lasts)) = smallest.or_else(most).copied() else { break };
        kept[index] = false;
        steps.push((index, lasts));
    }
    steps
}
