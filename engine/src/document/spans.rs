//! Where each value and each key of a document stands in its text.

use std::ops::Range;
use std::sync::Arc;

/// A value's place, and those of what is inside it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Node {
    pub(super) range: Range<usize>,
    pub(super) inside: Inside,
}

/// What is inside a value.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) enum Inside {
    /// Nothing: a text, a number, true, false or null.
    Nothing,
    /// Keys as they read once escapes are undone, in the order of the text; a key may stand twice.
    Fields(Vec<Field>),
    /// Items of a list.
    Items(Vec<Node>),
}

/// A key and its value.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Field {
    pub(super) name: String,
    pub(super) key: Range<usize>,
    pub(super) value: Node,
}

/// From JSON pointers to byte ranges. Where a key stands twice, its last place counts, as its last value does.
/// Copies share the index.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct SpanIndex {
    root: Arc<Node>,
}

impl Default for SpanIndex {
    /// The index of an empty text.
    fn default() -> Self {
        Self::new(Node { range: 0..0, inside: Inside::Nothing })
    }
}

impl SpanIndex {
    /// The index of a document whose values stand like this.
    pub(super) fn new(root: Node) -> Self {
        Self { root: Arc::new(root) }
    }

    /// The bytes of the value a pointer leads to, quotation marks and braces included.
    pub fn value(&self, pointer: &str) -> Option<Range<usize>> {
        self.walk(pointer).map(|(_, node)| node.range.clone())
    }

    /// The bytes of the key that names the value a pointer leads to; `None` for the document and for items of lists.
    pub fn key(&self, pointer: &str) -> Option<Range<usize>> {
        self.walk(pointer)?.0.map(|field| field.key.clone())
    }

    /// What to underline for a value: all of it, but only the opening bracket of an object or a list.
    pub fn head(&self, pointer: &str) -> Option<Range<usize>> {
        self.walk(pointer).map(|(_, node)| head(node))
    }

    /// What to underline for a place that may not be there: the head of the value, or of the nearest one around it.
    pub fn nearest(&self, pointer: &str) -> Range<usize> {
        let mut node: &Node = &self.root;
        for token in tokens(pointer) {
            match step(node, &token) {
                Some((_, inner)) => node = inner,
                None => break,
            }
        }
        head(node)
    }

    fn walk(&self, pointer: &str) -> Option<(Option<&Field>, &Node)> {
        if !pointer.is_empty() && !pointer.starts_with('/') {
            return None;
        }
        let mut place: (Option<&Field>, &Node) = (None, &self.root);
        for token in tokens(pointer) {
            place = step(place.1, &token)?;
        }
        Some(place)
    }
}

fn head(node: &Node) -> Range<usize> {
    match node.inside {
        Inside::Nothing => node.range.clone(),
        Inside::Fields(_) | Inside::Items(_) => node.range.start..node.range.start + 1,
    }
}

fn step<'a>(node: &'a Node, token: &str) -> Option<(Option<&'a Field>, &'a Node)> {
    match &node.inside {
        Inside::Nothing => None,
        Inside::Fields(fields) => fields.iter().rev().find(|field| field.name == token).map(|field| (Some(field), &field.value)),
        Inside::Items(items) => token.parse::<usize>().ok().and_then(|at| items.get(at)).map(|item| (None, item)),
    }
}

/// The names and numbers of a JSON pointer (RFC 6901), escapes undone.
pub fn tokens(pointer: &str) -> impl Iterator<Item = String> {
    pointer.split('/').skip(1).map(|token| token.replace("~1", "/").replace("~0", "~"))
}

/// A JSON pointer one step deeper.
pub fn join(pointer: &str, name: &str) -> String {
    format!("{pointer}/{}", name.replace('~', "~0").replace('/', "~1"))
}

/// The bytes of a part of a string in the source, given the string literal's bytes and the part's bytes once escapes
/// are undone. A `\"` in the source is one byte of the string and two of the text.
pub fn inside_string(text: &str, literal: &Range<usize>, part: &Range<usize>) -> Range<usize> {
    let Some(source) = text.get(literal.clone()).and_then(|source| source.strip_prefix('"')) else {
        return literal.clone();
    };
    let source = source.strip_suffix('"').unwrap_or(source);
    let base = literal.start + 1;
    let (mut at, mut decoded) = (0, 0);
    let (mut start, mut end) = (source.len(), source.len());
    while at < source.len() {
        let (long, short) = one_character(&source[at..]);
        if decoded <= part.start {
            start = at;
        }
        if decoded >= part.end {
            end = at;
            break;
        }
        at += long;
        decoded += short;
    }
    if part.start >= decoded {
        start = end;
    }
    base + start..base + end.max(start)
}

/// How many bytes the first character takes in the source and how many once escapes are undone.
fn one_character(source: &str) -> (usize, usize) {
    let Some(escape) = source.strip_prefix('\\') else {
        let length = source.chars().next().map_or(1, char::len_utf8);
        return (length, length);
    };
    if !escape.starts_with('u') {
        return (2.min(source.len()), 1);
    }
    let unit = |digits: Option<&str>| digits.and_then(|digits| u32::from_str_radix(digits, 16).ok());
    match unit(escape.get(1..5)) {
        Some(0xD800..=0xDBFF) if escape.get(5..7) == Some("\\u") => (12.min(source.len()), 4),
        Some(code) => (6.min(source.len()), char::from_u32(code).map_or(3, char::len_utf8)),
        None => (source.len(), 1),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn part(source: &str, decoded: Range<usize>) -> &str {
        &source[inside_string(source, &(0..source.len()), &decoded)]
    }

    #[test]
    fn a_part_of_a_string_is_found_behind_escapes() {
        assert_eq!(part(r#""36 inn""#, 3..6), "inn");
        assert_eq!(part(r#""6'-8\" inn""#, 6..9), "inn");
        assert_eq!(part(r#""\u00bd inn""#, 3..6), "inn");
        assert_eq!(part(r#""\ud83d\udebf inn""#, 5..8), "inn");
        assert_eq!(part("\"\u{bd} inn\"", 3..6), "inn");
        assert_eq!(part(r#""\"""#, 0..1), r#"\""#);
    }

    #[test]
    fn parts_at_and_past_the_ends_stay_inside() {
        assert_eq!(part(r#""""#, 0..0), "");
        assert_eq!(part(r#""ab""#, 2..2), "");
        assert_eq!(part(r#""ab""#, 0..2), "ab");
        assert_eq!(part(r#""ab""#, 5..9), "");
    }

    #[test]
    fn pointers_undo_and_do_escapes() {
        assert_eq!(tokens("/a~1b/~0c/0").collect::<Vec<_>>(), ["a/b", "~c", "0"]);
        assert_eq!(tokens("").count(), 0);
        assert_eq!(join("/x", "a/b~c"), "/x/a~1b~0c");
    }
}
