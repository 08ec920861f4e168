use super::*;
use serde_json::json;

#[test]
fn a_project_of_a_later_version_still_reads() {
    let later = json!({
        "schema": 1,
        "spaces": [{"id": "a", "kind": "greenhouse", "humidity": "60 %", "story": 1}],
        "teleporters": [],
    });
    let project: Project = serde_json::from_value(later).unwrap();
    let spaces = project.spaces.unwrap();
    assert_eq!((spaces[0].kind, spaces[0].story), (SpaceKind::Unrecognised, Some(1)));
}

#[test]
fn a_word_of_a_later_version_is_not_said() {
    let later =
        json!({"id": "d", "kind": "wind-catcher", "material": "graphene", "dampers": ["iris", "manual"], "serves": "upper"});
    let duct: Duct = serde_json::from_value(later).unwrap();
    assert_eq!((duct.kind, duct.material, duct.serves), (DuctKind::Unrecognised, None, Some(ServedLevel::Upper)));
    assert_eq!(duct.dampers, Some(vec![DamperKind::Unrecognised, DamperKind::Manual]), "what a list tells still counts");
    let nothing: Duct = serde_json::from_value(json!({"id": "d", "kind": "supply", "material": null})).unwrap();
    assert_eq!(nothing.material, None);
}

#[test]
fn what_is_not_said_is_not_written() {
    let space = Space { id: "a".into(), kind: SpaceKind::BoilerRoom, ..Space::default() };
    assert_eq!(serde_json::to_value(space).unwrap(), json!({"id": "a", "kind": "boiler-room"}));
}

#[test]
fn an_empty_list_is_not_a_missing_one() {
    let said: Duct = serde_json::from_value(json!({"id": "d", "kind": "supply", "dampers": []})).unwrap();
    let unsaid: Duct = serde_json::from_value(json!({"id": "d", "kind": "supply"})).unwrap();
    assert_eq!((said.dampers, unsaid.dampers), (Some(vec![]), None));
}

#[test]
fn an_id_and_a_kind_must_be_there() {
    for incomplete in [json!({"kind": "supply"}), json!({"id": "d"})] {
        assert!(serde_json::from_value::<Duct>(incomplete.clone()).is_err(), "{incomplete}");
    }
}

#[test]
fn an_amount_keeps_its_words_and_its_canonical_form_reads_back() {
    let opening: Opening = serde_json::from_value(json!({"id": "o", "kind": "louver", "gross_area": "140 in2"})).unwrap();
    let canonical = serde_json::to_value(&opening).unwrap();
    assert_eq!(canonical["gross_area"]["written"], "140 in2");
    assert_eq!(serde_json::from_value::<Opening>(canonical).unwrap(), opening);
}

#[test]
fn a_word_is_said_without_hyphens() {
    assert_eq!(EquipmentKind::StorageWaterHeater.to_string(), "storage water heater");
    assert_eq!(serde_json::to_value(EquipmentKind::StorageWaterHeater).unwrap(), EquipmentKind::StorageWaterHeater.word());
}
