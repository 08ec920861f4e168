//! A regulator must be reached, shut off, taken out and tested, and it must breathe where its gas does no harm.
//!
//! When its diaphragm tears, a regulator lets gas out of its vent. Indoors that is a gas leak at full pressure.
//!
//! **How it is measured.** A line regulator behind 2 psi: a shutoff valve before it; access; a union within 1 ft where the
//! pipe is rigid; a capped tee between valve and regulator; a capped test tee ten pipe diameters behind it, unless the appliance has a test port in the same room;
//! listed to lock up. Every regulator indoors breathes outdoors, or through a listed vent limiter. An outdoor vent points
//! down and is screened; a propane regulator's is 3 ft sideways from openings below it and 5 ft from sources of ignition and
//! air intakes, and above the snow.
//!
//! **How it is fixed.** A vent line to the outdoors or the maker's limiter; valve, union and tee added by the fitter. If you
//! hear or smell gas at a regulator, leave and call the supplier from outside.

use crate::{marks, parts};
use redtag_handbook::units;
use redtag_rule::prelude::*;

const SOURCE: &str = "IRC G2421 (IFGC 410)";
const VENT_SOURCE: &str = "from memory of NFPA 58 on second-stage regulators";
const UNION: Quantity<dimensions::Length> = Quantity::new(
    "greatest_union_distance",
    "1 ft",
    "Greatest distance of a union from a line regulator in rigid pipe.",
    "IRC G2421.2 (IFGC 410.2)",
)
.within("1 in", "10 ft");
const TEE: Number = Number::new(
    "test_tee_diameters",
    10.0,
    "Least distance of the test tee behind a line regulator, in pipe diameters.",
    "IRC G2421.2 (IFGC 410.2)",
)
.within(0.0, 50.0);
const LIMITERS: Flag = Flag::new(
    "vent_limiters_allowed",
    true,
    "Whether a listed vent limiter may stand for a vent line to the outdoors.",
    "IRC G2421.3 (IFGC 410.3)",
);
const OPENING: Quantity<dimensions::Length> = Quantity::new(
    "vent_to_opening",
    "3 ft",
    "Least distance sideways from a propane regulator's vent to an opening below it.",
    VENT_SOURCE,
)
.within("1 ft", "20 ft");
const IGNITION: Quantity<dimensions::Length> = Quantity::new(
    "vent_to_ignition",
    "5 ft",
    "Least distance from a propane regulator's vent to a source of ignition or an air intake.",
    VENT_SOURCE,
)
.within("1 ft", "50 ft");

/// The rule.
pub const RULE: Rule = Rule {
    citations: &[cited("IRC", "2018", "G2421"), cited("IFGC", "2018", "410"), remembered("NFPA 58", "2017", "6.10")],
    parameters: &[&UNION, &TEE, &LIMITERS, &OPENING, &IGNITION],
    reads: &["/gas"],
    ..Rule::new("gas-installation/regulators", "Gas regulators and their vents", check)
};

const WANTED: &str = "whether the regulator is set as it must be";

fn check(inquiry: &Inquiry) -> Vec<Finding> {
    let all = need!(inquiry.project(), gas.regulators).every();
    let judged = |one: &Place<GasRegulator>| match one.kind {
        GasRegulatorKind::Appliance => crate::named::not_concerned(one, text!("part of its appliance")),
        _ => crate::named::sheet(one, WANTED, |sheet| judge(inquiry, one, sheet)),
    };
    all.iter().map(judged).collect()
}

fn judge(inquiry: &Inquiry, one: &Place<GasRegulator>, sheet: &mut Sheet) -> Lookup<Text> {
    let access = ("access", text!("it cannot be reached"));
    parts::demand(sheet, need!(one, accessible), access, text!("give access to it, or move it"), SOURCE);
    if one.kind != GasRegulatorKind::Service {
        let valve = ("shutoff", text!("no shutoff valve is before it"));
        parts::demand(
            sheet,
            need!(one, valve_upstream),
            valve,
            text!("fit a shutoff valve before it"),
            "IRC G2420.4 (IFGC 409.4)",
        );
    }
    if one.kind == GasRegulatorKind::Line {
        line(inquiry, one, sheet);
    }
    vent(inquiry, one, sheet);
    if !sheet.sound() {
        marks::point(sheet, one.space.as_deref(), one.at.as_ref(), "regulator");
    }
    Ok(text!("reached, shut off, and breathing where it may"))
}

