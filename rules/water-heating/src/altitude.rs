//! What a heater gives at this elevation.

use redtag_handbook::fuel::Derating;
use redtag_handbook::units;
use redtag_handbook::water::heat_needed;
use redtag_rule::prelude::*;
use uom::si::f64::{Length, Power, Ratio};

/// The heat it puts into water here, and in words why it is that much.
///
/// # Errors
/// Where its output is not told, or what the elevation takes from its burner is not.
pub fn output_here(inquiry: &Inquiry, heater: &Place<Equipment>, threshold: Length) -> Lookup<(Power, Text)> {
    let (output, share) = (output(heater), share(inquiry, heater, threshold)).together()?;
    let here = output * share;
    let words = match at_least(share, units::fraction(1.0)) {
        true => text!("{} into the water", here),
        false => text!("{} of {} is left at this elevation: {}", share, output, here),
    };
    Ok((here, words))
}

/// The heat it puts into water at sea level: as told, else by input and efficiency, else by its rated flow and rise.
fn output(heater: &Place<Equipment>) -> Lookup<Power> {
    let told = need!(heater, water_heating.output).or_else(|_| need!(heater, fuel_burning.plate.output));
    if let Ok(output) = told {
        return Ok(output.quantity());
    }
    let burnt = (need!(heater, fuel_burning.plate.input), need!(heater, fuel_burning.plate.efficiency)).together();
    let rated = (need!(heater, water_heating.flow), need!(heater, water_heating.rise)).together();
    let by_burning = burnt.map(|(input, efficiency)| input.quantity() * efficiency.quantity());
    by_burning
        .or_else(|_| rated.map(|(flow, rise)| heat_needed(flow.quantity(), rise.quantity())))
        .map_err(|_| heater.missing("/water_heating/output"))
}

/// The part of its input left here. Electric heat does not mind the elevation.
fn share(inquiry: &Inquiry, heater: &Place<Equipment>, threshold: Length) -> Lookup<Ratio> {
    let whole = units::fraction(1.0);
    if !kinds::burns(heater)? {
        return Ok(whole);
    }
    let elevation = need!(inquiry.project(), site.elevation)?;
    if at_most(elevation.quantity(), threshold) {
        return Ok(whole);
    }
    let input = need!(heater, fuel_burning.plate.input);
    let set = need!(heater, fuel_burning.derate.input).or_else(|_| need!(heater, fuel_burning.altitude_rule.input_here));
    if let (Ok(input), Ok(set)) = (&input, &set)
        && input.si() > 0.0
    {
        return Ok(set.quantity() / input.quantity());
    }
    let rule = need!(heater, fuel_burning.altitude_rule)?;
    let above = rule.starts_at.as_ref().map_or(threshold, |starts| starts.quantity());
    let percent = || need!(rule, percent).map(|percent| percent.quantity());
    let derating = match rule.kind {
        AltitudeRuleKind::NoReduction | AltitudeRuleKind::SelfAdjusting => return Ok(whole),
        AltitudeRuleKind::PercentFromSeaLevel => Derating::FromSeaLevel { per_thousand_feet: percent()?, above },
        AltitudeRuleKind::PercentFromStart => Derating::FromThreshold { per_thousand_feet: percent()?, above },
        _ => return Err(heater.missing("/fuel_burning/derate/input")),
    };
    derating.share(elevation.quantity()).ok_or_else(|| heater.missing("/fuel_burning/derate/input"))
}
