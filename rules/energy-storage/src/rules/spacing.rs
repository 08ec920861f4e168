//! Battery units must stand apart, so that one that burns does not take the next with it.
//!
//! **How it is measured.** The distance through the air from each unit to the nearest other one in the same room or outdoors,
//! from their positions; where a distance is stated too, the smaller counts. Three feet is asked for unless a large-scale fire
//! test of the system, with its report accepted by the authority, supports less.
//!
//! **How it is fixed.** Move the units apart, or give the report of the fire test with the spacing it supports.

use crate::plan::{self, Placed};
use crate::units;
use redtag_rule::prelude::*;
use redtag_rule_space::length;
use uom::si::f64::Length;

const SOURCE: &str = "IRC R328.3.1; NFPA 855 15.3.1";
/// Apart.
const SPACING: Quantity<dimensions::Length> =
    Quantity::new("spacing", "36 in", "The least distance between units that no fire test covers.", SOURCE)
        .within("0 in", "240 in");
/// Tested spacing.
const TEST_COUNTS: Flag = Flag::new(
    "fire_test_counts",
    true,
    "Whether a large-scale fire test may support a smaller distance.",
    "IFC 1207.1.5 and IRC R328.3.1",
);

/// The rule.
pub const RULE: Rule = Rule {
    citations: &[cited("IRC", "2021", "R328.3.1"), cited("NFPA 855", "2023", "15.3.1")],
    parameters: &[&SPACING, &TEST_COUNTS],
    reads: &["/spaces", "/equipment", "/electrical/storage"],
    ..Rule::new("energy-storage/spacing", "Distance between units", check)
};

const WANTED: &str = "whether it stands far enough from the next unit";

fn check(inquiry: &Inquiry) -> Vec<Finding> {
    let placed = plan::placed(inquiry);
    units::each(inquiry, WANTED, |unit| {
        let Some(own) = placed.iter().find(|one| one.unit.unit.pointer() == unit.unit.pointer()) else {
            return unit.unit.ask(WANTED, || Err(missing_place(inquiry, unit)));
        };
        let others: Vec<&Placed> = placed
            .iter()
            .filter(|other| other.room == own.room && other.unit.unit.pointer() != own.unit.unit.pointer())
            .collect();
        if others.is_empty() {
            return unit.unit.not_applicable(text!("no other unit stands with it")).done();
        }
        unit.unit.sheet(WANTED, |sheet| judge(inquiry, own, &others, sheet))
    })
}

/// What is missing where nobody can say in which room it stands.
fn missing_place<'a>(inquiry: &Inquiry<'a>, unit: &units::Unit<'a>) -> Unresolved {
    crate::place::of(inquiry, unit).err().unwrap_or_else(|| unit.unit.missing("/equipment"))
}

fn judge(inquiry: &Inquiry, own: &Placed, others: &[&Placed], sheet: &mut Sheet) -> Lookup<Text> {
    let Some((distance, other)) = nearest(own, others)? else { return Ok(Text::default()) };
    let asked = asked(inquiry, own, distance, sheet)?;
    let other_words = other.map_or_else(|| text!("the next unit"), |other| text!("{}", other.unit.unit.label()));
    let words = text!("{} from {}, {} is the least", distance, other_words, asked);
    if !sheet.require("distance", words.clone(), SOURCE, at_least(distance, asked)) {
        sheet.cure(text!("move them {} further apart, or give the fire test that supports this distance", asked - distance));
        draw(own, other, sheet);
    }
    Ok(words)
}

/// The distance asked for: as tested, where a report stands behind it that the authority has accepted.
fn asked(inquiry: &Inquiry, own: &Placed, distance: Length, sheet: &mut Sheet) -> Lookup<Length> {
    let spacing = inquiry.value(&SPACING);
    let Ok(tested) = need!(own.unit.system, tested_spacing) else { return Ok(spacing) };
    if !inquiry.value(&TEST_COUNTS) || at_least(distance, spacing) {
        return Ok(spacing);
    }
    if !at_least(distance, tested.quantity()) {
        return Ok(tested.quantity());
    }
    let (report, accepted) =
        (need!(own.unit.system, fire_test.document), need!(own.unit.system, fire_test.accepted)).together()?;
    if !*accepted {
        sheet.line("fire test", text!("the authority has not accepted {}", report.as_str()), "IFC 1207.1.5");
        return Ok(spacing);
    }
    sheet.line("fire test", text!("{} supports {}", report.as_str(), tested), "IFC 1207.1.5");
    Ok(tested.quantity())
}

/// The nearest other unit by position; the distance stated where that is smaller, or no position is known.
fn nearest<'p, 'a>(own: &Placed<'a>, others: &[&'p Placed<'a>]) -> Lookup<Option<(Length, Option<&'p Placed<'a>>)>> {
    let drawn = drawn(own, others);
    let Ok(stated) = need!(own.unit.unit, to_next_unit).map(|stated| stated.quantity()) else { return drawn.map(Some) };
    Ok(Some(match drawn {
        Ok(drawn) if drawn.0 < stated => drawn,
        _ => (stated, None),
    }))
}

fn drawn<'p, 'a>(own: &Placed<'a>, others: &[&'p Placed<'a>]) -> Lookup<(Length, Option<&'p Placed<'a>>)> {
    let stand = own.stand.clone()?;
    let mut best: Option<(Length, Option<&Placed>)> = None;
    for other in others {
        // A unit that says its distance instead of its place is judged by itself.
        if need!(other.unit.unit, to_next_unit).is_ok() && other.stand.is_err() {
            continue;
        }
        let distance = length(stand.solid().gap(&other.stand.clone()?.solid()).distance);
        if best.as_ref().is_none_or(|(least, _)| distance < *least) {
            best = Some((distance, Some(other)));
        }
    }
    best.ok_or_else(|| own.unit.unit.missing("/to_next_unit"))
}

fn draw(own: &Placed, other: Option<&Placed>, sheet: &mut Sheet) {
    let Some(other) = other else { return };
    sheet.related(other.unit.unit.pointer());
    let (Ok(a), Ok(b)) = (&own.stand, &other.stand) else { return };
    let gap = a.solid().gap(&b.solid());
    let ends = [[gap.from.0.x, gap.from.0.y, gap.from.1], [gap.to.0.x, gap.to.0.y, gap.to.1]];
    sheet.mark(line_mark(own.room.as_deref(), "distance between units", &ends));
}
