//! `redtag pack lock`: the lock file of a repository.

use super::super::common::json;
use super::super::ending::{Ending, Outcome};
use super::super::output;
use crate::session::{Code, Demands, Diagnostic, LOCK, LockFile, TrustFile, base_pack, lock, open_packs, trust_path};
use std::path::PathBuf;

/// Write the lock file of a repository: from then on its projects are reviewed by exactly these packs.
#[derive(Debug, clap::Args)]
pub struct Arguments {
    /// A pack's folder or archive, or a folder of packs. Repeatable. The pack built into the program is locked besides.
    #[arg(long, value_name = "DIR-OR-ARCHIVE")]
    packs: Vec<PathBuf>,
    /// Demand of every pack, from then on, a signature of a key in this file; it lies beside the lock file or below.
    #[arg(long, value_name = "FILE")]
    trust: Option<PathBuf>,
    /// A pack on which every project must stand. Repeatable.
    #[arg(long, value_name = "NAME")]
    require: Vec<String>,
    /// Demand of every variance, from then on, a signature of a key in this file; it lies beside the lock file or below.
    #[arg(long, value_name = "FILE")]
    variance_signers: Option<PathBuf>,
    /// The lock file.
    #[arg(long, value_name = "FILE", default_value = LOCK)]
    output: PathBuf,
}

impl Arguments {
    /// Writes the lock file, whole or not at all.
    pub fn run(&self) -> Outcome {
        let trust = self.trust.as_deref().map(TrustFile::read).transpose()?;
        if let Some(file) = &self.variance_signers {
            TrustFile::read(file)?;
        }
        let named =
            |file: &Option<PathBuf>| file.as_deref().map(|file| trust_path(&self.output, file).ok_or_else(outside)).transpose();
        let demands = Demands {
            trust: named(&self.trust)?,
            required: self.require.clone(),
            variance_signers: named(&self.variance_signers)?,
        };
        let packs = open_packs(&self.packs, trust.as_ref())?;
        let embedded = base_pack().ok();
        let lock = lock(&packs, embedded.as_deref(), demands)?;
        let is_lock = |head: &[u8]| {
            let head = String::from_utf8_lossy(head);
            head.trim_start().starts_with('{') && head.contains("\"tool\"") && head.contains("\"redtag\"")
        };
        output::replace_own(&self.output, json(&lock)?.as_bytes(), "lock file", is_lock)?;
        // Read back the way a review reads it.
        LockFile::read(&self.output)?;
        let mut said = format!("locked {} packs in {}\n", lock.packs.len(), output::shown(&self.output));
        for pack in &lock.packs {
            said.push_str(&format!("  {} {}, digest {}\n", pack.name, pack.version, pack.digest));
        }
        for name in &lock.required {
            said.push_str(&format!("  every project stands on {name}\n"));
        }
        output::print(&said)?;
        Ok(Ending::Clean)
    }
}

fn outside() -> Diagnostic {
    Diagnostic::error(Code::BadTrustPath, "the file of signers lies outside the lock file's folder, where others do not have it")
        .help("put it beside the lock file or in a folder below")
}
