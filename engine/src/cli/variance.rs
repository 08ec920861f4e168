//! `redtag variance`: what the authority signs where it grants a departure.

use super::ending::{Ending, Outcome, Stop};
use super::output;
use super::pack::read_key;
use crate::session::{Limits, Source, VARIANCE, read_draft, sign_for, variance_statement};
use std::path::PathBuf;

/// Print what the authority signs where it grants a variance of a project; with a key, print its signature.
///
/// A county's pack (`variance_signers` in its manifest) or a repository's lock file can demand that variances are signed. Without a
/// key the statement is printed: `ssh-keygen -Y sign -n redtag-variance -f KEY FILE` signs it where the key has a passphrase or
/// lies in a token. The signature goes into the field `signature` of the variance, as one JSON string.
#[derive(Debug, clap::Args)]
pub struct Arguments {
    /// The project file.
    file: PathBuf,
    /// The id of the variance.
    id: String,
    /// The authority's private key (ssh-ed25519 or ecdsa-sha2-nistp256) without a passphrase.
    #[arg(long, value_name = "PRIVATE-KEY")]
    key: Option<PathBuf>,
}

impl Arguments {
    /// Prints the statement, or its signature as a JSON string.
    pub fn run(&self) -> Outcome {
        let draft = read_draft(Source::file(&self.file), &Limits::default());
        let Some(document) = draft.checked().project.as_ref().filter(|_| !draft.checked().is_refused()) else {
            return Err(draft.complaints().to_vec().into());
        };
        let all = document.project.variances.iter().flatten();
        let Some(at) = all.clone().position(|variance| variance.id == self.id) else {
            let ids: Vec<&str> = all.map(|variance| variance.id.as_str()).collect();
            let there = if ids.is_empty() { "it has none".to_owned() } else { format!("it has {}", ids.join(", ")) };
            let file = self.file.display();
            return Err(Stop::Words(anyhow::anyhow!("{file} has no variance of the id {:?}; {there}", self.id)));
        };
        let statement = variance_statement(&document.canonical, &format!("/variances/{at}"));
        let statement = statement.ok_or_else(|| anyhow::anyhow!("this variance cannot be written down"))?;
        let Some(key) = &self.key else {
            output::print(&statement)?;
            return Ok(Ending::Clean);
        };
        let signature = sign_for(VARIANCE, statement.as_bytes(), &read_key(key)?);
        let signature = signature.map_err(|why| anyhow::anyhow!("the key {} cannot sign: {why}", key.display()))?;
        output::print(&format!("{}\n", serde_json::Value::String(signature)))?;
        Ok(Ending::Clean)
    }
}
