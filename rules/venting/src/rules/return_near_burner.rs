//! A return grille does not pull the gases out of a draft hood.
//!
//! A return draws hard on the room it is in. Where a draft hood or an open burner shares that room, it draws exhaust and carbon
//! monoxide into the air it sends through the house. Work for a licensed contractor.
//!
//! **How it is measured.** For every return opening in a room with an appliance that takes its air from the room and lets its gases
//! rise or be drawn through it: the distance to the draft hood or open combustion chamber, as stated, else from positions. A room
//! that is the only source of return air and holds such appliances must be large: 1 ft³ for every 10 Btu/h.
//!
//! **How it is fixed.** Close the grille and take the air from a habitable room, seal the return where it passes the appliance, or
//! use appliances that take their air from outdoors.

use crate::appliances::{burns_gas, direct_vent};
use redtag_handbook::units;
use redtag_handbook::venting::near::to_piece;
use redtag_handbook::venting::sources;
use redtag_rule::prelude::*;
use uom::si::f64::{Length, Power};

/// Distance.
const DISTANCE: Quantity<dimensions::Length> = Quantity::new(
    "least_distance",
    "10 ft",
    "Distance of a return opening from an open combustion chamber or draft hood in the same room.",
    "IRC M1602.2; IMC 601.5",
);

/// Volume.
const BTU_PER_CUBIC_FOOT: Number = Number::new(
    "btu_per_cubic_foot",
    10.0,
    "Input of the appliances in a room that is the only source of return air, in Btu/h for each cubic foot of the room.",
    "IFGC 618.5 (2006), from memory of later editions",
)
.within(1.0, 1000.0);

/// The rule.
pub const RULE: Rule = Rule {
    citations: &[cited("IRC", "2018", "M1602.2"), remembered("IRC", "2021", "G2442.4"), remembered("IFGC", "2021", "618.5")],
    parameters: &[&DISTANCE, &BTU_PER_CUBIC_FOOT],
    reads: &["/ducts", "/equipment", "/spaces"],
    ..Rule::new("venting/return-near-burner", "Return air near draft hoods", check)
};

fn check(inquiry: &Inquiry) -> Vec<Finding> {
    let ducts = need!(inquiry.project(), ducts).every();
    let returns = ducts.iter().filter(|duct| duct.kind == DuctKind::Return);
    returns.map(|duct| duct.sheet("whether it draws on a draft hood", |sheet| judge(inquiry, sheet, duct))).collect()
}

fn judge(inquiry: &Inquiry, sheet: &mut Sheet, duct: &Place<Duct>) -> Lookup<Text> {
    let openings = need!(duct, openings)?;
    for opening in openings.items().filter(|opening| opening.kind == DuctOpeningKind::Return) {
        let Some(space) = sheet.want(need!(opening, space)) else { continue };
        let all = need!(inquiry.project(), equipment).every();
        let inside = all.iter().filter(|item| item.space.as_ref() == Some(space.get()) && burns_gas(item));
        let mut short = Length::default();
        // The furnace a sealed return belongs to is not another appliance.
        for appliance in inside.filter(|item| duct.equipment.as_deref() != Some(item.id.as_str())) {
            if sheet.want(open(appliance)) == Some(true) {
                short = short.max(one(inquiry, sheet, &opening, appliance));
            }
        }
        if short.value > 0.0 {
            sheet.cure(text!(
                "close {} and take the air from a habitable room, or move it {} farther",
                opening.id.as_str(),
                in_unit(short, "ft")
            ));
        }
    }
    let equipment = need!(inquiry.project(), equipment)?;
    for appliance in equipment.items().filter(|item| burns_gas(item) && item.space.is_none() && item.outdoors != Some(true)) {
        // One whose room is not said may stand in any of them.
        if open(&appliance) != Ok(false) {
            sheet.lack(appliance.missing("/space"));
        }
    }
    only_source(inquiry, sheet, &openings)?;
    Ok(text!("no draft hood or open burner near its openings"))
}

