//! What comes out of a wall does not come back in through a window, a door or an air inlet.
//!
//! Exhaust that drifts into a bedroom window carries carbon monoxide with it. Where vents end is a matter for a licensed
//! contractor, the adopted code and the instructions of the appliance, whichever asks for most.
//!
//! **How it is measured.** For every vent that ends in a wall, each opening near it: as its list says, and where openings and the end
//! have positions, from these. A direct-vent end keeps 6, 9 or 12 in by input from what opens, from gravity inlets and from the
//! intakes of other appliances; above 150,000 Btu/h its instructions decide, and no less than for other ends. Another end stays
//! 4 ft below, 4 ft beside or 1 ft above. Either stays 3 ft above a fan's inlet within 10 ft. A Category IV end that faces a
//! neighbour keeps 10 ft, or is well above or below.
//!
//! **How it is fixed.** Move the end, fix the window shut, or lead the vent up through the roof.

use crate::appliances::{category, direct_vent, input, served};
use crate::surroundings::{End, Thing, around, ends};
use redtag_handbook::venting::{sources, wall};
use redtag_rule::prelude::*;
use uom::si::f64::Length;

const TABLE: &str = "IFGC table 503.8 (as a water heater manual prints it)";
/// To 10,000 Btu/h.
const TO_10K: Quantity<dimensions::Length> = Quantity::new(
    "direct_vent_to_10000",
    "6 in",
    "Distance of a direct-vent end of up to 10,000 Btu/h from openings.",
    "from memory of IFGC table 503.8",
);
/// To 50,000 Btu/h.
const TO_50K: Quantity<dimensions::Length> =
    Quantity::new("direct_vent_to_50000", "9 in", "Distance of a direct-vent end of up to 50,000 Btu/h from openings.", TABLE);
/// To 150,000 Btu/h.
const TO_150K: Quantity<dimensions::Length> =
    Quantity::new("direct_vent_to_150000", "12 in", "Distance of a direct-vent end of up to 150,000 Btu/h from openings.", TABLE);
/// Below.
const BELOW: Quantity<dimensions::Length> =
    Quantity::new("below_openings", "4 ft", "How far below an opening another end than a direct-vent one stays.", "IFGC 503.8");
/// Beside.
const BESIDE: Quantity<dimensions::Length> =
    Quantity::new("beside_openings", "4 ft", "How far beside an opening another end than a direct-vent one stays.", "IFGC 503.8");
/// Above.
const ABOVE: Quantity<dimensions::Length> =
    Quantity::new("above_openings", "1 ft", "How far above an opening another end than a direct-vent one stays.", "IFGC 503.8");
/// Above a fan's inlet.
const FORCED_ABOVE: Quantity<dimensions::Length> = Quantity::new(
    "above_forced_air_inlets",
    "3 ft",
    "How far above an opening through which a fan draws air an end stays, where it is near.",
    "IFGC 503.8 (two makers' manuals)",
);
/// Near.
const FORCED_WITHIN: Quantity<dimensions::Length> = Quantity::new(
    "forced_air_inlets_within",
    "10 ft",
    "How near sideways such an opening counts.",
    "IFGC 503.8 (two makers' manuals)",
);
/// Whether direct vents too.
const FORCED_DIRECT: Flag = Flag::new(
    "forced_air_inlets_bind_direct_vents",
    true,
    "Whether the distance from a fan's inlet binds direct-vent ends as well.",
    "makers' tables after NFPA 54 print it for both; the code excepts direct vents, from memory",
);
/// Neighbour.
const NEIGHBOR: Quantity<dimensions::Length> = Quantity::new(
    "neighbor_openings",
    "10 ft",
    "How far sideways a Category IV end that blows towards a neighbouring building stays from its openings.",
    "from memory of IFGC 503.8, doubtful",
);

/// The rule.
pub const RULE: Rule = Rule {
    citations: &[cited("IRC", "2018", "G2427.8"), cited("IFGC", "2018", "503.8"), remembered("NFPA 54", "2021", "12.9")],
    parameters: &[&TO_10K, &TO_50K, &TO_150K, &BELOW, &BESIDE, &ABOVE, &FORCED_ABOVE, &FORCED_WITHIN, &FORCED_DIRECT, &NEIGHBOR],
    reads: &["/vents", "/equipment", "/openings", "/spaces", "/gas"],
    ..Rule::new("venting/terminal-openings", "Wall ends of vents and openings", check)
};

fn check(inquiry: &Inquiry) -> Vec<Finding> {
    let wanted = "whether it is far enough from openings";
    ends(inquiry, TerminalKind::Wall).iter().map(|end| end.vent.sheet(wanted, |sheet| judge(inquiry, sheet, end))).collect()
}

fn judge(inquiry: &Inquiry, sheet: &mut Sheet, end: &End) -> Lookup<Text> {
    let things = around(inquiry, sheet, end);
    let Some(appliance) = served(inquiry, &end.vent)?.into_iter().next() else { return Ok(text!("it serves nothing")) };
    let direct = direct_vent(&appliance)?;
    for thing in &things {
        match thing.kind {
            NearbyKind::OperableWindow | NearbyKind::Door | NearbyKind::GravityInlet | NearbyKind::CombustionAirIntake => {
                if direct {
                    direct_end(inquiry, sheet, end, &appliance, thing)?;
                } else {
                    other_end(inquiry, sheet, end, thing);
                }
            }
            NearbyKind::ForcedAirInlet => forced_air(inquiry, sheet, end, thing, direct),
            NearbyKind::NeighborOpening => neighbor(inquiry, sheet, end, &appliance, thing),
            _ => {}
        }
    }
    Ok(text!("far enough from every opening near it"))
}

