//! The service carries the load worked out for the dwelling, its conductors suit its rating, and it can be cut off from outdoors.
//!
//! Firefighters pull the meter with their teeth if they must; a disconnect outdoors, marked, spares them that.
//!
//! **How it is measured.** The load the designer worked out, at the voltage of the system, against the rating; where the file gives the
//! facts of the calculation it is worked out here too, line by line, by the standard or the optional method. Where the two
//! disagree by more than a twentieth, the larger counts, unless the authority has accepted the designer's calculation; where
//! no figure is given, what is worked out here counts. A one-family dwelling has 100 A at least. The conductors suit the rating:
//! by the table for the whole load of one dwelling on a single-phase service of 100 to 400 A, else by what all sets in
//! parallel carry; sets in parallel are 1/0 AWG at least. A disconnect outdoors that is readily accessible and marked, where the
//! edition asks for it.
//!
//! **How it is fixed.** A larger service, load management, larger conductors, an outdoor disconnect. The utility and a licensed
//! electrician do this work.

use redtag_handbook::panel::{self as trade, Serving};
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
    "NEC 230.85 since 2020; none in 2017",
);
/// Marking.
const MARKED: Flag = Flag::new("marking", true, "Whether it must be marked as the emergency disconnect.", "NEC 230.85(E)");

/// The least service.
const LEAST: Quantity<dimensions::Current> =
    Quantity::new("least_rating", "100 A", "The least service of a one-family dwelling.", "NEC 230.79(C)")
        .within("60 A", "400 A");

/// The rule.
pub const RULE: Rule = Rule {
    citations: &[
        cited("NEC", "2020", "230.85"),
        cited("NEC", "2020", "310.12"),
        cited("NEC", "2020", "220"),
        cited("NEC", "2020", "230.42"),
        cited("NEC", "2020", "230.79(C)"),
        cited("NEC", "2020", "310.10(G)"),
    ],
    parameters: &[&EMERGENCY, &MARKED, &LEAST, &METHOD, &VEHICLE],
    reads: &["/building", "/equipment", "/electrical/services", "/electrical/loads", "/electrical/loads_complete"],
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
    least(inquiry, rating.quantity(), sheet);
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
    conductors(inquiry, service, rating.quantity(), sheet)?;
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
            if worked <= stated * APART {
                return Ok(stated);
            }
            let words = text!("the designer's {} is less than {}, worked out from the loads listed", va(stated), va(worked));
            if accepted(service) {
                sheet.advise(text!("{}; the authority has accepted the designer's", words));
                return Ok(stated);
            }
            sheet.advise(text!("{}: the larger counts", words));
            Ok(worked)
        }
        (Ok(stated), Err(unresolved)) => {
            // A calculation that is begun in the file is held against the designer's once it can be worked out.
            if !accepted(service) {
                sheet.lack(unresolved);
            }
            Ok(stated)
        }
        (Err(_), worked) => worked,
    }
}

/// Whether the authority has accepted the designer's calculation.
fn accepted(service: &Place<ElectricalService>) -> bool {
    service.calculation.as_ref().and_then(|calculation| calculation.accepted) == Some(true)
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
    let worked = demand(inquiry, &carried, &loads, Some(rating), sheet)?;
    if !accepted(service) {
        redtag_rule_load::whole(inquiry, sheet);
    }
    Ok(worked)
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

/// The least service of a one-family dwelling.
fn least(inquiry: &Inquiry, rating: ElectricCurrent, sheet: &mut Sheet) {
    let least = inquiry.value(&LEAST);
    if at_least(rating, least) {
        return;
    }
    let one_family = need!(inquiry.project(), building.occupancy);
    let Some(occupancy) = sheet.want(one_family) else { return };
    if matches!(*occupancy, Occupancy::OneFamilyDwelling | Occupancy::Townhouse) {
        let words = text!("a service of {}, {} is the least for a one-family dwelling", rating, least);
        sheet.require("rating", words, "NEC 230.79(C)", false);
        sheet.cure(text!("a service of {} at least", least));
    }
}

/// Whether the service carries the whole load of one dwelling, single phase.
fn serving<'a>(inquiry: &Inquiry<'a>, service: &Place<'a, ElectricalService>) -> Lookup<Serving> {
    if service.kind != SystemKind::SplitPhase120240 {
        return Ok(Serving::Other);
    }
    if service.dwelling_unit.is_some() {
        return Ok(Serving::OneDwelling);
    }
    let occupancy = need!(inquiry.project(), building.occupancy).map_err(|_| {
        let wanted = "the dwelling unit the service carries, or what the building is: one dwelling may have thinner conductors";
        Unresolved::because(format!("{}/dwelling_unit", service.pointer()), wanted)
    })?;
    Ok(match *occupancy {
        Occupancy::OneFamilyDwelling | Occupancy::Townhouse => Serving::OneDwelling,
        _ => Serving::Other,
    })
}

fn conductors<'a>(
    inquiry: &Inquiry<'a>,
    service: &Place<'a, ElectricalService>,
    rating: ElectricCurrent,
    sheet: &mut Sheet,
) -> Lookup<()> {
    let (size, material) = (need!(service, conductors.size), need!(service, conductors.material)).together()?;
    let metal = redtag_rule_load::circuit::metal(*material);
    let sets = service.conductors.as_ref().and_then(|set| set.parallel).unwrap_or(1).max(1);
    let known = || Unresolved::because(size.pointer(), "a size the table lists, such as `4/0 AWG` or `250 kcmil`");
    let fits = |serving| trade::service_holds(&size, metal, sets, rating, serving).ok_or_else(known);
    let said = if sets > 1 {
        text!("{} sets of {} {} conductors", sets, size.as_str(), *material)
    } else {
        text!("{} {} conductors", size.as_str(), *material)
    };
    if sets > 1 && !trade::may_run_in_parallel(&size).ok_or_else(known)? {
        sheet.require("parallel", text!("{} in parallel; 1/0 AWG is the least", said.clone()), "NEC 310.10(G)", false);
        sheet.cure(text!("one set of larger conductors, or sets of 1/0 AWG at least"));
    }
    // Whose load it is matters only where the easier figure would do.
    let serving = match (fits(Serving::OneDwelling)?, fits(Serving::Other)?) {
        (true, false) => serving(inquiry, service)?,
        (_, true) => Serving::Other,
        (false, false) => serving(inquiry, service).unwrap_or(Serving::OneDwelling),
    };
    let one = trade::service_conductor(rating, metal).filter(|_| sets == 1 && trade::dwelling_figure(rating, serving));
    let words = match one {
        Some(least) => text!("{}, {} is the least for {}", said, least, rating),
        None => {
            text!("{} for {}: {} is the least they may carry together", said, rating, trade::service_ampacity(rating, serving))
        }
    };
    if !sheet.require("conductors", words, trade::SERVICE.text(), fits(serving)?) {
        match one {
            Some(least) => sheet.cure_at(text!("use {} conductors", least), &[(size.pointer().to_owned(), json!(least))]),
            None => sheet.cure(text!("use conductors that carry {}", trade::service_ampacity(rating, serving))),
        }
    }
    Ok(())
}
