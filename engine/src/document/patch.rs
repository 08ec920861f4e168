//! JSON Patch with a measure: `copy` lets a text of a few lines grow without end.

use serde_json::Value;

/// The most operations of one patch.
const OPERATIONS: usize = 10_000;
/// How deeply a place may lie: as deeply as a document may be nested.
const DEEPEST: usize = 128;
/// How much the copies of a patch may come to, in bytes of JSON, roughly.
const COPIED: usize = 16 << 20;

/// Makes the changes, an operation after the other.
///
/// # Errors
/// The place of the operation that cannot be made in the patch, and why.
pub fn patched(project: &mut Value, operations: &[json_patch::PatchOperation]) -> Result<(), (usize, String)> {
    if operations.len() > OPERATIONS {
        return Err((OPERATIONS, format!("a patch has {OPERATIONS} operations at the most")));
    }
    let mut left = COPIED;
    for (index, operation) in operations.iter().enumerate() {
        measure(project, operation, &mut left).map_err(|why| (index, why))?;
        json_patch::patch(project, std::slice::from_ref(operation)).map_err(|error| (index, error.kind.to_string()))?;
    }
    Ok(())
}

/// Whether an operation leaves the project within measure.
fn measure(project: &Value, operation: &json_patch::PatchOperation, left: &mut usize) -> Result<(), String> {
    use json_patch::PatchOperation as Operation;
    let (place, depth) = match operation {
        Operation::Add(add) => (add.path.to_string(), depth(&add.value)),
        Operation::Replace(replace) => (replace.path.to_string(), depth(&replace.value)),
        Operation::Copy(copy) => {
            let copied = project.pointer(&copy.from.to_string());
            let size = copied.map_or(0, size);
            *left = left.checked_sub(size).ok_or_else(|| format!("the copies of a patch come to {COPIED} bytes at the most"))?;
            (copy.path.to_string(), copied.map_or(0, self::depth))
        }
        Operation::Move(moved) => (moved.path.to_string(), project.pointer(&moved.from.to_string()).map_or(0, self::depth)),
        Operation::Remove(_) | Operation::Test(_) => return Ok(()),
    };
    if place.matches('/').count() + depth > DEEPEST {
        return Err(format!("a place lies {DEEPEST} deep at the most"));
    }
    Ok(())
}

/// Bytes of JSON, roughly.
fn size(value: &Value) -> usize {
    match value {
        Value::String(text) => text.len() + 2,
        Value::Array(items) => items.iter().map(size).sum::<usize>() + items.len() + 2,
        Value::Object(fields) => fields.iter().map(|(name, inner)| name.len() + 4 + size(inner)).sum::<usize>() + 2,
        _ => 8,
    }
}

fn depth(value: &Value) -> usize {
    let inner = match value {
        Value::Array(items) => items.iter().map(depth).max(),
        Value::Object(fields) => fields.values().map(depth).max(),
        _ => return 0,
    };
    inner.unwrap_or(0) + 1
}

#[cfg(test)]
mod tests {
    use super::*;
    use serde_json::json;

    fn try_patch(project: Value, operations: &[Value]) -> Result<Value, (usize, String)> {
        let operations: Vec<json_patch::PatchOperation> =
            serde_json::from_value(Value::Array(operations.to_vec())).expect("operations");
        let mut project = project;
        patched(&mut project, &operations).map(|()| project)
    }

    #[test]
    fn a_patch_is_made_and_the_operation_that_cannot_be_is_named() {
        let add = json!({"op": "add", "path": "/b", "value": 2});
        assert_eq!(try_patch(json!({"a": 1}), std::slice::from_ref(&add)), Ok(json!({"a": 1, "b": 2})));
        let (at, why) = try_patch(json!({}), &[add, json!({"op": "remove", "path": "/c"})]).unwrap_err();
        assert!(at == 1 && !why.is_empty(), "{at} {why}");
    }

    #[test]
    fn copies_that_double_come_to_an_end() {
        let double = json!({"op": "copy", "from": "/a", "path": "/a/-"});
        let project = json!({"a": ["x".repeat(1000)]});
        let (at, why) = try_patch(project, &vec![double; 64]).unwrap_err();
        assert!(at < 20 && why.contains("the copies of a patch"), "{at} {why}");
    }

    #[test]
    fn nothing_grows_deeper_than_a_document_may_be() {
        let deeper: Vec<Value> =
            (0..200).map(|at| json!({"op": "add", "path": format!("/a{}", "/a".repeat(at)), "value": {}})).collect();
        let (at, why) = try_patch(json!({}), &deeper).unwrap_err();
        assert!(at < 130 && why.contains("deep"), "{at} {why}");
        let inward = json!({"op": "copy", "from": "", "path": "/a"});
        assert!(try_patch(json!({"b": {}}), &vec![inward; 200]).is_err());
        let test = json!({"op": "test", "path": "", "value": {}});
        assert!(try_patch(json!({}), &vec![test; OPERATIONS + 1]).is_err());
    }
}
