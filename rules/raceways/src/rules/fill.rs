//! Conductors may fill only part of a raceway: 53 percent for one, 31 for two, 40 for more.
//!
//! An overfilled conduit skins insulation while it is pulled and keeps the heat in. The fault shows years later.
//!
//! **How it is measured.** The areas of all conductors, equipment grounding included, from the tables of the code, or from the
//! real outside diameter for cables and what the tables do not list (PV wire has no standard diameter). A nipple of 24 in at
//! most between two enclosures may be filled to 60 percent. Conductors of one size alone are counted, and the count is rounded up
//! from 0.8 on. A sleeve that only protects is not asked.
//!
//! **How it is fixed.** The next trade size, fewer conductors, or a second conduit. The worksheet says how many more would fit.

use crate::inside::{self, Counted};
use redtag_handbook::raceway::{self as trade, Inside, Limits};
use redtag_handbook::units;
use redtag_rule::prelude::*;
use uom::si::f64::{Area, Ratio};

const SOURCE: &str = "NEC chapter 9 Table 1";
/// One conductor.
const ONE: Quantity<dimensions::Ratio> =
    Quantity::new("fill_of_one", "53 %", "The share one conductor or cable may fill.", SOURCE).within("1 %", "100 %");
/// Two.
const TWO: Quantity<dimensions::Ratio> =
    Quantity::new("fill_of_two", "31 %", "The share two may fill.", SOURCE).within("1 %", "100 %");
/// More.
const MORE: Quantity<dimensions::Ratio> =
    Quantity::new("fill_of_more", "40 %", "The share three or more may fill.", SOURCE).within("1 %", "100 %");
/// Nipples.
const NIPPLE: Quantity<dimensions::Ratio> =
    Quantity::new("fill_of_nipple", "60 %", "The share of a nipple that may be filled.", SOURCE).within("1 %", "100 %");
/// How long a nipple is.
const NIPPLE_LENGTH: Quantity<dimensions::Length> =
    Quantity::new("nipple_length", "24 in", "The length up to which a raceway between two enclosures is a nipple.", SOURCE)
        .within("1 in", "60 in");

/// The rule.
pub const RULE: Rule = Rule {
    citations: &[cited("NEC", "2020", "chapter 9, Table 1"), cited("NEC", "2020", "300.17")],
    parameters: &[&ONE, &TWO, &MORE, &NIPPLE, &NIPPLE_LENGTH],
    reads: &["/raceways"],
    ..Rule::new("raceways/fill", "Fill of raceways", check)
};

const WANTED: &str = "whether too much runs in it";

fn check(inquiry: &Inquiry) -> Vec<Finding> {
    let judge_one = |raceway: &Place<Raceway>| match raceway.kind {
        RacewayKind::Sleeve => raceway.not_applicable(text!("a sleeve protects and is no complete raceway")).done(),
        RacewayKind::MetalCladCable => raceway.not_applicable(text!("a cable, not a raceway")).done(),
        _ if raceway.conductors.as_ref().is_some_and(Vec::is_empty) => {
            raceway.not_applicable(text!("nothing runs in it yet")).done()
        }
        _ => raceway.sheet(WANTED, |sheet| judge(inquiry, raceway, sheet)),
    };
    inside::every(inquiry).iter().map(judge_one).collect()
}

fn judge(inquiry: &Inquiry, raceway: &Place<Raceway>, sheet: &mut Sheet) -> Lookup<Text> {
    let share = |parameter: &Quantity<dimensions::Ratio>| units::in_fraction(inquiry.value(parameter));
    let limits = Limits { one: share(&ONE), two: share(&TWO), more: share(&MORE), nipple: share(&NIPPLE) };
    let nipple = inside::is_nipple(raceway, inquiry.value(&NIPPLE_LENGTH));
    let (inside, conductors) = (inside::inside(raceway), inside::conductors(raceway)).together()?;
    for one in &conductors {
        let words = text!("{} × {} = {}", one.count, square(one.each.area), square(one.each.area * f64::from(one.count)));
        sheet.line(&name(one), words, one.each.source.text());
    }
    let (count, taken) = inside::taken(&conductors);
    let limit = trade::limit(&inside, &limits, count, nipple);
    let mut words = text!(
        "{} in it take {} of {}, {} of it; {} is the most",
        count,
        square(taken),
        square(inside.area),
        Ratio::from(taken / inside.area),
        square(limit)
    );
    // Note 7 rounds the count of one size up.
    let same = conductors.windows(2).all(|pair| pair[0].each.area == pair[1].each.area);
    let alone =
        same && conductors.first().is_some_and(|one| trade::same_size_count(&inside, &limits, &one.each, nipple) >= count);
    let holds = at_most(taken, limit) || alone;
    if alone && !at_most(taken, limit) {
        words = text!("{}: of one size alone, the count is rounded up from 0.8 on", words);
        sheet.line(
            "rounding",
            text!("{} of one size: the count is rounded up from 0.8 on", count),
            "NEC chapter 9 Table 1 note 7",
        );
    }
    // What is not listed takes room too.
    sheet.want(inside::all_conductors(raceway));
    if !sheet.require("fill", words.clone(), SOURCE, holds) {
        larger(raceway, &limits, (count, taken), nipple, sheet);
    } else if let Some(last) = conductors.last() {
        let more = trade::more(&inside, &limits, (count, taken), &last.each, nipple);
        sheet.line("room left", text!("{} more like {}", more, name(last)), "computed: NEC chapter 9 Table 1");
    }
    Ok(words)
}

fn square(area: Area) -> redtag_rule::Part {
    in_unit(area, "in²")
}

fn name(one: &Counted) -> String {
    let word = |text: &Option<String>| text.clone().unwrap_or_default();
    format!("{} {}", word(&one.entry.size), word(&one.entry.insulation)).trim().to_owned()
}

/// The next trade size that holds it.
fn larger(raceway: &Place<Raceway>, limits: &Limits, (count, taken): (u32, Area), nipple: bool, sheet: &mut Sheet) {
    let Ok(kind) = inside::kind(raceway) else { return };
    let fits = |size: &uom::si::f64::Length| {
        trade::inside(kind, *size).is_some_and(|inside: Inside| at_most(taken, trade::limit(&inside, limits, count, nipple)))
    };
    match trade::trade_sizes(kind).find(fits) {
        Some(size) => sheet.cure(text!("use trade size {}, or lead some of them through a second raceway", size)),
        None => sheet.cure(text!("lead some of them through a second raceway")),
    }
}
