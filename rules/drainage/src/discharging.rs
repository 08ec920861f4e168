//! What equipment lets go: how fast, in which steps, and what it is.

use redtag_rule::prelude::*;
use uom::si::f64::VolumeRate;

/// The greatest flow of a discharge: as stated, else that of its greatest step, else the backwash of its equipment.
///
/// # Errors
/// Where none of them is said.
pub fn peak_flow(case: &Case, discharge: &Place<Discharge>) -> Lookup<VolumeRate> {
    if let Some(flow) = &discharge.flow {
        return Ok(flow.quantity());
    }
    let steps = need!(discharge, steps).every();
    let flows = steps.iter().filter_map(|step| step.flow.as_ref()).map(|flow| flow.quantity());
    if let Some(most) = flows.max_by(|a, b| a.value.total_cmp(&b.value)) {
        return Ok(most);
    }
    let equipment = need!(discharge, equipment).and_then(|id| case.equipment(&id));
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
