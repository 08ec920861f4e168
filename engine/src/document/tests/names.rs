//! Ids and mentions.

use super::said;
use serde_json::json;

fn document(rooms: &[&str], devices: serde_json::Value, tags: serde_json::Value) -> String {
    let rooms: Vec<_> = rooms.iter().map(|id| json!({ "id": id })).collect();
    json!({ "schema": 1, "width": "3 ft", "rooms": rooms, "devices": devices, "tags": tags }).to_string()
}

#[test]
fn mentions_that_lead_somewhere_are_fine() {
    let devices = json!([{ "id": "p1", "kind": "pump", "room": "attic" }, { "id": "p2", "kind": "pump", "room": null }]);
    assert_eq!(said(&document(&["attic"], devices, json!(["attic", "p1"]))), [""; 0]);
}

#[test]
pub(crate) fn an_id_is_taken_once_even_by_another_class() {
    let devices = json!([{ "id": "attic", "kind": "pump" }]);
    let said = said(&document(&["attic", "attic"], devices, json!([])));
    assert_eq!(said.len(), 2, "{said:?}");
    assert!(said.iter().all(|one| one.contains("the id `attic` is taken: it already stands for a room")), "{said:?}");
}

#[test]
pub(crate) fn a_mention_of_the_wrong_class_says_so() {
    let devices = json!([{ "id": "p1", "kind": "pump", "room": "p1" }]);
    let said = said(&document(&["attic"], devices, json!([])));
    assert_eq!(said.len(), 1, "{said:?}");
    assert!(said[0].contains("`p1` is the id of a device; here a room is wanted"), "{said:?}");
}

#[test]
pub(crate) fn a_dangling_mention_in_a_list_is_placed_at_its_item() {
    let said = said(&document(&["kitchen"], json!([]), json!(["kitchen", "kitchn"])));
    assert_eq!(said.len(), 1, "{said:?}");
    assert!(said[0].contains("there is no room or device `kitchn` in this document (/tags/1)"), "{said:?}");
    assert!(said[0].ends_with("did you mean `kitchen`?"), "{said:?}");
}

#[test]
fn names_are_checked_although_other_parts_are_wrong() {
    let devices = json!([{ "id": "p1", "kind": "pump", "flow": 8, "room": "atic" }, 7]);
    let said = said(&document(&["attic"], devices, json!(3)));
    let codes: Vec<_> = ["bare number 8", "no room `atic`", "cannot be the number 7", "`tags` cannot be"].to_vec();
    assert_eq!(said.len(), codes.len(), "{said:#?}");
    for code in codes {
        assert!(said.iter().any(|one| one.contains(code)), "{code}: {said:#?}");
    }
}

#[test]
fn a_mention_of_anything_leads_to_anything() {
    let about = |name: &str| {
        let text =
            json!({ "schema": 1, "about": name, "rooms": [{ "id": "attic" }], "devices": [{ "id": "p1", "kind": "pump" }] });
        said(&text.to_string())
    };
    assert_eq!(about("attic"), [""; 0]);
    assert_eq!(about("p1"), [""; 0]);
    let atic = about("atic");
    assert_eq!(atic.len(), 1);
    assert!(atic[0].contains("there is no thing `atic`") && atic[0].ends_with("did you mean `attic`?"), "{atic:?}");
}
