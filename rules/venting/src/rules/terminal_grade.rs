//! The end of a vent in a wall stays above the ground, the snow, the deck and the heads of people who walk by.
//!
//! An end that snow buries sends its gases back into the house. What it blows at head height burns and drips, and water from it
//! freezes on a walkway. Where vents end is a matter for a licensed contractor, the adopted code and the instructions.
//!
//! **How it is measured.** The height of the end above the ground and above the snow to be expected, and above a deck or porch, and of a
//! direct vent's air intake above the ground: 12 in at least. Beside a public walkway an end of mechanical draft stays 7 ft above the ground. A Category II or IV end never stands
//! over a walkway.
//!
//! **How it is fixed.** Raise the end, or lead the vent elsewhere.

use crate::appliances::{condenses, direct_vent, served};
use crate::surroundings::{End, Thing, around, ends};
use redtag_handbook::venting::sources;
use redtag_rule::prelude::*;
use uom::si::f64::Length;

/// Above the ground.
const GRADE: Quantity<dimensions::Length> = Quantity::new(
    "above_grade",
    "12 in",
    "Height of the end of a vent in a wall above the ground, a deck or a porch.",
    "IFGC 503.8 (2018 IRC page 593; a boiler maker's manual)",
);
/// Above snow.
const SNOW: Quantity<dimensions::Length> = Quantity::new(
    "above_snow",
    "12 in",
    "Height of the end of a vent in a wall above the snow to be expected.",
    "makers' tables print 12 in above the snow for both kinds of ends (a furnace manual)",
);
/// Walkway.
const WALKWAY: Quantity<dimensions::Length> = Quantity::new(
    "above_walkway",
    "7 ft",
    "Height above the ground of the end of a vent of mechanical draft beside a public walkway.",
    "IFGC 503.3.3, from memory; a boiler maker's manual",
);
/// Walkway, direct vents.
const WALKWAY_DIRECT: Quantity<dimensions::Length> = Quantity::new(
    "above_walkway_direct_vent",
    "0 ft",
    "The same for a direct-vent end; 0 where its instructions alone decide.",
    "makers' tables after NFPA 54 leave it to local codes",
);
/// How near a walkway counts.
const BESIDE: Quantity<dimensions::Length> = Quantity::new(
    "beside_walkway",
    "7 ft",
    "How near sideways a walkway counts as beside the end of a vent.",
    "the code says adjacent, without a figure; 7 ft is that of a large city's mechanical code",
);

/// The rule.
pub const RULE: Rule = Rule {
    citations: &[
        cited("IRC", "2018", "G2427.8"),
        cited("IFGC", "2018", "503.8"),
        remembered("IRC", "2021", "G2427.3.3"),
        remembered("IFGC", "2021", "503.3.3"),
    ],
    parameters: &[&GRADE, &SNOW, &WALKWAY, &WALKWAY_DIRECT, &BESIDE],
    reads: &["/vents", "/equipment", "/openings", "/spaces", "/gas", "/site"],
    ..Rule::new("venting/terminal-grade", "Wall ends of vents above ground and snow", check)
};

fn check(inquiry: &Inquiry) -> Vec<Finding> {
    let wanted = "whether it is high enough";
    ends(inquiry, TerminalKind::Wall).iter().map(|end| end.vent.sheet(wanted, |sheet| judge(inquiry, sheet, end))).collect()
}

fn judge(inquiry: &Inquiry, sheet: &mut Sheet, end: &End) -> Lookup<Text> {
    let maker = end.terminal.instructions.as_ref().and_then(|told| told.above_grade.as_ref()).map(|figure| figure.quantity());
    let limit = maker.map_or(inquiry.value(&GRADE), |maker| maker.max(inquiry.value(&GRADE)));
    if let Some(height) = sheet.want(need!(end.terminal, above_grade)) {
        let words = text!("{} above the ground, {} is the least", in_unit(&height, "in"), in_unit(limit, "in"));
        if !sheet.require("ground", words, sources::WALL.text(), at_least(height.quantity(), limit)) {
            let cure = text!("raise it by {}, to {}", in_unit(limit - height.quantity(), "in"), in_unit(limit, "in"));
            let inches = redtag_handbook::units::in_inches(limit);
            sheet.cure_at(cure, &[(height.pointer().to_owned(), json!(format!("{inches} in")))]);
            end.mark(sheet, None, &format!("{}: too near the ground", end.vent.id));
        }
    }
    intake(inquiry, sheet, end);
    snow(inquiry, sheet, end);
    let things = around(inquiry, sheet, end);
    let Some(appliance) = served(inquiry, &end.vent)?.into_iter().next() else { return Ok(text!("it serves nothing")) };
    let direct = direct_vent(&appliance)?;
    for thing in &things {
        match thing.kind {
            NearbyKind::Walkway => walkway(inquiry, sheet, end, thing, direct, &appliance),
            NearbyKind::Deck => deck(sheet, end, thing, limit),
            _ => {}
        }
    }
    Ok(text!("high enough above ground, snow and walkways"))
}

