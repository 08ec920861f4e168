//! A floor drain's trap must be kept from drying out by one of the ways the code names: a primer fed with drinking water, one
//! fed with waste water, or a barrier in the drain.
//!
//! A mechanical room is warm and its floor drain seldom runs: within weeks the seal evaporates and sewer gas, which can burn and
//! poison, has a way in. A deep seal alone has not been enough since the 2015 editions.
//!
//! **How it is measured.** What protects the trap, as the project says.
//!
//! **How it is fixed.** A barrier device listed to ASSE 1072 dropped into the drain, or a primer listed to ASSE 1018 or 1044.

use crate::network::Network;
use redtag_handbook::drainage::sources;
use redtag_rule::prelude::*;

/// What counts.
const ACCEPTED: Choices = Choices::new(
    "accepted",
    &["potable-primer", "waste-primer", "barrier"],
    &["potable-primer", "waste-primer", "barrier", "deep-seal", "regular-use"],
    "What counts as protection of a trap that may dry out; editions up to 2012 also took a deep seal.",
    "IRC P3201.2.1 (2015 and later)",
);
/// Ohio's exception.
const GARAGE_EXEMPT: Flag = Flag::new(
    "garage_exempt",
    false,
    "Whether floor drains in garages of dwellings are let off, as in Ohio.",
    "Ohio Adm. Code 4101:3-10-01",
);

/// The rule.
pub const RULE: Rule = Rule {
    citations: &[cited("IRC", "2018", "P3201.2.1"), remembered("IPC", "2018", "1002.4.1")],
    parameters: &[&ACCEPTED, &GARAGE_EXEMPT],
    reads: &["/drainage", "/spaces"],
    ..Rule::new("drainage/trap-protection", "Traps kept from drying out", check)
};

const WANTED: &str = "whether the trap is kept from drying out";

fn check(inquiry: &Inquiry) -> Vec<Finding> {
    Network::of(inquiry)
        .drains
        .iter()
        .map(|drain| {
            if !matches!(drain.kind, DrainKind::FloorDrain | DrainKind::FloorSink | DrainKind::HubDrain) {
                return drain.not_applicable(text!("a {} is used often enough", drain.kind)).done();
            }
            let space = need!(drain, space).and_then(|id| inquiry.space(&id));
            let garage = space.is_ok_and(|space| matches!(space.kind, SpaceKind::AttachedGarage | SpaceKind::DetachedGarage));
            if garage && inquiry.value(&GARAGE_EXEMPT) {
                return drain.not_applicable(text!("in a garage, let off here")).done();
            }
            drain.sheet(WANTED, |sheet| judge(inquiry, drain, sheet))
        })
        .collect()
}

fn judge(inquiry: &Inquiry, drain: &Place<Drain>, sheet: &mut Sheet) -> Lookup<Text> {
    let protection = need!(drain, trap.protection)?;
    let words = text!("protected by: {}", *protection);
    let accepted = inquiry.value(&ACCEPTED);
    if sheet.test("protection", words.clone(), sources::TRAP_PROTECTION.text(), accepted.contains(&protection.word())) {
        return Ok(words);
    }
    sheet.fault(text!("its trap can dry out: {} does not count as protection", *protection));
    sheet.cure_at(text!("a barrier device listed to ASSE 1072"), &[(protection.pointer().to_owned(), json!("barrier"))]);
    Ok(words)
}
