//! Holes and notches for pipes must leave studs and joists strong enough, and pipes near the face need a steel plate.
//!
//! A stud bored too wide buckles, a joist notched in its middle splits, and a nail through a pipe leaks inside the wall for years.
//!
//! **How it is measured.** What is bored (stud, joist, plate), its depth, whether it bears; the width of the hole and its
//! distance from the edge; the depth and place of a notch. Studs that bear: hole 40 percent of the depth, notch 25. Others: 60
//! and 40. Joists: hole a third of the depth and 2 in from the edges; notch a sixth deep and a third long, not in the middle
//! third of the span, a quarter deep at the ends. A plate of a wall that bears or faces outdoors that is cut by more than half its
//! width is tied with steel. Pipes of cast iron and galvanized steel need no plate. Engineered lumber and steel follow their makers alone.
//!
//! **How it is fixed.** Another way for the pipe; a doubled stud or a shoe the engineer names; a plate of 16 gauge where the
//! pipe is nearer to the face than 1-1/4 in.

use crate::bores;
use redtag_handbook::water::{MemberUse, greatest_joist_hole, greatest_joist_notch, greatest_stud_hole, greatest_stud_notch};
use redtag_rule::prelude::*;
use uom::si::f64::Length;

/// Near the face.
const SHIELD_WITHIN: Quantity<dimensions::Length> = Quantity::new(
    "shield_within",
    "1.25 in",
    "A pipe nearer than this to the nailing face is shielded.",
    "from memory of IRC P2603.2.1; older editions 1-1/2 in",
)
.within("0 in", "2 in");
/// Thickness.
const SHIELD: Quantity<dimensions::Length> = Quantity::new(
    "shield_thickness",
    "0.0575 in",
    "The least thickness of the steel plate.",
    "from memory of IRC P2603.2.1; some city codes 1/16 in",
)
.within("0 in", "0.25 in");
/// Edge of a stud.
const STUD_EDGE: Quantity<dimensions::Length> = Quantity::new(
    "stud_edge",
    "0.625 in",
    "How far a hole stays from the edge of a stud.",
    "IRC R602.6, as printed in a framing guide",
)
.within("0 in", "1 in");
/// Edge of a joist.
const JOIST_EDGE: Quantity<dimensions::Length> = Quantity::new(
    "joist_edge",
    "2 in",
    "How far a hole stays from the edges of a joist.",
    "IRC R502.8, as printed in a framing guide",
)
.within("0 in", "4 in");

/// The rule.
pub const RULE: Rule = Rule {
    citations: &[
        cited("IRC", "2018", "R602.6"),
        cited("IRC", "2018", "R502.8"),
        remembered("IRC", "2021", "R602.6.1"),
        remembered("IRC", "2021", "P2603.2.1"),
    ],
    parameters: &[&SHIELD_WITHIN, &SHIELD, &STUD_EDGE, &JOIST_EDGE],
    reads: &["/spaces", "/water", "/drainage"],
    ..Rule::new("water-supply/framing-bores", "Holes that leave framing strong and pipes out of reach of nails", check)
};

const WANTED: &str = "whether the framing bears the hole";

fn check(inquiry: &Inquiry) -> Vec<Finding> {
    let judged = |bore: bores::Bore| {
        let solid = need!(bore.assembly, framing.material);
        let solid = solid.is_ok_and(|material| matches!(*material, FramingMaterial::Concrete | FramingMaterial::Masonry));
        if solid || bore.assembly.kind == AssemblyKind::FoundationWall || bore.hole.bores == Some(BoredMember::None) {
            return bore.hole.not_applicable(text!("no framing member is bored")).done();
        }
        bore.hole.sheet(WANTED, |sheet| judge(inquiry, &bore, sheet))
    };
    bores::all(inquiry).into_iter().map(judged).collect()
}

fn judge(inquiry: &Inquiry, bore: &bores::Bore, sheet: &mut Sheet) -> Lookup<Text> {
    let hole = &bore.hole;
    let (member, material, depth) =
        (need!(hole, bores), need!(bore.assembly, framing.material), need!(bore.assembly, framing.member_depth)).together()?;
    if *material != FramingMaterial::Wood {
        let what = "the maker's rule for holes in this member, or an engineer's word";
        return Err(Unresolved::because(hole.pointer(), what));
    }
    // Nails reach a pipe whatever the framing bears: what is missing for the one does not hide the other.
    let strong = match *member {
        BoredMember::Stud => stud(inquiry, bore, depth.quantity(), sheet),
        BoredMember::Joist => joist(inquiry, bore, depth.quantity(), sheet),
        BoredMember::Plate => plate(bore, depth.quantity(), sheet),
        _ => Ok(()),
    };
    if *member != BoredMember::Joist || hole.notch.is_some() {
        shield(inquiry, hole, sheet);
    }
    if !sheet.sound() {
        mark(inquiry, bore, sheet);
    }
    strong?;
    Ok(text!("the {} bears it", *member))
}

