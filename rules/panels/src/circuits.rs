//! Circuits of all panels.

use redtag_rule::prelude::*;
pub use redtag_rule_load::circuit::{circuit as named, circuits as every};

/// The panels.
pub fn panels<'a>(inquiry: &Inquiry<'a>) -> Vec<Place<'a, Panel>> {
    need!(inquiry.project(), electrical.panels).every()
}

/// The panel a circuit is in.
pub fn panel_of<'a>(inquiry: &Inquiry<'a>, circuit: &str) -> Option<Place<'a, Panel>> {
    let holds = |panel: &Place<Panel>| panel.circuits.iter().flatten().any(|one| one.id == circuit);
    panels(inquiry).into_iter().find(holds)
}

/// Whether a receptacle is protected against ground faults, by itself or by its circuit.
///
/// # Errors
/// Where neither says that it is and one of them does not say.
pub fn protected<'a>(inquiry: &Inquiry<'a>, receptacle: &Place<'a, Receptacle>) -> Lookup<bool> {
    let by_circuit = || {
        let named = need!(receptacle, circuit).and_then(|id| named(inquiry, &id));
        let circuit = named.or_else(|unresolved| {
            let serves = |one: &Place<Circuit>| redtag_rule_load::circuit::serves(one, &receptacle.id);
            every(inquiry).into_iter().find(serves).ok_or(unresolved)
        });
        circuit.ok().and_then(|circuit| circuit.gfci)
    };
    match (receptacle.gfci, by_circuit()) {
        (Some(true), _) | (_, Some(true)) => Ok(true),
        (Some(false), _) => Ok(false),
        (None, _) => Err(receptacle.missing("/gfci")),
    }
}
