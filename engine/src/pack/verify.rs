//! Whether a pack holds what its manifest says: every module there, the one that is meant, and no other.

use super::{MANIFEST, Pack};
use crate::diagnostic::{Code, Diagnostic, quoted};
use redtag_module_builder as builder;
use redtag_schema::pack::Manifest;
use std::path::Path;

/// The folder of modules in a built pack.
const MODULES: &str = "modules/";

/// What says that a pack has not been built yet.
pub(super) fn still_source(manifest: &Manifest, folder: &Path) -> Option<Diagnostic> {
    let module = manifest.modules.iter().find(|module| module.file.is_none())?;
    let message = format!("this pack is source (module `{}` is not built yet)", module.name);
    let help = format!("build it with `redtag pack build {}` and give the folder that writes", folder.display());
    Some(Diagnostic::error(Code::PackIsSource, message).help(help))
}

/// Every way in which a pack is not what its manifest says.
pub(super) fn verify(pack: &Pack) -> Vec<Diagnostic> {
    let mut out = Vec::new();
    for (index, module) in pack.manifest().modules.iter().enumerate() {
        let pointer = format!("/modules/{index}");
        let Some(file) = &module.file else {
            let complaint = still_source(pack.manifest(), Path::new("DIR"));
            out.extend(complaint.map(|complaint| pack.locate(complaint, &pointer)));
            continue;
        };
        out.extend(check_module(pack, &pointer, file, module.sha256.as_deref()));
    }
    let unlisted = |name: &&str| {
        name.starts_with(MODULES) && !pack.manifest().modules.iter().any(|module| module.file.as_deref() == Some(*name))
    };
    for name in pack.names().filter(unlisted) {
        let message = format!("{} lies in the pack, and no module of the manifest is that file", quoted(name));
        let complaint = Diagnostic::error(Code::UnlistedModule, message).help("leave the file out, or build the pack again");
        out.push(pack.locate(complaint, "/modules"));
    }
    for (index, cases) in pack.manifest().cases.iter().enumerate() {
        let name = cases.trim_end_matches('/');
        let there = pack.names().any(|file| file == name || file.strip_prefix(name).is_some_and(|rest| rest.starts_with('/')));
        if !there {
            let message = format!("there are no cases at {} in the pack", quoted(cases));
            let complaint = Diagnostic::error(Code::MissingFile, message).expected("a file or folder of the pack");
            out.push(pack.locate(complaint, &format!("/cases/{index}")));
        }
    }
    out
}

fn check_module(pack: &Pack, pointer: &str, file: &str, sha256: Option<&str>) -> Option<Diagnostic> {
    let Some(bytes) = pack.file(file) else {
        let complaint = Diagnostic::error(Code::MissingFile, format!("the module {} is not in the pack", quoted(file)))
            .help(format!("build the pack again: {MANIFEST} and its modules belong together"));
        return Some(pack.locate(complaint, &format!("{pointer}/file")));
    };
    let Some(sha256) = sha256 else {
        let complaint = Diagnostic::error(Code::NoDigest, format!("the manifest does not say the SHA-256 of {}", quoted(file)))
            .help("build the pack with `redtag pack build`, which writes it");
        return Some(pack.locate(complaint, pointer));
    };
    let found = builder::digest(bytes);
    if found == sha256 {
        return None;
    }
    let message = format!("{} is not the file the manifest means: its SHA-256 is {found}", quoted(file));
    let complaint = Diagnostic::error(Code::WrongDigest, message)
        .expected(format!("SHA-256 {sha256}"))
        .help("the file or the manifest was changed after the pack was built: fetch the pack again, or build it again");
    Some(pack.locate(complaint, &format!("{pointer}/sha256")))
}
