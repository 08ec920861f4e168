//! A generator runs outdoors, can be shut down from there, has conductors for its current and an inlet that says what it may be.
//!
//! Exhaust in a garage or near a window kills by carbon monoxide within the hour. A generator whose neutral does not fit the
//! inlet makes a second bond. One that cannot be stopped from outside goes on feeding a burning house.
//!
//! **How it is measured.** Outdoors, 5 ft from doors, windows and vents in plan, by positions or as stated, the smaller where both are
//! there; a portable one nearer than 20 ft is worth a word. A shutdown outdoors for one that stays in place, by edition; conductors to the first
//! overcurrent device for 115 % of its nameplate current, unless its design keeps it from overloading them; for a portable one
//! an inlet, with the sign for a floating or a bonded neutral. A generator that stands among the equipment and is not described is
//! asked about.
//!
//! **How it is fixed.** Move it outdoors, add the shutdown, heavier conductors, the sign.

use redtag_rule::prelude::*;
use redtag_rule_space::{length, opening_outline, stand};
use uom::si::f64::{Length, Ratio};

/// The shutdown.
const SHUTDOWN: Flag = Flag::new(
    "outdoor_shutdown",
    true,
    "Whether a generator that stays in place at a one- or two-family dwelling needs a shutdown outdoors.",
    "NEC 445.18(D) of 2020; none in 2017",
);
/// The conductors.
const FACTOR: Quantity<dimensions::Ratio> = Quantity::new(
    "conductor_factor",
    "115 %",
    "Share of the nameplate current the conductors to the first overcurrent device must carry.",
    "NEC 445.13",
)
.within("100 %", "150 %");
/// The sign.
const SIGN: Flag = Flag::new(
    "inlet_sign",
    true,
    "Whether the inlet of a portable generator needs a sign that says how its neutral must be joined.",
    "NEC 702.7(C)",
);

/// Away from openings.
const OPENINGS: Quantity<dimensions::Length> = Quantity::new(
    "opening_distance",
    "5 ft",
    "The least distance of a generator to doors, windows and vents.",
    "from memory of NFPA 37, 4.1.4; makers' instructions ask for more",
)
.within("0 ft", "50 ft");
/// Portable ones.
const PORTABLE: Quantity<dimensions::Length> = Quantity::new(
    "portable_distance",
    "20 ft",
    "Nearer than this to doors and windows a portable generator is worth a word.",
    "advice of the federal product safety agency; from memory",
)
.within("0 ft", "100 ft");

/// The rule.
pub const RULE: Rule = Rule {
    citations: &[
        cited("NEC", "2020", "445.18(D)"),
        cited("NEC", "2020", "445.13"),
        cited("NEC", "2014", "702.7(C)"),
        remembered("NEC", "2020", "702.12"),
        remembered("NFPA 37", "2021", "4.1.4"),
    ],
    parameters: &[&SHUTDOWN, &FACTOR, &SIGN, &OPENINGS, &PORTABLE],
    reads: &["/spaces", "/openings", "/equipment", "/electrical/generators"],
    ..Rule::new("standby-power/generator", "Generators and their inlets", check)
};

const WANTED: &str = "whether it may feed the house";

fn check(inquiry: &Inquiry) -> Vec<Finding> {
    let every = need!(inquiry.project(), electrical.generators).every();
    let judged = every.iter().map(|generator| generator.sheet(WANTED, |sheet| judge(inquiry, generator, sheet)));
    judged.chain(undescribed(inquiry, &every)).collect()
}

/// Generators that stand in the project as equipment and are described nowhere.
fn undescribed(inquiry: &Inquiry, described: &[Place<Generator>]) -> Vec<Finding> {
    let machines = need!(inquiry.project(), equipment).every();
    let machines: Vec<_> = machines.into_iter().filter(|item| item.kind == EquipmentKind::Generator).collect();
    let named = |item: &Place<Equipment>| described.iter().any(|one| one.equipment.as_ref() == Some(&item.id));
    // One that is described may be this one: then it says so.
    let unnamed = described.iter().find(|one| one.equipment.is_none());
    let ask = |item: &Place<Equipment>| {
        let wanted = format!("{}: portable or not, where it runs, its inlet and conductors", item.label());
        let which = unnamed.map(|one| one.missing("/equipment"));
        item.ask(WANTED, || Err(which.unwrap_or_else(|| Unresolved::because("/electrical/generators", wanted))))
    };
    machines.iter().filter(|item| !named(item)).map(ask).collect()
}

fn judge<'a>(inquiry: &Inquiry<'a>, generator: &Place<'a, Generator>, sheet: &mut Sheet) -> Lookup<Text> {
    let outdoors = sheet.want(need!(generator, outdoors));
    yes_or_no(
        outdoors,
        ("runs outdoors", "runs indoors"),
        "common practice; the maker's instructions",
        "run it outdoors, away from openings",
        sheet,
    );
    openings(inquiry, generator, sheet);
    if matches!(generator.kind, GeneratorKind::Portable) {
        inlet(inquiry, generator, sheet);
    } else if inquiry.value(&SHUTDOWN) {
        let shutdown = sheet.want(need!(generator, outdoor_shutdown));
        let words = ("can be shut down from outdoors", "cannot be shut down from outdoors");
        yes_or_no(shutdown, words, "NEC 445.18(D) of 2020", "a shutdown outdoors, marked", sheet);
    }
    conductors(inquiry.value(&FACTOR), generator, sheet);
    Ok(text!("may feed the house"))
}

