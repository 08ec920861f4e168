//! Where a requirement is printed, in words.

use super::description::{Citation, Standing};

/// `IRC 2021 G2407.5, G2407.6, from memory G2407.8; IFGC 2021 304.5`: the sections of each document together, those that
/// somebody has held against print first.
pub fn printed<'a>(citations: impl IntoIterator<Item = &'a Citation>) -> String {
    let mut documents: Vec<(String, Vec<&Citation>)> = Vec::new();
    for citation in citations {
        let edition = citation.edition.as_ref().map(|edition| format!(" {edition}")).unwrap_or_default();
        let name = format!("{}{edition}", citation.document);
        match documents.iter_mut().find(|(document, _)| *document == name) {
            Some((_, sections)) => sections.push(citation),
            None => documents.push((name, vec![citation])),
        }
    }
    let document = |(name, sections): &(String, Vec<&Citation>)| {
        let of = |standing| sections.iter().filter(move |one| one.standing == standing).map(|one| one.section.as_str());
        let sure: Vec<&str> = of(Standing::Confirmed).collect();
        let unsure: Vec<&str> = of(Standing::FromMemory).collect();
        match (sure.is_empty(), unsure.is_empty()) {
            (_, true) => format!("{name} {}", sure.join(", ")),
            (true, false) => format!("{name} {} (from memory)", unsure.join(", ")),
            (false, false) => format!("{name} {}, from memory {}", sure.join(", "), unsure.join(", ")),
        }
    };
    documents.iter().map(document).collect::<Vec<_>>().join("; ")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn sections_stand_together_by_document_and_standing() {
        let cite = |document: &str, section: &str, standing| Citation {
            document: document.into(),
            edition: Some("2021".into()),
            section: section.into(),
            standing,
        };
        let list = [
            cite("IRC", "G2407.8", Standing::FromMemory),
            cite("IFGC", "304.5", Standing::Confirmed),
            cite("IRC", "G2407.5", Standing::Confirmed),
            cite("NEC", "110.26", Standing::FromMemory),
        ];
        assert_eq!(printed(&list), "IRC 2021 G2407.5, from memory G2407.8; IFGC 2021 304.5; NEC 2021 110.26 (from memory)");
    }
}
