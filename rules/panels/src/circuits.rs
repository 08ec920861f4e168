//! Circuits of all panels.

use redtag_rule::prelude::*;

/// The panels.
pub fn panels<'a>(case: &Case<'a>) -> Vec<Place<'a, Panel>> {
    need!(case.project(), electrical.panels).every()
}

/// Every circuit.
pub fn every<'a>(case: &Case<'a>) -> Vec<Place<'a, Circuit>> {
    panels(case).iter().flat_map(|panel| need!(panel, circuits).every()).collect()
}

/// The circuit an id names.
///
/// # Errors
/// The id's place, where no panel has it.
pub fn named<'a>(case: &Case<'a>, id: &Place<'a, String>) -> Lookup<Place<'a, Circuit>> {
    every(case).into_iter().find(|circuit| circuit.id == *id.get()).ok_or_else(|| Unresolved::at(id.pointer()))
}
