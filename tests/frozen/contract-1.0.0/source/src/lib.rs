//! One rule against contract 1.0.0, written without the SDK: every space has a ceiling of a county's height.
//!
//! It reads only what the contract promises, so it must go on answering whatever is added to requests and projects.

#[cfg(target_arch = "wasm32")]
mod component {
    use serde_json::{Value, json};

    wit_bindgen::generate!({ path: "wit", world: "rule-module" });

    struct Frozen;

    impl exports::redtag::rules::module::Guest for Frozen {
        fn describe() -> String {
            json!({
                "schema": 1,
                "module": "frozen",
                "version": "1.0.0",
                "rules": [{
                    "id": "frozen/ceiling-height",
                    "title": "Ceilings of a least height",
                    "purpose": "Kept to show that a module compiled long ago still answers.",
                    "stages": ["permit", "rough-in", "final"],
                    "citations": [{"document": "Test Ordinance", "edition": "1", "section": "1", "standing": "confirmed"}],
                    "parameters": [{
                        "name": "least_height",
                        "purpose": "Least ceiling height of a space.",
                        "kind": {"quantity": "length"},
                        "default": "7 ft",
                        "source": "made up for a test"
                    }],
                    "reads": ["/spaces"]
                }]
            })
            .to_string()
        }

        fn review(request: String) -> Result<String, String> {
            let request: Value = serde_json::from_str(&request).map_err(|error| error.to_string())?;
            let least = &request["rules"]["frozen/ceiling-height"]["parameters"]["least_height"]["si"];
            let least = least.as_f64().ok_or("the parameter is missing")?;
            let spaces = request["project"]["spaces"].as_array().cloned().unwrap_or_default();
            let findings: Vec<Value> =
                spaces.iter().enumerate().map(|(index, space)| finding(index, space, least)).collect();
            redtag::rules::host::log(redtag::rules::host::Level::Debug, "answered");
            Ok(json!({"schema": 1, "findings": findings}).to_string())
        }
    }

    fn finding(index: usize, space: &Value, least: f64) -> Value {
        let pointer = format!("/spaces/{index}");
        let height = space["ceiling_height"]["si"].as_f64();
        let (outcome, words) = match height {
            None => ("unresolved", "the ceiling height is missing"),
            Some(height) if height >= least * (1.0 - 1e-9) => ("complies", "{0} of {1} needed"),
            Some(_) => ("correction", "{0} of {1} needed"),
        };
        let amounts: Vec<Value> = match height {
            Some(height) => vec![json!({"kind": "length", "si": height}), json!({"kind": "length", "si": least})],
            None => vec![],
        };
        let missing = if height.is_none() { json!([{"pointer": format!("{pointer}/ceiling_height")}]) } else { json!([]) };
        json!({
            "rule": "frozen/ceiling-height",
            "subject": {"pointer": pointer, "id": space["id"], "label": format!("space {}", space["id"].as_str().unwrap_or("?"))},
            "outcome": outcome,
            "summary": {"template": words, "amounts": amounts},
            "missing": missing
        })
    }

    export!(Frozen);
}
