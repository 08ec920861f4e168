//! The drain of a cooling coil or condensing burner: large enough, falling all the way, never reduced, and ending at a place that
//! is approved, with no direct joint to a waste pipe.
//!
//! A coil makes gallons a day. A line that sags or clogs overflows into the ceiling below or into the furnace.
//!
//! **How it is measured.** An appliance that may condense its flue gas must say whether it does. The nominal size of the drain pipe against 3/4 in and, where several units share it, against the
//! table by their cooling together; its slope; the sizes of the condensate pipes behind it; where it ends. A coil the fan draws
//! air through wants a trap of twice the suction and an inch. The tube of a condensate pump climbs and follows the pump's instructions:
//! size and slope are not asked of it. A pipe that is joined to a waste or vent pipe lets sewer gas into the unit. Hangers every 4 ft are common practice for plastic.
//!
//! **How it is fixed.** The line re-hung to fall, in one size to its end, with a fitting that lets one clear it.

use crate::network::{self, Network};
use crate::parameters::sloped;
use redtag_handbook::drainage::{cooling_condensate, least_condensate_drain, sources, suction_trap_depth};
use redtag_rule::prelude::*;
use uom::si::f64::Power;

/// Slope.
const SLOPE: Quantity<dimensions::Slope> = Quantity::new(
    "least_slope",
    "1/8 in/ft",
    "Least slope of a condensate drain.",
    "IRC M1411.3, as a city that adopts it prints it",
)
.within("1/8 in/ft", "1/2 in/ft");
/// Size.
const SIZE: Quantity<dimensions::Length> = Quantity::new(
    "least_size",
    "3/4 in",
    "Least nominal size of a condensate drain.",
    "IMC 307.2.2, as a city that adopts it prints it",
)
.within("1/2 in", "1 1/2 in");
/// Hangers.
const HANGERS: Quantity<dimensions::Length> = Quantity::new(
    "hangers_most",
    "4 ft",
    "Distance between hangers of a plastic condensate line beyond which it is worth a word.",
    "common practice: plastic pipe every 4 ft",
)
.within("2 ft", "10 ft");

/// The rule.
pub const RULE: Rule = Rule {
    citations: &[
        cited("IRC", "2018", "M1411.3"),
        cited("IRC", "2018", "M1411.3.3"),
        cited("IMC", "2018", "307.2.2"),
        cited("UPC", "2024", "814"),
        remembered("IMC", "2021", "307.2.1.1"),
        remembered("IPC", "2021", "314.2.1.1"),
    ],
    parameters: &[&SLOPE, &SIZE, &HANGERS],
    reads: &["/equipment", "/drainage"],
    ..Rule::new("drainage/condensate-drain", "Condensate drains", check)
};

const JOINT: &str = "IMC 307.2.1.1 and IPC 314.2.1.1, from memory";
const WANTED: &str = "whether its condensate runs off";

fn check(inquiry: &Inquiry) -> Vec<Finding> {
    let network = Network::of(inquiry);
    let equipment = need!(inquiry.project(), equipment).every();
    let wet: Vec<_> = equipment.iter().filter(|thing| makes_condensate(thing)).collect();
    let judged = wet.iter().map(|thing| thing.sheet(WANTED, |sheet| judge(inquiry, &network, (thing, &wet), sheet)));
    let untold = equipment.iter().filter(|thing| !makes_condensate(thing) && (may_condense(thing) || may_cool(thing)));
    let asked = untold.map(|thing| {
        thing.ask(WANTED, || {
            if may_cool(thing) {
                let wanted = "what becomes of its condensate; a `cooling_capacity` of 0 Btu/h where no coil is in it";
                return Err(Unresolved::because(format!("{}/condensate", thing.pointer()), wanted));
            }
            let burns = redtag_rule::kinds::burns(thing)?;
            if burns { Err(thing.missing("/fuel_burning/condensing")) } else { Ok(thing.complies(text!("it burns no fuel"))) }
        })
    });
    judged.chain(asked).collect()
}

/// Whether it burns fuel and nothing says that it does not condense its flue gas: no word of it, no vent category or draft hood that
/// rules it out, no efficiency below 90 %.
pub fn may_condense(equipment: &Place<Equipment>) -> bool {
    use EquipmentKind as K;
    let kinds = [K::Furnace, K::Boiler, K::StorageWaterHeater, K::TanklessWaterHeater, K::PoolHeater];
    if !kinds.contains(&equipment.kind) || !redtag_rule::kinds::may_burn(equipment) {
        return false;
    }
    let Some(burning) = equipment.fuel_burning.as_ref() else { return equipment.outdoors != Some(true) };
    let plate = burning.plate.as_ref();
    let dry = plate
        .and_then(|plate| plate.vent_category)
        .is_some_and(|category| matches!(category, VentCategory::CategoryI | VentCategory::CategoryIii));
    let modest = plate.and_then(|plate| plate.efficiency.as_ref()).is_some_and(|efficiency| efficiency.si() < 0.9);
    let hood = burning.burner == Some(Burner::DraftHood);
    equipment.outdoors != Some(true) && burning.condensing.is_none() && !(dry || modest || hood)
}

