//! Every point of a floor with a drain must run to the drain; water that stays in a hollow is a correction where it is deeper
//! than the survey's own reading error.
//!
//! A hollow behind a softener keeps its water for good: it rusts the tank's foot, lifts tiles, feeds mould, and stands under
//! whatever is plugged in there. A drain whose rim stands proud of the floor turns all of it into one hollow. Water and
//! electrical equipment in one room can kill.
//!
//! **How it is measured.** The surface is the Delaunay triangulation of the measured heights, with the slab's edge, pads,
//! recesses and break lines forced into it as edges; between three measured points the floor counts as flat. Walls let nothing
//! through. From the drains, and from doors whose threshold is known, a priority flood over the edges finds the level water must
//! reach everywhere before it leaves: that is exact for such a surface. Where the level lies above the floor there is a pond;
//! its depth, area and volume are integrated triangle by triangle. A pond deeper than the tolerance and than twice the stated
//! reading error (both its bottom and its rim were read) is a fault, a shallower one is advice.
//!
//! **How it is fixed.** The hollow is filled, or the ridge that holds it cut; a drain that stands too high is set lower. Then it
//! is measured again.

use crate::floor::{self, Measured, in_gallons, inches, place_words, square_feet};
use redtag_handbook::drainage::{Outlet, PathEnd, Pond, Runoff, Surface, sources};
use redtag_rule::Value;
use redtag_rule::prelude::*;
use uom::si::f64::Ratio;

/// What is never a fault.
const TOLERANCE: Quantity<dimensions::Length> = Quantity::new(
    "tolerance",
    "1/16 in",
    "Depth of standing water that is advice at most, however exact the survey is.",
    "common practice: flat slabs vary by 1/4 in under a 10 ft straightedge",
)
.within("0 in", "1/2 in");
/// What may be left unmeasured.
const UNMEASURED: Quantity<dimensions::Ratio> = Quantity::new(
    "unmeasured_most",
    "40 %",
    "Share of the floor that may rest on levels carried from the nearest measured point before the survey is too thin to judge.",
    "common practice",
)
.within("0 %", "100 %");

/// The rule.
pub const RULE: Rule = Rule {
    stages: &[Stage::RoughIn, Stage::Final],
    citations: &[remembered("IRC", "2021", "P2719.1"), remembered("IPC", "2021", "413"), remembered("IRC", "2021", "R309.1")],
    parameters: &[&TOLERANCE, &UNMEASURED],
    reads: &["/spaces", "/openings", "/equipment", "/drainage"],
    ..Rule::new("drainage/floor-runs-to-drain", "Floor that runs to its drain", check)
};

const WANTED: &str = "whether every point of the floor runs to the drain";

fn check(inquiry: &Inquiry) -> Vec<Finding> {
    need!(inquiry.project(), spaces)
        .every()
        .iter()
        .filter_map(|space| {
            if floor::drains_of(inquiry, space).is_empty() {
                // A survey without a drain has nowhere to run to; nobody measured the other floors.
                return space.floor_survey.as_ref().map(|_| space.not_applicable(text!("no floor drain in it")).done());
            }
            Some(space.sheet(WANTED, |sheet| judge(inquiry, space, sheet)))
        })
        .chain(floor::placeless(inquiry, WANTED))
        .collect()
}

fn judge(inquiry: &Inquiry, space: &Place<Space>, sheet: &mut Sheet) -> Lookup<Text> {
    if need!(space, floor_survey.points).is_err() {
        return unmeasured(space, sheet);
    }
    let floor = Measured::of(inquiry, space)?;
    let surface = &floor.surface;
    sheet.line("surface", model(surface), sources::SURFACE.text());
    let carried = Ratio::new::<uom::si::ratio::ratio>(surface.carried_share());
    if carried.value > 1e-9 {
        sheet.line("not measured", text!("{} of it rests on levels carried from the nearest measured point", carried), "");
    }
    if !at_most(carried, inquiry.value(&UNMEASURED)) {
        let what = "heights along the walls too; too much of the floor lies outside the measured points";
        return Err(Unresolved::because(format!("{}/floor_survey/points", space.pointer()), what));
    }
    let Some(runoff) = surface.runoff() else {
        let what = "a place of the drain that lies on the measured floor";
        return Err(Unresolved::because(
            floor.drains.first().map_or_else(String::new, |drain| format!("{}/at", drain.pointer())),
            what,
        ));
    };
    let mut cures = Cures::default();
    drains(&floor, &runoff, (sheet, &mut cures));
    for pond in &runoff.ponds {
        hollow(inquiry, &floor, pond, (sheet, &mut cures));
    }
    cures.say(sheet);
    shut_in(&floor, &runoff, sheet);
    doors(&floor, sheet);
    thresholds(&floor, sheet);
    Ok(text!("all {} run to the drain", square_feet(surface.area())))
}

