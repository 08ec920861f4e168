//! A summary in Markdown, for the page of a workflow's run: a table of counts, then what is to be done, worst first.

use super::count::{Sum, Totals as _, plural};
use super::frame::Frame;
use super::sink::Sink;
use super::{RuleTexts, clean, complaint};
use redtag_schema::contract::Outcome;
use redtag_schema::review::{Complaint, Failure, Refused, Review, ReviewedFinding};
use std::collections::{BTreeMap, BTreeSet};
use std::fmt::Write as _;
use std::io::{self, Write};

/// A step's summary may have one mebibyte; some is left for what others add to it.
const MOST_BYTES: usize = 1_000_000;

/// The summary, of which no more is kept than fits into it.
pub(crate) struct MarkdownSink<'w> {
    frame: Frame,
    out: &'w mut dyn Write,
    sum: Sum,
    rows: Vec<String>,
    rows_left_off: usize,
    refused: usize,
    blocks: BTreeMap<Rank, Blocks>,
    cautions: BTreeSet<String>,
    in_order: Vec<String>,
}

/// What comes first.
#[derive(PartialEq, Eq, PartialOrd, Ord)]
enum Rank {
    /// A file that could not be reviewed.
    Refused,
    /// A module that failed.
    Failed,
    /// A finding, by outcome.
    Finding(Outcome),
    /// What was not looked at.
    NotLookedAt,
}

/// Entries of one rank, as many as can ever be shown, and how many there were besides.
#[derive(Default)]
struct Blocks {
    shown: Vec<String>,
    bytes: usize,
    left_off: usize,
}

/// How many projects the table names.
const MOST_ROWS: usize = 1_000;

impl<'w> MarkdownSink<'w> {
    pub(crate) fn new(frame: Frame, out: &'w mut dyn Write) -> Self {
        let (rows, blocks, cautions) = (Vec::new(), BTreeMap::new(), BTreeSet::new());
        let (sum, in_order) = (Sum::default(), Vec::new());
        Self { frame, out, sum, rows, rows_left_off: 0, refused: 0, blocks, cautions, in_order }
    }

    fn block(&mut self, rank: Rank, block: String) {
        let blocks = self.blocks.entry(rank).or_default();
        if blocks.left_off == 0 && blocks.bytes + block.len() < MOST_BYTES {
            blocks.bytes += block.len();
            blocks.shown.push(block);
        } else {
            blocks.left_off += 1;
        }
    }

    fn row(&mut self, row: String) {
        if self.rows.len() < MOST_ROWS { self.rows.push(row) } else { self.rows_left_off += 1 }
    }
}

impl Sink for MarkdownSink<'_> {
    fn review(&mut self, review: &Review, _: &RuleTexts) -> io::Result<()> {
        self.sum.add(review);
        let path = self.frame.path(&review.file);
        self.row(row(&path, review));
        for failure in &review.failures {
            self.block(Rank::Failed, failed(&path, failure));
        }
        for one in &review.complaints {
            self.block(Rank::Refused, complained(&path, one));
        }
        for finding in review.findings.iter().filter(|finding| asks(finding.outcome)) {
            let block = entry(&self.frame, &path, finding);
            self.block(Rank::Finding(finding.outcome), block);
        }
        if let Some(block) = unlooked(&path, review) {
            self.block(Rank::NotLookedAt, block);
        }
        for caution in &review.cautions {
            if self.cautions.insert(caution.clone()) {
                self.in_order.push(caution.clone());
            }
        }
        Ok(())
    }

    fn refused(&mut self, refused: &Refused) -> io::Result<()> {
        self.refused += 1;
        let path = self.frame.path(&refused.file);
        self.row(format!("| {} | refused: {} | | | | | | | |", short(&path), escape(&refused.words())));
        for one in &refused.complaints {
            self.block(Rank::Refused, complained(&path, one));
        }
        Ok(())
    }

    fn end(&mut self) -> io::Result<()> {
        let (mut text, closing) = (self.heading(), self.closing());
        let mut left_off = 0;
        for blocks in self.blocks.values() {
            for block in &blocks.shown {
                if left_off == 0 && text.len() + block.len() + closing.len() < MOST_BYTES {
                    text.push_str(block);
                } else {
                    left_off += 1;
                }
            }
            left_off += blocks.left_off;
        }
        if left_off > 0 {
            let entries = plural(left_off, "entry", "entries");
            let _ = write!(text, "**{entries} did not fit here.** The JSON report has everything.\n\n");
        }
        text.push_str(&closing);
        self.out.write_all(text.as_bytes())?;
        self.out.flush()
    }
}

