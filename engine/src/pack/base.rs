//! The pack that is part of the program.

use super::Pack;
use crate::diagnostic::{Code, Diagnostic};
use std::sync::{Arc, OnceLock};

/// The archive the build script made, and the digest of the pack in it; `None` in a program built without one.
#[allow(unexpected_cfgs, reason = "declared by the build script, which a check without modules does not run")]
const ARCHIVE: Option<(&[u8], &str)> = {
    #[cfg(redtag_base_pack)]
    {
        Some((
            include_bytes!(concat!(env!("OUT_DIR"), "/base-pack.zip")),
            include_str!(concat!(env!("OUT_DIR"), "/base-pack.digest")),
        ))
    }
    #[cfg(not(redtag_base_pack))]
    {
        None
    }
};

/// The base pack, `model-residential`. It is opened once.
///
/// # Errors
/// The program was built without it, or not as it should be.
pub fn base_pack() -> Result<Arc<Pack>, Vec<Diagnostic>> {
    static PACK: OnceLock<Result<Arc<Pack>, Vec<Diagnostic>>> = OnceLock::new();
    PACK.get_or_init(|| match ARCHIVE {
        Some((archive, digest)) => Pack::embedded(archive, digest).map(Arc::new),
        None => {
            let message = "this redtag was built without the base pack";
            Err(vec![
                Diagnostic::error(Code::NoBasePack, message)
                    .help("build it again with its rule modules, or give a pack with --packs"),
            ])
        }
    })
    .clone()
}
