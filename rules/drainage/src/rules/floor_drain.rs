//! A floor drain must be large enough, open under a strainer that comes off, and free: nothing fixed may stand over it.
//!
//! A drain under the water heater cannot be cleaned, and its trap cannot be filled; when it clogs, the room floods first and
//! somebody notices later.
//!
//! **How it is measured.** Nominal size of the outlet, whether the strainer comes off, whether one can get at it, and whether
//! the footprint of a piece of equipment that stands low over the floor covers any of it. Where a pack asks for a floor drain in
//! mechanical rooms, each such room must have one.
//!
//! **How it is fixed.** The equipment moves, or the drain does while the floor is still open.

use crate::footprint;
use crate::network::Network;
use crate::parameters::is_mechanical;
use redtag_rule::prelude::*;
use uom::si::f64::{Area, Length};

/// Least outlet.
const OUTLET: Quantity<dimensions::Length> =
    Quantity::new("outlet_least", "2 in", "Least nominal size of a floor drain's outlet.", "from memory of IRC P2719.1")
        .within("2 in", "4 in");
/// Where a drain is asked for.
const REQUIRED: Flag = Flag::new(
    "required_in_mechanical_rooms",
    false,
    "Whether a mechanical room of a dwelling must have a floor drain; neither IRC nor IPC asks for one.",
    "from memory of IRC P2719 and IPC 413; UPC 418.3 lists boiler rooms but not dwellings",
);
/// How low equipment must stand to be in the way.
const LOW: Quantity<dimensions::Length> = Quantity::new(
    "free_height",
    "24 in",
    "Height above the floor up to which equipment over a drain keeps one from it.",
    "common practice: room for an arm and a cable",
)
.within("6 in", "60 in");
/// Open area.
const OPEN: Number = Number::new(
    "open_area_share",
    0.0,
    "Least open area of the strainer as a share of the pipe's cross-section; 0.667 in the UPC.",
    "from memory of UPC 418.1, not confirmed; the IRC states none",
)
.within(0.0, 1.5);

/// The rule.
pub const RULE: Rule = Rule {
    citations: &[remembered("IRC", "2021", "P2719.1"), cited("IPC", "2018", "413.2"), remembered("UPC", "2018", "418")],
    parameters: &[&OUTLET, &REQUIRED, &LOW, &OPEN],
    reads: &["/drainage", "/equipment", "/spaces"],
    ..Rule::new("drainage/floor-drain", "Floor drains one can get at", check)
};

const WANTED: &str = "whether the floor drain is large enough and free";

fn check(inquiry: &Inquiry) -> Vec<Finding> {
    let network = Network::of(inquiry);
    let drains = network.drains.iter().map(|drain| {
        if !matches!(drain.kind, DrainKind::FloorDrain | DrainKind::FloorSink) {
            return drain.not_applicable(text!("a {} is no floor drain", drain.kind)).done();
        }
        drain.sheet(WANTED, |sheet| judge(inquiry, drain, sheet))
    });
    drains.chain(rooms(inquiry, &network)).collect()
}

/// Rooms that must have a drain and have none.
fn rooms<'a>(inquiry: &Inquiry<'a>, network: &Network<'a>) -> Vec<Finding> {
    if !inquiry.value(&REQUIRED) {
        return Vec::new();
    }
    let spaces = need!(inquiry.project(), spaces).every();
    let rooms = spaces.iter().filter(|space| is_mechanical(space.kind));
    rooms
        .map(|space| {
            let has = network
                .drains
                .iter()
                .any(|drain| drain.kind == DrainKind::FloorDrain && drain.space.as_deref() == Some(space.id.as_str()));
            let words = if has { text!("it has a floor drain") } else { text!("a floor drain is required here, there is none") };
            if has { space.complies(words).done() } else { space.correction(words).done() }
        })
        .collect()
}

