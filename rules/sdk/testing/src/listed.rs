//! The list beside a family: unsaid facts that may pass, each with a reason, and those that still do without one.

use serde::{Deserialize, Serialize};
use std::fmt::Write as _;
use std::path::Path;

/// `unsaid.json` of a family.
#[derive(Debug, Default, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct Listed {
    /// What may pass, and why a plan reviewer would accept it.
    #[serde(default)]
    accepted: Vec<Accepted>,
    /// What passes and should not. Nothing is ever added here.
    #[serde(default)]
    known: Vec<Known>,
}

/// An unsaid fact that may pass.
#[derive(Debug, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct Accepted {
    /// The rule, or `*` for every rule of the family.
    rule: String,
    /// The fact, with `*` for every place in a list; `/**` at its end means everything below too.
    fact: String,
    reason: String,
}

/// An unsaid fact that passes.
#[derive(Debug, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct Known {
    rule: String,
    fact: String,
}

impl Listed {
    /// Reads the list of a family; one without a list has nothing to excuse.
    pub(crate) fn read(folder: &Path) -> Result<Self, String> {
        let path = folder.join("unsaid.json");
        let text = match std::fs::read_to_string(&path) {
            Ok(text) => text,
            Err(error) if error.kind() == std::io::ErrorKind::NotFound => return Ok(Self::default()),
            Err(error) => return Err(format!("{}: {error}", path.display())),
        };
        let listed: Self = serde_json::from_str(&text).map_err(|error| format!("{}: {error}", path.display()))?;
        match listed.accepted.iter().find(|one| one.reason.len() < 20) {
            Some(one) => Err(format!("{}: {} {} says no reason", path.display(), one.rule, one.fact)),
            None => Ok(listed),
        }
    }

    pub(crate) fn allows(&self, rule: &str, pattern: &str) -> bool {
        let covers = |fact: &str| match fact.strip_suffix("/**") {
            Some(outer) => pattern.strip_prefix(outer).is_some_and(|rest| rest.is_empty() || rest.starts_with('/')),
            None => fact == pattern,
        };
        self.accepted.iter().any(|one| (one.rule == "*" || one.rule == rule) && covers(&one.fact))
    }

    pub(crate) fn knows(&self, rule: &str, pattern: &str) -> bool {
        self.known().any(|known| known == (rule, pattern))
    }

    pub(crate) fn known(&self) -> impl Iterator<Item = (&str, &str)> {
        self.known.iter().map(|known| (known.rule.as_str(), known.fact.as_str()))
    }

    /// Writes the list anew with these known, one in a line.
    pub(crate) fn write(&self, folder: &Path, known: &[(&str, &str)]) -> Result<(), String> {
        let path = folder.join("unsaid.json");
        if known.is_empty() && self.accepted.is_empty() {
            return match std::fs::remove_file(&path) {
                Err(error) if error.kind() != std::io::ErrorKind::NotFound => Err(format!("{}: {error}", path.display())),
                _ => Ok(()),
            };
        }
        let lines = |lines: Vec<String>| lines.join(",\n    ");
        let line =
            |value: serde_json::Result<String>| value.unwrap_or_default().replace("\":\"", "\": \"").replace("\",\"", "\", \"");
        let accepted = self.accepted.iter().map(|one| line(serde_json::to_string(one))).collect();
        let known = known
            .iter()
            .map(|(rule, fact)| line(serde_json::to_string(&Known { rule: (*rule).to_owned(), fact: (*fact).to_owned() })))
            .collect();
        let mut text = String::from("{");
        let mut part = |name: &str, all: Vec<String>, end: &str| {
            let all = if all.is_empty() { String::new() } else { format!("\n    {}\n  ", lines(all)) };
            let _ = write!(text, "\n  \"{name}\": [{all}]{end}");
        };
        part("accepted", accepted, ",");
        part("known", known, "\n}\n");
        std::fs::write(&path, text).map_err(|error| format!("{}: {error}", path.display()))
    }
}
