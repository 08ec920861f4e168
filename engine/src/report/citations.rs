//! Where a requirement is printed, in words.

use redtag_schema::contract::{Citation, Standing};

/// `IRC 2021 G2407.5.1`, or with `(from memory)` where nobody has held it against print.
pub fn cited(citation: &Citation) -> String {
    let edition = citation.edition.as_ref().map(|edition| format!(" {edition}")).unwrap_or_default();
    let standing = if citation.standing == Standing::FromMemory { " (from memory)" } else { "" };
    format!("{}{edition} {}{standing}", citation.document, citation.section)
}

/// Several, parted by semicolons.
pub fn all(citations: &[Citation]) -> String {
    citations.iter().map(cited).collect::<Vec<_>>().join("; ")
}
