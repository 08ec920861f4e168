//! Outdoor air through one permanent opening.

use crate::air_space::AirSpace;
use crate::outdoors::Outward;
use crate::parameters::Limits;
use crate::trial::{Trial, Verdict};
use redtag_handbook::combustion_air as air;
use redtag_rule::prelude::*;
use redtag_rule::remedy;
use uom::si::f64::Ratio;

/// Tries one outdoor opening.
pub fn attempt(space: &AirSpace, limits: &Limits) -> Trial {
    Trial::of("one outdoor opening", "304.6.2", |sheet| single(sheet, space, &space.outward, None, limits))
}

/// One outdoor opening, at its full size or reduced.
pub fn single(
    sheet: &mut Sheet,
    space: &AirSpace,
    outward: &Outward,
    reduction: Option<Ratio>,
    limits: &Limits,
) -> Lookup<Verdict> {
    if outward.usable.is_empty() {
        outward.all_told()?;
        return Ok(Verdict::Misses(
            outward.with_refused(text!("no opening to outdoors counts")),
            vec![cure(space, reduction, limits)],
        ));
    }
    let input = space.input.total();
    let by_input = air::one_opening_area(input, Default::default(), &limits.one);
    // Facts only count as missing where the opening is large enough by input: otherwise it fails whatever they are.
    let least = reduction.map_or(by_input, |part| by_input.reduced(part, limits.keep_connector_floor)).required();
    let best =
        outward.usable.iter().map(|usable| usable.facts.opening.free_area).fold(least * 0.0, |a, b| if a > b { a } else { b });
    let connectors = match space.connector_area() {
        Ok(area) => area,
        Err(unresolved) if at_least(best, least) => return Err(unresolved),
        Err(_) => Default::default(),
    };
    let area = air::one_opening_area(input, connectors, &limits.one);
    let held = reduction.map_or(area, |part| area.reduced(part, limits.keep_connector_floor));
    let per = input / air::one_opening_area(input, Default::default(), &limits.one).by_input
        * redtag_handbook::units::square_inches(1.0);
    let mut text = text!(
        "the larger of {} ÷ {} for each square inch = {} and the vent connectors' {}",
        input,
        per,
        in_unit(area.by_input, "in²"),
        in_unit(area.by_connectors, "in²")
    );
    if let Some(part) = reduction {
        text = text!("{}, × {} = {}", text, part, in_unit(held.required(), "in²"));
    }
    sheet.line("one opening needs", text, air::sources::ONE_OPENING.text());
    judge(sheet, space, outward, held.required(), limits)
}

/// The one opening that would do, with its area where the vent connectors' are known.
fn cure(space: &AirSpace, reduction: Option<Ratio>, limits: &Limits) -> redtag_rule::schema::contract::Remedy {
    let connectors = space.connector_area();
    let area = air::one_opening_area(space.input.total(), connectors.clone().unwrap_or_default(), &limits.one);
    let held = reduction.map_or(area, |part| area.reduced(part, limits.keep_connector_floor)).required();
    let end = in_unit(limits.one.opening.from_end, "in");
    let least = if connectors.is_ok() { "" } else { ", and no less than all vent connectors together" };
    remedy(text!(
        "open the space to outdoors within {} of the ceiling by one permanent opening of {} free area{}",
        end,
        in_unit(held, "in²"),
        least
    ))
}

fn judge(
    sheet: &mut Sheet,
    space: &AirSpace,
    outward: &Outward,
    required: uom::si::f64::Area,
    limits: &Limits,
) -> Lookup<Verdict> {
    let openings: Vec<air::OutdoorOpening> = outward.usable.iter().map(|usable| usable.facts).collect();
    let Some(assessed) = air::one_opening(&openings, required, &limits.one) else {
        return Ok(Verdict::Misses(text!("no opening to outdoors counts"), Vec::new()));
    };
    let usable = &outward.usable[assessed.index];
    let text = text!("{}; {} needed", usable.working, in_unit(required, "in²"));
    sheet.test(&format!("opening {}", usable.id()), text, air::sources::ONE_OPENING.text(), assessed.complies());
    let mut faults: Vec<Text> = assessed.shortcomings.iter().map(|fault| crate::words::shortcoming(usable.id(), fault)).collect();
    let opening_serves = faults.is_empty();
    let tight = match space.tight_clearances(sheet, limits) {
        Ok(tight) => tight,
        Err(unresolved) if opening_serves => return Err(unresolved),
        Err(_) => Vec::new(),
    };
    faults.extend(tight);
    if faults.is_empty() {
        let words = text!("{} gives {} of {} needed", usable.id(), in_unit(assessed.free, "in²"), in_unit(required, "in²"));
        return Ok(Verdict::Passes(words));
    }
    let verdict = Verdict::Misses(Text::list(&faults), usable.cures(&assessed, limits));
    outward.all_told()?;
    Ok(verdict)
}
