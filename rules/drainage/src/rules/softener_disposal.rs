//! Where the brine and the backwash of a softener or filter may go: into a sewer nearly everywhere, into a septic system often
//! not.
//!
//! Salt and a surge of clean water harm a septic tank and the soil behind it; some states forbid it, some want softeners that
//! regenerate by the water used, some want salt used well before it may go into a sewer.
//!
//! **How it is measured.** The site's sewage, whether the discharge bypasses the tank, how the softener regenerates, and the
//! hardness it takes out for each pound of salt, against what the pack says.
//!
//! **How it is fixed.** The discharge goes to a dry well or field of its own where the board of health approves one; the softener
//! gets a control by demand, less salt, or tanks that are exchanged.

use redtag_rule::prelude::*;
use uom::si::mass::kilogram;

/// Septic systems.
const SEPTIC: Choice = Choice::new(
    "septic",
    "advise-against",
    &["allowed", "advise-against", "demand-and-label", "prohibited"],
    "What holds for brine and backwash into a septic system or holding tank.",
    "no model code rule; 310 CMR 15 (Massachusetts) and Connecticut prohibit, 30 Tex. Admin. Code 285.37 wants demand and label",
);
/// Proprietary units.
const AEROBIC: Flag = Flag::new(
    "bypass_treatment_unit",
    false,
    "Whether the discharge must bypass a proprietary treatment unit to its pump tank.",
    "30 Tex. Admin. Code 285.37",
);
/// Sewers.
const EFFICIENT: Flag = Flag::new(
    "efficient_into_sewer",
    false,
    "Whether a softener on a sewer must regenerate by demand and reach the hardness per pound of salt below, or be exchanged off site.",
    "California Health and Safety Code 116785",
);
/// Efficiency.
const GRAINS: Number = Number::new(
    "grains_per_pound",
    4000.0,
    "Hardness, in grains, to be taken out for each pound of salt.",
    "California Health and Safety Code 116785",
)
.within(1000.0, 6000.0);

/// The rule.
pub const RULE: Rule = Rule {
    citations: &[
        cited("310 CMR", "current", "15"),
        cited("30 Tex. Admin. Code", "current", "285.37"),
        cited("California Health and Safety Code", "current", "116785"),
    ],
    parameters: &[&SEPTIC, &AEROBIC, &EFFICIENT, &GRAINS],
    reads: &["/drainage", "/equipment", "/site"],
    ..Rule::new("drainage/softener-disposal", "Where brine and backwash go", check)
};

const WANTED: &str = "whether it may be discharged there";

fn check(inquiry: &Inquiry) -> Vec<Finding> {
    use DischargeKind as K;
    let discharges = need!(inquiry.project(), drainage.discharges).every();
    let mut findings: Vec<Finding> = discharges
        .iter()
        .map(|discharge| {
            if !matches!(discharge.kind, K::Regeneration | K::Backwash | K::ReverseOsmosisWaste) {
                return discharge.not_applicable(text!("no waste of water treatment")).done();
            }
            discharge.sheet(WANTED, |sheet| judge(inquiry, discharge, sheet))
        })
        .collect();
    let here = |thing: &Place<Equipment>| {
        thing.kind == EquipmentKind::WaterSoftener && need!(thing, treatment.regenerated_on_site).map_or(true, |here| *here)
    };
    for softener in need!(inquiry.project(), equipment).every().into_iter().filter(here) {
        let told = |one: &Place<Discharge>| one.equipment.as_ref().is_none_or(|from| *from == softener.id);
        if !discharges.iter().any(told) {
            let what = format!("the regeneration of {}: how much it lets go, and into which drain", softener.label());
            findings.push(softener.ask(WANTED, || Err(Unresolved::because("/drainage/discharges", what))));
        }
    }
    findings
}

/// A drain that leads into no sewer: rain, ground water, the open air.
fn astray(inquiry: &Inquiry, discharge: &Place<Discharge>) -> Lookup<Option<DrainKind>> {
    let drain = need!(inquiry.project(), drainage.drains).named(&need!(discharge, drain)?)?;
    let pumps = need!(inquiry.project(), drainage.pumps).every();
    let clear = |pump: &Place<DrainagePump>| pump.sump.as_ref() == Some(&drain.id) && pump.sewage == Some(false);
    Ok(match drain.kind {
        DrainKind::Sump if pumps.iter().any(clear) => Some(DrainKind::StormSump),
        kind @ (DrainKind::StormSump | DrainKind::Outdoors) => Some(kind),
        _ => None,
    })
}

