//! How much board a face takes, and where it is on the plan.

use crate::parts::Part;
use redtag_handbook::fire::{BoardArea, Cut, Wall, wall_board};
use redtag_rule::prelude::*;
use redtag_rule::schema::contract::Mark;
use uom::si::area::square_meter;
use uom::si::f64::{Area, Length};
use uom::si::length::meter;

/// How far the middle of an opening may lie from the line of its wall: half of a thick wall.
const ON_WALL: f64 = 0.3;

/// The board of a face: its whole size, its openings, what is left.
///
/// # Errors
/// Where its ends, its height or the outline of its space are not said.
pub fn board(inquiry: &Inquiry, part: &Part) -> Lookup<BoardArea> {
    if part.is_wall() { wall(inquiry, part) } else { flat(inquiry, part) }
}

fn wall(inquiry: &Inquiry, part: &Part) -> Lookup<BoardArea> {
    let (ends, height) = (ends(part), height(part)).together()?;
    let cuts: Vec<Cut> = openings(inquiry, part, Some(ends)).iter().filter_map(|opening| cut(part, opening, ends)).collect();
    Ok(wall_board(Wall { length: metres(distance(ends.0, ends.1)), height }, &cuts))
}

fn flat(inquiry: &Inquiry, part: &Part) -> Lookup<BoardArea> {
    let same = crate::parts::parts_of(&part.space).iter().filter(|other| other.assembly.kind == part.assembly.kind).count();
    if same > 1 {
        let wanted = "the area of this part: the space has several of its kind";
        return Err(Unresolved::because(format!("{}/kind", part.assembly.pointer()), wanted));
    }
    let gross = redtag_rule::size::floor_area(&part.space)?;
    let cuts = openings(inquiry, part, None).iter().filter_map(|opening| face_area(opening)).map(Cut::Loose).collect::<Vec<_>>();
    // A level face is measured as a wall one unit high.
    Ok(wall_board(Wall { length: metres(gross.get::<square_meter>()), height: metres(1.0) }, &cuts))
}

type Plan = (f64, f64);

/// The ends of a wall in metres.
fn ends(part: &Part) -> Lookup<(Plan, Plan)> {
    let (from, to) = (need!(part.assembly, from), need!(part.assembly, to)).together()?;
    Ok((plan(from.get()), plan(to.get())))
}

/// Height of the board: to the structure where a ceiling hangs below it, less what the wall begins above the floor.
fn height(part: &Part) -> Lookup<Length> {
    let top = need!(part.space, structural_ceiling_height).or_else(|_| need!(part.space, ceiling_height))?.quantity();
    let base = part.assembly.base.as_ref().map_or(0.0, |base| base.si());
    Ok(metres((top.get::<meter>() - base).max(0.0)))
}

/// The openings of a wall: those that name it, and those whose middle lies on it and that name no other wall of its space.
fn openings<'a>(inquiry: &Inquiry<'a>, part: &Part, ends: Option<(Plan, Plan)>) -> Vec<Place<'a, Opening>> {
    let this = part.assembly.id.as_str();
    let touches = |opening: &Opening| {
        let there = opening.beyond.as_ref().and_then(|beyond| beyond.space.as_deref());
        opening.space.as_deref() == Some(&part.space.id) || there == Some(&part.space.id)
    };
    let lies_on = |opening: &Opening| match (ends, &opening.at) {
        (Some(ends), Some(at)) if touches(opening) => off_line(plan(at), ends) <= ON_WALL,
        _ => false,
    };
    let ours = |id: &str| crate::parts::parts_of(&part.space).iter().any(|other| other.assembly.id == id);
    let of = |opening: &Place<Opening>| match opening.assembly.as_deref() {
        Some(named) if named == this => true,
        // At a corner an opening lies on both walls; the one it names is its own.
        Some(named) if ours(named) => false,
        // The wall may be told twice, from both sides: the opening names the other telling.
        _ => lies_on(opening),
    };
    need!(inquiry.project(), openings).every().into_iter().filter(of).collect()
}

fn cut(part: &Part, opening: &Opening, ends: (Plan, Plan)) -> Option<Cut> {
    let area = face_area(opening);
    let placed = || {
        let (width, height) = size(opening)?;
        let middle = along(plan(opening.at.as_ref()?), ends);
        let bottom = bottom(part, opening, height)?;
        let span = |middle: f64, size: f64| (metres(middle - size / 2.0), metres(middle + size / 2.0));
        Some(Cut::Placed { along: span(middle, width), up: (metres(bottom), metres(bottom + height)) })
    };
    placed().or_else(|| area.map(Cut::Loose))
}

/// Height of an opening's lower edge over the lower edge of the wall's board.
fn bottom(part: &Part, opening: &Opening, height: f64) -> Option<f64> {
    let base = part.assembly.base.as_ref().map_or(0.0, |base| base.si());
    let seen_from_here = opening.space.as_deref() == Some(&part.space.id);
    let stated = opening.bottom_above_floor.as_ref().map(|bottom| bottom.si());
    let ceiling = part.space.ceiling_height.as_ref().map(|ceiling| ceiling.si());
    let from_top = || Some(ceiling? - opening.top_below_ceiling.as_ref()?.si() - height);
    let of_door =
        || matches!(opening.kind, OpeningKind::Door | OpeningKind::VehicleDoor | OpeningKind::DoorlessOpening).then_some(0.0);
    let known = if seen_from_here { stated.or_else(from_top).or_else(of_door) } else { of_door() };
    known.map(|bottom| bottom - base)
}

