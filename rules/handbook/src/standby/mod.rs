//! Standby sources: what a motor draws while it starts, what a source must give, how long stored energy lasts, what its dc
//! conductors carry.

mod dc;
mod motor;
mod run;
mod shed;
#[cfg(test)]
mod tests;

pub use dc::{DC, DcCurrent, dc_current};
pub use motor::{
    CODE_LETTERS, FULL_LOAD, LOCKED_ROTOR, Letter, code_letter, full_load_current, horsepower, in_horsepower,
    locked_rotor_current, locked_rotor_power,
};
pub use run::{Battery, DAY, Hour, Recharge, Run, run};
pub use shed::{Order, Start, Surge, largest_first, shed, surge};
