//! What equipment lets go must not come faster than the drain takes it: else the water climbs out of the recess and over the
//! floor.
//!
//! A softener's backwash runs for ten minutes at 2 to 5 gpm, a large filter at 7 or more; a clogged strainer or a small pipe takes
//! less. The water then stands where people reach into panels and pumps: water and electricity together can kill.
//!
//! **How it is measured.** Step by step over time: what runs in, cycle by cycle; what leaves, the least of the strainer's rim
//! (weir), its openings (orifice), both partly blocked, and its trap arm and pipe half full by Manning's formula; what is kept
//! in the recess and on the measured floor around the drain. Discharges that may run together do, of those that never do the worst
//! counts; relief valves are tried alone. The worksheet shows the hydrograph of the worst: flow in, flow out, depth over the
//! drain and what stands, and when it is gone. The peak is held against the lip of the recess; where there is none, against
//! the feet of equipment and the lowest threshold.
//!
//! **How it is fixed.** A larger strainer or pipe, a deeper recess, a flow control at the softener that lets less through, or
//! controls that keep two regenerations apart.

use crate::discharging::{Scene, goes_on, scenes, trouble};
use crate::floor::{self, gpm, in_gallons, inches, minutes};
use crate::network::{self, Network};
use crate::pool::Pool;
use redtag_handbook::drainage::{
    DrainSize, Inflow, Moment, Outflow, Routed, Strainer, drainage_air_gap, part_full, route, schedule_40_inside, sources,
};
use redtag_rule::prelude::*;
use uom::si::f64::{Length, Ratio, VolumeRate};
use uom::si::volume_rate;

/// How much of the strainer is blocked.
const CLOGGED: Quantity<dimensions::Ratio> =
    Quantity::new("clogged", "50 %", "Share of the strainer that counts as blocked.", "common practice: half")
        .within("0 %", "99 %");
/// How full a pipe may run.
const FULL: Quantity<dimensions::Ratio> = Quantity::new(
    "pipe_fill",
    "50 %",
    "Share of its diameter to which a drain pipe may fill; half leaves air above the water.",
    "common practice; the published list of shower traps is about half full",
)
.within("25 %", "94 %");
/// Roughness.
const ROUGHNESS: Number =
    Number::new("roughness", 0.011, "Manning's n of the drain pipe.", "common practice: 0.009 to 0.011 for plastic")
        .within(0.008, 0.016);
/// How long a relief valve runs.
const RELIEF_LASTS: Quantity<dimensions::Duration> = Quantity::new(
    "relief_lasts",
    "10 min",
    "How long a relief valve is taken to run where the project does not say.",
    "common practice: until somebody shuts the water off",
)
.within("1 min", "10 h");

/// The rule.
pub const RULE: Rule = Rule {
    citations: &[remembered("IRC", "2021", "P2706.1"), remembered("IPC", "2021", "802.4"), remembered("IPC", "2021", "709.3")],
    parameters: &[&CLOGGED, &FULL, &ROUGHNESS, &RELIEF_LASTS],
    reads: &["/drainage", "/equipment", "/spaces", "/openings"],
    ..Rule::new("drainage/discharge-level", "Discharges over time", check)
};

const WANTED: &str = "whether the drain takes what is discharged into it";

fn check(inquiry: &Inquiry) -> Vec<Finding> {
    let network = Network::of(inquiry);
    let lost = network.discharges.iter().filter(|discharge| discharge.drain.is_none() && runs(discharge));
    let asked = lost.map(|discharge| discharge.ask(WANTED, || Err(discharge.missing("/drain"))));
    let judged = network.drains.iter().map(|drain| {
        let run: Vec<_> = network.discharged_into(&drain.id).filter(|discharge| runs(discharge)).cloned().collect();
        if run.is_empty() {
            return drain.not_applicable(text!("nothing that runs for a while is discharged into it")).done();
        }
        if matches!(drain.kind, DrainKind::DryWell | DrainKind::Outdoors | DrainKind::Sump | DrainKind::StormSump) {
            return drain.not_applicable(text!("a {} is sized by its soil or its pump", drain.kind)).done();
        }
        drain.sheet(WANTED, |sheet| judge(inquiry, &network, (drain, &run), sheet))
    });
    judged.chain(asked).collect()
}

/// Pans only run when something leaks, and nobody can say how fast.
fn runs(discharge: &Discharge) -> bool {
    goes_on(discharge.kind) || (trouble(discharge.kind) && (discharge.flow.is_some() || discharge.steps.is_some()))
}

