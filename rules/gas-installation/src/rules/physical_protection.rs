//! Gas pipe inside framing is shielded by steel plates where a nail or screw could reach it.
//!
//! The drywaller's screw goes an inch and a quarter deep. It finds copper or corrugated tubing at once, and the hole may
//! leak only when the screw is pulled.
//!
//! **How it is measured.** From the edge of the stud, joist or plate to the pipe: 1 1/2 in at least, or a plate of 0.0575 in
//! (16 gage) that reaches 4 in past the framing. Steel pipe needs none.
//!
//! **How it is fixed.** Plates nailed on before the finish, or the pipe moved to the middle of the framing.

use crate::{marks, parts};
use redtag_rule::prelude::*;

const SOURCE: &str = "IRC G2415.7 (IFGC 404.7)";
const EDGE: Quantity<dimensions::Length> = Quantity::new(
    "least_edge_distance",
    "1.5 in",
    "Distance from the edge of framing below which a plate is needed.",
    "IRC G2415.7 (IFGC 404.7); 2015 residential gas checklist",
)
.within("1 in", "3 in");
const THICKNESS: Quantity<dimensions::Length> = Quantity::new(
    "least_plate_thickness",
    "0.0575 in",
    "Least thickness of the steel plate.",
    "IRC G2415.7 (IFGC 404.7); 2015 residential gas checklist",
)
.within("0.01 in", "0.25 in");
const EXTENSION: Quantity<dimensions::Length> = Quantity::new(
    "least_plate_extension",
    "4 in",
    "How far the plate reaches past the framing member.",
    "IRC G2415.7 (IFGC 404.7); 2015 residential gas checklist",
)
.within("0 in", "12 in");

/// The rule.
pub const RULE: Rule = Rule {
    citations: &[cited("IRC", "2015", "G2415.7"), cited("IFGC", "2015", "404.7")],
    parameters: &[&EDGE, &THICKNESS, &EXTENSION],
    reads: &["/gas"],
    stages: &[Stage::RoughIn, Stage::Final],
    ..Rule::new("gas-installation/physical-protection", "Gas pipe shielded in framing", check)
};

const WANTED: &str = "whether a nail can reach the pipe";

fn check(inquiry: &Inquiry) -> Vec<Finding> {
    parts::each_pipe(inquiry, |pipe| match pipe.material {
        Some(material) if parts::is_steel(material) => crate::named::not_concerned(pipe, text!("steel pipe needs no plates")),
        _ if pipe.routes.is_some() && !parts::runs(pipe, GasPipeRoute::Concealed) => {
            crate::named::not_concerned(pipe, text!("it does not run in framing"))
        }
        _ => crate::named::sheet(pipe, WANTED, |sheet| judge(inquiry, pipe, sheet)),
    })
}

fn judge(inquiry: &Inquiry, pipe: &Place<GasSegment>, sheet: &mut Sheet) -> Lookup<Text> {
    (need!(pipe, material), need!(pipe, routes)).together()?;
    let edge = need!(pipe, edge_distance)?;
    let least = inquiry.value(&EDGE);
    if at_least(edge.quantity(), least) {
        sheet.at_least("edge", &edge, &least, "in", SOURCE);
        return Ok(text!("{} from the edge of the framing", in_unit(edge, "in")));
    }
    sheet.line("edge", text!("{}, {} needs no plate", in_unit(&edge, "in"), in_unit(least, "in")), SOURCE);
    let shielded = need!(pipe, shielded)?;
    let plate = text!(
        "fit steel plates of {} that reach {} past the framing",
        in_unit(inquiry.value(&THICKNESS), "in"),
        in_unit(inquiry.value(&EXTENSION), "in")
    );
    let bare = ("plate", text!("it runs {} from the edge of the framing without a steel plate", in_unit(&edge, "in")));
    if parts::demand(sheet, Ok(shielded), bare, plate, SOURCE) {
        let thicker = |least| text!("fit plates of {} steel", least);
        parts::no_less(
            sheet,
            need!(pipe, plate_thickness),
            inquiry.value(&THICKNESS),
            ("the plates' thickness", "in"),
            thicker,
            SOURCE,
        );
        let longer = |least| text!("fit plates that reach {} past the framing", least);
        let reach = ("the plates' reach past the framing", "in");
        parts::no_less(sheet, need!(pipe, plate_extension), inquiry.value(&EXTENSION), reach, longer, SOURCE);
    }
    if !sheet.sound() {
        marks::pipe(sheet, pipe, "needs steel plates");
    }
    Ok(text!("steel plates shield it"))
}
