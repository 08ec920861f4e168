//! Indoor air: enough volume, by the standard method or by a known infiltration.

use crate::air_space::{AirSpace, Infiltration};
use crate::parameters::Limits;
use crate::trial::{Trial, Verdict};
use redtag_handbook::combustion_air as air;
use redtag_handbook::units;
use redtag_rule::prelude::*;
use redtag_rule::remedy;
use uom::si::f64::Volume;

/// The volume asked for, and by which basis.
pub struct Needed {
    /// The volume.
    pub volume: Volume,
    /// `standard method` or `known infiltration`.
    pub basis: &'static str,
}

/// Tries the indoor methods.
pub fn attempt(space: &AirSpace, limits: &Limits) -> Trial {
    Trial::of("indoor air", "304.5", |sheet| {
        let needed = needed(sheet, space, limits)?;
        let available = space.volume(sheet)?;
        let Some(needed) = needed else {
            return Ok(Verdict::Misses(text!("no indoor method may be used at this infiltration"), Vec::new()));
        };
        if at_least(available, needed.volume) {
            let text = text!("{} available, {} needed by the {}", available, needed.volume, needed.basis);
            sheet.test("indoor volume", text, "IFGC 304.5", true);
            return Ok(Verdict::Passes(text!("{} of {} needed ({})", available, needed.volume, needed.basis)));
        }
        // An opening whose facts are missing might have joined another room.
        if let Some(untold) = &space.joined.untold {
            return Err(untold.clone());
        }
        let short: Volume = needed.volume - available;
        let words = text!("{} of {} needed, {} short ({})", available, needed.volume, short, needed.basis);
        let words = space.joined.short.iter().fold(words, |words, fault| text!("{}; rooms not joined: {}", words, fault));
        Ok(Verdict::Misses(words, cures(space, short, limits)))
    })
}

/// The smallest cures: join a neighbouring room that is large enough, or bring in less input.
fn cures(space: &AirSpace, short: Volume, limits: &Limits) -> Vec<redtag_rule::schema::contract::Remedy> {
    let area = air::same_story_area(space.input.total(), &limits.joining);
    let mut cures: Vec<_> = space
        .joined
        .short
        .iter()
        .map(|shortfall| remedy(text!("make the openings between the rooms join them, where now ").then(shortfall)))
        .collect();
    cures.push(remedy(text!(
        "join rooms with {} more volume by two permanent openings of {} free area each, one within {} of the ceiling, one within {} of the floor",
        short,
        in_unit(area, "in²"),
        in_unit(limits.joining.opening.from_end, "in"),
        in_unit(limits.joining.opening.from_end, "in"),
    )));
    cures
}

/// The volume asked for: known infiltration where it is known and better or where the standard method is barred, else the
/// standard method. `None` when no indoor method may be used.
///
/// # Errors
/// When a fact is missing that decides it.
pub fn needed(sheet: &mut Sheet, space: &AirSpace, limits: &Limits) -> Lookup<Option<Needed>> {
    let infiltration = space.infiltration.as_ref().map_err(Clone::clone)?;
    match infiltration {
        None if limits.infiltration_required => Err(Unresolved::because(
            "/building/infiltration/natural",
            "the known infiltration of the dwelling: a test is mandatory here",
        )),
        None => Ok(Some(standard(sheet, space, limits))),
        Some(known) => Ok(with_known(sheet, space, known, limits)),
    }
}

fn standard(sheet: &mut Sheet, space: &AirSpace, limits: &Limits) -> Needed {
    let input = space.input.total();
    let volume = air::standard_volume(input, &limits.standard);
    let each = units::cubic_feet(units::in_cubic_feet_per_thousand(limits.standard.volume_per_input));
    sheet.line(
        "standard method",
        text!("{} for each 1,000 Btu/h × {} = {}", each, input, volume),
        air::sources::STANDARD_VOLUME.text(),
    );
    Needed { volume, basis: "standard method" }
}

fn with_known(sheet: &mut Sheet, space: &AirSpace, known: &Infiltration, limits: &Limits) -> Option<Needed> {
    sheet.line("infiltration", known.working.clone(), "");
    let permitted = air::standard_method_permitted(Some(known.rate), &limits.standard);
    let by_rate = match air::known_infiltration_volume(&space.input, known.rate, &limits.infiltration) {
        Ok(volume) => Some(by_infiltration(sheet, space, known, &volume, limits)),
        Err(error) => {
            let why = air::sources::KNOWN_INFILTRATION.text();
            sheet.test("known infiltration method", Text::plain(error.to_string()), why, false);
            None
        }
    };
    if !permitted {
        sheet.test(
            "standard method",
            text!("barred: the known infiltration {} is below {}", known.rate, limits.standard.least_air_changes),
            air::sources::STANDARD_METHOD_BAR.text(),
            false,
        );
        return by_rate;
    }
    let standard = standard(sheet, space, limits);
    match by_rate {
        Some(by_rate) if by_rate.volume < standard.volume => Some(by_rate),
        _ => Some(standard),
    }
}

fn by_infiltration(
    sheet: &mut Sheet,
    space: &AirSpace,
    known: &Infiltration,
    volume: &air::InfiltrationVolume,
    limits: &Limits,
) -> Needed {
    let source = air::sources::KNOWN_INFILTRATION.text();
    if volume.capped {
        sheet.line("infiltration cap", text!("{} counts as {}", known.rate, volume.air_changes), source);
    }
    let hour: uom::si::f64::Time = uom::si::f64::Time::new::<uom::si::time::hour>(1.0);
    for (what, input, part, per) in [
        ("other than fan-assisted", space.input.other, volume.other, limits.infiltration.other),
        ("fan-assisted", space.input.fan_assisted, volume.fan_assisted, limits.infiltration.fan_assisted),
    ] {
        if input.value > 0.0 {
            let flow: Volume = per * units::btu_per_hour(1000.0) * hour;
            let text = text!("{} per hour and 1,000 Btu/h ÷ {} × {} = {}", flow, volume.air_changes, input, part);
            sheet.line(&format!("known infiltration, {what}"), text, source);
        }
    }
    Needed { volume: volume.total, basis: "known infiltration" }
}
