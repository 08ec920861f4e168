//! Sheet metal keeps insulation off a vent where the vent goes through it.
//!
//! Loose insulation against a hot pipe smoulders; against a double-wall pipe it takes away the air space the listing counts on.
//! Vents are work for a licensed contractor.
//!
//! **How it is measured.** For every Type B, B-W and L vent that goes through an attic or another insulated assembly: whether a shield of
//! sheet metal, 26 gage at least, keeps the insulation off, and how far it reaches above the insulation: 2 in at least.
//!
//! **How it is fixed.** A collar of sheet metal around the vent, fastened, 2 in higher than the insulation.

use crate::appliances::vents;
use redtag_rule::prelude::*;

const SOURCE: &str = "IFGC 502.4 (IRC G2426.4)";
/// Above the insulation.
const ABOVE: Quantity<dimensions::Length> = Quantity::new(
    "above_insulation",
    "2 in",
    "Height of an insulation shield above the insulation of an attic.",
    "IFGC 502.4 (2012)",
);

/// The rule.
pub const RULE: Rule = Rule {
    citations: &[remembered("IRC", "2021", "G2426.4"), cited("IFGC", "2012", "502.4")],
    parameters: &[&ABOVE],
    reads: &["/vents", "/spaces"],
    ..Rule::new("venting/insulation-shield", "Insulation kept off vents", check)
};

fn check(inquiry: &Inquiry) -> Vec<Finding> {
    let listed = |vent: &&Place<Vent>| matches!(vent.kind, VentKind::TypeB | VentKind::TypeBw | VentKind::TypeL);
    let wanted = "whether insulation stays off it";
    vents(inquiry).iter().filter(listed).map(|vent| vent.sheet(wanted, |sheet| judge(inquiry, sheet, vent))).collect()
}

fn judge(inquiry: &Inquiry, sheet: &mut Sheet, vent: &Place<Vent>) -> Lookup<Text> {
    let spaces = need!(vent, spaces).into_iter().flat_map(|spaces| spaces.items());
    let attic = spaces.map(|id| inquiry.space(&id)).any(|space| space.is_ok_and(|space| space.kind == SpaceKind::Attic));
    if !attic && !*need!(vent, through_insulation)? {
        return Ok(text!("it goes through no insulation"));
    }
    if vent.through_insulation == Some(false) {
        sheet.line("attic", text!("it goes through an attic, and through no insulation there"), SOURCE);
        return Ok(text!("it goes through no insulation"));
    }
    let present = need!(vent, insulation_shield.present)?;
    let words = text!("{} keeps the insulation off", if *present { "a shield" } else { "nothing" });
    if !sheet.require("shield", words, SOURCE, *present) {
        sheet.cure_at(
            text!("fit a shield of sheet metal, 26 gage at least, {} above the insulation", inquiry.value(&ABOVE)),
            &[
                (present.pointer().to_owned(), json!(true)),
                (format!("{}/insulation_shield/above_insulation", vent.pointer()), json!("2 in")),
            ],
        );
        return Ok(Text::default());
    }
    let height = need!(vent, insulation_shield.above_insulation)?;
    let least = inquiry.value(&ABOVE);
    let words =
        text!("the shield reaches {} above the insulation, {} is the least", in_unit(&height, "in"), in_unit(least, "in"));
    if !sheet.require("height", words, SOURCE, at_least(height.quantity(), least)) {
        let written = quantity::Length::from_quantity(&least).print_in("in");
        sheet.cure_at(text!("raise it to {}", in_unit(least, "in")), &[(height.pointer().to_owned(), json!(written))]);
    }
    Ok(text!("a shield keeps insulation off it"))
}
