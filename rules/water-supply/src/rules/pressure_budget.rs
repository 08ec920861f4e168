//! At every tap enough pressure must be left while the house draws what it is expected to.
//!
//! Pressure is spent on the way: by height, by meter, backflow preventer, filter, softener and heater, and by friction, which
//! grows with nearly the square of the flow. What is too little at the last shower shows when somebody opens a second tap: **a
//! shower without enough pressure at its valve can turn scalding or freezing at once.**
//!
//! **How it is measured.** What the house can count on: cut-in of the pump, the drive's set pressure, or the main's pressure while
//! water runs; never more than the reducing valve lets through. From that come off the rise to the outlet at 0.433 psi a foot,
//! the losses of the devices as their makers state them at the design flow, and friction in each pipe at the flow that the supply
//! units behind it make likely.
//!
//! **How it is fixed.** One size larger pipe where most is lost, a larger softener or filter, a higher cut-in. The worksheet says
//! what each part takes.

use crate::figures::{CURVE, GROUPS, PER_FOOT, TABLE};
use crate::network::{self, Counting, Network, rounded};
use crate::source;
use redtag_handbook::units;
use redtag_handbook::water::{Friction, Outlet, elevation_loss, friction_loss, outlet_needs};
use redtag_rule::prelude::*;
use uom::si::f64::Pressure;

/// Friction.
const FRICTION: Choice = Choice::new(
    "friction",
    "hazen-williams",
    &["hazen-williams", "darcy"],
    "The formula of friction.",
    "common practice: sizing tables are made with Hazen-Williams; the two part by up to 16 percent",
);

/// The rule.
pub const RULE: Rule = Rule {
    citations: &[cited("IRC", "2018", "P2903.1"), cited("IPC", "2018", "604.3"), cited("IPC", "2018", "E103.2.2")],
    parameters: &[&PER_FOOT, &TABLE, &CURVE, &GROUPS, &FRICTION],
    reads: &["/water", "/equipment"],
    ..Rule::new("water-supply/pressure-budget", "Pressure left at every tap", check)
};

const WANTED: &str = "whether enough pressure is left at it";

fn check(inquiry: &Inquiry) -> Vec<Finding> {
    let fixtures = need!(inquiry.project(), water.fixtures).every();
    let network = Network::of(inquiry);
    let judged = |fixture: &Place<'_, Fixture>| match &network {
        Ok(network) => fixture.sheet(WANTED, |sheet| judge(inquiry, network, fixture, sheet)),
        Err(unresolved) => fixture.ask(WANTED, || Err(unresolved.clone())),
    };
    fixtures.iter().map(judged).collect()
}

fn judge(inquiry: &Inquiry, network: &Network, fixture: &Place<Fixture>, sheet: &mut Sheet) -> Lookup<Text> {
    redtag_rule_water::all_fixtures(inquiry, sheet);
    let needed = needed(fixture)?;
    let source = source::of_the_house(inquiry)?;
    let ways = [("cold", &fixture.cold_pipe), ("hot", &fixture.hot_pipe)];
    let mut least: Option<Pressure> = None;
    for (side, pipe) in ways {
        let Some(pipe) = pipe else { continue };
        let ids: Vec<String> = network.chain(pipe).iter().map(|pipe| pipe.get().id.clone()).collect();
        let (start, words) = source::running(inquiry, &source, (&[&fixture.id], &ids))?;
        if least.is_none() {
            sheet.line("at the source", text!("{} {}", in_unit(start, "psi"), words), "");
        }
        let Some(left) = along(inquiry, network, (fixture, &source, pipe, side), start, sheet)? else { continue };
        least = Some(least.map_or(left, |known| known.min(left)));
    }
    let Some(least) = least else { return Err(fixture.missing("/cold_pipe")) };
    if !sheet.at_least("left", &least, &needed, "psi", "IRC P2903.1") {
        sheet.fault(text!("{} are left at it, {} is the least", in_unit(least, "psi"), in_unit(needed, "psi")));
        sheet.cure(text!("save {}: the largest lines above show where", in_unit(needed - least, "psi")));
    }
    Ok(text!("{} left, {} wanted", in_unit(least, "psi"), in_unit(needed, "psi")))
}

/// What the outlet needs: as told, else by the table.
fn needed(fixture: &Place<Fixture>) -> Lookup<Pressure> {
    if let Ok(told) = need!(fixture, pressure) {
        return Ok(told.quantity());
    }
    let outlet = match fixture.kind {
        FixtureKind::Bathtub => Outlet::Bathtub,
        FixtureKind::Shower => Outlet::Shower,
        FixtureKind::Lavatory => Outlet::Lavatory,
        FixtureKind::WaterCloset => Outlet::WaterCloset,
        FixtureKind::KitchenSink | FixtureKind::BarSink => Outlet::KitchenSink,
        FixtureKind::Dishwasher => Outlet::Dishwasher,
        FixtureKind::LaundryTub => Outlet::LaundryTub,
        FixtureKind::HoseBibb => Outlet::HoseBibb,
        _ => return Err(fixture.missing("/pressure")),
    };
    let balanced = !matches!(fixture.scald_protection, Some(ScaldProtection::None | ScaldProtection::Tempering));
    outlet_needs(outlet, balanced).map(|(_, pressure)| pressure).ok_or_else(|| fixture.missing("/pressure"))
}

type Way<'p, 'a> = (&'p Place<'a, Fixture>, &'p Place<'a, WaterSource>, &'p str, &'static str);

