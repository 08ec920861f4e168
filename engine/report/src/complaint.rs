//! Complaints about documents, as a person reads them: what is wrong and where, the line itself, what was expected, what to do.

use super::ink::Ink;
use super::page::{Lead, Page};
use super::{Style, clean};
use redtag_schema::review::{Complaint, Place, Refused, Severity, WrittenLine, count_complaints};

/// Where the details of a complaint begin, and their text.
const DETAIL: usize = 4;
const TEXT: usize = 14;

/// Every complaint, one after the other, then how many there are and where more is to be learnt.
pub fn render(complaints: &[Complaint], style: &Style) -> String {
    let mut page = Page::new(style);
    for complaint in complaints {
        one(&mut page, complaint);
        page.blank();
    }
    closing(&mut page, complaints);
    page.done()
}

/// One complaint, ending in a newline.
pub fn render_one(complaint: &Complaint, style: &Style) -> String {
    let mut page = Page::new(style);
    one(&mut page, complaint);
    page.done()
}

/// A complaint in one line: `file:line:column: error: message (/pointer)`.
pub fn one_line(complaint: &Complaint) -> String {
    let place = complaint.file.as_ref().zip(complaint.place).map(|(file, place)| format!("{}: ", at(file, place)));
    let pointer = complaint.pointer.as_deref().filter(|pointer| !pointer.is_empty());
    let pointer = pointer.map_or_else(String::new, |pointer| format!(" ({pointer})"));
    let line = format!("{}{}: {}{pointer}", place.unwrap_or_default(), complaint.severity.word(), complaint.message);
    clean(&line).into_owned()
}

/// A complaint in a sentence or two, for formats that show nothing else: what is wrong, what was expected, what to do.
pub(crate) fn sentence(complaint: &Complaint) -> String {
    let mut words = complaint.message.trim_end_matches('.').to_owned();
    let pointer = complaint.pointer.as_deref().filter(|pointer| !pointer.is_empty());
    let parts = [("at ", pointer), ("expected ", complaint.expected.as_deref()), ("to do: ", complaint.help.as_deref())];
    for (word, part) in parts {
        words.push_str(&part.map(|part| format!("; {word}{part}")).unwrap_or_default());
    }
    words
}

/// A file that could not be reviewed, with every complaint about it.
pub(crate) fn refused(page: &mut Page, refused: &Refused) {
    page.entry(0, Lead::new(&[(Ink::Strong, &refused.file)]), "  cannot be reviewed", 2);
    for complaint in &refused.complaints {
        page.blank();
        one(page, complaint);
    }
    page.blank();
    closing(page, &refused.complaints);
}

/// One complaint over several lines.
pub(crate) fn one(page: &mut Page, complaint: &Complaint) {
    let word = format!("{:<9}", complaint.severity.word());
    let lead = Lead::new(&[(ink(complaint.severity), &word)]);
    let pointer = complaint.pointer.as_deref().filter(|pointer| !pointer.is_empty());
    let place = complaint.file.as_ref().zip(complaint.place).map(|(file, place)| at(file, place));
    let place: Vec<String> = place.into_iter().chain(pointer.map(str::to_owned)).collect();
    let place = if place.is_empty() { String::new() } else { format!(" ({})", place.join(", ")) };
    page.entry(0, lead, &format!("{}{place}", complaint.message), 9);
    if let (Some(written), Some(place)) = (&complaint.written, complaint.place) {
        line(page, &format!("line {}", place.line), written, Ink::Bad, "");
    }
    for related in &complaint.related {
        let elsewhere = Some(&related.file) != complaint.file.as_ref();
        let name = if elsewhere { at(&related.file, related.place) } else { format!("line {}", related.place.line) };
        line(page, &name, &related.written, Ink::Hint, &related.label);
    }
    detail(page, "expected", complaint.expected.as_deref());
    detail(page, "do", complaint.help.as_deref());
    detail(page, "code", Some(&complaint.code));
}

fn closing(page: &mut Page, complaints: &[Complaint]) {
    if !complaints.is_empty() {
        let words = format!("{}; `redtag explain CODE` has a page about each kind", count_complaints(complaints));
        page.entry(0, Lead::default(), &words, 0);
    }
}

fn at(file: &str, place: Place) -> String {
    format!("{file}:{}:{}", place.line, place.column)
}

fn ink(severity: Severity) -> Ink {
    match severity {
        Severity::Error => Ink::Bad,
        Severity::Warning => Ink::Open,
        Severity::Note => Ink::Hint,
    }
}

/// A line as it is written, never wrapped: it is to be found again in the file; a longer one is cut around the place. The part
/// that is meant is painted; its column stands in the line above.
fn line(page: &mut Page, name: &str, written: &WrittenLine, ink: Ink, label: &str) {
    let name = format!("{name:<10}");
    let room = page.width().saturating_sub(DETAIL + name.chars().count());
    let letters: Vec<char> = written.text.chars().collect();
    let indent = letters.iter().take_while(|letter| letter.is_whitespace()).count().min(written.start);
    let from = if letters.len() - indent > room { indent.max(written.start.saturating_sub(room / 3)) } else { indent };
    let until = letters.len().min(from + room);
    let part = |from: usize, to: usize| letters[from.min(until)..to.clamp(from.min(until), until)].iter().collect::<String>();
    let (start, end) = (written.start.max(from), written.end.max(written.start));
    let (before, meant, after) = (part(from, start), part(start, end), part(end, until));
    let pieces = [(Ink::Strong, name.as_str()), (Ink::Plain, &before), (ink, &meant), (Ink::Plain, after.trim_end())];
    page.verbatim(DETAIL, &Lead::new(&pieces));
    if !label.is_empty() {
        page.entry(TEXT, Lead::default(), label, TEXT);
    }
}

fn detail(page: &mut Page, word: &str, text: Option<&str>) {
    if let Some(text) = text {
        page.entry(DETAIL, Lead::new(&[(Ink::Strong, &format!("{word:<10}"))]), text, TEXT);
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::sample;

    #[test]
    fn a_complaint_reads_like_this() {
        insta::assert_snapshot!(render(&sample::refused().complaints, &Style::default()));
    }

    #[test]
    fn colour_changes_no_word() {
        let style = |colour| Style { colour, ..Style::default() };
        let complaints = sample::refused().complaints;
        let coloured = render(&complaints, &style(true));
        assert!(coloured.contains('\u{1b}'));
        assert_eq!(anstream::adapter::strip_str(&coloured).to_string(), render(&complaints, &style(false)));
    }

    #[test]
    fn nothing_in_a_file_reaches_the_terminal_but_text() {
        let mut complaint = sample::refused().complaints.remove(0);
        complaint.file = Some("a\u{1b}[31m\nb.json".to_owned());
        complaint.pointer = Some("/a\n::error::/\u{202e}".to_owned());
        let shown = render_one(&complaint, &Style::default());
        assert!(!shown.contains(['\u{1b}', '\u{202e}']) && !shown.contains("\n::"), "{shown}");
        assert_eq!(one_line(&complaint).lines().count(), 1);
    }
}
