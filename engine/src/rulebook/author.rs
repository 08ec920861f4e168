//! Who says so: every value of a rulebook has one author.

use crate::pack::Pack;
use redtag_schema::pack::Amendment;
use redtag_schema::rulebook::Author;

/// The pack that ships a rule, speaking through the rule's own module.
pub(super) fn shipping(pack: &Pack) -> Author {
    let manifest = pack.manifest();
    Author {
        pack: manifest.name.clone(),
        version: manifest.version.to_string(),
        authority: manifest.authority.name.clone(),
        ordinance: None,
        since: manifest.in_force.from.clone(),
        until: manifest.in_force.until.clone(),
        standing: None,
        source: None,
        reason: None,
        pointer: None,
    }
}

/// The pack that ships a rule, with the source its module gives for one value.
pub(super) fn with_source(author: &Author, source: &str) -> Author {
    let source = Some(source.trim()).filter(|words| !words.is_empty()).map(str::to_owned);
    Author { source, ..author.clone() }
}

/// A pack speaking through one of its amendments.
pub(super) fn amending(pack: &Pack, index: usize, amendment: &Amendment) -> Author {
    let period = amendment.in_force.as_ref().unwrap_or(&pack.manifest().in_force);
    Author {
        ordinance: Some(amendment.ordinance.clone()),
        since: period.from.clone(),
        until: period.until.clone(),
        standing: amendment.standing,
        reason: amendment.reason.clone(),
        pointer: Some(format!("/amendments/{index}")),
        ..shipping(pack)
    }
}
