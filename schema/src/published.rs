//! The JSON Schemas that are published beside the call contract, in `schema/json/`.

use crate::{comparison, contract, lock, pack, project, proof, review, rulebook};
use serde_json::Value;

/// A document: its name on the command line, its file, what makes its schema.
pub struct Published {
    /// The name, such as `request`.
    pub name: &'static str,
    /// The file under `schema/json/`.
    pub file: &'static str,
    /// Makes the schema.
    pub make: fn() -> Value,
}

/// Every published schema.
pub const ALL: &[Published] = &[
    Published { name: "project", file: "project.schema.json", make: project::json_schema },
    Published { name: "pack", file: "pack.schema.json", make: of::<pack::Manifest> },
    Published { name: "lock", file: "lock.schema.json", make: of::<lock::Lock> },
    Published { name: "description", file: "description.schema.json", make: of::<contract::Description> },
    Published { name: "request", file: "request.schema.json", make: of::<contract::Request> },
    Published { name: "findings", file: "findings.schema.json", make: of::<contract::Answer> },
    Published { name: "review", file: "review.schema.json", make: of::<review::Reviews> },
    Published { name: "review-lean", file: "review-lean.schema.json", make: of::<review::LeanReviews> },
    Published { name: "review-stream", file: "review-stream.schema.json", make: of::<review::StreamLine> },
    Published { name: "rulebook", file: "rulebook.schema.json", make: of::<rulebook::Rulebook> },
    Published { name: "comparison", file: "comparison.schema.json", make: of::<comparison::Comparison> },
    Published { name: "proof", file: "proof.schema.json", make: of::<proof::Proof> },
];

fn of<T: schemars::JsonSchema>() -> Value {
    schemars::schema_for!(T).to_value()
}

/// The schema of a document by its name.
pub fn schema(name: &str) -> Option<Value> {
    ALL.iter().find(|published| published.name == name).map(|published| (published.make)())
}
