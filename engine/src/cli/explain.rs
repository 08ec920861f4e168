//! `redtag explain`: one rule, or one kind of complaint.

use super::common::{TextOrJson, json, style};
use super::ending::{Ending, Outcome};
use super::rulebook::{Place, ending};
use super::{Terminal, output};
use crate::session::Code;
use redtag_report as report;

/// Explain one rule (purpose, citations, parameters, cases) or one kind of complaint.
#[derive(Debug, clap::Args)]
pub struct Arguments {
    /// The rule's id, such as combustion-air/supply; or the code of a complaint, such as unknown-field.
    #[arg(value_name = "RULE-OR-CODE")]
    name: String,
    #[command(flatten)]
    place: Place,
    /// For people or for programs.
    #[arg(long, value_enum, default_value = "text")]
    format: TextOrJson,
}

impl Arguments {
    /// Prints the explanation.
    pub fn run(&self, terminal: Terminal) -> Outcome {
        if let Some(code) = Code::find(&self.name) {
            return self.complaint(code, terminal);
        }
        let (session, found) = self.place.find()?;
        let explained = session.explain(&found, &self.name)?;
        let text = match self.format {
            TextOrJson::Text => report::explain::render(&explained.rule, &explained.cases, &style(terminal, false)),
            TextOrJson::Json => json(&explained.rule)?,
        };
        output::print(&text)?;
        Ok(ending(&found))
    }

    /// The page about a kind of complaint. No pack is opened for it: the complaint may be about the packs.
    fn complaint(&self, code: Code, terminal: Terminal) -> Outcome {
        let text = match self.format {
            TextOrJson::Text => report::explain::page(code.word(), code.page(), &style(terminal, false)),
            TextOrJson::Json => json(&serde_json::json!({ "code": code.word(), "page": code.page() }))?,
        };
        output::print(&text)?;
        Ok(Ending::Clean)
    }
}