/// A room that is the only source of a return, and holds open burners, must be large for what they burn.
fn only_source(inquiry: &Inquiry, sheet: &mut Sheet, openings: &Place<Vec<DuctOpening>>) -> Lookup<()> {
    let mut ids = openings
        .items()
        .filter(|opening| opening.kind == DuctOpeningKind::Return)
        .filter_map(|opening| need!(opening, space).ok());
    let Some(first) = ids.next() else { return Ok(()) };
    if ids.any(|id| id.get() != first.get()) {
        return Ok(());
    }
    let all = need!(inquiry.project(), equipment).every();
    let inside = all.iter().filter(|item| item.space.as_ref() == Some(first.get()) && burns_gas(item));
    let mut input = Power::default();
    for appliance in inside {
        if sheet.want(open(appliance)) == Some(true) {
            input += need!(appliance, fuel_burning.plate.input)?.quantity();
        }
    }
    if input.value <= 0.0 {
        return Ok(());
    }
    let space = inquiry.space(&first)?;
    let volume = redtag_rule::size::volume(&space)?;
    let per_foot = inquiry.value(&BTU_PER_CUBIC_FOOT);
    let least = units::cubic_feet(units::in_btu_per_hour(input) / per_foot);
    let words = text!("{} is its only source: {}, {} of burners need {}", space.label(), volume, in_unit(input, "Btu/h"), least);
    if !sheet.require("only source", words, "IFGC 618.5", at_least(volume, least)) {
        sheet.related(space.pointer());
        sheet.cure(text!("take return air from other rooms as well"));
    }
    Ok(())
}

/// Whether it stands open to the room: its air from there, its gases not under pressure.
fn open(appliance: &Place<Equipment>) -> Lookup<bool> {
    kinds::burns(appliance)?;
    if direct_vent(appliance)? {
        return Ok(false);
    }
    Ok(!matches!(*need!(appliance, fuel_burning.burner)?, Burner::PowerVented | Burner::PowerBurner))
}

/// One pair; how much it falls short.
fn one(inquiry: &Inquiry, sheet: &mut Sheet, opening: &Place<DuctOpening>, appliance: &Place<Equipment>) -> Length {
    let limit = inquiry.value(&DISTANCE);
    let Some(distance) = sheet.want(distance(opening, appliance)) else { return Length::default() };
    let words = text!(
        "{} is {} from {}, {} is the least",
        opening.id.as_str(),
        in_unit(distance, "ft"),
        appliance.label(),
        in_unit(limit, "ft")
    );
    if sheet.require("distance", words, sources::RETURN_AIR.text(), at_least(distance, limit)) {
        return Length::default();
    }
    sheet.related(opening.pointer());
    sheet.related(appliance.pointer());
    if let (Some(at), Some((x, y))) = (&opening.at, middle(appliance)) {
        let up = opening.height.as_ref().map_or(0.0, |height| height.si());
        let label = format!("{}: return air near {}", opening.id, appliance.id);
        sheet.mark(line_mark(opening.space.as_deref(), label, &[[at.x.si(), at.y.si(), up], [x, y, up]]));
    }
    limit - distance
}

/// As stated, else between the positions in plan, which is no more than it really is.
fn distance(opening: &Place<DuctOpening>, appliance: &Place<Equipment>) -> Lookup<Length> {
    if let Some(stated) = &opening.draft_hood_distance {
        return Ok(stated.quantity());
    }
    match (&opening.at, middle(appliance)) {
        (Some(at), Some((x, y))) => Ok(to_piece([at.x.si(), at.y.si()], [x, y], [x, y]).0),
        _ => Err(opening.missing("/draft_hood_distance")),
    }
}

fn middle(appliance: &Place<Equipment>) -> Option<(f64, f64)> {
    let placement = appliance.placement.as_ref()?;
    Some((placement.x.as_ref()?.si(), placement.y.as_ref()?.si()))
}
