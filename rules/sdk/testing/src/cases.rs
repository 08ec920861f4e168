//! Reads the case files beside rules. The engine reads them too, with a place for every complaint; here a complaint names the
//! line of the block.

use pulldown_cmark::{CodeBlockKind, Event, HeadingLevel, Options, Parser, Tag, TagEnd};
use redtag_rule::schema::contract::{Outcome, Stage};
use redtag_rule::schema::proof::CaseKind;
use serde::Deserialize;
use serde::de::DeserializeOwned;
use serde_json::Value;
use std::collections::BTreeMap;

/// One finding a case expects.
#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Expected {
    /// What it is about: an id, or a JSON pointer.
    pub subject: String,
    /// The answer.
    pub outcome: Outcome,
    /// Words its summary or a line of its worksheet holds.
    pub says: Option<String>,
    /// The pointers of the missing facts, all of them.
    pub missing: Option<Vec<String>>,
    /// The rule, where it is not the file's own.
    pub rule: Option<String>,
}

/// A case that can be run.
#[derive(Debug, Clone)]
pub struct Case {
    /// The rule it belongs to.
    pub rule: String,
    /// The file, from the module's folder.
    pub file: String,
    /// The line of its heading.
    pub line: usize,
    /// What it shows.
    pub kind: CaseKind,
    /// The same in words.
    pub title: String,
    /// The project.
    pub project: Value,
    /// What a pack sets.
    pub parameters: BTreeMap<String, Value>,
    /// What can be known.
    pub stage: Stage,
    /// The day, where the case names one.
    pub day: Option<String>,
    /// Every finding expected.
    pub expected: Vec<Expected>,
}

impl Case {
    /// The rules it asks: its own, and those it expects findings of.
    pub(crate) fn rules(&self) -> impl Iterator<Item = &str> {
        std::iter::once(self.rule.as_str()).chain(self.expected.iter().filter_map(|expected| expected.rule.as_deref()))
    }
}

/// A heading with the blocks below it.
#[derive(Default)]
struct Section {
    heading: String,
    line: usize,
    /// By role: the line and the text of a block.
    blocks: BTreeMap<String, (usize, String)>,
}

/// When a case asks.
#[derive(Default, Deserialize)]
#[serde(deny_unknown_fields)]
struct Setting {
    stage: Option<Stage>,
    date: Option<String>,
}

/// The cases of a file.
pub(crate) fn read_cases(rule: &str, file: &str, text: &str) -> Result<Vec<Case>, String> {
    let mut sections = sections(text).into_iter();
    let beginning = sections.next().unwrap_or_default();
    let base = block::<Value>(&beginning, "project", file)?;
    sections.map(|section| read_case(rule, file, &section, base.as_ref())).collect()
}

fn read_case(rule: &str, file: &str, section: &Section, base: Option<&Value>) -> Result<Case, String> {
    let at = |message: &str| format!("{file}:{}: {message}", section.line);
    let heading = section.heading.split_once(':');
    let known = |kind: &str| CaseKind::ALL.into_iter().find(|known| known.word().eq_ignore_ascii_case(kind.trim()));
    let (Some((_, title)), Some(kind)) = (heading, heading.and_then(|(kind, _)| known(kind))) else {
        let kinds = CaseKind::ALL.map(CaseKind::word).join(", ");
        return Err(at(&format!("expected `## Kind: what it shows`, the kind being one of {kinds}")));
    };
    let own = block::<Value>(section, "project", file)?;
    let mut project = own.or_else(|| base.cloned()).ok_or_else(|| at("this case has no project"))?;
    if let Some(change) = block::<json_patch::Patch>(section, "change", file)? {
        json_patch::patch(&mut project, &change).map_err(|error| at(&format!("the change cannot be made: {error}")))?;
    }
    let setting = block::<Setting>(section, "setting", file)?.unwrap_or_default();
    let expected: Vec<Expected> =
        block(section, "findings", file)?.ok_or_else(|| at("this case does not say which findings it expects"))?;
    let own = expected.iter().filter(|one| one.rule.as_deref().is_none_or(|other| other == rule));
    let own: Vec<Outcome> = own.map(|one| one.outcome).collect();
    kind.shown_by(&own).map_err(|wanted| at(&format!("a case of the kind \"{kind}\" shows {wanted}")))?;
    Ok(Case {
        rule: rule.to_owned(),
        file: file.to_owned(),
        line: section.line,
        kind,
        title: title.trim().to_owned(),
        project,
        parameters: block(section, "parameters", file)?.unwrap_or_default(),
        stage: setting.stage.unwrap_or(Stage::Final),
        day: setting.date,
        expected,
    })
}

