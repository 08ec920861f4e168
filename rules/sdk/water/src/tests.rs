//! Which valve counts for the house.

use super::*;
use redtag_rule::schema::project::Project;

fn held(valve: serde_json::Value) -> Lookup<Option<String>> {
    let project: Project = serde_json::from_value(json!({"schema": 1, "water": {
        "pipes": [
            {"id": "service", "kind": "service"},
            {"id": "trunk", "kind": "cold", "from": "service"},
            {"id": "kitchen", "kind": "cold", "from": "trunk"},
            {"id": "garden", "kind": "cold", "from": "service"}
        ],
        "fixtures": [
            {"id": "sink", "kind": "kitchen-sink", "cold_pipe": "kitchen"},
            {"id": "lawn", "kind": "irrigation", "cold_pipe": "garden"}
        ],
        "valves": [valve]
    }}))
    .expect("the project of a test reads");
    let parameters = std::collections::BTreeMap::new();
    let inquiry = Inquiry::new(&project, &parameters, Stage::Final, "2025-01-01");
    of_the_house(&inquiry).map(|valve| valve.map(|valve| valve.get().id.clone()))
}

#[test]
fn a_valve_counts_for_what_hangs_behind_it() {
    let at = |pipe: &str| json!({"id": "v", "kind": "pressure-reducing", "pipe": pipe});
    assert_eq!(held(at("service")), Ok(Some("v".to_owned())));
    assert_eq!(held(at("trunk")), Ok(Some("v".to_owned())), "sprinklers may branch off before it");
    assert_eq!(held(at("kitchen")), Ok(Some("v".to_owned())), "nothing else is drunk from but what hangs on its own way");
    assert_eq!(held(at("garden")), Ok(None));
    assert_eq!(held(json!({"id": "v", "kind": "pressure-reducing", "serves": ["lawn"]})), Ok(None));
    let unsaid = held(json!({"id": "v", "kind": "pressure-reducing"})).unwrap_err();
    assert_eq!(unsaid, Unresolved::at("/water/valves/0/pipe"));
}
