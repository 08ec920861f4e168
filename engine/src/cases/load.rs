//! From a pack's files to its cases.

use super::block::read;
use super::build::{Parts, build};
use super::listing::Listed;
use super::markdown::{Draft, Role, outline};
use super::{Case, Cases};
use crate::diagnostic::{Code, Diagnostic, SourceFile, Span};
use crate::pack::Pack;
use redtag_schema::rulebook::Rulebook;
use serde_json::Value;
use std::sync::Arc;

/// Reads every case file of a pack: those its manifest lists, and those in the folders it lists. The rules and their
/// parameters are those of the rulebook.
pub fn load(pack: &Pack, rulebook: &Rulebook) -> Cases {
    let mut out = Cases::default();
    let listed = |name: &&str| {
        pack.manifest()
            .cases
            .iter()
            .map(|entry| entry.trim_end_matches('/'))
            .any(|entry| *name == entry || name.strip_prefix(entry).is_some_and(|rest| rest.starts_with('/')))
    };
    for name in pack.names().filter(listed) {
        let markdown = name.ends_with(".md");
        if !markdown && !name.ends_with(".json") {
            continue;
        }
        let shown = pack.origin().file(name);
        let Ok(text) = std::str::from_utf8(pack.file(name).unwrap_or_default()) else {
            let message = format!("the case file {shown} is not UTF-8");
            out.complaints.push(Diagnostic::error(Code::NotUtf8, message).help("save it again with the encoding UTF-8"));
            continue;
        };
        let mut file = File { source: Arc::new(SourceFile::new(shown, text)), rule: rule_of_path(name), rulebook, out: &mut out };
        if markdown { file.markdown() } else { file.listing() }
    }
    out.cases.sort_by(|left, right| {
        let key = |case: &Case| (case.rule.clone(), case.span.file.name().to_owned(), case.span.range.start);
        key(left).cmp(&key(right))
    });
    Diagnostic::sort(&mut out.complaints);
    out
}

/// The rule a case file's path names: folder and file, underscores read as hyphens.
pub fn rule_of_path(path: &str) -> String {
    let stem = path.rsplit_once('.').map_or(path, |(stem, _)| stem);
    let mut parts = stem.rsplit('/');
    let topic = parts.next().unwrap_or_default().replace('_', "-");
    format!("{}/{topic}", parts.next().unwrap_or_default())
}

struct File<'a> {
    source: Arc<SourceFile>,
    rule: String,
    rulebook: &'a Rulebook,
    out: &'a mut Cases,
}

impl File<'_> {
    fn markdown(&mut self) {
        let outline = outline(&self.source);
        self.out.complaints.extend(outline.complaints);
        let base = outline.base.map(|range| read::<serde_json::Map<String, Value>>(&self.source, range));
        let base = match base {
            None => Ok(None),
            Some(Ok(document)) => Ok(Some(Value::Object(document.content))),
            Some(Err(complaints)) => {
                self.out.complaints.extend(complaints);
                Err(())
            }
        };
        for draft in outline.cases {
            match self.draft(draft, base.as_ref().map(Option::as_ref)) {
                Ok(case) => self.out.cases.push(case),
                Err(complaints) => self.out.complaints.extend(complaints),
            }
        }
    }

    /// `base` is an error when it could not be read: cases that change it are passed over, the complaint has been made.
    fn draft(&self, draft: Draft, base: Result<Option<&Value>, &()>) -> Result<Case, Vec<Diagnostic>> {
        let span = Span::new(&self.source, draft.heading.clone());
        let block = |role: Role| draft.blocks.get(&role).cloned();
        let mut parts = Parts::new(self.rule.clone(), draft.kind, draft.title.clone(), span);
        parts.project = match (block(Role::Project), base) {
            (Some(range), _) => Some(Value::Object(read(&self.source, range)?.content)),
            (None, Ok(base)) => base.cloned(),
            (None, Err(())) => return Err(Vec::new()),
        };
        if let Some(range) = block(Role::Change) {
            parts.change = Some(read(&self.source, range)?.into());
        }
        if let Some(range) = block(Role::Parameters) {
            parts.parameters = Some(read(&self.source, range)?.into());
        }
        if let Some(range) = block(Role::Setting) {
            parts.setting = Some(read(&self.source, range)?.into());
        }
        if let Some(range) = block(Role::Findings) {
            parts.findings = Some(read(&self.source, range)?.into());
        }
        build(parts, self.rulebook)
    }

    fn listing(&mut self) {
        let whole = 0..self.source.text().len();
        let document = match read::<Vec<Listed>>(&self.source, whole) {
            Ok(document) => document,
            Err(complaints) => return self.out.complaints.extend(complaints),
        };
        for (index, listed) in document.content.into_iter().enumerate() {
            let place = (&document.source, &document.spans);
            let rule = listed.rule.clone().unwrap_or_else(|| self.rule.clone());
            match build(Parts::listed(listed, rule, place, &format!("/{index}")), self.rulebook) {
                Ok(case) => self.out.cases.push(case),
                Err(complaints) => self.out.complaints.extend(complaints),
            }
        }
    }
}
