//! The fuel gas family: is every pipe large enough for what hangs on it, and does every appliance get its pressure.
//!
//! Shared by the rules: the piping as a graph with its pressure zones (`piping`), what each outlet draws (`demand`), how long
//! each pipe counts (`lengths`), which sizes and tables apply (`sizes`, `capacity`), whether a capacity carries a load (`verdict`),
//! the judgement of one pipe (`judging`), what a pipe takes of the pressure (`drop`), and what is left at an outlet (`profile`).

mod capacity;
mod demand;
mod drop;
mod judging;
mod lengths;
mod parameters;
mod piping;
mod profile;
mod sizes;
mod verdict;

redtag_rule::module!("fuel-gas", guarded);
