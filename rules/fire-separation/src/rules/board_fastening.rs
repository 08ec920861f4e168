//! Gypsum board of the garage separation must be fastened as its table says; a Type X ceiling under rooms closer than elsewhere.
//!
//! Board that falls protects nothing. Fasteners of the ceiling under habitable rooms sit at most 6 in apart, with the board across
//! the framing; elsewhere the general spacings hold.
//!
//! **How it is measured.** For each wall and ceiling of the separation that has the board: nails or screws, their spacing, and for the
//! ceiling under habitable rooms which way the board runs. Joints are asked about where the rulebook asks for tape.
//!
//! **How it is fixed.** More fasteners before the joints are finished. Asked at rough-in and final, when there is board to see.

use crate::parameters::counting;
use crate::parts::{Part, burns, parts};
use crate::{demand, faces, garage};
use redtag_handbook::fire::{Face as Side, GarageRow, face_meets, sources};
use redtag_rule::prelude::*;
use uom::si::f64::Length;

/// Under habitable rooms.
const HABITABLE: Quantity<dimensions::Length> = Quantity::new(
    "ceiling_under_rooms",
    "6 in",
    "Greatest spacing of fasteners of the Type X ceiling under habitable rooms.",
    "from memory of IRC Table R702.3.5 footnote e",
);
/// Nails in ceilings.
const NAILS_CEILING: Quantity<dimensions::Length> =
    Quantity::new("nails_ceiling", "7 in", "Greatest spacing of nails in other ceilings.", "gypsum board makers' guides");
/// Nails in walls.
const NAILS_WALL: Quantity<dimensions::Length> =
    Quantity::new("nails_wall", "8 in", "Greatest spacing of nails in walls.", "gypsum board makers' guides");
/// Screws in ceilings.
const SCREWS_CEILING: Quantity<dimensions::Length> =
    Quantity::new("screws_ceiling", "12 in", "Greatest spacing of screws in other ceilings.", "gypsum board makers' guides");
/// Screws in walls.
const SCREWS_WALL: Quantity<dimensions::Length> = Quantity::new(
    "screws_wall",
    "16 in",
    "Greatest spacing of screws in walls of studs at most 16 in apart.",
    "gypsum board makers' guides",
);
/// Screws on wide framing.
const SCREWS_WIDE: Quantity<dimensions::Length> = Quantity::new(
    "screws_wide_framing",
    "12 in",
    "Greatest spacing of screws in walls of studs farther apart than 16 in.",
    "from memory of IRC Table R702.3.5",
);
/// Tape.
const TAPED: Flag = Flag::new(
    "taped",
    false,
    "Whether joints of the separation must be taped.",
    "IRC R302.6 is silent; many authorities ask for one coat",
);

/// The rule.
pub const RULE: Rule = Rule {
    stages: &[Stage::RoughIn, Stage::Final],
    citations: &[remembered("IRC", "2021", "Table R702.3.5"), cited("IRC", "2021", "R302.6")],
    parameters: &[&HABITABLE, &NAILS_CEILING, &NAILS_WALL, &SCREWS_CEILING, &SCREWS_WALL, &SCREWS_WIDE, &TAPED],
    reads: &["/spaces", "/openings"],
    ..Rule::new("fire-separation/board-fastening", "How board of the garage separation is fastened", check)
};

fn check(inquiry: &Inquiry) -> Vec<Finding> {
    parts(inquiry).iter().flat_map(|part| of_part(inquiry, part)).collect()
}

fn of_part(inquiry: &Inquiry, part: &Part) -> Option<Finding> {
    let (row, side) = garage::row(inquiry, part).ok()??;
    let demand = garage::demand(inquiry, row, side);
    let layers = part.assembly.layers.as_ref()?;
    // A wall without the board has nothing to fasten; another rule tells.
    if !burns(part.framing().ok()?) || !face_meets(&faces::of(layers, side), &demand.finish, counting(inquiry)).yes() {
        return None;
    }
    Some(
        part.assembly
            .sheet("whether its board is fastened as it must be", |sheet| judge(inquiry, part, row, side, &demand, sheet)),
    )
}

fn judge(inquiry: &Inquiry, part: &Part, row: GarageRow, side: Side, demand: &demand::Demand, sheet: &mut Sheet) -> Lookup<Text> {
    let layers = need!(part.assembly, layers)?;
    let known = faces::of(layers.get(), side);
    let index = (0..known.len()).find(|&index| face_meets(&known[index..=index], &demand.finish, counting(inquiry)).yes());
    let Some(index) = index else { return Ok(text!("several boards together: their fastening is not judged")) };
    let layer = layers.items().nth(index).ok_or_else(|| Unresolved::at(layers.pointer()))?;
    if layer.material != Some(LayerMaterial::GypsumBoard) {
        return Ok(text!("not gypsum board"));
    }
    let under_rooms = row == GarageRow::HabitableAbove;
    let (most, source) = match sheet.want(spacing(inquiry, part, &layer, under_rooms)) {
        Some(most) => most,
        None => return Ok(Text::default()),
    };
    if let Some(spacing) = sheet.want(need!(layer, fastener_spacing))
        && !sheet.at_most("fasteners", &spacing, &most, "in", source)
    {
        sheet.fault(text!("fasteners {} apart, {} is the most", in_unit(spacing.quantity(), "in"), in_unit(most, "in")));
        sheet.cure(text!("add fasteners until they are {} apart at most", in_unit(most, "in")));
    }
    if under_rooms && let Some(across) = sheet.want(need!(layer, perpendicular)) {
        sheet.require("direction", text!("the board must run across the framing"), source, *across);
    }
    if inquiry.value(&TAPED)
        && let Some(taped) = sheet.want(need!(layer, taped))
    {
        sheet.require("joints", text!("its joints must be taped"), "", *taped);
    }
    Ok(text!("fastened {} apart or closer", in_unit(most, "in")))
}

fn spacing(inquiry: &Inquiry, part: &Part, layer: &Place<Layer>, under_rooms: bool) -> Lookup<(Length, &'static str)> {
    if under_rooms {
        return Ok((inquiry.value(&HABITABLE), sources::GARAGE_CEILING_FASTENERS.text()));
    }
    let source = sources::GYPSUM_FASTENERS.text();
    let nails = *need!(layer, fastener)?.get() == Fastener::Nails;
    let most = match (nails, part.is_wall()) {
        (true, true) => inquiry.value(&NAILS_WALL),
        (true, false) => inquiry.value(&NAILS_CEILING),
        (false, false) => inquiry.value(&SCREWS_CEILING),
        (false, true) => {
            let spacing = need!(part.assembly, framing.spacing)?.quantity();
            let close = Length::new::<uom::si::length::meter>(16.0 * 0.0254);
            if at_most(spacing, close) { inquiry.value(&SCREWS_WALL) } else { inquiry.value(&SCREWS_WIDE) }
        }
    };
    Ok((most, source))
}
