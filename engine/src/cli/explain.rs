//! `redtag explain`: one rule.

use super::common::{TextOrJson, json, style};
use super::ending::{Outcome, Stop};
use super::rulebook::{Found, Place, ending};
use super::{Terminal, output};
use crate::report;
use crate::rulebook::nearest_rule;
use redtag_schema::rulebook::{RuleEntry, Rulebook};

/// Explain one rule: purpose, citations, parameters, cases.
#[derive(Debug, clap::Args)]
pub struct Arguments {
    /// The rule's id, such as combustion-air/supply.
    rule: String,
    #[command(flatten)]
    place: Place,
    /// For people or for programs.
    #[arg(long, value_enum, default_value = "text")]
    format: TextOrJson,
}

impl Arguments {
    /// Prints the explanation.
    pub fn run(&self, terminal: Terminal) -> Outcome {
        let Found { rulebook, layers } = self.place.find()?;
        let rule = find(&rulebook, &self.rule)?;
        let text = match self.format {
            TextOrJson::Text => {
                report::explain::render(rule, &super::prove::titles(&layers, &rulebook, &self.rule), &style(terminal, false))
            }
            TextOrJson::Json => json(rule)?,
        };
        output::print(&text)?;
        Ok(ending(&rulebook))
    }
}

fn find<'a>(rulebook: &'a Rulebook, id: &str) -> Result<&'a RuleEntry, Stop> {
    if let Some(rule) = rulebook.rule(id) {
        return Ok(rule);
    }
    if let Some(failure) = rulebook.failures.iter().find(|failure| id.starts_with(&format!("{}/", failure.module))) {
        return Err(Stop::Module(failure.message.clone()));
    }
    let help = match nearest_rule(rulebook, id) {
        Some(near) => format!("did you mean {near}?"),
        None => "`redtag rulebook` lists them".to_owned(),
    };
    Err(anyhow::anyhow!("no rule of the rulebook is called {}; {help}", crate::diagnostic::quoted(id)).into())
}
