//! The order in which modules are asked makes no difference to a byte.

mod program_support;

use program_support::{Bench, Outcome, answering, finding};
use proptest::prelude::*;
use proptest::test_runner::TestRunner;
use redtag::document::{Limits, project_format, read_project};
use redtag::modules::Library;
use redtag::pack::Pack;
use redtag::review::{Assignment, ProjectSchema, modules_concerned, review, review_in_order};
use redtag::rulebook::{Wanted, layers, resolve};
use redtag::sandbox::{Sandbox, SandboxOptions};
use redtag::session::together;
use redtag_schema::contract::Stage;
use redtag_schema::review::DateSource;
use std::sync::Arc;

#[test]
fn modules_may_be_asked_in_any_order() -> Outcome {
    let bench = Bench::new()?;
    bench.project("house.json", "")?;
    let names = ["ada", "ben", "cleo", "dan"];
    let mut modules = Vec::new();
    for name in names {
        let findings = [
            finding(name, 1, "complies", "is well"),
            finding(name, 0, "correction", "is not"),
            finding(name, 1, "advice", "might"),
        ];
        modules.push((name, answering(name, &findings)?.1));
    }
    modules.push(("panics", redtag_tests::hostile("panics")?));
    bench.pack("county", &modules)?;
    let document = read_project(&bench.path().join("house.json"), &Limits::default()).map_err(|errors| errors[0].one_line())?;
    let pack = Arc::new(Pack::open(&bench.path().join("county")).map_err(|errors| errors[0].one_line())?);
    let layers = layers(&[pack], &[Wanted::any("county")], "2025-03-14").map_err(|errors| errors[0].one_line())?;
    let library = Library::new(Sandbox::new(SandboxOptions::default()));
    let rulebook = resolve(&layers, &library.descriptions(layers.packs())).map_err(|errors| errors[0].one_line())?;
    let assignment = Assignment {
        document: &document,
        rulebook: &rulebook,
        stage: Stage::Permit,
        date_from: DateSource::ApplicationDate,
        variance_signers: &[],
        budget: redtag::review::Budget::default(),
    };
    let schema = ProjectSchema::new(project_format().map_err(|error| error.one_line())?.checker.schema());
    let usual = serde_json::to_string(&together([Ok(review(&library, &schema, &assignment))]))?;
    assert!(usual.contains("panics") && usual.contains("hostile/cleo"));
    let orders = Just(modules_concerned(&assignment)).prop_shuffle();
    let mut runner = TestRunner::new(ProptestConfig { cases: 30, failure_persistence: None, ..ProptestConfig::default() });
    runner.run(&orders, |order| {
        let shuffled = together([Ok(review_in_order(&library, &schema, &assignment, &order))]);
        prop_assert_eq!(serde_json::to_string(&shuffled).unwrap(), usual.as_str());
        Ok(())
    })?;
    Ok(())
}
