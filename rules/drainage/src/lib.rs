//! The drainage family: do pipes, traps and receptors carry what the room lets go, does its floor run to the drain, and what
//! stands on it while equipment discharges.
//!
//! Shared by the rules: the pipes and what loads them (`network`), what equipment lets go (`discharging`), the measured floor
//! (`floor`), where bodies stand on it (`footprint`), where water waits (`pool`), what several rules ask packs (`parameters`).

mod discharging;
mod floor;
mod footprint;
mod network;
mod parameters;
mod pool;

redtag_rule::module!("drainage", guarded);
