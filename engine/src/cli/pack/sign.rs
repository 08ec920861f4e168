//! `redtag pack sign`: the signature of a pack.

use super::super::ending::{Ending, Outcome, Stop};
use super::super::output;
use crate::session::{Code, Diagnostic, KeyError, NAMESPACE, Pack, open_regular, read_archive, sign, signature_path, verify};
use anyhow::Context as _;
use std::io::Read as _;
use std::path::{Path, PathBuf};

/// The largest private key that is read, in bytes.
const LARGEST: u64 = 64 << 10;

/// Sign a pack's archive with a private key of OpenSSH; `ssh-keygen -Y sign -n redtag-pack` makes the same signature.
#[derive(Debug, clap::Args)]
pub struct Arguments {
    /// The archive, or a built folder: then the archive that sealing it gives is signed.
    pack: PathBuf,
    /// The private key (ssh-ed25519 or ecdsa-sha2-nistp256) without a passphrase.
    #[arg(long, value_name = "PRIVATE-KEY")]
    key: PathBuf,
    /// The signature; default: PACK.sig.
    #[arg(long, value_name = "FILE")]
    output: Option<PathBuf>,
}

/// The bytes of a private key.
pub fn read_key(path: &Path) -> anyhow::Result<Vec<u8>> {
    let mut key = Vec::new();
    let read = open_regular(path).and_then(|file| file.take(LARGEST).read_to_end(&mut key));
    read.with_context(|| format!("the key {} cannot be read", path.display()))?;
    Ok(key)
}

impl Arguments {
    /// Signs a pack that is whole.
    pub fn run(&self) -> Outcome {
        let (archive, origin) = read_archive(&self.pack)?;
        let pack = Pack::from_archive(&archive, origin)?;
        let key = read_key(&self.key)?;
        let signature = sign(&archive, &key).map_err(|why| self.refused(&why))?;
        let signed = verify(&archive, signature.as_bytes()).map_err(|why| Stop::Words(why.into()))?;
        let file = self.output.clone().unwrap_or_else(|| signature_path(&self.pack));
        output::replace_own(&file, signature.as_bytes(), "signature", |head| head.starts_with(b"-----BEGIN SSH SIGNATURE"))?;
        output::print(&format!("signed {} in {}\n  key {}\n", pack.label(), output::shown(&file), signed.fingerprint()))?;
        Ok(Ending::Clean)
    }

    fn refused(&self, why: &KeyError) -> Diagnostic {
        let message = format!("the key {} cannot sign: {why}", self.key.display());
        let words = |path: &Path| path.display().to_string();
        Diagnostic::error(Code::BadKey, message).expected("a private key of the kind ssh-ed25519 or ecdsa-sha2-nistp256").help(
            format!(
                "for a key with a passphrase, in an agent or in a token: `ssh-keygen -Y sign -n {NAMESPACE} -f {} ARCHIVE`",
                words(&self.key)
            ),
        )
    }
}
