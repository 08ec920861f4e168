//! The pipe from a relief valve must let scalding water and steam go, where somebody sees it and nobody is hurt.
//!
//! A relief valve is the last thing between a runaway heater and an explosion. A pipe that is too small, closed, trapped or
//! frozen holds it shut; one that ends too high sprays water at its boiling point over whoever stands there; one whose end is
//! threaded invites a cap. **Water from a relief valve scalds at once.** Work on it belongs to a licensed plumber, with the
//! heater cold and its supply shut.
//!
//! **How it is measured.** At the valve: nominal size of its outlet and of the pipe, all the way down. Along the pipe: it falls
//! everywhere, has no trap, no valve and no tee, serves one valve. At its end: the height above the floor or the receptor's rim,
//! not threaded, seen at once, with an air gap in the room of the heater. Plastic tube that fits inside its fittings must be one
//! size larger and fastened, since its fittings narrow it. It must not end where water and steam would damage the building, as on
//! the floor of an attic. Outdoors in a cold winter its end may freeze shut: older editions ask for a receptor indoors first.
//!
//! **How it is fixed.** Full size, straight down, cut square 4 in or so above the floor or pan. Nothing screwed to its end.

use crate::heater;
use redtag_handbook::units;
use redtag_rule::Typed;
use redtag_rule::prelude::*;
use uom::si::f64::{Length, ThermodynamicTemperature};
use uom::si::thermodynamic_temperature::kelvin;

/// The highest end.
const HIGHEST: Quantity<dimensions::Length> = Quantity::new(
    "highest_end",
    "6 in",
    "The most a relief pipe may end above the floor, the pan or the receptor's rim.",
    "IRC P2804.6.1 item 10 (2018)",
)
.within("1 in", "24 in");
/// The lowest end, in pipe diameters.
const DIAMETERS: Number = Number::new(
    "least_end_in_diameters",
    2.0,
    "The least a relief pipe must end above the floor or rim, in diameters of the pipe.",
    "IRC P2804.6.1 item 10 (2018)",
)
.within(0.0, 4.0);
/// The highest end outdoors.
const OUTDOORS: Quantity<dimensions::Length> = Quantity::new(
    "highest_end_outdoors",
    "24 in",
    "The most a relief pipe may end above the ground outdoors.",
    "from memory of UPC 608.5",
)
.within("6 in", "24 in");
/// What it may be made of.
const MATERIALS: Choices = Choices::new(
    "materials",
    &["copper-k", "copper-l", "copper-m", "cpvc", "pex", "pe-rt", "galvanized-steel", "stainless-steel"],
    &["copper-k", "copper-l", "copper-m", "cpvc", "pex", "pe-rt", "galvanized-steel", "stainless-steel", "pvc", "polyethylene"],
    "The materials a relief pipe may be made of.",
    "IRC P2804.6.1 item 13 (2018); table P2906.5 from memory",
);
/// Plastic that fits inside its fittings.
const ONE_LARGER: Flag = Flag::new(
    "inserted_fittings_one_size_larger",
    true,
    "Cross-linked and raised-temperature polyethylene are one nominal size larger than the outlet, and their end is fastened.",
    "IRC P2804.6.1 item 14 (2018 and later)",
);
/// How far it may turn.
const TURNS: Quantity<dimensions::Angle> = Quantity::new(
    "greatest_turn",
    "3600 deg",
    "The most a relief pipe may turn in all; the default stands for no limit.",
    "Vermont plumbing rule sets 180 degrees; the model code sets none",
)
.within("90 deg", "3600 deg");

/// Frost.
const FROST: Flag = Flag::new(
    "receptor_indoors_where_it_freezes",
    false,
    "Where winters freeze, a pipe that ends outdoors ends above a receptor indoors first; without this it is worth a word.",
    "IRC 2006 P2803.6.1 asked it; it is not in the list of the 2021 edition",
);

const FREEZING: f64 = 273.15;

