//! An appliance must stand as far from whatever can burn as its label says, on every side and above.
//!
//! Wood that is warmed for years catches fire at temperatures that never harmed it when it was new. The label comes first; the
//! code's table allows less only behind protection that is built as its notes say, and only where the instructions do not
//! forbid it.
//!
//! **How it is measured.** In space, not only in plan: from each face of the body to walls, ceiling, floor and bodies that can
//! burn, and around its corners along the diagonal. Gypsum board on wood counts as what can burn. A wall of concrete or
//! masonry does not, nor do metal jackets. In a closet the label's figures for closets hold. Where no place is given, or
//! the project states less than is drawn, the clearances that it states are held against the label. Vents and connectors have clearances of their own.
//!
//! **How it is fixed.** Move the appliance or what can burn, or protect it: the finding says how far, and what a ventilated
//! sheet would leave. Fire: keep what burns away while it runs.

use crate::amounts::{inches, metres};
use crate::moving::shortest;
use crate::scene::{Scene, Scenes, Thing, marks};
use crate::shields::{self, GAP, INTERPOLATE, SOLID_FUEL};
use crate::{label, surface};
use redtag_handbook::clearance::protection::Protection;
use redtag_handbook::space::{self, Body, Solid, TOUCHING, dot};
use redtag_rule::prelude::*;
use uom::si::f64::Length;

/// Gypsum board on steel.
const GYPSUM: Flag = Flag::new(
    "gypsum_on_steel_burns",
    false,
    "Whether gypsum board counts as something that can burn where there is no wood behind it.",
    "common practice: its paper is left out of account",
);

/// The rule.
pub const RULE: Rule = Rule {
    citations: &[
        remembered("IRC", "2021", "M1306.1"),
        cited("IRC", "2021", "Table M1306.2 (G2409.2)"),
        remembered("IRC", "2021", "M1302.1, G2404.3"),
    ],
    parameters: &[&INTERPOLATE, &SOLID_FUEL, &GAP, &GYPSUM],
    reads: &["/spaces", "/equipment"],
    ..Rule::new("clearances/combustible-clearance", "Clearance of appliances to what can burn", check)
};

fn check(inquiry: &Inquiry) -> Vec<Finding> {
    let scenes = Scenes::of(inquiry);
    let all = need!(inquiry.project(), equipment).every();
    let concerned = all.iter().filter(|equipment| label::concerns(equipment));
    concerned
        .map(|equipment| {
            if equipment.outdoors == Some(true) {
                return equipment.not_applicable(text!("stands outdoors")).done();
            }
            equipment.sheet("whether it is far enough from what can burn", |sheet| {
                if equipment.label_clearances.is_none() {
                    kinds::burns(equipment)?;
                }
                judge(inquiry, &scenes, equipment, sheet)
            })
        })
        .collect()
}

/// Something near an appliance.
struct Near<'s> {
    label: String,
    pointer: Option<String>,
    solid: Solid,
    burns: Lookup<bool>,
    thing: Option<&'s Thing<'s>>,
}

/// A side with the clearance it must have.
struct Wanted {
    side: Side,
    label: Length,
    least: Length,
}

fn judge<'a>(inquiry: &Inquiry<'a>, scenes: &Scenes<'a>, appliance: &Place<'a, Equipment>, sheet: &mut Sheet) -> Lookup<Text> {
    if let Some(listed) = sheet.want(need!(appliance, listing.listed))
        && !*listed
    {
        sheet.fault(text!("it is not listed and labelled, so no label says how near it may stand"));
        sheet.cure(text!("put in an appliance that is listed and labelled"));
        return Ok(Text::default());
    }
    let scene = scenes.around(appliance)?;
    let closet = label::is_closet(scene.space.kind);
    let wanted = sides(inquiry, appliance, closet, sheet);
    match scene.thing(appliance) {
        Ok(thing) => in_space(inquiry, scenes, (scene, thing), &wanted, sheet),
        Err(missing) => as_stated(appliance, &wanted, &missing, sheet),
    }
    Ok(text!("as far from what can burn as its label asks"))
}

