//! A building drain needs cleanouts one can get at: near enough to each other for a cable, with room in front to work one.
//!
//! Without them the only way to clear a blockage is to break the floor or to pull a fixture.
//!
//! **How it is measured.** The greatest distance along the pipe from its upper end or from one cleanout to the next and to its
//! lower end, a cleanout where the building drain meets the sewer, and the clearance in front of the nearest cleanout. Cleanouts at
//! turns are not looked at.
//!
//! **How it is fixed.** A cleanout where the distance is too long; what stands in front of one moves.

use crate::network::Network;
use redtag_rule::prelude::*;

/// How far apart.
const APART: Quantity<dimensions::Length> = Quantity::new(
    "greatest_distance",
    "100 ft",
    "Greatest distance along a horizontal drain between cleanouts.",
    "from memory of IRC P3005.2.2",
)
.within("25 ft", "200 ft");
/// Room in front of small pipe.
const CLEAR: Quantity<dimensions::Length> = Quantity::new(
    "clearance",
    "18 in",
    "Least clearance in front of a cleanout of 6 in pipe and less.",
    "from memory of IRC P3005.2.9; older text had 12 in below 3 in",
)
.within("12 in", "36 in");
/// Room in front of large pipe.
const CLEAR_LARGE: Quantity<dimensions::Length> = Quantity::new(
    "clearance_large",
    "36 in",
    "Least clearance in front of a cleanout of 8 in pipe and more.",
    "from memory of IRC P3005.2.9",
)
.within("18 in", "48 in");

/// The junction.
const JUNCTION: Flag = Flag::new(
    "cleanout_at_junction",
    true,
    "A cleanout stands near where the building drain meets the building sewer.",
    "from memory of IRC P3005.2.3",
);

/// The rule.
pub const RULE: Rule = Rule {
    citations: &[
        remembered("IRC", "2021", "P3005.2.2"),
        remembered("IRC", "2021", "P3005.2.3"),
        remembered("IRC", "2021", "P3005.2.9"),
    ],
    parameters: &[&APART, &CLEAR, &CLEAR_LARGE, &JUNCTION],
    reads: &["/drainage"],
    ..Rule::new("drainage/cleanouts", "Cleanouts", check)
};

const WANTED: &str = "whether the drain can be cleared";

fn check(inquiry: &Inquiry) -> Vec<Finding> {
    Network::of(inquiry)
        .pipes
        .iter()
        .map(|pipe| {
            if !matches!(pipe.kind, DrainPipeKind::BuildingDrain | DrainPipeKind::BuildingSewer) {
                return pipe.not_applicable(text!("only building drains and sewers are asked for cleanouts here")).done();
            }
            pipe.sheet(WANTED, |sheet| judge(inquiry, pipe, sheet))
        })
        .collect()
}

fn judge(inquiry: &Inquiry, pipe: &Place<DrainPipe>, sheet: &mut Sheet) -> Lookup<Text> {
    let (cleanouts, size) = (need!(pipe, cleanouts), need!(pipe, size)).together()?;
    if cleanouts.is_empty() {
        sheet.fault(text!("it has no cleanout"));
        sheet.cure_at(text!("a cleanout at its upper end"), &[(cleanouts.pointer().to_owned(), json!(["0 ft"]))]);
        return Ok(text!("no cleanout"));
    }
    if let Some(length) = sheet.want(need!(pipe, length)) {
        let mut at: Vec<f64> = cleanouts.iter().map(|at| at.si()).chain([0.0, length.si()]).collect();
        at.sort_by(f64::total_cmp);
        let widest = at.windows(2).map(|pair| pair[1] - pair[0]).fold(0.0, f64::max);
        let (widest, most) = (crate::floor::metres(widest), inquiry.value(&APART));
        let words = text!("{} without a cleanout, {} is the most", in_unit(widest, "ft"), in_unit(most, "ft"));
        if !sheet.require("distance", words, "from memory of IRC P3005.2.2", at_most(widest, most)) {
            sheet.cure(text!("one more cleanout in the middle of it"));
        }
    }
    if pipe.kind == DrainPipeKind::BuildingDrain
        && inquiry.value(&JUNCTION)
        && let Some(there) = sheet.want(need!(pipe, cleanout_at_junction))
    {
        let words = if *there { "a cleanout where it meets the sewer" } else { "no cleanout where it meets the sewer" };
        if !sheet.require("junction", text!("{}", words), "from memory of IRC P3005.2.3", *there) {
            sheet.cure_at(text!("a cleanout where it meets the sewer"), &[(there.pointer().to_owned(), json!(true))]);
        }
    }
    if let Some(clear) = sheet.want(need!(pipe, cleanout_clearance)) {
        let large = at_least(size.quantity(), redtag_handbook::units::inches(8.0));
        let least = if large { inquiry.value(&CLEAR_LARGE) } else { inquiry.value(&CLEAR) };
        let words = text!("{} clear in front of the cleanout, {} is the least", clear, in_unit(least, "in"));
        if !sheet.require("clearance", words, "from memory of IRC P3005.2.9", at_least(clear.quantity(), least)) {
            let value = json!(quantity::Length::from_quantity(&least).print_in("in"));
            sheet.cure_at(text!("clear {} in front of it", in_unit(least, "in")), &[(clear.pointer().to_owned(), value)]);
        }
    }
    Ok(text!("cleanouts near enough, with room to work"))
}