fn size(opening: &Opening) -> Option<(f64, f64)> {
    let round = opening.diameter.as_ref().map(|_| None);
    let sides = || Some((opening.width.as_ref()?.si(), opening.height.as_ref()?.si()));
    round.unwrap_or_else(sides)
}

fn face_area(opening: &Opening) -> Option<Area> {
    let square = Area::new::<square_meter>;
    let disc = opening.diameter.as_ref().map(|d| square(d.si() * d.si() * std::f64::consts::FRAC_PI_4));
    disc.or_else(|| size(opening).map(|(width, height)| square(width * height)))
        .or_else(|| opening.gross_area.as_ref().map(|area| area.quantity()))
}

/// Where an opening or a penetration lies along a wall, from its first end.
pub fn along(at: Plan, (from, to): (Plan, Plan)) -> f64 {
    let length = distance(from, to);
    if length <= 0.0 {
        return 0.0;
    }
    ((at.0 - from.0) * (to.0 - from.0) + (at.1 - from.1) * (to.1 - from.1)) / length
}

/// Position along the wall of a part, in metres.
pub fn position(part: &Part, at: &Point) -> Option<Length> {
    Some(metres(along(plan(at), ends(part).ok()?)))
}

/// Length of a wall in plan, in metres.
pub fn run(part: &Part) -> Option<f64> {
    ends(part).ok().map(|(from, to)| distance(from, to))
}

/// Height of a wall's board.
pub fn wall_height(part: &Part) -> Option<Length> {
    height(part).ok()
}

fn off_line(at: Plan, ends: (Plan, Plan)) -> f64 {
    let (from, to) = ends;
    let length = distance(from, to);
    let t = along(at, ends).clamp(0.0, length);
    let share = if length > 0.0 { t / length } else { 0.0 };
    distance(at, (from.0 + (to.0 - from.0) * share, from.1 + (to.1 - from.1) * share))
}

/// Least distance in plan between a wall and an outline, in metres.
pub fn wall_to_outline(part: &Part, outline: &[Point]) -> Option<f64> {
    let (from, to) = ends(part).ok()?;
    let corners: Vec<Plan> = outline.iter().map(plan).collect();
    let sides = corners.iter().zip(corners.iter().cycle().skip(1));
    let gap = |(&a, &b): (&Plan, &Plan)| {
        [off_line(from, (a, b)), off_line(to, (a, b)), off_line(a, (from, to)), off_line(b, (from, to))]
            .into_iter()
            .fold(f64::INFINITY, f64::min)
    };
    sides.map(gap).reduce(f64::min)
}

/// The length of an outline, in metres.
pub fn perimeter(outline: &[Point]) -> f64 {
    let corners: Vec<Plan> = outline.iter().map(plan).collect();
    corners.iter().zip(corners.iter().cycle().skip(1)).map(|(&a, &b)| distance(a, b)).sum()
}

fn plan(point: &Point) -> Plan {
    (point.x.si(), point.y.si())
}

fn distance(a: Plan, b: Plan) -> f64 {
    libm::hypot(a.0 - b.0, a.1 - b.1)
}

fn metres(number: f64) -> Length {
    Length::new::<meter>(number)
}

/// The face on the plan: the sheet of a wall, or the outline of a ceiling.
pub fn mark(part: &Part, label: &str) -> Option<Mark> {
    let floor = part.space.floor_elevation.as_ref().map_or(0.0, |floor| floor.si());
    let space = Some(part.space.id.as_str());
    if part.is_wall() {
        let (from, to) = ends(part).ok()?;
        let low = floor + part.assembly.base.as_ref().map_or(0.0, |base| base.si());
        let high = low + height(part).ok()?.get::<meter>();
        let sheet = [[from.0, from.1, low], [to.0, to.1, low], [to.0, to.1, high], [from.0, from.1, high], [from.0, from.1, low]];
        return Some(line_mark(space, label, &sheet));
    }
    let up = if part.is_overhead() { part.space.ceiling_height.as_ref().map_or(0.0, |height| height.si()) } else { 0.0 };
    let outline = part.space.outline.as_ref()?;
    let first = outline.first()?;
    let ring: Vec<[f64; 3]> = outline.iter().chain([first]).map(|point| [point.x.si(), point.y.si(), floor + up]).collect();
    Some(line_mark(space, label, &ring))
}

/// A penetration on the plan.
pub fn penetration_mark(part: &Part, penetration: &Penetration, label: &str) -> Option<Mark> {
    let (x, y) = plan(penetration.at.as_ref()?);
    let floor = part.space.floor_elevation.as_ref().map_or(0.0, |floor| floor.si());
    let ceiling = || part.space.ceiling_height.as_ref().map(|height| height.si());
    let up = penetration.height.as_ref().map(|height| height.si()).or_else(|| if part.is_overhead() { ceiling() } else { None });
    Some(point_mark(Some(&part.space.id), label, [x, y, floor + up.unwrap_or(0.0)]))
}
