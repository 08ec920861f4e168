//! Raceways and their conductors as the handbook knows them.

use redtag_handbook::raceway::{self as trade, Conductor, Insulation, Kind};
use redtag_rule::prelude::*;
use uom::si::f64::Area;

/// The raceways of a project.
pub fn every<'a>(inquiry: &Inquiry<'a>) -> Vec<Place<'a, Raceway>> {
    need!(inquiry.project(), raceways).every()
}

/// The kind, where its inside is tabulated.
///
/// # Errors
/// The kind's place, where the handbook knows no table.
pub fn kind(raceway: &Place<Raceway>) -> Lookup<Kind> {
    use RacewayKind as R;
    Ok(match raceway.kind {
        R::ElectricalMetallicTubing => Kind::ElectricalMetallicTubing,
        R::IntermediateMetalConduit => Kind::IntermediateMetalConduit,
        R::RigidMetalConduit => Kind::RigidMetalConduit,
        R::Pvc40 => Kind::Pvc40,
        R::Pvc80 => Kind::Pvc80,
        R::ElectricalNonmetallicTubing => Kind::ElectricalNonmetallicTubing,
        R::FlexibleMetalConduit => Kind::FlexibleMetalConduit,
        R::LiquidtightFlexibleMetal => Kind::LiquidtightMetal,
        R::LiquidtightFlexibleNonmetallic => Kind::LiquidtightNonmetallic,
        _ => {
            let why = "a raceway whose inside is tabulated: the table of this kind is not known here";
            return Err(Unresolved::because(format!("{}/kind", raceway.pointer()), why));
        }
    })
}

/// The inside of a raceway.
///
/// # Errors
/// Its trade size, where it is missing or its row is not known.
pub fn inside(raceway: &Place<Raceway>) -> Lookup<trade::Inside> {
    let (kind, size) = (kind(raceway), need!(raceway, trade_size)).together()?;
    let unknown = || {
        Unresolved::because(size.pointer(), "a trade size whose row of NEC chapter 9 table 4 is known here, such as `1 1/4 in`")
    };
    trade::inside(kind, size.quantity()).ok_or_else(unknown)
}

/// One entry of a raceway's list of conductors.
pub struct Counted<'a> {
    /// The entry.
    pub entry: Place<'a, RacewayConductor>,
    /// How many.
    pub count: u32,
    /// One of them.
    pub each: Conductor,
}

/// What runs in a raceway, one entry for each sort.
///
/// # Errors
/// Whatever is missing of a count, a size, an insulation or a diameter.
pub fn conductors<'a>(raceway: &Place<'a, Raceway>) -> Lookup<Vec<Counted<'a>>> {
    let list = need!(raceway, conductors)?;
    list.items().map(counted).collect::<Vec<_>>().together()
}

fn counted(entry: Place<RacewayConductor>) -> Lookup<Counted> {
    let (count, each) = (need!(entry, count), conductor(&entry)).together()?;
    Ok(Counted { count: *count, each, entry })
}

/// One conductor: by its stated diameter, else by the tables.
fn conductor(entry: &Place<RacewayConductor>) -> Lookup<Conductor> {
    if let Ok(diameter) = need!(entry, outside_diameter) {
        return Ok(Conductor::measured(diameter.quantity()));
    }
    let (size, insulation) = (need!(entry, size), need!(entry, insulation)).together()?;
    let why = "its outside diameter: the tables do not list this size and insulation";
    let unknown = || Unresolved::because(format!("{}/outside_diameter", entry.pointer()), why);
    let known = Insulation::marked(&insulation).and_then(|insulation| Conductor::listed(&size, insulation));
    known.ok_or_else(unknown)
}

/// How many there are, and the area they take.
pub fn taken(conductors: &[Counted]) -> (u32, Area) {
    conductors.iter().fold((0, Area::default()), |(count, area), one| {
        (count.saturating_add(one.count), area + one.each.area * f64::from(one.count))
    })
}

/// Whether the conductors listed are all that run in it: it says so, or it is spare and empty.
///
/// # Errors
/// `conductors_complete`, where it is not said.
pub fn all_conductors(raceway: &Place<Raceway>) -> Lookup<()> {
    let whole = need!(raceway, conductors_complete).is_ok_and(|whole| *whole);
    if whole || (raceway.spare == Some(true) && raceway.conductors.as_ref().is_some_and(Vec::is_empty)) {
        return Ok(());
    }
    let wanted = "whether these are all the conductors in it";
    Err(Unresolved::because(format!("{}/conductors_complete", raceway.pointer()), wanted))
}

/// Whether it is a nipple: both ends at enclosures and no longer than the length.
pub fn is_nipple(raceway: &Place<Raceway>, longest: uom::si::f64::Length) -> bool {
    let ends = [need!(raceway, from.at).is_ok(), need!(raceway, to.at).is_ok()];
    let length = length(raceway);
    ends == [true, true] && length.is_ok_and(|length| at_most(length, longest))
}

/// Its whole length.
///
/// # Errors
/// Its runs, or the length of one.
pub fn length(raceway: &Place<Raceway>) -> Lookup<uom::si::f64::Length> {
    let runs = need!(raceway, runs)?;
    let lengths = runs.items().map(|run| need!(run, length).map(|length| length.quantity())).collect::<Vec<_>>().together()?;
    Ok(lengths.into_iter().fold(uom::si::f64::Length::default(), |sum, length| sum + length))
}

/// Whether it is of metal.
pub fn is_metal(kind: RacewayKind) -> bool {
    use RacewayKind as R;
    matches!(
        kind,
        R::ElectricalMetallicTubing
            | R::IntermediateMetalConduit
            | R::RigidMetalConduit
            | R::FlexibleMetalConduit
            | R::LiquidtightFlexibleMetal
            | R::MetalCladCable
    )
}
