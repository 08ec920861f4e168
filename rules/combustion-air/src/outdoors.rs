//! Openings that lead outdoors: straight, through ducts, into attics and crawl spaces that are outdoors for this purpose.

use crate::openings;
use crate::parameters::Limits;
use crate::rooms::Rooms;
use redtag_handbook::combustion_air as air;
use redtag_rule::prelude::*;
use redtag_rule::schema::contract::Remedy;
use redtag_rule::{remedy, remedy_at};
use uom::si::f64::{Area, Power};

/// The openings of a space that lead outdoors.
#[derive(Default)]
pub struct Outward<'a> {
    /// Those that count.
    pub usable: Vec<Usable<'a>>,
    /// Those that do not, and why.
    pub refused: Vec<Refused>,
    /// What is missing about the rest.
    pub untold: Option<Unresolved>,
}

/// An opening that counts.
pub struct Usable<'a> {
    /// The opening.
    pub place: Place<'a, Opening>,
    /// What the methods see of it.
    pub facts: air::OutdoorOpening,
    /// How its free area was got.
    pub working: Text,
}

/// An opening that does not count.
pub struct Refused {
    /// Why, in words.
    pub why: Text,
}

impl<'a> Outward<'a> {
    /// Sorts the openings of a space.
    pub fn of(
        found: &[&Place<'a, Opening>],
        rooms: &Rooms<'a>,
        ducts: &[Place<'a, Duct>],
        input: Power,
        limits: &Limits,
    ) -> Self {
        let mut outward = Self::default();
        for opening in found {
            match sort(opening, rooms, ducts, input, limits) {
                Ok(Ok(usable)) => outward.usable.push(usable),
                Ok(Err(refused)) => outward.refused.push(refused),
                Err(unresolved) => {
                    outward.untold = Unresolved::joined(outward.untold.take(), unresolved);
                }
            }
        }
        outward
    }

    /// The words, and why each opening that does not count does not.
    pub fn with_refused(&self, words: Text) -> Text {
        Text::list(std::iter::once(&words).chain(self.refused.iter().map(|refused| &refused.why)))
    }

    /// A verdict that falls short is only certain when nothing is missing about the other openings.
    ///
    /// # Errors
    /// What is missing about them.
    pub fn all_told(&self) -> Lookup<()> {
        self.untold.clone().map_or(Ok(()), Err)
    }
}

impl Usable<'_> {
    /// Its id.
    pub fn id(&self) -> &str {
        &self.place.get().id
    }

    /// How it reaches outdoors, in words.
    pub fn path_words(&self) -> &'static str {
        match self.facts.path {
            air::Path::Direct => "direct",
            air::Path::Vertical => "vertical duct",
            air::Path::Horizontal => "horizontal duct",
        }
    }

    /// What would cure its shortcomings.
    pub fn cures(&self, assessed: &air::Assessed, limits: &Limits) -> Vec<Remedy> {
        assessed.shortcomings.iter().map(|fault| self.cure(fault, limits)).collect()
    }

    fn cure(&self, fault: &air::Shortcoming, limits: &Limits) -> Remedy {
        let cover = openings::cover(&self.place).unwrap_or(air::Cover::Nothing);
        match fault {
            air::Shortcoming::TooSmall { required, .. } => self.larger(*required, cover, limits),
            air::Shortcoming::TooFar { end: air::End::Top, limit, .. } => self.at("top_below_ceiling", "ceiling", *limit),
            air::Shortcoming::TooFar { end: air::End::Bottom, limit, .. } => self.at("bottom_above_floor", "floor", *limit),
            air::Shortcoming::TooNarrow { required, .. } => {
                remedy(text!("widen {} to {} at least", self.id(), in_unit(*required, "in")))
            }
            air::Shortcoming::DuctTooSmall { required, .. } => {
                remedy(text!("run a duct of {} to {}", in_unit(*required, "in²"), self.id()))
            }
            air::Shortcoming::SharedDuct => remedy(text!("give each opening a duct of its own to the source")),
        }
    }

