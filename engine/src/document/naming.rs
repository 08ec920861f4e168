//! What things are called in a sentence.

use super::spans::tokens;
use crate::diagnostic::quoted;
use serde_json::Value;

/// What the value at a pointer of a document is called: `` `width` ``, an item by its id if it has one, else by its
/// number: `` item 2 of `outline` ``. Items are counted from 1, as people do.
pub(super) fn called(pointer: &str, document: &Value) -> String {
    let tokens: Vec<_> = tokens(pointer).collect();
    match tokens.as_slice() {
        [] => "the document".to_owned(),
        [.., last] => match (last.parse::<usize>(), pointer.rsplit_once('/')) {
            (Ok(at), Some((list, _))) => match document.pointer(pointer).and_then(|item| item.get("id")?.as_str()) {
                Some(id) => quoted(id),
                None => format!("item {} of {}", at + 1, called(list, document)),
            },
            _ => quoted(last),
        },
    }
}

/// A value in a few words: `the number 36`, `` the text `inn` ``, `a list`.
pub(super) fn found(value: &Value) -> String {
    match value {
        Value::Null => "`null`".to_owned(),
        Value::Bool(flag) => format!("`{flag}`"),
        Value::Number(number) => format!("the number {number}"),
        Value::String(words) => format!("the text {}", quoted(words)),
        Value::Array(_) => "a list".to_owned(),
        Value::Object(_) => "an object".to_owned(),
    }
}

/// An allowed value in a few words.
pub(super) fn option_words(option: &Value) -> String {
    option.as_str().map_or_else(|| format!("`{option}`"), quoted)
}

/// Alternatives in a sentence: `a, b or c`. A long row is cut, and says so.
pub(super) fn listed(words: impl IntoIterator<Item = String>) -> String {
    const MOST: usize = 16;
    let words: Vec<_> = words.into_iter().collect();
    match words.as_slice() {
        [] => "nothing".to_owned(),
        [only] => only.clone(),
        shown if shown.len() > MOST => {
            format!("{} or one of {} others", shown[..MOST].join(", "), shown.len() - MOST)
        }
        [first @ .., last] => format!("{} or {last}", first.join(", ")),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn values_are_called_by_their_field_or_their_number() {
        let document = serde_json::json!({ "spaces": [{ "id": "attic", "floor_height": 1 }, {}], "a": [] });
        let called = |pointer| called(pointer, &document);
        assert_eq!(called(""), "the document");
        assert_eq!(called("/spaces/0/floor_height"), "`floor_height`");
        assert_eq!(called("/spaces/0"), "`attic`");
        assert_eq!(called("/spaces/1"), "item 2 of `spaces`");
        assert_eq!(called("/a/1/2"), "item 3 of item 2 of `a`");
    }

    #[test]
    fn long_rows_are_cut() {
        let row = |count: usize| listed((0..count).map(|at| at.to_string()));
        assert_eq!(row(0), "nothing");
        assert_eq!(row(1), "0");
        assert_eq!(row(3), "0, 1 or 2");
        assert!(row(20).ends_with("14, 15 or one of 4 others"));
    }
}
