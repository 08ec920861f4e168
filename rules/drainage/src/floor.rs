//! The measured floor of a space as a surface, with its drains and doors.

use redtag_handbook::drainage::{Door as Way, DrainSpot, Floor, NoSurface, Sunken, Surface};
use redtag_handbook::units;
use redtag_plan::corners;
use redtag_rule::prelude::*;

/// A floor that was measured.
pub struct Measured<'a> {
    /// The space.
    pub space: Place<'a, Space>,
    /// The drains in it whose place is known.
    pub drains: Vec<Place<'a, Drain>>,
    /// Its doors whose place is known.
    pub doors: Vec<Place<'a, Opening>>,
    /// Its surface, levels from the floor of the space.
    pub surface: Surface,
    outlines: Vec<Vec<[f64; 2]>>,
}

/// Floor drains that do not say which space they are in: each could be in any.
pub fn placeless<'a>(inquiry: &Inquiry<'a>, wanted: &str) -> Vec<Finding> {
    let drains = need!(inquiry.project(), drainage.drains).every();
    let lost = drains.iter().filter(|drain| in_floor(drain.kind) && drain.space.is_none());
    lost.map(|drain| drain.ask(wanted, || Err(drain.missing("/space")))).collect()
}

/// Whether a drain sits in the floor.
pub fn in_floor(kind: DrainKind) -> bool {
    matches!(kind, DrainKind::FloorDrain | DrainKind::FloorSink | DrainKind::HubDrain)
}

/// Half the width of a drain whose strainer is not said: that of a 5 in strainer.
const USUAL_RADIUS: f64 = 0.0635;

/// The drains that stand in the floor of a space.
pub fn drains_of<'a>(inquiry: &Inquiry<'a>, space: &Space) -> Vec<Place<'a, Drain>> {
    let drains = need!(inquiry.project(), drainage.drains).every();
    drains.into_iter().filter(|drain| in_floor(drain.kind) && drain.space.as_deref() == Some(space.id.as_str())).collect()
}

impl<'a> Measured<'a> {
    /// The measured floor of a space.
    ///
    /// # Errors
    /// Where heights, the place of a drain or the depth of a recess are missing, or the points make no surface.
    pub fn of(inquiry: &Inquiry<'a>, space: &Place<'a, Space>) -> Lookup<Self> {
        let points = need!(space, floor_survey.points)?;
        let survey = need!(space, floor_survey)?;
        let drains = drains_of(inquiry, space);
        let spots: Vec<Lookup<DrainSpot>> = drains.iter().map(|drain| drain_spot(drain, &points)).collect();
        let recesses: Vec<Lookup<Sunken>> = need!(survey, recesses).every().iter().map(sunken).collect();
        let heights: Vec<Lookup<[f64; 3]>> = points.items().map(|point| height(&point)).collect();
        let (spots, recesses, heights) = (spots.together(), recesses.together(), heights.together()).together()?;
        let doors: Vec<_> = doors(inquiry, space).into_iter().filter(|door| door.at.is_some()).collect();
        let outlines = recesses.iter().map(|recess| recess.outline.clone()).collect();
        need!(survey, pads).every();
        let lines = |lists: &Option<Vec<Vec<Point>>>| lists.iter().flatten().map(|line| corners(line)).collect();
        let floor = Floor {
            outline: space.outline.as_deref().map(corners).unwrap_or_default(),
            points: heights,
            break_lines: lines(&survey.break_lines),
            pads: lines(&survey.pads),
            recesses,
            drains: spots,
            doors: doors.iter().filter_map(|door| way(door)).collect(),
        };
        let surface = floor.surface().map_err(|why| {
            Unresolved::because(
                points.pointer(),
                match why {
                    NoSurface::TooFewPoints => "heights at three places at least, not in one line",
                    NoSurface::NothingInside => "heights within the outline of the space",
                },
            )
        })?;
        Ok(Self { space: space.clone(), drains, doors, surface, outlines })
    }

    /// How far off a measured height may be.
    ///
    /// # Errors
    /// Where the survey does not say.
    pub fn uncertainty(&self) -> Lookup<f64> {
        need!(self.space, floor_survey.uncertainty).map(|uncertainty| uncertainty.si())
    }

    /// The lowest level at which water leaves the recess a drain stands in; `None` where it stands in none.
    pub fn lip(&self, node: usize) -> Option<f64> {
        let at = self.surface.nodes.get(node)?;
        let outline = self.outlines.iter().find(|outline| redtag_plan::contains(outline, [at[0], at[1]]))?;
        let levels = self.surface.flood(&[(node, f64::NEG_INFINITY)]).levels;
        let out = |index: usize| {
            let corner = self.surface.nodes[index];
            !redtag_plan::contains(outline, [corner[0], corner[1]]) || on_edge(outline, [corner[0], corner[1]])
        };
        let lip =
            (0..self.surface.nodes.len()).filter(|index| out(*index)).map(|index| levels[index]).fold(f64::INFINITY, f64::min);
        lip.is_finite().then_some(lip)
    }

    /// A level of this floor as a height in the building's own coordinates.
    pub fn absolute(&self, level: f64) -> f64 {
        self.space.floor_elevation.as_ref().map_or(0.0, |floor| floor.si()) + level
    }

    /// The thing nearest to a place, in words to put behind a hollow: "by the softener".
    pub fn near(&self, inquiry: &Inquiry, at: [f64; 2]) -> String {
        let equipment = need!(inquiry.project(), equipment).every();
        let here = equipment.iter().filter(|thing| thing.space.as_deref() == Some(self.space.id.as_str()));
        let standing = here.filter(|thing| crate::footprint::base(thing) < 0.3 && thing.kind != EquipmentKind::FloorDrain);
        let near = standing.filter_map(|thing| Some((crate::footprint::of(thing)?.distance(at), thing)));
        let nearest = near.min_by(|a, b| a.0.total_cmp(&b.0)).filter(|(distance, _)| *distance < 0.61);
        nearest.map_or(String::new(), |(_, thing)| format!(" by {}", thing.label()))
    }
}

