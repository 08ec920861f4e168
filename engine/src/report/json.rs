//! JSON, as the schema `reviews` says.

use redtag_schema::review::Reviews;

/// The reviews as indented JSON with a line end. The same reviews give the same bytes.
pub fn render(reviews: &Reviews) -> String {
    // Writing plain data into memory cannot fail: no map in it has keys other than strings and words.
    let mut out = serde_json::to_string_pretty(reviews).unwrap_or_else(|error| format!("{{\"error\": \"{error}\"}}"));
    out.push('\n');
    out
}
