//! The fuel gas family: is every pipe large enough for what hangs on it, and does every appliance get its pressure.
//!
//! Shared by the rules: the piping as a graph with its pressure zones (`piping`), what each outlet draws (`demand`), how long
//! each pipe counts (`lengths`), which sizes and tables apply (`sizes`, `capacity`), the judgement of one pipe (`judging`), the
//! pressure left on the way to an outlet (`profile`).

mod capacity;
mod demand;
mod judging;
mod lengths;
mod parameters;
mod piping;
mod profile;
mod sizes;

redtag_rule::module!("fuel-gas");