fn asks(outcome: Outcome) -> bool {
    matches!(outcome, Outcome::Correction | Outcome::Unresolved | Outcome::Advice)
}

impl MarkdownSink<'_> {
    fn heading(&self) -> String {
        let refused = if self.refused == 0 { String::new() } else { format!("; {} refused", self.refused) };
        let mut out = format!("## redtag: {}{refused}\n\n", escape(&self.sum.words()));
        out.push_str(
            "| project | stage | law of | corrections | unresolved | advice | comply | do not apply | modules failed |\n",
        );
        out.push_str("| --- | --- | --- | ---: | ---: | ---: | ---: | ---: | ---: |\n");
        for row in &self.rows {
            let _ = writeln!(out, "{row}");
        }
        if self.rows_left_off > 0 {
            let _ = write!(out, "\n{} projects more.\n", self.rows_left_off);
        }
        out.push('\n');
        out
    }

    /// The cautions of all projects once, then what every report says.
    fn closing(&self) -> String {
        let mut out = String::new();
        for caution in &self.in_order {
            let _ = write!(out, "> **caution** {}\n\n", escape(caution));
        }
        let _ = writeln!(out, "{}", escape(&self.frame.notice));
        out
    }
}

fn row(path: &str, review: &Review) -> String {
    let counts: Vec<String> = Outcome::ALL.iter().map(|outcome| review.tally().of(*outcome).to_string()).collect();
    let name = review.project.as_deref().map(|name| format!("<br>{}", short(name))).unwrap_or_default();
    let (file, stage, counts) = (short(path), review.stage.word(), counts.join(" | "));
    format!("| {file}{name} | {stage} | {} | {counts} | {} |", escape(&review.date), review.failed())
}

fn complained(path: &str, one: &Complaint) -> String {
    let place = one.place.map(|place| format!(":{}:{}", place.line, place.column)).unwrap_or_default();
    let (word, sentence) = (one.severity.word(), escape(&complaint::sentence(one)));
    format!("**{word}** **{}** {sentence} ({})\n\n", escape(&one.code), escape(&format!("{path}{place}")))
}

/// What was not looked at in a project: every piece of equipment, the families in one line.
fn unlooked(path: &str, review: &Review) -> Option<String> {
    let silent = &review.not_looked_at;
    let mut out = String::new();
    for one in &silent.equipment {
        let why = one.why.as_deref().unwrap_or("no rule spoke of it");
        let _ = writeln!(out, "- {}: {}", escape(&format!("{} (line {})", one.label, one.place.line)), escape(why));
    }
    if !silent.families.is_empty() {
        let names: Vec<&str> = silent.families.iter().map(|family| family.family.as_str()).collect();
        let _ = writeln!(out, "- families that found nothing to look at: {}", escape(&names.join(", ")));
    }
    if !silent.facts.is_empty() {
        let _ = writeln!(out, "- {} that decided nothing", plural(silent.facts.len(), "fact", "facts"));
    }
    (!out.is_empty()).then(|| format!("**not looked at** ({})\n\n{out}\n", escape(path)))
}

fn failed(path: &str, failure: &Failure) -> String {
    let rules = if failure.rules.is_empty() { String::new() } else { format!(" Not answered: {}.", failure.rules.join(", ")) };
    let text = format!("{} ({}, {}){rules}", failure.message, failure.pack, failure.kind);
    format!("**module failed** {} ({})\n\n", escape(&text), escape(path))
}

