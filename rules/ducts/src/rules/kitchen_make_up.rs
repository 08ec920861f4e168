//! Make-up air of a large kitchen hood must be about as much as the hood takes, and come by itself.
//!
//! A hood of more than 400 cfm draws a tight house down until vents spill. The make-up air opens with the hood, by gravity or a
//! motor, and its damper can be reached. Whether a hood beside open combustion has any make-up air at all is asked about by
//! `combustion-air/competing-exhaust`; this rule looks at what is there, and at editions in which every large hood counts.
//!
//! **How it is measured.** For each hood above the threshold: what makes up for it against what it takes, how it starts, whether its
//! damper can be reached.
//!
//! **How it is fixed.** A larger opening or fan, a damper that opens with the hood, an access panel; or a smaller hood.

use crate::flames;
use redtag_handbook::ducts::{make_up_share, sources};
use redtag_rule::prelude::*;

/// Threshold.
const ABOVE: Quantity<dimensions::VolumeFlow> =
    Quantity::new("make_up_above", "400 cfm", "A kitchen exhaust that takes more needs make-up air.", "IRC M1503.6");
/// Which hoods.
const TRIGGER: Choice = Choice::new(
    "trigger",
    "open-combustion",
    &["open-combustion", "every-hood"],
    "Whether make-up air is asked for only where an appliance that is neither direct vent nor mechanical draft is in the house, or always.",
    "from memory of IRC M1503.6, 2018 and later; every hood in M1503.4 of 2009 to 2015",
);
/// Share.
const SHARE: Quantity<dimensions::Ratio> = Quantity::new(
    "make_up_share",
    "90 %",
    "Least share of the exhaust that make-up air must reach: about equal.",
    "IRC M1503.6 says approximately equal; the share is common practice",
);

/// The rule.
pub const RULE: Rule = Rule {
    citations: &[cited("IRC", "2021", "M1503.6"), cited("IRC", "2015", "M1503.4")],
    parameters: &[&ABOVE, &TRIGGER, &SHARE],
    reads: &["/exhausts", "/equipment"],
    ..Rule::new("ducts/kitchen-make-up", "Make-up air of kitchen hoods", check)
};

fn check(inquiry: &Inquiry) -> Vec<Finding> {
    let hoods = need!(inquiry.project(), exhausts)
        .every()
        .into_iter()
        .filter(|exhaust| matches!(exhaust.kind, ExhaustKind::KitchenHood | ExhaustKind::Downdraft));
    hoods.filter_map(|hood| one(inquiry, &hood)).collect()
}

/// Whether any appliance in the house can be drawn on.
fn open_combustion(inquiry: &Inquiry) -> Lookup<bool> {
    let all = need!(inquiry.project(), equipment).every();
    let each: Vec<Lookup<bool>> = all.iter().filter(|equipment| equipment.outdoors != Some(true)).map(flames::open).collect();
    Ok(each.together()?.into_iter().any(|open| open))
}

fn one(inquiry: &Inquiry, hood: &Place<Exhaust>) -> Option<Finding> {
    const WANTED: &str = "whether its make-up air is enough";
    let large = need!(hood, flow).map(|flow| !at_most(flow.quantity(), inquiry.value(&ABOVE)));
    match large {
        Err(unresolved) => Some(hood.ask(WANTED, || Err(unresolved))),
        Ok(false) => None,
        Ok(true) => {
            let every = inquiry.value(&TRIGGER) == "every-hood";
            let open = open_combustion(inquiry);
            // A hood beside open combustion with none at all is another rule's.
            let none = hood.make_up.as_ref().is_some_and(|make_up| make_up.kind == MakeUpKind::None);
            match open {
                Ok(false) if !every => None,
                Ok(true) if none => None,
                Err(unresolved) if !every => Some(hood.ask(WANTED, || Err(unresolved))),
                _ => Some(hood.sheet(WANTED, |sheet| judge(inquiry, hood, sheet))),
            }
        }
    }
}

fn judge(inquiry: &Inquiry, hood: &Place<Exhaust>, sheet: &mut Sheet) -> Lookup<Text> {
    let source = sources::MAKE_UP.text();
    let (flow, make_up) = (need!(hood, flow), need!(hood, make_up)).together()?;
    let (flow, most) = (flow.quantity(), inquiry.value(&ABOVE));
    if make_up.kind == MakeUpKind::None {
        sheet.require(
            "make-up air",
            text!("it exhausts {} without make-up air; more than {} needs it", flow, most),
            source,
            false,
        );
        sheet.cure(text!("make-up air of about {}, opened by a damper that moves with the hood", flow));
        return Ok(Text::default());
    }
    if let Some(there) = sheet.want(need!(make_up, flow)) {
        let words = text!("{} make up for {}", there, flow);
        if !sheet.require("make-up air", words, source, make_up_share(there.quantity(), flow, inquiry.value(&SHARE))) {
            sheet.cure(text!("make up for about {}", flow));
        }
    }
    match make_up.kind {
        MakeUpKind::AutomaticDamper => {
            if let Some(reached) = sheet.want(need!(make_up, accessible)) {
                sheet.require("access", text!("its damper must be within reach"), source, *reached.get());
            }
        }
        MakeUpKind::Fan => {
            if let Some(with) = sheet.want(need!(make_up, interlocked)) {
                sheet.require("start", text!("its fan must start with the hood"), source, *with.get());
            }
        }
        _ => {}
    }
    Ok(text!("made up for, by itself"))
}
