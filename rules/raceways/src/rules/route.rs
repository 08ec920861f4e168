//! A spare conduit must really lead where it is meant to, without a gap.
//!
//! A conduit for later solar that ends in the attic, under the insulation, means opening the roof and the ceiling when the modules
//! come. It costs nothing to find out while the walls are open.
//!
//! **How it is measured.** What the conduit is meant to reach against where its far end is; whether its runs join: each run
//! begins in the space where the one before ended; whether it begins at a panel, box or piece of equipment; whether its far end
//! can be got at.
//!
//! **How it is fixed.** Carry it on to the place it is meant for, or join the runs.

use crate::inside;
use redtag_rule::prelude::*;

/// How bad it is.
const REQUIRED: Flag = Flag::new(
    "required",
    true,
    "Whether a spare conduit that stops short is a correction; advice where not.",
    "IRC appendix on solar-ready provisions where adopted ; elsewhere common practice",
);

/// The rule.
pub const RULE: Rule = Rule {
    citations: &[remembered("IRC", "2021", "Appendix AT"), cited("NEC", "2020", "300.18")],
    parameters: &[&REQUIRED],
    reads: &["/raceways", "/spaces", "/equipment"],
    ..Rule::new("raceways/route", "Where a conduit leads", check)
};

const WANTED: &str = "whether it leads where it is meant to";

fn check(inquiry: &Inquiry) -> Vec<Finding> {
    inside::every(inquiry)
        .iter()
        .map(|raceway| {
            if raceway.meant_to_reach.is_none() && raceway.spare != Some(true) {
                return raceway.not_applicable(text!("not meant for later")).done();
            }
            raceway.sheet(WANTED, |sheet| judge(inquiry, raceway, sheet))
        })
        .collect()
}

fn judge<'a>(inquiry: &Inquiry<'a>, raceway: &Place<'a, Raceway>, sheet: &mut Sheet) -> Lookup<Text> {
    let goal = need!(raceway, meant_to_reach)?;
    let end = need!(raceway, to)?;
    let reached = reached(inquiry, &end, *goal);
    if let Some((holds, place)) = sheet.want(reached) {
        let words = text!("meant to reach {}, ends {}", goal_words(*goal), place.as_str());
        if !sheet.test("far end", words.clone(), "common practice", holds) {
            broken(inquiry, sheet, words);
            sheet.cure(text!("carry it on to {}, or say what else it is for", goal_words(*goal)));
        }
    }
    gaps(inquiry, raceway, sheet);
    if let Some(accessible) = sheet.want(need!(end, accessible))
        && !*accessible
    {
        broken(inquiry, sheet, text!("nobody can get at its far end"));
        sheet.cure(text!("end it where one can get at it"));
    }
    if let Some(from) = sheet.want(need!(raceway, from))
        && from.at.is_none()
    {
        sheet.lack(from.missing("/at"));
    }
    Ok(text!("leads to {}", goal_words(*goal)))
}

fn broken(inquiry: &Inquiry, sheet: &mut Sheet, words: Text) {
    if inquiry.value(&REQUIRED) {
        sheet.fault(words);
    } else {
        sheet.advise(words);
    }
}

fn goal_words(goal: RacewayGoal) -> &'static str {
    match goal {
        RacewayGoal::Roof => "the roof",
        RacewayGoal::Attic => "an attic",
        RacewayGoal::CrawlSpace => "a crawl space",
        RacewayGoal::Outdoors => "the open air",
        RacewayGoal::Garage => "a garage",
        RacewayGoal::Panel => "a panel",
        _ => "somewhere else",
    }
}

/// Whether the end is where it is meant to be, and where it is.
fn reached<'a>(inquiry: &Inquiry<'a>, end: &Place<'a, RacewayEnd>, goal: RacewayGoal) -> Lookup<(bool, String)> {
    if end.on_roof == Some(true) {
        return Ok((matches!(goal, RacewayGoal::Roof | RacewayGoal::Outdoors), "on the roof".to_owned()));
    }
    if end.outdoors == Some(true) {
        return Ok((goal == RacewayGoal::Outdoors, "outdoors".to_owned()));
    }
    if goal == RacewayGoal::Panel {
        return Ok(match need!(end, at) {
            Ok(at) => (true, format!("at {}", at.as_str())),
            Err(_) => (false, "at no panel or equipment".to_owned()),
        });
    }
    let space = inquiry.space(&need!(end, space)?)?;
    let kind = space.kind;
    let holds = match goal {
        RacewayGoal::Attic => kind == SpaceKind::Attic,
        RacewayGoal::CrawlSpace => kind == SpaceKind::CrawlSpace,
        RacewayGoal::Garage => matches!(kind, SpaceKind::AttachedGarage | SpaceKind::DetachedGarage | SpaceKind::Carport),
        _ => false,
    };
    Ok((holds, format!("in {}", space.label())))
}

/// Whether the runs join end to end.
fn gaps(inquiry: &Inquiry, raceway: &Place<Raceway>, sheet: &mut Sheet) {
    let Some(runs) = sheet.want(need!(raceway, runs)) else { return };
    let mut here = raceway.from.as_ref().and_then(|end| end.space.clone());
    for (number, run) in runs.items().enumerate() {
        let Some(spaces) = sheet.want(need!(run, spaces)) else { return };
        if let (Some(at), Some(first)) = (&here, spaces.first())
            && at != first
        {
            sheet.related(run.pointer());
            broken(
                inquiry,
                sheet,
                text!("run {} begins in {}, what comes before ends in {}", number + 1, first.as_str(), at.as_str()),
            );
            sheet.cure(text!("join run {} to what comes before it", number + 1));
        }
        here = spaces.last().cloned().or(here);
    }
    let last = raceway.to.as_ref().and_then(|end| end.space.clone());
    if let (Some(at), Some(last)) = (here, last)
        && at != last
    {
        broken(inquiry, sheet, text!("its last run ends in {}, its far end lies in {}", at.as_str(), last.as_str()));
        sheet.cure(text!("carry the last run on to {}", last.as_str()));
    }
}
