//! What takes indirect waste must be a receptor: seen, reached, and used for nothing that people wash themselves in.
//!
//! Brine and filter mud in a bathtub, or condensate into a drain in the crawl space that nobody sees clog, are what this is
//! about.
//!
//! **How it is measured.** The kind of each drain that takes an indirect pipe, a discharge or condensate, the space it is in, whether one can
//! get at it; a hub must stand at least 1 in above the floor.
//! A laundry tub may take condensate. A sump for rain or ground water takes clear water and never brine, backwash or the water of a
//! washer.
//!
//! **How it is fixed.** A floor drain, floor sink, hub or standpipe in the room instead.

use crate::discharging::treats_water;
use crate::network::Network;
use redtag_rule::prelude::*;

/// Softener into a laundry tub.
const TUB: Flag = Flag::new(
    "laundry_tub_takes_treatment_waste",
    false,
    "Whether a laundry tub may take the waste of a softener or filter; readings of P2706.2 differ.",
    "common practice: the authority's reading of IRC P2706.2",
);
/// Condensate into a laundry tub.
const CONDENSATE: Flag = Flag::new(
    "laundry_tub_takes_condensate",
    true,
    "Whether a laundry tub or utility sink may take condensate.",
    "from memory of IMC 307.2.1.1 and IPC 314.2.1.1 (2021), which name it; IRC P2706.2 does not",
);
/// Height of a hub.
const HUB: Quantity<dimensions::Length> =
    Quantity::new("hub_above_floor", "1 in", "Least height of a hub drain above the floor.", "from memory of IRC P2706.1.1")
        .within("0 in", "4 in");

/// The rule.
pub const RULE: Rule = Rule {
    citations: &[remembered("IRC", "2021", "P2706.1"), remembered("IRC", "2021", "P2706.2"), cited("IPC", "2018", "802.3")],
    parameters: &[&TUB, &CONDENSATE, &HUB],
    reads: &["/drainage", "/spaces", "/equipment"],
    ..Rule::new("drainage/receptor", "Receptors of indirect waste", check)
};

const WANTED: &str = "whether this may take indirect waste";

fn check(inquiry: &Inquiry) -> Vec<Finding> {
    let network = Network::of(inquiry);
    let tubes = need!(inquiry.project(), drainage.indirect).every();
    let equipment = need!(inquiry.project(), equipment).every();
    let nowhere = tubes.iter().filter(|tube| tube.drain.is_none());
    let asked = nowhere.map(|tube| tube.ask(WANTED, || Err(tube.missing("/drain"))));
    let judged = network.drains.iter().map(|drain| {
        let id = Some(drain.id.as_str());
        let from_tubes = tubes.iter().filter(|tube| tube.drain.as_deref() == id).filter_map(|tube| tube.equipment.as_deref());
        let from_runs = network.discharged_into(&drain.id).filter_map(|discharge| discharge.get().equipment.as_deref());
        let from_coils = equipment.iter().filter(|thing| drips_into(thing, &drain.id)).map(|thing| thing.get().id.as_str());
        let mut sources: Vec<&str> = from_tubes.chain(from_runs).chain(from_coils).collect();
        sources.sort_unstable();
        sources.dedup();
        if sources.is_empty() {
            return drain.not_applicable(text!("nothing ends above it")).done();
        }
        drain.sheet(WANTED, |sheet| judge(inquiry, drain, &sources, sheet))
    });
    judged.chain(asked).collect()
}

