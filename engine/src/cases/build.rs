//! From the parts of a case file to a case that can be run: the change made, parameters read, expectations sensible.

use super::listing::Listed;
use super::{Case, Expected, Setting};
use crate::diagnostic::{Code, Diagnostic, SourceFile, Span, quoted};
use crate::document::{Document, SpanIndex, join, patched};
use crate::modules::read_value;
use crate::pack::{hint, is_day};
use redtag_schema::contract::Outcome;
use redtag_schema::proof::CaseKind;
use redtag_schema::rulebook::{RuleEntry, Rulebook};
use serde_json::{Map, Value};
use std::collections::BTreeMap;
use std::sync::Arc;

/// Something read, and where it stands.
pub(super) struct Placed<T> {
    content: T,
    source: Arc<SourceFile>,
    spans: SpanIndex,
    /// Where in the document its own pointers begin.
    root: String,
}

impl<T> Placed<T> {
    fn span(&self, pointer: &str) -> Span {
        Span::new(&self.source, self.spans.nearest(&format!("{}{pointer}", self.root)))
    }

    fn locate(&self, complaint: Diagnostic, pointer: &str) -> Diagnostic {
        let range = self.spans.nearest(&format!("{}{pointer}", self.root));
        complaint.at(&self.source, range).pointer(pointer)
    }
}

impl<T> From<Document<T>> for Placed<T> {
    fn from(document: Document<T>) -> Self {
        Self { content: document.content, source: document.source, spans: document.spans, root: String::new() }
    }
}

/// A case in parts.
pub(super) struct Parts {
    rule: String,
    kind: CaseKind,
    title: String,
    span: Span,
    pub(super) project: Option<Value>,
    pub(super) change: Option<Placed<Vec<Value>>>,
    pub(super) parameters: Option<Placed<Map<String, Value>>>,
    pub(super) setting: Option<Placed<Setting>>,
    pub(super) findings: Option<Placed<Vec<Expected>>>,
}

impl Parts {
    pub(super) fn new(rule: String, kind: CaseKind, title: String, span: Span) -> Self {
        Self { rule, kind, title, span, project: None, change: None, parameters: None, setting: None, findings: None }
    }

    pub(super) fn listed(listed: Listed, rule: String, (source, spans): (&Arc<SourceFile>, &SpanIndex), pointer: &str) -> Self {
        fn placed<T>(content: T, (source, spans): (&Arc<SourceFile>, &SpanIndex), root: String) -> Placed<T> {
            Placed { content, source: Arc::clone(source), spans: spans.clone(), root }
        }
        let place = (source, spans);
        let change = (!listed.change.is_empty()).then(|| placed(listed.change, place, format!("{pointer}/change")));
        Self {
            rule,
            kind: listed.kind,
            title: listed.title,
            span: Span::new(source, spans.nearest(pointer)),
            project: Some(Value::Object(listed.project)),
            change,
            parameters: Some(placed(listed.parameters, place, format!("{pointer}/parameters"))),
            setting: Some(placed(listed.setting, place, format!("{pointer}/setting"))),
            findings: Some(placed(listed.findings, place, format!("{pointer}/findings"))),
        }
    }
}

/// Puts a case together.
pub(super) fn build(parts: Parts, rulebook: &Rulebook) -> Result<Case, Vec<Diagnostic>> {
    let at_heading = |complaint: Diagnostic| Diagnostic { primary: Some(parts.span.clone()), ..complaint };
    let Some(rule) = rulebook.rule(&parts.rule) else {
        return Err(vec![at_heading(unknown_rule(&parts.rule, rulebook))]);
    };
    let Some(findings) = &parts.findings else {
        let complaint = Diagnostic::error(Code::CaseWithoutFindings, "this case does not say which findings it expects");
        return Err(vec![at_heading(complaint.expected("a block ```json findings; an empty list where there are none"))]);
    };
    let Some(project) = &parts.project else {
        let complaint = Diagnostic::error(Code::CaseWithoutProject, "this case has no project");
        return Err(vec![at_heading(complaint.expected("a block ```json project, here or before the first case"))]);
    };
    let mut complaints = Vec::new();
    let project = changed(project, parts.change.as_ref()).unwrap_or_else(|complaint| {
        complaints.push(*complaint);
        Value::Null
    });
    let parameters = parts.parameters.as_ref().map_or_else(BTreeMap::new, |set| read_parameters(rule, set, &mut complaints));
    if let Some(setting) = &parts.setting {
        complaints.extend(check_setting(setting));
    }
    complaints.extend(findings.content.iter().enumerate().filter_map(|(index, expected)| {
        let other = expected.rule.as_ref().filter(|other| rulebook.rule(other).is_none())?;
        Some(findings.locate(unknown_rule(other, rulebook), &format!("/{index}/rule")))
    }));
    complaints.extend(check_kind(parts.kind, &parts.rule, &findings.content).map(at_heading));
    if !complaints.is_empty() {
        return Err(complaints);
    }
    let expected = findings.content.iter().enumerate().map(|(index, one)| (one.clone(), findings.span(&format!("/{index}"))));
    Ok(Case {
        expected: expected.collect(),
        project,
        parameters,
        setting: parts.setting.map(|setting| setting.content).unwrap_or_default(),
        rule: parts.rule,
        kind: parts.kind,
        title: parts.title,
        span: parts.span,
    })
}

