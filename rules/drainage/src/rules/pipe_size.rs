//! A drain never gets smaller on its way, and no water closet empties into less than 3 in.
//!
//! What passes the upper pipe must pass the lower one; a reduction catches it, out of reach, under the slab.
//!
//! **How it is measured.** The nominal size of each pipe against the pipe it empties into, of each trap against its pipe.
//!
//! **How it is fixed.** The lower pipe in the larger size, with the fittings between them.

use crate::network::{self, Network};
use redtag_rule::prelude::*;

/// Least size behind a water closet.
const CLOSET: Quantity<dimensions::Length> = Quantity::new(
    "water_closet_least",
    "3 in",
    "Least nominal size of a pipe that carries a water closet.",
    "2018 IPC Table 710.1(1), note",
)
.within("3 in", "4 in");

/// The rule.
pub const RULE: Rule = Rule {
    citations: &[cited("IPC", "2018", "704.2"), cited("IPC", "2018", "710.1(1)"), remembered("IRC", "2021", "P3005.1.1")],
    parameters: &[&CLOSET],
    reads: &["/drainage"],
    ..Rule::new("drainage/pipe-size", "Drains never reduced", check)
};

const WANTED: &str = "whether the pipe is as large as what empties into it";

fn check(inquiry: &Inquiry) -> Vec<Finding> {
    let network = Network::of(inquiry);
    network
        .pipes
        .iter()
        .map(|pipe| {
            if matches!(pipe.kind, DrainPipeKind::Condensate | DrainPipeKind::PumpDischarge | DrainPipeKind::Storm) {
                return pipe.not_applicable(text!("a {} is sized by other rules", pipe.kind)).done();
            }
            pipe.sheet(WANTED, |sheet| judge(inquiry, &network, pipe, sheet))
        })
        .collect()
}

fn judge(inquiry: &Inquiry, network: &Network, pipe: &Place<DrainPipe>, sheet: &mut Sheet) -> Lookup<Text> {
    // What it empties into is no smaller; that is asked of the other pipe, once it is known which.
    if network::goes_on_into(pipe.kind) && pipe.into.is_none() {
        sheet.lack(pipe.missing("/into"));
    }
    let size = need!(pipe, size)?;
    let mut largest = None;
    let mut hold = |sheet: &mut Sheet, name: String, pointer: &str, above: uom::si::f64::Length| {
        let words = text!("{} of {} empties into {}", in_unit(above, "in"), name, size);
        if !sheet.require("no reduction", words, "IPC 704.2", at_least(size.quantity(), above)) {
            sheet.related(pointer);
            largest = Some(largest.map_or(above, |most| if above > most { above } else { most }));
        }
    };
    for above in network.pipes.iter().filter(|above| above.into.as_deref() == Some(pipe.id.as_str())) {
        if let Some(its) = sheet.want(need!(above, size)) {
            hold(sheet, format!("pipe {}", above.id), above.pointer(), its.quantity());
        }
    }
    for drain in network.drains.iter().filter(|drain| drain.pipe.as_deref() == Some(pipe.id.as_str())) {
        if let Ok(trap) = need!(drain, trap.size) {
            hold(sheet, format!("the trap of {}", drain.id), drain.pointer(), trap.quantity());
        }
    }
    if let Some(carries) = sheet.want(need!(pipe, carries_water_closet)).filter(|carries| **carries) {
        let least = inquiry.value(&CLOSET);
        let words = text!("{} carries a water closet, {} is the least", size, in_unit(least, "in"));
        if !sheet.require("water closet", words, "2018 IPC Table 710.1(1)", at_least(size.quantity(), least)) {
            sheet.related(carries.pointer());
            largest = Some(largest.map_or(least, |most| if least > most { least } else { most }));
        }
    }
    if let Some(size) = largest {
        let written = quantity::Length::from_quantity(&size).print_in("in");
        sheet.cure_at(text!("lay it in {}", in_unit(size, "in")), &[(format!("{}/size", pipe.pointer()), json!(written))]);
    }
    Ok(text!("{}: nothing larger empties into it", size))
}