/// What each side must have: the label's figure, or what protection leaves of it.
fn sides(inquiry: &Inquiry, appliance: &Place<Equipment>, closet: bool, sheet: &mut Sheet) -> Vec<Wanted> {
    let terms = shields::terms(inquiry);
    let mut all = Vec::new();
    for side in label::SIDES {
        let Some(Some(from_label)) = sheet.want(label::wanted(appliance, side, closet)) else { continue };
        let words = text!("{} {}", in_unit(from_label, "in"), label::place(side));
        sheet.line("label", words, "the appliance's label");
        let mut least = from_label;
        if let Some(Some(left)) = sheet.want(shields::left(appliance, side, from_label, &terms)) {
            sheet.line("protection", text!("{}: {}", label::place(side), left.words), left.source);
            least = left.clearance;
        }
        all.push(Wanted { side, label: from_label, least });
    }
    all
}

/// Held against the clearances that the project states.
fn as_stated(appliance: &Place<Equipment>, wanted: &[Wanted], missing: &Unresolved, sheet: &mut Sheet) {
    if appliance.room_clearances.is_none() {
        sheet.lack(missing.clone());
        return;
    }
    for want in wanted.iter().filter(|want| want.least.value > 0.0) {
        let stated = appliance.room_clearances.as_ref().and_then(|stated| label::side(stated, want.side));
        let Some(stated) = stated else {
            sheet.lack(appliance.missing(&format!("/room_clearances/{}", label::field(want.side))));
            continue;
        };
        nearer_as_stated(want, stated, "say where it stands if what is there cannot burn", sheet);
    }
}

fn nearer_as_stated(want: &Wanted, stated: Length, or_else: &str, sheet: &mut Sheet) {
    if sheet.at_least(label::place(want.side), &stated, &want.least, "in", "the appliance's label") {
        return;
    }
    let words =
        text!("{} is stated {}, {} is the least", in_unit(stated, "in"), label::place(want.side), in_unit(want.least, "in"));
    sheet.fault(words);
    sheet.cure(text!("move it {} farther, or {}", in_unit(want.least - stated, "in"), or_else));
}

/// What the project states nearer than anything that is drawn: a cupboard or a duct that is not drawn may hang there.
fn stated_nearer(scene: &Scene, thing: &Thing, wanted: &[Wanted], near: &[Near], sheet: &mut Sheet) {
    for want in wanted.iter().filter(|want| want.least.value > 0.0) {
        let stated = thing.equipment.room_clearances.as_ref().and_then(|stated| label::side(stated, want.side));
        let Some(stated) = stated.filter(|stated| !at_least(*stated, want.least)) else { continue };
        let there = |gap: f64| at_most(metres(gap), stated);
        let bodies = near.iter().filter_map(|other| distance(&thing.body, want, other, sheet_faces(thing, want.side)));
        let level = match want.side {
            Side::Top => scene.space.ceiling_height.as_ref().map(|ceiling| (ceiling.si() - thing.body.top()).max(0.0)),
            Side::Bottom => Some(thing.body.base),
            _ => None,
        };
        if !bodies.chain(level).any(there) {
            nearer_as_stated(want, stated, "draw what is there if it cannot burn", sheet);
        }
    }
}

