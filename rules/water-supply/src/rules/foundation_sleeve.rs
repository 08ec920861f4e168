//! A water or drain pipe through a foundation wall must run in a sleeve two pipe sizes larger, sealed.
//!
//! Walls settle and pipes do not bend. What is cast in tight breaks, and what is left open lets in water and vermin.
//!
//! **How it is measured.** The nominal size of the pipe and of the sleeve, counted on the ladder of pipe sizes. The ladder
//! matters: two sizes above 2 in is 3 in where 2-1/2 in counts, and 4 in where it does not.
//!
//! **How it is fixed.** A sleeve of that size, or a relieving arch, the gap filled with sealant that stays soft.

use crate::bores;
use redtag_handbook::water::size_up;
use redtag_rule::prelude::*;

/// Ladder.
const LADDER: Choice = Choice::new(
    "ladder",
    "with-two-and-a-half",
    &["with-two-and-a-half", "without-two-and-a-half"],
    "Whether 2-1/2 in counts as a pipe size.",
    "both readings are in use: plastic drain pipe is not made in 2-1/2 in",
);
/// Steps.
const STEPS: Number =
    Number::new("sizes_larger", 2.0, "How many pipe sizes larger the sleeve is.", "from memory of IRC P2603.4").within(0.0, 3.0);

/// The rule.
pub const RULE: Rule = Rule {
    citations: &[remembered("IRC", "2021", "P2603.4"), cited("IPC", "2018", "305.3")],
    parameters: &[&LADDER, &STEPS],
    reads: &["/spaces", "/water", "/drainage"],
    ..Rule::new("water-supply/foundation-sleeve", "A sleeve through the foundation", check)
};

const WITH: [f64; 9] = [0.5, 0.75, 1.0, 1.25, 1.5, 2.0, 2.5, 3.0, 4.0];
const WITHOUT: [f64; 8] = [0.5, 0.75, 1.0, 1.25, 1.5, 2.0, 3.0, 4.0];

fn check(inquiry: &Inquiry) -> Vec<Finding> {
    let judged = |bore: bores::Bore| {
        if bore.assembly.kind != AssemblyKind::FoundationWall {
            return bore.hole.not_applicable(text!("not through a foundation wall")).done();
        }
        bore.hole.sheet("whether its sleeve is large enough", |sheet| judge(inquiry, &bore.hole, sheet))
    };
    bores::all(inquiry).into_iter().map(judged).collect()
}

fn judge(inquiry: &Inquiry, hole: &Place<Penetration>, sheet: &mut Sheet) -> Lookup<Text> {
    let (size, sleeve) = (bores::size(inquiry, hole), need!(hole, sleeve)).together()?;
    let ladder: &[f64] = if inquiry.value(&LADDER) == "without-two-and-a-half" { &WITHOUT } else { &WITH };
    let steps = inquiry.value(&STEPS).clamp(0.0, 3.0) as usize;
    let wanted = size_up(ladder, size.quantity(), steps)
        .ok_or_else(|| Unresolved::because(sleeve.pointer(), "a sleeve sized by an engineer: the ladder of sizes ends before"))?;
    if !sheet.at_least("sleeve", &sleeve, &wanted, "in", "IRC P2603.4, from memory") {
        sheet.fault(text!(
            "a sleeve of {} around a pipe of {}, {} is the least",
            in_unit(&sleeve, "in"),
            in_unit(&size, "in"),
            in_unit(wanted, "in")
        ));
        let written = quantity::Length::from_quantity(&wanted).print_in("in");
        sheet.cure_at(text!("a sleeve of {}", in_unit(wanted, "in")), &[(sleeve.pointer().to_owned(), json!(written))]);
    }
    if let Some(seal) = sheet.want(need!(hole, seal)) {
        let sealed = *seal != Seal::Unsealed;
        if !sheet.test("gap", text!("{}", *seal), "IRC P2603.4, from memory", sealed) {
            sheet.fault(text!("the gap between sleeve and pipe is open"));
            sheet.cure_at(text!("fill it with sealant that stays soft"), &[(seal.pointer().to_owned(), json!("sealant"))]);
        }
    }
    Ok(text!("{} in a sleeve of {}", in_unit(&size, "in"), in_unit(&sleeve, "in")))
}
