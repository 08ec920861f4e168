//! Where the water comes from, and at which pressure.

use redtag_rule::prelude::*;
use uom::si::f64::Pressure;

/// Every source.
pub fn all<'a>(inquiry: &Inquiry<'a>) -> Vec<Place<'a, WaterSource>> {
    need!(inquiry.project(), water.sources).every()
}

/// The source the taps of the house hang on: the first whose water may be drunk.
///
/// # Errors
/// Where none is told.
pub fn of_the_house<'a>(inquiry: &Inquiry<'a>) -> Lookup<Place<'a, WaterSource>> {
    let sources = need!(inquiry.project(), water.sources)?;
    let drinking = sources.items().find(|source| source.potable != Some(false));
    drinking.ok_or_else(|| Unresolved::at("/water/sources"))
}

/// The pressure the house can count on while water runs, and in words what it is. Behind a pump with cut-in and cut-out that is
/// cut-in; behind a drive its set pressure; at a main what is left while water runs. A pressure-reducing valve counts where it stands
/// before the whole house, in one of the pipes of the way, or serves one of the things named.
///
/// # Errors
/// Where it is not told.
pub fn running<'a>(
    inquiry: &Inquiry<'a>,
    source: &Place<'a, WaterSource>,
    (ids, way): (&[&str], &[String]),
) -> Lookup<(Pressure, &'static str)> {
    let pumped = source.get().pump.is_some();
    let (pressure, words) = match (pumped, pumped && redtag_rule_water::constant(inquiry, source)) {
        (true, true) => (need!(source, static_pressure), "set pressure of the drive"),
        (true, false) => (need!(source, pump_on), "cut-in of the pump"),
        (false, _) => (need!(source, residual_pressure), "left at the main while water runs"),
    };
    let pressure = pressure?.quantity();
    match redtag_rule_water::on_the_way(inquiry, ids, way)? {
        Some(valve) => {
            let set = need!(valve, set_pressure)?.quantity();
            Ok(if set < pressure { (set, "behind the pressure-reducing valve") } else { (pressure, words) })
        }
        None => Ok((pressure, words)),
    }
}