fn line(inquiry: &Inquiry, one: &Place<GasRegulator>, sheet: &mut Sheet) {
    let lockup = ("lock-up", text!("it is not listed to lock up when nothing burns"));
    parts::demand(sheet, need!(one, lockup), lockup, text!("fit a line regulator that is listed to lock up"), SOURCE);
    let tee = ("tee before it", text!("no capped tee is between it and the valve before it"));
    let cure = text!("fit a tee with a capped opening between the valve and the regulator: it takes a gauge and catches dirt");
    parts::demand(sheet, need!(one, tee_upstream), tee, cure, "IRC G2421.2 (IFGC 410.2), item 5");
    if rigid(inquiry, one) {
        let nearer = |most| text!("fit a union within {} of it", most);
        let union = ("the distance of the nearest union", "ft");
        parts::no_more(sheet, need!(one, union_distance), inquiry.value(&UNION), union, nearer, SOURCE);
    }
    if one.test_port == Some(true) {
        sheet.line("test", text!("the appliance has a test port in the same room"), SOURCE);
        return;
    }
    let Some(tee) = sheet.want(need!(one, test_tee_diameters)) else { return };
    let least = inquiry.value(&TEE);
    let (has, asked) = (units::fraction(*tee), units::fraction(least));
    let words = text!("its test tee is {} pipe diameters behind it, {} are the least", format!("{}", *tee), format!("{least}"));
    if !sheet.require("test", words, SOURCE, at_least(has, asked)) {
        let cure = text!("fit a capped tee {} pipe diameters behind it", format!("{least}"));
        sheet.cure_at(cure, &[(tee.pointer().to_owned(), json!(least))]);
    }
}

/// Whether the pipe at its node is rigid; where nothing is known of that, it is taken to be.
fn rigid(inquiry: &Inquiry, one: &Place<GasRegulator>) -> bool {
    let nodes = need!(inquiry.project(), gas.nodes).every();
    let here: Vec<_> = nodes.iter().filter(|node| node.regulator.as_ref() == Some(&one.id)).map(|node| &node.id).collect();
    let touches = |end: &Option<String>| end.as_ref().is_some_and(|end| here.contains(&end));
    let pipes = need!(inquiry.project(), gas.segments).every();
    let mut known =
        pipes.iter().filter(|pipe| touches(&pipe.from) || touches(&pipe.to)).filter_map(|pipe| pipe.material).peekable();
    known.peek().is_none() || known.any(|material| material != GasPipeMaterial::CorrugatedStainlessSteel)
}

fn vent(inquiry: &Inquiry, one: &Place<GasRegulator>, sheet: &mut Sheet) {
    let Some(to) = sheet.want(need!(one, vents_to)) else { return };
    let outdoors = one.outdoors == Some(true);
    if !outdoors && one.space.is_none() {
        sheet.lack(one.missing("/space"));
        return;
    }
    let may = match *to {
        RegulatorVent::Indoors => outdoors,
        RegulatorVent::VentLimiter => inquiry.value(&LIMITERS),
        _ => true,
    };
    let words = match *to {
        RegulatorVent::Indoors => text!("it breathes into the room"),
        to => text!("it breathes by way of: {}", to),
    };
    if !sheet.test("vent", words, "IRC G2421.3 (IFGC 410.3)", may) {
        let limiter = *to == RegulatorVent::VentLimiter;
        sheet.fault(if limiter { text!("a vent limiter does not do here") } else { text!("it breathes into the room") });
        let cure = if inquiry.value(&LIMITERS) {
            text!("run a vent line to the outdoors, or fit the maker's listed vent limiter")
        } else {
            text!("run a vent line to the outdoors")
        };
        sheet.cure_at(cure, &[(to.pointer().to_owned(), json!("outdoors"))]);
    }
    if *to == RegulatorVent::Outdoors {
        outside(inquiry, one, sheet);
    }
}

fn outside(inquiry: &Inquiry, one: &Place<GasRegulator>, sheet: &mut Sheet) {
    let down = ("vent end", text!("its vent does not point down, or is not screened"));
    parts::demand(sheet, need!(one, vent_protected), down, text!("turn the vent down and screen it"), "IRC G2421.3 (IFGC 410.3)");
    use GasRegulatorKind::{FirstStage, IntegralTwoStage, SecondStage, SingleStage};
    let propane = matches!(one.kind, FirstStage | SecondStage | IntegralTwoStage | SingleStage)
        || (one.kind == GasRegulatorKind::Line && parts::supplied(inquiry).is_ok_and(parts::is_heavy));
    if !propane {
        return;
    }
    let away = |least| text!("move the vent {} away", least);
    let opening = ("the distance of its vent to an opening below it", "ft");
    parts::no_less(sheet, need!(one, vent_to_opening), inquiry.value(&OPENING), opening, away, VENT_SOURCE);
    let flame = ("the distance of its vent to an ignition source or intake", "ft");
    parts::no_less(sheet, need!(one, vent_to_ignition_source), inquiry.value(&IGNITION), flame, away, VENT_SOURCE);
    let snow = ("snow", text!("its vent lies below the snow to be expected"));
    let cure = text!("raise it, or shelter it under the eave");
    parts::demand(sheet, need!(one, above_snow), snow, cure, "codes of two snow counties");
}
