//! The service carries the load worked out for the dwelling, its conductors suit its rating, and it can be cut off from outdoors.
//!
//! Firefighters pull the meter with their teeth if they must; a disconnect outdoors, marked, spares them that.
//!
//! **How it is measured.** The load the designer worked out, at the voltage of the system, against the rating; where the file gives the
//! facts of the calculation it is worked out here too, line by line, by the standard or the optional method, and the two are
//! compared; where no figure is given, what is worked out here counts. The size of
//! the conductors against the table for conductors that carry the whole load of one dwelling from 100 to 400 A. A disconnect
//! outdoors that is readily accessible and marked, where the edition asks for it.
//!
//! **How it is fixed.** A larger service, load management, larger conductors, an outdoor disconnect. The utility and a licensed
//! electrician do this work.

use redtag_handbook::panel::{self as trade, Metal};
use redtag_rule::prelude::*;
use redtag_rule_load::{Carried, METHOD, VEHICLE, demand, va};
use uom::si::electric_current::ampere;
use uom::si::f64::{ElectricCurrent, Power};
use uom::si::power::watt;

/// How much more than the designer's figure is worth a word: both methods and their roundings lie closer together.
const APART: f64 = 1.05;

/// Outdoors.
const EMERGENCY: Flag = Flag::new(
    "emergency_disconnect",
    true,
    "Whether one- and two-family dwellings need a disconnect outdoors.",
    "NEC 230.85 since 2020 (electricallicenserenewal.com section 847); none in 2017",
);
/// Marking.
const MARKED: Flag = Flag::new("marking", true, "Whether it must be marked as the emergency disconnect.", "NEC 230.85(E)");

/// The rule.
pub const RULE: Rule = Rule {
    citations: &[cited("NEC", "2020", "230.85"), cited("NEC", "2020", "310.12"), cited("NEC", "2020", "220")],
    parameters: &[&EMERGENCY, &MARKED, &METHOD, &VEHICLE],
    reads: &["/equipment", "/electrical/services", "/electrical/loads"],
    ..Rule::new("panels/service", "Service", check)
};

const WANTED: &str = "whether the service is large enough and can be cut off";

fn check(inquiry: &Inquiry) -> Vec<Finding> {
    let services = need!(inquiry.project(), electrical.services).every();
    services.iter().map(|service| service.sheet(WANTED, |sheet| judge(inquiry, service, sheet))).collect()
}

fn judge(inquiry: &Inquiry, service: &Place<ElectricalService>, sheet: &mut Sheet) -> Lookup<Text> {
    if inquiry.value(&EMERGENCY) {
        emergency(inquiry, service, sheet);
    }
    let rating = need!(service, rating)?;
    let load = load(inquiry, service, rating.quantity(), sheet);
    if let Some(load) = sheet.want(load) {
        let volts = match service.kind {
            SystemKind::SplitPhase120240 => 240.0,
            SystemKind::Wye208120 => 208.0 * 3.0_f64.sqrt(),
            SystemKind::Wye480277 => 480.0 * 3.0_f64.sqrt(),
            _ => return Err(service.missing("/kind")),
        };
        let amperes = ElectricCurrent::new::<ampere>(load.get::<watt>() / volts);
        let words = text!("{} are {}; the service has {}", va(load), amperes, rating);
        if !sheet.require("load", words, "NEC 220", at_most(amperes, rating.quantity())) {
            sheet.cure(text!("use a service of {} at least, or load management that holds it below {}", amperes, rating));
        }
    }
    conductors(service, rating.quantity(), sheet)?;
    Ok(text!("a service of {}", rating))
}