fn in_space<'a>(
    inquiry: &Inquiry<'a>,
    scenes: &Scenes<'a>,
    (scene, thing): (&Scene<'a>, &Thing<'a>),
    wanted: &[Wanted],
    sheet: &mut Sheet,
) {
    if wanted.iter().all(|want| want.least.value <= 0.0) {
        return;
    }
    sheet.want(scene.outline());
    let gypsum = inquiry.value(&GYPSUM);
    let near = around(scene, thing, gypsum);
    let round = thing.face(space::Side::Front).err().filter(|_| differ(wanted));
    match round {
        Some(facing) => unfaced(thing, wanted, &near, facing, sheet),
        None => wanted.iter().filter(|want| want.least.value > 0.0).for_each(|want| side(scene, thing, want, &near, sheet)),
    }
    corners(scene, thing, wanted, &near, sheet);
    level(scene, thing, wanted, gypsum, sheet);
    stated_nearer(scene, thing, wanted, &near, sheet);
    let burns =
        |other: &Equipment| other.combustible.unwrap_or(!surface::is_metal(other.kind) && !crate::gear::is_electrical(other));
    let strays = scene.strays(scenes, &thing.equipment.get().id, burns);
    strays.into_iter().for_each(|strays| sheet.lack(strays));
}

/// Whether the label asks for different clearances around it.
fn differ(wanted: &[Wanted]) -> bool {
    let around = wanted.iter().filter(|want| redtag_rule_space::side(want.side).is_some());
    let (least, most) =
        around.fold((f64::INFINITY, 0.0_f64), |(least, most), want| (least.min(want.least.value), most.max(want.least.value)));
    least < most
}

/// A round body of which nobody says which way it faces, where that matters.
fn unfaced(thing: &Thing, wanted: &[Wanted], near: &[Near], facing: Unresolved, sheet: &mut Sheet) {
    let around = wanted.iter().filter(|want| redtag_rule_space::side(want.side).is_some());
    let most = around.fold(0.0_f64, |most, want| most.max(want.least.value));
    let close = |other: &&Near| {
        let gap = thing.solid.gap(&other.solid);
        gap.height <= TOUCHING && !at_least(metres(gap.plan), metres(most)) && other.burns != Ok(false)
    };
    if near.iter().any(|other| close(&other)) {
        sheet.lack(facing);
    }
}

/// Walls and bodies.
fn around<'s>(scene: &'s Scene<'s>, thing: &Thing, gypsum: bool) -> Vec<Near<'s>> {
    let walls = scene.room.iter().flat_map(|room| room.walls()).map(|wall| {
        let behind = surface::assemblies_at(scene, wall);
        let pointer = behind.first().map(|assembly| assembly.pointer().to_owned());
        let label = behind.first().map_or_else(|| "the wall".to_owned(), |assembly| format!("wall {}", assembly.id));
        let all: Lookup<Vec<bool>> = behind.iter().map(|assembly| surface::assembly_burns(assembly, gypsum)).collect();
        let burns =
            all.and_then(|all| if all.is_empty() { Err(scene.space.missing("/assemblies")) } else { Ok(all.contains(&true)) });
        Near { label, pointer, solid: surface::thin(wall, 30.0), burns, thing: None }
    });
    let others = scene.things.iter().filter(|other| other.equipment.get().id != thing.equipment.get().id);
    let bodies = others.map(|other| Near {
        label: other.equipment.label(),
        pointer: Some(other.equipment.pointer().to_owned()),
        solid: other.solid.clone(),
        burns: surface::body_burns(&other.equipment),
        thing: Some(other),
    });
    walls.chain(bodies).collect()
}

/// One side: the nearest of what can burn straight before that face.
fn side(scene: &Scene, thing: &Thing, want: &Wanted, near: &[Near], sheet: &mut Sheet) {
    let mut best: Option<(f64, &Near)> = None;
    for other in near {
        let Some(distance) = distance(&thing.body, want, other, sheet_faces(thing, want.side)) else { continue };
        match &other.burns {
            Ok(true) => {
                if best.is_none_or(|(so_far, _)| distance < so_far) {
                    best = Some((distance, other));
                }
            }
            Ok(false) => {}
            Err(missing) => sheet.lack(missing.clone()),
        }
    }
    match best {
        Some((distance, other)) => fault(scene, thing, want, (distance, other), sheet),
        None => {
            let words = text!("nothing that can burn within {} {}", in_unit(want.least, "in"), label::place(want.side));
            sheet.test("clearance", words, "IRC M1306.1", true);
        }
    }
}

