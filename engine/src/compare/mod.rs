//! Two rulebooks over the same projects: what differs between the books, and which findings appear, vanish or change.

mod books;
mod findings;

use redtag_schema::comparison::{Book, Comparison, SCHEMA};
use redtag_schema::review::{NOTICE, Review};
use redtag_schema::rulebook::Rulebook;
use std::collections::BTreeSet;

/// A rulebook and, where there is a project, its review.
#[derive(Debug)]
pub struct Side {
    /// The rulebook.
    pub book: Rulebook,
    /// The review.
    pub review: Option<Review>,
}

/// Compares pairs of sides, one pair for each project, or a single pair without reviews.
pub fn compare(pairs: &[(Side, Side)]) -> Comparison {
    let mut differences = BTreeSet::new();
    let mut projects = Vec::new();
    for (from, to) in pairs {
        differences.extend(books::differences(&from.book, &to.book));
        projects.extend(findings::project(from, to));
    }
    Comparison {
        schema: SCHEMA,
        notice: NOTICE.to_owned(),
        from: distinct(pairs.iter().map(|(from, _)| &from.book)),
        to: distinct(pairs.iter().map(|(_, to)| &to.book)),
        differences: differences.into_iter().collect(),
        rules: findings::by_rule(&projects),
        projects,
    }
}

fn distinct<'a>(books: impl Iterator<Item = &'a Rulebook>) -> Vec<Book> {
    let mut out: Vec<Book> = Vec::new();
    for book in books.map(|book| Book { date: book.date.clone(), packs: book.packs.clone() }) {
        if !out.contains(&book) {
            out.push(book);
        }
    }
    out
}
