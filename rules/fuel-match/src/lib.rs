//! The fuel match family: does every gas appliance get the gas, the pressure and the setting it is made for, here and at
//! this altitude.
//!
//! Shared by the rules: what an appliance burns and through which hole (`burner`), what the supply delivers (`supply`),
//! which pressure reaches an inlet (`reach`), which reduction altitude asks of an input (`altitude`) and what was done
//! about it (`derate`).

mod altitude;
mod burner;
mod derate;
mod reach;
mod supply;
#[cfg(test)]
mod trying;

redtag_rule::module!("fuel-match", guarded);
