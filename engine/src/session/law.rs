//! Whose law a review is: the layers, who vouches for each, and who signs what departs from it.

use crate::diagnostic::{Code, Diagnostic};
use crate::pack::Pack;
use crate::rulebook::Layers;
use crate::trust::{LockFile, Opened, TrustFile, Vouched};
use redtag_schema::review::PackUsed;
use std::collections::BTreeMap;
use std::sync::Arc;

/// The packs of a project's rulebook, and what stands behind them.
#[derive(Debug, Clone)]
pub struct Law {
    /// The packs.
    pub layers: Layers,
    /// What a reader of the report should know of them, a line each.
    pub notes: Vec<String>,
    /// Files of those who sign variances. Where there are some, a variance needs a signature of a key in each.
    pub variance_signers: Vec<Arc<TrustFile>>,
    /// Who vouches for a pack, by its digest.
    vouched: BTreeMap<String, Vouched>,
}

impl Law {
    /// What stands behind layers that no lock file refuses.
    pub fn of(
        layers: Layers,
        model: Option<&Pack>,
        at_hand: &[Opened],
        locks: &[Arc<LockFile>],
        trust: Option<&TrustFile>,
    ) -> Result<Self, Vec<Diagnostic>> {
        let trusts: Vec<&TrustFile> = trust.into_iter().chain(locks.iter().filter_map(|lock| lock.trust())).collect();
        let used = |one: &&Opened| layers.packs().iter().any(|pack| pack.digest() == one.pack.digest());
        let vouched = |one: &Opened| trusts.iter().find_map(|trust| one.seal.vouched(trust, one.pack.name()).ok());
        let vouched = at_hand.iter().filter(used).filter_map(|one| Some((one.pack.digest().to_owned(), vouched(one)?))).collect();
        let mut variance_signers: Vec<Arc<TrustFile>> =
            locks.iter().filter_map(|lock| lock.variance_signers().cloned()).collect();
        for pack in layers.packs() {
            variance_signers.extend(signers_in(pack)?.map(Arc::new));
        }
        let mut notes: Vec<String> = layers.packs().iter().filter_map(|pack| in_place_of(pack, model?)).collect();
        notes.extend(locks.iter().filter_map(|lock| model_code_alone(lock, &layers)));
        Ok(Self { layers, notes, variance_signers, vouched })
    }

    /// Says of packs who vouches for them.
    pub fn vouch(&self, packs: &mut [PackUsed]) {
        for pack in packs {
            let vouched = self.vouched.get(&pack.digest);
            pack.signed_by = vouched.map(|vouched| vouched.by.clone());
            pack.key = vouched.map(|vouched| vouched.key.clone());
        }
    }
}

/// The file of a pack that names those who sign variances.
fn signers_in(pack: &Pack) -> Result<Option<TrustFile>, Vec<Diagnostic>> {
    let Some(name) = &pack.manifest().variance_signers else { return Ok(None) };
    let text = pack.file(name).and_then(|bytes| std::str::from_utf8(bytes).ok());
    let Some(text) = text else {
        let message = format!("the file \"{name}\" of {} is not there, or is no text", pack.label());
        let complaint =
            Diagnostic::error(Code::MissingFile, message).expected("a file of allowed signers, as ssh-keygen takes it");
        return Err(vec![pack.locate(complaint, "/variance_signers")]);
    };
    TrustFile::parse(&pack.origin().file(name), text).map(Some)
}

fn in_place_of(pack: &Pack, model: &Pack) -> Option<String> {
    let other = pack.name() == model.name() && pack.digest() != model.digest();
    let words = || {
        format!(
            "{} ({}) stands in the place of the model code built into redtag, as --replace-model-code allows; its digest is {}",
            pack.label(),
            pack.origin(),
            pack.digest()
        )
    };
    other.then(words)
}

/// A project that names no pack is reviewed by the model code alone. Where the repository locks others, that may be a slip.
fn model_code_alone(lock: &LockFile, layers: &Layers) -> Option<String> {
    let alone = layers.packs().iter().all(|pack| pack.is_embedded());
    let names: Vec<&str> = lock.names().filter(|_| alone).collect();
    let words = || {
        let (lock, names) = (lock.path().display(), names.join(" and "));
        format!(
            "reviewed by the model code alone, though {lock} locks {names} too; `redtag pack lock --require NAME` demands a pack \
             of every project"
        )
    };
    (!names.is_empty()).then(words)
}
