//! All rule families, linked natively: what none of them can show alone.

use redtag_rule::Module;
use redtag_rule::schema::contract::{Finding, Stage};
use redtag_rule_testing::{Family, ask};
use serde_json::Value;
use std::collections::{BTreeMap, BTreeSet};
use std::path::{Path, PathBuf};

/// Every family with the name of its folder; a test holds it against `rules/`.
pub const FAMILIES: &[(&Module, &str)] = &[
    (&redtag_access::MODULE, "access"),
    (&redtag_appliance_safety::MODULE, "appliance-safety"),
    (&redtag_clearances::MODULE, "clearances"),
    (&redtag_combustion_air::MODULE, "combustion-air"),
    (&redtag_drainage::MODULE, "drainage"),
    (&redtag_ducts::MODULE, "ducts"),
    (&redtag_energy_storage::MODULE, "energy-storage"),
    (&redtag_fire_separation::MODULE, "fire-separation"),
    (&redtag_fuel_gas::MODULE, "fuel-gas"),
    (&redtag_fuel_match::MODULE, "fuel-match"),
    (&redtag_gas_installation::MODULE, "gas-installation"),
    (&redtag_panels::MODULE, "panels"),
    (&redtag_raceways::MODULE, "raceways"),
    (&redtag_records::MODULE, "records"),
    (&redtag_standby_power::MODULE, "standby-power"),
    (&redtag_venting::MODULE, "venting"),
    (&redtag_water_heating::MODULE, "water-heating"),
    (&redtag_water_supply::MODULE, "water-supply"),
];

/// The repository.
pub fn root() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("../..")
}

/// The folder of a family.
pub fn folder(name: &str) -> PathBuf {
    root().join("rules").join(name)
}

/// The demo houses by file name.
///
/// # Panics
/// When one does not read.
pub fn houses() -> Vec<(String, Value)> {
    let folder = std::fs::read_dir(root().join("examples/houses")).expect("the demo houses");
    let mut files: Vec<PathBuf> = folder.map(|entry| entry.expect("an entry").path()).collect();
    files.retain(|path| path.extension().is_some_and(|ending| ending == "json"));
    files.sort();
    let read = |path: &PathBuf| {
        let text = std::fs::read_to_string(path).expect("a house");
        let project = serde_json::from_str(&text).unwrap_or_else(|error| panic!("{}: {error}", path.display()));
        (path.file_name().unwrap_or_default().to_string_lossy().into_owned(), project)
    };
    files.iter().map(read).collect()
}

/// Every project of the families' cases that sets no parameter, once, named after where it stands.
///
/// # Panics
/// When a case file does not read.
pub fn case_projects() -> Vec<(String, Value)> {
    let mut projects: BTreeMap<String, (String, Value)> = BTreeMap::new();
    for (module, name) in FAMILIES {
        let cases = Family::new(module, folder(name)).cases().unwrap_or_else(|complaint| panic!("{complaint}"));
        for case in cases.into_iter().filter(|case| case.parameters.is_empty() && case.stage == Stage::Final) {
            let place = format!("rules/{name}/{}:{}", case.file, case.line);
            projects.entry(case.project.to_string()).or_insert((place, case.project));
        }
    }
    projects.into_values().collect()
}

/// What all families find, with every parameter as the model code has it; nothing where the project does not read.
pub fn review(project: &Value) -> Option<Vec<Finding>> {
    let none = BTreeMap::new();
    let mut all = Vec::new();
    for (module, _) in FAMILIES {
        let project = (module.read)(project.clone()).ok()?;
        all.extend(module.entries.iter().flat_map(|entry| ask(entry.rule, &project, &none, Stage::Final, None)));
    }
    Some(all)
}

/// The ids of the rules that read anything in or around a place of the project.
pub fn readers(place: &str) -> BTreeSet<&'static str> {
    let rules = FAMILIES.iter().flat_map(|(module, _)| module.entries).map(|entry| entry.rule);
    rules.filter(|rule| redtag_rule_testing::reads(rule, place)).map(|rule| rule.id).collect()
}

/// What these rules find; nothing where the project does not read.
pub fn review_by(project: &Value, rules: &BTreeSet<&str>) -> Option<Vec<Finding>> {
    let none = BTreeMap::new();
    let mut all = Vec::new();
    for (module, _) in FAMILIES {
        let mut own = module.entries.iter().map(|entry| entry.rule).filter(|rule| rules.contains(rule.id)).peekable();
        if own.peek().is_some() {
            let project = (module.read)(project.clone()).ok()?;
            all.extend(own.flat_map(|rule| ask(rule, &project, &none, Stage::Final, None)));
        }
    }
    Some(all)
}