    fn larger(&self, required: Area, cover: air::Cover, limits: &Limits) -> Remedy {
        let Some(gross) = air::gross_area_needed(required, cover, &limits.louvers) else {
            return remedy(text!("enlarge {}", self.id()));
        };
        if self.place.free_area.is_some() || cover == air::Cover::Nothing {
            return remedy(text!("enlarge {} to {} free area", self.id(), in_unit(required, "in²")));
        }
        remedy(text!(
            "enlarge {} to a face of {} ({} free area), or fit a louver whose maker states {} free",
            self.id(),
            in_unit(gross, "in²"),
            in_unit(required, "in²"),
            in_unit(required, "in²")
        ))
    }

    fn at(&self, field: &str, end: &str, limit: uom::si::f64::Length) -> Remedy {
        let written = quantity::Length::from_quantity(&limit).print_in("in");
        let words = text!("move {} so that it begins within {} of the {}", self.id(), in_unit(limit, "in"), end);
        remedy_at(words, &[(format!("{}/{field}", self.place.pointer()), written.into())])
    }
}

/// An opening that counts, or one that does not.
type Sorted<'a> = Result<Usable<'a>, Refused>;

fn sort<'a>(
    opening: &Place<'a, Opening>,
    rooms: &Rooms<'a>,
    ducts: &[Place<'a, Duct>],
    input: Power,
    limits: &Limits,
) -> Lookup<Sorted<'a>> {
    let id = opening.get().id.as_str();
    if !openings::stays_open(opening)? {
        return Ok(Err(Refused { why: text!("{} can be closed", id) }));
    }
    let duct = duct_of(opening, ducts)?;
    if let Some(why) = source_refused(opening, duct.as_ref(), rooms, input, limits)? {
        return Ok(Err(Refused { why: text!("{} does not count: {}", id, why) }));
    }
    if let Some(why) = duct.as_ref().and_then(|(_, duct)| other_use(duct)) {
        return Ok(Err(Refused { why: text!("{} does not count: {}", id, why) }));
    }
    let path = path(opening, duct.as_ref());
    let serving = duct.as_ref().map(|(identity, duct)| serving(*identity, duct)).transpose();
    let (path, serving, facts, free) =
        (path, serving, openings::assessed(opening, limits), openings::free_area(opening, limits)).together()?;
    let facts = air::OutdoorOpening { opening: facts, path, duct: serving };
    Ok(Ok(Usable { place: opening.clone(), facts, working: free.working }))
}

fn duct_of<'a>(opening: &Place<'a, Opening>, ducts: &[Place<'a, Duct>]) -> Lookup<Option<(usize, Place<'a, Duct>)>> {
    let Some(wanted) = &opening.duct else {
        // The end of a duct, and the project has ducts: which of them it is decides how much gets through.
        let through = opening.kind == OpeningKind::DuctTerminal
            || matches!(opening.path, Some(AirPath::VerticalDuct | AirPath::HorizontalDuct));
        return if through && !ducts.is_empty() { Err(opening.missing("/duct")) } else { Ok(None) };
    };
    let found = ducts.iter().enumerate().find(|(_, duct)| duct.get().id == *wanted);
    found.map(|(index, duct)| Some((index, duct.clone()))).ok_or_else(|| Unresolved::at("/ducts"))
}

/// What else a duct does than bring outdoor air to burn.
fn other_use(duct: &Duct) -> Option<Text> {
    use DuctKind as K;
    let words = match duct.kind {
        K::CombustionAir | K::OutdoorAir => return None,
        K::Supply => "supplies conditioned air",
        K::Return => "returns air to an air handler",
        K::MakeUpAir => "makes up for what a fan exhausts",
        K::Transfer => "leads to another room",
        K::Exhaust | K::DryerExhaust | K::KitchenExhaust | K::BatteryVentilation => "carries exhaust",
        K::Unrecognised => "is of a kind this rule does not know",
    };
    Some(text!("its duct {} {}", duct.id.as_str(), words))
}

