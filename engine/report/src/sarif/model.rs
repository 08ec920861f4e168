//! The part of SARIF 2.1.0 that is written here (OASIS Standard, 27 March 2020), in the order of the standard's own examples.

use serde::Serialize;
use std::collections::BTreeMap;

#[derive(Serialize)]
pub struct Log {
    #[serde(rename = "$schema")]
    pub schema: &'static str,
    pub version: &'static str,
    pub runs: Vec<Run>,
}

#[derive(Serialize)]
#[serde(rename_all = "camelCase")]
pub struct Run {
    pub tool: Tool,
    pub automation_details: AutomationDetails,
    pub invocations: Vec<Invocation>,
    pub original_uri_base_ids: BTreeMap<&'static str, Base>,
    pub artifacts: Vec<Artifact>,
    pub column_kind: &'static str,
    pub results: Vec<Outcome>,
    pub properties: RunProperties,
}

#[derive(Serialize)]
pub struct Tool {
    pub driver: Driver,
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub extensions: Vec<Extension>,
}

#[derive(Serialize)]
#[serde(rename_all = "camelCase")]
pub struct Driver {
    pub name: String,
    pub semantic_version: String,
    pub full_description: Message,
    pub rules: Vec<Rule>,
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub notifications: Vec<Descriptor>,
}

#[derive(Serialize, PartialEq, Eq, PartialOrd, Ord)]
#[serde(rename_all = "camelCase")]
pub struct Extension {
    pub name: String,
    pub full_name: String,
    pub semantic_version: String,
    pub properties: ExtensionProperties,
}

#[derive(Serialize, PartialEq, Eq, PartialOrd, Ord)]
pub struct ExtensionProperties {
    #[serde(rename = "sha-256")]
    pub digest: String,
}

#[derive(Serialize)]
#[serde(rename_all = "camelCase")]
pub struct Rule {
    pub id: String,
    pub name: String,
    pub short_description: Message,
    pub full_description: Message,
    pub help: Help,
    pub default_configuration: Configuration,
    pub properties: RuleProperties,
}

#[derive(Serialize)]
pub struct Help {
    pub text: String,
    pub markdown: String,
}

#[derive(Serialize)]
pub struct Configuration {
    pub level: &'static str,
}

#[derive(Serialize)]
pub struct RuleProperties {
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub tags: Vec<String>,
    pub precision: &'static str,
    #[serde(rename = "problem.severity")]
    pub severity: &'static str,
}

#[derive(Serialize, PartialEq, Eq, PartialOrd, Ord, Clone)]
pub struct Descriptor {
    pub id: String,
}

#[derive(Serialize)]
pub struct AutomationDetails {
    pub id: String,
}

#[derive(Serialize)]
#[serde(rename_all = "camelCase")]
pub struct Invocation {
    pub execution_successful: bool,
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub tool_execution_notifications: Vec<Notification>,
}

#[derive(Serialize)]
pub struct Notification {
    pub descriptor: Descriptor,
    pub level: &'static str,
    pub message: Message,
    pub locations: Vec<Location>,
}

#[derive(Serialize)]
pub struct Base {
    pub description: Message,
}

#[derive(Serialize)]
#[serde(rename_all = "camelCase")]
pub struct Artifact {
    pub location: ArtifactLocation,
    pub mime_type: &'static str,
}

#[derive(Serialize)]
pub struct RunProperties {
    pub notice: String,
    pub cautions: Vec<String>,
}

/// What the standard calls a result.
#[derive(Serialize)]
#[serde(rename_all = "camelCase")]
pub struct Outcome {
    pub rule_id: String,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub rule_index: Option<usize>,
    pub level: &'static str,
    pub message: Message,
    pub locations: Vec<Location>,
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub related_locations: Vec<Location>,
    pub partial_fingerprints: PartialFingerprints,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub baseline_state: Option<&'static str>,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub suppressions: Option<Vec<Suppression>>,
    pub properties: OutcomeProperties,
}

#[derive(Serialize)]
pub struct Message {
    pub text: String,
}

#[derive(Serialize)]
#[serde(rename_all = "camelCase")]
pub struct Location {
    #[serde(skip_serializing_if = "Option::is_none")]
    pub id: Option<usize>,
    pub physical_location: PhysicalLocation,
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub logical_locations: Vec<LogicalLocation>,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub message: Option<Message>,
}

#[derive(Serialize)]
#[serde(rename_all = "camelCase")]
pub struct PhysicalLocation {
    pub artifact_location: ArtifactLocation,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub region: Option<Region>,
}

#[derive(Serialize, Clone)]
#[serde(rename_all = "camelCase")]
pub struct ArtifactLocation {
    pub uri: String,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub uri_base_id: Option<&'static str>,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub index: Option<usize>,
}

#[derive(Serialize)]
#[serde(rename_all = "camelCase")]
pub struct Region {
    pub start_line: usize,
    pub start_column: usize,
    pub end_line: usize,
    pub end_column: usize,
}

#[derive(Serialize)]
#[serde(rename_all = "camelCase")]
pub struct LogicalLocation {
    pub name: String,
    pub fully_qualified_name: String,
    pub kind: &'static str,
}

#[derive(Serialize)]
pub struct PartialFingerprints {
    #[serde(rename = "primaryLocationLineHash")]
    pub line_hash: String,
    #[serde(rename = "ruleSubject/v1")]
    pub rule_subject: String,
}

#[derive(Serialize)]
pub struct Suppression {
    pub kind: &'static str,
    pub status: &'static str,
    pub justification: String,
}

#[derive(Serialize)]
pub struct OutcomeProperties {
    pub outcome: &'static str,
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub worksheet: Vec<String>,
}
