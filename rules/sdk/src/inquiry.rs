//! The question put to a rule.

use crate::{Listed, Lookup, Place, Typed, need};
use redtag_schema::contract::Stage;
use redtag_schema::project::{Duct, Equipment, Opening, Project, Space};
use serde_json::Value;
use std::collections::BTreeMap;

/// One project, one rule in force with its parameters, one stage and date.
#[derive(Debug, Clone, Copy)]
pub struct Inquiry<'a> {
    project: &'a Project,
    parameters: &'a BTreeMap<String, Value>,
    stage: Stage,
    date: &'a str,
}

impl<'a> Inquiry<'a> {
    /// An inquiry about a project.
    pub fn new(project: &'a Project, parameters: &'a BTreeMap<String, Value>, stage: Stage, date: &'a str) -> Self {
        Self { project, parameters, stage, date }
    }

    /// The project.
    pub fn project(&self) -> Place<'a, Project> {
        Place::new(self.project, "")
    }

    /// The space an id names.
    ///
    /// # Errors
    /// Where the project has none of that id.
    pub fn space(&self, id: &Place<'_, String>) -> Lookup<Place<'a, Space>> {
        need!(self.project(), spaces).named(id)
    }

    /// The piece of equipment an id names.
    ///
    /// # Errors
    /// Where the project has none of that id.
    pub fn equipment(&self, id: &Place<'_, String>) -> Lookup<Place<'a, Equipment>> {
        need!(self.project(), equipment).named(id)
    }

    /// The opening an id names.
    ///
    /// # Errors
    /// Where the project has none of that id.
    pub fn opening(&self, id: &Place<'_, String>) -> Lookup<Place<'a, Opening>> {
        need!(self.project(), openings).named(id)
    }

    /// The duct an id names.
    ///
    /// # Errors
    /// Where the project has none of that id.
    pub fn duct(&self, id: &Place<'_, String>) -> Lookup<Place<'a, Duct>> {
        need!(self.project(), ducts).named(id)
    }

    /// The stage asked about.
    pub fn stage(&self) -> Stage {
        self.stage
    }

    /// The date whose law is asked about, `YYYY-MM-DD`.
    pub fn date(&self) -> &'a str {
        self.date
    }

    /// The value a parameter has in the rulebook; its default where the rulebook does not set it.
    ///
    /// # Panics
    /// Where the rulebook sets it to something of another shape: the default is not what the county says, and must not decide.
    /// `answer` refuses such a request before a rule runs.
    pub fn value<P: Typed>(&self, parameter: &P) -> P::Value {
        let Some(set) = self.parameters.get(parameter.name()) else { return parameter.default_value() };
        parameter.read(set).unwrap_or_else(|| panic!("parameter {} is set to {set}, which it does not take", parameter.name()))
    }
}
