//! Indoor and outdoor air together: the outdoor openings may shrink by the part of the volume that is there.

use super::{indoor, one_opening, two_openings};
use crate::air_space::AirSpace;
use crate::parameters::Limits;
use crate::trial::{Trial, Verdict};
use redtag_handbook::combustion_air as air;
use redtag_rule::prelude::*;

/// Tries indoor and outdoor air together.
pub fn attempt(space: &AirSpace, limits: &Limits) -> Trial {
    Trial::of("indoor and outdoor air combined", "304.7", |sheet| {
        if space.outward.usable.is_empty() {
            space.outward.all_told()?;
            return Ok(Verdict::Misses(text!("no opening to outdoors counts"), Vec::new()));
        }
        let Some(needed) = indoor::needed(&mut Sheet::default(), space, limits)? else {
            return Ok(Verdict::Misses(text!("no indoor method may be used at this infiltration"), Vec::new()));
        };
        let available = space.volume(&mut Sheet::default())?;
        let combined = air::combination(available, needed.volume);
        sheet.line(
            "reduction",
            text!("1 − {} ÷ {} = {}", available, needed.volume, combined.reduction),
            air::sources::COMBINATION.text(),
        );
        let two = limits.accepts("two-openings").then(|| {
            let mut own = Sheet::default();
            let verdict = two_openings::pair(&mut own, space, &space.outward, combined.reduction, limits);
            (own, verdict)
        });
        let one = limits.accepts("one-opening").then(|| {
            let mut own = Sheet::default();
            let verdict = one_opening::single(&mut own, space, &space.outward, Some(combined.reduction), limits);
            (own, verdict)
        });
        better(sheet, space, two, one)
    })
}

type Attempt = Option<(Sheet, Lookup<Verdict>)>;

/// A pass beats a missing fact, a missing fact beats a miss, two openings go before one.
fn better(sheet: &mut Sheet, space: &AirSpace, two: Attempt, one: Attempt) -> Lookup<Verdict> {
    let rank = |verdict: &Lookup<Verdict>| match verdict {
        Ok(Verdict::Passes(_)) => 0,
        Err(_) | Ok(Verdict::Unknown(_)) => 1,
        Ok(Verdict::Misses(..)) => 2,
    };
    let mut attempts: Vec<(Sheet, Lookup<Verdict>)> = [two, one].into_iter().flatten().collect();
    attempts.sort_by_key(|(_, verdict)| rank(verdict));
    let Some((own, verdict)) = attempts.into_iter().next() else {
        return Ok(Verdict::Misses(text!("no outdoor method is accepted here"), Vec::new()));
    };
    sheet.take(own);
    let verdict = verdict.map(|verdict| match verdict {
        Verdict::Misses(words, cures) => Verdict::Misses(words, cures.into_iter().map(with_indoor_air).collect()),
        other => other,
    });
    // Connections between rooms that could not be told would have made the volume larger and the openings smaller.
    match (verdict, &space.joined.untold) {
        (Ok(Verdict::Misses(..)), Some(untold)) => Err(untold.clone()),
        (verdict, _) => verdict,
    }
}

fn with_indoor_air(cure: redtag_rule::schema::contract::Remedy) -> redtag_rule::schema::contract::Remedy {
    let words = text!("counting the indoor air that is there, {}", cure.words);
    redtag_rule::schema::contract::Remedy { words, ..cure }
}
