//! The conductors between inverter and batteries carry the current of the lowest voltage.
//!
//! At a low battery the same power takes more current. Conductors chosen by the nominal voltage run hot exactly when the battery
//! is nearly empty and nobody watches.
//!
//! **How it is measured.** Continuous output divided by efficiency and by the lowest dc voltage; 125 % of it against the ampacity
//! of the conductors and the overcurrent device, and the device against the conductors. Systems whose dc side is inside the
//! listed unit are left to their listing.
//!
//! **How it is fixed.** Larger conductors, the next standard device.

use redtag_handbook::raceway::next_standard;
use redtag_handbook::standby;
use redtag_rule::prelude::*;
use redtag_rule_load::circuit;
use uom::si::f64::{ElectricCurrent, Ratio};
use uom::si::ratio::ratio;

/// The factor.
const FACTOR: Quantity<dimensions::Ratio> = Quantity::new(
    "continuous_factor",
    "125 %",
    "What the input current is raised by for conductors and overcurrent device.",
    "from memory of NEC 706.31",
)
.within("100 %", "200 %");

/// The rule.
pub const RULE: Rule = Rule {
    citations: &[remembered("NEC", "2020", "706.30"), remembered("NEC", "2020", "706.31"), cited("NEC", "2020", "310.16")],
    parameters: &[&FACTOR],
    reads: &["/electrical/inverters"],
    ..Rule::new("standby-power/dc-conductors", "Conductors between inverter and batteries", check)
};

const WANTED: &str = "whether its dc conductors carry its current";

fn check(inquiry: &Inquiry) -> Vec<Finding> {
    let every = need!(inquiry.project(), electrical.inverters).every();
    every
        .iter()
        .map(|inverter| {
            if inverter.dc_conductors.is_none() && inverter.dc_overcurrent.is_none() {
                return inverter.not_applicable(text!("no dc conductors outside listed units are said")).done();
            }
            inverter.sheet(WANTED, |sheet| judge(inquiry, inverter, sheet))
        })
        .collect()
}

fn judge(inquiry: &Inquiry, inverter: &Place<Inverter>, sheet: &mut Sheet) -> Lookup<Text> {
    let (output, efficiency, lowest) =
        (need!(inverter, output), need!(inverter, efficiency), need!(inverter, dc_voltage_minimum)).together()?;
    let factor = inquiry.value(&FACTOR);
    let unknown = || Unresolved::because(efficiency.pointer(), "an efficiency and a lowest voltage above zero");
    let current = standby::dc_current(output.quantity(), efficiency.quantity(), lowest.quantity(), factor.get::<ratio>())
        .ok_or_else(unknown)?;
    let words = text!("{} / ({} × {}) = {}", output, efficiency, lowest, current.input);
    sheet.line("input current", words, standby::DC.text());
    sheet.line("raised", text!("{} of it is {}", Ratio::new::<ratio>(factor.get::<ratio>()), current.raised), standby::DC.text());
    let device = sheet.want(need!(inverter, dc_overcurrent));
    if let Some(device) = &device {
        let words = text!("its dc device is {}, {} is the least", device, current.raised);
        if !sheet.require("device", words, standby::DC.text(), at_least(device.quantity(), current.raised)) {
            sheet.cure(text!("a device of {}", next_standard(current.raised).unwrap_or(current.raised)));
        }
    }
    let ampacity = circuit::ampacity(&need!(inverter, dc_conductors)?, device.as_ref().map(|device| device.quantity()))?;
    let words = text!("its dc conductors carry {}, {} is the least", ampacity, current.raised);
    if !sheet.require("conductors", words.clone(), "NEC Table 310.16", at_least(ampacity, current.raised)) {
        sheet.cure(text!("conductors for {} at least", current.raised));
    }
    if let Some(device) = &device {
        protected(ampacity, device.quantity(), sheet);
    }
    Ok(words)
}

fn protected(ampacity: ElectricCurrent, device: ElectricCurrent, sheet: &mut Sheet) {
    let most = next_standard(ampacity).unwrap_or(ampacity);
    let words = text!("conductors for {} are protected by {}, {} is the most", ampacity, device, most);
    if !sheet.require("protection", words, "NEC 240.4(B)", at_most(device, most)) {
        sheet.cure(text!("a device of {} at most, or larger conductors", most));
    }
}