/// The rule.
pub const RULE: Rule = Rule {
    citations: &[
        cited("IRC", "2018", "P2804.6.1"),
        cited("IPC", "2018", "504.6"),
        cited("IRC", "2006", "P2803.6.1"),
        remembered("IRC", "2021", "P2804.6.1"),
    ],
    parameters: &[&HIGHEST, &DIAMETERS, &OUTDOORS, &MATERIALS, &ONE_LARGER, &TURNS, &FROST],
    reads: &["/equipment", "/site", "/spaces"],
    ..Rule::new("water-heating/relief-discharge", "Relief pipe that can let go and hurts nobody", check)
};

const WANTED: &str = "whether the pipe from the relief valve can let go safely";

fn check(inquiry: &Inquiry) -> Vec<Finding> {
    let valves = |heater: Place<'_, Equipment>| -> Vec<Finding> {
        let relief = need!(heater, relief).every();
        relief.iter().map(|valve| judge(inquiry, &heater, valve)).collect()
    };
    heater::all(inquiry).into_iter().flat_map(valves).collect()
}

fn judge(inquiry: &Inquiry, heater: &Place<Equipment>, valve: &Place<Relief>) -> Finding {
    if valve.kind == ReliefKind::Vacuum {
        return valve.not_applicable(text!("a vacuum relief valve lets air in, it has no pipe")).done();
    }
    valve.sheet(WANTED, |sheet| {
        let pipe = need!(valve, pipe)?;
        let end = sheet.want(need!(pipe, ends_at));
        if end.as_ref().is_some_and(|end| **end == ReliefEnd::None) {
            sheet.fault(text!("no pipe leads from the valve: it would spray scalding water into the room"));
            sheet.cure(text!("run a pipe of the valve's full outlet size down to 4 in above the floor or the pan"));
            return Ok(Text::default());
        }
        size(inquiry, valve, &pipe, sheet);
        course(inquiry, &pipe, sheet);
        ending(inquiry, heater, &pipe, sheet);
        match end.as_deref() {
            Some(ReliefEnd::Outdoors) => outdoors(inquiry, sheet),
            Some(ReliefEnd::Pan) => into_pan(heater, sheet),
            Some(ReliefEnd::Floor) => onto_floor(inquiry, heater, &pipe, sheet),
            _ => {}
        }
        Ok(text!("full size, falls to an open end that is seen, within reach of nobody's face"))
    })
}

/// Material and size, from the valve down.
fn size(inquiry: &Inquiry, valve: &Place<Relief>, pipe: &Place<ReliefPipe>, sheet: &mut Sheet) {
    let material = sheet.want(need!(pipe, material));
    if let Some(material) = &material {
        if **material == WaterPipeMaterial::Other {
            sheet.lack(Unresolved::because(material.pointer(), "the material of the relief pipe, by name"));
        } else {
            let holds = inquiry.value(&MATERIALS).contains(&material.word());
            let words = text!("{}: a relief pipe is made of what carries hot water", **material);
            sheet.require("material", words, "IRC P2804.6.1 item 13", holds);
        }
    }
    let (Some(size), Some(outlet)) = (sheet.want(need!(pipe, size)), sheet.want(need!(valve, outlet_size))) else { return };
    let inserted =
        matches!(material.as_deref(), Some(WaterPipeMaterial::Pex | WaterPipeMaterial::PeRt)) && inquiry.value(&ONE_LARGER);
    let ladder = redtag_handbook::water::NOMINAL;
    let step = usize::from(inserted);
    let least = redtag_handbook::water::size_up(&ladder, outlet.quantity(), step).unwrap_or(outlet.quantity());
    if !sheet.at_least("size", &size, &least, "in", "IRC P2804.6.1 items 3 and 14") {
        sheet.fault(text!("the pipe is {}, {} is the least behind an outlet of {}", size, in_unit(least, "in"), outlet));
        let written = quantity::Length::from_quantity(&least).print_in("in");
        sheet.cure_at(text!("make it {} all the way", in_unit(least, "in")), &[(size.pointer().to_owned(), json!(written))]);
    }
    if inserted {
        demand(
            sheet,
            need!(pipe, secured),
            true,
            "fastened end",
            "the end of the tube is not fastened: it whips when the valve opens",
        );
    }
}

