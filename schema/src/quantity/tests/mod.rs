//! Quantities against published factors, good and bad inputs, and properties over many.

mod bad_inputs;
mod factors;
mod good_inputs;
mod limits;
mod printing;
mod properties;
mod serde_forms;
mod units;
