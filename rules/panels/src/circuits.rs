//! Circuits of all panels.

use redtag_rule::prelude::*;

/// The panels.
pub fn panels<'a>(inquiry: &Inquiry<'a>) -> Vec<Place<'a, Panel>> {
    need!(inquiry.project(), electrical.panels).every()
}

/// Every circuit.
pub fn every<'a>(inquiry: &Inquiry<'a>) -> Vec<Place<'a, Circuit>> {
    panels(inquiry).iter().flat_map(|panel| need!(panel, circuits).every()).collect()
}

/// The circuit an id names.
///
/// # Errors
/// The id's place, where no panel has it.
pub fn named<'a>(inquiry: &Inquiry<'a>, id: &Place<'a, String>) -> Lookup<Place<'a, Circuit>> {
    every(inquiry).into_iter().find(|circuit| circuit.id == *id.get()).ok_or_else(|| Unresolved::at(id.pointer()))
}