/// The load: as the designer says, as worked out here, or both held against each other.
fn load<'a>(
    inquiry: &Inquiry<'a>,
    service: &Place<'a, ElectricalService>,
    rating: ElectricCurrent,
    sheet: &mut Sheet,
) -> Lookup<Power> {
    let stated = need!(service, calculated_load).map(|load| Power::new::<watt>(load.si()));
    let started = service.floor_area.is_some() || service.small_appliance_circuits.is_some();
    if !started {
        return stated;
    }
    let alone = need!(inquiry.project(), electrical.services)?.len() == 1;
    if !alone {
        // Which load hangs on which service the file does not say.
        return stated;
    }
    let worked = worked_out(inquiry, service, rating, sheet);
    match (stated, worked) {
        (Ok(stated), Ok(worked)) => {
            if worked > stated * APART {
                sheet.advise(text!(
                    "the designer's {} is less than {}, worked out from the loads listed",
                    va(stated),
                    va(worked)
                ));
            }
            Ok(stated)
        }
        (Ok(stated), Err(_)) => Ok(stated),
        (Err(_), worked) => worked,
    }
}

fn worked_out<'a>(
    inquiry: &Inquiry<'a>,
    service: &Place<'a, ElectricalService>,
    rating: ElectricCurrent,
    sheet: &mut Sheet,
) -> Lookup<Power> {
    let carried = Carried {
        floor_area: need!(service, floor_area),
        small_appliance_circuits: need!(service, small_appliance_circuits),
        laundry_circuits: need!(service, laundry_circuits),
        heating_zones: need!(service, heating_zones),
    };
    let loads: Vec<Place<Load>> = need!(inquiry.project(), electrical.loads)?.items().collect();
    demand(inquiry, &carried, &loads, Some(rating), sheet)
}

fn emergency(inquiry: &Inquiry, service: &Place<ElectricalService>, sheet: &mut Sheet) {
    let Some(present) = sheet.want(need!(service, emergency_disconnect.present)) else { return };
    if !*present {
        sheet.require("outdoor disconnect", text!("no disconnect outdoors"), "NEC 230.85", false);
        sheet.cure(text!("put a readily accessible disconnect outdoors, marked as the emergency disconnect"));
        return;
    }
    let marked = if inquiry.value(&MARKED) { Some(("marked", need!(service, emergency_disconnect.marked))) } else { None };
    let asked = [Some(("readily accessible", need!(service, emergency_disconnect.readily_accessible))), marked];
    for (word, fact) in asked.into_iter().flatten() {
        let Some(fact) = sheet.want(fact) else { continue };
        if !*fact {
            sheet.require("outdoor disconnect", text!("the disconnect outdoors is not {}", word), "NEC 230.85", false);
            sheet.cure_at(text!("see that it is {}", word), &[(fact.pointer().to_owned(), json!(true))]);
        }
    }
}

fn conductors(service: &Place<ElectricalService>, rating: ElectricCurrent, sheet: &mut Sheet) -> Lookup<()> {
    let (size, material) = (need!(service, conductors.size), need!(service, conductors.material)).together()?;
    if service.conductors.as_ref().and_then(|set| set.parallel).unwrap_or(1) > 1 {
        sheet.line("conductors", text!("in parallel: the table for one set does not say"), trade::SERVICE.text());
        return Ok(());
    }
    let metal = if *material == ConductorMaterial::Copper { Metal::Copper } else { Metal::Aluminum };
    let Some(least) = trade::service_conductor(rating, metal) else {
        sheet.line("conductors", text!("the table for dwellings goes from 100 A to 400 A"), trade::SERVICE.text());
        return Ok(());
    };
    let known = || Unresolved::because(size.pointer(), "a size the table lists, such as `4/0 AWG` or `250 kcmil`");
    let holds = trade::rank(&size).ok_or_else(known)? >= trade::rank(least).unwrap_or(0);
    let words = text!("{} {} conductors, {} is the least for {}", size.as_str(), *material, least, rating);
    if !sheet.require("conductors", words, trade::SERVICE.text(), holds) {
        sheet.cure_at(text!("use {} conductors", least), &[(size.pointer().to_owned(), json!(least))]);
    }
    Ok(())
}
