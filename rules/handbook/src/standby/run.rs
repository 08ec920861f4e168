//! How long stored energy lasts: hour by hour, with what the sun and a generator put back.
//!
//! Within an hour every power is constant, so that the store runs along straight lines from one event to the next: the end
//! of the hour, empty, full, the generator's start and stop, the end of its fuel. Nothing is stepped or rounded.

use uom::si::f64::{Energy, Power, Ratio, Time};
use uom::si::power::watt;
use uom::si::ratio::ratio;
use uom::si::{energy, time};

/// A day hour by hour, from midnight.
pub const DAY: usize = 24;

/// What is stored, as energy that reaches the loads.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Battery {
    /// All of it when full.
    pub capacity: Energy,
    /// What is held back.
    pub reserve: Energy,
    /// The most power it takes up; `None` where nothing limits it.
    pub charge_limit: Option<Power>,
    /// Share of what charges it that comes back.
    pub charge_efficiency: Ratio,
    /// Whether it may be charged at all: a cold lithium battery may not.
    pub charges: bool,
}

/// A generator that is run to charge. It carries the loads while it runs.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Recharge {
    /// What it charges with beside the loads.
    pub power: Power,
    /// Share of the usable energy at which it is started.
    pub start: Ratio,
    /// Share of the usable energy at which it is stopped.
    pub stop: Ratio,
    /// The hours of the day in which it is run.
    pub hours: [bool; DAY],
    /// How long its fuel lasts; `None` where that does not end it.
    pub fuel: Option<Time>,
}

/// What happened in an hour.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Hour {
    /// The hour of the day.
    pub of_day: usize,
    /// Mean load.
    pub load: Power,
    /// Mean solar output.
    pub solar: Power,
    /// How long the generator ran in it.
    pub generator: Time,
    /// What is stored at its end, what is held back included.
    pub stored: Energy,
}

/// How it went.
#[derive(Debug, Clone, PartialEq)]
pub struct Run {
    /// How long the loads ran; `None` when they still did at the end of the time looked at.
    pub lasts: Option<Time>,
    /// Hour by hour, the one in which it ends included.
    pub hours: Vec<Hour>,
    /// How long the generator ran.
    pub generator: Time,
}

/// What stays of joules after rounding at an event.
const DUST: f64 = 1e-6;

struct State<'a> {
    battery: &'a Battery,
    recharge: Option<&'a Recharge>,
    stored: f64,
    running: bool,
    fuel: f64,
    generator: f64,
}

/// Runs the loads from a full battery, beginning at an hour of the day, for `hours` hours at most. `load` and `solar` are mean
/// powers in each hour of the day.
pub fn run(
    battery: &Battery,
    load: &[Power; DAY],
    solar: &[Power; DAY],
    recharge: Option<&Recharge>,
    begins: usize,
    hours: usize,
) -> Run {
    let fuel = recharge.and_then(|recharge| recharge.fuel).map_or(f64::INFINITY, |fuel| fuel.get::<time::second>().max(0.0));
    let stored = battery.capacity.get::<energy::joule>();
    let mut state = State { battery, recharge, stored, running: false, fuel, generator: 0.0 };
    let mut told = Vec::with_capacity(hours);
    let mut lasts = None;
    for index in 0..hours {
        let of_day = (begins + index) % DAY;
        let before = state.generator;
        let ended = state.hour(of_day, load[of_day].get::<watt>(), solar[of_day].get::<watt>());
        told.push(Hour {
            of_day,
            load: load[of_day],
            solar: solar[of_day],
            generator: Time::new::<time::second>(state.generator - before),
            stored: Energy::new::<energy::joule>(state.stored),
        });
        if let Some(into) = ended {
            lasts = Some(Time::new::<time::second>(index as f64 * 3_600.0 + into));
            break;
        }
    }
    Run { lasts, hours: told, generator: Time::new::<time::second>(state.generator) }
}

impl State<'_> {
    fn floor(&self) -> f64 {
        self.battery.reserve.get::<energy::joule>().min(self.battery.capacity.get::<energy::joule>())
    }

    fn full(&self) -> f64 {
        self.battery.capacity.get::<energy::joule>()
    }

    fn level(&self, share: Ratio) -> f64 {
        self.floor() + (self.full() - self.floor()) * share.get::<ratio>().clamp(0.0, 1.0)
    }

    /// One hour; answers after how many seconds the loads stop, where they do.
    fn hour(&mut self, of_day: usize, load: f64, solar: f64) -> Option<f64> {
        let mut gone = 0.0;
        // An hour has a handful of events; a start and a stop at the same level could repeat without end.
        for _ in 0..64 {
            self.switch(of_day);
            let rate = self.rate(load, solar);
            if rate < 0.0 && self.stored <= self.floor() + DUST {
                return Some(gone);
            }
            let step = self.step(rate, of_day).min(3_600.0 - gone);
            self.stored = (self.stored + rate * step).clamp(self.floor(), self.full());
            if self.running {
                self.fuel -= step;
                self.generator += step;
            }
            gone += step;
            if 3_600.0 - gone <= DUST {
                break;
            }
        }
        None
    }

    fn allowed(&self, of_day: usize) -> bool {
        self.fuel > DUST && self.recharge.is_some_and(|recharge| recharge.hours[of_day])
    }

    /// Starts and stops the generator.
    fn switch(&mut self, of_day: usize) {
        let Some(recharge) = self.recharge else { return };
        if !self.allowed(of_day) {
            self.running = false;
        } else if self.running {
            self.running = self.stored < self.level(recharge.stop) - DUST;
        } else {
            self.running = self.stored <= self.level(recharge.start) + DUST;
        }
    }

    /// What the store gains each second.
    fn rate(&self, load: f64, solar: f64) -> f64 {
        let surplus = match self.recharge {
            Some(recharge) if self.running => recharge.power.get::<watt>().max(0.0) + solar,
            _ => solar - load,
        };
        if surplus <= 0.0 {
            return surplus;
        }
        if !self.battery.charges || self.stored >= self.full() - DUST {
            return 0.0;
        }
        let taken = self.battery.charge_limit.map_or(surplus, |limit| surplus.min(limit.get::<watt>().max(0.0)));
        taken * self.battery.charge_efficiency.get::<ratio>()
    }

    /// Seconds to the next event.
    fn step(&self, rate: f64, of_day: usize) -> f64 {
        let to = |level: f64| if rate == 0.0 { f64::INFINITY } else { (level - self.stored) / rate };
        let ahead = |seconds: f64| if seconds > 0.0 { seconds } else { f64::INFINITY };
        let mut step = if rate < 0.0 { ahead(to(self.floor())) } else { ahead(to(self.full())) };
        if let Some(recharge) = self.recharge {
            if self.running {
                step = step.min(self.fuel).min(if rate > 0.0 { ahead(to(self.level(recharge.stop))) } else { f64::INFINITY });
            } else if rate < 0.0 && self.allowed(of_day) {
                step = step.min(ahead(to(self.level(recharge.start))));
            }
        }
        step
    }
}
