//! What a module answered, held against the contract. An answer that breaks it is the module's failure, not the project's.

use redtag_schema::contract::{Answer, Finding, Outcome, Point3, SCHEMA, Shape, Text};
use redtag_schema::quantity::System;
use serde_json::Value;
use std::collections::BTreeSet;
use std::fmt;
use std::sync::LazyLock;

/// The first thing that is wrong with an answer.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct BadAnswer {
    /// The rule of the finding it stands in, where it can be told.
    pub rule: Option<String>,
    /// Where it stands in the answer: a JSON pointer.
    pub pointer: String,
    /// What the contract asks for.
    pub expected: String,
    /// What the module wrote.
    pub got: String,
}

impl fmt::Display for BadAnswer {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "its answer breaks the contract")?;
        if let Some(rule) = &self.rule {
            write!(f, " in a finding of rule {rule}")?;
        }
        let at = if self.pointer.is_empty() { "the whole answer" } else { &self.pointer };
        write!(f, ": at {at} expected {}, got {}", self.expected, self.got)
    }
}

impl std::error::Error for BadAnswer {}

/// Reads an answer, whatever the question was.
///
/// # Errors
/// The first breach of the contract.
pub fn read(answer: &str) -> Result<Answer, BadAnswer> {
    let value: Value = serde_json::from_str(answer).map_err(|error| whole(format!("JSON ({error})"), excerpt(answer)))?;
    hold_against_schema(&value)?;
    let answer: Answer = serde_json::from_value(value)
        .map_err(|error| whole(format!("an answer of contract 1 ({error})"), "something else".into()))?;
    if answer.schema != SCHEMA {
        return Err(BadAnswer { pointer: "/schema".into(), ..whole(SCHEMA.to_string(), answer.schema.to_string()) });
    }
    Ok(answer)
}

/// Holds an answer against the question it is one to: rules that were asked, places that are in the project.
///
/// # Errors
/// The first breach of the contract.
pub fn check(answer: &Answer, asked: &BTreeSet<&str>, project: &Value) -> Result<(), BadAnswer> {
    for (number, finding) in answer.findings.iter().enumerate() {
        Check { asked, project, finding, at: format!("/findings/{number}") }.all()?;
    }
    Ok(())
}

fn whole(expected: String, got: String) -> BadAnswer {
    BadAnswer { rule: None, pointer: String::new(), expected, got }
}

/// The beginning of what was written.
fn excerpt(text: &str) -> String {
    const LONGEST: usize = 80;
    if text.is_empty() {
        return "nothing".into();
    }
    let start: String = text.chars().take(LONGEST).collect();
    if start.len() < text.len() { format!("{start}...") } else { start }
}

static SCHEMA_OF_ANSWERS: LazyLock<Result<jsonschema::Validator, String>> = LazyLock::new(|| {
    let schema = schemars::schema_for!(Answer).to_value();
    jsonschema::validator_for(&schema).map_err(|error| error.to_string())
});

fn hold_against_schema(value: &Value) -> Result<(), BadAnswer> {
    let validator = SCHEMA_OF_ANSWERS.as_ref().map_err(|error| whole("a sound schema of answers".into(), error.clone()))?;
    let Some(error) = validator.iter_errors(value).next() else { return Ok(()) };
    let pointer = error.instance_path().as_str().to_owned();
    let rule = finding_of(&pointer).and_then(|finding| value.pointer(finding)?.get("rule")?.as_str()).map(str::to_owned);
    Err(BadAnswer { rule, expected: wanted(error.kind()), got: excerpt(&error.instance().to_string()), pointer })
}

/// `/findings/3` of `/findings/3/subject/pointer`.
fn finding_of(pointer: &str) -> Option<&str> {
    let number = pointer.strip_prefix("/findings/")?;
    let end = number.find('/').map_or(pointer.len(), |slash| "/findings/".len() + slash);
    Some(&pointer[..end])
}

fn wanted(kind: &jsonschema::error::ValidationErrorKind) -> String {
    use jsonschema::error::{TypeKind, ValidationErrorKind as Kind};
    match kind {
        Kind::Type { kind: TypeKind::Single(one) } => format!("a value of type {one}"),
        Kind::Type { kind: TypeKind::Multiple(_) } => "a value of another type".into(),
        Kind::Required { property } => format!("a field {property}"),
        Kind::Enum { options } => format!("one of {options}"),
        Kind::Constant { expected_value } => expected_value.to_string(),
        other => format!("what \"{}\" of its schema allows", other.keyword()),
    }
}

