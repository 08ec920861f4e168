//! A breaker protects its conductors: they carry what it lets through.
//!
//! A breaker too large for its wire lets the wire be the fuse, inside the wall.
//!
//! **How it is measured.** Ampacity of copper conductors from the table at the temperature of the terminals (60 °C up to 100 A where
//! nothing else is said), or as worked out in the file. The breaker is at most the next standard size above it; 14, 12 and 10
//! AWG copper never more than 15, 20 and 30 A, motors and cooling equipment apart.
//!
//! **How it is fixed.** A smaller breaker or larger conductors.

use crate::circuits;
use redtag_handbook::raceway::{self as trade, TerminalRating};
use redtag_rule::prelude::*;
use uom::si::f64::ElectricCurrent;
use uom::si::thermodynamic_temperature::degree_celsius;

/// Next size up.
const NEXT: Flag = Flag::new(
    "next_standard_size",
    true,
    "Whether the breaker may be the next standard size above the ampacity.",
    "from memory of NEC 240.4(B)",
);

/// The rule.
pub const RULE: Rule = Rule {
    citations: &[remembered("NEC", "2020", "240.4"), cited("NEC", "2020", "310.16"), remembered("NEC", "2020", "110.14(C)")],
    parameters: &[&NEXT],
    reads: &["/electrical/panels"],
    ..Rule::new("panels/circuit-conductors", "Breakers and their conductors", check)
};

const WANTED: &str = "whether its breaker protects its conductors";

fn check(inquiry: &Inquiry) -> Vec<Finding> {
    circuits::every(inquiry)
        .iter()
        .map(|circuit| match circuit.role {
            Some(CircuitRole::Reserved | CircuitRole::Spare) => circuit.not_applicable(text!("feeds nothing yet")).done(),
            _ => circuit.sheet(WANTED, |sheet| judge(inquiry, circuit, sheet)),
        })
        .collect()
}

fn judge(inquiry: &Inquiry, circuit: &Place<Circuit>, sheet: &mut Sheet) -> Lookup<Text> {
    let (device, ampacity) = (need!(circuit, overcurrent), ampacity(circuit)).together()?;
    let mut most = ampacity;
    if inquiry.value(&NEXT) {
        most = trade::next_standard(ampacity).unwrap_or(ampacity);
    }
    if let Ok(size) = need!(circuit, conductors.size)
        && let Some(limit) = trade::small_conductor_limit(&size)
        && limit < most
    {
        most = limit;
    }
    let size = circuit.conductors.as_ref().and_then(|set| set.size.clone()).unwrap_or_default();
    let words = text!("{} carries {}; a breaker of {}, {} is the most", size.as_str(), ampacity, device, most);
    if !sheet.require("breaker", words.clone(), "NEC 240.4, Table 310.16", at_most(device.quantity(), most)) {
        sheet.cure(text!("use a breaker of {} at most, or larger conductors", most));
    }
    Ok(words)
}

fn ampacity(circuit: &Place<Circuit>) -> Lookup<ElectricCurrent> {
    if let Ok(stated) = need!(circuit, conductors.ampacity) {
        return Ok(stated.quantity());
    }
    let (size, material) = (need!(circuit, conductors.size), need!(circuit, conductors.material)).together()?;
    if *material != ConductorMaterial::Copper {
        return Err(circuit.missing("/conductors/ampacity"));
    }
    let known = trade::table_ampacity(&size, terminals(circuit));
    known.ok_or_else(|| circuit.missing("/conductors/ampacity"))
}

fn terminals(circuit: &Place<Circuit>) -> TerminalRating {
    let said = need!(circuit, conductors.terminal_rating).map(|rating| rating.quantity().get::<degree_celsius>());
    TerminalRating::marked(said.ok(), need!(circuit, overcurrent).ok().map(|device| device.quantity()))
}
