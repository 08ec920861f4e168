//! The breaker of a feeder protects its conductors.
//!
//! A subpanel in the mechanical room is fed by conductors that run through half the house. A breaker too large for them lets them be
//! the fuse.
//!
//! **How it is measured.** Every feeder: its breaker, as it says or as that of the circuit that feeds the panel, against what its
//! conductors carry by the table at the least of what terminals, insulation and cable allow, all sets in parallel together, or as
//! worked out; the next standard size above is allowed. A feeder that carries the whole load of a dwelling from its service may
//! have conductors for 83 percent of 100 to 400 A. Where the breaker feeds a panel, that panel's load is another rule's.
//!
//! **How it is fixed.** Larger conductors, or a smaller breaker.

use crate::circuit_conductors::NEXT;
use crate::circuits;
use redtag_handbook::panel::{Serving, service_ampacity};
use redtag_handbook::raceway::{self as trade, largest_device};
use redtag_rule::prelude::*;
use redtag_rule_load::circuit as wiring;
use uom::si::f64::ElectricCurrent;

/// The rule.
pub const RULE: Rule = Rule {
    citations: &[
        cited("NEC", "2023", "215.2"),
        cited("NEC", "2020", "240.4"),
        cited("NEC", "2020", "310.16"),
        cited("NEC", "2020", "310.12"),
    ],
    parameters: &[&NEXT],
    reads: &["/electrical/feeders", "/electrical/panels", "/electrical/services", "/building", "/equipment", "/spaces"],
    ..Rule::new("panels/feeders", "Feeders and their conductors", check)
};

const WANTED: &str = "whether its breaker protects its conductors";

fn check(inquiry: &Inquiry) -> Vec<Finding> {
    let feeders = need!(inquiry.project(), electrical.feeders).every();
    feeders.iter().map(|feeder| feeder.sheet(WANTED, |sheet| judge(inquiry, feeder, sheet))).collect()
}

fn judge<'a>(inquiry: &Inquiry<'a>, feeder: &Place<'a, Feeder>, sheet: &mut Sheet) -> Lookup<Text> {
    let (device, set) = (device(inquiry, feeder), need!(feeder, conductors)).together()?;
    let ampacity = wiring::ampacity(&set, Some(device))?;
    let (size, metal) = wiring::wire(&set).unwrap_or(("", trade::Metal::Copper));
    if set.parallel.unwrap_or(1) > 1 && redtag_handbook::panel::may_run_in_parallel(size) == Some(false) {
        let words = text!("sets of {} in parallel; 1/0 AWG is the least", size);
        sheet.require("parallel", words, "NEC 310.10(G)", false);
        sheet.cure(text!("one set of larger conductors, or sets of 1/0 AWG at least"));
    }
    let most = largest_device(size, metal, ampacity, inquiry.value(&NEXT));
    let words = text!("its conductors carry {}; its breaker is {}, {} is the most", ampacity, device, most);
    if at_most(device, most) {
        sheet.test("breaker", words.clone(), "NEC 240.4, Table 310.16", true);
        return Ok(words);
    }
    // The whole load of one dwelling: thinner conductors will do.
    let least = service_ampacity(device, Serving::OneDwelling);
    if at_least(ampacity, least) && whole_dwelling(inquiry, feeder)? {
        let words =
            text!("its conductors carry {} for the whole load of a dwelling, {} is the least for {}", ampacity, least, device);
        sheet.test("breaker", words.clone(), "NEC 310.12", true);
        return Ok(words);
    }
    sheet.require("breaker", words, "NEC 240.4, Table 310.16", false);
    sheet.cure(text!("use a breaker of {} at most, or larger conductors", most));
    Ok(Text::default())
}

/// Its overcurrent device: as it says, else that of the circuit that feeds where it goes.
fn device<'a>(inquiry: &Inquiry<'a>, feeder: &Place<'a, Feeder>) -> Lookup<ElectricCurrent> {
    let unsaid = match need!(feeder, overcurrent) {
        Ok(device) => return Ok(device.quantity()),
        Err(unresolved) => unresolved,
    };
    let Ok(to) = need!(feeder, to) else { return Err(unsaid) };
    match circuits::every(inquiry).iter().find(|circuit| wiring::serves(circuit, &to)) {
        Some(circuit) => need!(circuit, overcurrent).map(|device| device.quantity()),
        None => Err(unsaid),
    }
}

/// Whether a feeder carries the whole load of one dwelling: it comes from a service of one, or of a unit.
fn whole_dwelling<'a>(inquiry: &Inquiry<'a>, feeder: &Place<'a, Feeder>) -> Lookup<bool> {
    let from = need!(feeder, from)?;
    let Ok(service) = need!(inquiry.project(), electrical.services).named(&from) else { return Ok(false) };
    if service.kind != SystemKind::SplitPhase120240 {
        return Ok(false);
    }
    if service.dwelling_unit.is_some() {
        return Ok(true);
    }
    let occupancy = need!(inquiry.project(), building.occupancy)?;
    Ok(matches!(*occupancy, Occupancy::OneFamilyDwelling | Occupancy::Townhouse))
}
