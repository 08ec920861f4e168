//! How modules are compiled and run: one place, because the child process that compiles must agree with the process that runs.

use wasmtime::{Config, Engine, Strategy};

/// Names every code-generation setting below which the engine's own compatibility hash leaves out (whether NaN bits are made
/// equal, how far code is optimised). Change it together with [`config`].
pub(super) const CODE_SETTINGS: &str = "nan-canonical relaxed-simd-off opt-speed";

/// Bytes of stack a module may use. Rule modules ask for 256 KiB of their own; this is the machine stack beneath them.
pub(super) const GUEST_STACK: usize = 512 << 10;

/// Bytes of stack of the thread a module runs on: room for the module and for the host functions it calls.
pub(super) const THREAD_STACK: usize = 8 << 20;

/// Below this much address space each memory is checked by instructions instead of by 4 GiB of reserved addresses.
#[cfg(unix)]
const AMPLE_ADDRESS_SPACE: u64 = 256 << 30;

/// How hard the compiler tries. Code of one tier does not run in the engine of the other.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, clap::ValueEnum)]
pub enum Tier {
    /// In one pass, in time proportional to the file: what a module meets first. Its code takes two to three times as long.
    Baseline,
    /// With every optimisation: what runs once it is there, and what decides where a limit is met.
    Optimising,
}

impl Tier {
    /// The word for it on a command line and in the names of what is kept.
    pub(super) const fn word(self) -> &'static str {
        match self {
            Self::Baseline => "baseline",
            Self::Optimising => "optimising",
        }
    }
}

/// The engine that modules of a tier are compiled for and run in.
///
/// # Errors
/// When there is no such compiler for this machine.
pub(super) fn engine(tier: Tier) -> wasmtime::Result<Engine> {
    Engine::new(&config(tier))
}

fn config(tier: Tier) -> Config {
    let mut config = Config::new();
    config.strategy(match tier {
        Tier::Baseline => Strategy::Winch,
        Tier::Optimising => Strategy::Cranelift,
    });
    // Steps decide (repeatable), the clock is the backstop.
    config.consume_fuel(true).epoch_interruption(true).max_wasm_stack(GUEST_STACK);
    // The same bits on every machine. Threads are not compiled into the engine at all.
    config.cranelift_nan_canonicalization(true).wasm_relaxed_simd(false);
    // A failure names its function, which needs no map of instructions; without it compiled modules are a quarter smaller.
    config.generate_address_map(false);
    // Nothing in the contract is asynchronous.
    config.concurrency_support(false);
    if address_space_is_short() {
        config.memory_reservation(0).memory_guard_size(0).memory_reservation_for_growth(1 << 20);
    }
    config
}

/// Whether this process may not reserve gigabytes of addresses, as under `ulimit -v` on a shared machine.
#[cfg(unix)]
fn address_space_is_short() -> bool {
    rlimit::Resource::AS.get_soft().is_ok_and(|bytes| bytes < AMPLE_ADDRESS_SPACE)
}

#[cfg(not(unix))]
fn address_space_is_short() -> bool {
    false
}
