//! Reviews to try the formats on. Invented throughout.

use super::{Format, Frame, RuleText, RuleTexts, Style};
use redtag_schema::contract::{Level, Stage};
use redtag_schema::review::{Refused, Reviews, Tool};
use serde_json::json;

/// The frame of the sample.
pub fn frame(strict: bool) -> Frame {
    Frame {
        tool: Tool { name: "redtag".to_owned(), version: "0".to_owned() },
        notice: "redtag advises; it never approves.".to_owned(),
        style: Style::default(),
        strict_from: strict.then_some(Stage::Permit),
        root: None,
    }
}

/// What a format makes of the sample.
pub fn as_it_is(format: Format, strict: bool) -> String {
    with_changed(format, strict, |_| ())
}

/// What a format makes of the sample with a change.
pub fn with_changed(format: Format, strict: bool, change: impl FnOnce(&mut Reviews)) -> String {
    let mut reviews = reviews();
    change(&mut reviews);
    written(format, strict, &reviews)
}

/// What a format makes of reviews.
pub fn written(format: Format, strict: bool, reviews: &Reviews) -> String {
    framed(format, frame(strict), reviews)
}

/// The same in a frame of one's own.
pub fn framed(format: Format, frame: Frame, reviews: &Reviews) -> String {
    let mut out = Vec::new();
    let mut sink = format.begin(frame, &mut out).expect("memory takes everything");
    for review in &reviews.reviews {
        let rules: RuleTexts = review.findings.iter().map(|finding| (finding.rule.clone(), text(&finding.rule))).collect();
        sink.review(review, &rules).expect("memory takes everything");
    }
    reviews.refused.iter().for_each(|refused| sink.refused(refused).expect("memory takes everything"));
    sink.end().expect("memory takes everything");
    drop(sink);
    String::from_utf8(out).expect("reports are text")
}

fn text(id: &str) -> RuleText {
    RuleText {
        title: format!("{id} in one line"),
        purpose: "What is **required**, and why.\n\nHow it is `measured`:\n\n- once\n- twice\n".to_owned(),
        printed: "IRC 2021 G2407.5".to_owned(),
        level: Level::Required,
        module: id.split('/').next().unwrap_or_default().to_owned(),
        pack: "model-residential".to_owned(),
    }
}

/// A file that could not be reviewed.
pub fn refused() -> Refused {
    let refused = json!({
        "file": "houses/slip-4.json",
        "complaints": [
            {
                "code": "unknown-choice", "severity": "error", "message": "`kind` cannot be the text `coridor`",
                "file": "houses/slip-4.json", "place": {"line": 23, "column": 15, "end_line": 23, "end_column": 24}, "pointer": "/spaces/1/kind",
                "written": {"text": "      \"kind\": \"coridor\",", "start": 14, "end": 23},
                "expected": "`corridor`, `stairway` or one of 30 others", "help": "did you mean `corridor`?",
            },
            {
                "code": "duplicate-id", "severity": "error", "message": "the id `meter` is taken: it already stands for a gas node",
                "file": "houses/slip-4.json", "place": {"line": 56, "column": 15, "end_line": 56, "end_column": 22}, "pointer": "/gas/segments/0/id",
                "written": {"text": "      { \"id\": \"meter\", \"from\": \"meter\" }", "start": 14, "end": 21},
                "help": "ids are unique across the whole document: change one of the two",
                "related": [{
                    "file": "houses/slip-4.json", "label": "first given here", "place": {"line": 52, "column": 15, "end_line": 52, "end_column": 22},
                    "written": {"text": "      { \"id\": \"meter\" },", "start": 14, "end": 21},
                }],
            },
            {"code": "missing-pack", "severity": "note", "message": "a pack that is missing has no place"},
        ],
    });
    serde_json::from_value(refused).expect("the sample is a refusal")
}

