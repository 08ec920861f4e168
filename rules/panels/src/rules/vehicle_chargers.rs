//! A charger of electric vehicles that is wired in or draws more than 16 A has a circuit of its own.
//!
//! It draws its full current all night. Anything else on the same circuit makes it trip, or heats what nobody looks at.
//!
//! **How it is measured.** The circuit of each charger feeds nothing else. That its breaker carries 125 percent of the charger's
//! current is asked about by `nameplates`.
//!
//! **How it is fixed.** A circuit of its own, or a listed system that shares one among several chargers.

use redtag_rule::prelude::*;
use redtag_rule_load::circuit as wiring;

/// Small ones.
const SMALL: Quantity<dimensions::Current> = Quantity::new(
    "shared_up_to",
    "16 A",
    "The current up to which a charger at 120 V may share its circuit.",
    "from memory of NEC 625.40 and its exception",
)
.within("0 A", "20 A");

/// The rule.
pub const RULE: Rule = Rule {
    citations: &[remembered("NEC", "2020", "625.40")],
    parameters: &[&SMALL],
    reads: &["/equipment", "/electrical/panels", "/spaces"],
    ..Rule::new("panels/vehicle-chargers", "Circuits of vehicle chargers", check)
};

const WANTED: &str = "whether it has a circuit of its own";

fn check(inquiry: &Inquiry) -> Vec<Finding> {
    let chargers =
        need!(inquiry.project(), equipment).every().into_iter().filter(|one| one.kind == EquipmentKind::VehicleCharger);
    chargers.map(|charger| charger.sheet(WANTED, |sheet| judge(inquiry, &charger, sheet))).collect()
}

fn judge<'a>(inquiry: &Inquiry<'a>, charger: &Place<'a, Equipment>, sheet: &mut Sheet) -> Lookup<Text> {
    let most = inquiry.value(&SMALL);
    let low = need!(charger, electrical.voltage).is_ok_and(|voltage| voltage.si() <= 130.0);
    if low && need!(charger, electrical.current).is_ok_and(|current| at_most(current.quantity(), most)) {
        return Ok(text!("draws no more than {} at 120 V", most));
    }
    let circuit = wiring::circuit_of(inquiry, charger)?;
    sheet.related(circuit.pointer());
    let others = || circuit.serves.iter().flatten().find(|id| **id != charger.id).cloned();
    let more = wiring::served(inquiry, &circuit).into_iter().find(|one| one.id != charger.id).map(|one| one.id.clone());
    let outlets = need!(inquiry.project(), spaces)
        .every()
        .into_iter()
        .any(|space| space.receptacles.iter().flatten().any(|one| one.circuit.as_ref() == Some(&circuit.id)));
    let other = others().or(more).or_else(|| outlets.then(|| "receptacles".to_owned()));
    match (circuit.individual, other) {
        (_, Some(other)) => {
            sheet.require("circuit", text!("{} feeds {} too", circuit.label(), other), "from memory of NEC 625.40", false);
            sheet.cure(text!("give it a circuit of its own"));
            Ok(Text::default())
        }
        (Some(true), None) => Ok(text!("{} feeds it alone", circuit.label())),
        (Some(false), None) => {
            sheet.require("circuit", text!("{} feeds other loads too", circuit.label()), "from memory of NEC 625.40", false);
            sheet.cure(text!("give it a circuit of its own"));
            Ok(Text::default())
        }
        (None, None) => Err(circuit.missing("/individual")),
    }
}