/// One finding that fits the schema, held against the question.
struct Check<'a> {
    asked: &'a BTreeSet<&'a str>,
    project: &'a Value,
    finding: &'a Finding,
    at: String,
}

impl Check<'_> {
    fn all(&self) -> Result<(), BadAnswer> {
        self.rule()?;
        self.subject()?;
        self.texts()?;
        self.missing()?;
        self.related()?;
        self.patches()?;
        self.marks()
    }

    fn bad(&self, step: &str, expected: impl Into<String>, got: impl Into<String>) -> BadAnswer {
        let pointer = format!("{}{step}", self.at);
        BadAnswer { rule: Some(self.finding.rule.clone()), pointer, expected: expected.into(), got: got.into() }
    }

    fn rule(&self) -> Result<(), BadAnswer> {
        if self.asked.contains(self.finding.rule.as_str()) {
            return Ok(());
        }
        let asked: Vec<&str> = self.asked.iter().copied().collect();
        Err(self.bad("/rule", format!("one of the rules asked about ({})", asked.join(", ")), excerpt(&self.finding.rule)))
    }

    fn subject(&self) -> Result<(), BadAnswer> {
        let subject = &self.finding.subject;
        self.exists("/subject/pointer", &subject.pointer)?;
        if subject.label.trim().is_empty() {
            return Err(self.bad("/subject/label", "words for the subject", "nothing"));
        }
        Ok(())
    }

    fn exists(&self, step: &str, pointer: &str) -> Result<(), BadAnswer> {
        match self.project.pointer(pointer) {
            Some(_) => Ok(()),
            None => Err(self.bad(step, "the pointer of something in the project", excerpt(pointer))),
        }
    }

    fn texts(&self) -> Result<(), BadAnswer> {
        self.text("/summary", &self.finding.summary)?;
        for (number, step) in self.finding.worksheet.iter().enumerate() {
            self.text(&format!("/worksheet/{number}/text"), &step.text)?;
        }
        for (number, remedy) in self.finding.remedies.iter().enumerate() {
            self.text(&format!("/remedies/{number}/words"), &remedy.words)?;
        }
        Ok(())
    }

    fn text(&self, step: &str, text: &Text) -> Result<(), BadAnswer> {
        if text.template.trim().is_empty() {
            return Err(self.bad(&format!("{step}/template"), "a sentence", "nothing"));
        }
        if let Some(at) = text.amounts.iter().position(|amount| !amount.si.is_finite()) {
            return Err(self.bad(&format!("{step}/amounts/{at}/si"), "a finite number", text.amounts[at].si.to_string()));
        }
        if text.try_print(System::UsCustomary).is_none() {
            let amounts = text.amounts.len();
            let expected = format!("a template whose places {{n}} have one of its {amounts} amounts, other braces doubled");
            return Err(self.bad(&format!("{step}/template"), expected, excerpt(&text.template)));
        }
        Ok(())
    }

    fn missing(&self) -> Result<(), BadAnswer> {
        let missing = &self.finding.missing;
        if self.finding.outcome == Outcome::Unresolved && missing.is_empty() {
            return Err(self.bad("/missing", "the places to fill in, because the outcome is unresolved", "none"));
        }
        match missing.iter().position(|missing| !is_pointer(&missing.pointer)) {
            Some(at) => Err(self.bad(&format!("/missing/{at}/pointer"), "a JSON pointer", excerpt(&missing[at].pointer))),
            None => Ok(()),
        }
    }

    fn related(&self) -> Result<(), BadAnswer> {
        let mut related = self.finding.related.iter().enumerate();
        related.try_for_each(|(number, pointer)| self.exists(&format!("/related/{number}"), pointer))
    }

    fn patches(&self) -> Result<(), BadAnswer> {
        for (number, remedy) in self.finding.remedies.iter().enumerate() {
            for (step, operation) in remedy.patch.iter().enumerate() {
                if let Err(error) = serde_json::from_value::<json_patch::PatchOperation>(operation.clone()) {
                    let at = format!("/remedies/{number}/patch/{step}");
                    return Err(self.bad(&at, format!("an operation of JSON Patch ({error})"), excerpt(&operation.to_string())));
                }
            }
        }
        Ok(())
    }

    fn marks(&self) -> Result<(), BadAnswer> {
        for (number, mark) in self.finding.marks.iter().enumerate() {
            if !points(&mark.shape).iter().all(|point| [point.x, point.y, point.z].iter().all(|ordinate| ordinate.is_finite())) {
                return Err(self.bad(&format!("/marks/{number}/shape"), "finite coordinates", "others"));
            }
            if matches!(&mark.shape, Shape::Line { points } if points.len() < 2) {
                return Err(self.bad(&format!("/marks/{number}/shape/line/points"), "two points at least", "fewer"));
            }
        }
        Ok(())
    }
}