fn judge(inquiry: &Inquiry, discharge: &Place<Discharge>, sheet: &mut Sheet) -> Lookup<Text> {
    let equipment = inquiry.equipment(&need!(discharge, equipment)?)?;
    if need!(equipment, treatment.regenerated_on_site).is_ok_and(|here| !*here) {
        return Ok(text!("its tanks are exchanged: nothing is discharged here"));
    }
    match astray(inquiry, discharge)? {
        Some(DrainKind::Outdoors) => {
            sheet.advise(text!("onto the ground: ask the board of health, brine kills what grows and reaches the well"));
            return Ok(Text::default());
        }
        Some(kind) => {
            let words = text!("into a {}: brine and backwash are waste and may not go where rain or ground water goes", kind);
            sheet.require("end", words, "from memory of IRC P3303 and IPC 1101", false);
            sheet.cure(text!("lead it to a floor drain or standpipe of the sanitary drain"));
            return Ok(Text::default());
        }
        None => {}
    }
    let sewage = need!(inquiry.project(), site.sewage)?;
    sheet.line("sewage", text!("{}", *sewage), "");
    match *sewage {
        Sewage::PublicSewer => sewer(inquiry, &equipment, sheet),
        Sewage::Other => Err(Unresolved::because(sewage.pointer(), "a sewer or a kind of septic system")),
        _ if gone_elsewhere(inquiry, discharge) => Ok(text!("led past the septic tank")),
        kind => septic(inquiry, kind, (discharge, &equipment), sheet),
    }
}

/// Whether it never reaches the tank.
fn gone_elsewhere(inquiry: &Inquiry, discharge: &Place<Discharge>) -> bool {
    let drain = need!(discharge, drain).and_then(|id| need!(inquiry.project(), drainage.drains).named(&id));
    discharge.bypasses_septic == Some(true) || drain.is_ok_and(|drain| drain.kind == DrainKind::DryWell)
}

fn septic(
    inquiry: &Inquiry,
    kind: Sewage,
    (discharge, equipment): (&Place<Discharge>, &Place<Equipment>),
    sheet: &mut Sheet,
) -> Lookup<Text> {
    let bypasses = need!(discharge, bypasses_septic)?;
    let elsewhere = [(bypasses.pointer().to_owned(), json!(true))];
    let words = text!("lead it past the tank, to a place of its own the board of health approves");
    if kind == Sewage::AerobicTreatment && inquiry.value(&AEROBIC) {
        sheet.test("treatment unit", text!("it runs through the treatment unit"), "30 Tex. Admin. Code 285.37", false);
        sheet.fault(text!("it must bypass the treatment unit"));
        sheet.cure_at(words, &elsewhere);
        return Ok(text!("through the treatment unit"));
    }
    match inquiry.value(&SEPTIC) {
        "allowed" => return Ok(text!("allowed into a {} here", kind)),
        "advise-against" => {
            sheet.advise(text!("into a {}: allowed, but salt and clean water harm it; a place of its own is better", kind));
        }
        "prohibited" => {
            sheet.test("septic", text!("into a {}", kind), "the pack in force", false);
            sheet.fault(text!("brine and backwash may not go into a {} here", kind));
            sheet.cure_at(words, &elsewhere);
        }
        _ => {
            let facts = (need!(equipment, treatment.by_demand), need!(equipment, treatment.demand_label)).together();
            let (demand, label) = facts?;
            sheet.require("demand", text!("{}", by_demand(*demand)), "30 Tex. Admin. Code 285.37", *demand);
            let said = if *label { "it is labelled so" } else { "it has no label that says so" };
            sheet.require("label", text!("{}", said), "30 Tex. Admin. Code 285.37", *label);
        }
    }
    Ok(text!("allowed into a {} as it is", kind))
}

fn by_demand(demand: bool) -> &'static str {
    if demand { "it regenerates by the water used" } else { "it regenerates by the clock" }
}

/// A sewer whose owner wants little salt.
fn sewer(inquiry: &Inquiry, equipment: &Place<Equipment>, sheet: &mut Sheet) -> Lookup<Text> {
    if !inquiry.value(&EFFICIENT) || equipment.kind != EquipmentKind::WaterSoftener {
        return Ok(text!("into the public sewer"));
    }
    let demand = need!(equipment, treatment.by_demand);
    let (demand, capacity, salt) = (demand, need!(equipment, treatment.capacity), need!(equipment, treatment.salt)).together()?;
    sheet.require("demand", text!("{}", by_demand(*demand)), "California Health and Safety Code 116785", *demand);
    // The grain is 64.79891 mg, the pound 7000 of them.
    let grains = capacity.quantity().get::<kilogram>() / 6.479_891e-5;
    let pounds = salt.quantity().get::<kilogram>() / 0.453_592_37;
    let each = if pounds > 0.0 { grains / pounds } else { f64::INFINITY };
    let (each, least) = (each.round() as i32, inquiry.value(&GRAINS));
    let words = text!("{} grains for each pound of salt, {} is the least", each, least.round() as i32);
    if !sheet.require("salt", words, "California Health and Safety Code 116785", f64::from(each) >= least) {
        let pounds = grains / least;
        sheet.cure(text!(
            "salt set to {} tenths of a pound, if the softener keeps its capacity, or tanks that are exchanged",
            (pounds * 10.0).floor() as i32
        ));
    }
    Ok(text!("into the public sewer, by demand and with little salt"))
}