fn judge<'a>(
    inquiry: &Inquiry<'a>,
    network: &Network<'a>,
    (drain, run): (&Place<'a, Drain>, &[Place<'a, Discharge>]),
    sheet: &mut Sheet,
) -> Lookup<Text> {
    all_listed(inquiry, sheet);
    let scenes = scenes(inquiry, run, inquiry.value(&RELIEF_LASTS));
    let outflow = outflow(inquiry, network, drain, sheet);
    let (scenes, outflow) = (scenes, outflow).together()?;
    if !floor::in_floor(drain.kind) {
        return Ok(against_pipe(&scenes, &outflow, sheet));
    }
    let pool = Pool::of(inquiry, drain)?;
    let routed = scenes.iter().map(|scene| (scene, route(&pool.basin, &outflow, &scene.inflows)));
    let Some((scene, worst)) = routed.max_by(|a, b| a.1.peak.depth.total_cmp(&b.1.peak.depth)) else {
        return Ok(text!("nothing runs"));
    };
    sheet.line("worst", text!("{}", scene.name), "");
    hydrograph(&worst, sheet);
    let held = limits(&pool, &worst, sheet);
    // Within the lip it reaches nothing that stands on the floor.
    if let (None, Some(unseen)) = (pool.lip, &pool.unseen) {
        sheet.lack(unseen.clone());
    }
    tubes(inquiry, drain, &worst, sheet);
    blocked(&pool, scene, sheet);
    if !held {
        cure(&pool, scene, (drain, &outflow), sheet);
    }
    let stands = text!("{}: {} at the most over the drain", scene.name, inches(worst.peak.depth));
    Ok(worst.cleared.map_or(stands.clone(), |cleared| text!("{}, gone after {}", stands, minutes(cleared))))
}

/// What is not listed may run at the same time.
fn all_listed(inquiry: &Inquiry, sheet: &mut Sheet) {
    let whole = need!(inquiry.project(), drainage.discharges_complete);
    if !whole.is_ok_and(|whole| *whole) {
        let wanted = "whether these are all the discharges: what is not listed may run at the same time";
        sheet.lack(Unresolved::because("/drainage/discharges_complete", wanted));
    }
}

/// What lets the water of a drain go.
fn outflow<'a>(inquiry: &Inquiry<'a>, network: &Network<'a>, drain: &Place<'a, Drain>, sheet: &mut Sheet) -> Lookup<Outflow> {
    let strainer = if matches!(drain.kind, DrainKind::FloorDrain | DrainKind::FloorSink) {
        let facts = (need!(drain, strainer_diameter), need!(drain, strainer_open_area)).together();
        facts.map(|(across, open)| Some(Strainer::round(across.quantity(), open.quantity(), inquiry.value(&CLOGGED).value)))
    } else {
        Ok(None)
    };
    let pipe = pipe_limit(inquiry, network, drain);
    let (strainer, (limit, which)) = (strainer, pipe).together()?;
    sheet.line("what its pipe carries", text!("{} in {}", gpm(limit.value), which), sources::MANNING.text());
    Ok(Outflow { strainer, pipe: limit })
}

/// The lesser of its trap arm and its pipe.
fn pipe_limit<'a>(inquiry: &Inquiry<'a>, network: &Network<'a>, drain: &Place<'a, Drain>) -> Lookup<(VolumeRate, String)> {
    let pipe = network.pipe_of(drain)?;
    let (size, slope) = (need!(pipe, size), network::slope(&pipe)).together()?;
    let stated = pipe.inside_diameter.as_ref().map(|inside| inside.quantity());
    let inside = stated.or_else(|| DrainSize::of(size.quantity()).and_then(schedule_40_inside));
    let inside = inside.ok_or_else(|| pipe.missing("/inside_diameter"))?;
    if pipe.kind == DrainPipeKind::Stack {
        // A stack takes what its branch brings; the branch is what the project leaves out.
        return Ok((carried(inquiry, inside, redtag_handbook::drainage::inches_per_foot(0.25)), format!("stack {}", pipe.id)));
    }
    let mut least = (carried(inquiry, inside, slope), format!("pipe {}", pipe.id));
    if let Ok((size, slope)) = (need!(drain, trap.arm_size), need!(drain, trap.arm_slope)).together()
        && let Some(inside) = DrainSize::of(size.quantity()).and_then(schedule_40_inside)
    {
        let arm = carried(inquiry, inside, slope.quantity());
        if arm < least.0 {
            least = (arm, "its trap arm".to_owned());
        }
    }
    Ok(least)
}

fn carried(inquiry: &Inquiry, inside: Length, slope: Ratio) -> VolumeRate {
    part_full(inside, inquiry.value(&FULL).value, slope, inquiry.value(&ROUGHNESS)).flow
}

/// A standpipe or tub: no floor keeps water, the pipe must take what comes.
fn against_pipe(scenes: &[Scene], outflow: &Outflow, sheet: &mut Sheet) -> Text {
    let most = scenes.iter().flat_map(|scene| &scene.inflows).map(|inflow| inflow.flow).fold(0.0, f64::max);
    let most = flow(most);
    let words = text!("{} at the most runs in, its pipe takes {}", gpm(most.value), gpm(outflow.pipe.value));
    if !sheet.require("flow", words.clone(), sources::MANNING.text(), at_most(most, outflow.pipe)) {
        sheet.cure(text!("a larger pipe, or a flow control that lets less through"));
    }
    words
}