fn judge(inquiry: &Inquiry, drain: &Place<Drain>, sheet: &mut Sheet) -> Lookup<Text> {
    if let Some(outlet) = sheet.want(need!(drain, outlet_size)) {
        let least = inquiry.value(&OUTLET);
        let words = text!("an outlet of {}, {} is the least", outlet, in_unit(least, "in"));
        sheet.require("outlet", words, "from memory of IRC P2719.1", at_least(outlet.quantity(), least));
        open_area(inquiry, drain, outlet.quantity(), sheet);
    }
    if let Some(removable) = sheet.want(need!(drain, strainer_removable)) {
        let words = if *removable { text!("its strainer comes off") } else { text!("its strainer does not come off") };
        if !sheet.require("strainer", words, "from memory of IRC P2719.1", *removable) {
            sheet.cure_at(text!("a strainer that comes off"), &[(removable.pointer().to_owned(), json!(true))]);
        }
    }
    if let Some(free) = sheet.want(need!(drain, accessible)) {
        let words = if *free { text!("one can get at it") } else { text!("one cannot get at it") };
        sheet.require("access", words, "IPC 413.2", *free);
    }
    covered(inquiry, drain, sheet);
    Ok(text!("large enough, with a strainer that comes off, and free"))
}

fn open_area(inquiry: &Inquiry, drain: &Place<Drain>, outlet: Length, sheet: &mut Sheet) {
    let share = inquiry.value(&OPEN);
    if share <= 0.0 {
        return;
    }
    let Some(open) = sheet.want(need!(drain, strainer_open_area)) else { return };
    let least: Area = outlet * outlet * (std::f64::consts::FRAC_PI_4 * share);
    let words = text!("{} open, {} is the least", in_unit(&open, "in²"), in_unit(least, "in²"));
    sheet.require("open area", words, "from memory of UPC 418.1", at_least(open.quantity(), least));
}

/// No strainer is wider, in metres.
const WIDEST: f64 = 1.3;

/// Whether a thing may stand low over the floor of the drain's space, as far as is said.
fn may_cover(drain: &Drain, thing: &Equipment, low: Length) -> bool {
    let itself = thing.kind == EquipmentKind::FloorDrain || drain.equipment.as_deref() == Some(thing.id.as_str());
    let elsewhere = thing.outdoors == Some(true)
        || (thing.space.is_some() && drain.space.is_some() && thing.space != drain.space)
        || (thing.space.is_none() && thing.placement.is_none());
    let high = matches!(thing.mounting, Some(Mounting::Suspended | Mounting::Roof | Mounting::Ground))
        || at_least(crate::floor::metres(footprint::base(thing)), low);
    !itself && !elsewhere && !high
}

/// Whether something stands on it.
fn covered(inquiry: &Inquiry, drain: &Place<Drain>, sheet: &mut Sheet) {
    let low = inquiry.value(&LOW);
    let every = need!(inquiry.project(), equipment).every();
    let near: Vec<&Place<Equipment>> = every.iter().filter(|thing| may_cover(drain, thing, low)).collect();
    if near.is_empty() {
        return;
    }
    let Some((space, at)) = sheet.want((need!(drain, space), need!(drain, at)).together()) else { return };
    for thing in near {
        let Some(own) = sheet.want(need!(thing, space)) else { continue };
        if *own != *space {
            continue;
        }
        let Some(print) = sheet.want(footprint::told(thing)) else { continue };
        let base = crate::floor::metres(footprint::base(thing));
        let distance = print.distance([at.x.si(), at.y.si()]);
        if drain.strainer_diameter.is_none() && (0.0..WIDEST / 2.0).contains(&distance) {
            sheet.lack(drain.missing("/strainer_diameter"));
        }
        let radius = drain.strainer_diameter.as_ref().map_or(0.0, |across| across.si() / 2.0);
        let gap = crate::floor::metres(distance - radius);
        if gap.value >= -1e-9 {
            continue;
        }
        let round = thing.placement.as_ref().is_some_and(|placement| placement.footprint == Some(Footprint::Circle));
        if print.front.is_none() && !round {
            // Whether it covers the drain hangs on the way it is turned.
            sheet.lack(thing.missing("/placement/facing"));
            continue;
        }
        let words = text!("{} stands over it", thing.label());
        sheet.test("footprint", words.clone(), "IPC 413.2", false);
        sheet.fault(words);
        sheet.related(thing.pointer());
        sheet.cure(text!("move {} by {} at the least, so that the strainer is free", thing.label(), in_unit(-gap, "in")));
        let [from, to] = print.bounds();
        let height = thing.placement.as_ref().and_then(|placement| placement.height.as_ref()).map_or(1.0, |height| height.si());
        let floor = drain.space.as_deref();
        sheet.mark(box_mark(floor, "over the drain", [from[0], from[1], base.value], [to[0], to[1], base.value + height]));
    }
}
