//! Air and gas are driven out of piping so that nobody breathes or lights the mixture.
//!
//! Purging into a room by nose has blown up buildings: the nose tires before the gas is thick enough to burn.
//!
//! **How it is measured.** By the size and length of the pipe. From 2 1/2 in on, beyond a length by size, the gas is let out
//! to the outdoors only. The smaller pipe of a dwelling may be purged through a burner that is lit, outdoors, or indoors
//! watched with a gas detector; never indoors unwatched.
//!
//! **How it is fixed.** Purged again, by a fitter, with a detector in hand and no flame or switch near.

use redtag_handbook::gas_installation::outdoor_purge_beyond;
use redtag_rule::prelude::*;
use uom::si::f64::Length;

const SOURCE: &str = "2018 IRC G2417.7 (IFGC 406.7)";
const INDOORS: Flag = Flag::new(
    "indoors_with_detector_allowed",
    true,
    "Whether small piping may be purged indoors, watched with a gas detector.",
    "2018 IRC G2417.7.2 (IFGC 406.7.2)",
);

/// The rule.
pub const RULE: Rule = Rule {
    citations: &[cited("IRC", "2018", "G2417.7"), cited("IFGC", "2018", "406.7")],
    parameters: &[&INDOORS],
    reads: &["/gas"],
    stages: &[Stage::Final],
    ..Rule::new("gas-installation/purging", "Purging of gas piping", check)
};

const WANTED: &str = "whether the piping is purged safely";

fn check(inquiry: &Inquiry) -> Vec<Finding> {
    let project = inquiry.project();
    let Ok(gas) = need!(project, gas) else { return Vec::new() };
    let pipes = match need!(gas, segments) {
        Ok(pipes) => pipes,
        Err(unresolved) => return vec![crate::named::sheet(&gas, WANTED, |_| Err(unresolved))],
    };
    if pipes.is_empty() {
        return vec![crate::named::not_concerned(&gas, text!("no piping"))];
    }
    vec![crate::named::sheet(&gas, WANTED, |sheet| judge(inquiry, &gas, &pipes, sheet))]
}

fn judge(inquiry: &Inquiry, gas: &Place<Gas>, pipes: &Place<Vec<GasSegment>>, sheet: &mut Sheet) -> Lookup<Text> {
    let large = large(pipes, sheet);
    let discharge = match need!(gas, purge.discharge) {
        Ok(discharge) => discharge,
        Err(unresolved) => {
            let how = match large {
                true => text!("of this size it is purged to the outdoors only"),
                false => text!("through a lit burner, outdoors, or watched with a gas detector, never by nose"),
            };
            sheet.line("how it may be done", how, SOURCE);
            return Err(unresolved);
        }
    };
    let fault = match (*discharge, large) {
        (PurgeDischarge::Outdoors, _) => None,
        (PurgeDischarge::IndoorsUnwatched, _) => Some(text!("purged into the room without a gas detector")),
        (_, true) => Some(text!("piping of this size and length is purged to the outdoors only")),
        (PurgeDischarge::IndoorsWatched, _) if !inquiry.value(&INDOORS) => Some(text!("purging indoors is not allowed here")),
        _ => None,
    };
    sheet.test("discharge", text!("{}", *discharge), SOURCE, fault.is_none());
    if let Some(fault) = fault {
        sheet.fault(fault);
        let cure = text!("purge to the outdoors, the end of the hose watched, no flame near");
        sheet.cure_at(cure, &[(discharge.pointer().to_owned(), json!("outdoors"))]);
    }
    Ok(text!("purged by way of: {}", *discharge))
}

/// Whether any of it is so large and long that it is purged to the outdoors only. Lengths of one row of the table add up.
fn large(pipes: &Place<Vec<GasSegment>>, sheet: &mut Sheet) -> bool {
    let mut sums: Vec<(Length, Length)> = Vec::new();
    for pipe in pipes.items() {
        // Corrugated tubing ends at 2 in, below the first row.
        if pipe.material == Some(GasPipeMaterial::CorrugatedStainlessSteel) {
            continue;
        }
        let Some(size) = sheet.want(need!(pipe, nominal_size)) else { continue };
        let Some(row) = outdoor_purge_beyond(size.quantity()) else { continue };
        let Some(length) = sheet.want(need!(pipe, length)) else { continue };
        match sums.iter_mut().find(|(beyond, _)| *beyond == row.value) {
            Some((_, sum)) => *sum += length.quantity(),
            None => sums.push((row.value, length.quantity())),
        }
    }
    for (most, sum) in &sums {
        sheet.line("length", text!("{} of large pipe, beyond {} only to the outdoors", *sum, *most), SOURCE);
    }
    sums.iter().any(|(most, sum)| !at_most(*sum, *most))
}
