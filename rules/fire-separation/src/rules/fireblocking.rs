//! Hidden spaces must be fireblocked where they meet, at floor and ceiling lines, and along long walls.
//!
//! Fire runs in the hollow of a wall faster than in the room. Stud walls are blocked at top and bottom and every 10 ft along rows
//! of parallel or staggered studs; soffits, chases and dropped ceilings where they meet the walls; stairs at both ends.
//!
//! **How it is measured.** For each wall of wood framing closed on both faces: whether its cavities are blocked. For each hidden space
//! the project names: what blocks it, how thick that is, how far apart, and how many of the floor lines it passes are blocked.
//!
//! **How it is fixed.** Lumber of 2 in nominal, two boards with broken joints, panels with backed joints, board, batts held in place;
//! at chimneys sheet steel. Spare conduits are plugged at their ends.

use crate::faces;
use crate::parts::{Part, burns, parts, spaces};
use redtag_handbook::fire::{Answer, BlockFact, BlockLimits, Blocking, Face as Side, blocks, sources};
use redtag_rule::prelude::*;

/// Spacing along a wall.
const SPACING: Quantity<dimensions::Length> =
    Quantity::new("block_spacing", "10 ft", "Greatest distance between fireblocking along a wall.", "IRC R302.11 item 1");
/// Lumber.
const LUMBER: Quantity<dimensions::Length> =
    Quantity::new("block_lumber", "1 1/2 in", "Least thickness of lumber as fireblocking: 2 in nominal.", "IRC R302.11.1");
/// Panel.
const PANEL: Quantity<dimensions::Length> =
    Quantity::new("block_panel", "23/32 in", "Least wood structural panel as fireblocking, joints backed.", "IRC R302.11.1");
/// Particleboard.
const PARTICLE: Quantity<dimensions::Length> =
    Quantity::new("block_particleboard", "3/4 in", "Least particleboard as fireblocking, joints backed.", "IRC R302.11.1");
/// Gypsum.
const GYPSUM: Quantity<dimensions::Length> =
    Quantity::new("block_gypsum", "1/2 in", "Least gypsum board as fireblocking.", "IRC R302.11.1");
/// Millboard.
const MILLBOARD: Quantity<dimensions::Length> =
    Quantity::new("block_millboard", "1/4 in", "Least cement millboard as fireblocking.", "IRC R302.11.1");
/// Glass fiber.
const BATT: Quantity<dimensions::Length> =
    Quantity::new("block_batt", "16 in", "Least height of an unfaced glass fiber batt that fills the cavity.", "IRC R302.11.1.2");

/// The rule.
pub const RULE: Rule = Rule {
    citations: &[cited("IRC", "2021", "R302.11"), cited("IRC", "2021", "R302.11.1")],
    parameters: &[&SPACING, &LUMBER, &PANEL, &PARTICLE, &GYPSUM, &MILLBOARD, &BATT],
    reads: &["/spaces"],
    ..Rule::new("fire-separation/fireblocking", "Fireblocking of hidden spaces", check)
};

const WANTED: &str = "whether it is fireblocked";

fn check(inquiry: &Inquiry) -> Vec<Finding> {
    let mut findings: Vec<Finding> = parts(inquiry).iter().filter_map(wall).collect();
    let limits = limits(inquiry);
    for space in spaces(inquiry) {
        let hidden = need!(space, concealed).every().into_iter().filter(|hidden| hidden.kind != ConcealedKind::FloorCeiling);
        findings.extend(hidden.map(|hidden| hidden.sheet(WANTED, |sheet| judge(&hidden, &limits, sheet))));
    }
    findings
}

fn limits(inquiry: &Inquiry) -> BlockLimits {
    BlockLimits {
        spacing: inquiry.value(&SPACING),
        lumber: inquiry.value(&LUMBER),
        panel: inquiry.value(&PANEL),
        particleboard: inquiry.value(&PARTICLE),
        gypsum: inquiry.value(&GYPSUM),
        millboard: inquiry.value(&MILLBOARD),
        batt: inquiry.value(&BATT),
        ..BlockLimits::default()
    }
}

/// A wall of wood framing, where both faces are closed. A wall whose framing or faces are not said may be one.
fn wall(part: &Part) -> Option<Finding> {
    if part.assembly.kind != AssemblyKind::Wall {
        return None;
    }
    let (framing, layers) = (part.framing(), need!(part.assembly, layers));
    if framing.as_ref().is_ok_and(|framing| !burns(*framing)) {
        return None;
    }
    let closed =
        |side| layers.as_ref().map(|layers| faces::of(layers.get(), side).iter().any(|layer| layer.on_face != Some(false)));
    if closed(Side::This) == Ok(false) || closed(Side::Beyond) == Ok(false) {
        return None;
    }
    if let Err(unresolved) = (framing, layers.clone()).together() {
        return Some(part.assembly.ask(WANTED, || Err(unresolved)));
    }
    Some(part.assembly.sheet(WANTED, |sheet| {
        let blocked = need!(part.assembly, framing.fireblocked)?;
        if !sheet.require(
            "cavities",
            text!("the cavities of its studs must be fireblocked at floor and ceiling"),
            sources::FIREBLOCKING.text(),
            *blocked.get(),
        ) {
            sheet.cure_at(
                text!("block the cavities at floor and ceiling, and every 10 ft along parallel or staggered studs"),
                &[(blocked.pointer().to_owned(), json!(true))],
            );
            crate::area::mark(part, "cavities not fireblocked").into_iter().for_each(|mark| sheet.mark(mark));
        }
        Ok(text!("its cavities are fireblocked"))
    }))
}

