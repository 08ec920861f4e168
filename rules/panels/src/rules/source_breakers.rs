//! The breaker through which a source feeds a panel carries the source's output for hours.
//!
//! Solar and batteries give their full output all afternoon. A breaker chosen by that figure alone runs at its limit and trips on the
//! best days; one that is not made for power in both directions may not open at all.
//!
//! **How it is measured.** The continuous output current of each inverter that is joined through a circuit, times 125 percent, against
//! the breaker of that circuit and against the ampacity of its conductors where they are said.
//!
//! **How it is fixed.** The breaker and conductors next larger, within what the bus takes. Only a licensed electrician opens the panel.

use crate::circuits;
use redtag_handbook::raceway::next_standard;
use redtag_rule::prelude::*;
use redtag_rule_load::circuit as wiring;

/// Continuous.
const CONTINUOUS: Quantity<dimensions::Ratio> = Quantity::new(
    "continuous_factor",
    "125 %",
    "What the output of a source is multiplied by for its breaker and conductors.",
    "from memory of NEC 705.28, 705.30",
)
.within("100 %", "200 %");

/// The rule.
pub const RULE: Rule = Rule {
    citations: &[remembered("NEC", "2020", "705.28"), remembered("NEC", "2020", "705.30")],
    parameters: &[&CONTINUOUS],
    reads: &["/electrical/panels", "/electrical/inverters"],
    ..Rule::new("panels/source-breakers", "Breakers of sources", check)
};

const WANTED: &str = "whether the breaker it feeds through carries its output";
const SOURCE: &str = "from memory of NEC 705.28, 705.30";

fn check(inquiry: &Inquiry) -> Vec<Finding> {
    let inverters = need!(inquiry.project(), electrical.inverters).every();
    inverters
        .iter()
        .map(|inverter| {
            if inverter.interconnection == Some(InterconnectionKind::StandAlone) || inverter.interactive == Some(false) {
                return inverter.not_applicable(text!("feeds no panel beside the utility")).done();
            }
            if inverter.interconnection == Some(InterconnectionKind::SupplySide) && inverter.circuit.is_none() {
                return inverter.not_applicable(text!("is joined ahead of the main, by no breaker of a panel")).done();
            }
            inverter.sheet(WANTED, |sheet| judge(inquiry, inverter, sheet))
        })
        .collect()
}

fn judge<'a>(inquiry: &Inquiry<'a>, inverter: &Place<'a, Inverter>, sheet: &mut Sheet) -> Lookup<Text> {
    let circuit = through(inquiry, inverter)?;
    sheet.related(circuit.pointer());
    let (output, breaker) = (need!(inverter, output_current), need!(circuit, overcurrent)).together()?;
    let asked = output.quantity() * inquiry.value(&CONTINUOUS);
    let words = text!(
        "gives {}: {} of it is {}; the breaker of {} is {}",
        output,
        inquiry.value(&CONTINUOUS),
        asked,
        circuit.label(),
        breaker
    );
    if !sheet.require("breaker", words.clone(), SOURCE, at_least(breaker.quantity(), asked)) {
        sheet.cure(text!("use a breaker of {} at least, where the bus takes it", next_standard(asked).unwrap_or(asked)));
    }
    if circuit.conductors.is_some()
        && let Some(carried) =
            sheet.want(need!(circuit, conductors).and_then(|set| wiring::ampacity(&set, Some(breaker.quantity()))))
    {
        let words = text!("its conductors carry {}, {} is the least", carried, asked);
        if !sheet.require("conductors", words, SOURCE, at_least(carried, asked)) {
            sheet.cure(text!("use conductors that carry {}", asked));
        }
    }
    Ok(words)
}

/// The circuit it feeds through: as it says, else the one that says so, else the only one of its panel with that role.
fn through<'a>(inquiry: &Inquiry<'a>, inverter: &Place<'a, Inverter>) -> Lookup<Place<'a, Circuit>> {
    let unsaid = match need!(inverter, circuit) {
        Ok(id) => return circuits::named(inquiry, &id),
        Err(unresolved) => unresolved,
    };
    let every = circuits::every(inquiry);
    if let Some(circuit) = every.iter().find(|circuit| wiring::serves(circuit, &inverter.id)) {
        return Ok(circuit.clone());
    }
    let panel = circuits::panels(inquiry).into_iter().find(|panel| inverter.panel.as_ref() == Some(&panel.id));
    let circuits = panel.map(|panel| need!(panel, circuits).every()).unwrap_or_default();
    let sources: Vec<_> = circuits.into_iter().filter(|circuit| circuit.role == Some(CircuitRole::Source)).collect();
    if let [only] = &sources[..] { Ok(only.clone()) } else { Err(unsaid) }
}
