//! Every fixture has a valve of its own in each of its supply pipes, but for tubs and showers.
//!
//! A hose that bursts behind a closet is shut off in seconds where there is a stop beside it, and in minutes where somebody has to
//! find the main.
//!
//! **How it is measured.** For each fixture: what it says of its own stops, or a valve in the list that shuts it off and can be
//! reached. Bathtubs and showers need none. One manifold with a valve for each line does as well, where the valves are listed.
//!
//! **How it is fixed.** A stop beside the fixture, in the cold and in the hot pipe.

use redtag_rule::prelude::*;

/// The rule.
pub const RULE: Rule = Rule {
    citations: &[cited("IRC", "2021", "P2903.9.3"), remembered("IPC", "2021", "606.2")],
    reads: &["/water"],
    ..Rule::new("water-supply/fixture-shutoff", "A stop at each fixture", check)
};

const WANTED: &str = "whether it can be shut off by itself";
const SOURCE: &str = "IRC P2903.9.3";

fn check(inquiry: &Inquiry) -> Vec<Finding> {
    let judged = |fixture: Place<'_, Fixture>| {
        if matches!(fixture.kind, FixtureKind::Bathtub | FixtureKind::Shower) {
            return fixture.not_applicable(text!("tubs and showers need no stop of their own")).done();
        }
        fixture.sheet(WANTED, |sheet| judge(inquiry, &fixture, sheet))
    };
    need!(inquiry.project(), water.fixtures).every().into_iter().map(judged).collect()
}

fn judge(inquiry: &Inquiry, fixture: &Place<Fixture>, sheet: &mut Sheet) -> Lookup<Text> {
    let said = need!(fixture, stop_valves);
    let serves = |valve: &Place<WaterValve>| {
        valve.kind == WaterValveKind::FixtureShutoff && valve.serves.as_ref().is_some_and(|serves| serves.contains(&fixture.id))
    };
    let listed: Vec<_> = need!(inquiry.project(), water.valves).every().into_iter().filter(serves).collect();
    for valve in &listed {
        if let Some(reach) = sheet.want(need!(valve, accessible)) {
            let words = if *reach { "can be reached" } else { "cannot be reached" };
            sheet.require("reach", text!("{} {}", valve.label(), words), SOURCE, *reach);
        }
    }
    match said {
        Ok(there) => {
            let words = if *there { "a stop in each of its supply pipes" } else { "no stop shuts it off by itself" };
            if !sheet.require("stops", text!("{}", words), SOURCE, *there) {
                sheet.cure_at(text!("fit a stop in each of its supply pipes"), &[(there.pointer().to_owned(), json!(true))]);
            }
        }
        Err(unresolved) if listed.is_empty() => return Err(unresolved),
        Err(_) => {}
    }
    Ok(text!("it can be shut off by itself"))
}
