//! The water heating family: is there hot water enough, can it not burst, scald, leak unseen or fall over.
//!
//! Shared by the rules: which heaters there are and what feeds them (`heater`), whether warm water can go back where it came from
//! (`closed`), what an appliance gives at this elevation (`altitude`), which outlets draw hot water (`outlets`).

mod altitude;
mod boiler;
mod closed;
mod heater;
mod outlets;
#[cfg(test)]
mod trying;

redtag_rule::module!("water-heating", guarded);
