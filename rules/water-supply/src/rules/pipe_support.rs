//! Water pipes must be held as often as their material asks.
//!
//! A pipe that sags holds air and water, works in its joints, and hammers. Plastic needs far more supports than copper, and hot
//! plastic most.
//!
//! **How it is measured.** The greatest distance between two supports, level and upright.
//!
//! **How it is fixed.** Straps or clamps made for that pipe, which let it move. Steel straps cut plastic. **A hot pipe that comes
//! loose scalds.**

use crate::network;
use redtag_handbook::units;
use redtag_handbook::water::support_spacing;
use redtag_rule::prelude::*;

/// More or less.
const SHARE: Quantity<dimensions::Ratio> = Quantity::new(
    "share_of_table",
    "100 %",
    "The part of the table's distances that counts here.",
    "from memory of 2018 IRC table P2605.1",
)
.within("50 %", "150 %");

/// The rule.
pub const RULE: Rule = Rule {
    citations: &[remembered("IRC", "2018", "P2605.1"), remembered("IPC", "2021", "308.5")],
    parameters: &[&SHARE],
    reads: &["/water"],
    ..Rule::new("water-supply/pipe-support", "Pipes held often enough", check)
};

fn check(inquiry: &Inquiry) -> Vec<Finding> {
    let judged = |pipe: Place<'_, WaterPipe>| {
        let buried = pipe.kind == WaterPipeKind::Service || pipe.burial_depth.as_ref().is_some_and(|depth| depth.si() > 0.0);
        if buried {
            return pipe.not_applicable(text!("the earth holds it")).done();
        }
        pipe.sheet("whether it is held often enough", |sheet| judge(inquiry, &pipe, sheet))
    };
    need!(inquiry.project(), water.pipes).every().into_iter().map(judged).collect()
}

/// A pipe that climbs more than this, in metres, runs upright somewhere: half a storey.
const UPRIGHT: f64 = 1.22;

fn judge(inquiry: &Inquiry, pipe: &Place<WaterPipe>, sheet: &mut Sheet) -> Lookup<Text> {
    let (tube, size, level) = (network::tube(pipe), need!(pipe, size), need!(pipe, support_spacing)).together()?;
    let steel = pipe.material == Some(WaterPipeMaterial::GalvanizedSteel);
    let known = support_spacing(tube, steel, size.quantity());
    let unknown = || Unresolved::because(level.pointer(), "the maker's support distance: the table has no line for this pipe");
    let most = known.ok_or_else(unknown)?;
    let share = units::in_fraction(inquiry.value(&SHARE));
    if pipe.upright_support_spacing.is_none() && pipe.rise.as_ref().is_some_and(|rise| rise.si().abs() > UPRIGHT) {
        sheet.lack(pipe.missing("/upright_support_spacing"));
    }
    let apart = [
        ("level", Some(level.clone()), most.level * share),
        ("upright", need!(pipe, upright_support_spacing).ok(), most.upright * share),
    ];
    for (label, spacing, most) in apart {
        let Some(spacing) = spacing else { continue };
        if !sheet.at_most(label, &spacing, &most, "in", "IRC table P2605.1, from memory") {
            sheet.fault(text!(
                "held every {} where it runs {}, {} is the most",
                in_unit(&spacing, "in"),
                label,
                in_unit(most, "in")
            ));
            let written = quantity::Length::from_quantity(&most).print_in("in");
            sheet.cure_at(text!("a support every {}", in_unit(most, "in")), &[(spacing.pointer().to_owned(), json!(written))]);
        }
    }
    Ok(text!("held every {}", in_unit(&level, "in")))
}
