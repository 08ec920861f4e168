//! Between two places where conductors can be pulled, a raceway may turn by no more than a full circle: four quarter bends.
//!
//! Every bend multiplies the pull. Past four, conductors are stretched and skinned, and nobody can pull them out again.
//!
//! **How it is measured.** All bends of a run, offsets, kicks and saddles included, added up between two boxes, conduit bodies or
//! enclosures. The radius of a bend, where it is said, against the code's table for one-shot benders.
//!
//! **How it is fixed.** A conduit body or box in the middle of the run, or a straighter way.

use crate::inside;
use redtag_handbook::raceway as trade;
use redtag_rule::prelude::*;
use uom::si::angle::radian;
use uom::si::f64::Angle;

const SOURCE: &str = "NEC 358.26 and the same of other raceways (confirmed by published course questions)";
/// The sum.
const TOTAL: Quantity<dimensions::Angle> =
    Quantity::new("total", "360 deg", "How far a run may turn between two pull points.", SOURCE).within("90 deg", "720 deg");

/// The rule.
pub const RULE: Rule = Rule {
    citations: &[
        cited("NEC", "2020", "344.26"),
        cited("NEC", "2020", "352.26"),
        cited("NEC", "2020", "358.26"),
        cited("NEC", "2020", "362.26"),
        cited("NEC", "2020", "348.26"),
    ],
    parameters: &[&TOTAL],
    reads: &["/raceways"],
    ..Rule::new("raceways/bends", "Bends between pull points", check)
};

const WANTED: &str = "whether it can be pulled";

fn check(inquiry: &Inquiry) -> Vec<Finding> {
    let judge_one = |raceway: &Place<Raceway>| match raceway.kind {
        RacewayKind::Sleeve | RacewayKind::MetalCladCable => {
            raceway.not_applicable(text!("nothing is pulled through it from end to end")).done()
        }
        _ => raceway.sheet(WANTED, |sheet| judge(inquiry, raceway, sheet)),
    };
    inside::every(inquiry).iter().map(judge_one).collect()
}

fn judge(inquiry: &Inquiry, raceway: &Place<Raceway>, sheet: &mut Sheet) -> Lookup<Text> {
    let most = inquiry.value(&TOTAL);
    let mut greatest = Angle::default();
    for (number, run) in need!(raceway, runs)?.items().enumerate() {
        let Some(total) = sheet.want(turned(&run)) else { continue };
        let said = |angle: Angle| in_unit(redtag_rule::schema::quantity::Angle::from_si(angle.get::<radian>()), "deg");
        let words = text!("run {} turns by {}, {} are the most between pull points", number + 1, said(total), said(most));
        if !sheet.require("bends", words, SOURCE, at_most(total, most)) {
            sheet.related(run.pointer());
            sheet.cure(text!("put a conduit body or a box in the middle of run {}", number + 1));
        }
        if total > greatest {
            greatest = total;
        }
        radii(raceway, &run, sheet);
    }
    let said = in_unit(redtag_rule::schema::quantity::Angle::from_si(greatest.get::<radian>()), "deg");
    Ok(text!("turns by {} at most between pull points", said))
}

/// How far a run turns.
fn turned(run: &Place<RacewayRun>) -> Lookup<Angle> {
    let bends = need!(run, bends)?;
    // A bend turns whichever way it is written, and one that is listed is there.
    let turn =
        |bend: Place<Bend>| need!(bend, angle).map(|angle| angle.quantity().abs() * f64::from(bend.count.unwrap_or(1).max(1)));
    let turns = bends.items().map(turn).collect::<Vec<_>>().together()?;
    Ok(turns.into_iter().fold(Angle::default(), |sum, one| sum + one))
}

/// The radii that are said.
fn radii(raceway: &Place<Raceway>, run: &Place<RacewayRun>, sheet: &mut Sheet) {
    let Ok(size) = need!(raceway, trade_size) else { return };
    let Some(least) = trade::least_bend_radius(size.quantity()) else { return };
    for bend in need!(run, bends).every() {
        let Ok(radius) = need!(bend, radius) else { continue };
        let words = text!("bent to a radius of {}, {} is the least for trade size {}", radius, least, size);
        if !sheet.require("radius", words, trade::BEND_RADIUS.text(), at_least(radius.quantity(), least)) {
            sheet.related(bend.pointer());
            sheet.cure(text!("bend it anew with a radius of {}", least));
        }
    }
}