fn block<T: DeserializeOwned>(section: &Section, role: &str, file: &str) -> Result<Option<T>, String> {
    let Some((line, text)) = section.blocks.get(role) else { return Ok(None) };
    let complain = |error: serde_json::Error| format!("{file}:{}: {error}", line + error.line());
    serde_json::from_str(text).map(Some).map_err(complain)
}

/// What stands before the first second-level heading, and then each heading's.
fn sections(text: &str) -> Vec<Section> {
    let mut sections = vec![Section::default()];
    let (mut heading, mut fence): (bool, Option<(String, usize, String)>) = (false, None);
    let line_of = |offset: usize| text[..offset].matches('\n').count() + 1;
    for (event, range) in Parser::new_ext(text, Options::empty()).into_offset_iter() {
        let Some(last) = sections.last_mut() else { continue };
        match event {
            Event::Start(Tag::Heading { level: HeadingLevel::H2, .. }) => {
                sections.push(Section { line: line_of(range.start), ..Section::default() });
                heading = true;
            }
            Event::End(TagEnd::Heading(HeadingLevel::H2)) => heading = false,
            Event::Start(Tag::CodeBlock(CodeBlockKind::Fenced(info))) => {
                fence = Some((info.to_string(), line_of(range.start), String::new()));
            }
            Event::End(TagEnd::CodeBlock) => {
                let Some((info, line, content)) = fence.take() else { continue };
                if let Some(role) = info.strip_prefix("json ") {
                    last.blocks.insert(role.trim().to_owned(), (line, content));
                }
            }
            Event::Text(words) | Event::Code(words) => match &mut fence {
                Some((_, _, content)) => content.push_str(&words),
                None if heading => last.heading.push_str(&words),
                None => {}
            },
            _ => {}
        }
    }
    sections
}

#[cfg(test)]
mod tests {
    use super::*;

    const FILE: &str = "# Topic\n\n```json project\n{\"schema\": 1}\n```\n\n## Pass: it `holds`\n\n```json change\n[{\"op\": \
                        \"add\", \"path\": \"/name\", \"value\": \"x\"}]\n```\n```json findings\n[{\"subject\": \"a\", \
                        \"outcome\": \"complies\"}]\n```\n\n## Not applicable: nothing\n\n```json findings\n[]\n```\n";

    #[test]
    fn a_case_changes_the_base_project() {
        let cases = read_cases("f/t", "t.md", FILE).unwrap();
        assert_eq!((cases.len(), cases[0].kind, cases[0].title.as_str(), cases[0].line), (2, CaseKind::Pass, "it holds", 7));
        assert_eq!((cases[0].project["name"].as_str(), cases[1].project.get("name")), (Some("x"), None));
        assert_eq!((cases[0].expected.len(), cases[0].expected[0].outcome), (1, Outcome::Complies));
    }

    #[test]
    fn what_is_wrong_with_a_file_is_said_at_its_line() {
        let broken = FILE.replace("\"complies\"", "\"complying\"");
        assert!(read_cases("f/t", "t.md", &broken).unwrap_err().starts_with("t.md:13: unknown variant"));
        let other = FILE.replace("\"complies\"", "\"correction\"");
        let complaint = read_cases("f/t", "t.md", &other).unwrap_err();
        assert_eq!(complaint, "t.md:7: a case of the kind \"Pass\" shows a finding that complies, and no correction");
        let nameless = FILE.replace("## Not applicable: nothing", "## Something: else");
        assert!(read_cases("f/t", "t.md", &nameless).unwrap_err().starts_with("t.md:16: expected `## Kind"));
    }
}