fn points(shape: &Shape) -> Vec<Point3> {
    match shape {
        Shape::Box { from, to } => vec![*from, *to],
        Shape::Line { points } => points.clone(),
        Shape::Point { at } => vec![*at],
    }
}

/// Whether the text is a JSON pointer (RFC 6901).
fn is_pointer(text: &str) -> bool {
    let escapes = text.split('~').skip(1).all(|rest| rest.starts_with(['0', '1']));
    escapes && (text.is_empty() || text.starts_with('/'))
}

#[cfg(test)]
mod tests {
    use super::*;
    use serde_json::json;

    fn finding() -> Value {
        json!({
            "rule": "family/topic", "outcome": "correction",
            "subject": {"pointer": "/equipment/0", "label": "boiler"},
            "summary": {"template": "needs {0}", "amounts": [{"kind": "length", "si": 1.0}]},
        })
    }

    fn read_one(finding: &Value) -> Result<Vec<Finding>, BadAnswer> {
        let project = json!({"equipment": [{"id": "b"}]});
        let answer = json!({"schema": 1, "findings": [finding]}).to_string();
        let answer = read(&answer)?;
        check(&answer, &BTreeSet::from(["family/topic"]), &project)?;
        Ok(answer.findings)
    }

    #[test]
    fn a_sound_answer_is_taken_and_unknown_fields_are_passed_over() {
        let mut sound = finding();
        sound["news"] = json!("of a later contract");
        assert_eq!(read_one(&sound).unwrap().len(), 1);
    }

    #[test]
    fn every_breach_names_its_place() {
        let breaches = [
            (json!({"rule": "other/rule"}), "/findings/0/rule"),
            (json!({"outcome": "approved"}), "/findings/0/outcome"),
            (json!({"subject": {"pointer": "/equipment/7", "label": "x"}}), "/findings/0/subject/pointer"),
            (json!({"subject": {"pointer": "/equipment/0", "label": " "}}), "/findings/0/subject/label"),
            (json!({"subject": {"pointer": 7, "label": "x"}}), "/findings/0/subject/pointer"),
            (json!({"summary": {"template": "needs {1}"}}), "/findings/0/summary/template"),
            (json!({"summary": {"template": ""}}), "/findings/0/summary/template"),
            (json!({"worksheet": [{"label": "a", "text": {"template": "{"}}]}), "/findings/0/worksheet/0/text/template"),
            (json!({"outcome": "unresolved"}), "/findings/0/missing"),
            (json!({"missing": [{"pointer": "nowhere"}]}), "/findings/0/missing/0/pointer"),
            (json!({"related": ["/nothing"]}), "/findings/0/related/0"),
            (json!({"remedies": [{"words": {"template": "do"}, "patch": [{"op": "burn"}]}]}), "/findings/0/remedies/0/patch/0"),
            (json!({"marks": [{"label": "a", "shape": {"line": {"points": []}}}]}), "/findings/0/marks/0/shape/line/points"),
        ];
        for (change, pointer) in breaches {
            let mut broken = finding();
            json_patch::merge(&mut broken, &change);
            let bad = read_one(&broken).expect_err(pointer);
            assert_eq!(bad.pointer, pointer, "{bad}");
            assert!(bad.rule.is_some() && !bad.expected.is_empty() && !bad.got.is_empty(), "{bad}");
        }
    }

    #[test]
    fn rubbish_is_named() {
        for rubbish in ["", "null", "[]", "{\"schema\": 2, \"findings\": []}", "{\"schema\": 1}", "1e999", "\u{0}"] {
            let bad = read(rubbish).unwrap_err();
            assert!(bad.to_string().starts_with("its answer breaks the contract: at "), "{bad}");
        }
    }

    #[test]
    fn pointers_are_told_from_other_text() {
        assert!(["", "/", "/a~0b/~1"].iter().all(|text| is_pointer(text)));
        assert!(["a", "/a~2", "/~"].iter().all(|text| !is_pointer(text)));
    }
}
