//! Central heating has a circuit of its own.
//!
//! A furnace that shares a circuit goes out with somebody's vacuum cleaner, in January, while nobody is home.
//!
//! **How it is measured.** Furnaces, boilers and air handlers: their circuit feeds nothing else but what belongs to them, such as
//! pumps, valves, humidifiers and air cleaners. Water heaters and room heaters are no central heating.
//!
//! **How it is fixed.** A circuit of its own.

use crate::circuits;
use redtag_rule::prelude::*;

/// What counts.
const KINDS: Choices = Choices::new(
    "central_heating",
    &["furnace", "boiler", "air-handler"],
    &["furnace", "boiler", "air-handler", "heat-pump", "unit-heater", "tankless-water-heater"],
    "The kinds of equipment that need a circuit of their own.",
    "NEC 422.12 of 2023: central heating equipment",
);

/// The rule.
pub const RULE: Rule = Rule {
    citations: &[cited("NEC", "2020", "422.12")],
    parameters: &[&KINDS],
    reads: &["/equipment", "/electrical/panels"],
    ..Rule::new("panels/heating-circuits", "Circuits of central heating", check)
};

const WANTED: &str = "whether it has a circuit of its own";

fn check(inquiry: &Inquiry) -> Vec<Finding> {
    let kinds = inquiry.value(&KINDS);
    let heating = need!(inquiry.project(), equipment).every().into_iter().filter(|one| kinds.contains(&one.kind.word()));
    heating.map(|one| one.sheet(WANTED, |sheet| judge(inquiry, &one, sheet))).collect()
}

fn judge<'a>(inquiry: &Inquiry<'a>, equipment: &Place<'a, Equipment>, sheet: &mut Sheet) -> Lookup<Text> {
    let circuit = circuits::named(inquiry, &need!(equipment, electrical.circuit)?)?;
    let words = text!("{} feeds it alone", circuit.label());
    if circuit.individual == Some(true) {
        return Ok(words);
    }
    let serves = need!(circuit, serves)?;
    let others: Vec<&String> = serves.iter().filter(|id| **id != equipment.id && !belongs(inquiry, id)).collect();
    if others.is_empty() && circuit.individual.is_none() {
        return Err(circuit.missing("/individual"));
    }
    let other = others.first().map_or("other loads", |id| id.as_str());
    sheet.require("circuit", text!("{} feeds {} too", circuit.label(), other), "NEC 422.12", false);
    sheet.related(circuit.pointer());
    sheet.cure(text!("give it a circuit of its own"));
    Ok(Text::default())
}

/// Whether something belongs to the heating.
fn belongs(inquiry: &Inquiry, id: &str) -> bool {
    use EquipmentKind as K;
    let equipment = need!(inquiry.project(), equipment).every().into_iter().find(|one| one.id == id);
    equipment.is_some_and(|one| matches!(one.kind, K::Pump | K::Circulator | K::Humidifier | K::CombustionAirFan))
}
