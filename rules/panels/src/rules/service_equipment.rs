//! Service equipment of a dwelling has a surge-protective device, breakers that can interrupt the fault current that is there, and
//! a terminal for the bonds of telephone, antenna and cable.
//!
//! A surge from the street takes the controls of furnace, heater and inverter with it, and with them the heat. A breaker that is made
//! for less than the utility can send bursts when it should open. Where telephone and cable are grounded by themselves,
//! lightning goes from one to the other through the house.
//!
//! **How it is measured.** Whether there is a surge-protective device at the service, by edition; the available fault current of the
//! service against what the breakers of the panels behind it are rated to interrupt; whether the terminal for bonding other
//! systems is there.
//!
//! **How it is fixed.** A listed device of type 1 or 2; breakers or a series-rated combination for the fault current the utility
//! names; a bonding terminal at the meter or disconnect.

use redtag_rule::prelude::*;

/// Surges.
const SURGE: Flag = Flag::new(
    "surge_protection",
    true,
    "Whether the service of a dwelling needs a surge-protective device.",
    "NEC 230.67 of 2020; none before",
);
/// Bonding of other systems.
const TERMINAL: Flag = Flag::new(
    "intersystem_termination",
    true,
    "Whether the service needs a terminal for the bonds of other systems.",
    "from memory of NEC 250.94(A)",
);

/// The rule.
pub const RULE: Rule = Rule {
    citations: &[cited("NEC", "2020", "230.67"), remembered("NEC", "2020", "110.9"), remembered("NEC", "2020", "250.94(A)")],
    parameters: &[&SURGE, &TERMINAL],
    stages: &[Stage::RoughIn, Stage::Final],
    reads: &["/building", "/electrical/services", "/electrical/panels", "/electrical/grounding"],
    ..Rule::new("panels/service-equipment", "Surges, fault current, bonding of other systems", check)
};

const WANTED: &str = "whether its equipment bears surges and faults";

fn check(inquiry: &Inquiry) -> Vec<Finding> {
    let services = need!(inquiry.project(), electrical.services).every();
    services.iter().map(|service| service.sheet(WANTED, |sheet| judge(inquiry, service, sheet))).collect()
}

fn judge(inquiry: &Inquiry, service: &Place<ElectricalService>, sheet: &mut Sheet) -> Lookup<Text> {
    if inquiry.value(&SURGE) {
        let device = ("a surge-protective device is at the service", "no surge-protective device is at the service");
        let cure = "fit a listed surge-protective device of type 1 or 2";
        there(need!(service, surge_protection), device, "NEC 230.67", cure, sheet);
    }
    if inquiry.value(&TERMINAL) {
        let words =
            ("other systems have a bonding terminal", "telephone, antenna and cable have no bonding terminal at the service");
        let fact = need!(inquiry.project(), electrical.grounding.intersystem_termination);
        there(fact, words, "from memory of NEC 250.94(A)", "fit a listed bonding terminal at the meter or disconnect", sheet);
    }
    faults(inquiry, service, sheet);
    Ok(text!("protected against surges, bonded, and made for the fault current"))
}

fn there(fact: Lookup<Place<bool>>, (good, bad): (&str, &str), source: &str, cure: &str, sheet: &mut Sheet) {
    let Some(fact) = sheet.want(fact) else { return };
    if !sheet.require("there", text!("{}", if *fact { good } else { bad }), source, *fact) {
        sheet.cure_at(text!("{}", cure), &[(fact.pointer().to_owned(), json!(true))]);
    }
}

/// The fault current against what breakers can interrupt; 10 kA is the least any is made for.
fn faults(inquiry: &Inquiry, service: &Place<ElectricalService>, sheet: &mut Sheet) {
    let Some(current) = sheet.want(need!(service, fault_current)) else { return };
    let panels = need!(inquiry.project(), electrical.panels).every();
    let behind = |panel: &&Place<Panel>| {
        panel.fed_from.as_ref().map_or(panel.service_equipment != Some(false), |from| *from == service.id)
    };
    for panel in panels.iter().filter(behind) {
        let Some(rated) = sheet.want(need!(panel, interrupting_rating)) else { continue };
        let words = text!("{} can come from the street, the breakers of {} interrupt {}", current, panel.label(), rated);
        if !sheet.require("fault current", words, "from memory of NEC 110.9", at_least(rated.quantity(), current.quantity())) {
            sheet.related(panel.pointer());
            sheet.cure(text!("use breakers, or a tested series rating, for {} at least", current));
        }
    }
}
