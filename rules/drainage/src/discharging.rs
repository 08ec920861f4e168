//! What equipment lets go: how fast, in which steps, and what it is.

use redtag_handbook::drainage::Inflow;
use redtag_rule::prelude::*;
use uom::si::f64::{Time, VolumeRate};
use uom::si::{time, volume_rate};

/// The greatest flow of a discharge: as stated, else that of its greatest step, else the backwash of its equipment.
///
/// # Errors
/// Where none of them is said.
pub fn peak_flow(inquiry: &Inquiry, discharge: &Place<Discharge>) -> Lookup<VolumeRate> {
    if let Some(flow) = &discharge.flow {
        return Ok(flow.quantity());
    }
    let steps =
        need!(discharge, steps).listed_only("a discharge without steps states its volume and duration, and those are asked for");
    let flows = steps.iter().filter_map(|step| step.flow.as_ref()).map(|flow| flow.quantity());
    if let Some(most) = flows.max_by(|a, b| a.value.total_cmp(&b.value)) {
        return Ok(most);
    }
    let equipment = need!(discharge, equipment).and_then(|id| inquiry.equipment(&id));
    let backwash = equipment.and_then(|equipment| need!(equipment, treatment.backwash).map(|flow| flow.quantity()));
    backwash.map_err(|_| discharge.missing("/flow"))
}

/// Whether it runs for minutes and loads a pipe while it does; pans and relief valves only do in trouble.
pub fn goes_on(kind: DischargeKind) -> bool {
    use DischargeKind as K;
    matches!(kind, K::Backwash | K::Regeneration | K::ReverseOsmosisWaste | K::Condensate | K::PumpOut)
}

/// Whether it treats drinking water: its waste is joined to what people drink.
pub fn treats_water(kind: EquipmentKind) -> bool {
    use EquipmentKind as K;
    matches!(
        kind,
        K::WaterSoftener | K::IronFilter | K::SedimentFilter | K::CarbonFilter | K::AcidNeutralizer | K::ReverseOsmosis
    )
}

/// Whether it only runs when something is wrong.
pub fn trouble(kind: DischargeKind) -> bool {
    use DischargeKind as K;
    matches!(kind, K::Relief | K::BackflowRelief | K::TankDrain | K::Pan)
}

/// Discharges that run at one time.
pub struct Scene {
    /// Their names.
    pub name: String,
    /// What they bring, step by step.
    pub inflows: Vec<Inflow>,
}

/// Everything that may run together, once for each member of a group that never does; troubles alone.
///
/// # Errors
/// Where a flow or a time is missing.
pub fn scenes(inquiry: &Inquiry, run: &[Place<Discharge>], relief_lasts: Time) -> Lookup<Vec<Scene>> {
    let steps: Vec<Lookup<Vec<Inflow>>> = run.iter().map(|discharge| steps(inquiry, discharge, relief_lasts)).collect();
    let steps = steps.together()?;
    let all: Vec<(&Place<Discharge>, Vec<Inflow>)> = run.iter().zip(steps).collect();
    let peak = |inflows: &[Inflow]| inflows.iter().map(|inflow| inflow.flow).fold(0.0, f64::max);
    let mut scenes = Vec::new();
    for (chosen, own) in &all {
        if trouble(chosen.kind) {
            scenes.push(Scene { name: chosen.id.clone(), inflows: own.clone() });
            continue;
        }
        let mut names = vec![chosen.id.as_str()];
        let mut parts = vec![own.clone()];
        let mut taken = vec![chosen.exclusive_group.as_deref()];
        let mut others: Vec<_> = all.iter().filter(|(other, _)| other.id != chosen.id && !trouble(other.kind)).collect();
        others.sort_by(|a, b| peak(&b.1).total_cmp(&peak(&a.1)));
        for (other, inflows) in others {
            let group = other.exclusive_group.as_deref();
            if group.is_none() || !taken.contains(&group) {
                names.push(other.id.as_str());
                parts.push(inflows.clone());
                taken.push(group);
            }
        }
        scenes.push(Scene { name: names.join(" with "), inflows: together(&parts) });
    }
    Ok(scenes)
}

/// Inflows that begin together, as one.
fn together(parts: &[Vec<Inflow>]) -> Vec<Inflow> {
    let mut ends: Vec<f64> = Vec::new();
    for part in parts {
        let mut end = 0.0;
        ends.extend(part.iter().map(|inflow| {
            end += inflow.duration;
            end
        }));
    }
    ends.sort_by(f64::total_cmp);
    ends.dedup_by(|a, b| (*a - *b).abs() < 1e-6);
    let mut start = 0.0;
    ends.iter()
        .map(|&end| {
            let middle = (start + end) / 2.0;
            let flow = parts.iter().map(|part| at(part, middle)).sum();
            let duration = end - std::mem::replace(&mut start, end);
            Inflow { flow, duration }
        })
        .collect()
}

fn at(part: &[Inflow], moment: f64) -> f64 {
    let mut end = 0.0;
    part.iter()
        .find(|inflow| {
            end += inflow.duration;
            moment < end
        })
        .map_or(0.0, |inflow| inflow.flow)
}

/// The steps of a discharge; one step where only flow and time or volume are said.
fn steps(inquiry: &Inquiry, discharge: &Place<Discharge>, relief_lasts: Time) -> Lookup<Vec<Inflow>> {
    let stated =
        need!(discharge, steps).listed_only("a discharge without steps states its volume and duration, and those are asked for");
    if !stated.is_empty() {
        let step = |step: &Place<DischargeStep>| {
            let (flow, duration) = (need!(step, flow), need!(step, duration)).together()?;
            Ok(Inflow { flow: flow.si(), duration: duration.si() })
        };
        return stated.iter().map(step).collect::<Vec<_>>().together();
    }
    let flow = peak_flow(inquiry, discharge)?;
    let rate = flow.get::<volume_rate::cubic_meter_per_second>();
    let lasts = discharge.duration.as_ref().map(|duration| duration.si());
    let by_volume = discharge.volume.as_ref().map(|volume| volume.si() / rate.max(1e-12));
    let assumed = trouble(discharge.kind).then(|| relief_lasts.get::<time::second>());
    let steady = (discharge.kind == DischargeKind::Condensate).then_some(3600.0);
    let duration = lasts.or(by_volume).or(assumed).or(steady).ok_or_else(|| discharge.missing("/duration"))?;
    Ok(vec![Inflow { flow: rate, duration }])
}
