//! Whatever the order packs are given in, the rulebook is the same, and every value has one author.

use super::*;
use proptest::prelude::*;

/// A change to one of the rules of the tests, from a small set so that layers meet often.
fn change() -> impl Strategy<Value = Value> {
    let leg = (1..=12_u32)
        .prop_map(|inches| json!({ "rule": "gas/trap", "change": "set", "parameter": "leg", "value": format!("{inches} in") }));
    let share = (0..=4_u32).prop_map(
        |quarters| json!({ "rule": "gas/trap", "change": "set", "parameter": "share", "value": f64::from(quarters) / 4.0 }),
    );
    let rule = prop::sample::select(vec!["gas/trap", "gas/opening-size", "gas/below-grade", "drain/slope", "drain/conduit"]);
    let word = prop::sample::select(vec!["withdraw", "adopt", "relax", "require"]);
    let other = (rule.clone(), word).prop_map(|(rule, word)| json!({ "rule": rule, "change": word }));
    let cite = (rule, 1..9_u32, any::<bool>()).prop_map(|(rule, section, instead)| {
        json!({ "rule": rule, "change": "cite", "instead": instead, "citations": [{ "document": "Code", "section": section.to_string() }] })
    });
    prop_oneof![leg, share, other, cite]
}

/// One pack: what it stands on among the earlier ones, and its amendments.
fn packs() -> impl Strategy<Value = Vec<(prop::sample::Index, Vec<Value>)>> {
    prop::collection::vec((any::<prop::sample::Index>(), prop::collection::vec(change(), 0..5)), 1..6)
}

/// Layers over the base; amendments a pack makes twice to one thing are left out.
fn built(plan: &[(prop::sample::Index, Vec<Value>)]) -> Vec<Arc<Pack>> {
    let mut out = vec![base()];
    for (number, (below, amendments)) in plan.iter().enumerate() {
        let below = out[below.index(out.len())].name().to_owned();
        let mut kept: Vec<Value> = Vec::new();
        for amendment in amendments {
            let aspect = |one: &Value| {
                let change = one["change"].as_str().unwrap_or_default();
                let group = match change {
                    "withdraw" | "adopt" => "force",
                    "relax" | "require" => "level",
                    other => other,
                };
                (one["rule"].clone(), group.to_owned(), one["parameter"].clone())
            };
            if !kept.iter().any(|one| aspect(one) == aspect(amendment)) {
                kept.push(amendment.clone());
            }
        }
        out.push(on(&below, &format!("pack-{number}"), Value::Array(kept)));
    }
    out
}

/// Everything a rulebook says, or everything complained about.
fn outcome(packs: &[Arc<Pack>], wanted: &[&str]) -> Result<String, String> {
    match try_rulebook(packs, wanted) {
        Ok(book) => Ok(serde_json::to_string(&book).expect("JSON")),
        Err(complaints) => Err(lines(&complaints)),
    }
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 200, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn the_order_of_packs_makes_no_difference(plan in packs(), seed in any::<u64>()) {
        let mut packs = built(&plan);
        let names: Vec<String> = packs.iter().map(|pack| pack.name().to_owned()).collect();
        let mut wanted: Vec<&str> = names.iter().map(String::as_str).collect();
        let first = outcome(&packs, &wanted);
        let turn = usize::try_from(seed % 97).unwrap_or_default();
        packs.rotate_left(turn % names.len());
        wanted.rotate_right(turn % names.len());
        if seed % 2 == 0 {
            packs.reverse();
        }
        prop_assert_eq!(first, outcome(&packs, &wanted));
    }

    #[test]
    fn every_value_has_one_author_whose_pack_is_there(plan in packs()) {
        let packs = built(&plan);
        // One chain, so that layers do not fight.
        let top = packs.last().expect("a pack").name().to_owned();
        let book = resolved(&packs, &[&top]);
        let there = |name: &str| book.packs.iter().any(|pack| pack.name == name);
        for rule in &book.rules {
            let values = rule.parameters.iter().map(|entry| &entry.author);
            let values = values.chain([&rule.state.author, &rule.level.author]).chain(rule.citations.iter().map(|one| &one.author));
            for author in values {
                prop_assert!(there(&author.pack));
                // A value that is not the module's own rests on an ordinance.
                prop_assert_eq!(author.ordinance.is_some(), author.pointer.is_some());
            }
            // Of the amendments to one thing exactly one is in effect, and it is the author's.
            for entry in &rule.parameters {
                let in_effect: Vec<_> = rule.history.iter().filter(|say| {
                    say.effect == redtag_schema::rulebook::Effect::InEffect
                        && matches!(&say.change, redtag_schema::pack::Change::Set { parameter, .. } if *parameter == entry.name)
                }).collect();
                prop_assert!(in_effect.len() <= 1);
                prop_assert_eq!(in_effect.first().map(|say| &say.author), entry.author.ordinance.as_ref().map(|_| &entry.author));
            }
        }
    }
}