/// Which way the air comes. What the opening says and what its duct says may differ: the one that asks for more counts.
fn path(opening: &Place<Opening>, duct: Option<&(usize, Place<Duct>)>) -> Lookup<air::Path> {
    match (opening.path, duct) {
        (Some(AirPath::HorizontalDuct), _) => Ok(air::Path::Horizontal),
        (Some(AirPath::VerticalDuct | AirPath::Direct), Some((_, duct))) if duct.orientation == Some(Orientation::Horizontal) => {
            Ok(air::Path::Horizontal)
        }
        (Some(AirPath::Direct), None) => Ok(air::Path::Direct),
        (Some(AirPath::VerticalDuct), _) => Ok(air::Path::Vertical),
        (Some(AirPath::Unrecognised), _) => Err(opening.missing("/path")),
        (Some(AirPath::Direct) | None, Some((_, duct))) => match need!(duct, orientation)?.get() {
            Orientation::Vertical => Ok(air::Path::Vertical),
            Orientation::Horizontal => Ok(air::Path::Horizontal),
            Orientation::Unrecognised => Err(duct.missing("/orientation")),
        },
        // The end of a duct that the project does not describe: its direction decides the size.
        (None, None) if opening.kind == OpeningKind::DuctTerminal => Err(opening.missing("/path")),
        (None, None) => Ok(air::Path::Direct),
    }
}

fn serving(identity: usize, duct: &Place<Duct>) -> Lookup<air::ServingDuct> {
    duct_area(duct).map(|area| air::ServingDuct { identity, area })
}

/// Cross-section of a duct: as stated, else width times height, else by diameter.
pub fn duct_area(duct: &Place<Duct>) -> Lookup<Area> {
    if let Some(stated) = &duct.area {
        return Ok(stated.quantity());
    }
    match (&duct.width, &duct.height, &duct.diameter) {
        (Some(width), Some(height), _) => Ok(width.quantity() * height.quantity()),
        (_, _, Some(diameter)) => Ok(air::round_area(diameter.quantity())),
        _ => Err(Unresolved::because(
            format!("{}/area", duct.pointer()),
            "the cross-section of the duct, or its width and height, or its diameter",
        )),
    }
}

/// Why where the air comes from is not outdoors; `None` when it is.
fn source_refused(
    opening: &Place<Opening>,
    duct: Option<&(usize, Place<Duct>)>,
    rooms: &Rooms,
    input: Power,
    limits: &Limits,
) -> Lookup<Option<Text>> {
    if let Some((_, duct)) = duct
        && duct.serves == Some(ServedLevel::Both)
    {
        return Ok(Some(text!("its duct serves the upper and the lower opening")));
    }
    let beyond = match (
        duct.and_then(|(_, duct)| duct.get().terminates.as_ref().map(|end| duct.below("/terminates", end))),
        &opening.beyond,
    ) {
        (Some(end), _) => end,
        (None, Some(beyond)) => opening.below("/beyond", beyond),
        (None, None) => return Err(opening.missing("/beyond")),
    };
    if beyond.kind == BeyondKind::Outdoors {
        return Ok(None);
    }
    let id = need!(beyond, space)?;
    let space = rooms.space(id.get())?;
    let screened = duct.is_some_and(|(_, duct)| duct.screened == Some(true));
    not_outdoors(space, screened, input, limits)
}

/// Why an attic, a crawl space or another space is not outdoors for this purpose.
pub fn not_outdoors(space: &Place<Space>, screened_duct: bool, input: Power, limits: &Limits) -> Lookup<Option<Text>> {
    if !crate::rooms::is_source(space) {
        return Ok(Some(text!("{} is not outdoors", space.label())));
    }
    if screened_duct && space.kind == SpaceKind::Attic {
        return Ok(Some(text!("its duct ends in {} behind a screen", space.label())));
    }
    if space.vented_to_outdoors == Some(false) {
        return Ok(Some(text!("{} is not vented to outdoors", space.label())));
    }
    if space.power_ventilated == Some(true) {
        return Ok(Some(text!("{} has a powered ventilator", space.label())));
    }
    let fan = match space.kind {
        SpaceKind::Attic => need!(space, power_ventilated).map(|_| ()),
        _ => Ok(()),
    };
    let (_, vents, ()) = (need!(space, vented_to_outdoors), need!(space, ventilation_free_area), fan).together()?;
    let needed = limits.source.vent_area(input);
    if at_least(vents.quantity(), needed) {
        return Ok(None);
    }
    let (vents, needed) = (in_unit(vents.get(), "in²"), in_unit(needed, "in²"));
    Ok(Some(text!("the vents of {} have {} free, {} are needed to supply the burners", space.label(), vents, needed)))
}