/// Whether it may hold a coil that cools, as most air handlers do.
fn may_cool(thing: &Equipment) -> bool {
    thing.kind == EquipmentKind::AirHandler && thing.cooling_capacity.is_none() && thing.outdoors != Some(true)
}

/// Whether it makes condensate: it says so, it condenses its flue gas, or it cools.
pub fn makes_condensate(equipment: &Equipment) -> bool {
    use EquipmentKind as K;
    let condenses = equipment.fuel_burning.as_ref().is_some_and(|burning| burning.condensing == Some(true));
    let cools = equipment.cooling_capacity.as_ref().is_some_and(|power| power.si() > 0.0)
        && matches!(equipment.kind, K::AirHandler | K::Furnace);
    // A heat pump or air conditioner that does not stand outdoors holds a coil that drips.
    let always = matches!(equipment.kind, K::HeatPumpWaterHeater | K::Dehumidifier | K::HeatPump | K::AirConditioner);
    equipment.outdoors != Some(true) && (equipment.condensate.is_some() || condenses || cools || always)
}

type Wet<'p, 'a> = (&'p Place<'a, Equipment>, &'p [&'p Place<'a, Equipment>]);

fn judge<'a>(inquiry: &Inquiry<'a>, network: &Network<'a>, (thing, wet): Wet<'_, 'a>, sheet: &mut Sheet) -> Lookup<Text> {
    let id = need!(thing, condensate.pipe)?;
    let pipe = need!(inquiry.project(), drainage.pipes).named(&id)?;
    joined(network, &pipe, sheet);
    if pipe.kind == DrainPipeKind::PumpDischarge && *need!(thing, condensate.pumped)? {
        ends(network, thing, &pipe, sheet);
        return Ok(text!("a pump lifts it through {}, as its instructions say", pipe.label()));
    }
    if let Some(size) = sheet.want(need!(pipe, size)) {
        sized(inquiry, (&pipe, wet), &size, sheet);
        behind(network, &pipe, size.quantity(), sheet);
    }
    if let Some(slope) = sheet.want(network::slope(&pipe)) {
        let least = inquiry.value(&SLOPE);
        let words = text!("falls {}, {} is the least", sloped(slope), sloped(least));
        if !sheet.require("slope", words, sources::CONDENSATE_SLOPE.text(), at_least(slope, least)) {
            sheet.related(pipe.pointer());
            let (words, value) = (text!("hang it to fall {}", sloped(least)), json!(sloped(least).print_in("in/ft")));
            // Where the heights of its ends are said they decide, and a stated slope would change nothing.
            if pipe.upper_invert.is_some() && pipe.lower_invert.is_some() && pipe.length.is_some() {
                sheet.cure(words);
            } else {
                sheet.cure_at(words, &[(format!("{}/slope", pipe.pointer()), value)]);
            }
        }
    }
    if let Some(clearable) = sheet.want(need!(pipe, clearable)) {
        let words = if *clearable {
            text!("it can be cleared without cutting")
        } else {
            text!("it cannot be cleared without cutting it")
        };
        sheet.require("maintenance", words, "IRC M1411.3.3", *clearable);
    }
    ends(network, thing, &pipe, sheet);
    trap(thing, sheet);
    if let Ok(hangers) = need!(pipe, support_spacing) {
        let words = text!("hangers {} apart, {} is usual", hangers, in_unit(inquiry.value(&HANGERS), "ft"));
        if !sheet.test("hangers", words.clone(), "common practice", at_most(hangers.quantity(), inquiry.value(&HANGERS))) {
            sheet.advise(words);
        }
    }
    Ok(text!("its drain {} is large enough, falls, and can be cleared", pipe.id))
}

