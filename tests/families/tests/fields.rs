//! Facts without effect: a field of the schema that changes no finding of any rule, in any case or demo house, is there for people
//! and says so (`x-descriptive`), or is read, or is taken out.
#![expect(clippy::print_stdout, reason = "figures for whoever runs it by hand")]

use redtag_families_tests::{FAMILIES, folder, root};
use redtag_rule_testing::{Field, fields_with_effect, schema_fields};
use std::collections::BTreeSet;
use std::sync::Mutex;
use std::sync::atomic::{AtomicUsize, Ordering};

/// The fields known to be without effect; only shrinks. `REDTAG_BLESS=1` takes off what is mended.
const KNOWN: &str = "tests/families/without_effect.txt";

fn with_effect() -> BTreeSet<Field> {
    let (next, all) = (AtomicUsize::new(0), Mutex::new(BTreeSet::new()));
    let work = || {
        while let Some((module, name)) = FAMILIES.get(next.fetch_add(1, Ordering::Relaxed)) {
            let fields = fields_with_effect(module, &folder(name).to_string_lossy());
            all.lock().unwrap_or_else(std::sync::PoisonError::into_inner).extend(fields);
        }
    };
    let workers = std::thread::available_parallelism().map_or(1, usize::from);
    std::thread::scope(|scope| (0..workers).for_each(|_| drop(scope.spawn(work))));
    all.into_inner().unwrap_or_else(std::sync::PoisonError::into_inner)
}

#[test]
#[ignore = "takes minutes: cargo test -p redtag-families-tests --test fields -- --ignored"]
fn every_field_has_an_effect_or_is_there_for_people() {
    let (counting, descriptive) = schema_fields();
    let effect = with_effect();
    let without: BTreeSet<String> = counting.difference(&effect).map(|(record, field)| format!("{record}.{field}")).collect();
    let path = root().join(KNOWN);
    let text = std::fs::read_to_string(&path).unwrap_or_default();
    let known: BTreeSet<String> = text.lines().filter(|line| !line.is_empty()).map(str::to_owned).collect();
    println!(
        "{} fields count, {} are there for people; {} are without effect, {} known",
        counting.len(),
        descriptive.len(),
        without.len(),
        known.len()
    );
    let bless = std::env::var("REDTAG_BLESS").unwrap_or_default();
    if !bless.is_empty() {
        let kept = without.iter().filter(|field| bless == "known" || known.contains(*field));
        let text: String = kept.map(|field| format!("{field}\n")).collect();
        std::fs::write(&path, text).unwrap_or_else(|error| panic!("{}: {error}", path.display()));
        return;
    }
    let new: Vec<&String> = without.difference(&known).collect();
    assert!(new.is_empty(), "no rule's finding changes with {new:?}: read them, take them out, or mark them `as descriptive`");
    let mended: Vec<&String> = known.difference(&without).collect();
    assert!(mended.is_empty(), "{mended:?} have an effect now: take them off the list (REDTAG_BLESS=1 does)");
}
