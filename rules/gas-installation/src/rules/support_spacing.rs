//! Gas pipe is held by supports of its own, close enough that it neither sags nor pulls at its joints.
//!
//! A sagging run loads the threads of its last fitting, and those crack.
//!
//! **How it is measured.** The greatest distance between supports, by material and nominal size: steel of 1/2 in every 6 ft,
//! of 3/4 in and 1 in every 8 ft, of 1 1/4 in and more every 10 ft, upright at every floor; smooth tubing nearer, by its outside diameter;
//! corrugated tubing as its maker says. Buried pipe lies in its bed and is not asked about.
//!
//! **How it is fixed.** Hangers or straps made for the pipe, in between; never another pipe as a hanger.

use crate::{marks, parts};
use redtag_handbook::gas_installation::{Run, Support, support_spacing};
use redtag_rule::prelude::*;
use uom::si::f64::Length;

const GREATEST: Quantity<dimensions::Length> = Quantity::new(
    "greatest_spacing",
    "10 ft",
    "Greatest distance between supports, whatever the table or the maker allows.",
    "from memory of IRC table G2424.1 (IFGC table 415.1): 10 ft is its widest row",
)
.within("2 ft", "10 ft");

/// The rule.
pub const RULE: Rule = Rule {
    citations: &[cited("IRC", "2018", "G2424.1"), cited("IFGC", "2018", "415.1"), remembered("IFGC", "2021", "407.2")],
    parameters: &[&GREATEST],
    reads: &["/gas"],
    stages: &[Stage::RoughIn, Stage::Final],
    ..Rule::new("gas-installation/support-spacing", "Supports of gas pipe", check)
};

const WANTED: &str = "whether the pipe is held closely enough";

fn check(inquiry: &Inquiry) -> Vec<Finding> {
    use GasPipeRoute::{InSolidFloor, UnderBuilding, Underground};
    let bedded = |route: &GasPipeRoute| matches!(route, Underground | InSolidFloor | UnderBuilding);
    parts::each_pipe(inquiry, |pipe| match &pipe.routes {
        Some(routes) if !routes.is_empty() && routes.iter().all(bedded) => {
            crate::named::not_concerned(pipe, text!("it lies in its bed"))
        }
        _ => crate::named::sheet(pipe, WANTED, |sheet| judge(inquiry, pipe, sheet)),
    })
}

fn judge(inquiry: &Inquiry, pipe: &Place<GasSegment>, sheet: &mut Sheet) -> Lookup<Text> {
    let material = need!(pipe, material)?;
    let vertical = pipe.vertical == Some(true);
    let run = match *material {
        GasPipeMaterial::CorrugatedStainlessSteel => return maker(inquiry, pipe, sheet),
        steel if parts::is_steel(steel) => Run::Steel { vertical },
        tubing if parts::is_tubing(tubing) => Run::Tubing { vertical },
        _ => return maker(inquiry, pipe, sheet),
    };
    let size = need!(pipe, nominal_size)?;
    let Some(row) = support_spacing(run, size.quantity() + beyond_nominal(*material)) else {
        return Err(Unresolved::because(size.pointer(), "a size the table of supports has a row for"));
    };
    match row.value {
        Support::Within(length) => within(inquiry, pipe, length, row.source.text(), sheet),
        Support::EveryFloor => {
            let fault = ("floors", text!("not every floor it passes supports it"));
            parts::demand(sheet, need!(pipe, supported_at_floors), fault, text!("clamp it at every floor"), row.source.text());
        }
        Support::Maker => return maker(inquiry, pipe, sheet),
    }
    Ok(text!("{} of {} held closely enough", *material, size))
}

/// The rows of tubing go by its outside diameter; water tube of types K and L is 1/8 in wider than its name.
fn beyond_nominal(material: GasPipeMaterial) -> Length {
    let water_tube = matches!(material, GasPipeMaterial::CopperK | GasPipeMaterial::CopperL);
    if water_tube { redtag_handbook::units::inches(0.125) } else { Length::default() }
}

/// What has no table: the maker's figure.
fn maker(inquiry: &Inquiry, pipe: &Place<GasSegment>, sheet: &mut Sheet) -> Lookup<Text> {
    let allowed = need!(pipe, maker_support_spacing)?;
    within(inquiry, pipe, allowed.quantity(), "the maker's instructions", sheet);
    Ok(text!("held as its maker says"))
}

fn within(inquiry: &Inquiry, pipe: &Place<GasSegment>, allowed: Length, source: &str, sheet: &mut Sheet) {
    let cap = inquiry.value(&GREATEST);
    let limit = if at_most(allowed, cap) { allowed } else { cap };
    let nearer = |most| text!("add supports until none is farther than {} from the next", most);
    let spacing = ("the distance between its supports", "ft");
    if !parts::no_more(sheet, need!(pipe, support_spacing), limit, spacing, nearer, source) && !sheet.sound() {
        marks::pipe(sheet, pipe, "supports too far apart");
    }
}
