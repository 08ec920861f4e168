//! The end of a vent in a wall stays clear of meters, regulators, gas containers, corners and soffits.
//!
//! A regulator breathes gas when it fails, a container breathes it when it is filled: neither belongs where something hot comes out
//! of a wall. In a corner or under a soffit the gases hang and come back. Gas can explode; where vents and containers stand is a
//! matter for a licensed contractor, the gas supplier, the adopted code and the instructions.
//!
//! **How it is measured.** Each thing near the end, as its list or the positions of the project say, against the larger of the
//! jurisdiction's figure and the instructions'. The model code leaves corners, soffits and other ends to the instructions; where
//! these are not known and the thing is nearer than any maker asks, the finding says what to look up.
//!
//! **How it is fixed.** Move the end or the thing.

use crate::surroundings::{End, Thing, around, ends};
use redtag_handbook::venting::sources;
use redtag_rule::prelude::*;
use uom::si::f64::Length;

type Distance = Quantity<dimensions::Length>;
/// Meters.
const METER: Distance = Quantity::new(
    "gas_meters",
    "3 ft",
    "Distance sideways from a gas meter, a regulator or its vent.",
    "common practice: makers' tables after CSA B149.1 (a water heater manual); the model code leaves it to the gas supplier",
);
/// Binding.
const METER_BINDS: Flag = Flag::new(
    "gas_meters_bind",
    false,
    "Whether the distance from gas meters and regulators is required where the instructions name none; otherwise it is advice.",
    "no figure in IRC, IFGC or NFPA 54; gas suppliers and makers' tables have one",
);
/// Height band.
const METER_HEIGHT: Distance = Quantity::new(
    "gas_meters_within_height",
    "15 ft",
    "Height above a gas meter or regulator within which that distance holds.",
    "common practice: makers' tables after CSA B149.1 (a water heater manual)",
);
/// Fill.
const FILL: Distance = Quantity::new(
    "container_fill",
    "10 ft",
    "Distance from the fill connection of a container for liquefied gas that is filled where it stands.",
    "from memory of NFPA 58 6.3.4; the figures of its annex I (2017)",
);
/// Relief.
const RELIEF: Distance = Quantity::new(
    "container_relief",
    "5 ft",
    "Distance from the relief valve of a container for liquefied gas.",
    "from memory of NFPA 58 6.3.4; the figures of its annex I (2017)",
);
/// Corner.
const CORNER: Distance = Quantity::new(
    "inside_corner",
    "0 in",
    "Distance from an inside corner; 0 where the instructions alone decide.",
    "makers' figures run from 18 in to 6 ft (one maker: 6 ft)",
);
/// Soffit.
const SOFFIT: Distance = Quantity::new(
    "soffits",
    "0 in",
    "Distance from a soffit or its vents; 0 where the instructions alone decide.",
    "makers' figures run to 5 ft (a boiler maker's manual)",
);
/// Others.
const TERMINALS: Distance = Quantity::new(
    "other_terminals",
    "0 in",
    "Distance from the end of another vent; 0 where the instructions alone decide.",
    "no figure of the model code",
);
/// Line.
const LINE: Distance = Quantity::new(
    "property_line",
    "0 ft",
    "Distance from the property line; 0 where there is none.",
    "no figure of the model code; a large city's mechanical code has 4 ft",
);
/// Presumed.
const PRESUMED: Distance = Quantity::new(
    "no_maker_asks_more",
    "6 ft",
    "From here on a corner, a soffit or another end is taken to be far enough without its instructions.",
    "the largest figure seen in makers' tables (a boiler maker's manual)",
);

/// The rule.
pub const RULE: Rule = Rule {
    citations: &[cited("IRC", "2018", "G2427.8"), cited("IFGC", "2018", "503.8"), remembered("NFPA 58", "2017", "6.3.4")],
    parameters: &[&METER, &METER_BINDS, &METER_HEIGHT, &FILL, &RELIEF, &CORNER, &SOFFIT, &TERMINALS, &LINE, &PRESUMED],
    reads: &["/vents", "/equipment", "/openings", "/spaces", "/gas"],
    ..Rule::new("venting/terminal-surroundings", "Wall ends of vents and what stands near", check)
};

fn check(inquiry: &Inquiry) -> Vec<Finding> {
    let wanted = "whether it is clear of what stands near";
    ends(inquiry, TerminalKind::Wall).iter().map(|end| end.vent.sheet(wanted, |sheet| judge(inquiry, sheet, end))).collect()
}

fn judge(inquiry: &Inquiry, sheet: &mut Sheet, end: &End) -> Lookup<Text> {
    use NearbyKind as K;
    let told = end.terminal.instructions.clone().unwrap_or_default();
    for thing in &around(inquiry, sheet, end) {
        match thing.kind {
            K::GasMeter | K::RegulatorVent => meter(inquiry, sheet, end, thing, told.meter.as_ref().map(|m| m.quantity())),
            K::ContainerFill => clear(sheet, end, thing, inquiry.value(&FILL), "NFPA 58 6.3.4, from memory"),
            K::ContainerRelief => clear(sheet, end, thing, inquiry.value(&RELIEF), "NFPA 58 6.3.4, from memory"),
            K::PropertyLine => clear(sheet, end, thing, inquiry.value(&LINE), "the jurisdiction"),
            K::InsideCorner => {
                makers(inquiry, sheet, end, thing, inquiry.value(&CORNER), ("inside_corner", told.inside_corner.as_ref()))
            }
            K::Soffit => makers(inquiry, sheet, end, thing, inquiry.value(&SOFFIT), ("soffit", told.soffit.as_ref())),
            K::SoffitVent => {
                makers(inquiry, sheet, end, thing, inquiry.value(&SOFFIT), ("soffit_vent", told.soffit_vent.as_ref()))
            }
            K::VentTerminal => {
                makers(inquiry, sheet, end, thing, inquiry.value(&TERMINALS), ("terminals", told.terminals.as_ref()))
            }
            K::ElectricalEquipment => electrical(inquiry, sheet, thing),
            _ => {}
        }
    }
    intake(inquiry, sheet, end);
    Ok(text!("clear of what stands near"))
}

