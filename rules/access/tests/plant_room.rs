//! The furnace of the demo plant room, which cannot get out past the brine tank: the number, the pair, the marks.

use redtag_rule::Value;
use redtag_rule::schema::contract::{Outcome, Shape};
use redtag_rule::schema::quantity::System;
use redtag_rule::testing::findings;

const INCH: f64 = 0.0254;

fn project() -> Value {
    serde_json::from_str(include_str!("../../../examples/houses/space-room.json")).expect("the demo project is JSON")
}

#[test]
fn the_furnace_is_held_by_the_brine_tank() {
    let entry = redtag_access::MODULE.entries.iter().find(|entry| entry.rule.id == "access/replacement-path").expect("the rule");
    let found = findings(entry.rule, project());
    let finding = found.iter().find(|one| one.subject.id.as_deref() == Some("furnace")).expect("a finding about the furnace");
    let said = finding.summary.print(System::UsCustomary);
    assert_eq!(finding.outcome, Outcome::Correction);
    assert!(said.contains("there are 25 in, and the piece is 26 in across") && said.contains("brine-tank"), "{said}");
    assert_eq!(finding.related, ["/equipment/2"], "the brine tank");
    let gap = finding.marks.iter().find(|mark| mark.label == "gap").expect("the gap is drawn");
    let Shape::Line { points } = &gap.shape else { panic!("a line: {:?}", gap.shape) };
    let long = distance(points[0].x - points[1].x, points[0].y - points[1].y);
    assert!((long / INCH - 25.0).abs() < 1e-9, "{} in", long / INCH);
    assert!(finding.marks.iter().any(|mark| mark.label == "largest piece"));
    // Moved by what the cure says, it gets out, and the way is drawn.
    let mut cured = project();
    cured["equipment"][2]["placement"]["x"] = "109 in".into();
    let found = findings(entry.rule, cured);
    let finding = found.iter().find(|one| one.subject.id.as_deref() == Some("furnace")).expect("a finding about the furnace");
    assert_eq!(finding.outcome, Outcome::Complies, "{}", finding.summary.print(System::UsCustomary));
    assert!(finding.marks.iter().any(|mark| mark.label == "way out"));
}

fn distance(x: f64, y: f64) -> f64 {
    (x * x + y * y).sqrt()
}
