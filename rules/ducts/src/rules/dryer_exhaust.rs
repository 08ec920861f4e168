//! The exhaust of a clothes dryer is a smooth metal duct of 4 in, short, without screws in it, that ends outdoors without a screen.
//!
//! Lint burns like tinder. A long or rough duct, a screw, a screen or plastic fills with it, and the dryer heats it.
//!
//! **How it is measured.** For each dryer: whether it has an exhaust duct. For each such duct: metal and its thickness, its diameter, its
//! length with 5 ft for each elbow of 90 degrees and 2 1/2 ft for each of 45 against 35 ft, or against what the dryer's
//! instructions allow; no screws that catch lint; that it ends outdoors, with a backdraft damper and without a screen. A dryer that condenses its water has
//! no duct.
//!
//! **How it is fixed.** A shorter or straighter way out, metal with taped joints, a hood with a flap and no screen.

use redtag_handbook::ducts::sources;
use redtag_rule::prelude::*;
use uom::si::f64::Length;

/// Length.
const LENGTH: Quantity<dimensions::Length> = Quantity::new(
    "greatest_length",
    "35 ft",
    "The greatest length of the duct, elbows counted, where the instructions do not say.",
    "IRC M1502.4.6.1",
)
.within("5 ft", "100 ft");
/// Elbows.
const ELBOW: Quantity<dimensions::Length> =
    Quantity::new("right_elbow", "5 ft", "What an elbow of 90 degrees counts.", "IRC Table M1502.4.6.1").within("0 ft", "20 ft");
/// Elbows.
const HALF: Quantity<dimensions::Length> =
    Quantity::new("half_elbow", "2 1/2 ft", "What an elbow of 45 degrees counts.", "IRC Table M1502.4.6.1")
        .within("0 ft", "20 ft");
/// Size.
const DIAMETER: Quantity<dimensions::Length> =
    Quantity::new("diameter", "4 in", "The diameter of the duct.", "IRC M1502.4.1").within("3 in", "8 in");
/// Metal.
const THICKNESS: Quantity<dimensions::Length> =
    Quantity::new("metal_thickness", "0.0157 in", "The least thickness of its metal: No. 28 gage.", "IRC M1502.4.1")
        .within("0.01 in", "0.1 in");

/// The rule.
pub const RULE: Rule = Rule {
    citations: &[cited("IRC", "2021", "M1502.3"), cited("IRC", "2021", "M1502.4")],
    parameters: &[&LENGTH, &ELBOW, &HALF, &DIAMETER, &THICKNESS],
    reads: &["/ducts", "/equipment"],
    ..Rule::new("ducts/dryer-exhaust", "Exhaust of clothes dryers", check)
};

const WANTED: &str = "whether lint stays out of it and gets outdoors";

fn check(inquiry: &Inquiry) -> Vec<Finding> {
    let ducts = crate::runs::of_kinds(inquiry, &[DuctKind::DryerExhaust]);
    let mut findings: Vec<Finding> = ducts.iter().map(|duct| duct.sheet(WANTED, |sheet| judge(inquiry, duct, sheet))).collect();
    for dryer in need!(inquiry.project(), equipment).every().into_iter().filter(|one| one.kind == EquipmentKind::ClothesDryer) {
        let served = |duct: &Place<Duct>| duct.equipment.as_ref() == Some(&dryer.id);
        if ducts.iter().any(served) || (ducts.len() == 1 && ducts[0].equipment.is_none()) {
            continue;
        }
        findings.push(if dryer.condensate.is_some() {
            dryer.not_applicable(text!("it condenses its water")).done()
        } else {
            let wanted = format!("the exhaust duct of {}, or its condensate where it needs none", dryer.label());
            dryer.ask("where its air and lint go", || Err(Unresolved::because("/ducts", wanted)))
        });
    }
    findings
}

