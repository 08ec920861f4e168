//! Water must not run too fast in a pipe: it hammers, whistles and eats copper.
//!
//! At the flow that the supply units behind a pipe make likely, speed follows from its inside diameter. Plastic is the narrower of
//! two pipes of one nominal size.
//!
//! **How it is measured.** Supply units behind the pipe, the flow they make likely, over the inside area.
//!
//! **How it is fixed.** The next size up, whose speed the finding says. Hot copper wears fastest: **a pinhole in a hot pipe sprays
//! scalding water.**

use crate::figures::{CURVE, GROUPS, TABLE};
use crate::network::{self, Counting, Network, rounded};
use redtag_handbook::units;
use redtag_handbook::water::{NOMINAL, inside_diameter, velocity};
use redtag_rule::prelude::*;
use uom::si::f64::{Velocity, VolumeRate};

/// Cold, and plastic.
const FASTEST: Quantity<dimensions::Velocity> = Quantity::new(
    "fastest",
    "8 ft/s",
    "The fastest water may run in cold copper and in plastic.",
    "NSPC 10.14.1; the IRC only says controlled",
)
.within("4 ft/s", "12 ft/s");
/// Hot copper.
const FASTEST_HOT: Quantity<dimensions::Velocity> = Quantity::new(
    "fastest_hot_copper",
    "5 ft/s",
    "The fastest hot water may run in copper.",
    "NSPC 10.14.1 and a maker's guidance for copper",
)
.within("2 ft/s", "8 ft/s");

/// The rule.
pub const RULE: Rule = Rule {
    citations: &[remembered("IRC", "2021", "P2903.5"), cited("NSPC", "2009", "10.14.1")],
    parameters: &[&FASTEST, &FASTEST_HOT, &TABLE, &CURVE, &GROUPS],
    reads: &["/water"],
    ..Rule::new("water-supply/pipe-velocity", "Water not too fast for its pipe", check)
};

const WANTED: &str = "how fast water runs in it";

fn check(inquiry: &Inquiry) -> Vec<Finding> {
    let network = Network::of(inquiry);
    let judged = |pipe: Place<'_, WaterPipe>| {
        if matches!(pipe.kind, WaterPipeKind::Nonpotable | WaterPipeKind::Hydronic | WaterPipeKind::Recirculation) {
            return pipe.not_applicable(text!("no taps of the house hang on it")).done();
        }
        if pipe.kind == WaterPipeKind::Manifold {
            return pipe.not_applicable(text!("manifolds have a table of their own")).done();
        }
        match &network {
            Ok(network) => pipe.sheet(WANTED, |sheet| judge(inquiry, network, &pipe, sheet)),
            Err(unresolved) => pipe.ask(WANTED, || Err(unresolved.clone())),
        }
    };
    need!(inquiry.project(), water.pipes).every().into_iter().map(judged).collect()
}

fn judge(inquiry: &Inquiry, network: &Network, pipe: &Place<WaterPipe>, sheet: &mut Sheet) -> Lookup<Text> {
    redtag_rule_water::all_fixtures(inquiry, sheet);
    let counting = Counting::new(inquiry.value(&TABLE), inquiry.value(&CURVE), inquiry.value(&GROUPS));
    let ((units, flow), inside, material) =
        (network.flow(pipe, counting), network::inside(pipe), need!(pipe, material)).together()?;
    let hot = pipe.kind == WaterPipeKind::Hot;
    let copper = matches!(*material, WaterPipeMaterial::CopperK | WaterPipeMaterial::CopperL | WaterPipeMaterial::CopperM);
    let limit = if hot && copper { inquiry.value(&FASTEST_HOT) } else { inquiry.value(&FASTEST) };
    let words = text!("{} supply units, {}", format!("{:.1}", units), in_unit(rounded(flow), "gpm"));
    sheet.line("flow", words, "IRC tables P2903.6 and P2903.6(1)");
    let speed = velocity(flow, inside);
    if !sheet.at_most("speed", &speed, &limit, "ft/s", "NSPC 10.14.1") {
        let size = pipe.size.as_ref().map_or_else(|| text!("{}", in_unit(inside, "in")), |size| text!("{}", size));
        sheet.fault(text!(
            "{} run at {} in {}, {} is the most",
            in_unit(rounded(flow), "gpm"),
            in_unit(speed, "ft/s"),
            size,
            in_unit(limit, "ft/s")
        ));
        larger(pipe, flow, limit, sheet);
    }
    Ok(text!("{} at {}", in_unit(rounded(flow), "gpm"), in_unit(speed, "ft/s")))
}

/// The first size in which the flow is slow enough.
fn larger(pipe: &Place<WaterPipe>, flow: VolumeRate, limit: Velocity, sheet: &mut Sheet) {
    let Ok(tube) = network::tube(pipe) else { return };
    let fits = NOMINAL.into_iter().map(units::inches).find_map(|size| {
        let inside = inside_diameter(tube, size)?;
        let speed = velocity(flow, inside);
        at_most(speed, limit).then_some((size, inside, speed))
    });
    let Some((size, inside, speed)) = fits else { return };
    let written = |length| quantity::Length::from_quantity(&length).print_in("in");
    let values = [
        (format!("{}/size", pipe.pointer()), json!(written(size))),
        (format!("{}/inside_diameter", pipe.pointer()), json!(written(inside))),
    ];
    sheet.cure_at(text!("{} of the same pipe: {}", in_unit(size, "in"), in_unit(speed, "ft/s")), &values);
}
