//! Protection lets an appliance stand closer to what can burn only if it is built as the notes of the code's table say, and
//! only where the appliance's instructions do not forbid it.
//!
//! A sheet nailed flat on a wall protects nothing: the air behind it carries the heat away, or nothing does.
//!
//! **How it is measured.** An air space of 1 in behind it and openings of 1 in along its edges where it is of a ventilated
//! kind, spacers that do not burn and none straight behind the appliance, 1 in between it and the appliance, and a reach
//! beyond the appliance's edges such that the way around it to what can burn is as long as the label's clearance. The table
//! has no figures for less than 6 in or more than 36 in, and none above an appliance for masonry.
//!
//! **How it is fixed.** Make the air space, the openings or the sheet as large as the finding says.

use crate::label;
use crate::shields::{self, GAP, INTERPOLATE, SOLID_FUEL};
use redtag_rule::prelude::*;

/// The rule.
pub const RULE: Rule = Rule {
    citations: &[cited("IRC", "2021", "Table M1306.2 (G2409.2)"), remembered("IRC", "2021", "M1306.2, M1306.2.1")],
    parameters: &[&INTERPOLATE, &SOLID_FUEL, &GAP],
    reads: &["/spaces", "/equipment"],
    ..Rule::new("clearances/clearance-protection", "Protection of what can burn near appliances", check)
};

fn check(inquiry: &Inquiry) -> Vec<Finding> {
    let all = need!(inquiry.project(), equipment).every();
    let protected = all.iter().filter(|equipment| equipment.protections.as_ref().is_some_and(|list| !list.is_empty()));
    let wanted = "whether its protection counts";
    protected.map(|equipment| equipment.sheet(wanted, |sheet| judge(inquiry, equipment, sheet))).collect()
}

fn judge(inquiry: &Inquiry, appliance: &Place<Equipment>, sheet: &mut Sheet) -> Lookup<Text> {
    if let Some(allowed) = sheet.want(need!(appliance, reduction_allowed))
        && !*allowed
    {
        sheet.fault(text!("its instructions allow no smaller clearances, whatever protects the wall"));
        sheet.cure(text!("keep the clearances of its label"));
    }
    let terms = shields::terms(inquiry);
    let closet = need!(appliance, space).and_then(|id| inquiry.space(&id)).is_ok_and(|space| label::is_closet(space.kind));
    let mut left = text!("its protection counts");
    for protection in need!(appliance, protections)?.items() {
        let Some(side) = sheet.want(need!(protection, side)) else { continue };
        let Some(Some(from_label)) = sheet.want(label::wanted(appliance, *side.get(), closet)) else { continue };
        shields::construction(&protection, &terms, from_label, sheet);
        let Some(kind) = shields::way(protection.kind) else { continue };
        match kind.reduces(from_label, shields::towards(*side.get()), terms.interpolate) {
            Some(reduced) => {
                let solid = appliance.kind == EquipmentKind::SolidFuelHeater && reduced.clearance() < terms.solid_fuel;
                let least = if solid { terms.solid_fuel } else { reduced.clearance() };
                let words =
                    text!("{} {} in place of {}", in_unit(least, "in"), label::place(*side.get()), in_unit(from_label, "in"));
                sheet.line("leaves", words.clone(), kind.source().text());
                left = left.then(&text!("; it leaves {}", words));
            }
            None => {
                let words = text!(
                    "the table has no figure for {} {} behind this protection",
                    in_unit(from_label, "in"),
                    label::place(*side.get())
                );
                sheet.fault(words);
                sheet.cure(text!("keep the {} of the label", in_unit(from_label, "in")));
            }
        }
    }
    Ok(left)
}
