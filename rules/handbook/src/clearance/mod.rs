//! How much room is left free: before electrical equipment, and between an appliance and what can burn.

pub mod electrical;
pub mod protection;
