//! Whether the authority granted a variance: its signature, where one is demanded.

use crate::diagnostic::quoted;
use crate::trust::{SignatureError, TrustFile, VARIANCE, verify_for};
use jiff::Timestamp;
use serde_json::{Map, Value};
use std::collections::BTreeMap;
use std::sync::Arc;

/// What the authority signs: the variance without its signature, and the house it is for by name and address, so that what was
/// granted for one house settles nothing in another. JSON with its fields sorted, two spaces a step, a line end.
pub fn statement(project: &Value, pointer: &str) -> Option<String> {
    let variance = project.pointer(pointer)?.as_object()?;
    let fields = |all: &Map<String, Value>| -> BTreeMap<String, Value> {
        let kept = all.iter().filter(|(name, _)| *name != "signature" && *name != "note");
        kept.map(|(name, value)| (name.clone(), value.clone())).collect()
    };
    let said = |pointer: &str| project.pointer(pointer).cloned().unwrap_or(Value::Null);
    let whole = BTreeMap::from([
        ("project", said("/name")),
        ("address", said("/site/address")),
        ("variance", serde_json::to_value(fields(variance)).ok()?),
    ]);
    serde_json::to_string_pretty(&whole).ok().map(|text| redtag_report::escaped(&text).into_owned() + "\n")
}

/// Why a variance from a rule does not count, where those who sign are named.
pub fn doubt(project: &Value, pointer: &str, rule: &str, signers: &[Arc<TrustFile>]) -> Option<String> {
    let first = signers.first()?;
    let Some(signature) = project.pointer(pointer).and_then(|variance| variance.get("signature")).and_then(Value::as_str) else {
        return Some(format!("it has no signature, and {} names those who sign variances here", first.name()));
    };
    if project.get("name").and_then(Value::as_str).is_none_or(|name| name.trim().is_empty()) {
        return Some("its signature cannot be for this house, which has no name".to_owned());
    }
    let statement = statement(project, pointer)?;
    let signed = match verify_for(VARIANCE, statement.as_bytes(), signature.as_bytes()) {
        Ok(signed) => signed,
        Err(SignatureError::Mismatch) => {
            return Some(
                "its signature is for another record or another house: one of them was changed after it was signed".into(),
            );
        }
        Err(why) => return Some(format!("its signature does not count: {why}")),
    };
    let unknown = |file: &Arc<TrustFile>| {
        let why = file.judge_for(VARIANCE, &signed, rule, Timestamp::now()).err()?;
        Some(format!(
            "the key {} that signed it does not count for {}: {why} ({})",
            signed.fingerprint(),
            quoted(rule),
            file.name()
        ))
    };
    signers.iter().find_map(unknown)
}