fn shown(sheet: &mut Sheet, end: &End, thing: &Thing, distance: Option<Length>, limit: Length, holds: bool, source: &str) {
    let words = match distance {
        Some(distance) => text!("{} from {}, {} is the least", in_unit(distance, "in"), thing.name, in_unit(limit, "in")),
        None => text!("{} at least from {}", in_unit(limit, "in"), thing.name),
    };
    if !sheet.require(&thing.name, words, source, holds) {
        sheet.related(&thing.pointer);
        let more = distance.map_or(limit, |distance| limit - distance);
        sheet.cure(text!("move the end {} farther from {}, to {}", in_unit(more, "in"), thing.name, in_unit(limit, "in")));
        end.mark(sheet, Some(thing), &format!("{}: too near {}", end.vent.id, thing.name));
    }
}

/// A straight distance; a distance sideways stands for it where no height is told, as on a plan.
fn clear(sheet: &mut Sheet, end: &End, thing: &Thing, limit: Length, source: &str) {
    let flat = thing.offset.shortest().or(thing.offset.horizontal);
    match flat {
        Some(distance) => shown(sheet, end, thing, Some(distance), limit, at_least(distance, limit), source),
        None => sheet.lack(Unresolved::at(format!("{}/distance", thing.pointer))),
    }
}

fn meter(inquiry: &Inquiry, sheet: &mut Sheet, end: &End, thing: &Thing, maker: Option<Length>) {
    let limit = maker.map_or(inquiry.value(&METER), |maker| maker.max(inquiry.value(&METER)));
    let high = thing.offset.vertical.is_some_and(|above| above > inquiry.value(&METER_HEIGHT));
    let distance = thing.offset.horizontal.or(thing.offset.distance);
    match distance {
        _ if high => sheet.line(&thing.name, text!("far below it"), "makers' tables"),
        Some(distance) if maker.is_none() && !inquiry.value(&METER_BINDS) => {
            if !sheet.at_least(&thing.name, &distance, &limit, "in", "makers' tables; no figure of the model code") {
                sheet.advise(text!(
                    "{} is {} away: the model code has no figure, makers and gas suppliers ask for {}",
                    thing.name,
                    in_unit(distance, "in"),
                    in_unit(limit, "in")
                ));
            }
        }
        Some(distance) => shown(sheet, end, thing, Some(distance), limit, at_least(distance, limit), "makers' tables"),
        None => sheet.lack(Unresolved::at(format!("{}/horizontal", thing.pointer))),
    }
}

/// What stands near the air intake of the same vent, where it is another pipe: gas let out there would be drawn in.
fn intake(inquiry: &Inquiry, sheet: &mut Sheet, end: &End) {
    use NearbyKind as K;
    let Ok(own) = need!(end.vent, intake) else { return };
    let Some(things) = sheet.want(need!(own, nearby)) else { return };
    for thing in things.items() {
        let limit = match thing.kind {
            K::ContainerFill => inquiry.value(&FILL),
            K::ContainerRelief | K::RegulatorVent => inquiry.value(&RELIEF),
            _ => continue,
        };
        let stated = thing.distance.as_ref().or(thing.horizontal.as_ref()).map(|distance| distance.quantity());
        let Some(distance) = stated else {
            sheet.lack(thing.missing("/distance"));
            continue;
        };
        let words =
            text!("its air intake is {} from {}, {} is the least", in_unit(distance, "ft"), thing.kind, in_unit(limit, "ft"));
        if !sheet.require("air intake", words, "NFPA 58 6.3.4, from memory", at_least(distance, limit)) {
            sheet.related(thing.pointer());
            sheet.cure(text!("move the intake to {} from it", in_unit(limit, "ft")));
        }
    }
}

/// What the instructions decide.
fn makers(
    inquiry: &Inquiry,
    sheet: &mut Sheet,
    end: &End,
    thing: &Thing,
    code: Length,
    (field, maker): (&str, Option<&quantity::Length>),
) {
    let Some(distance) = thing.offset.shortest().or(thing.offset.horizontal) else {
        return sheet.lack(Unresolved::at(format!("{}/distance", thing.pointer)));
    };
    let maker = maker.map(|figure| figure.quantity());
    let limit = maker.map_or(code, |maker| maker.max(code));
    shown(sheet, end, thing, Some(distance), limit, at_least(distance, limit), sources::WALL.text());
    if maker.is_none() && at_least(distance, code) && !at_least(distance, inquiry.value(&PRESUMED)) {
        let pointer = format!("{}/instructions/{field}", end.terminal.pointer());
        sheet.lack(Unresolved::at(pointer));
    }
}

fn electrical(inquiry: &Inquiry, sheet: &mut Sheet, thing: &Thing) {
    let near = thing.offset.horizontal.or(thing.offset.distance).is_some_and(|side| !at_least(side, inquiry.value(&METER)));
    if near {
        sheet.advise(text!("{} is near: see whether the utility and the instructions allow it", thing.name));
    }
}