fn judge(hidden: &Place<ConcealedSpace>, limits: &BlockLimits, sheet: &mut Sheet) -> Lookup<Text> {
    let source = sources::FIREBLOCKING.text();
    if let Some(block) = sheet.want(need!(hidden, block)) {
        block_holds(hidden, *block.get(), limits, sheet, source);
    }
    if matches!(hidden.kind, ConcealedKind::FurredWall)
        && let Some(length) = sheet.want(need!(hidden, length))
    {
        // A run no longer than the spacing needs no block along it.
        if !at_most(length.quantity(), limits.spacing)
            && let Some(spacing) = sheet.want(need!(hidden, block_spacing))
            && !sheet.at_most("spacing", &spacing, &limits.spacing, "ft", source)
        {
            sheet.fault(text!(
                "blocked every {}, {} is the most",
                in_unit(spacing.quantity(), "ft"),
                in_unit(limits.spacing, "ft")
            ));
            sheet.cure(text!("block it every {} at most", in_unit(limits.spacing, "ft")));
        }
    }
    if hidden.kind == ConcealedKind::Chase {
        lines(hidden, sheet, source);
    }
    if !sheet.sound()
        && let Some(at) = &hidden.at
    {
        sheet.mark(point_mark(None, "not fireblocked", [at.x.si(), at.y.si(), 0.0]));
    }
    Ok(text!("fireblocked"))
}

fn block_holds(
    hidden: &Place<ConcealedSpace>,
    block: BlockMaterial,
    limits: &BlockLimits,
    sheet: &mut Sheet,
    source: &'static str,
) {
    let thickness = hidden.block_thickness.as_ref().map(|thickness| thickness.quantity());
    let at_chimney = hidden.kind == ConcealedKind::ChimneySpace;
    let answer = match blocking(block) {
        // Around a chimney the block is steel, or another material that does not burn.
        Blocking::SheetSteel if at_chimney => Answer::Yes,
        Blocking::Lumber | Blocking::DoubleBoard | Blocking::StructuralPanel | Blocking::Particleboard | Blocking::Cellulose
            if at_chimney =>
        {
            Answer::No
        }
        blocking => blocks(blocking, thickness, hidden.joints_backed, limits),
    };
    let there = match &hidden.block_thickness {
        Some(thickness) => text!("{} of {}", block, in_unit(thickness.quantity(), "in")),
        None => text!("{}", block),
    };
    match answer {
        Answer::Yes => {
            sheet.test("block", there, source, true);
        }
        Answer::No => {
            sheet.require("block", text!("what blocks the {} is no fireblocking: {}", hidden.kind, there), source, false);
            sheet.cure(text!(
                "lumber of 2 in nominal, 1/2 in gypsum board, 23/32 in panel with backed joints, or batts held in place"
            ));
        }
        Answer::Depends(facts) => facts.into_iter().for_each(|fact| {
            sheet.lack(hidden.missing(match fact {
                BlockFact::Thickness => "/block_thickness",
                BlockFact::Joints => "/joints_backed",
            }));
        }),
    }
}

/// Every floor and ceiling line a chase passes must be blocked around what runs in it.
fn lines(hidden: &Place<ConcealedSpace>, sheet: &mut Sheet, source: &'static str) {
    let (passed, blocked) = (sheet.want(need!(hidden, lines_passed)), sheet.want(need!(hidden, lines_blocked)));
    let (Some(passed), Some(blocked)) = (passed, blocked) else { return };
    let words = text!("{} of {} floor and ceiling lines are blocked around what runs in it", *blocked.get(), *passed.get());
    if !sheet.require("lines", words, source, *blocked.get() >= *passed.get()) {
        sheet.cure_at(
            text!("block it at every line, around each pipe, wire and duct"),
            &[(blocked.pointer().to_owned(), json!(*passed.get()))],
        );
    }
}

/// The material as the handbook takes it.
pub fn blocking(block: BlockMaterial) -> Blocking {
    match block {
        BlockMaterial::Lumber => Blocking::Lumber,
        BlockMaterial::DoubleBoard => Blocking::DoubleBoard,
        BlockMaterial::StructuralPanel => Blocking::StructuralPanel,
        BlockMaterial::Particleboard => Blocking::Particleboard,
        BlockMaterial::GypsumBoard => Blocking::Gypsum,
        BlockMaterial::CementMillboard => Blocking::Millboard,
        BlockMaterial::MineralWool => Blocking::MineralWool,
        BlockMaterial::GlassFiber => Blocking::GlassFiber,
        BlockMaterial::Cellulose => Blocking::Cellulose,
        BlockMaterial::SheetSteel => Blocking::SheetSteel,
        BlockMaterial::Foam | BlockMaterial::None | BlockMaterial::Unrecognised => Blocking::Nothing,
    }
}
