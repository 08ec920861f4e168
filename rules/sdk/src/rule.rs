//! One requirement.

use crate::{Inquiry, Parameter};
use redtag_schema::contract::{Citation, Finding, Level, Stage, Standing};

/// A rule: its metadata and its check. The product text is the file's own doc comment.
pub struct Rule {
    /// `family/topic`, the file's name being the topic. Never a section number.
    pub id: &'static str,
    /// One line.
    pub title: &'static str,
    /// The stages at which it is asked.
    pub stages: &'static [Stage],
    /// Required, or advice.
    pub level: Level,
    /// In force unless a pack says otherwise.
    pub adopted: bool,
    /// Where it is printed: document, edition, section, how sure.
    pub citations: &'static [(&'static str, &'static str, &'static str, Standing)],
    /// What a pack may set.
    pub parameters: &'static [&'static dyn Parameter],
    /// The parts of the project it reads, as JSON pointers.
    pub reads: &'static [&'static str],
    /// The check: every subject gets a finding.
    pub check: fn(&Inquiry) -> Vec<Finding>,
}

impl Rule {
    /// A required rule in force at every stage; fill in the rest with struct update syntax.
    pub const fn new(id: &'static str, title: &'static str, check: fn(&Inquiry) -> Vec<Finding>) -> Self {
        Self {
            id,
            title,
            stages: &Stage::ALL,
            level: Level::Required,
            adopted: true,
            citations: &[],
            parameters: &[],
            reads: &[],
            check,
        }
    }

    /// The citations as documents of the contract.
    pub fn citations(&self) -> Vec<Citation> {
        let cite = |&(document, edition, section, standing): &(&str, &str, &str, Standing)| Citation {
            document: document.to_owned(),
            edition: Some(edition.to_owned()),
            section: section.to_owned(),
            standing,
        };
        self.citations.iter().map(cite).collect()
    }
}

/// A citation confirmed by a published source.
pub const fn cited(
    document: &'static str,
    edition: &'static str,
    section: &'static str,
) -> (&'static str, &'static str, &'static str, Standing) {
    (document, edition, section, Standing::Confirmed)
}

/// A citation from memory, to be verified against the adopted text.
pub const fn remembered(
    document: &'static str,
    edition: &'static str,
    section: &'static str,
) -> (&'static str, &'static str, &'static str, Standing) {
    (document, edition, section, Standing::FromMemory)
}