/// A floor nobody measured: what it was built to is all there is.
fn unmeasured(space: &Place<Space>, sheet: &mut Sheet) -> Lookup<Text> {
    let Ok(slope) = need!(space, floor_survey.slope) else {
        if space.floor_survey.as_ref().and_then(|survey| survey.level) == Some(true) {
            sheet.advise(text!("a level floor does not run to its drain"));
            return Ok(text!("level"));
        }
        return Err(space.missing("/floor_survey/points"));
    };
    sheet.line("not measured", text!("built to {}", slope), "");
    Ok(text!("built to {} toward its drain; nothing was measured", slope))
}

fn model(surface: &Surface) -> Text {
    text!(
        "{} flat triangles between {} points, {}: Delaunay triangulation with the edges of slab, pads, recesses and break lines forced into it",
        surface.faces.len(),
        surface.nodes.len(),
        square_feet(surface.area())
    )
}

/// What is to be done, all of it together.
#[derive(Default)]
struct Cures {
    words: Vec<Text>,
    values: Vec<(String, Value)>,
}

impl Cures {
    fn add(&mut self, words: Text, values: Vec<(String, Value)>) {
        self.words.push(words);
        self.values.extend(values);
    }

    fn say(self, sheet: &mut Sheet) {
        match (self.words.is_empty(), self.values.is_empty()) {
            (true, _) => {}
            (false, true) => sheet.cure(Text::list(&self.words)),
            (false, false) => sheet.cure_at(Text::list(&self.words), &self.values),
        }
    }
}

/// How each drain sits in the floor beside it.
fn drains(floor: &Measured, runoff: &Runoff, (sheet, cures): (&mut Sheet, &mut Cures)) {
    let surface = &floor.surface;
    for (drain, node) in floor.drains.iter().zip(&surface.drains) {
        let Some(node) = *node else {
            sheet.lack(Unresolved::because(format!("{}/at", drain.pointer()), "a place on the measured floor"));
            continue;
        };
        let rim = surface.nodes[node];
        // Only floor whose water has to come here counts: what runs elsewhere may lie lower.
        let here = |next: &&usize| runoff.fill.outlet[**next] == runoff.fill.outlet[node];
        let beside =
            surface.neighbours[node].iter().filter(here).map(|next| surface.nodes[*next][2]).fold(f64::INFINITY, f64::min);
        if rim[2] <= beside {
            sheet.test(
                "drain",
                text!("{} sits {} below the lowest point beside it", drain.id, inches(beside - rim[2])),
                "",
                true,
            );
            continue;
        }
        let words = text!("drain {} stands {} above the floor beside it", drain.id, inches(rim[2] - beside));
        sheet.test("drain", words.clone(), "", false);
        let sure = floor.uncertainty().is_ok_and(|error| rim[2] - beside > 2.0 * error);
        if !sure {
            sheet.advise(words);
            continue;
        }
        sheet.fault(words);
        sheet.related(drain.pointer());
        sheet.mark(point_mark(Some(&floor.space.id), format!("{} too high", drain.id), [rim[0], rim[1], floor.absolute(rim[2])]));
        if drain.rim.is_some() {
            let lower = quantity::Position::from_quantity(&floor::metres(beside)).print_in("in");
            cures.add(
                text!("set drain {} to {}", drain.id, inches(beside)),
                vec![(format!("{}/rim", drain.pointer()), json!(lower))],
            );
        }
    }
}

/// One pond: a fault where it is deeper than what the survey can be off by.
fn hollow(inquiry: &Inquiry, floor: &Measured, pond: &Pond, (sheet, cures): (&mut Sheet, &mut Cures)) {
    let by = floor.near(inquiry, [pond.deepest[0], pond.deepest[1]]);
    let words = text!(
        "water stands {} deep{} ({}): {}, {}; it runs over at {}{}",
        inches(pond.depth),
        by,
        place_words(pond.deepest),
        square_feet(pond.area),
        in_gallons(pond.volume),
        place_words(pond.spill),
        to_where(floor, pond.outlet)
    );
    let Some(error) = sheet.want(floor.uncertainty()) else {
        sheet.line("pond", words, sources::SURFACE.text());
        return;
    };
    let limit = inquiry.value(&TOLERANCE).value.max(2.0 * error);
    let held = at_most(floor::metres(pond.depth), floor::metres(limit));
    sheet.test("pond", words.clone(), sources::SURFACE.text(), held);
    if held {
        sheet.advise(text!("{}; within the {} the survey may be off by", words, inches(limit)));
        return;
    }
    sheet.fault(words);
    let [from, to] = pond.bounds;
    let label = text!("{} deep", inches(pond.depth)).print(redtag_rule::schema::quantity::System::UsCustomary);
    let corner = |at: [f64; 2], level: f64| [at[0], at[1], floor.absolute(level)];
    sheet.mark(box_mark(Some(&floor.space.id), label, corner(from, pond.deepest[2]), corner(to, pond.level)));
    fill(floor, pond, cures);
}