fn judge(inquiry: &Inquiry, duct: &Place<Duct>, sheet: &mut Sheet) -> Lookup<Text> {
    let source = sources::DRYER.text();
    metal(inquiry, duct, sheet, source);
    if let Some(diameter) = sheet.want(need!(duct, diameter)) {
        let asked = inquiry.value(&DIAMETER);
        let words = text!("{} wide, {} is asked for", in_unit(diameter.get(), "in"), in_unit(asked, "in"));
        let holds = at_least(diameter.quantity(), asked) && at_most(diameter.quantity(), asked);
        if !sheet.require("diameter", words, source, holds) {
            sheet.cure(text!("use a duct of {}", in_unit(asked, "in")));
        }
    }
    if let Some(screws) = sheet.want(need!(duct, screws_inside)) {
        let words =
            text!("{}", if *screws { "screws or rivets reach into it and catch lint" } else { "nothing in it catches lint" });
        if !sheet.require("screws", words, source, !*screws) {
            sheet.cure(text!("join it with foil tape, or screws no longer than 1/8 in"));
        }
    }
    if let Some(end) = sheet.want(need!(duct, terminates)) {
        let words = text!("it ends {}", if end.kind == BeyondKind::Outdoors { "outdoors" } else { "inside the building" });
        if !sheet.require("end", words, source, end.kind == BeyondKind::Outdoors) {
            sheet.cure(text!("carry it outdoors"));
        }
    }
    if let Some(screened) = sheet.want(need!(duct, screened)) {
        let words = text!("{}", if *screened { "a screen at its end fills with lint" } else { "no screen at its end" });
        if !sheet.require("screen", words, source, !*screened) {
            sheet.cure_at(text!("a hood with a flap and no screen"), &[(screened.pointer().to_owned(), json!(false))]);
        }
    }
    if let Some(dampers) = sheet.want(need!(duct, dampers)) {
        let damper = dampers.contains(&DamperKind::Backdraft);
        let words = text!(
            "{} at its end keeps the weather and animals out",
            if damper { "a backdraft damper" } else { "no backdraft damper" }
        );
        if !sheet.require("damper", words, source, damper) {
            sheet.cure_at(text!("a hood with a flap and no screen"), &[(format!("{}/-", dampers.pointer()), json!("backdraft"))]);
        }
    }
    length(inquiry, duct, sheet, source)
}

fn metal(inquiry: &Inquiry, duct: &Place<Duct>, sheet: &mut Sheet, source: &'static str) {
    use DuctMaterial as M;
    let Some(material) = sheet.want(need!(duct, material)) else { return };
    let smooth = matches!(*material, M::GalvanizedSteel | M::StainlessSteel | M::Aluminum);
    if !sheet.require("material", text!("it is {}; smooth metal is asked for", *material), source, smooth) {
        let pointer = material.pointer().to_owned();
        sheet.cure_at(text!("galvanized steel or aluminum, smooth inside"), &[(pointer, json!("galvanized-steel"))]);
        return;
    }
    if let Some(thickness) = sheet.want(need!(duct, thickness)) {
        let least = inquiry.value(&THICKNESS);
        let words = text!("metal of {}, {} is the least", in_unit(thickness.get(), "in"), in_unit(least, "in"));
        sheet.require("thickness", words, source, at_least(thickness.quantity(), least));
    }
}

fn length(inquiry: &Inquiry, duct: &Place<Duct>, sheet: &mut Sheet, source: &'static str) -> Lookup<Text> {
    let (length, right, half) = (need!(duct, length), need!(duct, right_elbows), need!(duct, half_elbows)).together()?;
    let elbows: Length = inquiry.value(&ELBOW) * f64::from(*right) + inquiry.value(&HALF) * f64::from(*half);
    let counted = length.quantity() + elbows;
    let by_maker = need!(duct, length_allowed).ok().map(|allowed| allowed.quantity());
    let most = by_maker.unwrap_or_else(|| inquiry.value(&LENGTH));
    let whose = if by_maker.is_some() { "by the dryer's instructions" } else { "by the code" };
    let words = text!("{} with its elbows, {} is the most {}", in_unit(counted, "ft"), in_unit(most, "ft"), whose);
    if !sheet.require("length", words.clone(), source, at_most(counted, most)) {
        sheet.cure(text!(
            "a way out shorter by {}, fewer elbows, or a dryer whose instructions allow it",
            in_unit(counted - most, "ft")
        ));
    }
    Ok(words)
}
