//! A summary in Markdown, for the page of a workflow's run: a table of counts, then what is to be done, worst first.

use super::count::plural;
use super::{Material, Totals as _, clean};
use redtag_schema::contract::Outcome;
use redtag_schema::review::{Failure, Review, ReviewedFinding};
use std::collections::BTreeSet;
use std::fmt::Write as _;

/// A step's summary may have one mebibyte; some is left for what others add to it.
const MOST_BYTES: usize = 1_000_000;

/// The summary.
pub fn render(material: &Material) -> String {
    let mut out = String::new();
    let closing = closing(material);
    heading(&mut out, material);
    let mut left_off = 0;
    for block in blocks(material) {
        if left_off == 0 && out.len() + block.len() + closing.len() < MOST_BYTES {
            out.push_str(&block);
        } else {
            left_off += 1;
        }
    }
    if left_off > 0 {
        let _ = write!(out, "**{} did not fit here.** The JSON report has everything.\n\n", plural(left_off, "entry", "entries"));
    }
    out.push_str(&closing);
    out
}

fn heading(out: &mut String, material: &Material) {
    let reviews = &material.reviews.reviews;
    let _ = write!(out, "## redtag: {}\n\n", escape(&material.reviews.words()));
    out.push_str("| project | stage | law of | corrections | unresolved | advice | comply | do not apply | modules failed |\n");
    out.push_str("| --- | --- | --- | ---: | ---: | ---: | ---: | ---: | ---: |\n");
    const MOST_ROWS: usize = 1_000;
    for review in reviews.iter().take(MOST_ROWS) {
        let counts: Vec<String> = Outcome::ALL.iter().map(|outcome| review.tally().of(*outcome).to_string()).collect();
        let name = review.project.as_deref().map(|name| format!("<br>{}", short(name))).unwrap_or_default();
        let (file, stage, counts) = (short(&material.path(review)), review.stage.word(), counts.join(" | "));
        let _ = writeln!(out, "| {file}{name} | {stage} | {} | {counts} | {} |", escape(&review.date), review.failed());
    }
    if reviews.len() > MOST_ROWS {
        let _ = write!(out, "\n{} projects more.\n", reviews.len() - MOST_ROWS);
    }
    out.push('\n');
}

/// Failed modules, then findings of each outcome over all projects, an entry each.
fn blocks<'a>(material: &'a Material<'a>) -> impl Iterator<Item = String> + 'a {
    let reviews = &material.reviews.reviews;
    let failed = reviews.iter().flat_map(|review| review.failures.iter().map(|failure| failed(material, review, failure)));
    let asking = [Outcome::Correction, Outcome::Unresolved, Outcome::Advice];
    let findings = asking.into_iter().flat_map(move |outcome| {
        let of = move |review: &'a Review| review.findings.iter().filter(move |finding| finding.outcome == outcome);
        reviews.iter().flat_map(move |review| of(review).map(move |finding| entry(material, review, finding)))
    });
    failed.chain(findings)
}

fn failed(material: &Material, review: &Review, failure: &Failure) -> String {
    let rules = if failure.rules.is_empty() { String::new() } else { format!(" Not answered: {}.", failure.rules.join(", ")) };
    let text = format!("{} ({}, {}){rules}", failure.message, failure.pack, failure.kind);
    format!("**module failed** {} ({})\n\n", escape(&text), escape(&material.path(review)))
}

fn entry(material: &Material, review: &Review, finding: &ReviewedFinding) -> String {
    let known = if finding.known { ", known before" } else { "" };
    let place = format!("{}:{}:{}", material.path(review), finding.place.line, finding.place.column);
    let sentence = escape(&material.sentence(finding));
    let word = finding.outcome.word();
    let mut out = format!("**{word}**{known} **{}** {sentence} ({})\n\n", escape(&finding.rule), escape(&place));
    for (word, text) in material.details(finding) {
        let _ = writeln!(out, "- {word}: {}", escape(&text));
    }
    let worksheet = material.worksheet(finding);
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

/// The cautions of all projects once, then what every report says.
fn closing(material: &Material) -> String {
    let reviews = material.reviews;
    let mut out = String::new();
    let mut said = BTreeSet::new();
    for caution in reviews.reviews.iter().flat_map(|review| &review.cautions) {
        if said.insert(caution) {
            let _ = write!(out, "> **caution** {}\n\n", escape(caution));
        }
    }
    let _ = writeln!(out, "{}", escape(&reviews.notice));
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
    use crate::report::sample;
    use pulldown_cmark::{Event, Options, Parser, Tag};

    #[test]
    fn the_summary_reads_like_this() {
        insta::assert_snapshot!(sample::with_material(false, render));
    }

    #[test]
    fn nothing_in_a_project_is_taken_for_markdown() {
        let hostile = "<script>x</script> [a](http://b) ![c](d) `e` **f** | g\n# h\n</details> &amp; ~~i~~";
        let out = sample::with_changed(false, render, |reviews| {
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
        let out = sample::with_changed(false, render, |reviews| {
            let finding = reviews.reviews[0].findings[0].clone();
            reviews.reviews[0].findings.splice(0..0, std::iter::repeat_n(finding, 5_000));
        });
        assert!(out.len() < 1_048_576 && out.len() > 900_000, "{}", out.len());
        assert!(out.contains("did not fit here.") && out.ends_with("it never approves.\n"));
    }
}
