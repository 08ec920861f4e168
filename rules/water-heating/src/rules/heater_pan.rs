//! A water heater with a tank must stand in a drained pan wherever a leak would do damage.
//!
//! Tanks fail at the bottom and empty into the room for as long as nobody shuts the supply.
//!
//! **How it is measured.** The pan: how deep, of which material and how thick, wider than the heater on every side, its drain
//! 3/4 in or larger and led to where it may be seen. A plastic pan under a gas burner melts or burns unless its plastic is listed with a
//! flame spread of 25 and smoke developed of 450 at most; before 2021 it was not allowed at all. A new heater in the place of an old
//! one needs no drain where there was none. A drain that ends outdoors ends 6 to 24 in above the ground.
//!
//! **How it is fixed.** A galvanized or aluminum pan, 24 gauge or thicker, 2 in wider than the heater all round and 1-1/2 in
//! deep or deeper, its drain falling to a floor drain through an air gap.

use crate::heater;
use redtag_rule::prelude::*;
use uom::si::f64::Length;

/// How deep.
const DEPTH: Quantity<dimensions::Length> =
    Quantity::new("least_depth", "1.5 in", "The least depth of the pan.", "IRC 2015 P2801.6").within("1 in", "4 in");
/// How much wider.
const BEYOND: Quantity<dimensions::Length> = Quantity::new(
    "beyond_heater",
    "0 in",
    "How far the pan reaches beyond the heater on every side at least.",
    "the model code asks that it catches every drip; some counties ask 2 in",
)
.within("0 in", "6 in");
/// Drain.
const DRAIN: Quantity<dimensions::Length> =
    Quantity::new("least_drain", "0.75 in", "The least nominal size of the pan's drain.", "IRC 2015 P2801.6.1")
        .within("0.5 in", "2 in");
/// Metal.
const METAL: Quantity<dimensions::Length> =
    Quantity::new("least_metal", "0.0236 in", "The least thickness of a metal pan.", "IRC 2015 P2801.6").within("0 in", "0.1 in");
/// Plastic.
const PLASTIC: Quantity<dimensions::Length> =
    Quantity::new("least_plastic", "0.036 in", "The least thickness of a plastic pan.", "IRC 2015 P2801.6")
        .within("0 in", "0.2 in");
/// Plastic under a burner.
const UNDER_GAS: Choice = Choice::new(
    "plastic_under_gas",
    "flame-rated",
    &["never", "flame-rated", "any"],
    "Whether a plastic pan may stand under a gas-fired heater: never, where its flame spread is rated, or any.",
    "IRC 2015 P2801.6 forbids it; from memory of IRC 2021 P2801.6: flame spread 25, smoke developed 450",
);
/// The end outdoors.
const OUTDOOR_LEAST: Quantity<dimensions::Length> = Quantity::new(
    "outdoor_end_least",
    "6 in",
    "The least height above the ground at which a pan's drain ends outdoors.",
    "from memory of IRC P2801.6.2",
)
.within("0 in", "12 in");
/// The end outdoors.
const OUTDOOR_MOST: Quantity<dimensions::Length> = Quantity::new(
    "outdoor_end_most",
    "24 in",
    "The greatest height above the ground at which a pan's drain ends outdoors.",
    "from memory of IRC P2801.6.2",
)
.within("12 in", "48 in");
/// Replacement.
const REPLACEMENT: Flag = Flag::new(
    "replacement_may_lack_drain",
    true,
    "A heater that replaces another needs no pan drain where there was none.",
    "from memory of IRC P2801.6.1; city codes have it too",
);

/// The rule.
pub const RULE: Rule = Rule {
    citations: &[
        cited("IRC", "2021", "P2801.6"),
        cited("IRC", "2015", "P2801.6"),
        remembered("IRC", "2021", "P2801.6.2"),
        remembered("IPC", "2021", "504.7"),
    ],
    parameters: &[&DEPTH, &BEYOND, &DRAIN, &METAL, &PLASTIC, &UNDER_GAS, &REPLACEMENT, &OUTDOOR_LEAST, &OUTDOOR_MOST],
    reads: &["/equipment", "/building", "/spaces", "/drainage"],
    ..Rule::new("water-heating/heater-pan", "Pan under a tank that may leak", check)
};

