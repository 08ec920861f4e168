//! `redtag pack verify`: whether packs are whole, and who vouches for them.

use super::super::ending::{Ending, Outcome, Stop};
use super::super::output;
use crate::session::{Caps, Code, Diagnostic, Opened, Pack, TrustFile, inspect, open_pack};
use std::path::{Path, PathBuf};

/// Check that packs are whole: manifest, digests, what each module asks for, signature.
#[derive(Debug, clap::Args)]
pub struct Arguments {
    /// Pack folders or archives.
    #[arg(required = true)]
    packs: Vec<PathBuf>,
    /// The signature of the pack; default: PACK.sig, where that is there.
    #[arg(long, value_name = "FILE")]
    signature: Option<PathBuf>,
    /// Refuse packs without a signature of a key in this file (OpenSSH allowed signers).
    #[arg(long, value_name = "FILE")]
    trust: Option<PathBuf>,
}

impl Arguments {
    /// Looks at every pack; what is wrong with any is told at the end.
    pub fn run(&self) -> Outcome {
        if self.signature.is_some() && self.packs.len() > 1 {
            return Err(Stop::Words(anyhow::anyhow!("--signature is the signature of one pack: verify the packs one by one")));
        }
        let trust = self.trust.as_deref().map(TrustFile::read).transpose()?;
        let (mut said, mut complaints, mut ending) = (String::new(), Vec::new(), Ending::Clean);
        for path in &self.packs {
            match self.look_at(path, trust.as_ref()) {
                Ok((words, worst)) => {
                    said.push_str(&words);
                    ending = ending.max(worst);
                }
                Err(errors) => complaints.extend(errors),
            }
        }
        output::print(&said)?;
        if complaints.is_empty() { Ok(ending) } else { Err(complaints.into()) }
    }

    fn look_at(&self, path: &Path, trust: Option<&TrustFile>) -> Result<(String, Ending), Vec<Diagnostic>> {
        let opened = open_pack(path, self.signature.as_deref(), trust)?;
        let signed = signed(&opened, self.signature.is_some(), trust)?;
        let pack = &opened.pack;
        let refused = refusals(pack);
        if refused.is_empty() {
            let words = format!("{} is whole ({}), digest {}\n  {signed}\n", pack.label(), output::shown(path), pack.digest());
            return Ok((words, Ending::Clean));
        }
        let lines = refused.iter().map(|line| format!("{} ({}): {line}\n", pack.label(), output::shown(path)));
        Ok((lines.collect::<String>() + &format!("  {signed}\n"), Ending::ModuleFailed))
    }
}

/// Who signed the pack, in words that promise no more than was checked.
fn signed(opened: &Opened, named: bool, trust: Option<&TrustFile>) -> Result<String, Vec<Diagnostic>> {
    if let Some(trust) = trust {
        let vouched = opened.seal.vouched(trust, opened.pack.name())?;
        return Ok(format!("signed by {}, key {}, trusted by {}", vouched.by, vouched.key, trust.name()));
    }
    match opened.seal.signed().map_err(|why| vec![why])? {
        Some(signed) => Ok(format!("the signature fits, key {}; whose key it is, --trust FILE tells", signed.fingerprint())),
        None if named => {
            let message = "the signature named with --signature is not there";
            Err(vec![Diagnostic::error(Code::UnsignedPack, message).help("name the signature file of the pack")])
        }
        None => Ok("not signed".to_owned()),
    }
}

/// The modules that would not be run, and why.
fn refusals(pack: &Pack) -> Vec<String> {
    let modules = pack.manifest().modules.iter();
    let look = |entry: &redtag_schema::pack::ModuleEntry| {
        let bytes = pack.file(entry.file.as_deref()?)?;
        let refusal = inspect(bytes, &Caps::default()).err()?;
        Some(format!("module `{}` would not be run: {refusal}", entry.name))
    };
    modules.filter_map(look).collect()
}