/// The face of a side, where it is upright and the facing matters and is known.
fn sheet_faces(thing: &Thing, side: Side) -> Option<space::Face> {
    let upright = redtag_rule_space::side(side)?;
    Some(thing.body.face(upright))
}

/// How far something is on a side, where it is nearer than wanted.
fn distance(body: &Body, want: &Wanted, other: &Near, face: Option<space::Face>) -> Option<f64> {
    let least = want.least.value;
    let (heights, solid) = ((body.base, body.top()), &other.solid);
    let Some(face) = face else {
        let over = if want.side == Side::Top { body.above(least) } else { body.below(Some(least)) };
        over.overlap(solid)?;
        let gap = if want.side == Side::Top { solid.bottom - body.top() } else { body.base - solid.top };
        return Some(gap.max(0.0));
    };
    if body.round {
        let gap = body.solid().gap(solid);
        let straight = gap.height <= TOUCHING && (gap.to.0 != gap.from.0);
        let towards = space::unit(gap.to.0 - gap.from.0)?;
        let this_way = straight && dot(towards, face.out) >= std::f64::consts::FRAC_1_SQRT_2 - 1e-9;
        return (this_way && !at_least(metres(gap.plan), want.least)).then_some(gap.plan);
    }
    let zone = face.zone(least, face.width, 0.0, heights);
    zone.overlap(solid)?;
    Some(face.deepest_space((face.width, least), heights, face.width, None, std::slice::from_ref(solid)).0)
}

/// What stands off a corner or an edge: along the diagonal, each direction counted in parts of its own clearance.
fn corners(scene: &Scene, thing: &Thing, wanted: &[Wanted], near: &[Near], sheet: &mut Sheet) {
    if thing.body.round {
        return;
    }
    let least = |side: Side| wanted.iter().find(|want| want.side == side).map_or(0.0, |want| want.least.value);
    let right = thing.body.face(space::Side::Right).out;
    for other in near.iter().filter(|other| other.burns == Ok(true)) {
        let gap = thing.solid.gap(&other.solid);
        let by = gap.to.0 - gap.from.0;
        let (across, out, up) = (dot(by, right), dot(by, thing.body.front), gap.to.1 - gap.from.1);
        let parts = [
            (across.abs(), least(if across > 0.0 { Side::Right } else { Side::Left })),
            (out.abs(), least(if out > 0.0 { Side::Front } else { Side::Back })),
            (up.abs(), least(if up > 0.0 { Side::Top } else { Side::Bottom })),
        ];
        let off: Vec<(f64, f64)> = parts.into_iter().filter(|(distance, _)| *distance > TOUCHING).collect();
        if off.len() < 2 || off.iter().any(|(_, least)| *least <= 0.0) {
            continue;
        }
        let share: f64 = off.iter().map(|(distance, least)| distance / least * (distance / least)).sum();
        if at_least(share, 1.0) {
            continue;
        }
        let short = (1.0 / share.sqrt() - 1.0) * gap.distance;
        let words = text!(
            "{} is {} off its corner, {} nearer than its label allows along that diagonal",
            other.label,
            inches(gap.distance),
            inches(short)
        );
        sheet.test("diagonal", words.clone(), "IRC M1306.1", false);
        sheet.fault(words);
        show(scene, thing, other, sheet);
        sheet.cure(text!("move one of the two {} away at least", inches(short)));
    }
}