/// Its distance to what leads into a building.
fn openings<'a>(inquiry: &Inquiry<'a>, generator: &Place<'a, Generator>, sheet: &mut Sheet) {
    if generator.outdoors == Some(false) {
        return;
    }
    let Some((distance, what)) = sheet.want(nearest(inquiry, generator)) else { return };
    let (least, portable) = (inquiry.value(&OPENINGS), inquiry.value(&PORTABLE));
    let words = text!("{} from {}, {} is the least", in_unit(distance, "ft"), what, in_unit(least, "ft"));
    if !sheet.require("openings", words.clone(), "from memory of NFPA 37, 4.1.4", at_least(distance, least)) {
        sheet.cure(text!("run it {} further away, down the wind", in_unit(least - distance, "ft")));
    } else if matches!(generator.kind, GeneratorKind::Portable) && !at_least(distance, portable) {
        let far = in_unit(portable, "ft");
        sheet.advise(text!("{} from {}: {} are advised for a portable generator", in_unit(distance, "ft"), what, far));
    }
}

/// The nearest opening to outdoors by positions, or what is stated where that is nearer.
fn nearest<'a>(inquiry: &Inquiry<'a>, generator: &Place<'a, Generator>) -> Lookup<(Length, String)> {
    let drawn = drawn(inquiry, generator);
    match (need!(generator, to_opening), drawn) {
        (Ok(stated), Ok(Some(drawn))) if drawn.0 < stated.quantity() => Ok(drawn),
        (Ok(stated), _) => Ok((stated.quantity(), "the nearest opening".to_owned())),
        (Err(_), Ok(Some(drawn))) => Ok(drawn),
        (Err(unresolved), _) => Err(unresolved),
    }
}

fn drawn<'a>(inquiry: &Inquiry<'a>, generator: &Place<'a, Generator>) -> Lookup<Option<(Length, String)>> {
    let body = stand(&inquiry.equipment(&need!(generator, equipment)?)?)?.body.plan();
    let outdoors = |opening: &Place<Opening>| opening.beyond.as_ref().is_some_and(|beyond| beyond.kind == BeyondKind::Outdoors);
    let mut best: Option<(Length, String)> = None;
    for opening in need!(inquiry.project(), openings)?.items().filter(outdoors) {
        let Ok(shape) = opening_outline(inquiry, &opening) else { continue };
        let distance = length(body.gap(&shape).distance);
        if best.as_ref().is_none_or(|(least, _)| distance < *least) {
            best = Some((distance, opening.label()));
        }
    }
    Ok(best)
}

fn yes_or_no(fact: Option<Place<bool>>, (good, bad): (&str, &str), source: &str, cure: &str, sheet: &mut Sheet) {
    let Some(fact) = fact else { return };
    if !sheet.require("", text!("{}", if *fact { good } else { bad }), source, *fact) {
        sheet.cure_at(text!("{}", cure), &[(fact.pointer().to_owned(), json!(true))]);
    }
}

fn inlet<'a>(inquiry: &Inquiry<'a>, generator: &Place<'a, Generator>, sheet: &mut Sheet) {
    if let Some(inlet) = sheet.want(need!(generator, inlet).and_then(|id| inquiry.equipment(&id)))
        && inlet.kind != EquipmentKind::GeneratorInlet
    {
        sheet.fault(text!("is plugged into {}, which is no generator inlet", inlet.label()));
        sheet.cure(text!("a listed generator inlet"));
    }
    if inquiry.value(&SIGN) {
        let sign = sheet.want(need!(generator, inlet_sign));
        let words = ("its inlet has the sign for its neutral", "its inlet has no sign that says how the neutral must be joined");
        yes_or_no(
            sign,
            words,
            "NEC 702.7(C)",
            "a sign at the inlet: for a floating neutral only, or for a bonded one only",
            sheet,
        );
    }
}

fn conductors(factor: Ratio, generator: &Place<Generator>, sheet: &mut Sheet) {
    if generator.overload_prevented == Some(true) {
        sheet.line("conductors", text!("its own protection keeps it from overloading them"), "NEC 445.13");
        return;
    }
    let Some((current, ampacity)) = sheet.want((need!(generator, current), need!(generator, conductor_ampacity)).together())
    else {
        return;
    };
    let least = current.quantity() * factor;
    let words = text!("its conductors carry {}, {} is the least: {} of {}", ampacity, least, factor, current);
    if !sheet.require("conductors", words, "NEC 445.13", at_least(ampacity.quantity(), least)) {
        sheet.cure(text!("conductors for {} at least", least));
    }
}
