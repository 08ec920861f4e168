//! What the authority has granted. A variance settles the correction of one rule about one subject: the finding stays in the
//! report as advice that names the document. One that settles nothing is a finding itself, under [`RULE`].

use super::wanted::ProjectSchema;
use super::{Assignment, granting, settle};
use jiff::civil::Date;
use redtag_schema::contract::{Level, Missing, Outcome, Subject, Text};
use redtag_schema::project::Variance;
use redtag_schema::quantity::System;
use redtag_schema::review::{Failure, ReviewedFinding};
use redtag_schema::rulebook::{Author, RuleEntry};
use std::collections::BTreeSet;

/// The rule id of findings about variances themselves. No module holds it.
pub const RULE: &str = "redtag/variance";

/// Settles what the project's variances settle, and adds a finding for each variance that settles nothing.
pub fn apply(findings: &mut Vec<ReviewedFinding>, assignment: &Assignment, schema: &ProjectSchema, failures: &[Failure]) {
    let unanswered: BTreeSet<&str> = failures.iter().flat_map(|failure| &failure.rules).map(String::as_str).collect();
    let variances = assignment.document.project.variances.iter().flatten().enumerate();
    let mut remarks = Vec::new();
    for (number, variance) in variances {
        let record = Record { variance, pointer: format!("/variances/{number}"), assignment, schema };
        match record.judge(findings, &unanswered) {
            Verdict::Settles(settled) => settled.into_iter().for_each(|at| record.settle(&mut findings[at])),
            Verdict::NotNow => {}
            Verdict::Remark(remark) => remarks.push(*remark),
        }
    }
    findings.append(&mut remarks);
}

/// What a variance comes to.
enum Verdict {
    /// It settles these findings: one rule, one subject.
    Settles(Vec<usize>),
    /// Its rule was not answered in this review, so nothing can be said.
    NotNow,
    /// It settles nothing.
    Remark(Box<ReviewedFinding>),
}

/// The fields without which a variance settles nothing.
struct Granted<'a> {
    rule: &'a str,
    document: &'a str,
    expires: Date,
}

/// One variance of the project.
struct Record<'a> {
    variance: &'a Variance,
    pointer: String,
    assignment: &'a Assignment<'a>,
    schema: &'a ProjectSchema<'a>,
}

