//! What draws hot water from a heater.

use crate::heater;
use redtag_rule::prelude::*;

/// Whether hot water comes out of it.
pub fn takes_hot(fixture: &Place<Fixture>) -> bool {
    !matches!(fixture.kind, FixtureKind::WaterCloset | FixtureKind::HoseBibb | FixtureKind::Irrigation)
}

/// Whether people set its temperature by hand, from both sides.
pub fn mixes(fixture: &Place<Fixture>) -> bool {
    matches!(fixture.kind, FixtureKind::Shower | FixtureKind::Bathtub)
}

/// The outlets a heater feeds.
///
/// # Errors
/// Where no fixtures are told, or where the house has several heaters and a fixture does not say which pipe it hangs on.
pub fn of<'a>(inquiry: &Inquiry<'a>, served: &Place<Equipment>) -> Lookup<Vec<Place<'a, Fixture>>> {
    let fixtures = need!(inquiry.project(), water.fixtures)?;
    let hot: Vec<_> = fixtures.items().filter(takes_hot).collect();
    if heater::all(inquiry).len() == 1 {
        return Ok(hot);
    }
    let pipes = heater::pipes_of(inquiry, served);
    let pairs: Vec<Lookup<_>> = hot.into_iter().map(|fixture| need!(fixture, hot_pipe).map(|pipe| (pipe, fixture))).collect();
    let fed = |pipe: &Place<String>| pipes.iter().any(|own| &own.id == pipe.get());
    Ok(pairs.together()?.into_iter().filter(|(pipe, _)| fed(pipe)).map(|(_, fixture)| fixture).collect())
}
