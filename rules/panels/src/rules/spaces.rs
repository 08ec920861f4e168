//! A panel has room for its circuits, each space is taken once, and its directory says what is where.
//!
//! Two circuits in one space mean a wrong list or a doubled-up breaker; without a directory nobody finds the breaker when it counts.
//!
//! **How it is measured.** The spaces each circuit takes, against the number of spaces of the panel and against each other; a
//! breaker takes as many as it has poles. The directory is filled in. Few spaces left are worth a word.
//!
//! **How it is fixed.** A panel with more spaces, a further panel, a true list.

use crate::circuits;
use redtag_rule::prelude::*;

/// Left.
const LEFT: Number = Number::new(
    "share_left",
    0.0,
    "The share of spaces, from 0 to 1, that should be left; fewer is advice.",
    "the code has no minimum; a fifth is common practice",
)
.within(0.0, 1.0);

/// The rule.
pub const RULE: Rule = Rule {
    citations: &[cited("NEC", "2020", "408.4"), remembered("NEC", "2020", "408.54")],
    parameters: &[&LEFT],
    reads: &["/electrical/panels"],
    ..Rule::new("panels/spaces", "Spaces and directory", check)
};

const WANTED: &str = "whether it has room for its circuits";

fn check(inquiry: &Inquiry) -> Vec<Finding> {
    circuits::panels(inquiry).iter().map(|panel| panel.sheet(WANTED, |sheet| judge(inquiry, panel, sheet))).collect()
}

fn judge(inquiry: &Inquiry, panel: &Place<Panel>, sheet: &mut Sheet) -> Lookup<Text> {
    if inquiry.stage() == Stage::Final
        && let Some(directory) = sheet.want(need!(panel, directory))
        && !*directory
    {
        sheet.require("directory", text!("its directory is not filled in"), "NEC 408.4", false);
        sheet.cure_at(text!("write down what each circuit feeds"), &[(directory.pointer().to_owned(), json!(true))]);
    }
    let (spaces, circuits) = (need!(panel, spaces), need!(panel, circuits)).together()?;
    let mut taken: Vec<(u32, String)> = Vec::new();
    let mut count = 0_u32;
    for circuit in circuits.items() {
        let (slots, poles) = (need!(circuit, slots), need!(circuit, poles));
        if let (Ok(slots), Ok(poles)) = (&slots, &poles)
            && slots.len() as u32 != **poles
        {
            sheet.fault(text!("circuit {} has {} poles and {} spaces", circuit.id, **poles, slots.len()));
            sheet.related(circuit.pointer());
        }
        match (slots, poles) {
            (Ok(slots), _) => {
                count = count.saturating_add(slots.len() as u32);
                taken.extend(slots.iter().map(|slot| (*slot, circuit.id.clone())));
            }
            (Err(_), Ok(poles)) => count = count.saturating_add(*poles),
            (Err(unresolved), Err(_)) => sheet.lack(unresolved),
        }
    }
    clashes(*spaces, taken, sheet);
    let words = text!("{} of {} spaces taken", count, *spaces);
    if !sheet.require("spaces", words.clone(), "the panel's label", count <= *spaces) {
        sheet.cure(text!("use a panel with {} spaces at least, or a further panel", count));
    } else if f64::from(*spaces - count) < inquiry.value(&LEFT) * f64::from(*spaces) - 1e-9 {
        sheet.advise(text!("{}: little room is left for more", words.clone()));
    }
    Ok(words)
}

/// Spaces taken twice, and spaces the panel does not have.
fn clashes(spaces: u32, mut taken: Vec<(u32, String)>, sheet: &mut Sheet) {
    taken.sort();
    for pair in taken.windows(2) {
        if pair[0].0 == pair[1].0 {
            sheet.require(
                "space",
                text!("space {} is taken by {} and by {}", pair[0].0, pair[0].1, pair[1].1),
                "NEC 408.54",
                false,
            );
            sheet.cure(text!("give each circuit a space of its own"));
        }
    }
    for (slot, circuit) in taken.iter().filter(|(slot, _)| *slot == 0 || *slot > spaces) {
        sheet.require(
            "space",
            text!("circuit {} is in space {}, the panel has {}", circuit.as_str(), *slot, spaces),
            "the panel's label",
            false,
        );
    }
}
