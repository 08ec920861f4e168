//! Signatures of archives in the format of OpenSSH (its PROTOCOL.sshsig): `ssh-keygen -Y sign` makes them and `ssh-keygen -Y
//! verify` checks them as well as we do.

use ssh_key::public::KeyData;
use ssh_key::{Algorithm, EcdsaCurve, HashAlg, LineEnding, PrivateKey, PublicKey, SshSig};

/// What signatures of packs are made for. A signature made for another purpose with the same key does not count.
pub const NAMESPACE: &str = "redtag-pack";

/// What signatures of variances are made for.
pub const VARIANCE: &str = "redtag-variance";

/// A signature that fits its archive. Whose it is, only a trust file can say.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Signed {
    key: KeyData,
}

impl Signed {
    /// The key, as `ssh-keygen -l` shows it: `SHA256:` and 43 characters.
    pub fn fingerprint(&self) -> String {
        self.key.fingerprint(HashAlg::Sha256).to_string()
    }

    pub(super) fn key(&self) -> &KeyData {
        &self.key
    }
}

/// Why a signature does not count.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[non_exhaustive]
pub enum SignatureError {
    /// Not a signature, or not all of it.
    #[error("it is no signature of the OpenSSH format, or is cut short or damaged")]
    Unreadable,
    /// Made for something else.
    #[error("it was made for {}, not for {wanted}", crate::diagnostic::quoted(found))]
    Namespace {
        /// What it was to be made for.
        wanted: &'static str,
        /// What it was made for.
        found: String,
    },
    /// Made with a kind of key that is not supported.
    #[error("it was made with a key of the kind {kind}, which redtag does not verify")]
    Kind {
        /// The kind.
        kind: String,
    },
    /// It does not fit.
    #[error("the pack is not the one that was signed: the pack or the signature was changed")]
    Mismatch,
}

/// Why a key cannot sign.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[non_exhaustive]
pub enum KeyError {
    /// Not a private key.
    #[error("it is no private key in the format of OpenSSH (BEGIN OPENSSH PRIVATE KEY)")]
    Unreadable,
    /// Protected by a passphrase.
    #[error("it is protected by a passphrase, which redtag does not ask for")]
    Locked,
    /// A kind of key that is not supported, or one in a hardware token.
    #[error("redtag does not sign with a key of the kind {kind}")]
    Kind {
        /// The kind.
        kind: String,
    },
}

/// Checks that the signature was made over these bytes, for packs.
///
/// # Errors
/// Why it does not count.
pub fn verify(archive: &[u8], signature: &[u8]) -> Result<Signed, SignatureError> {
    verify_for(NAMESPACE, archive, signature)
}

/// Checks that the signature was made over these bytes, for this purpose.
///
/// # Errors
/// Why it does not count.
pub fn verify_for(purpose: &'static str, bytes: &[u8], signature: &[u8]) -> Result<Signed, SignatureError> {
    let signature = SshSig::from_pem(signature).map_err(|_| SignatureError::Unreadable)?;
    if signature.version() != SshSig::VERSION {
        return Err(SignatureError::Unreadable);
    }
    if signature.namespace() != purpose {
        return Err(SignatureError::Namespace { wanted: purpose, found: signature.namespace().to_owned() });
    }
    let key = signature.public_key().clone();
    if !is_supported(&key.algorithm()) {
        return Err(SignatureError::Kind { kind: key.algorithm().as_str().to_owned() });
    }
    match PublicKey::from(key.clone()).verify(purpose, bytes, &signature) {
        Ok(()) => Ok(Signed { key }),
        Err(_) => Err(SignatureError::Mismatch),
    }
}

/// The signature over these bytes, as text. The same key and bytes give the same signature.
///
/// # Errors
/// Why the key cannot sign.
pub fn sign(archive: &[u8], private_key: &[u8]) -> Result<String, KeyError> {
    sign_for(NAMESPACE, archive, private_key)
}

/// The same for another purpose.
///
/// # Errors
/// Why the key cannot sign.
pub fn sign_for(purpose: &str, bytes: &[u8], private_key: &[u8]) -> Result<String, KeyError> {
    let key = PrivateKey::from_openssh(private_key).map_err(|_| KeyError::Unreadable)?;
    let kind = || KeyError::Kind { kind: key.algorithm().as_str().to_owned() };
    if key.is_encrypted() {
        return Err(KeyError::Locked);
    }
    if !matches!(key.algorithm(), Algorithm::Ed25519 | Algorithm::Ecdsa { curve: EcdsaCurve::NistP256 }) {
        return Err(kind());
    }
    let signature = key.sign(purpose, HashAlg::Sha512, bytes).map_err(|_| kind())?;
    signature.to_pem(LineEnding::LF).map_err(|_| kind())
}

fn is_supported(kind: &Algorithm) -> bool {
    let p256 = Algorithm::Ecdsa { curve: EcdsaCurve::NistP256 };
    matches!(kind, Algorithm::Ed25519 | Algorithm::SkEd25519 | Algorithm::SkEcdsaSha2NistP256) || *kind == p256
}
