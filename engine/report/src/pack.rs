//! What a pack holds and changes, for the terminal.

use super::Style;
use super::ink::Ink;
use super::page::{Lead, Page};
use redtag_schema::contract::value_words;
use redtag_schema::pack::{Amendment, Change, Manifest};

/// The manifest as lines, with the pack's digest and the size of each of its files.
pub fn render(manifest: &Manifest, digest: &str, size: &dyn Fn(&str) -> usize, style: &Style) -> String {
    let mut page = Page::new(style);
    let name = format!("{} {}", manifest.name, manifest.version);
    page.entry(0, Lead::new(&[(Ink::Strong, &name)]), &format!("  {}", manifest.title), 2);
    fact(&mut page, "authority", &manifest.authority.name);
    let below = manifest.stands_on.as_ref().map(|base| format!("{} {}", base.name, base.version));
    fact(&mut page, "stands on", below.as_deref().unwrap_or("nothing: it is a model code pack"));
    fact(&mut page, "law", &manifest.in_force.words());
    fact(&mut page, "contract", &manifest.contract);
    fact(&mut page, "digest", digest);
    for module in &manifest.modules {
        let size = module.file.as_deref().map_or(0, size);
        fact(
            &mut page,
            "module",
            &format!("{}, {size} bytes, SHA-256 {}", module.name, module.sha256.as_deref().unwrap_or("none")),
        );
    }
    for amendment in &manifest.amendments {
        fact(&mut page, "amends", &amended(amendment));
    }
    if !manifest.no_variance.is_empty() {
        fact(&mut page, "no variance from", &manifest.no_variance.join(", "));
    }
    page.done()
}

fn fact(page: &mut Page, word: &str, text: &str) {
    page.entry(2, Lead::new(&[(Ink::Strong, &format!("{word:<10}  "))]), text, 14);
}

fn amended(amendment: &Amendment) -> String {
    let section = amendment.ordinance.section.as_ref().map(|section| format!(" section {section}")).unwrap_or_default();
    let law = format!("{}{section}", amendment.ordinance.document);
    let change = match &amendment.change {
        Change::Set { parameter, value, .. } => format!("{parameter} is {}", value_words(value)),
        Change::SetFigure { value, .. } => format!("is {} in every rule that reads it", value_words(value)),
        Change::Withdraw { .. } => "is withdrawn".to_owned(),
        Change::Adopt { .. } => "is adopted".to_owned(),
        Change::Replace { with, .. } => format!("is replaced by {with}"),
        Change::Relax { .. } => "is relaxed to advice".to_owned(),
        Change::Require { .. } => "is required".to_owned(),
        Change::Cite { citations, .. } => format!("cites {}", redtag_schema::contract::printed(citations)),
    };
    format!("{}: {change}  [{law}]", amendment.change.subject())
}