fn entry(frame: &Frame, path: &str, finding: &ReviewedFinding) -> String {
    let known = if finding.known { ", known before" } else { "" };
    let place = format!("{path}:{}:{}", finding.place.line, finding.place.column);
    let sentence = escape(&frame.sentence(finding));
    let word = finding.outcome.word();
    let mut out = format!("**{word}**{known} **{}** {sentence} ({})\n\n", escape(&finding.rule), escape(&place));
    for (word, text) in frame.details(finding) {
        let _ = writeln!(out, "- {word}: {}", escape(&text));
    }
    let worksheet = frame.worksheet(finding);
    if finding.outcome == Outcome::Correction && !worksheet.is_empty() {
        out.push_str("\n<details><summary>the arithmetic</summary>\n\n");
        for line in worksheet {
            let _ = writeln!(out, "- {}", escape(&line));
        }
        out.push_str("\n</details>\n");
    }
    out.push('\n');
    out
}

/// A name short enough for a table.
fn short(text: &str) -> String {
    const LONGEST: usize = 120;
    match text.char_indices().nth(LONGEST) {
        Some((at, _)) => format!("{} ...", escape(&text[..at])),
        None => escape(text),
    }
}

/// One line in which nothing is Markdown or HTML (CommonMark 0.31.2, section 2.4: any mark may stand behind a backslash).
fn escape(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    for letter in clean(text).chars() {
        if matches!(letter, '\\' | '`' | '*' | '_' | '[' | ']' | '<' | '>' | '#' | '|' | '~' | '&' | '!' | '$' | '@') {
            out.push('\\');
        }
        out.push(letter);
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::{Format, sample};
    use pulldown_cmark::{Event, Options, Parser, Tag};

    #[test]
    fn the_summary_reads_like_this() {
        insta::assert_snapshot!(sample::as_it_is(Format::Markdown, false));
    }

    #[test]
    fn nothing_in_a_project_is_taken_for_markdown() {
        let hostile = "<script>x</script> [a](http://b) ![c](d) `e` **f** | g\n# h\n</details> &amp; ~~i~~";
        let out = sample::with_changed(Format::Markdown, false, |reviews| {
            reviews.reviews[0].project = Some(hostile.to_owned());
            reviews.reviews[0].file = format!("{}.json", hostile.replace('/', ""));
            for finding in &mut reviews.reviews[0].findings {
                finding.subject.label = hostile.to_owned();
                finding.because = vec![hostile.to_owned()];
            }
        });
        let (mut headings, mut columns) = (0, BTreeSet::new());
        let mut cells = 0;
        for event in Parser::new_ext(&out, Options::ENABLE_TABLES | Options::ENABLE_STRIKETHROUGH) {
            match event {
                Event::Html(html) | Event::InlineHtml(html) => {
                    let ours = ["<br>", "<details><summary>the arithmetic</summary>", "</details>"];
                    assert!(ours.contains(&html.trim()), "{html}");
                }
                Event::Start(Tag::Heading { .. }) => headings += 1,
                Event::Start(Tag::Link { .. } | Tag::Image { .. } | Tag::Strikethrough | Tag::CodeBlock(_)) | Event::Code(_) => {
                    panic!("{event:?}")
                }
                Event::Start(Tag::TableHead | Tag::TableRow) => cells = 0,
                Event::Start(Tag::TableCell) => cells += 1,
                Event::End(pulldown_cmark::TagEnd::TableRow) => drop(columns.insert(cells)),
                _ => {}
            }
        }
        assert_eq!((headings, columns), (1, BTreeSet::from([9])), "{out}");
    }

    #[test]
    fn a_summary_fits_into_a_page_and_keeps_its_end() {
        let out = sample::with_changed(Format::Markdown, false, |reviews| {
            let finding = reviews.reviews[0].findings[0].clone();
            reviews.reviews[0].findings.splice(0..0, std::iter::repeat_n(finding, 5_000));
        });
        assert!(out.len() < 1_048_576 && out.len() > 900_000, "{}", out.len());
        assert!(out.contains("did not fit here.") && out.ends_with("it never approves.\n"));
    }
}
