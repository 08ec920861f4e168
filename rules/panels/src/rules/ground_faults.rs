//! Receptacles where people stand on earth, concrete or wet floors are protected against ground faults.
//!
//! A few thousandths of an ampere through the heart kill; the protection opens before.
//!
//! **How it is measured.** Every receptacle in a bathroom, garage, crawl space, basement, kitchen, laundry or boathouse: protected
//! itself or by its circuit. In other rooms nothing is asked here.
//!
//! **How it is fixed.** A protected receptacle or breaker.

use crate::circuits;
use redtag_rule::prelude::*;

/// Rooms.
const ROOMS: Choices = Choices::new(
    "rooms",
    &[
        "bathroom",
        "attached-garage",
        "detached-garage",
        "crawl-space",
        "basement",
        "kitchen",
        "laundry-room",
        "boathouse",
        "workshop",
    ],
    &[
        "bathroom",
        "attached-garage",
        "detached-garage",
        "carport",
        "crawl-space",
        "basement",
        "kitchen",
        "laundry-room",
        "boathouse",
        "workshop",
        "utility-room",
        "mechanical-room",
        "furnace-room",
        "toilet-room",
    ],
    "The kinds of spaces whose receptacles must be protected.",
    "NEC 210.8(A) of 2023; before 2020 in unfinished parts of basements only (from memory)",
);

/// The rule.
pub const RULE: Rule = Rule {
    citations: &[cited("NEC", "2020", "210.8(A)")],
    parameters: &[&ROOMS],
    reads: &["/spaces", "/electrical/panels"],
    ..Rule::new("panels/ground-faults", "Ground-fault protection", check)
};

const WANTED: &str = "whether its receptacles are protected against ground faults";

fn check(inquiry: &Inquiry) -> Vec<Finding> {
    let rooms = inquiry.value(&ROOMS);
    let mut findings = Vec::new();
    for space in need!(inquiry.project(), spaces).every() {
        let receptacles = need!(space, receptacles).every();
        if receptacles.is_empty() {
            continue;
        }
        if !rooms.contains(&space.kind.word()) {
            findings.push(space.not_applicable(text!("no protection is asked for in a {}", space.kind)).done());
            continue;
        }
        findings.push(space.sheet(WANTED, |sheet| {
            receptacles.iter().for_each(|receptacle| judge(inquiry, receptacle, sheet));
            Ok(text!("{} protected", receptacles.len()))
        }));
    }
    findings
}

fn judge(inquiry: &Inquiry, receptacle: &Place<Receptacle>, sheet: &mut Sheet) {
    let circuit = need!(receptacle, circuit).and_then(|id| circuits::named(inquiry, &id));
    let by_circuit = circuit.as_ref().is_ok_and(|circuit| circuit.gfci == Some(true));
    if receptacle.gfci == Some(true) || by_circuit {
        return;
    }
    match need!(receptacle, gfci) {
        Ok(gfci) => {
            let words = text!("receptacle {} is not protected against ground faults", receptacle.id);
            sheet.require(&receptacle.id, words, "NEC 210.8(A)", false);
            sheet.related(receptacle.pointer());
            sheet.cure_at(text!("protect {}", receptacle.id), &[(gfci.pointer().to_owned(), json!(true))]);
        }
        Err(unresolved) => sheet.lack(unresolved),
    }
}