/// One project with a finding of each outcome and a failed module.
pub fn reviews() -> Reviews {
    let place = json!({"line": 41, "column": 7, "end_line": 52, "end_column": 8});
    let area = |si: f64| json!({"kind": "area", "si": si, "unit": "in²"});
    let findings = json!([
        {
            "rule": "combustion-air/supply", "title": "Fuel-burning appliances get enough air", "level": "required",
            "outcome": "correction", "place": place, "message": "",
            "subject": {"pointer": "/spaces/0", "id": "furnace-room", "label": "furnace room"},
            "summary": {"template": "two openings to the hall give {0} of free area each, {1} is needed", "amounts": [area(0.0677), area(0.0967)]},
            "citations": [
                {"document": "IFGC", "edition": "2021", "section": "304.5.3.1", "standing": "confirmed"},
                {"document": "IRC", "edition": "2021", "section": "G2407.5.3", "standing": "from-memory"},
            ],
            "because": ["opening_area = \"1 in² per 1,000 Btu/h\": Skerry County Ordinance 12 section 3, since 2024-01-01"],
            "worksheet": [
                {"label": "input in the room", "source": "plates", "text": {"template": "{0}", "amounts": [{"kind": "power", "si": 43961.0, "written": "150 MBH"}]}},
                {"label": "free area of each opening", "holds": false, "source": "IFGC 304.5.3.1",
                 "text": {"template": "{0} is at least {1}", "amounts": [area(0.0677), area(0.0967)]}},
                {"label": "distance from the ceiling", "holds": true, "source": "IFGC 304.5.3.1",
                 "text": {"template": "{0} is at most {1}", "amounts": [{"kind": "length", "si": 0.2032}, {"kind": "length", "si": 0.3048}]}},
            ],
            "remedies": [
                {"words": {"template": "make each opening {0} larger", "amounts": [area(0.029)]}},
                {"words": {"template": "take the air from outdoors by two ducts"}},
            ],
        },
        {
            "rule": "fuel-match/altitude", "title": "Input is right for the altitude", "level": "required",
            "outcome": "unresolved", "place": place, "message": "",
            "subject": {"pointer": "/equipment/2", "id": "boiler", "label": "boiler \"b-1\""},
            "summary": {"template": "cannot tell whether the input suits the altitude: one fact is missing"},
            "citations": [],
            "missing": [{"pointer": "/site/elevation", "what": "Height of the ground above sea level. Decides the derating.",
                         "example": "\"1,250 ft\"", "place": {"line": 4, "column": 3, "end_line": 6, "end_column": 4}}],
        },
        {
            "rule": "fuel-match/label", "title": "A converted appliance says so", "level": "advice", "outcome": "advice", "place": place, "message": "",
            "subject": {"pointer": "/equipment/2", "label": "boiler \"b-1\""}, "summary": {"template": "no conversion label is recorded"},
            "citations": [], "remedies": [{"words": {"template": "photograph the label at the next visit"}}],
        },
        {
            "rule": "fuel-match/plate", "title": "The plate suits the supply", "level": "required", "outcome": "complies", "place": place, "message": "",
            "subject": {"pointer": "/equipment/2", "label": "boiler \"b-1\""}, "summary": {"template": "plate and supply are LP gas"}, "citations": [],
        },
        {
            "rule": "fuel-match/plate", "title": "The plate suits the supply", "level": "required", "outcome": "not-applicable", "place": place, "message": "",
            "subject": {"pointer": "/equipment/3", "label": "pump \"p-1\""}, "summary": {"template": "it burns nothing"}, "citations": [],
        },
    ]);
    let reviews = json!({
        "schema": 1, "tool": {"name": "redtag", "version": "0"}, "notice": "redtag advises; it never approves.",
        "reviews": [{
            "file": "houses/boatyard.json", "project": "Boatyard dwelling", "stage": "permit", "date": "2025-03-14", "date_from": "application-date",
            "packs": [{"name": "model-residential", "version": "0.1.0", "title": "Model codes", "digest": "00"}],
            "counts": {"correction": 1, "unresolved": 1, "advice": 1, "complies": 1, "not-applicable": 1},
            "findings": findings,
            "failures": [{"module": "venting", "pack": "model-residential 0.1.0", "kind": "out-of-fuel",
                          "message": "module `venting` was stopped: it had not answered after 1,000 steps.", "rules": ["venting/slope", "venting/height"]}],
            "cautions": ["Gas: smell gas, leave."],
            "unsaid": [{"pointer": "/exhausts", "what": "Fans and hoods that blow air out of the house. Clothes dryers are equipment.",
                        "place": place, "rules": ["ducts/makeup-air", "venting/depressurization"], "families": ["ducts", "venting"]}],
            "not_looked_at": {
                "equipment": [{"pointer": "/equipment/5", "id": "shelf-1", "label": "other \"shelf-1\"", "place": place}],
                "families": [{"family": "raceways", "rules": 9, "why": ["no raceway is listed"]}],
                "facts": [{"pointer": "/gas/colour", "place": place, "why": "no-rule-reads-it"},
                          {"pointer": "/notes", "place": place, "why": "descriptive"}],
            },
        }],
    });
    serde_json::from_value(reviews).expect("the sample is a review")
}
