//! A pack read together with its signature. The bytes that are verified are the bytes that are opened.

use super::signature::{self, NAMESPACE, SignatureError, Signed};
use super::signers::{Distrust, TrustFile};
use crate::diagnostic::{Code, Diagnostic};
use crate::document::open_regular;
use crate::pack::{Origin, Pack, read_archive};
use jiff::Timestamp;
use redtag_module_builder::digest;
use std::io::{self, Read as _};
use std::path::{Path, PathBuf};
use std::sync::Arc;

/// The largest signature that is read, in bytes.
const LARGEST: u64 = 64 << 10;

/// A pack and what vouches for it.
#[derive(Debug, Clone)]
pub struct Opened {
    /// The pack.
    pub pack: Arc<Pack>,
    /// What vouches for it.
    pub seal: Seal,
}

/// The signature of a pack's archive, and the archive's digest.
#[derive(Debug, Clone)]
pub struct Seal {
    origin: Origin,
    archive_sha256: String,
    signature_file: PathBuf,
    signature: Result<Signed, NoSignature>,
}

/// Why there is no signature that fits.
#[derive(Debug, Clone)]
enum NoSignature {
    /// There is none.
    Missing,
    /// It cannot be read.
    Unreadable(String),
    /// It does not count.
    Wrong(SignatureError),
}

/// A signature that is trusted.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Vouched {
    /// The principals of the trust file's line.
    pub by: String,
    /// The key's fingerprint.
    pub key: String,
}

/// Where the signature of a pack lies when nobody says otherwise: beside it, with `.sig` at the end of its name.
pub fn signature_path(pack: &Path) -> PathBuf {
    // The name without a slash at its end; `.` and `..` have none and get one by way of the folder they mean.
    let named =
        if pack.file_name().is_some() { pack.to_owned() } else { pack.canonicalize().unwrap_or_else(|_| pack.to_owned()) };
    let mut name = named.file_name().unwrap_or_default().to_owned();
    name.push(".sig");
    named.with_file_name(name)
}

/// Reads a folder or an archive and the signature beside it, or the one named. With a trust file, a pack without a trusted
/// signature is refused before anything is taken out of its archive.
///
/// # Errors
/// Every complaint about the pack, or why its signature is not trusted.
pub fn open(path: &Path, signature: Option<&Path>, trust: Option<&TrustFile>) -> Result<Opened, Vec<Diagnostic>> {
    let (archive, origin) = read_archive(path)?;
    let signature_file = signature.map_or_else(|| signature_path(path), Path::to_owned);
    let seal = Seal {
        archive_sha256: digest(&archive),
        signature: read_signature(&signature_file, &archive),
        signature_file,
        origin: origin.clone(),
    };
    // What an archive says of itself is read only where somebody known signed it; then its name is held against the key.
    if let Some(trust) = trust {
        seal.known(trust)?;
    }
    let pack = Arc::new(Pack::from_archive(&archive, origin)?);
    if let Some(trust) = trust {
        seal.vouched(trust, pack.name())?;
    }
    Ok(Opened { pack, seal })
}

fn read_signature(file: &Path, archive: &[u8]) -> Result<Signed, NoSignature> {
    let mut bytes = Vec::new();
    match open_regular(file).and_then(|file| file.take(LARGEST).read_to_end(&mut bytes)) {
        Ok(_) => signature::verify(archive, &bytes).map_err(NoSignature::Wrong),
        Err(error) if error.kind() == io::ErrorKind::NotFound => Err(NoSignature::Missing),
        Err(error) => Err(NoSignature::Unreadable(error.to_string())),
    }
}

impl Opened {
    /// A pack nobody asks who signed.
    pub fn unsealed(pack: Arc<Pack>) -> Self {
        let origin = pack.origin().clone();
        let signature = Err(NoSignature::Missing);
        Self { pack, seal: Seal { origin, archive_sha256: String::new(), signature_file: PathBuf::new(), signature } }
    }
}

impl Seal {
    /// SHA-256 of the archive's bytes; for a folder, of the archive that sealing it gives.
    pub fn archive_sha256(&self) -> &str {
        &self.archive_sha256
    }

    /// The key of a signature that fits; `None` where there is no signature.
    ///
    /// # Errors
    /// There is one, and it does not fit.
    pub fn signed(&self) -> Result<Option<&Signed>, Diagnostic> {
        match &self.signature {
            Ok(signed) => Ok(Some(signed)),
            Err(NoSignature::Missing) => Ok(None),
            Err(why) => Err(self.bad(why)),
        }
    }

    /// Who signed it, as a pack of this name.
    ///
    /// # Errors
    /// It is not signed, the signature does not fit, or the trust file does not trust the key for packs of this name.
    pub fn vouched(&self, trust: &TrustFile, name: &str) -> Result<Vouched, Vec<Diagnostic>> {
        let signed = self.some_signature(trust)?;
        match trust.judge(signed, name, Timestamp::now()) {
            Ok(by) => Ok(Vouched { by: by.to_owned(), key: signed.fingerprint() }),
            Err(why) => Err(vec![self.untrusted(signed, &why, trust)]),
        }
    }

    /// Whether a key the trust file knows signed it, whatever its name.
    fn known(&self, trust: &TrustFile) -> Result<(), Vec<Diagnostic>> {
        let signed = self.some_signature(trust)?;
        trust.knows(signed, Timestamp::now()).map_err(|why| vec![self.untrusted(signed, &why, trust)])
    }

    fn some_signature(&self, trust: &TrustFile) -> Result<&Signed, Vec<Diagnostic>> {
        let signed = self.signed().map_err(|why| vec![why])?;
        signed.ok_or_else(|| vec![self.unsigned(trust)])
    }

    fn unsigned(&self, trust: &TrustFile) -> Diagnostic {
        let message = format!("the pack ({}) is not signed, and {} is to vouch for every pack", self.origin, trust.name());
        Diagnostic::error(Code::UnsignedPack, message)
            .expected(format!("its signature in {}", self.signature_file.display()))
            .help(format!("ask its authority for the signature; an author makes it with `redtag pack sign` or `ssh-keygen -Y sign -n {NAMESPACE}`"))
    }

    fn bad(&self, why: &NoSignature) -> Diagnostic {
        let file = self.signature_file.display();
        let message = match why {
            NoSignature::Unreadable(why) => format!("the signature {file} of the pack ({}) cannot be read: {why}", self.origin),
            NoSignature::Wrong(why) => format!("the signature {file} of the pack ({}) does not count: {why}", self.origin),
            NoSignature::Missing => format!("the pack ({}) has no signature {file}", self.origin),
        };
        Diagnostic::error(Code::BadSignature, message)
            .expected(format!("a signature over these bytes, made for {NAMESPACE}"))
            .help("do not use the pack; fetch it and its signature again, both from its authority")
    }

    fn untrusted(&self, signed: &Signed, why: &Distrust, trust: &TrustFile) -> Diagnostic {
        let message =
            format!("the pack ({}) is signed with the key {}, which is not trusted: {why}", self.origin, signed.fingerprint());
        let complaint = Diagnostic::error(Code::UntrustedSignature, message);
        if let Distrust::Name { name, .. } = why {
            return complaint
                .expected(format!("the signature of a key that {} trusts for `{name}`", trust.name()))
                .help(format!("where the key's owner may make packs of this name, write it before the key: `{name},...`"));
        }
        complaint.expected(format!("the signature of a key that {} trusts", trust.name())).help(
            "ask the authority, by another way than the pack came, whether this is its key; only then add it to the trust file",
        )
    }
}