const WANTED: &str = "whether a leak of the tank is caught and drained";

fn check(inquiry: &Inquiry) -> Vec<Finding> {
    heater::each(inquiry, |heater| {
        if !heater::stores(heater) {
            return heater.not_applicable(text!("it has no tank")).done();
        }
        if heater.outdoors == Some(true) || need!(heater, water_heating.leak_would_damage).is_ok_and(|damage| !*damage) {
            return heater.not_applicable(text!("a leak would do no damage")).done();
        }
        heater.sheet(WANTED, |sheet| judge(inquiry, heater, sheet))
    })
}

fn judge(inquiry: &Inquiry, heater: &Place<Equipment>, sheet: &mut Sheet) -> Lookup<Text> {
    sheet.want(need!(heater, water_heating.leak_would_damage));
    let absent = || {
        Unresolved::because(format!("{}/pan", heater.pointer()), "the pan under the heater; a depth of 0 in where there is none")
    };
    let pan = need!(heater, pan).map_err(|_| absent())?;
    let depth = need!(pan, depth)?;
    if depth.si() <= 0.0 {
        sheet.fault(text!("no pan stands under a tank whose leak would do damage"));
        sheet.cure(text!("set it in a metal pan {} deep or deeper, with a drain", in_unit(inquiry.value(&DEPTH), "in")));
        mark(inquiry, heater, sheet);
        return Ok(Text::default());
    }
    let least = inquiry.value(&DEPTH);
    if !sheet.at_least("depth", &depth, &least, "in", "IRC 2015 P2801.6") {
        sheet.fault(text!("the pan is {} deep, {} is the least", depth, in_unit(least, "in")));
        let written = quantity::Length::from_quantity(&least).print_in("in");
        sheet.cure_at(text!("a pan {} deep", in_unit(least, "in")), &[(depth.pointer().to_owned(), json!(written))]);
    }
    covers(inquiry, heater, &pan, sheet);
    material(inquiry, heater, &pan, sheet);
    drain(inquiry, &pan, sheet);
    if !sheet.sound() {
        mark(inquiry, heater, sheet);
    }
    Ok(text!("a pan {} deep catches a leak and drains it", depth))
}

/// Wide enough for what stands in it.
fn covers(inquiry: &Inquiry, heater: &Place<Equipment>, pan: &Place<Pan>, sheet: &mut Sheet) {
    let beyond = inquiry.value(&BEYOND) * 2.0;
    let round = need!(heater, placement.footprint).is_ok_and(|footprint| *footprint == Footprint::Circle);
    let width = need!(heater, placement.width);
    let depth = if round { width.clone() } else { need!(heater, placement.depth) };
    let pairs = [("width", need!(pan, width), width), ("length", need!(pan, length), depth)];
    for (label, has, body) in pairs {
        let (Some(has), Some(body)) = (sheet.want(has), sheet.want(body)) else { continue };
        let least: Length = body.quantity() + beyond;
        if !sheet.at_least(label, &has, &least, "in", "IRC 2015 P2801.6: it catches every drip") {
            sheet.fault(text!("the pan's {} is {}, {} is wanted for a heater of {}", label, has, in_unit(least, "in"), body));
            sheet.cure(text!("a pan {} by {} at least", in_unit(least, "in"), in_unit(least, "in")));
        }
    }
}

fn material(inquiry: &Inquiry, heater: &Place<Equipment>, pan: &Place<Pan>, sheet: &mut Sheet) {
    let Some(made) = sheet.want(need!(pan, material)) else { return };
    let plastic = *made == PanMaterial::Plastic;
    let least = if plastic { inquiry.value(&PLASTIC) } else { inquiry.value(&METAL) };
    if let Some(thickness) = sheet.want(need!(pan, thickness))
        && !sheet.at_least("thickness", &thickness, &least, "in", "IRC 2015 P2801.6")
    {
        sheet.fault(text!("the pan is {} thick, {} is the least for {}", in_unit(&thickness, "in"), in_unit(least, "in"), *made));
    }
    if plastic && sheet.want(kinds::burns(heater)) == Some(true) {
        under_burner(inquiry, pan, &made, sheet);
    }
}

