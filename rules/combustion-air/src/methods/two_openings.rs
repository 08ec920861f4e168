//! Outdoor air through two permanent openings.

use crate::air_space::AirSpace;
use crate::outdoors::{Outward, Usable};
use crate::parameters::Limits;
use crate::trial::{Trial, Verdict};
use redtag_handbook::combustion_air as air;
use redtag_handbook::units;
use redtag_rule::prelude::*;
use redtag_rule::remedy;
use redtag_rule::schema::contract::Remedy;
use uom::si::f64::Ratio;

/// Tries two outdoor openings.
pub fn attempt(space: &AirSpace, limits: &Limits) -> Trial {
    Trial::of("two outdoor openings", "304.6.1", |sheet| pair(sheet, space, &space.outward, units::fraction(1.0), limits))
}

/// Two outdoor openings at a share of their full size.
pub fn pair(sheet: &mut Sheet, space: &AirSpace, outward: &Outward, share: Ratio, limits: &Limits) -> Lookup<Verdict> {
    let openings: Vec<air::OutdoorOpening> = outward.usable.iter().map(|usable| usable.facts).collect();
    let Some(pair) = air::two_openings(&openings, space.input.total(), share, &limits.two) else {
        outward.all_told()?;
        return Ok(none(space, outward, share, limits));
    };
    let mut faults = Vec::new();
    for (end, assessed) in [("upper", &pair.upper), ("lower", &pair.lower)] {
        let usable = &outward.usable[assessed.index];
        line(sheet, end, usable, assessed, space, share, limits);
        faults.extend(assessed.shortcomings.iter().map(|fault| crate::words::shortcoming(usable.id(), fault)));
    }
    if pair.complies() {
        let (upper, lower) = (&outward.usable[pair.upper.index], &outward.usable[pair.lower.index]);
        let free = if pair.upper.free < pair.lower.free { pair.upper.free } else { pair.lower.free };
        let needed = if pair.upper.required > pair.lower.required { pair.upper.required } else { pair.lower.required };
        let words = text!(
            "{} and {} each give at least {} of {} needed",
            upper.id(),
            lower.id(),
            in_unit(free, "in²"),
            in_unit(needed, "in²")
        );
        return Ok(Verdict::Passes(words));
    }
    let verdict = Verdict::Misses(Text::list(&faults), cures(outward, &pair, limits));
    outward.all_told()?;
    Ok(verdict)
}

fn line(
    sheet: &mut Sheet,
    end: &str,
    usable: &Usable,
    assessed: &air::Assessed,
    space: &AirSpace,
    share: Ratio,
    limits: &Limits,
) {
    let full = air::outdoor_opening_area(space.input.total(), usable.facts.path, &limits.two);
    let per = space.input.total() / full * units::square_inches(1.0);
    let mut text = text!(
        "{}; needed {} ÷ {} for each square inch ({}) = {}",
        usable.working,
        space.input.total(),
        per,
        usable.path_words(),
        in_unit(full, "in²")
    );
    if share.value < 1.0 {
        text = text!("{} × {} = {}", text, share, in_unit(assessed.required, "in²"));
    }
    sheet.test(&format!("{end} opening {}", usable.id()), text, air::sources::TWO_OPENINGS.text(), assessed.complies());
}

fn none(space: &AirSpace, outward: &Outward, share: Ratio, limits: &Limits) -> Verdict {
    let area = air::outdoor_opening_area(space.input.total(), air::Path::Direct, &limits.two) * share;
    let horizontal = air::outdoor_opening_area(space.input.total(), air::Path::Horizontal, &limits.two) * share;
    let there = match outward.usable.len() {
        0 => text!("no opening to outdoors counts"),
        _ => text!("only {} leads outdoors, two are needed", outward.usable[0].id()),
    };
    let words = outward.with_refused(there);
    let cure = text!(
        "open the space to outdoors within {} of the ceiling and again within {} of the floor, {} free area each ({} through horizontal ducts)",
        in_unit(limits.two.opening.from_end, "in"),
        in_unit(limits.two.opening.from_end, "in"),
        in_unit(area, "in²"),
        in_unit(horizontal, "in²")
    );
    Verdict::Misses(words, vec![remedy(cure)])
}

fn cures(outward: &Outward, pair: &air::Pair, limits: &Limits) -> Vec<Remedy> {
    let assessed = [&pair.upper, &pair.lower];
    assessed.iter().flat_map(|assessed| outward.usable[assessed.index].cures(assessed, limits)).collect()
}