fn stud(inquiry: &Inquiry, bore: &bores::Bore, depth: Length, sheet: &mut Sheet) -> Lookup<()> {
    let hole = &bore.hole;
    let exterior = bore.assembly.exterior == Some(true);
    let bearing = if exterior { true } else { *need!(bore.assembly, framing.bearing)? };
    let used = match (bearing, hole.doubled == Some(true)) {
        (false, _) => MemberUse::NonBearing,
        (true, true) => MemberUse::BearingDoubled,
        (true, false) => MemberUse::Bearing,
    };
    if let Ok(notch) = need!(hole, notch) {
        let most = greatest_stud_notch(depth, used);
        if !sheet.at_most("notch", &notch, &most, "in", "IRC R602.6") {
            sheet.fault(text!(
                "the stud is notched {} deep, {} is the most of {}",
                in_unit(&notch, "in"),
                in_unit(most, "in"),
                in_unit(depth, "in")
            ));
            sheet.cure(text!("bore it in the middle instead, {} at the most", in_unit(greatest_stud_hole(depth, used), "in")));
        }
        return Ok(());
    }
    let width = need!(hole, hole)?;
    let most = greatest_stud_hole(depth, used);
    if !sheet.at_most("hole", &width, &most, "in", "IRC R602.6") {
        sheet.fault(text!(
            "the stud is bored {}, {} is the most of {}",
            in_unit(&width, "in"),
            in_unit(most, "in"),
            in_unit(depth, "in")
        ));
        sheet.cure(text!(
            "a smaller hole, or a doubled stud: {} then",
            in_unit(greatest_stud_hole(depth, MemberUse::BearingDoubled), "in")
        ));
    }
    edge(inquiry.value(&STUD_EDGE), hole, "IRC R602.6", sheet);
    Ok(())
}

fn joist(inquiry: &Inquiry, bore: &bores::Bore, depth: Length, sheet: &mut Sheet) -> Lookup<()> {
    let hole = &bore.hole;
    if let Ok(notch) = need!(hole, notch) {
        let (end, span, long) = (need!(hole, end_distance), need!(hole, span), need!(hole, notch_length)).together()?;
        let third = span.quantity() / 3.0;
        let at_end = at_most(end.quantity(), depth);
        let words = text!("{} from the end of a span of {}: not in its middle third", in_unit(&end, "in"), in_unit(&span, "in"));
        if !sheet.require("place", words, "IRC R502.8", at_most(end.quantity(), third)) {
            sheet.cure(text!("move it into the outer third, or bore the middle of the depth"));
        }
        let (deep, length) = greatest_joist_notch(depth, at_end);
        if !sheet.at_most("notch", &notch, &deep, "in", "IRC R502.8") {
            sheet.fault(text!(
                "the joist is notched {} deep, {} is the most of {}",
                in_unit(&notch, "in"),
                in_unit(deep, "in"),
                in_unit(depth, "in")
            ));
        }
        if !at_end && !sheet.at_most("length", &long, &length, "in", "IRC R502.8") {
            sheet.fault(text!("the notch is {} long, {} is the most", in_unit(&long, "in"), in_unit(length, "in")));
        }
        return Ok(());
    }
    let width = need!(hole, hole)?;
    let most = greatest_joist_hole(depth);
    if !sheet.at_most("hole", &width, &most, "in", "IRC R502.8") {
        sheet.fault(text!(
            "the joist is bored {}, {} is the most of {}",
            in_unit(&width, "in"),
            in_unit(most, "in"),
            in_unit(depth, "in")
        ));
        sheet.cure(text!("another way for the pipe, or an engineer's repair"));
    }
    edge(inquiry.value(&JOIST_EDGE), hole, "IRC R502.8", sheet);
    Ok(())
}

