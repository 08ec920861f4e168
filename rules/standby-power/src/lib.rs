//! The standby power family: will the source carry what is transferred to it, start the motors on it and last as long as it
//! should, and is it joined to the house so that nothing is fed back and nobody is hurt.
//!
//! Shared by the rules: the loads that are backed up (`loads`), the source behind a transfer (`source`), the Article 220
//! calculation of what is transferred (`demand`), how motors start (`starts`), what is stored (`stored`), where gear stands (`plan`), volt-amperes in sentences (`say`).

mod demand;
mod loads;
mod plan;
mod source;
mod starts;
mod stored;

redtag_rule::module!("standby-power", guarded);