/// Along the pipe.
fn course(inquiry: &Inquiry, pipe: &Place<ReliefPipe>, sheet: &mut Sheet) {
    if let Some(slope) = sheet.want(need!(pipe, slope)) {
        let words = text!("least slope {}: water must run out by its own weight", slope);
        if !sheet.require("gravity", words, "IRC P2804.6.1 item 9", slope.si() > 0.0) {
            sheet.cure(text!("let it fall all the way, 1/4 in/ft at least"));
        }
    }
    demand(
        sheet,
        need!(pipe, trapped),
        false,
        "trap",
        "the pipe is trapped: what stands in it freezes or corrodes the valve shut",
    );
    demand(sheet, need!(pipe, has_valve_or_tee), false, "valve or tee", "a valve or tee is in the pipe: it can be closed");
    demand(sheet, need!(pipe, serves_one_valve), true, "one valve", "the pipe serves more than one relief valve");
    let most = inquiry.value(&TURNS);
    if at_least(most, TURNS.default_value()) {
        return;
    }
    if let Some(turns) = sheet.want(need!(pipe, turns)) {
        let most = quantity::Angle::from_quantity(&most);
        if !sheet.at_most("turns", &turns, &most, "deg", "set by the pack") {
            sheet.fault(text!("the pipe turns by {} in all, {} is the most", turns, most));
        }
    }
}

/// At its end.
fn ending(inquiry: &Inquiry, heater: &Place<Equipment>, pipe: &Place<ReliefPipe>, sheet: &mut Sheet) {
    demand(sheet, need!(pipe, threaded_end), false, "threads", "the end of the pipe is threaded: somebody will cap it");
    demand(sheet, need!(pipe, air_gap_in_room), true, "air gap", "the pipe has no air gap in the room of the heater");
    demand(sheet, need!(pipe, visible_end), true, "seen", "nobody sees the end of the pipe: a leaking valve goes unnoticed");
    let (Some(height), Some(end)) = (sheet.want(need!(pipe, end_height)), sheet.want(need!(pipe, ends_at))) else { return };
    let outside = *end == ReliefEnd::Outdoors;
    let most = if outside { inquiry.value(&OUTDOORS) } else { inquiry.value(&HIGHEST) };
    if !sheet.at_most("height of the end", &height, &most, "in", "IRC P2804.6.1 item 10") {
        sheet.fault(text!(
            "the pipe ends {} above the floor or rim, {} is the most: it would spray at people",
            height,
            in_unit(most, "in")
        ));
        lower(inquiry, heater, (pipe, &height), most, sheet);
    }
    let Some(size) = sheet.want(need!(pipe, size)) else { return };
    let least = size.quantity() * inquiry.value(&DIAMETERS);
    if !sheet.at_least("clear of the floor", &height, &least, "in", "IRC P2804.6.1 item 10") {
        sheet.fault(text!("the pipe ends {} above the floor or rim, two of its diameters are {}", height, in_unit(least, "in")));
        lower(inquiry, heater, (pipe, &height), most, sheet);
    }
}

/// A length that fits, and where the end is now.
fn lower(
    inquiry: &Inquiry,
    heater: &Place<Equipment>,
    (pipe, height): (&Place<ReliefPipe>, &quantity::Length),
    most: Length,
    sheet: &mut Sheet,
) {
    let usual = units::inches(4.0);
    let target = if usual < most { usual } else { most };
    let written = quantity::Length::from_quantity(&target).print_in("in");
    let words = text!("cut or lengthen the pipe so that it ends {} above the floor or rim", in_unit(target, "in"));
    sheet.cure_at(words, &[(format!("{}/end_height", pipe.pointer()), json!(written))]);
    if let Some((x, y, floor, space)) = heater::stands(inquiry, heater) {
        let at = |up: f64| [x, y, floor + up];
        sheet.mark(line_mark(space.as_deref(), "end of the relief pipe", &[at(most.value), at(height.si())]));
    }
}