/// Plastic where a burner stands in it.
fn under_burner(inquiry: &Inquiry, pan: &Place<Pan>, made: &Place<PanMaterial>, sheet: &mut Sheet) {
    let holds = match inquiry.value(&UNDER_GAS) {
        "any" => true,
        "never" => false,
        _ => match sheet.want(need!(pan, flame_rated)) {
            Some(rated) => *rated,
            None => return,
        },
    };
    if !sheet.test("under a burner", text!("the pan is plastic and a burner stands in it"), "IRC 2015 P2801.6", holds) {
        sheet.fault(text!("a plastic pan stands under a heater that burns fuel, and its flame spread is not rated for that"));
        sheet.cure_at(text!("a metal pan"), &[(made.pointer().to_owned(), json!("galvanized-steel"))]);
    }
}

/// Where the pipe of a pan ends: a receptor, or outdoors within reach of the eye.
fn ends(inquiry: &Inquiry, pan: &Place<Pan>, sheet: &mut Sheet) {
    let receptor = need!(pan, drains_to).and_then(|id| need!(inquiry.project(), drainage.drains).named(&id));
    if let Ok(drain) = &receptor {
        sheet.related(drain.pointer());
    }
    let outdoors = receptor.as_ref().is_ok_and(|drain| drain.kind == DrainKind::Outdoors);
    let height = match (need!(pan, outdoor_end_height), receptor) {
        (Ok(height), _) => height,
        (Err(_), Ok(_)) if !outdoors => return,
        (Err(unresolved), Ok(_)) => return sheet.lack(unresolved),
        (Err(_), Err(unresolved)) => return sheet.lack(unresolved),
    };
    let (least, most) = (inquiry.value(&OUTDOOR_LEAST), inquiry.value(&OUTDOOR_MOST));
    let words = text!(
        "its drain ends {} above the ground, it must be {} to {}",
        in_unit(&height, "in"),
        in_unit(least, "in"),
        in_unit(most, "in")
    );
    let holds = at_least(height.quantity(), least) && at_most(height.quantity(), most);
    sheet.require("end outdoors", words, "IRC P2801.6.2, from memory", holds);
}

fn drain(inquiry: &Inquiry, pan: &Place<Pan>, sheet: &mut Sheet) {
    let Some(drained) = sheet.want(need!(pan, drained)) else { return };
    if !*drained {
        let replaces = need!(inquiry.project(), building.work).is_ok_and(|work| *work == Work::Replacement);
        let excused = match need!(pan, had_drain) {
            _ if !replaces || !inquiry.value(&REPLACEMENT) => false,
            Ok(had) => !*had,
            Err(unresolved) => return sheet.lack(unresolved),
        };
        let words =
            text!("the pan has no drain{}", if excused { "; none is asked of a replacement where there was none" } else { "" });
        if !sheet.require("drain", words, "IRC 2015 P2801.6.1", excused) {
            sheet.cure(text!("a drain of {} to a floor drain or outdoors", in_unit(inquiry.value(&DRAIN), "in")));
        }
        return;
    }
    if let Some(size) = sheet.want(need!(pan, drain_size)) {
        let least = inquiry.value(&DRAIN);
        if !sheet.at_least("drain", &size, &least, "in", "IRC 2015 P2801.6.1") {
            sheet.fault(text!("the pan's drain is {}, {} is the least", size, in_unit(least, "in")));
            let written = quantity::Length::from_quantity(&least).print_in("in");
            sheet.cure_at(text!("a drain of {}", in_unit(least, "in")), &[(size.pointer().to_owned(), json!(written))]);
        }
    }
    ends(inquiry, pan, sheet);
}

fn mark(inquiry: &Inquiry, heater: &Place<Equipment>, sheet: &mut Sheet) {
    let (Some((x, y, floor, space)), Ok(width)) = (heater::stands(inquiry, heater), need!(heater, placement.width)) else {
        return;
    };
    let half = width.si() / 2.0;
    sheet.mark(box_mark(space.as_deref(), "pan", [x - half, y - half, floor], [x + half, y + half, floor + 0.05]));
}