/// The ceiling, and the floor below what hangs.
fn level(scene: &Scene, thing: &Thing, wanted: &[Wanted], gypsum: bool, sheet: &mut Sheet) {
    for want in wanted.iter().filter(|want| want.least.value > 0.0 && matches!(want.side, Side::Top | Side::Bottom)) {
        let top = want.side == Side::Top;
        let gap = if top {
            let Some(ceiling) = sheet.want(need!(scene.space, ceiling_height)) else { continue };
            (ceiling.si() - thing.body.top()).max(0.0)
        } else {
            thing.body.base
        };
        if at_least(metres(gap), want.least) {
            sheet.at_least(label::place(want.side), &metres(gap), &want.least, "in", "the appliance's label");
            continue;
        }
        let kind = |assembly: &Place<Assembly>| {
            let upper = matches!(assembly.kind, AssemblyKind::Ceiling | AssemblyKind::Roof);
            if top { upper } else { assembly.kind == AssemblyKind::Floor }
        };
        let own: Vec<Place<Assembly>> = need!(scene.space, assemblies).every().into_iter().filter(kind).collect();
        let burns: Lookup<Vec<bool>> = own.iter().map(|assembly| surface::assembly_burns(assembly, gypsum)).collect();
        let untold = if own.is_empty() { Err(scene.space.missing("/assemblies")) } else { burns };
        if let Some(burns) = sheet.want(untold)
            && burns.contains(&true)
        {
            let pointer = own.first().map(|assembly| assembly.pointer().to_owned());
            let label = (if top { "the ceiling" } else { "the floor" }).to_owned();
            let height = if top { thing.body.top() + gap } else { 0.0 };
            let solid = Solid::new(thing.body.plan(), height, height + 0.01);
            fault(scene, thing, want, (gap, &Near { label, pointer, solid, burns: Ok(true), thing: None }), sheet);
        }
    }
}

fn fault(scene: &Scene, thing: &Thing, want: &Wanted, (distance, other): (f64, &Near), sheet: &mut Sheet) {
    let words =
        text!("{} is {} {}, {} is the least", other.label, inches(distance), label::place(want.side), in_unit(want.least, "in"));
    sheet.test("clearance", words.clone(), "the appliance's label", false);
    sheet.fault(words);
    show(scene, thing, other, sheet);
    if let Some(face) = sheet_faces(thing, want.side) {
        sheet.mark(marks(scene, "clearance", &face.zone(want.least.value, face.width, 0.0, (thing.body.base, thing.body.top()))));
    }
    let short = want.least.value - distance;
    match other.thing.and_then(|body| {
        let face = sheet_faces(thing, want.side)?;
        let zone = face.zone(want.least.value, face.width, 0.0, (thing.body.base, thing.body.top()));
        let ways = [face.out, face.along, face.along * -1.0];
        let tries = ways.map(|way| way * (zone.plan.extent(way).1 - body.solid.plan.extent(way).0));
        shortest(scene, body, &tries, |there| zone.overlap(there).is_none())
    }) {
        Some(found) => sheet.cure_at(text!("move {} {}", other.label, found.words), &found.values),
        None => sheet.cure(text!("move it {} away from {}", inches(short), other.label)),
    }
    let sheet_steel = Protection::VentilatedSteel.reduces(want.label, shields::towards(want.side), true);
    let allowed = thing.equipment.reduction_allowed != Some(false) && shields::on(&thing.equipment, want.side).is_none();
    if let Some(left) = sheet_steel.map(|reduced| reduced.clearance()).filter(|left| allowed && at_most(*left, metres(distance)))
    {
        let words = text!(
            "or protect it with sheet metal of 24 gage over an air space of 1 in, which leaves {}, where the instructions allow that",
            in_unit(left, "in")
        );
        sheet.cure(words);
    }
}

fn show(scene: &Scene, thing: &Thing, other: &Near, sheet: &mut Sheet) {
    other.pointer.iter().for_each(|pointer| sheet.related(pointer));
    sheet.mark(marks(scene, &thing.equipment.label(), &thing.solid));
    sheet.mark(marks(scene, &other.label, &other.solid));
}
