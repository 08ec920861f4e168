//! The tests every rule module gets from `redtag_rule::module!`, run natively and without WebAssembly: every case beside a rule
//! finds what it expects.
//!
#![expect(clippy::print_stdout, reason = "a test says what it tried")]
//! A development dependency of rule modules; nothing of it is in a module that ships.

mod ask;
mod cases;
mod cures;
mod differ;
mod effect;
mod guard;
mod listed;
mod part;
mod projects;
mod shape;

pub use ask::{Family, ask};
pub use cases::{Case, Expected};
pub use effect::{Field, schema_fields};
pub use guard::reads;

/// Every case of the module finds what it expects. `folder` is the module's own, where its `src/rules` stands.
///
/// # Panics
/// When a case file does not read or a case finds something else; the message says which, where, and what was found.
pub fn assert_cases(module: &'static redtag_rule::Module, folder: &str) {
    let family = Family::new(module, folder);
    let cases = family.cases().unwrap_or_else(|complaint| panic!("{complaint}"));
    assert!(!cases.is_empty(), "{} has no case", module.name);
    let wrong: Vec<String> = cases.iter().filter_map(|case| family.wrong(case)).collect();
    assert!(wrong.is_empty(), "{} of {} cases find something else:\n\n{}\n", wrong.len(), cases.len(), wrong.join("\n\n"));
}

/// Nothing the family's projects leave unsaid passes where something that could stand there would be a correction; what still
/// does stands in `unsaid.json` of the module's folder. They are the projects of its cases, and the
/// demo houses of the repository the module stands in, where it has any.
///
/// `REDTAG_GUARD=full` leaves out every fact of the houses and asks every rule about every case; without it two
/// facts of each pattern are left out over all houses, and a case's project is asked about its own rule; of a family of which
/// nothing is known to pass, six facts of each pattern over all cases of a rule. `REDTAG_GUARD_REPORT=FILE` adds the figures and everything found to
/// a file. `REDTAG_BLESS=1` takes what is mended off the list; `REDTAG_BLESS=known` writes down everything found, once, for a new family.
///
/// # Panics
/// When something passes that is not in the list, or something in the list no longer does.
pub fn assert_nothing_passes_unsaid(module: &'static redtag_rule::Module, folder: &str) {
    let family = Family::new(module, folder);
    let listed = listed::Listed::read(folder.as_ref()).unwrap_or_else(|complaint| panic!("{complaint}"));
    let mut asked = projects::asked(&family).unwrap_or_else(|complaint| panic!("{complaint}"));
    if listed.known().next().is_none() && !projects::in_full() {
        projects::sample(&mut asked);
    }
    let seen = guard::guard_all(&family, &asked);
    report(module.name, &seen);
    let bless = std::env::var("REDTAG_BLESS").unwrap_or_default();
    if !bless.is_empty() {
        let still = seen.found.values().filter(|silence| !listed.allows(silence.rule, &silence.pattern));
        let still = still.filter(|silence| bless == "known" || listed.knows(silence.rule, &silence.pattern));
        let known: Vec<(&str, &str)> = still.map(|silence| (silence.rule, silence.pattern.as_str())).collect();
        listed.write(folder.as_ref(), &known).unwrap_or_else(|complaint| panic!("{complaint}"));
        return;
    }
    match guard::verdict(&seen, &listed) {
        Ok(figures) => println!("{}: {figures}", module.name),
        Err(complaint) => panic!("{}: {complaint}", module.name),
    }
}

fn report(name: &str, seen: &guard::Seen) {
    use std::io::Write as _;
    let Some(path) = std::env::var_os("REDTAG_GUARD_REPORT") else { return };
    let found: Vec<String> = seen.found.values().map(ToString::to_string).collect();
    let text = format!("{name}\t{}\t{}\t{}\t{}\n{}\n", seen.pairs, seen.passes, seen.tried, seen.found.len(), found.join("\n"));
    let written =
        std::fs::OpenOptions::new().create(true).append(true).open(&path).and_then(|mut file| file.write_all(text.as_bytes()));
    written.unwrap_or_else(|error| panic!("{}: {error}", std::path::Path::new(&path).display()));
}

/// Every remedy of the family that carries a patch, in every case and demo house, cures: the patched project still reads, that
/// correction is gone, and the family has no new one. Whether another family has one, and whether anything now overlaps or leaves
/// its room, is tried through the program in `tests/`.
///
/// # Panics
/// When one does not; the message says which and why.
pub fn assert_cures_cure(module: &'static redtag_rule::Module, folder: &str) {
    let family = Family::new(module, folder);
    let asked = projects::asked(&family).unwrap_or_else(|complaint| panic!("{complaint}"));
    let tried = cures::try_all(&family, &asked);
    println!("{}: {} remedies tried, {} do not cure", module.name, tried.count, tried.failed.len());
    assert!(
        tried.failed.is_empty(),
        "{} of {} remedies do not cure:\n\n{}\n",
        tried.failed.len(),
        tried.count,
        tried.failed.join("\n")
    );
}

/// The fields of the schema that change what the family finds, in some case or demo house: where one is left out or says something
/// else. What no family's list holds is a fact without effect.
///
/// # Panics
/// When a case file or a house does not read.
pub fn fields_with_effect(module: &'static redtag_rule::Module, folder: &str) -> std::collections::BTreeSet<Field> {
    let family = Family::new(module, folder);
    let asked = projects::asked(&family).unwrap_or_else(|complaint| panic!("{complaint}"));
    effect::fields_with_effect(&family, &asked)
}