/// Where the pipe ends in the open.
fn outdoors(inquiry: &Inquiry, sheet: &mut Sheet) {
    let Some(lowest) = sheet.want(need!(inquiry.project(), site.heating_design_temperature)) else { return };
    let words = text!("winters reach {} here: a relief pipe that ends above a receptor indoors first cannot freeze shut", lowest);
    if !sheet.test(
        "frost",
        words.clone(),
        "IRC 2006 P2803.6.1",
        !at_most(lowest.quantity(), ThermodynamicTemperature::new::<kelvin>(FREEZING)),
    ) {
        if inquiry.value(&FROST) {
            sheet.fault(words)
        } else {
            sheet.advise(words)
        }
        sheet.cure(text!("end it above a receptor or floor drain in the room of the heater"));
    }
}

/// On a floor, which must bear it: that of an attic does not, one of concrete, tile or earth does.
fn onto_floor(inquiry: &Inquiry, heater: &Place<Equipment>, pipe: &Place<ReliefPipe>, sheet: &mut Sheet) {
    let space = need!(heater, space).and_then(|id| inquiry.space(&id)).ok();
    let attic = space.as_ref().is_some_and(|space| space.kind == SpaceKind::Attic);
    let hard = space
        .and_then(|space| space.get().floor_survey.as_ref()?.material)
        .is_some_and(|material| matches!(material, FloorMaterial::Concrete | FloorMaterial::Tile | FloorMaterial::Earth));
    let damages = match need!(pipe, could_damage) {
        Ok(said) => *said || attic,
        Err(_) if attic || hard => attic,
        Err(unresolved) => return sheet.lack(unresolved),
    };
    let words = if damages { "what it lets go damages the building under that floor" } else { "the floor bears what it lets go" };
    if !sheet.require("damage", text!("{}", words), "IRC P2804.6.1 item 6", !damages) {
        sheet.cure(text!("lead it to a floor drain, a waste receptor or outdoors, full size and falling all the way"));
    }
}

/// In the heater's own pan, which must be there and be drained.
fn into_pan(heater: &Place<Equipment>, sheet: &mut Sheet) {
    let (Some(depth), Some(drained)) = (sheet.want(need!(heater, pan.depth)), sheet.want(need!(heater, pan.drained))) else {
        return;
    };
    let holds = depth.si() > 0.0 && *drained;
    if !sheet.require(
        "pan",
        text!(
            "{}",
            if holds {
                "it ends in the heater's pan, which is drained"
            } else {
                "it ends in a pan that is not there or not drained"
            }
        ),
        "IRC P2804.6.1 item 5",
        holds,
    ) {
        sheet.cure(text!("end it above a floor drain, or give the heater a drained pan"));
    }
}

/// A yes or no that must be so.
fn demand(sheet: &mut Sheet, said: Lookup<Place<bool>>, wanted: bool, label: &str, fault: &str) {
    let Some(said) = sheet.want(said) else { return };
    let holds = *said == wanted;
    sheet.test(label, text!("{}", if holds { "as it should be" } else { fault }), "IRC P2804.6.1", holds);
    if !holds {
        sheet.fault(text!("{}", fault));
        let cure = match label {
            "fastened end" => "fasten the end of the tube",
            "trap" => "take the trap out, let the pipe fall all the way",
            "valve or tee" => "take the valve or tee out",
            "one valve" => "run a pipe of its own for each relief valve",
            "threads" => "cut the thread off",
            "air gap" => "end it above the floor, pan or receptor in the room of the heater, with an air gap",
            _ => "end it where somebody sees it at once",
        };
        sheet.cure_at(text!("{}", cure), &[(said.pointer().to_owned(), json!(wanted))]);
    }
}