/// The doors water may leave a space by.
fn doors<'a>(inquiry: &Inquiry<'a>, space: &Space) -> Vec<Place<'a, Opening>> {
    let id = space.id.as_str();
    let there = |opening: &Place<'a, Opening>| {
        let beyond = opening.beyond.as_ref().and_then(|beyond| beyond.space.as_deref());
        opening.space.as_deref() == Some(id) || beyond == Some(id)
    };
    let passes = |kind| matches!(kind, OpeningKind::Door | OpeningKind::VehicleDoor | OpeningKind::DoorlessOpening);
    need!(inquiry.project(), openings).every().into_iter().filter(|opening| passes(opening.kind) && there(opening)).collect()
}

fn way(door: &Opening) -> Option<Way> {
    let at = door.at.as_ref()?;
    let threshold = door.door.as_ref().and_then(|leaf| leaf.threshold.as_ref()).map(|threshold| threshold.si());
    Some(Way { at: [at.x.si(), at.y.si()], threshold })
}

/// A drain in the floor. Where nobody says how high its rim is, a height measured on it does.
fn drain_spot(drain: &Place<Drain>, points: &[SurveyPoint]) -> Lookup<DrainSpot> {
    let at = need!(drain, at)?;
    let radius = drain.strainer_diameter.as_ref().map_or(USUAL_RADIUS, |across| across.si() / 2.0);
    let at = [at.x.si(), at.y.si()];
    let on_it =
        |point: &SurveyPoint| point.at.as_ref().is_some_and(|there| (there.x.si() - at[0]).hypot(there.y.si() - at[1]) <= radius);
    let rim = match need!(drain, rim) {
        Ok(rim) => Some(rim.si()),
        Err(_) if points.iter().any(on_it) => None,
        Err(unresolved) => return Err(unresolved),
    };
    Ok(DrainSpot { at, rim, radius })
}

fn sunken(recess: &Place<Recess>) -> Lookup<Sunken> {
    let (outline, depth) = (need!(recess, outline), need!(recess, depth)).together()?;
    Ok(Sunken { outline: corners(&outline), depth: depth.si() })
}

fn height(point: &Place<SurveyPoint>) -> Lookup<[f64; 3]> {
    let (at, elevation) = (need!(point, at), need!(point, elevation)).together()?;
    Ok([at.x.si(), at.y.si(), elevation.si()])
}

/// Whether an outline holds a place.
pub fn holds(outline: &[Point], at: [f64; 2]) -> bool {
    redtag_plan::contains(&redtag_plan::corners(outline), at)
}

/// Within 1/16 in of an edge: the lip, and not the foot of the upright side, which is drawn 1/8 in inside.
fn on_edge(polygon: &[[f64; 2]], at: [f64; 2]) -> bool {
    redtag_plan::distance_to_edge(polygon, at) < 0.001_6
}

/// A level or depth as a length.
pub fn metres(number: f64) -> uom::si::f64::Length {
    uom::si::f64::Length::new::<uom::si::length::meter>(number)
}

/// A figure as exact as anybody needs it: this many to the unit.
fn rounded(number: f64, unit: f64, per_unit: f64) -> f64 {
    (number / unit * per_unit).round() / per_unit * unit
}

const INCH: f64 = 0.0254;
const FOOT: f64 = 0.3048;
const GALLON: f64 = 231.0 * INCH * INCH * INCH;

/// A depth in thousandths of an inch.
pub fn inches(number: f64) -> redtag_rule::Part {
    in_unit(quantity::Position::from_quantity(&metres(rounded(number, INCH, 1000.0))), "in")
}

/// An area in hundredths of a square foot.
pub fn square_feet(number: f64) -> redtag_rule::Part {
    in_unit(uom::si::f64::Area::new::<uom::si::area::square_meter>(rounded(number, FOOT * FOOT, 100.0)), "ft²")
}

/// A volume in hundredths of a gallon.
pub fn in_gallons(number: f64) -> redtag_rule::Part {
    in_unit(uom::si::f64::Volume::new::<uom::si::volume::cubic_meter>(rounded(number, GALLON, 100.0)), "gal")
}

/// A flow in hundredths of a gallon per minute.
pub fn gpm(number: f64) -> redtag_rule::Part {
    let flow =
        uom::si::f64::VolumeRate::new::<uom::si::volume_rate::cubic_meter_per_second>(rounded(number, GALLON / 60.0, 100.0));
    in_unit(flow, "gpm")
}

/// A time in tenths of a minute.
pub fn minutes(seconds: f64) -> redtag_rule::Part {
    let time = uom::si::f64::Time::new::<uom::si::time::second>(rounded(seconds, 60.0, 10.0));
    in_unit(quantity::Duration::from_quantity(&time), "min")
}

/// A place in plan, for people.
pub fn place_words(at: [f64; 3]) -> Text {
    let foot = |number: f64| in_unit(quantity::Position::from_quantity(&metres(rounded(number, FOOT, 100.0))), "ft");
    text!("{} east, {} north", foot(at[0]), foot(at[1]))
}

/// A hundredth of an inch upwards, as a project writes it.
pub fn written_up(level: f64) -> String {
    let hundredths = (units::in_inches(metres(level)) * 100.0 - 1e-9).ceil();
    format!("{} in", hundredths / 100.0)
}
