//! What stands in the room is described: a panel has its bus and circuits, a fan the air it draws, a drain its trap.
//!
//! The rules about wiring, drains, exhausts and gas ask of the records that describe them. A thing that is drawn in the room and
//! described nowhere would pass them all, and the first inspector to open its cover would be the first to ask.
//!
//! **How it is measured.** For each piece of equipment of a kind that has a record of its own: whether some record names it. A
//! panel is one enclosure with one bus: two records of panels that name the same one cannot both be it.
//!
//! **How it is fixed.** Add the record and name the equipment in it; take a record that stands twice out, or draw the second panel.

use crate::kept::{self, Record};
use redtag_rule::prelude::*;

/// The rule.
pub const RULE: Rule = Rule {
    citations: &[remembered("IRC", "2021", "R106.1.1")],
    reads: &["/equipment", "/spaces", "/exhausts", "/gas", "/electrical", "/drainage", "/water"],
    ..Rule::new("records/described", "What is drawn is described", check)
};

fn check(inquiry: &Inquiry) -> Vec<Finding> {
    let equipment = need!(inquiry.project(), equipment).every();
    equipment.iter().filter_map(|one| judge(inquiry, one)).collect()
}

fn judge(inquiry: &Inquiry, one: &Place<Equipment>) -> Option<Finding> {
    let records = kept::of(one.kind);
    let first = records.first()?;
    let panels = inquiry.project().get().electrical.as_ref().and_then(|electrical| electrical.panels.as_ref());
    let twice = panels.into_iter().flatten().filter(|panel| panel.equipment.as_deref() == Some(one.id.as_str())).count();
    if twice > 1 {
        let words = text!("{} records of panels name it, and it is one panel", twice);
        return Some(
            one.correction(words).remedy(text!("leave one record, or draw the other panels and name each in its own")).done(),
        );
    }
    let named = |record: &&Record| (record.names)(inquiry.project().get(), &one.id);
    Some(one.ask("whether what it does is described", || match records.iter().find(named) {
        Some(record) => Ok(one.complies(text!("described under {}", record.place(one)))),
        None => Err(Unresolved::because(first.place(one), format!("{}, for {}", first.wanted, one.label()))),
    }))
}