/// The hydrograph: what runs in and out, how deep it stands, what is held.
fn hydrograph(routed: &Routed, sheet: &mut Sheet) {
    let mut before = Moment::default();
    let sampled = routed.sampled(14);
    let last = sampled.len().saturating_sub(1);
    for (index, moment) in sampled.iter().enumerate() {
        let deepest = *moment == routed.peak;
        let steady = moment.inflow == before.inflow && (moment.depth - before.depth).abs() <= 0.002 * before.depth;
        // While nothing changes one row says it.
        if index == 0 || index == last || deepest || !steady {
            let label = if deepest { "deepest" } else { "hydrograph" };
            sheet.line(label, row(moment), sources::ROUTING.text());
        }
        before = *moment;
    }
    match routed.cleared {
        Some(cleared) => sheet.line("gone", text!("after {}", minutes(cleared)), sources::ROUTING.text()),
        None => sheet.line("gone", text!("not within a day"), sources::ROUTING.text()),
    }
}

fn row(moment: &Moment) -> Text {
    let volume = in_gallons(moment.volume);
    text!(
        "at {}: {} in, {} out, {} deep, {}",
        minutes(moment.time),
        gpm(moment.inflow),
        gpm(moment.outflow),
        inches(moment.depth),
        volume
    )
}

/// The peak against the lip, or against what stands on the floor.
fn limits(pool: &Pool, worst: &Routed, sheet: &mut Sheet) -> bool {
    let peak = worst.peak.depth;
    let depth = floor::metres(peak);
    let mut held = true;
    if let Some(lip) = pool.lip {
        let words = text!("{} at the most, {} to the lip of the recess", inches(peak), inches(lip));
        held = sheet.require("freeboard", words, sources::ROUTING.text(), at_most(depth, floor::metres(lip)));
    }
    for (index, (level, name)) in pool.reached.iter().enumerate().filter(|(index, (level, _))| *index == 0 || *level < peak) {
        let words = text!("{} at the most, {} to {}", inches(peak), inches(*level), name);
        let dry = at_most(depth, floor::metres(*level));
        // Over the lip is the fault already; what it reaches then is said beside it.
        if pool.lip.is_some() || index > 3 {
            sheet.test("freeboard", words, sources::ROUTING.text(), dry);
        } else {
            held &= sheet.require("freeboard", words, sources::ROUTING.text(), dry);
        }
    }
    if let (false, Some([from, to])) = (held, pool.mark) {
        sheet.mark(box_mark(Some(&pool.space), "runs over here", from, [to[0], to[1], to[2] + peak]));
    }
    held
}

/// The tubes that end above the drain, at the peak.
fn tubes(inquiry: &Inquiry, drain: &Place<Drain>, worst: &Routed, sheet: &mut Sheet) {
    let tubes = need!(inquiry.project(), drainage.indirect).every();
    for tube in tubes.iter().filter(|tube| tube.drain.as_deref() == Some(drain.id.as_str())) {
        let rim = drain.rim.as_ref().map_or(0.0, |rim| rim.si());
        let end = tube.air_gap.as_ref().map(|gap| gap.si()).or(tube.end.as_ref().map(|end| end.si() - rim));
        let (Some(end), Some(inside)) = (end, &tube.inside_diameter) else { continue };
        if tube.gap == Some(GapKind::Direct) {
            continue;
        }
        let wanted = drainage_air_gap(inside.quantity(), 2.0, Length::default());
        let left = end - worst.peak.depth;
        let words = text!("{} left under {} at the deepest, {} is wanted", inches(left), tube.id, in_unit(wanted, "in"));
        if !sheet.test(
            "air gap at the deepest",
            words.clone(),
            sources::DRAINAGE_GAP.text(),
            at_least(floor::metres(left), wanted),
        ) {
            sheet.advise(words);
        }
    }
}

/// The whole discharge with the drain blocked.
fn blocked(pool: &Pool, scene: &Scene, sheet: &mut Sheet) {
    let routed = route(&pool.basin, &Outflow::blocked(), &scene.inflows);
    let words = text!("{} would stand {} over the drain", in_gallons(routed.total), inches(routed.peak.depth));
    sheet.line("with the drain blocked", words, sources::ROUTING.text());
}

/// The greatest flow the recess and drain would take.
fn cure(pool: &Pool, scene: &Scene, (drain, outflow): (&Place<Drain>, &Outflow), sheet: &mut Sheet) {
    let limit = pool.lip.or(pool.reached.first().map(|(level, _)| *level)).unwrap_or(0.0);
    let holds = |share: f64| {
        let inflows: Vec<_> = scene.inflows.iter().map(|inflow| Inflow { flow: inflow.flow * share, ..*inflow }).collect();
        route(&pool.basin, outflow, &inflows).peak.depth <= limit
    };
    let (mut low, mut high) = (0.0, 1.0);
    for _ in 0..7 {
        let middle = (low + high) / 2.0;
        if holds(middle) { low = middle } else { high = middle }
    }
    let most = scene.inflows.iter().map(|inflow| inflow.flow).fold(0.0, f64::max);
    sheet.cure(text!("a flow control that lets no more than {} through", gpm(most * low)));
    sheet.cure(text!("a larger strainer and pipe at {}, or a deeper recess: it must pass {}", drain.id, gpm(most)));
}

fn flow(number: f64) -> VolumeRate {
    VolumeRate::new::<volume_rate::cubic_meter_per_second>(number)
}