/// The intake of a direct vent stays above the ground like its outlet.
fn intake(inquiry: &Inquiry, sheet: &mut Sheet, end: &End) {
    let Some(intake) = &end.vent.intake else {
        let own =
            |lookup: Lookup<Vec<Place<Equipment>>>| lookup.is_ok_and(|all| all.iter().any(|one| direct_vent(one) == Ok(true)));
        if own(served(inquiry, &end.vent)) {
            let what = "the intake of the direct vent; where both are one end, its height is that of the end";
            sheet.lack(Unresolved::because(format!("{}/intake/above_grade", end.vent.pointer()), what));
        }
        return;
    };
    let intake = end.vent.below("/intake", intake);
    if intake.beyond.as_ref().is_some_and(|beyond| beyond.kind != BeyondKind::Outdoors) {
        return;
    }
    let Some(height) = sheet.want(need!(intake, above_grade)) else { return };
    let limit = inquiry.value(&GRADE);
    let words = text!("its air intake {} above the ground, {} is the least", in_unit(&height, "in"), in_unit(limit, "in"));
    if !sheet.require("air intake", words, sources::WALL.text(), at_least(height.quantity(), limit)) {
        sheet.cure(text!("raise the intake by {}, to {}", in_unit(limit - height.quantity(), "in"), in_unit(limit, "in")));
        sheet.related(intake.pointer());
    }
}

fn snow(inquiry: &Inquiry, sheet: &mut Sheet, end: &End) {
    let clear: Option<Length> = match &end.terminal.above_snow {
        Some(stated) => Some(stated.quantity()),
        None => {
            let facts = (need!(end.terminal, above_grade), need!(inquiry.project(), site.snow_depth)).together();
            sheet.want(facts).map(|(height, snow)| height.quantity() - snow.quantity())
        }
    };
    let Some(clear) = clear else { return };
    let limit = inquiry.value(&SNOW);
    let words = if clear.value < 0.0 {
        text!("{} under the snow to be expected, {} above it is the least", in_unit(-clear, "in"), in_unit(limit, "in"))
    } else {
        text!("{} above the snow to be expected, {} is the least", in_unit(clear, "in"), in_unit(limit, "in"))
    };
    if !sheet.require("snow", words, "makers' tables: 12 in above the snow", at_least(clear, limit)) {
        sheet.cure(text!("raise it by {}", in_unit(limit - clear, "in")));
        end.mark(sheet, None, &format!("{}: too near the snow", end.vent.id));
    }
}

fn walkway(inquiry: &Inquiry, sheet: &mut Sheet, end: &End, thing: &Thing, direct: bool, appliance: &Place<Equipment>) {
    let Some(side) = thing.offset.horizontal.or(thing.offset.distance) else { return thing.lack(sheet) };
    let over = thing.offset.horizontal.is_some_and(|side| at_most(side.value, 0.0));
    if over && sheet.want(condenses(appliance)) == Some(true) {
        sheet.require("over a walkway", text!("a condensing vent ends over {}", thing.name), sources::WALL.text(), false);
        sheet.cure(text!("end it where its water does not fall on the walkway"));
        sheet.related(&thing.pointer);
    }
    if !at_most(side, inquiry.value(&BESIDE)) {
        return;
    }
    let code = if direct { inquiry.value(&WALKWAY_DIRECT) } else { inquiry.value(&WALKWAY) };
    let maker = end.terminal.instructions.as_ref().and_then(|told| told.above_walkway.as_ref()).map(|figure| figure.quantity());
    let limit = maker.map_or(code, |maker| maker.max(code));
    let Some(height) = sheet.want(need!(end.terminal, above_grade)) else { return };
    let words = text!("{} above the ground beside {}, {} is the least", in_unit(&height, "ft"), thing.name, in_unit(limit, "ft"));
    if !sheet.require("walkway", words, "IFGC 503.3.3, from memory", at_least(height.quantity(), limit)) {
        sheet.cure(text!("raise it to {}, or end it elsewhere", in_unit(limit, "ft")));
        sheet.related(&thing.pointer);
        end.mark(sheet, Some(thing), &format!("{}: too low beside a walkway", end.vent.id));
    }
}

/// Above a deck the ground's distance holds; below one the instructions decide.
fn deck(sheet: &mut Sheet, end: &End, thing: &Thing, limit: Length) {
    let Some(above) = thing.offset.vertical else { return thing.lack(sheet) };
    let below = above.value < 0.0;
    let limit = if below {
        match sheet.want(need!(end.terminal, instructions.below_deck)) {
            Some(maker) => maker.quantity(),
            None => return,
        }
    } else {
        limit
    };
    let words = text!(
        "{} {} {}, {} is the least",
        in_unit(above.abs(), "in"),
        if below { "below" } else { "above" },
        thing.name,
        in_unit(limit, "in")
    );
    if !sheet.require(&thing.name, words, sources::WALL.text(), at_least(above.abs(), limit)) {
        sheet.cure(text!("move the end {} away from {}", in_unit(limit, "in"), thing.name));
        sheet.related(&thing.pointer);
    }
}