impl Record<'_> {
    fn judge(&self, findings: &[ReviewedFinding], unanswered: &BTreeSet<&str>) -> Verdict {
        let granted = match self.granted() {
            Ok(granted) => granted,
            Err(missing) => return self.incomplete(missing),
        };
        let Granted { rule, document, .. } = granted;
        match self.assignment.rulebook.rule(rule) {
            None => self.idle(format!("{document} departs from {rule}, which no pack of this rulebook holds")),
            Some(entry) if !entry.in_force() => self.idle(format!("{document} departs from {rule}, which is not in force here")),
            Some(entry) if !entry.description.stages.contains(&self.assignment.stage) => Verdict::NotNow,
            Some(_) if unanswered.contains(rule) => Verdict::NotNow,
            Some(entry) => self.hold(&granted, entry, findings),
        }
    }

    /// Held against a rule that was answered.
    fn hold(&self, granted: &Granted, entry: &RuleEntry, findings: &[ReviewedFinding]) -> Verdict {
        let Granted { rule, document, expires } = *granted;
        let breaches = self.breaches(findings, rule);
        if let Some(author) = &entry.no_variance {
            let Author { pack, version, .. } = author;
            let words = format!("{document} settles nothing: {pack} {version} grants no variance from {rule}");
            return self.stands(&breaches, findings, words);
        }
        if self.day().is_some_and(|day| day > expires) {
            return self.stands(&breaches, findings, format!("{document} was good through {expires} and settles nothing now"));
        }
        let Assignment { document: project, variance_signers, .. } = self.assignment;
        if let Some(doubt) = granting::doubt(&project.canonical, &self.pointer, rule, variance_signers) {
            return self.stands(&breaches, findings, format!("{document} settles nothing: {doubt}"));
        }
        let subjects: BTreeSet<&str> = breaches.iter().map(|&at| findings[at].subject.pointer.as_str()).collect();
        match subjects.len() {
            0 => self.idle(format!("{document} is not needed: {}", self.why_unused(findings, rule))),
            1 => Verdict::Settles(breaches),
            many => {
                let words =
                    format!("{document} settles nothing: it names no subject, and {many} things without an id break {rule}");
                self.stands(&breaches, findings, words)
            }
        }
    }

    /// The fields it needs, or those it lacks.
    fn granted(&self) -> Result<Granted<'_>, Vec<Missing>> {
        let said = |field: &Option<String>| field.as_deref().map(str::trim).filter(|words| !words.is_empty()).is_some();
        let day = |field: &Option<String>| field.as_deref().and_then(|words| words.parse::<Date>().ok());
        let Variance { rule, document, expires, .. } = self.variance;
        if let (Some(rule), Some(document), Some(expires), true) = (rule, document, day(expires), said(rule) && said(document)) {
            return Ok(Granted { rule, document, expires });
        }
        let fields = [("rule", said(rule)), ("document", said(document)), ("expires", day(expires).is_some())];
        let missing = fields.into_iter().filter(|(_, there)| !there);
        Err(missing.map(|(name, _)| Missing { pointer: format!("{}/{name}", self.pointer), what: None, example: None }).collect())
    }

    /// The corrections of a rule it is about.
    fn breaches(&self, findings: &[ReviewedFinding], rule: &str) -> Vec<usize> {
        let about = |finding: &ReviewedFinding| finding.outcome == Outcome::Correction && self.is_about(finding, rule);
        (0..findings.len()).filter(|&at| about(&findings[at])).collect()
    }

    fn is_about(&self, finding: &ReviewedFinding, rule: &str) -> bool {
        let Subject { pointer, id, .. } = &finding.subject;
        let written = || self.assignment.document.canonical.pointer(pointer)?.get("id")?.as_str();
        finding.rule == rule && id.as_deref().or_else(written) == self.variance.subject.as_deref()
    }

    /// The day whose law is asked about; it was read as a day before the rulebook was made.
    fn day(&self) -> Option<Date> {
        self.assignment.rulebook.date.parse().ok()
    }

    fn why_unused(&self, findings: &[ReviewedFinding], rule: &str) -> String {
        let about: Vec<&ReviewedFinding> = findings.iter().filter(|finding| self.is_about(finding, rule)).collect();
        let subject =
            self.variance.subject.as_ref().map_or_else(|| "the project as a whole".to_owned(), |id| format!("\"{id}\""));
        if about.iter().any(|finding| finding.variance.is_some()) {
            format!("another variance settles {rule} for {subject}")
        } else if about.iter().any(|finding| finding.outcome == Outcome::Unresolved) {
            format!("whether {subject} breaks {rule} cannot be told yet")
        } else {
            format!("{subject} does not break {rule}")
        }
    }

    /// The finding stays, with the words of its document; what would cure it is of interest still.
    fn settle(&self, finding: &mut ReviewedFinding) {
        let document = self.variance.document.as_deref().unwrap_or_default();
        finding.summary = Text::plain(format!("settled by variance {document}: ")).then(&finding.summary);
        finding.message = finding.summary.print(System::UsCustomary);
        finding.outcome = Outcome::Advice;
        finding.variance = Some(self.words());
        finding.related.push(self.pointer.clone());
    }

    /// `Variance 2025-07, granted by the Building Board on 2025-02-11, good through 2026-02-11, on condition that ...`.
    fn words(&self) -> String {
        let Variance { document, granted_by, granted_on, expires, conditions, .. } = self.variance;
        let part = |before: &str, field: &Option<String>| field.as_ref().map(|words| format!("{before}{words}"));
        let granted = match (part(" by ", granted_by), part(" on ", granted_on)) {
            (None, None) => None,
            (by, on) => Some(format!(", granted{}{}", by.unwrap_or_default(), on.unwrap_or_default())),
        };
        let conditions =
            conditions.as_ref().filter(|list| !list.is_empty()).map(|list| format!("; conditions: {}", list.join("; ")));
        [part("", document), granted, part(", good through ", expires), conditions].into_iter().flatten().collect()
    }

    fn incomplete(&self, missing: Vec<Missing>) -> Verdict {
        let names: Vec<&str> = missing.iter().filter_map(|one| one.pointer.rsplit('/').next()).collect();
        let words = format!("it settles nothing: a variance needs {}, and what is a date a day that exists", names.join(" and "));
        let mut remark = self.remark(Outcome::Unresolved, words);
        remark.missing = missing.into_iter().map(|one| settle::fact(one, self.assignment, self.schema)).collect();
        Verdict::Remark(Box::new(remark))
    }

    /// A variance nobody needs.
    fn idle(&self, words: String) -> Verdict {
        Verdict::Remark(Box::new(self.remark(Outcome::Advice, words)))
    }

    /// A variance somebody counts on in vain, where there is a breach; else one nobody needs.
    fn stands(&self, breaches: &[usize], findings: &[ReviewedFinding], words: String) -> Verdict {
        let outcome = if breaches.is_empty() { Outcome::Advice } else { Outcome::Correction };
        let mut remark = self.remark(outcome, words);
        remark.related = breaches.iter().map(|&at| findings[at].subject.pointer.clone()).collect();
        Verdict::Remark(Box::new(remark))
    }

    fn remark(&self, outcome: Outcome, words: String) -> ReviewedFinding {
        let id = &self.variance.id;
        ReviewedFinding {
            rule: RULE.to_owned(),
            title: "Every variance settles what it was granted for".to_owned(),
            level: Level::Required,
            outcome,
            subject: Subject { pointer: self.pointer.clone(), id: Some(id.clone()), label: format!("variance \"{id}\"") },
            place: settle::whole(self.assignment, &self.pointer),
            summary: Text::plain(&words),
            message: words,
            citations: Vec::new(),
            because: Vec::new(),
            worksheet: Vec::new(),
            missing: Vec::new(),
            remedies: Vec::new(),
            marks: Vec::new(),
            related: Vec::new(),
            variance: None,
            known: false,
            brought_by: None,
        }
    }
}