/// A plate cut by more than half its width is tied.
fn plate(bore: &bores::Bore, depth: Length, sheet: &mut Sheet) -> Lookup<()> {
    let hole = &bore.hole;
    let cut = need!(hole, notch).or_else(|_| need!(hole, hole)).map_err(|_| hole.missing("/hole"))?;
    let half = depth / 2.0;
    let words = text!(
        "the plate of {} is cut {}, a tie is wanted from {} on",
        in_unit(depth, "in"),
        in_unit(&cut, "in"),
        in_unit(half, "in")
    );
    if sheet.test("plate cut", words.clone(), "IRC R602.6.1, from memory", at_most(cut.quantity(), half)) {
        return Ok(());
    }
    if bore.assembly.exterior != Some(true) && !*need!(bore.assembly, framing.bearing)? {
        return Ok(());
    }
    if let Some(tied) = sheet.want(need!(hole, tied))
        && !*tied
    {
        sheet.fault(text!("{}, and there is none", words));
        let cure = text!("a galvanized steel tie 0.054 in thick and 1-1/2 in wide across the cut, eight 10d nails on each side");
        sheet.cure_at(cure, &[(tied.pointer().to_owned(), json!(true))]);
    }
    Ok(())
}

/// Whether nails do not go through the pipe: cast iron and galvanized steel.
fn hard(inquiry: &Inquiry, hole: &Place<Penetration>) -> Lookup<bool> {
    let carries = need!(hole, carries)?;
    if let Ok(pipe) = need!(inquiry.project(), water.pipes).named(&carries) {
        return need!(pipe, material).map(|material| *material == WaterPipeMaterial::GalvanizedSteel);
    }
    let drain = need!(inquiry.project(), drainage.pipes).named(&carries)?;
    need!(drain, material).map(|material| matches!(*material, DrainPipeMaterial::CastIron | DrainPipeMaterial::GalvanizedSteel))
}

fn edge(least: Length, hole: &Place<Penetration>, source: &str, sheet: &mut Sheet) {
    let Some(edge) = sheet.want(need!(hole, edge_distance)) else { return };
    if !sheet.at_least("from the edge", &edge, &least, "in", source) {
        sheet.fault(text!("the hole is {} from the edge, {} is the least", in_unit(&edge, "in"), in_unit(least, "in")));
    }
}

/// A plate where nails reach the pipe.
fn shield(inquiry: &Inquiry, hole: &Place<Penetration>, sheet: &mut Sheet) {
    if hard(inquiry, hole) == Ok(true) {
        return sheet.line("from the face", text!("no nail goes through it: no plate is wanted"), "IRC P2603.2.1, from memory");
    }
    // A pipe in a notch lies at the face.
    let edge = if hole.notch.is_some() { Ok(Length::default()) } else { need!(hole, edge_distance).map(|edge| edge.quantity()) };
    let Some(edge) = sheet.want(edge) else { return };
    let far = match (&hole.hole, &hole.diameter) {
        // The pipe lies in the middle of its hole.
        (Some(bored), Some(pipe)) if bored.si() > pipe.si() => edge + (bored.quantity() - pipe.quantity()) / 2.0,
        _ => edge,
    };
    let within = inquiry.value(&SHIELD_WITHIN);
    if at_least(far, within) {
        return sheet.line(
            "from the face",
            text!("{}, no plate is wanted from {} on", in_unit(far, "in"), in_unit(within, "in")),
            "IRC P2603.2.1, from memory",
        );
    }
    let Some(shielded) = sheet.want(need!(hole, shielded)) else { return };
    let words = text!("the pipe is {} from the face, a plate is wanted within {}", in_unit(far, "in"), in_unit(within, "in"));
    if !sheet.test("plate", words.clone(), "IRC P2603.2.1, from memory", *shielded) {
        sheet.fault(text!("{}, and there is none", words));
        sheet.cure_at(
            text!("a steel plate of {}", in_unit(inquiry.value(&SHIELD), "in")),
            &[(shielded.pointer().to_owned(), json!(true))],
        );
        return;
    }
    if let Some(thick) = sheet.want(need!(hole, shield_thickness)) {
        let least = inquiry.value(&SHIELD);
        if !sheet.at_least("plate", &thick, &least, "in", "IRC P2603.2.1, from memory") {
            sheet.fault(text!("its plate is {} thick, {} is the least", in_unit(&thick, "in"), in_unit(least, "in")));
        }
    }
}

fn mark(inquiry: &Inquiry, bore: &bores::Bore, sheet: &mut Sheet) {
    let Some(at) = &bore.hole.get().at else { return };
    let spaces = need!(inquiry.project(), spaces).every();
    let floor = spaces.iter().find(|space| space.id == bore.space).and_then(|space| space.get().floor_elevation.as_ref());
    let up = floor.map_or(0.0, |floor| floor.si()) + bore.hole.height.as_ref().map_or(0.0, |height| height.si());
    sheet.mark(point_mark(Some(&bore.space), bore.hole.label(), [at.x.si(), at.y.si(), up]));
}