/// Says and judges one distance; what is not told is missing.
fn verdict(sheet: &mut Sheet, end: &End, thing: &Thing, holds: Option<bool>, words: Text, source: &str, cure: Text) {
    let Some(holds) = holds else {
        sheet.line(&thing.name, words, source);
        thing.lack(sheet);
        return;
    };
    if !sheet.require(&thing.name, words, source, holds) {
        sheet.related(&thing.pointer);
        sheet.cure(cure);
        end.mark(sheet, Some(thing), &format!("{}: too near {}", end.vent.id, thing.name));
    }
}

/// How far a thing is, in words.
fn away(thing: &Thing) -> Text {
    let offset = &thing.offset;
    match (offset.horizontal, offset.vertical, offset.distance) {
        (_, _, Some(distance)) => text!("{} from {}", in_unit(distance, "in"), thing.name),
        (Some(side), Some(up), None) if up.value < 0.0 => {
            text!("{} beside and {} below {}", in_unit(side, "in"), in_unit(-up, "in"), thing.name)
        }
        (Some(side), Some(up), None) => text!("{} beside and {} above {}", in_unit(side, "in"), in_unit(up, "in"), thing.name),
        (Some(side), None, None) => text!("{} beside {}", in_unit(side, "in"), thing.name),
        _ => text!("near {}", thing.name),
    }
}

fn limits(inquiry: &Inquiry) -> wall::MechanicalLimits {
    wall::MechanicalLimits { below: inquiry.value(&BELOW), beside: inquiry.value(&BESIDE), above: inquiry.value(&ABOVE) }
}

fn direct_end(inquiry: &Inquiry, sheet: &mut Sheet, end: &End, appliance: &Place<Equipment>, thing: &Thing) -> Lookup<()> {
    let input = input(appliance)?;
    let limits = wall::DirectVentLimits {
        to_10k: inquiry.value(&TO_10K),
        to_50k: inquiry.value(&TO_50K),
        to_150k: inquiry.value(&TO_150K),
    };
    let maker = need!(end.terminal, instructions.openings).map(|figure| figure.quantity());
    let Some(table) = wall::direct_vent(input, &limits) else {
        // Above the table: the instructions decide, and never less than for another end.
        other_end(inquiry, sheet, end, thing);
        if let Some(maker) = sheet.want(maker) {
            straight(sheet, end, thing, maker, "the appliance's instructions");
        }
        return Ok(());
    };
    let limit = maker.map_or(table, |maker| maker.max(table));
    straight(sheet, end, thing, limit, TABLE);
    Ok(())
}

fn straight(sheet: &mut Sheet, end: &End, thing: &Thing, limit: Length, source: &str) {
    let words = text!("{}, {} is the least for a direct vent", away(thing), in_unit(limit, "in"));
    let cure = text!("move the end {} away from {}", in_unit(limit, "in"), thing.name);
    verdict(sheet, end, thing, thing.offset.is_clear(limit), words, source, cure);
}

fn other_end(inquiry: &Inquiry, sheet: &mut Sheet, end: &End, thing: &Thing) {
    let limits = limits(inquiry);
    let choice = text!(
        "{} below, {} beside or {} above",
        in_unit(limits.below, "ft"),
        in_unit(limits.beside, "ft"),
        in_unit(limits.above, "ft")
    );
    let words = text!("{}; {} is what it takes", away(thing), choice);
    let cure = text!("move the end {} of {}", choice, thing.name);
    verdict(sheet, end, thing, wall::mechanical(&thing.offset, &limits), words, sources::WALL.text(), cure);
}

fn forced_air(inquiry: &Inquiry, sheet: &mut Sheet, end: &End, thing: &Thing, direct: bool) {
    if direct && !inquiry.value(&FORCED_DIRECT) {
        return;
    }
    let limit = sheet_limit(end, inquiry.value(&FORCED_ABOVE));
    let within = inquiry.value(&FORCED_WITHIN);
    let choice = text!("{} above it, or {} beside it", in_unit(limit, "ft"), in_unit(within, "ft"));
    let words = text!("{}; {} is what it takes", away(thing), choice);
    let cure = text!("move the end: {}", choice);
    verdict(sheet, end, thing, wall::forced_air_inlet(&thing.offset, limit, within), words, sources::WALL.text(), cure);
}

fn sheet_limit(end: &End, limit: Length) -> Length {
    let maker = end.terminal.instructions.as_ref().and_then(|told| told.forced_air_inlets.as_ref());
    maker.map_or(limit, |maker| maker.quantity().max(limit))
}

/// Ten feet, or 2 ft above, or 25 ft below.
fn neighbor(inquiry: &Inquiry, sheet: &mut Sheet, end: &End, appliance: &Place<Equipment>, thing: &Thing) {
    let Some(category) = sheet.want(category(appliance)) else { return };
    if category != VentCategory::CategoryIv {
        return;
    }
    let limits = wall::MechanicalLimits {
        below: redtag_handbook::units::feet(25.0),
        beside: inquiry.value(&NEIGHBOR),
        above: redtag_handbook::units::feet(2.0),
    };
    let choice = text!(
        "{} beside, {} above or {} below",
        in_unit(limits.beside, "ft"),
        in_unit(limits.above, "ft"),
        in_unit(limits.below, "ft")
    );
    let words = text!("{}; {} is what it takes", away(thing), choice);
    let cure = text!("move the end or turn it away: {}", choice);
    verdict(sheet, end, thing, wall::mechanical(&thing.offset, &limits), words, "from memory of IFGC 503.8", cure);
}
