//! The dc voltage of a storage system in a dwelling is limited, more strictly where live parts can be touched.
//!
//! **How it is measured.** The greatest dc voltage to ground: at most 100 V, or at most 600 V where no live part can be touched
//! during routine maintenance. The figures are from memory, and the 2023 edition may allow more.
//!
//! **How it is fixed.** A system of lower voltage, or one whose live parts are enclosed.

use crate::units;
use redtag_rule::prelude::*;

const SOURCE: &str = "from memory of NEC 706.20(B) of 2020 (706.30(A) of 2017)";
/// Open.
const ACCESSIBLE: Quantity<dimensions::Voltage> =
    Quantity::new("accessible_limit", "100 V", "The most where live parts can be touched.", SOURCE).within("30 V", "1,500 V");
/// Enclosed.
const ENCLOSED: Quantity<dimensions::Voltage> =
    Quantity::new("enclosed_limit", "600 V", "The most where no live part can be touched.", SOURCE).within("30 V", "1,500 V");

/// The rule.
pub const RULE: Rule = Rule {
    citations: &[remembered("NEC", "2020", "706.20(B)")],
    parameters: &[&ACCESSIBLE, &ENCLOSED],
    reads: &["/electrical/storage"],
    ..Rule::new("energy-storage/dc-voltage", "Dc voltage", check)
};

const WANTED: &str = "whether its voltage is allowed in a dwelling";

fn check(inquiry: &Inquiry) -> Vec<Finding> {
    units::systems(inquiry).iter().map(|system| system.sheet(WANTED, |sheet| judge(inquiry, system, sheet))).collect()
}

fn judge(inquiry: &Inquiry, system: &Place<StorageSystem>, sheet: &mut Sheet) -> Lookup<Text> {
    let voltage = need!(system, voltage_to_ground)?;
    let low = inquiry.value(&ACCESSIBLE);
    if at_most(voltage.quantity(), low) {
        return Ok(text!("{} to ground, {} is the most", voltage, low));
    }
    let touchable = need!(system, live_parts_accessible)?;
    let most = if *touchable { low } else { inquiry.value(&ENCLOSED) };
    let parts = if *touchable { "live parts can be touched" } else { "no live part can be touched" };
    let words = text!("{} to ground where {}, {} is the most", voltage, parts, most);
    if !sheet.require("voltage", words.clone(), SOURCE, at_most(voltage.quantity(), most)) {
        sheet.cure(text!("use a system of {} at most, or one whose live parts are enclosed", most));
    }
    Ok(words)
}
