//! Complaints for the terminal: the line itself, underlined, and a hint; or one line each.

use super::{Diagnostic, Related, Severity, SourceFile, Span};
use annotate_snippets::{Annotation, AnnotationKind, Element, Group, Level, Origin, Renderer, Snippet, normalize_untrusted_str};
use std::ops::Range;

/// Whether the terminal shows colours. The words `error`, `warning` and `note` are there either way.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Paint {
    /// No escape codes at all.
    #[default]
    Plain,
    /// Colours by escape codes.
    Colour,
}

/// The longest stretch of text shown in one piece. A longer one, as in a file written on a single line, is shown around
/// each place only, so that a thousand complaints about a large file do not take minutes.
const LONGEST_EXCERPT: usize = 16 * 1024;

/// How much is shown on either side of a place in a line too long to show.
const AROUND: usize = 60;

impl Diagnostic {
    /// The whole complaint over several lines, ending in a newline.
    pub fn render(&self, paint: Paint) -> String {
        let renderer = match paint {
            Paint::Plain => Renderer::plain(),
            Paint::Colour => Renderer::styled(),
        };
        let title = level(self.severity).primary_title(self.message.as_str()).id(self.code.as_ref());
        let group = Group::with_title(title).elements(self.excerpts()).elements(self.footers());
        let mut out = String::new();
        for line in renderer.render(&[group]).lines().filter(|line| !is_nameless_place(line)) {
            out.push_str(line.trim_end());
            out.push('\n');
        }
        out
    }

    /// The complaint in one line: `file:line:column: error: message (/pointer)`.
    pub fn one_line(&self) -> String {
        let place = self.primary.as_ref().map_or_else(String::new, |span| {
            let start = span.start();
            format!("{}:{}:{}: ", span.file.name(), start.line, start.column)
        });
        let pointer = self.pointer.as_deref().filter(|pointer| !pointer.is_empty());
        let pointer = pointer.map_or_else(String::new, |pointer| format!(" ({pointer})"));
        let line = format!("{place}{}: {}{pointer}", self.severity.word(), self.message);
        normalize_untrusted_str(&line).replace('\n', " ")
    }

    fn excerpts(&self) -> Vec<Element<'_>> {
        let Some(primary) = &self.primary else { return Vec::new() };
        let (here, elsewhere): (Vec<_>, Vec<_>) = self.secondary.iter().partition(|related| related.span.file == primary.file);
        let mut out = excerpt_of(primary, &here);
        for related in elsewhere {
            out.extend(excerpt_around(&related.span, AnnotationKind::Context, &related.label));
        }
        out
    }

    fn footers(&self) -> Vec<Element<'_>> {
        let pointer = self.pointer.as_deref().filter(|pointer| !pointer.is_empty());
        [("at", pointer), ("expected", self.expected.as_deref()), ("help", self.help.as_deref())]
            .into_iter()
            .filter_map(|(name, words)| Some((name, words?)))
            .map(|(name, words)| {
                let level = if name == "help" { Level::HELP } else { Level::NOTE.with_name(name) };
                level.message(normalize_untrusted_str(words)).into()
            })
            .collect()
    }
}

/// Every complaint, one after the other with an empty line between, then how many there are.
pub fn render_all(diagnostics: &[Diagnostic], paint: Paint) -> String {
    let mut out = String::new();
    for diagnostic in diagnostics {
        out.push_str(&diagnostic.render(paint));
        out.push('\n');
    }
    let counts: Vec<_> = [Severity::Error, Severity::Warning, Severity::Note]
        .into_iter()
        .map(|severity| (severity, diagnostics.iter().filter(|one| one.severity == severity).count()))
        .filter(|(_, count)| *count > 0)
        .map(|(severity, count)| format!("{count} {}{}", severity.word(), if count == 1 { "" } else { "s" }))
        .collect();
    if !counts.is_empty() {
        out.push_str(&counts.join(", "));
        out.push('\n');
    }
    out
}

/// The renderer announces an excerpt without a file name by a bare `:::`. Ours have their place in the line above.
fn is_nameless_place(line: &str) -> bool {
    let mut visible = line.split('\u{1b}');
    let first = visible.next().unwrap_or_default();
    let rest: String = visible.filter_map(|piece| piece.split_once('m')).map(|(_, rest)| rest).collect();
    (first.to_owned() + &rest).trim() == ":::"
}

fn level(severity: Severity) -> Level<'static> {
    match severity {
        Severity::Error => Level::ERROR,
        Severity::Warning => Level::WARNING,
        Severity::Note => Level::NOTE,
    }
}

/// One excerpt with every place of a file when they lie close enough, else one excerpt for each place.
fn excerpt_of<'a>(primary: &'a Span, related: &[&'a Related]) -> Vec<Element<'a>> {
    let file = &primary.file;
    let ranges = std::iter::once(&primary.range).chain(related.iter().map(|other| &other.span.range));
    let (first, last) = ranges.fold((usize::MAX, 0), |(first, last), range| {
        (first.min(file.line_of(range.start)), last.max(file.line_of(range.start)))
    });
    let window = file.line_range(first).start..file.line_range(last).end;
    if window.len() > LONGEST_EXCERPT {
        let mut out = excerpt_around(primary, AnnotationKind::Primary, "");
        for other in related {
            out.extend(excerpt_around(&other.span, AnnotationKind::Context, &other.label));
        }
        return out;
    }
    let mut snippet = Snippet::source(&file.text()[window.clone()]).path(file.name()).line_start(first);
    snippet = snippet.annotation(annotation(file, &primary.range, &window, AnnotationKind::Primary, ""));
    for other in related {
        let kind = AnnotationKind::Context;
        snippet = snippet.annotation(annotation(file, &other.span.range, &window, kind, &other.label));
    }
    vec![snippet.into()]
}

/// One place in its line, or in the part of its line that can be shown.
fn excerpt_around<'a>(span: &'a Span, kind: AnnotationKind, label: &'a str) -> Vec<Element<'a>> {
    let file = &span.file;
    let line = file.line_range(file.line_of(span.range.start));
    let start = file.text().floor_char_boundary(span.range.start.saturating_sub(AROUND)).max(line.start);
    let end = file.text().ceil_char_boundary((span.range.start + AROUND).min(line.end)).max(start);
    let window = if line.len() > 2 * AROUND { start..end } else { line };
    let place = span.start();
    let origin = Origin::path(file.name()).line(place.line).char_column(place.column);
    let snippet = Snippet::source(&file.text()[window.clone()]).line_start(place.line).annotation(annotation(
        file,
        &span.range,
        &window,
        kind,
        label,
    ));
    vec![origin.into(), snippet.into()]
}

/// An underline that stays in the first line of its range: an object is named by its opening brace, not by ten lines of
/// underline.
fn annotation<'a>(
    file: &SourceFile,
    range: &Range<usize>,
    window: &Range<usize>,
    kind: AnnotationKind,
    label: &'a str,
) -> Annotation<'a> {
    let line_end = file.line_range(file.line_of(range.start)).end;
    let end = range.end.min(line_end).min(window.end).max(range.start.min(window.end));
    let start = range.start.min(window.end);
    let annotation = kind.span(start - window.start..end - window.start);
    if label.is_empty() { annotation } else { annotation.label(label) }
}
