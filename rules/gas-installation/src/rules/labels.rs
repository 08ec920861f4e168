//! Gas pipe in the open that is not steel carries a yellow label, so that nobody takes it for water or cuts it.
//!
//! **How it is measured.** The greatest distance between labels along the pipe, 5 ft at most. None is needed where the pipe
//! stays in the room of the appliance it feeds; steel pipe needs none. Where more than 14 in of water, about half a
//! pound per square inch, stands in the pipe, the label should state it: whoever opens a 2 psi line as if it were low pressure has a torch.
//!
//! **How it is fixed.** Yellow labels reading Gas in black, from the supply house; with the pressure where it is asked for.

use crate::{marks, parts};
use redtag_rule::prelude::*;

const SOURCE: &str = "IRC G2412.5 (IFGC 401.5)";
const SPACING: Quantity<dimensions::Length> = Quantity::new(
    "greatest_spacing",
    "5 ft",
    "Greatest distance between labels of exposed pipe other than steel.",
    "2018 IFGC 401.5 as two states print it",
)
.within("1 ft", "20 ft");
const ABOVE: Quantity<dimensions::Pressure> = Quantity::new(
    "pressure_stated_above",
    "14 in wc",
    "Working pressure above which labels state it.",
    "common practice: above the half pound per square inch appliances take, counted as 14 in of water",
)
.within("7 in wc", "5 psi");
const PRESSURE: Choice = Choice::new(
    "pressure_on_labels",
    "advised",
    &["advised", "required", "not-asked"],
    "Whether labels of piping above that pressure state it.",
    "common practice: makers of corrugated tubing and many cities ask for it; from memory, not in the model code",
);

/// The rule.
pub const RULE: Rule = Rule {
    citations: &[cited("IRC", "2018", "G2412.5"), cited("IFGC", "2018", "401.5")],
    parameters: &[&SPACING, &PRESSURE, &ABOVE],
    reads: &["/equipment", "/gas"],
    ..Rule::new("gas-installation/labels", "Labels of gas pipe", check)
};

const WANTED: &str = "whether the pipe is labelled";

fn check(inquiry: &Inquiry) -> Vec<Finding> {
    parts::each_pipe(inquiry, |pipe| {
        let hidden = pipe.routes.is_some() && !parts::runs(pipe, GasPipeRoute::Exposed);
        let steel = pipe.material.is_some_and(parts::is_steel);
        // Where labels must state the pressure, one that is not said may be one they must state.
        let may_be = pipe.pressure.is_none() && inquiry.value(&PRESSURE) == "required";
        match (hidden, steel && !elevated(inquiry, pipe) && !may_be) {
            (true, _) => crate::named::not_concerned(pipe, text!("none of it is in the open indoors")),
            (_, true) => crate::named::not_concerned(pipe, text!("steel pipe needs no labels")),
            _ => crate::named::sheet(pipe, WANTED, |sheet| judge(inquiry, pipe, sheet)),
        }
    })
}

/// Whether more than appliances take stands in it.
fn elevated(inquiry: &Inquiry, pipe: &GasSegment) -> bool {
    pipe.pressure.as_ref().is_some_and(|pressure| !at_most(pressure.quantity(), inquiry.value(&ABOVE)))
}

fn judge(inquiry: &Inquiry, pipe: &Place<GasSegment>, sheet: &mut Sheet) -> Lookup<Text> {
    let (material, _) = (need!(pipe, material), need!(pipe, routes)).together()?;
    if !parts::is_steel(*material) && !in_the_room(inquiry, pipe) {
        let more = |most| text!("fit yellow Gas labels, none farther than {} from the next", most);
        let spacing = ("the distance between its labels", "ft");
        parts::no_more(sheet, need!(pipe, label_spacing), inquiry.value(&SPACING), spacing, more, SOURCE);
    }
    let asked = inquiry.value(&PRESSURE);
    if asked == "required" {
        sheet.want(need!(pipe, pressure));
    }
    if elevated(inquiry, pipe) && asked != "not-asked" {
        let stated = need!(pipe, label_states_pressure);
        let words = text!("its labels do not state the pressure in it, {}", in_unit(need!(pipe, pressure)?, "psi"));
        match asked {
            "required" => {
                parts::demand(sheet, stated, ("pressure", words), text!("label it with its pressure"), "asked for here");
            }
            _ if stated.is_ok_and(|stated| *stated) => {}
            _ => sheet.advise(text!("{} runs in it: label it with that pressure", in_unit(need!(pipe, pressure)?, "psi"))),
        }
    }
    if !sheet.sound() {
        marks::pipe(sheet, pipe, "needs labels");
    }
    Ok(text!("labelled as it must be"))
}

/// Whether all of it is in the room of the appliance it feeds.
fn in_the_room(inquiry: &Inquiry, pipe: &Place<GasSegment>) -> bool {
    let outlet = need!(pipe, to).and_then(|to| parts::node(inquiry, &to));
    let appliance = outlet.and_then(|node| need!(node, equipment).and_then(|id| inquiry.equipment(&id)));
    let room = appliance.ok().and_then(|appliance| appliance.space.clone());
    room.is_some_and(|room| {
        pipe.spaces.as_ref().is_some_and(|spaces| !spaces.is_empty() && spaces.iter().all(|space| *space == room))
    })
}
