//! A breaker protects its conductors: they carry what it lets through.
//!
//! A breaker too large for its wire lets the wire be the fuse, inside the wall.
//!
//! **How it is measured.** Ampacity of copper or aluminum conductors from the table at the temperature of the terminals (60 °C up to
//! 100 A where nothing else is said) and never above what insulation and cable allow, or as worked out in the file. The breaker
//! is at most the next standard size above it, where the circuit feeds not more than one receptacle; 14, 12 and 10 AWG copper
//! never have more than 15, 20 and 30 A, 12 and 10 AWG aluminum never more than 15 and 25 A. Where motors or cooling equipment
//! alone hang on the circuit, the largest device on their plates counts instead.
//!
//! **How it is fixed.** A smaller breaker or larger conductors.

use redtag_handbook::raceway as trade;
use redtag_rule::prelude::*;
use redtag_rule_load::circuit as wiring;
use uom::si::f64::ElectricCurrent;

/// Next size up.
pub const NEXT: Flag = Flag::new(
    "next_standard_size",
    true,
    "Whether the breaker may be the next standard size above the ampacity.",
    "NEC 240.4(B)",
)
.figure();

/// The rule.
pub const RULE: Rule = Rule {
    citations: &[cited("NEC", "2020", "240.4"), cited("NEC", "2020", "310.16"), remembered("NEC", "2020", "110.14(C)")],
    parameters: &[&NEXT],
    reads: &["/electrical/panels", "/equipment", "/spaces"],
    ..Rule::new("panels/circuit-conductors", "Breakers and their conductors", check)
};

const WANTED: &str = "whether its breaker protects its conductors";

fn check(inquiry: &Inquiry) -> Vec<Finding> {
    wiring::circuits(inquiry)
        .iter()
        .map(|circuit| match circuit.role {
            Some(CircuitRole::Reserved | CircuitRole::Spare) => circuit.not_applicable(text!("feeds nothing yet")).done(),
            _ => circuit.sheet(WANTED, |sheet| judge(inquiry, circuit, sheet)),
        })
        .collect()
}

fn judge(inquiry: &Inquiry, circuit: &Place<Circuit>, sheet: &mut Sheet) -> Lookup<Text> {
    let (device, set) = (need!(circuit, overcurrent), need!(circuit, conductors)).together()?;
    // Worked out by the designer, conductors may leave size and material unsaid.
    let (size, metal) = wiring::wire(&set).unwrap_or(("", trade::Metal::Copper));
    let ampacity = wiring::ampacity(&set, Some(device.quantity())).or_else(|unresolved| {
        let best = wiring::ampacity_at_best(&set, Some(device.quantity()));
        let too_little = |best: &ElectricCurrent| !at_most(device.quantity(), trade::largest_device(size, metal, *best, true));
        best.filter(too_little).ok_or(unresolved)
    })?;
    let most = wiring::largest_breaker(inquiry, circuit, (size, metal), ampacity, inquiry.value(&NEXT))?;
    let named = if size.is_empty() { text!("its conductors") } else { text!("{}", size) };
    let carries = if size.is_empty() { "carry" } else { "carries" };
    let words = text!("{} {} {}; a breaker of {}, {} is the most{}", named, carries, ampacity, device, most.device, most.why);
    if !sheet.require("breaker", words.clone(), "NEC 240.4, Table 310.16", at_most(device.quantity(), most.device)) {
        sheet.cure(text!("use a breaker of {} at most, or larger conductors", most.device));
    }
    Ok(words)
}
