//! A sump must be large enough for its pump, closed where it must be, and its discharge must not run back.
//!
//! A pit that is too small starts the pump every minute until it burns out; without a check valve the riser empties back into it.
//! An open pit lets radon in, one with sewage in it sewer gas: both kill slowly.
//!
//! **How it is measured.** Width and depth of the pit, whether it is sealed, the check valve and the full-open valve behind it, and
//! for sewage the pump's flow by the size of its discharge (21 gpm in 2 in, 30 gpm in 2-1/2 in, 46 gpm in 3 in, unless it grinds).
//!
//! **How it is fixed.** A larger pit, a gasketed lid, valves within reach.

use redtag_handbook::drainage::gallons_per_minute;
use redtag_handbook::units::inches;
use redtag_rule::prelude::*;

/// Width.
const WIDTH: Quantity<dimensions::Length> =
    Quantity::new("width", "18 in", "Least width of a sump.", "from memory of IRC P3007.3.2; a city code has the same")
        .within("12 in", "36 in");
/// Depth.
const DEPTH: Quantity<dimensions::Length> =
    Quantity::new("depth", "24 in", "Least depth of a sump: 30 in in some city codes.", "from memory of IRC P3007.3.2")
        .within("18 in", "48 in");
/// Storm sumps.
const STORM_VALVE: Flag = Flag::new(
    "shutoff_on_storm",
    false,
    "Whether a sump for ground water needs a full-open valve too; the check valve is enough in the model code for dwellings.",
    "from memory of IRC P3303.1.4; Ohio Adm. Code 4101:3-11; IPC 1113.1.4 asks both but in dwellings",
);

/// The rule.
pub const RULE: Rule = Rule {
    citations: &[remembered("IRC", "2021", "P3007.3"), remembered("IRC", "2021", "P3303.1")],
    parameters: &[&WIDTH, &DEPTH, &STORM_VALVE],
    reads: &["/drainage"],
    ..Rule::new("drainage/sump", "Sumps and their pumps", check)
};

const WANTED: &str = "whether the sump is large enough and closed";

fn check(inquiry: &Inquiry) -> Vec<Finding> {
    let pumps = need!(inquiry.project(), drainage.pumps).every();
    let mut findings: Vec<_> = pumps.iter().map(|pump| pump.sheet(WANTED, |sheet| judge(inquiry, pump, sheet))).collect();
    let sumps = need!(inquiry.project(), drainage.drains).every().into_iter().filter(|drain| is_sump(drain.kind));
    let pumped = |sump: &Place<Drain>| pumps.iter().any(|pump| pump.sump.as_ref() == Some(&sump.id));
    findings.extend(sumps.filter(|sump| !pumped(sump)).map(|sump| sump.ask(WANTED, || Err(unpumped(&pumps, &sump)))));
    findings
}

fn is_sump(kind: DrainKind) -> bool {
    matches!(kind, DrainKind::Sump | DrainKind::StormSump)
}

/// What is missing about a sump nobody says is pumped: which of the pumps stands in it, or the pump itself.
fn unpumped(pumps: &[Place<DrainagePump>], sump: &Place<Drain>) -> Unresolved {
    match pumps.iter().find(|pump| pump.sump.is_none()) {
        Some(pump) => pump.missing("/sump"),
        None => Unresolved::because(
            "/drainage/pumps",
            format!("the pump of {}, with the size of its pit and whether it is closed", sump.label()),
        ),
    }
}

fn judge(inquiry: &Inquiry, pump: &Place<DrainagePump>, sheet: &mut Sheet) -> Lookup<Text> {
    let source = "from memory of IRC P3007.3";
    for (label, fact, least, field) in [
        ("wide", need!(pump, sump_diameter), inquiry.value(&WIDTH), "sump_diameter"),
        ("deep", need!(pump, sump_depth), inquiry.value(&DEPTH), "sump_depth"),
    ] {
        let Some(actual) = sheet.want(fact) else { continue };
        let words = text!("the sump is {} {}, {} is the least", actual, label, in_unit(least, "in"));
        if !sheet.require(label, words, source, at_least(actual.quantity(), least)) {
            let value = json!(quantity::Length::from_quantity(&least).print_in("in"));
            sheet.cure_at(text!("a pit {} {}", in_unit(least, "in"), label), &[(format!("{}/{field}", pump.pointer()), value)]);
        }
    }
    let sewage = sheet.want(need!(pump, sewage));
    let valve = sewage.as_ref().is_some_and(|sewage| **sewage) || inquiry.value(&STORM_VALVE);
    for (asked, fact, yes, no) in [
        (true, need!(pump, check_valve), "a check valve in its discharge", "no check valve in its discharge"),
        (valve, need!(pump, shutoff_valve), "a full-open valve in its discharge", "no full-open valve in its discharge"),
        (true, need!(pump, sealed), "sealed and vented", "the pit is not sealed"),
    ] {
        let Some(fact) = asked.then(|| sheet.want(fact)).flatten() else { continue };
        if !sheet.require("parts", text!("{}", if *fact { yes } else { no }), source, *fact) {
            sheet.cure_at(text!("{}", yes), &[(fact.pointer().to_owned(), json!(true))]);
        }
    }
    if sewage.is_some_and(|sewage| *sewage) && pump.grinder != Some(true) {
        ejector(inquiry, pump, sheet);
    }
    Ok(text!("large enough, closed, and held by its valves"))
}

/// The flow of a sewage ejector by the size of its discharge.
fn ejector(inquiry: &Inquiry, pump: &Place<DrainagePump>, sheet: &mut Sheet) {
    let pipe = need!(pump, pipe).and_then(|id| need!(inquiry.project(), drainage.pipes).named(&id));
    let size = pipe.and_then(|pipe| need!(pipe, size).map(|size| size.quantity()));
    let Some((flow, size)) = sheet.want((need!(pump, flow), size).together()) else { return };
    // Table P3007.6.
    let least = match size {
        size if at_least(size, inches(3.0)) => 46.0,
        size if at_least(size, inches(2.5)) => 30.0,
        _ => 21.0,
    };
    let words = text!(
        "{} in {} pipe, {} is the least",
        in_unit(&flow, "gpm"),
        in_unit(size, "in"),
        in_unit(gallons_per_minute(least), "gpm")
    );
    sheet.require("ejector", words, "from memory of IRC P3007.6", at_least(flow.quantity(), gallons_per_minute(least)));
    let words = text!("{} pipe, 2 in is the least unless it grinds", in_unit(size, "in"));
    sheet.require("discharge", words, "from memory of IRC P3007.6", at_least(size, inches(2.0)));
}
