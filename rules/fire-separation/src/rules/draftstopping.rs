//! A hollow floor with usable space above and below must be divided so that fire cannot run across the house inside it.
//!
//! Under a ceiling that hangs from the floor, or in a floor of open-web trusses, the hollow runs over everything. Draftstops divide it
//! into parts of at most 1,000 ft2, about equal.
//!
//! **How it is measured.** For each hollow floor the project names, and each ceiling of open-web trusses: its largest part and what
//! stops draft between the parts.
//!
//! **How it is fixed.** 1/2 in gypsum board, 3/8 in structural panel or particleboard across the hollow, parallel to the trusses.

use crate::parts::{Part, parts, spaces};
use redtag_handbook::fire::{Answer, BlockLimits, sources, stops_draft};
use redtag_rule::prelude::*;

/// Largest part.
const PART: Quantity<dimensions::Area> =
    Quantity::new("draft_part", "1000 ft2", "Largest part of a hollow floor between draftstops.", "IRC R302.12");
/// Board.
const GYPSUM: Quantity<dimensions::Length> =
    Quantity::new("draft_gypsum", "1/2 in", "Least gypsum board as a draftstop.", "IRC R302.12.1");
/// Panel.
const PANEL: Quantity<dimensions::Length> =
    Quantity::new("draft_panel", "3/8 in", "Least structural panel or particleboard as a draftstop.", "IRC R302.12.1").figure();

/// The rule.
pub const RULE: Rule = Rule {
    citations: &[cited("IRC", "2021", "R302.12")],
    parameters: &[&PART, &GYPSUM, &PANEL],
    reads: &["/spaces"],
    ..Rule::new("fire-separation/draftstopping", "Draftstopping of hollow floors", check)
};

const WANTED: &str = "whether the hollow floor is divided";

fn check(inquiry: &Inquiry) -> Vec<Finding> {
    let limits = BlockLimits {
        part: inquiry.value(&PART),
        gypsum: inquiry.value(&GYPSUM),
        draft_panel: inquiry.value(&PANEL),
        ..BlockLimits::default()
    };
    let mut findings = Vec::new();
    let mut named = false;
    for space in spaces(inquiry) {
        for hidden in need!(space, concealed).every().into_iter().filter(|hidden| hidden.kind == ConcealedKind::FloorCeiling) {
            named = true;
            findings.push(hidden.sheet(WANTED, |sheet| judge(&hidden, &limits, sheet)));
        }
    }
    let open = |part: &&Part| {
        part.assembly.kind == AssemblyKind::Ceiling
            && part.framing() == Ok(FramingMaterial::OpenWebTruss)
            && !overhead_attic(inquiry, part)
    };
    if !named {
        findings.extend(
            parts(inquiry).iter().filter(open).map(|part| part.assembly.sheet(WANTED, |sheet| trusses(part, &limits, sheet))),
        );
    }
    findings
}

fn overhead_attic(inquiry: &Inquiry, part: &Part) -> bool {
    matches!(crate::zone::beyond(inquiry, part), Ok(crate::zone::Zone::Attic | crate::zone::Zone::Open))
}

fn judge(hidden: &Place<ConcealedSpace>, limits: &BlockLimits, sheet: &mut Sheet) -> Lookup<Text> {
    if !*need!(hidden, usable_both_sides)?.get() {
        return Ok(text!("no usable space on both sides"));
    }
    let hollow = match (hidden.suspended, hidden.open_webs) {
        (Some(true), _) | (_, Some(true)) => true,
        _ => {
            (need!(hidden, suspended), need!(hidden, open_webs)).together()?;
            false
        }
    };
    if !hollow {
        return Ok(text!("solid members part it, and its ceiling hangs on them"));
    }
    let part = need!(hidden, largest_part)?;
    let source = sources::DRAFTSTOPPING.text();
    if !sheet.at_most("largest part", &part, &limits.part, "ft²", source) {
        sheet.fault(text!(
            "its largest part is {}, {} is the most",
            in_unit(part.quantity(), "ft²"),
            in_unit(limits.part, "ft²")
        ));
        sheet.cure(text!("divide it into about equal parts of {} at most", in_unit(limits.part, "ft²")));
    }
    let Some(stop) = &hidden.draftstop else { return Ok(text!("its largest part is small enough")) };
    let thickness = hidden.draftstop_thickness.as_ref().map(|thickness| thickness.quantity());
    match stops_draft(crate::fireblocking::blocking(*stop), thickness, limits) {
        Answer::Yes => {}
        Answer::No => {
            sheet.require("draftstop", text!("{} is no draftstop at its thickness", *stop), source, false);
            sheet.cure(text!(
                "{} gypsum board or {} structural panel",
                in_unit(limits.gypsum, "in"),
                in_unit(limits.draft_panel, "in")
            ));
        }
        Answer::Depends(_) => sheet.lack(hidden.missing("/draftstop_thickness")),
    }
    Ok(text!("divided into parts of {} at most", in_unit(part.quantity(), "ft²")))
}

/// A ceiling of open-web trusses nothing is said of: the whole of it is one part.
fn trusses(part: &Part, limits: &BlockLimits, sheet: &mut Sheet) -> Lookup<Text> {
    let area = redtag_rule::size::floor_area(&part.space)?;
    if sheet.at_most("whole ceiling", &area, &limits.part, "ft²", sources::DRAFTSTOPPING.text()) {
        return Ok(text!("the whole ceiling is one part, and small enough"));
    }
    let wanted = "the hollow floor over the ceiling of open-web trusses, with its largest part between draftstops";
    Err(Unresolved::because(format!("{}/concealed", part.space.pointer()), wanted))
}
