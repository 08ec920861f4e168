//! Where a valve shuts at once, an arrester must take the blow.
//!
//! The valves of washing machines and dishwashers close in hundredths of a second. The column of water behind them strikes the
//! pipe with several times its pressure, loosens joints and opens relief valves.
//!
//! **How it is measured.** An arrester listed to ASSE 1010 at each machine that shuts at once, within reach of its valve.
//!
//! **How it is fixed.** A pair of arresters between stops and hoses.

use redtag_rule::prelude::*;

/// Which.
const MACHINES: Choices = Choices::new(
    "machines",
    &["clothes-washer", "dishwasher"],
    &["clothes-washer", "dishwasher"],
    "The machines whose valves shut at once.",
    "common practice: solenoid valves; IRC P2903.5 asks for arresters where quick-closing valves are used, from memory",
);

/// The rule.
pub const RULE: Rule = Rule {
    citations: &[remembered("IRC", "2021", "P2903.5"), remembered("ASSE", "1010", "whole")],
    parameters: &[&MACHINES],
    reads: &["/water"],
    ..Rule::new("water-supply/water-hammer", "A cushion where valves shut at once", check)
};

fn check(inquiry: &Inquiry) -> Vec<Finding> {
    let judged = |fixture: Place<'_, Fixture>| {
        if !inquiry.value(&MACHINES).contains(&fixture.kind.word()) {
            return fixture.not_applicable(text!("its valves shut by hand")).done();
        }
        fixture.sheet("whether something takes the blow of its valves", |sheet| {
            let valves = need!(inquiry.project(), water.valves)?;
            let serves = |valve: Place<'_, WaterValve>| {
                valve.kind == WaterValveKind::WaterHammerArrester && valve.serves.as_ref().is_some_and(|serves| serves.contains(&fixture.id))
            };
            let there = valves.items().any(serves);
            if !sheet.test("arrester", text!("one listed to ASSE 1010 at its valves"), "IRC P2903.5, from memory", there) {
                sheet.fault(text!("no arrester takes the blow of its valves"));
                let valve = json!({"id": format!("arrester-{}", fixture.id), "kind": "water-hammer-arrester", "serves": [fixture.id.clone()], "standard": "ASSE 1010"});
                sheet.cure_at(text!("fit an arrester, ASSE 1010, between stop and hose"), &[("/water/valves/-".to_owned(), valve)]);
            }
            Ok(text!("an arrester takes the blow"))
        })
    };
    need!(inquiry.project(), water.fixtures).every().into_iter().map(judged).collect()
}