fn unknown_rule(rule: &str, rulebook: &Rulebook) -> Diagnostic {
    let known: Vec<&str> = rulebook.rules.iter().map(|rule| rule.description.id.as_str()).collect();
    let message = format!("these cases are for rule {}, which is not in the rulebook", quoted(rule));
    let expected = "a file cases/<family>/<topic>.md named after a rule";
    hint(Diagnostic::error(Code::UnknownRule, message).expected(expected), rule, &known)
}

fn changed(project: &Value, change: Option<&Placed<Vec<Value>>>) -> Result<Value, Box<Diagnostic>> {
    let mut project = project.clone();
    let Some(change) = change else { return Ok(project) };
    let complain =
        |index: usize, code: Code, words: String| Box::new(change.locate(Diagnostic::error(code, words), &format!("/{index}")));
    let mut operations = Vec::new();
    for (index, operation) in change.content.iter().enumerate() {
        operations.push(serde_json::from_value(operation.clone()).map_err(|error| {
            let mut complaint = complain(index, Code::BadChange, format!("this is not an operation of a JSON Patch: {error}"));
            complaint.expected =
                Some(r#"such as {"op": "replace", "path": "/equipment/0/input", "value": "100,000 Btu/h"}"#.to_owned());
            complaint
        })?);
    }
    patched(&mut project, &operations)
        .map_err(|(index, why)| complain(index, Code::ChangeDoesNotFit, format!("this change cannot be made: {why}")))?;
    Ok(project)
}

fn read_parameters(
    rule: &RuleEntry,
    set: &Placed<Map<String, Value>>,
    complaints: &mut Vec<Diagnostic>,
) -> BTreeMap<String, Value> {
    let mut out = BTreeMap::new();
    let known: Vec<&str> = rule.description.parameters.iter().map(|parameter| parameter.name.as_str()).collect();
    for (name, written) in &set.content {
        let pointer = join("", name);
        let Some(parameter) = rule.description.parameters.iter().find(|parameter| parameter.name == *name) else {
            let message = format!("rule `{}` has no parameter {}", rule.description.id, quoted(name));
            let complaint = Diagnostic::error(Code::UnknownParameter, message).expected(format!("one of {}", known.join(", ")));
            complaints.push(set.locate(hint(complaint, name, &known), &pointer));
            continue;
        };
        match read_value(parameter, written) {
            Ok(value) => drop(out.insert(name.clone(), value)),
            Err(error) => {
                let complaint = Diagnostic::error(error.code, error.message).expected(error.expected);
                complaints.push(set.locate(Diagnostic { help: error.help, ..complaint }, &pointer));
            }
        }
    }
    out
}

fn check_setting(setting: &Placed<Setting>) -> Option<Diagnostic> {
    let date = setting.content.date.as_ref().filter(|date| !is_day(date))?;
    let complaint = Diagnostic::error(Code::BadDate, format!("{} is not a day of the calendar", quoted(date)));
    Some(setting.locate(complaint.expected("a day as YYYY-MM-DD"), "/date"))
}

/// Whether what is expected is what the heading promises.
fn check_kind(kind: CaseKind, rule: &str, findings: &[Expected]) -> Option<Diagnostic> {
    let own: Vec<Outcome> =
        findings.iter().filter(|one| one.rule.as_deref().is_none_or(|other| other == rule)).map(|one| one.outcome).collect();
    let wanted = kind.shown_by(&own).err()?;
    let message = format!("a case of the kind \"{kind}\" expects something else");
    Some(Diagnostic::error(Code::KindNotShown, message).expected(wanted))
}