/// The hollow filled up to where it runs over.
fn fill(floor: &Measured, pond: &Pond, cures: &mut Cures) {
    // What only a drain holds back is cured at the drain.
    let at_drain = |node: &Option<usize>| node.is_some_and(|node| floor.surface.nodes[node] == pond.spill);
    if floor.surface.drains.iter().any(at_drain) && !cures.words.is_empty() {
        return;
    }
    let Ok(points) = need!(floor.space, floor_survey.points) else { return };
    let [from, to] = pond.bounds;
    let level = floor::written_up(pond.level);
    let in_pond = |point: &Place<SurveyPoint>| {
        let (Some(at), Some(height)) = (&point.at, &point.elevation) else { return false };
        let within = |value: f64, axis: usize| value >= from[axis] - 1e-9 && value <= to[axis] + 1e-9;
        within(at.x.si(), 0) && within(at.y.si(), 1) && height.si() < pond.level
    };
    let low: Vec<(String, Value)> =
        points.items().filter(in_pond).map(|point| (format!("{}/elevation", point.pointer()), json!(level))).collect();
    let words = text!(
        "fill the hollow up to {}, or cut the ridge at {} by {}",
        inches(pond.level),
        place_words(pond.spill),
        inches(pond.depth)
    );
    cures.add(words, low);
}

fn to_where(floor: &Measured, outlet: Outlet) -> String {
    match outlet {
        Outlet::Drain(index) => floor.drains.get(index).map_or_else(String::new, |drain| format!(" to drain {}", drain.id)),
        Outlet::Door(index) => floor.doors.get(index).map_or_else(String::new, |door| format!(" out of {}", door.label())),
    }
}

/// Floor that pads cut off from every outlet.
fn shut_in(floor: &Measured, runoff: &Runoff, sheet: &mut Sheet) {
    let never = |face: &&[usize; 3]| face.iter().any(|node| runoff.fill.levels[*node].is_infinite());
    let area = area_of(&floor.surface, never);
    if area > 1e-6 {
        sheet.fault(text!("{} of floor has no way to any drain", square_feet(area)));
        sheet.cure(text!("give it a drain of its own, or a gap in what shuts it in"));
    }
}

/// Floor that runs out of a door: where the steepest way down from the middle of a triangle ends at one.
fn doors(floor: &Measured, sheet: &mut Sheet) {
    let paths = floor.surface.paths();
    let slopes = floor.surface.slopes();
    for (door, node) in floor.doors.iter().zip(&floor.surface.doors) {
        let open = door.door.as_ref().is_some_and(|leaf| leaf.threshold.is_some());
        let Some(node) = node.filter(|_| open) else { continue };
        let out = |end: PathEnd| end == PathEnd::Hollow(node);
        let area: f64 = paths.iter().zip(&slopes).filter(|(path, _)| out(path.end)).map(|(_, face)| face.area).sum();
        if area > 1e-6 {
            sheet.advise(text!("{} of floor runs out of {} before it reaches a drain", square_feet(area), door.label()));
        }
    }
}

fn area_of(surface: &Surface, chosen: impl Fn(&&[usize; 3]) -> bool) -> f64 {
    let area = |face: &[usize; 3]| {
        let [a, b, c] = surface.corners(face);
        ((b[0] - a[0]) * (c[1] - a[1]) - (c[0] - a[0]) * (b[1] - a[1])).abs() / 2.0
    };
    surface.faces.iter().filter(chosen).map(area).sum()
}

/// Where water would go with the drain blocked.
fn thresholds(floor: &Measured, sheet: &mut Sheet) {
    for (drain, node) in floor.drains.iter().zip(&floor.surface.drains) {
        let Some((level, door)) = node.and_then(|node| floor.surface.lowest_threshold(node)) else { continue };
        let Some(door) = floor.doors.get(door) else { continue };
        let rim = node.map_or(0.0, |node| floor.surface.nodes[node][2]);
        sheet.line(
            "lowest threshold",
            text!(
                "with {} blocked, water leaves by {} once it stands {} over the drain",
                drain.id,
                door.label(),
                inches(level - rim)
            ),
            "",
        );
    }
}
