//! A table of case files with one fault each: the complaint and the line it points at.

use super::*;

#[test]
pub(crate) fn faults_of_case_files_are_told_at_their_lines() {
    let faults = [
        ("## Fail: too short", "## Fial: too short", "unknown-kind", "## Fial", "`Fail`"),
        ("## Fail: too short", "## Too short", "case-without-kind", "## Too short", "Kind"),
        ("```json change\n[{ \"op\": \"rep", "```json chnge\n[{ \"op\": \"rep", "unknown-block", "chnge", "`change`"),
        ("```json change\n[{ \"op\": \"rep", "```json\n[{ \"op\": \"rep", "block-without-role", "```json", "project"),
        (
            r#""path": "/equipment/0/leg", "value""#,
            r#""path": "/equipment/1/leg", "value""#,
            "change-does-not-fit",
            "/equipment/1",
            "cannot be made",
        ),
        (r#""op": "replace""#, r#""op": "swap""#, "bad-change", "swap", "JSON Patch"),
        (r#"{ "leg": "6 in" }"#, r#"{ "lg": "6 in" }"#, "unknown-parameter", r#""lg""#, "`leg`"),
        (r#"{ "leg": "6 in" }"#, r#"{ "leg": "6 psi" }"#, "wrong-dimension", "6 psi", "pressure"),
        ("2025-01-01", "2025-02-30", "bad-date", "2025-02-30", "calendar"),
        (r#""outcome": "complies", "says""#, r#""outcome": "correction", "says""#, "kind-not-shown", "## Pass", "complies"),
        ("```json findings\n[]\n```", "", "case-without-findings", "## Not applicable", "findings"),
        (r#""says": "needs 6 in""#, r#""rule": "gas/trp""#, "unknown-rule", "gas/trp", "`gas/trap`"),
        (
            "```json setting\n{ \"stage\": \"permit\", \"date\": \"2025-01-01\" }",
            "```json parameters\n{}",
            "repeated-block",
            "```json parameters",
            "second",
        ),
        (
            "Every appliance needs one.\n",
            "```json findings\n[]\n```\n",
            "misplaced-block",
            "```json findings",
            "before the first",
        ),
    ];
    let mut wrong = Vec::new();
    for (from, to, code, line, says) in faults {
        assert_eq!(TRAP.matches(from).count(), 1, "{from}");
        let report = report(&[("cases/gas/trap.md", &TRAP.replace(from, to))]);
        let complaint = only_of(&report.complaints);
        let shown = complaint.render(crate::diagnostic::Paint::Plain);
        let at = line_of(complaint);
        if complaint.code.word() != code || !at.contains(line) || !shown.contains(says) || report.holds() {
            wrong.push(format!("{to}: wanted {code} at {line} saying {says}, got [{}] {shown}", complaint.code));
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

#[test]
pub(crate) fn slips_in_the_json_of_a_case_are_told_at_their_lines() {
    for (from, to, line) in [
        (r#""outcome": "complies", "says""#, r#""outcome": "complys", "says""#, "complys"),
        (r#""subject": "heater""#, r#""subjct": "heater""#, "subjct"),
        (r#"[{ "subject": "/equipment/0""#, r#"[[{ "subject": "/equipment/0""#, r#"[[{ "subject""#),
        (r#""stage": "permit""#, r#""stage": "permt""#, "permt"),
    ] {
        let report = report(&[("cases/gas/trap.md", &TRAP.replacen(from, to, 1))]);
        assert!(!report.complaints.is_empty(), "{to}");
        for complaint in &report.complaints {
            assert_eq!(complaint.primary.as_ref().map(|span| span.file.name()), Some("base/cases/gas/trap.md"));
        }
        assert!(report.complaints.iter().any(|one| line_of(one).contains(line)), "{to}: {}", lines(&report.complaints));
    }
}
