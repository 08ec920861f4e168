//! The pipe from a trap to its vent must be short, must fall, and must not fall too far.
//!
//! A trap arm that is too long or drops more than its own diameter siphons its trap: the seal is gone and sewer gas, which can
//! burn and poison, comes up through the drain.
//!
//! **How it is measured.** Developed length from the trap weir to the vent against the table of the code family; its slope; its
//! whole fall, which may not exceed its diameter; and no vent within two diameters of the weir.
//!
//! A floor drain or sink on a combination waste and vent system has no such limits: the pipe behind it, laid flat enough, is its vent.
//!
//! **How it is fixed.** A vent nearer to the trap, or a larger arm.

use crate::network::Network;
use crate::parameters::{CODE_FAMILY, family, sloped};
use redtag_handbook::drainage::{DrainSize, TrapArm, sources, trap_arm};
use redtag_rule::prelude::*;

/// How near a vent may be.
const CROWN: Number = Number::new(
    "least_diameters",
    2.0,
    "Least length of a trap arm, in pipe diameters: a vent nearer than that is a crown vent.",
    "from memory of IRC P3105.3",
)
.within(0.0, 4.0);

/// Combination waste and vent.
const FLATTEST: Quantity<dimensions::Slope> = Quantity::new(
    "combination_slope_most",
    "1/2 in/ft",
    "The most a pipe of a combination waste and vent system may fall.",
    "from memory of IRC P3111.2",
)
.within("1/8 in/ft", "1 in/ft");

/// The rule.
pub const RULE: Rule = Rule {
    citations: &[
        cited("IRC", "2018", "P3105.1"),
        cited("IRC", "2018", "P3105.2"),
        remembered("IRC", "2021", "P3105.3"),
        cited("UPC", "2018", "1002.2"),
        remembered("IRC", "2021", "P3111"),
    ],
    parameters: &[&CODE_FAMILY, &CROWN, &FLATTEST],
    reads: &["/drainage"],
    ..Rule::new("drainage/trap-arm", "Trap arms", check)
};

const WANTED: &str = "whether the trap arm protects its trap";

fn check(inquiry: &Inquiry) -> Vec<Finding> {
    Network::of(inquiry)
        .drains
        .iter()
        .map(|drain| match &drain.trap {
            Some(trap) if !matches!(trap.kind, TrapKind::None) => drain.sheet(WANTED, |sheet| judge(inquiry, drain, sheet)),
            _ => drain.not_applicable(text!("no trap is described")).done(),
        })
        .collect()
}

/// On a combination waste and vent system.
fn combined(inquiry: &Inquiry, drain: &Place<Drain>, sheet: &mut Sheet) -> Lookup<Text> {
    use DrainKind as K;
    let source = "IRC P3111, from memory";
    let fits = matches!(drain.kind, K::FloorDrain | K::FloorSink | K::HubDrain | K::LaundryTub | K::Sink);
    let words = text!("a {} on a combination waste and vent system, which serves floor drains, sinks and lavatories", drain.kind);
    sheet.require("kind", words, source, fits);
    if let Some(slope) = sheet.want(need!(drain, trap.arm_slope)) {
        let most = inquiry.value(&FLATTEST);
        let words = text!("it falls {}, {} is the most", slope, sloped(most));
        sheet.require("slope", words, source, at_most(slope.quantity(), most));
    }
    Ok(text!("on a combination waste and vent system: the pipe behind it is its vent"))
}

fn judge(inquiry: &Inquiry, drain: &Place<Drain>, sheet: &mut Sheet) -> Lookup<Text> {
    if need!(drain, trap.combination_waste_and_vent).is_ok_and(|combined| *combined) {
        return combined(inquiry, drain, sheet);
    }
    let vented = sheet.want(need!(drain, trap.vented));
    if vented.as_ref().is_some_and(|vented| {
        !sheet.require(
            "vent",
            text!("{}", if **vented { "the trap is vented" } else { "the trap has no vent" }),
            sources::TRAP_ARM_ICC.text(),
            **vented,
        )
    }) {
        sheet.cure(text!("vent it, or let the authority approve an air admittance valve where the code allows one"));
    }
    let size = need!(drain, trap.arm_size).or_else(|_| need!(drain, trap.size));
    let (size, length, slope) = (size, need!(drain, trap.arm_length), need!(drain, trap.arm_slope)).together()?;
    let Some(arm) = DrainSize::of(size.quantity()).and_then(|size| trap_arm(family(inquiry), size)) else {
        return Err(Unresolved::because(size.pointer(), "a size whose row of the trap arm table is known here"));
    };
    let TrapArm { slope: least, length: longest, source } = arm;
    let words = text!("the arm falls {}, {} is the least", slope, sloped(least));
    if !sheet.require("slope", words, source.text(), at_least(slope.quantity(), least)) {
        let value = json!(sloped(least).print_in("in/ft"));
        sheet.cure_at(text!("lay it to {}", sloped(least)), &[(slope.pointer().to_owned(), value)]);
    }
    let words = text!("the arm is {} long, {} is the most for {}", in_unit(&length, "ft"), in_unit(longest, "ft"), size);
    if !sheet.require("length", words.clone(), source.text(), at_most(length.quantity(), longest)) {
        let value = json!(quantity::Length::from_quantity(&longest).print_in("in"));
        sheet.cure_at(text!("vent it within {}", in_unit(longest, "ft")), &[(length.pointer().to_owned(), value)]);
    }
    let fall = length.quantity() * slope.quantity();
    let said = text!("it falls {} in all, its diameter {} is the most", in_unit(fall, "in"), size);
    sheet.require("fall", said, sources::TRAP_ARM_FALL.text(), at_most(fall, size.quantity()));
    let near = size.quantity() * inquiry.value(&CROWN);
    let said = text!("the vent is {} from the weir, {} is the least", length, in_unit(near, "in"));
    sheet.require("crown vent", said, sources::CROWN_VENT.text(), at_least(length.quantity(), near));
    Ok(words)
}