fn judge(inquiry: &Inquiry, drain: &Place<Drain>, from: &[&str], sheet: &mut Sheet) -> Lookup<Text> {
    let equipment = need!(inquiry.project(), equipment).every();
    for thing in equipment.iter().filter(|thing| from.contains(&thing.id.as_str())) {
        let allowed = takes(inquiry, drain, thing, sheet);
        let words = text!("{} takes {}", drain.kind, thing.label());
        if !sheet.test("kind", words, "from memory of IRC P2706.2", allowed) {
            sheet.fault(text!("a {} may not take the waste of {}", drain.kind, thing.label()));
            sheet.related(thing.pointer());
            let clear = if storm(inquiry, drain) { "; what is not clear water never goes into a storm sump" } else { "" };
            sheet.cure(text!("lead it to a floor drain, floor sink, hub drain or standpipe{}", clear));
        }
    }
    if matches!(drain.kind, DrainKind::DryWell | DrainKind::Outdoors) {
        return Ok(text!("outside the building"));
    }
    if let Some(space) = sheet.want(need!(drain, space).and_then(|id| inquiry.space(&id))) {
        let hidden = matches!(space.kind, SpaceKind::Attic | SpaceKind::CrawlSpace | SpaceKind::Plenum | SpaceKind::Shaft);
        let words = text!("in {}", space.label());
        if !sheet.test("place", words, "IPC 802.3", !hidden) {
            sheet.fault(text!("it is in {}: a receptor may not be where nobody sees it", space.label()));
            sheet.related(space.pointer());
        }
    }
    if let Some(free) = sheet.want(need!(drain, accessible)) {
        let words = if *free { text!("one can get at it") } else { text!("one cannot get at it") };
        sheet.require("access", words, "IPC 802.3", *free);
    }
    if drain.kind == DrainKind::HubDrain
        && let Some(rim) = sheet.want(need!(drain, rim))
    {
        let least = inquiry.value(&HUB);
        let words = text!("its hub is {} above the floor, {} is the least", in_unit(&rim, "in"), in_unit(least, "in"));
        sheet.require("hub", words, "from memory of IRC P2706.1.1", at_least(rim.quantity(), least));
    }
    Ok(text!("a {} may take it", drain.kind))
}

/// Whether the condensate of a thing ends at a drain.
fn drips_into(thing: &Equipment, drain: &str) -> bool {
    thing.condensate.as_ref().is_some_and(|made| made.drain.as_deref() == Some(drain))
}

/// Whether a sump lifts rain or ground water and no waste.
fn storm(inquiry: &Inquiry, drain: &Place<Drain>) -> bool {
    let pumps = need!(inquiry.project(), drainage.pumps).every();
    let clear = |pump: &Place<DrainagePump>| pump.sump.as_ref() == Some(&drain.id) && pump.sewage == Some(false);
    drain.kind == DrainKind::StormSump || (drain.kind == DrainKind::Sump && pumps.iter().any(clear))
}

/// What a thing lets go into a drain, as far as tubes, discharges and condensate say.
fn lets_go<'a>(inquiry: &Inquiry<'a>, drain: &Place<Drain>, thing: &Place<'a, Equipment>) -> Vec<Lookup<DischargeKind>> {
    let (from, into) = (Some(&thing.id), Some(&drain.id));
    let discharges = need!(inquiry.project(), drainage.discharges).every();
    let discharges = discharges.iter().filter(|one| one.equipment.as_ref() == from && one.drain.as_ref() == into);
    let mut all: Vec<Lookup<DischargeKind>> = discharges.map(|one| Ok(one.kind)).collect();
    if drips_into(thing, &drain.id) {
        all.push(Ok(DischargeKind::Condensate));
    }
    let tubes = need!(inquiry.project(), drainage.indirect).every();
    for tube in tubes.iter().filter(|one| one.equipment.as_ref() == from && one.drain.as_ref() == into) {
        match tube.carries {
            Some(carries) => all.push(Ok(carries)),
            None if all.is_empty() => all.push(Err(tube.missing("/carries"))),
            None => {}
        }
    }
    all
}

/// Whether a drain may take the waste of a thing. Where that depends on what the waste is and nobody says it, it is asked for.
fn takes(inquiry: &Inquiry, drain: &Place<Drain>, thing: &Place<Equipment>, sheet: &mut Sheet) -> bool {
    let from = thing.kind;
    let clear = |sheet: &mut Sheet, kinds: &[DischargeKind]| {
        let each = lets_go(inquiry, drain, thing);
        each.into_iter().all(|kind| sheet.want(kind).is_none_or(|kind| kinds.contains(&kind)))
    };
    if storm(inquiry, drain) {
        use DischargeKind as K;
        let waste = treats_water(from) || matches!(from, EquipmentKind::ClothesWasher | EquipmentKind::Dishwasher);
        return !waste && clear(sheet, &[K::Condensate, K::Relief, K::BackflowRelief, K::Pan, K::TankDrain, K::PumpOut]);
    }
    match drain.kind {
        DrainKind::Sink => from == EquipmentKind::Dishwasher,
        DrainKind::LaundryTub if from == EquipmentKind::ClothesWasher => true,
        DrainKind::LaundryTub if treats_water(from) => inquiry.value(&TUB),
        DrainKind::LaundryTub => inquiry.value(&CONDENSATE) && clear(sheet, &[DischargeKind::Condensate]),
        _ => true,
    }
}
