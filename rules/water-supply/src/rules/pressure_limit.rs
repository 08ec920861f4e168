//! Water at rest must not stand above 80 psi in the house: a pressure-reducing valve holds it down.
//!
//! High pressure hammers valves, bursts hoses of washing machines and drives relief valves open. The street's pressure is highest
//! at night, when nobody measures.
//!
//! **How it is measured.** With a gauge at rest, at the highest hour of the day; behind a well pump it is the cut-out. Where a
//! pressure-reducing valve stands before the whole house its setting counts; one in a branch holds that branch down and nothing
//! else. Sprinklers and hoses may branch off before it.
//!
//! **How it is fixed.** A listed pressure-reducing valve (ASSE 1003) on the service behind the main shutoff, set to 60 psi or so.
//! It closes the pipe: **a heater with a tank then needs room for its water to expand, or its relief valve opens scalding hot.**

use crate::source;
use redtag_handbook::units;
use redtag_rule::prelude::*;

/// The most.
const LIMIT: Quantity<dimensions::Pressure> = Quantity::new(
    "greatest_static",
    "80 psi",
    "The most water may stand under at rest before it must be reduced.",
    "IRC P2903.3.1, as enforced by Signal Hill; from memory of IPC 604.8 and UPC 608.2",
)
.within("40 psi", "120 psi");
/// Always.
const ALWAYS: Flag = Flag::new(
    "always_reduced",
    false,
    "Every service from a public main has a pressure-reducing valve, whatever its pressure.",
    "Signal Hill municipal code 15.16.050 asks it; the model code does not",
);

/// The rule.
pub const RULE: Rule = Rule {
    citations: &[cited("IRC", "2018", "P2903.3.1"), remembered("IPC", "2021", "604.8"), remembered("UPC", "2021", "608.2")],
    parameters: &[&LIMIT, &ALWAYS],
    reads: &["/water", "/building", "/equipment"],
    ..Rule::new("water-supply/pressure-limit", "Pressure the house can bear", check)
};

fn check(inquiry: &Inquiry) -> Vec<Finding> {
    let judged =
        |source: Place<'_, WaterSource>| source.sheet("whether its pressure is too high", |sheet| judge(inquiry, &source, sheet));
    source::all(inquiry).into_iter().map(judged).collect()
}

fn judge(inquiry: &Inquiry, source: &Place<WaterSource>, sheet: &mut Sheet) -> Lookup<Text> {
    let limit = inquiry.value(&LIMIT);
    let at_rest = redtag_rule_water::unreduced(inquiry, source)?;
    let street = source.kind == WaterSourceKind::PublicMain;
    let high = !sheet.at_most("at rest", &at_rest, &limit, "psi", "IRC P2903.3.1");
    let by_pack = street && inquiry.value(&ALWAYS);
    if !high && !by_pack {
        return Ok(text!("{} at rest, {} is the most", in_unit(at_rest, "psi"), in_unit(limit, "psi")));
    }
    let Some(valve) = redtag_rule_water::of_the_house(inquiry)? else {
        let words = match high {
            true => text!(
                "{} at rest and no pressure-reducing valve before the whole house, {} is the most",
                in_unit(at_rest, "psi"),
                in_unit(limit, "psi")
            ),
            false => text!("the pack asks for a pressure-reducing valve on every service, and there is none"),
        };
        sheet.fault(words);
        fit(inquiry, limit, sheet);
        return Ok(Text::default());
    };
    sheet.related(valve.pointer());
    let set = need!(valve, set_pressure)?;
    if !sheet.at_most("behind the valve", &set, &limit, "psi", "IRC P2903.3.1") {
        sheet.fault(text!(
            "the pressure-reducing valve is set to {}, {} is the most",
            in_unit(&set, "psi"),
            in_unit(limit, "psi")
        ));
        sheet.cure_at(text!("set it to 60 psi"), &[(set.pointer().to_owned(), json!("60 psi"))]);
    }
    Ok(text!("{} at rest, held to {}", in_unit(at_rest, "psi"), in_unit(&set, "psi")))
}

/// A valve on the service.
fn fit(inquiry: &Inquiry, limit: uom::si::f64::Pressure, sheet: &mut Sheet) {
    let usual = units::psi(60.0);
    let target = if usual < limit { usual } else { limit };
    let written = quantity::Pressure::from_quantity(&target).print_in("psi");
    let mut valve = json!({
        "id": "pressure-reducing", "kind": "pressure-reducing", "standard": "ASSE 1003", "set_pressure": written, "bypass": false
    });
    let pipes = need!(inquiry.project(), water.pipes).every();
    if let Some(service) = pipes.iter().find(|pipe| pipe.kind == WaterPipeKind::Service) {
        valve["pipe"] = json!(service.id);
    }
    let words = text!("fit a listed pressure-reducing valve on the service, set to {}", in_unit(target, "psi"));
    if pipes.iter().filter(|pipe| pipe.kind == WaterPipeKind::Service).count() > 1 {
        return sheet.cure(text!("{}, on each of them", words));
    }
    sheet.cure_at(words, &[("/water/valves/-".to_owned(), valve)]);
}