/// The pressure left at the end of one side; `None` where the pipe is not known.
fn along(inquiry: &Inquiry, network: &Network, way: Way, start: Pressure, sheet: &mut Sheet) -> Lookup<Option<Pressure>> {
    let (fixture, source, pipe, side) = way;
    let chain = network.chain(pipe);
    if chain.is_empty() {
        return Ok(None);
    }
    let height = rise(inquiry, fixture, &chain);
    let devices = devices(inquiry, fixture, source, &chain);
    let friction = friction(inquiry, network, &chain, side, sheet);
    let (height, devices, friction) = (height, devices, friction).together()?;
    let left = start - height - devices - friction;
    let words = text!(
        "{} less {} for height, {} in devices, {} by friction leaves {}",
        in_unit(start, "psi"),
        in_unit(height, "psi"),
        in_unit(devices, "psi"),
        in_unit(friction, "psi"),
        in_unit(left, "psi")
    );
    sheet.line(side, words, "IPC E103.2.2; Hazen-Williams or Darcy-Weisbach");
    Ok(Some(left))
}

/// What height takes: the outlet's own above the source, where told, else that of the pipes.
fn rise(inquiry: &Inquiry, fixture: &Place<Fixture>, chain: &[&Place<WaterPipe>]) -> Lookup<Pressure> {
    let per_foot = inquiry.value(&PER_FOOT);
    if let Ok(told) = need!(fixture, rise) {
        return Ok(elevation_loss(told.quantity(), per_foot));
    }
    let rises: Vec<_> = chain.iter().map(|pipe| need!(*pipe, rise)).collect();
    Ok(rises.together()?.into_iter().map(|rise| elevation_loss(rise.quantity(), per_foot)).sum())
}

/// Meter, valves, treatment and heater.
fn devices(
    inquiry: &Inquiry,
    fixture: &Place<Fixture>,
    source: &Place<WaterSource>,
    chain: &[&Place<WaterPipe>],
) -> Lookup<Pressure> {
    let mut drops: Vec<Lookup<Pressure>> = Vec::new();
    if source.kind == WaterSourceKind::PublicMain {
        drops.push(need!(source, meter_pressure_drop).map(|drop| drop.quantity()));
    }
    for valve in need!(inquiry.project(), water.valves)?.items().filter(|valve| spends(inquiry, valve)) {
        match need!(valve, pipe) {
            Ok(pipe) if chain.iter().any(|own| own.id == *pipe.get()) => {
                drops.push(need!(valve, pressure_drop).map(|drop| drop.quantity()));
            }
            Ok(_) => {}
            // It may stand on the way.
            Err(unresolved) => drops.push(Err(unresolved)),
        }
    }
    for step in need!(inquiry.project(), water.treatment)?.items() {
        let device = need!(step, equipment).and_then(|id| inquiry.equipment(&id));
        let past = fixture.softened == Some(false) && device.is_ok_and(|device| device.kind == EquipmentKind::WaterSoftener);
        if !past {
            drops.push(need!(step, pressure_drop).map(|drop| drop.quantity()));
        }
    }
    for pipe in chain {
        if let Ok(id) = need!(*pipe, heater) {
            let heater = inquiry.equipment(&id)?;
            let told = need!(heater, water_heating.pressure_drop).map(|drop| drop.quantity());
            let tank = heater.kind != EquipmentKind::TanklessWaterHeater;
            drops.push(if tank { Ok(told.unwrap_or(units::psi(0.0))) } else { told });
        }
    }
    Ok(drops.together()?.into_iter().sum())
}

/// Whether a valve takes pressure worth counting and stands on the way to taps.
fn spends(inquiry: &Inquiry, valve: &Place<WaterValve>) -> bool {
    use WaterValveKind as Kind;
    let takes = matches!(valve.kind, Kind::DualCheck | Kind::DualCheckWithVent | Kind::DoubleCheck | Kind::ReducedPressureZone);
    let equipment = need!(inquiry.project(), equipment).every();
    let branch = valve
        .serves
        .as_ref()
        .is_some_and(|serves| !serves.is_empty() && serves.iter().all(|id| equipment.iter().any(|item| &item.id == id)));
    takes && !branch
}

/// What friction takes, pipe by pipe, each at its own flow.
fn friction(
    inquiry: &Inquiry,
    network: &Network,
    chain: &[&Place<WaterPipe>],
    side: &str,
    sheet: &mut Sheet,
) -> Lookup<Pressure> {
    let counting = Counting::new(inquiry.value(&TABLE), inquiry.value(&CURVE), inquiry.value(&GROUPS));
    let by = if inquiry.value(&FRICTION) == "darcy" { Friction::Darcy } else { Friction::HazenWilliams };
    let mut losses = Vec::new();
    for pipe in chain.iter().rev() {
        // What is lost without fittings is lost in any case.
        let fittings = sheet.want(need!(*pipe, fittings_length)).map_or(units::feet(0.0), |length| length.quantity());
        let facts = (network::tube(pipe), network::inside(pipe), need!(*pipe, length), network.flow(pipe, counting)).together();
        losses.push(facts.map(|(tube, inside, length, (_, flow))| {
            let along = length.quantity() + fittings;
            let lost = friction_loss(by, tube, inside, flow, along);
            let words = text!("{} over {}: {}", in_unit(rounded(flow), "gpm"), in_unit(along, "ft"), in_unit(lost, "psi"));
            sheet.line(&format!("{side}, {}", pipe.label()), words, "");
            lost
        }));
    }
    Ok(losses.together()?.into_iter().sum())
}
