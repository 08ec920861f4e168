//! Filters, softener and disinfection must come in an order in which each protects the next, and none may stand between a pump and
//! its pressure switch.
//!
//! A filter before the switch makes the pump run against a closed door when it clogs. Sediment wears the softener's valve, iron
//! fouls its resin, and ultraviolet light does not reach what hides behind particles. Every device needs a way past it for the day
//! it fails.
//!
//! **How it is measured.** The devices in the order the water meets them, with their bypasses and gauges.
//!
//! **How it is fixed.** Pressure tank and switch first; then sediment filter, iron filter or neutralizer, softener, carbon, and
//! ultraviolet light last. Carbon may come before the softener where the water is chlorinated: it saves the resin. A three-valve bypass around each. Hoses outdoors branch off before the softener.

use redtag_rule::prelude::*;

/// Bypass.
const BYPASS: Flag = Flag::new("bypass_at_each", true, "Water can be led past each device.", "common practice");
/// Gauges.
const GAUGES: Flag =
    Flag::new("gauges_at_filters", false, "A sediment filter has a gauge before and behind it.", "common practice");

/// The rule.
pub const RULE: Rule = Rule {
    level: Level::Advice,
    citations: &[remembered("IRC", "2021", "P2909"), remembered("manufacturer's instructions", "any", "installation order")],
    parameters: &[&BYPASS, &GAUGES],
    reads: &["/water", "/equipment"],
    ..Rule::new("water-supply/treatment-order", "Treatment in an order that protects it", check)
};

fn check(inquiry: &Inquiry) -> Vec<Finding> {
    let project = inquiry.project();
    match need!(project, water.treatment) {
        Err(_) if project.get().water.is_none() => vec![project.not_applicable(text!("no water is described")).done()],
        Ok(steps) if steps.get().is_empty() => vec![project.not_applicable(text!("no water is treated")).done()],
        steps => vec![project.sheet("whether the treatment is in order", |sheet| judge(inquiry, &steps?, sheet))],
    }
}

fn judge(inquiry: &Inquiry, steps: &Place<Vec<TreatmentStep>>, sheet: &mut Sheet) -> Lookup<Text> {
    let pumped = need!(inquiry.project(), water.sources).every().iter().any(|source| source.pump.is_some());
    let chlorine = chlorinated(inquiry);
    let mut before: Option<(u32, Place<Equipment>)> = None;
    let mut said = Vec::new();
    for step in steps.items() {
        let Some(device) = sheet.want(need!(step, equipment).and_then(|id| inquiry.equipment(&id))) else { continue };
        if pumped
            && let Some(ahead) = sheet.want(need!(step, before_pressure_switch))
            && *ahead
        {
            sheet.test("pressure switch", text!("{} stands between pump and switch", device.label()), "common practice", false);
            sheet.fault(text!(
                "{} stands between the pump and its pressure switch: clogged, it shuts the pump in",
                device.label()
            ));
            sheet.cure_at(text!("set it behind the pressure tank"), &[(ahead.pointer().to_owned(), json!(false))]);
        }
        needs(inquiry, &step, &device, sheet);
        let Some(rank) = rank(device.kind, chlorine) else { continue };
        if let Some((last, earlier)) = &before {
            let holds = rank >= *last;
            if !holds {
                sheet.fault(text!("{} comes behind {}: it belongs before it", device.label(), earlier.label()));
                sheet.related(step.pointer());
            }
            sheet.test("order", text!("{} behind {}", device.label(), earlier.label()), "common practice", holds);
        }
        if device.kind == EquipmentKind::UltravioletDisinfection && !said.contains(&EquipmentKind::SedimentFilter) {
            sheet.fault(text!(
                "{} has no sediment filter before it: light does not reach what hides behind particles",
                device.label()
            ));
        }
        said.push(device.kind);
        if before.as_ref().is_none_or(|(last, _)| rank >= *last) {
            before = Some((rank, device));
        }
    }
    hoses(inquiry, &said, sheet);
    Ok(text!("{} devices, each behind what protects it", said.len()))
}

fn needs(inquiry: &Inquiry, step: &Place<TreatmentStep>, device: &Place<Equipment>, sheet: &mut Sheet) {
    if inquiry.value(&BYPASS)
        && let Some(bypass) = sheet.want(need!(step, bypass))
        && !sheet.test("bypass", text!("water can be led past {}", device.label()), "common practice", *bypass)
    {
        sheet.fault(text!("no bypass leads past {}", device.label()));
        sheet.cure_at(text!("fit a three-valve bypass"), &[(bypass.pointer().to_owned(), json!(true))]);
    }
    if inquiry.value(&GAUGES)
        && device.kind == EquipmentKind::SedimentFilter
        && let Some(gauges) = sheet.want(need!(step, gauges))
        && !*gauges
    {
        sheet.fault(text!("{} has no gauges: nobody sees that it is clogged", device.label()));
    }
}

/// Hoses outdoors waste salt.
fn hoses(inquiry: &Inquiry, said: &[EquipmentKind], sheet: &mut Sheet) {
    if !said.contains(&EquipmentKind::WaterSoftener) {
        return;
    }
    let softened = |fixture: &Place<Fixture>| {
        matches!(fixture.kind, FixtureKind::HoseBibb | FixtureKind::Irrigation) && fixture.softened == Some(true)
    };
    if let Some(hose) = need!(inquiry.project(), water.fixtures).every().into_iter().find(softened) {
        sheet.advise(text!("{} draws softened water: branch it off before the softener", hose.label()));
    }
}

/// Whether the water comes with chlorine in it, which carbon takes out before it harms a softener's resin.
fn chlorinated(inquiry: &Inquiry) -> bool {
    let sources = need!(inquiry.project(), water.sources).every();
    let chlorine = |source: &Place<WaterSource>| source.chlorinated.unwrap_or(source.kind == WaterSourceKind::PublicMain);
    sources.iter().any(chlorine)
}

/// The place of a device in the order.
fn rank(kind: EquipmentKind, chlorine: bool) -> Option<u32> {
    Some(match kind {
        EquipmentKind::SedimentFilter => 1,
        EquipmentKind::AcidNeutralizer | EquipmentKind::IronFilter => 2,
        EquipmentKind::WaterSoftener => 3,
        EquipmentKind::CarbonFilter if chlorine => 3,
        EquipmentKind::CarbonFilter => 4,
        EquipmentKind::UltravioletDisinfection => 5,
        _ => return None,
    })
}