/// No joint to a waste or vent pipe.
fn joined(network: &Network, pipe: &Place<DrainPipe>, sheet: &mut Sheet) {
    use DrainPipeKind as K;
    let mut at = pipe.into.as_deref();
    for _ in 0..network.pipes.len() {
        let Some(next) = at.and_then(|id| network.pipe(id)) else { return };
        if !matches!(next.kind, K::Condensate | K::PumpDischarge | K::Storm) {
            sheet.test("joint", text!("{} is joined to {}", pipe.label(), next.label()), JOINT, false);
            sheet.fault(text!("its condensate pipe is joined to {}: sewer gas can come back through it", next.label()));
            sheet.related(next.pointer());
            sheet.cure(text!("end it above a floor drain, hub or standpipe, or in a laundry sink, with air between"));
            return;
        }
        at = next.into.as_deref();
    }
}

/// The size, for all that share the pipe.
fn sized(
    inquiry: &Inquiry,
    (pipe, wet): (&Place<DrainPipe>, &[&Place<Equipment>]),
    size: &Place<quantity::Length>,
    sheet: &mut Sheet,
) {
    let sharing =
        wet.iter().filter(|thing| thing.condensate.as_ref().and_then(|made| made.pipe.as_deref()) == Some(pipe.id.as_str()));
    let sharing: Vec<_> = sharing.collect();
    let cools = |thing: &Equipment| {
        use EquipmentKind as K;
        matches!(thing.kind, K::AirHandler | K::AirConditioner | K::HeatPump) && thing.cooling_capacity.is_none()
    };
    if let Some(thing) = sharing.iter().find(|thing| cools(thing)) {
        sheet.lack(thing.missing("/cooling_capacity"));
    }
    let cooling: Power = sharing.iter().filter_map(|thing| thing.cooling_capacity.as_ref()).map(|power| power.quantity()).sum();
    let Some(table) = least_condensate_drain(cooling) else {
        return sheet.lack(Unresolved::because(size.pointer(), "a design: the table ends at 250 tons"));
    };
    let floor = inquiry.value(&SIZE);
    let least = if table > floor { table } else { floor };
    if cooling.value > 0.0 {
        sheet.line(
            "amount",
            text!("about {} from {} of cooling", in_unit(cooling_condensate(cooling), "gph"), cooling),
            sources::COOLING_CONDENSATE.text(),
        );
    }
    let words = text!("{} pipe, {} is the least", size, in_unit(least, "in"));
    if !sheet.require("size", words, sources::CONDENSATE_SIZE.text(), at_least(size.quantity(), least)) {
        sheet.related(pipe.pointer());
        let value = json!(quantity::Length::from_quantity(&least).print_in("in"));
        sheet.cure_at(text!("run it in {}", in_unit(least, "in")), &[(size.pointer().to_owned(), value)]);
    }
}

/// The condensate pipes behind it.
fn behind(network: &Network, pipe: &Place<DrainPipe>, size: uom::si::f64::Length, sheet: &mut Sheet) {
    let mut at = pipe.into.as_deref();
    // No way is longer than there are pipes.
    for _ in 0..network.pipes.len() {
        let Some(next) = at.and_then(|id| network.pipe(id)).filter(|next| next.kind == DrainPipeKind::Condensate) else { return };
        if let Some(its) = sheet.want(need!(next, size)) {
            let words = text!("{} then {} in {}", in_unit(size, "in"), its, next.id);
            if !sheet.require("no reduction", words, sources::CONDENSATE_SIZE.text(), at_least(its.quantity(), size)) {
                sheet.related(next.pointer());
            }
        }
        at = next.into.as_deref();
    }
}

/// An end that is named.
fn ends(network: &Network, thing: &Place<Equipment>, pipe: &Place<DrainPipe>, sheet: &mut Sheet) {
    let drain = need!(thing, condensate.drain);
    if pipe.into.is_none() && drain.is_err() {
        return sheet.lack(thing.missing("/condensate/drain"));
    }
    if let Some(drain) = drain.ok().and_then(|id| network.drains.iter().find(|drain| drain.id == *id)) {
        sheet.line("ends", text!("at {}", drain.label()), "");
    }
}

/// The trap of a coil the fan draws through.
fn trap(thing: &Place<Equipment>, sheet: &mut Sheet) {
    let Ok(suction) = need!(thing, condensate.suction) else { return };
    let wanted = suction_trap_depth(suction.quantity());
    if thing.condensate.as_ref().and_then(|made| made.trapped) == Some(false) {
        return sheet.advise(text!("the fan pulls {} on an untrapped drain: it will not run off", suction));
    }
    if let Some(depth) = sheet.want(need!(thing, condensate.trap_depth)) {
        let words = text!("a trap of {} against {} of suction, {} is usual", depth, suction, in_unit(wanted, "in"));
        if !sheet.test("trap", words.clone(), sources::SUCTION_TRAP.text(), at_least(depth.quantity(), wanted)) {
            sheet.advise(words);
        }
    }
}
