//! A filter or softener must bear the pressure of the house, work at its lowest, and pass its flow.
//!
//! Too much pressure bursts a housing; too little and the softener's valve does not turn. Past its service flow a softener lets
//! hardness slip and takes pressure the shower needs, at which **a mixing valve may turn scalding.**
//!
//! **How it is measured.** From its label: least and greatest pressure, service flow, the standard it is listed to. Against the
//! pressure at rest, the least while water runs, and the greatest flow expected.
//!
//! **How it is fixed.** A device of the next size, or a pressure-reducing valve before it.

use crate::source;
use redtag_rule::prelude::*;

/// Listed to.
const STANDARDS: Choices = Choices::new(
    "standards",
    &["NSF/ANSI 42", "NSF/ANSI 44", "NSF/ANSI 53", "NSF/ANSI 55", "NSF/ANSI 58", "NSF/ANSI 62", "CSA B483.1"],
    &["NSF/ANSI 42", "NSF/ANSI 44", "NSF/ANSI 53", "NSF/ANSI 55", "NSF/ANSI 58", "NSF/ANSI 62", "CSA B483.1", "ASSE 1087"],
    "The standards a softener or drinking water device may be listed to.",
    "from memory of IRC P2909.1; UPC 611.1 by Water Conditioning & Purification, July 2021",
);

/// The rule.
pub const RULE: Rule = Rule {
    citations: &[remembered("IRC", "2021", "P2909.1"), remembered("manufacturer's instructions", "any", "pressure and flow")],
    parameters: &[&STANDARDS],
    reads: &["/water", "/equipment"],
    ..Rule::new("water-supply/treatment-fit", "Treatment that bears the pressure and passes the flow", check)
};

fn check(inquiry: &Inquiry) -> Vec<Finding> {
    let mut findings = Vec::new();
    for step in need!(inquiry.project(), water.treatment).every() {
        let Ok(device) = need!(step, equipment).and_then(|id| inquiry.equipment(&id)) else { continue };
        findings.push(device.sheet("whether it suits the pressure and flow", |sheet| judge(inquiry, &device, sheet)));
    }
    if findings.is_empty() {
        findings.push(inquiry.project().not_applicable(text!("no water is treated")).done());
    }
    findings
}

fn judge(inquiry: &Inquiry, device: &Place<Equipment>, sheet: &mut Sheet) -> Lookup<Text> {
    let source = source::of_the_house(inquiry)?;
    if let Some(greatest) = sheet.want(need!(device, treatment.maximum_pressure))
        && let Some((at_rest, _)) = sheet.want(redtag_rule_water::at_rest(inquiry, &[&device.id], &[]))
        && !sheet.at_most("pressure at rest", &at_rest, &greatest, "psi", "its label")
    {
        sheet.fault(text!("{} at rest, it bears {}", in_unit(at_rest, "psi"), in_unit(&greatest, "psi")));
        sheet.cure(text!("hold the pressure down before it"));
    }
    if let Some(least) = sheet.want(need!(device, treatment.minimum_pressure)) {
        let (running, _) = source::running(inquiry, &source, (&[&device.id], &[]))?;
        if !sheet.at_least("pressure while water runs", &running, &least, "psi", "its label") {
            sheet.fault(text!("{} while water runs, it needs {}", in_unit(running, "psi"), in_unit(&least, "psi")));
        }
    }
    if let Some(flow) = sheet.want(need!(device, treatment.service_flow))
        && let Some(expected) = sheet.want(need!(inquiry.project(), water.design_flow))
        && !sheet.at_least("service flow", &flow, &expected, "gpm", "its label")
    {
        sheet.advise(text!(
            "it passes {}, {} are expected: hardness slips and pressure is lost",
            in_unit(&flow, "gpm"),
            in_unit(&expected, "gpm")
        ));
    }
    if device.kind == EquipmentKind::WaterSoftener
        && let Some(standard) = sheet.want(need!(device, treatment.standard))
    {
        let listed = inquiry.value(&STANDARDS).contains(&standard.get().as_str());
        let words = text!("listed to {}", **standard);
        if !sheet.test("listing", words, "IRC P2909.1, from memory", listed) {
            sheet.fault(text!("it is listed to {}, which is none of the standards for drinking water treatment", **standard));
        }
    }
    Ok(text!("it bears the pressure and passes the flow"))
}
