//! One mistake, one complaint, in plain words.

use super::said;

/// The only complaint about a document with these fields.
fn only(fields: &str) -> String {
    let said = said(&format!("{{\"schema\": 1, {fields}}}"));
    assert_eq!(said.len(), 1, "{fields}: {said:#?}");
    said.into_iter().next().unwrap()
}

#[test]
pub(crate) fn each_mistake_is_one_complaint() {
    let table = [
        (r#""widht": "3 ft""#, "the document has no field `widht` (/widht) | did you mean `width`?"),
        (
            r#""colour": "red""#,
            "the document has no field `colour` (/colour) | expected `schema`, `width`, `height`, `share`, `stories`, `sealed`, `material`, `rooms`, `devices`, `about` or `tags` | remove it",
        ),
        (
            r#""width": 36"#,
            "`width` is the bare number 36 (/width) | expected a length as a text in double quotation marks, with its unit | write \"36 in\", \"36 ft\" or \"36 mm\"",
        ),
        (r#""height": 36"#, "`height` is the bare number 36"),
        (r#""share": 0.25"#, "`share` is the bare number 0.25 (/share) | expected a ratio as a text | write \"0.25\""),
        (r#""width": -5"#, "`width` is the bare number -5"),
        (r#""width": null"#, "`width` cannot be `null` (/width) | expected a length in double quotation marks, such as"),
        (r#""width": ["3 ft"]"#, "`width` cannot be a list (/width) | expected a length in double quotation marks"),
        (r#""width": """#, "`width`: nothing is written here"),
        (r#""width": "3 gal""#, "`width`: \"3 gal\" is a volume; a length is wanted"),
        (r#""width": "36 inn""#, "did you mean \"in\"?"),
        (r#""width": "-3 ft""#, "`width`: \"-3 ft\" is below zero"),
        (r#""stories": "two""#, "`stories` cannot be the text `two` (/stories) | expected a whole number"),
        (r#""stories": "2""#, "| remove the quotation marks"),
        (r#""stories": 1.5"#, "`stories` cannot be the number 1.5 (/stories) | expected a whole number"),
        (r#""stories": -1"#, "`stories` is too small (/stories) | expected 0 or more"),
        (
            r#""sealed": "true""#,
            "`sealed` cannot be the text `true` (/sealed) | expected `true` or `false` | remove the quotation marks",
        ),
        (
            r#""material": "coper""#,
            "`material` cannot be the text `coper` (/material) | expected `black-steel`, `copper` or `corrugated-stainless` | did you mean `copper`?",
        ),
        (r#""material": 4"#, "`material` cannot be the number 4 (/material) | expected"),
        (r#""rooms": {}"#, "`rooms` cannot be an object (/rooms) | expected a list"),
        (r#""rooms": [{}]"#, "item 1 of `rooms` lacks the field `id` (/rooms/0)"),
        (r#""rooms": [{"idd": "attic"}]"#, "item 1 of `rooms` has no field `idd` (/rooms/0/idd) | did you mean `id`?"),
        (
            r#""rooms": [{"id": "The Attic"}]"#,
            "`id` is not written as it must be (/rooms/0/id) | expected a text that matches ^[a-z0-9-]+$",
        ),
        (r#""rooms": ["attic"]"#, "item 1 of `rooms` cannot be the text `attic` (/rooms/0) | expected an object"),
        (
            r#""devices": [{"id": "p", "kind": "pmup"}]"#,
            "`kind` cannot be the text `pmup` (/devices/0/kind) | expected `tank` or `pump` | did you mean `pump`?",
        ),
        (r#""devices": [{"id": "p", "flow": "8 gpm"}]"#, "`p` lacks the field `kind` (/devices/0) | expected `tank` or `pump`"),
        (
            r#""devices": [{"id": "p", "kind": "pump", "flow": "8 gal"}]"#,
            "`flow`: \"8 gal\" is a volume; a volume flow is wanted",
        ),
        (r#""devices": [{"id": "p", "kind": "pump", "volume": "8 gal"}]"#, "`p` has no field `volume` (/devices/0/volume)"),
        (
            r#""devices": [{"id": "p", "kind": "pump", "flwo": "8 gpm"}]"#,
            "`p` has no field `flwo` (/devices/0/flwo) | did you mean `flow`?",
        ),
    ];
    for (fields, wanted) in table {
        let found = only(fields);
        assert!(found.contains(wanted), "{fields}\n  found  {found}\n  wanted {wanted}");
    }
}

#[test]
fn a_field_at_the_wrong_level_is_sent_to_the_right_one() {
    let inside = only(r#""floor_height": "8 ft""#);
    assert!(inside.ends_with("it belongs in an item of the list `rooms`"), "{inside}");
    let up = only(r#""devices": [{"id": "p", "kind": "pump", "rooms": []}]"#);
    assert!(up.ends_with("did you mean `room`?"), "a list lies between: {up}");
}

#[test]
fn two_mistakes_in_one_alternative_are_two_complaints() {
    let said = said(r#"{"schema": 1, "devices": [{"id": "p", "kind": "pump", "flow": "8 gal", "roomm": "x"}]}"#);
    assert_eq!(said.len(), 2, "{said:#?}");
}

#[test]
pub(crate) fn another_generation_stops_the_reading() {
    let table = [
        (
            "2",
            "this shop is written for schema 2; this redtag reads schema 1 (/schema) | expected `\"schema\": 1` | update redtag",
        ),
        ("1.5", "this shop is written for schema 1.5"),
        ("0", "there never was a schema 0 of a shop"),
        ("-1", "there never was a schema -1 of a shop"),
        ("\"1\"", "the schema number stands in quotation marks"),
        ("true", "`schema` cannot be `true`"),
    ];
    for (number, wanted) in table {
        let said = said(&format!("{{\"schema\": {number}, \"widht\": 3}}"));
        assert_eq!(said.len(), 1, "{said:#?}");
        assert!(said[0].contains(wanted), "{said:#?}");
    }
    assert_eq!(said("{}"), ["shop.json:1:1: error: the document lacks the field `schema` | expected `1`"]);
}

#[test]
fn a_document_of_another_type_is_one_complaint() {
    for (text, wanted) in [("null", "`null`"), ("[]", "a list"), ("3", "the number 3"), ("\"x\"", "the text `x`")] {
        let found = said(text);
        assert_eq!(found.len(), 1, "{found:#?}");
        assert!(found[0].contains(&format!("the document cannot be {wanted} | expected an object")), "{found:#?}");
    }
}
