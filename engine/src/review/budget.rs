//! How much modules may say about one project: a finding is clothed with what the rulebook knows of its rule, so that a small
//! answer can come to a large report.

use redtag_schema::contract::{Finding, Text};
use redtag_schema::rulebook::{RuleEntry, Rulebook};
use std::collections::BTreeMap;

/// How much one module may say about one project.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Budget {
    /// Findings.
    pub findings: usize,
    /// Bytes of all findings, with what the rulebook says of their rules.
    pub bytes: usize,
}

impl Default for Budget {
    fn default() -> Self {
        Self { findings: 10_000, bytes: 16 << 20 }
    }
}

impl Budget {
    /// Why the findings are more than a report can bear; nothing is copied to find out.
    pub fn excess(&self, findings: &[Finding], rulebook: &Rulebook) -> Option<String> {
        if findings.len() > self.findings {
            return Some(format!("it made {} findings about one project, {} are the most", findings.len(), self.findings));
        }
        let mut clothes: BTreeMap<&str, usize> = BTreeMap::new();
        let mut bytes = 0_usize;
        for finding in findings {
            let rule = finding.rule.as_str();
            bytes += *clothes.entry(rule).or_insert_with(|| rulebook.rule(rule).map_or(0, of_rule)) + own(finding);
        }
        (bytes > self.bytes).then(|| {
            format!(
                "its findings about one project come to {bytes} bytes with the titles and laws of their rules, {} are the most",
                self.bytes
            )
        })
    }
}

fn of_rule(rule: &RuleEntry) -> usize {
    let because: usize = rule.because().iter().map(String::len).sum();
    let citations: usize = rule.citations.iter().map(|cited| cited.value.document.len() + cited.value.section.len() + 64).sum();
    rule.description.title.len() + because + citations
}

/// What a finding holds itself; its summary stands in a report twice, as words and with its numbers.
fn own(finding: &Finding) -> usize {
    const RECORD: usize = 256;
    let text = |text: &Text| text.template.len() + text.amounts.len() * 64;
    let steps: usize = finding.worksheet.iter().map(|step| text(&step.text) + step.label.len() + RECORD).sum();
    let remedies: usize = finding.remedies.iter().map(|remedy| text(&remedy.words) + remedy.patch.len() * RECORD).sum();
    let missing: usize = finding.missing.iter().map(|one| one.pointer.len() + RECORD * 2).sum();
    2 * text(&finding.summary) + steps + remedies + missing + (finding.marks.len() + finding.related.len() + 1) * RECORD
}
