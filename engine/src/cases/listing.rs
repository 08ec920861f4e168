//! Case files in JSON, for cases that were generated: the same content as a list.

use super::block::{Block, block};
use super::{Expected, Setting};
use crate::diagnostic::Diagnostic;
use crate::document::{Checker, Format};
use redtag_schema::proof::CaseKind;
use schemars::schema_for;
use serde::{Deserialize, Serialize};
use serde_json::{Map, Value};
use std::sync::LazyLock;

/// One case of a JSON case file.
#[derive(Debug, Serialize, Deserialize, schemars::JsonSchema)]
#[serde(deny_unknown_fields)]
pub(super) struct Listed {
    /// The rule, where the file's path does not name it.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub(super) rule: Option<String>,
    pub(super) kind: CaseKind,
    pub(super) title: String,
    pub(super) project: Map<String, Value>,
    /// A JSON Patch of the project.
    #[serde(default)]
    pub(super) change: Vec<Value>,
    #[serde(default)]
    pub(super) parameters: Map<String, Value>,
    #[serde(default)]
    pub(super) setting: Setting,
    pub(super) findings: Vec<Expected>,
}

block!(Vec<Listed>, "list of cases");
