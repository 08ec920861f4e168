//! Where more than 2 psi comes to a building, something keeps a failing regulator from passing it on to appliances made for inches of
//! water.
//!
//! A torn diaphragm or a chip under a seat puts the whole pressure of the line on the gas valves: flames out of burners, valves that
//! no longer shut. If flames roar or you smell gas, leave and call from outside.
//!
//! **How it is measured.** The pressure the supplier delivers, at its greatest. Above 2 psi, for every line regulator that feeds appliances at
//! 14 inches of water or less: whether a relief device, a monitoring or series regulator or an automatic shutoff protects what is
//! behind it.
//!
//! **How it is fixed.** A line regulator listed with its overpressure protection, or delivery at 2 psi or less.

use crate::marks;
use redtag_rule::prelude::*;

const SOURCE: &str = "NFPA 54 (2018, 2021) 5.9; IFGC 416, from memory";
/// Supply.
const SUPPLY: Quantity<dimensions::Pressure> = Quantity::new(
    "supply_above",
    "2 psi",
    "Delivery pressure above which line regulators need overpressure protection.",
    "from memory of NFPA 54 5.9.1 and IFGC 416.1",
)
.within("7 in wc", "100 psi");
/// Behind.
const BEHIND: Quantity<dimensions::Pressure> = Quantity::new(
    "appliances_at_most",
    "14 in wc",
    "Pressure behind a regulator up to which the appliances it feeds are protected so.",
    "from memory of NFPA 54 5.9.1 and IFGC 416.1",
)
.within("4 in wc", "10 psi");

/// The rule.
pub const RULE: Rule = Rule {
    citations: &[remembered("NFPA 54", "2021", "5.9"), cited("IFGC", "2018", "416"), remembered("IRC", "2021", "G2413.7")],
    parameters: &[&SUPPLY, &BEHIND],
    reads: &["/gas"],
    ..Rule::new("gas-installation/overpressure-protection", "Overpressure protection of gas regulators", check)
};

const WANTED: &str = "whether what is behind it is protected from overpressure";

fn check(inquiry: &Inquiry) -> Vec<Finding> {
    let all = need!(inquiry.project(), gas.regulators).every();
    let lowers = |one: &&Place<GasRegulator>| one.kind == GasRegulatorKind::Line;
    all.iter().filter(lowers).map(|one| crate::named::sheet(one, WANTED, |sheet| judge(inquiry, one, sheet))).collect()
}

/// The greatest pressure that comes to the regulator: its own inlet, as said, else that of the supply.
fn arriving(inquiry: &Inquiry, one: &Place<GasRegulator>) -> Lookup<quantity::Pressure> {
    let greatest =
        need!(inquiry.project(), gas.supply.pressure_maximum).or_else(|_| need!(inquiry.project(), gas.supply.pressure));
    let inlet = need!(one, inlet_pressure);
    match (greatest, inlet) {
        (Ok(supply), Ok(inlet)) => {
            Ok(if at_least(inlet.quantity(), supply.quantity()) { inlet.get().clone() } else { supply.get().clone() })
        }
        (Ok(one), Err(_)) | (Err(_), Ok(one)) => Ok(one.get().clone()),
        (Err(unresolved), Err(_)) => Err(unresolved),
    }
}

fn judge(inquiry: &Inquiry, one: &Place<GasRegulator>, sheet: &mut Sheet) -> Lookup<Text> {
    let arriving = arriving(inquiry, one)?;
    let (limit, most) = (inquiry.value(&SUPPLY), inquiry.value(&BEHIND));
    if sheet.at_most("delivered", &arriving, &limit, "psi", SOURCE) {
        return Ok(text!("no more than {} comes to it", in_unit(limit, "psi")));
    }
    let outlet = need!(one, outlet_pressure)?;
    if !at_most(outlet.quantity(), most) {
        sheet.line("behind it", text!("{} behind it: the appliances' instructions decide", in_unit(&outlet, "psi")), SOURCE);
        return Ok(text!("its appliances are made for more than {}", in_unit(most, "in wc")));
    }
    let protection = need!(one, overpressure_protection)?;
    if *protection == OverpressureProtection::Unrecognised {
        return Err(Unresolved::at(protection.pointer()));
    }
    let none = *protection == OverpressureProtection::None;
    let words = text!("{} comes to it, {} is behind it", in_unit(&arriving, "psi"), in_unit(&outlet, "in wc"));
    sheet.test("protection", text!("{}", *protection), SOURCE, !none);
    if none {
        sheet.fault(text!("{}, and nothing protects the appliances when it fails", words));
        sheet.cure(text!(
            "fit a line regulator listed with its overpressure protection, or have the supplier deliver {} at most",
            in_unit(limit, "psi")
        ));
        marks::point(sheet, one.space.as_deref(), one.at.as_ref(), "regulator");
    }
    Ok(text!("protected by: {}", *protection))
}
