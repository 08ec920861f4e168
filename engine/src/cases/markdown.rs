//! Case files in Markdown: headings make cases, fenced blocks carry their JSON.
//!
//! ````text
//! # What the rule is about
//! ```json project            the project every case below changes
//! ## Fail: what this case shows
//! ```json change             a JSON Patch (RFC 6902) of that project; or `json project`: another one altogether
//! ```json parameters         what a pack sets, by name
//! ```json setting            the stage and the day
//! ```json findings           every finding expected
//! ````

use crate::diagnostic::{Code, Diagnostic, SourceFile, quoted};
use crate::pack::hint;
use pulldown_cmark::{CodeBlockKind, Event, HeadingLevel, Options, Parser, Tag, TagEnd};
use redtag_schema::proof::CaseKind;
use std::collections::BTreeMap;
use std::ops::Range;
use std::sync::Arc;

/// What a fenced block is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum Role {
    Project,
    Change,
    Parameters,
    Setting,
    Findings,
}

const ROLES: [(&str, Role); 5] = [
    ("project", Role::Project),
    ("change", Role::Change),
    ("parameters", Role::Parameters),
    ("setting", Role::Setting),
    ("findings", Role::Findings),
];

/// The blocks of a case or of a file's beginning: the bytes of each one's content.
pub(super) type Blocks = BTreeMap<Role, Range<usize>>;

/// A case as the Markdown has it.
#[derive(Debug)]
pub(super) struct Draft {
    pub(super) kind: CaseKind,
    pub(super) title: String,
    pub(super) heading: Range<usize>,
    pub(super) blocks: Blocks,
}

/// A case file as the Markdown has it.
#[derive(Debug, Default)]
pub(super) struct Outline {
    pub(super) base: Option<Range<usize>>,
    pub(super) cases: Vec<Draft>,
    pub(super) complaints: Vec<Diagnostic>,
}

/// Finds the cases of a file and their blocks.
pub(super) fn outline(file: &Arc<SourceFile>) -> Outline {
    let mut reading = Reading { file, out: Outline::default(), heading: None, block: None, case: Place::Beginning };
    for (event, range) in Parser::new_ext(file.text(), Options::empty()).into_offset_iter() {
        reading.take(event, range);
    }
    reading.out
}

/// Which part of the file is being read.
enum Place {
    Beginning,
    Case,
    /// Under a heading that could not be read: its blocks belong to no case.
    Nowhere,
}

struct Reading<'a> {
    file: &'a Arc<SourceFile>,
    out: Outline,
    /// The words of the second-level heading being read.
    heading: Option<String>,
    /// The fence being read: its info string, and its content so far.
    block: Option<(String, Option<Range<usize>>)>,
    case: Place,
}

impl Reading<'_> {
    fn take(&mut self, event: Event, range: Range<usize>) {
        match event {
            Event::Start(Tag::Heading { level: HeadingLevel::H2, .. }) => self.heading = Some(String::new()),
            Event::End(TagEnd::Heading(HeadingLevel::H2)) => self.close_heading(range),
            Event::Text(words) | Event::Code(words) if self.heading.is_some() => {
                self.heading.get_or_insert_default().push_str(&words);
            }
            Event::Start(Tag::CodeBlock(CodeBlockKind::Fenced(info))) => self.block = Some((info.to_string(), None)),
            Event::Text(_) => {
                if let Some((_, content)) = &mut self.block {
                    let start = content.as_ref().map_or(range.start, |content| content.start);
                    *content = Some(start..range.end);
                }
            }
            Event::End(TagEnd::CodeBlock) => {
                if let Some((info, content)) = self.block.take() {
                    self.close_block(&info, content.unwrap_or(range.end..range.end), range);
                }
            }
            _ => {}
        }
    }

    fn close_heading(&mut self, range: Range<usize>) {
        let words = self.heading.take().unwrap_or_default();
        let line = range.start..range.start + self.file.text().get(range.clone()).map_or(0, |text| text.trim_end().len());
        match read_heading(&words) {
            Ok((kind, title)) => {
                self.case = Place::Case;
                self.out.cases.push(Draft { kind, title, heading: line, blocks: Blocks::new() });
            }
            Err(complaint) => {
                self.case = Place::Nowhere;
                self.out.complaints.push(complaint.at(self.file, line));
            }
        }
    }

    fn close_block(&mut self, info: &str, content: Range<usize>, whole: Range<usize>) {
        let mut words = info.split_whitespace();
        if words.next() != Some("json") {
            return;
        }
        let fence = whole.start
            ..whole.start + self.file.text().get(whole.clone()).and_then(|text| text.lines().next()).map_or(0, str::len);
        let role = match read_role(words.next()) {
            Ok(role) => role,
            Err(complaint) => return self.out.complaints.push(complaint.at(self.file, fence)),
        };
        let twice = match self.case {
            Place::Nowhere => false,
            Place::Beginning if role == Role::Project => self.out.base.replace(content).is_some(),
            Place::Beginning => {
                let complaint = Diagnostic::error(Code::MisplacedBlock, "this block stands before the first case")
                    .expected("before the first `## ` heading only `json project`, the project that the cases change");
                return self.out.complaints.push(complaint.at(self.file, fence));
            }
            Place::Case => {
                let case = self.out.cases.last_mut();
                case.is_some_and(|case| case.blocks.insert(role, content).is_some())
            }
        };
        if twice {
            let message = format!("there is a second `json {}` here", word(role));
            self.out
                .complaints
                .push(Diagnostic::error(Code::RepeatedBlock, message).at(self.file, fence).expected("one of each kind"));
        }
    }
}

fn word(role: Role) -> &'static str {
    ROLES.iter().find(|(_, other)| *other == role).map_or("", |(word, _)| word)
}

fn read_role(word: Option<&str>) -> Result<Role, Diagnostic> {
    let known: Vec<&str> = ROLES.iter().map(|(word, _)| *word).collect();
    let expected = format!("```json and one of {}", known.join(", "));
    let Some(word) = word else {
        let complaint = Diagnostic::error(Code::BlockWithoutRole, "this block does not say what it is");
        return Err(complaint.expected(expected).help("JSON that is only shown to the reader goes without the word `json`"));
    };
    ROLES.iter().find(|(name, _)| *name == word).map(|(_, role)| *role).ok_or_else(|| {
        let message = format!("a case has no block {}", quoted(word));
        hint(Diagnostic::error(Code::UnknownBlock, message).expected(expected), word, &known)
    })
}

/// `Fail: what it shows`.
fn read_heading(words: &str) -> Result<(CaseKind, String), Diagnostic> {
    let known: Vec<&str> = CaseKind::ALL.iter().map(|kind| kind.word()).collect();
    let expected = format!("`## Kind: what it shows`, the kind being one of {}", known.join(", "));
    let Some((kind, title)) = words.split_once(':') else {
        let message = format!("the heading {} does not say what kind of case it is", quoted(words.trim()));
        let complaint = Diagnostic::error(Code::CaseWithoutKind, message).expected(expected);
        return Err(complaint.help("headings that are no cases have three # or more"));
    };
    let kind = kind.trim();
    let found = CaseKind::ALL.into_iter().find(|known| known.word().eq_ignore_ascii_case(kind));
    found.map(|found| (found, title.trim().to_owned())).ok_or_else(|| {
        hint(
            Diagnostic::error(Code::UnknownKind, format!("{} is not a kind of case", quoted(kind))).expected(expected),
            kind,
            &known,
        )
    })
}
