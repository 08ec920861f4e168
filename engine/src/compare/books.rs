//! What two rulebooks say otherwise about their rules.

use redtag_schema::comparison::{Difference, Said};
use redtag_schema::rulebook::{Author, FigureEntry, RuleEntry, Rulebook};
use std::collections::BTreeSet;

/// Everything the two books say otherwise.
pub(super) fn differences(from: &Rulebook, to: &Rulebook) -> Vec<Difference> {
    let ids = from.rules.iter().chain(&to.rules).map(|rule| rule.description.id.as_str());
    let rules = ids.collect::<BTreeSet<_>>().into_iter().flat_map(|id| rule(id, from.rule(id), to.rule(id)));
    let figures = figures(from, to);
    let told = |one: &Difference| figures.iter().any(|figure| by_figure(figure, one, to));
    let mut all: Vec<Difference> = rules.filter(|one| !told(one)).collect();
    all.extend(figures);
    all
}

const FIGURE: &str = "figure";

/// The figures both books have and give other values, told once and not for every rule that reads them.
fn figures(from: &Rulebook, to: &Rulebook) -> Vec<Difference> {
    let pairs = to.figures.iter().filter_map(|new| Some((from.figure(&new.description.id)?, new)));
    let differing = pairs.filter(|(old, new)| old.written != new.written);
    let difference = |(old, new): (&FigureEntry, &FigureEntry)| Difference {
        rule: new.description.id.clone(),
        what: FIGURE.to_owned(),
        from: Some(said(old.written.clone(), &old.author)),
        to: Some(said(new.written.clone(), &new.author)),
    };
    differing.map(difference).collect()
}

/// Whether a difference in a parameter is that of the figure it reads.
fn by_figure(figure: &Difference, one: &Difference, book: &Rulebook) -> bool {
    let parameter = book.rule(&one.rule).and_then(|rule| rule.parameters.iter().find(|entry| entry.name == one.what));
    parameter.is_some_and(|entry| entry.figure.as_ref() == Some(&figure.rule))
        && (value_of(&figure.from), value_of(&figure.to)) == (value_of(&one.from), value_of(&one.to))
}

fn value_of(said: &Option<Said>) -> Option<&str> {
    said.as_ref().map(|said| said.value.as_str())
}

fn rule(id: &str, from: Option<&RuleEntry>, to: Option<&RuleEntry>) -> Vec<Difference> {
    let (sayings_from, sayings_to) = (sayings(from), sayings(to));
    let names = sayings_to.iter().chain(&sayings_from).map(|(what, _)| what.clone());
    let mut told = BTreeSet::new();
    let names = names.filter(|what| told.insert(what.clone()));
    let of = |sayings: &[(String, Said)], what: &str| sayings.iter().find(|(name, _)| name == what).map(|(_, said)| said.clone());
    let pair =
        |what: String| Difference { rule: id.to_owned(), from: of(&sayings_from, &what), to: of(&sayings_to, &what), what };
    let differs = |one: &Difference| one.from.as_ref().map(|said| &said.value) != one.to.as_ref().map(|said| &said.value);
    // A rule that only one book has is told once, not parameter by parameter.
    let whole = |one: &Difference| (from.is_some() && to.is_some()) || one.what == IN_FORCE;
    names.map(pair).filter(differs).filter(whole).collect()
}

const IN_FORCE: &str = "in force";

/// Everything a book says about a rule, each thing with its author.
fn sayings(rule: Option<&RuleEntry>) -> Vec<(String, Said)> {
    let Some(rule) = rule else { return Vec::new() };
    let mut out = vec![
        (IN_FORCE.to_owned(), said(rule.standing(), &rule.state.author)),
        ("level".to_owned(), said(rule.level_word().to_owned(), &rule.level.author)),
    ];
    out.extend(rule.parameters.iter().map(|one| (one.name.clone(), said(one.written.clone(), &one.author))));
    if let Some(first) = rule.citations.first() {
        // Where packs add to a list, the last of them is the one to ask.
        let author = rule.citations.last().map_or(&first.author, |last| &last.author);
        out.push(("citations".to_owned(), said(rule.printed(), author)));
    }
    let barred = rule.no_variance.as_ref().map_or((&rule.shipped_by, "may be granted"), |author| (author, "none is granted"));
    out.push(("variances".to_owned(), said(barred.1.to_owned(), barred.0)));
    out
}

fn said(value: String, author: &Author) -> Said {
    Said { value, by: author.to_string(), pack: author.pack.clone(), ordinance: author.ordinance.clone() }
}
