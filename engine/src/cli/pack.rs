//! `redtag pack`: packs made, checked, signed, locked, compiled ahead and shown. None of it runs a module.

mod lock;
mod sign;
mod verify;
mod warm;

pub use sign::read_key;

use super::common::{TextOrJson, cache_root, json, style};
use super::ending::{Ending, Outcome, Stop};
use super::{Terminal, output};
use crate::progress;
use crate::session::{BuildOptions, Caps, Pack, build_pack, seal};
use anyhow::Context as _;
use redtag_report as report;
use std::path::{Path, PathBuf};

/// Build, seal, sign, verify, lock, warm and show packs.
#[derive(Debug, clap::Subcommand)]
pub enum Command {
    /// Build a pack from source: rule crates to components, digests, cases, manifest.
    Build {
        /// The folder with the pack's pack.json.
        folder: PathBuf,
        /// The folder to build into; an earlier build there is replaced.
        #[arg(long, value_name = "DIR")]
        output: PathBuf,
        /// Where cargo keeps what it compiles for the rule crates; default: in the user's cache.
        #[arg(long, value_name = "DIR")]
        target_dir: Option<PathBuf>,
    },
    /// Put a built pack into one archive; the same pack gives the same bytes on every machine.
    Seal {
        /// The built pack's folder.
        folder: PathBuf,
        /// The archive; default: NAME-VERSION.zip in this folder.
        #[arg(long, value_name = "FILE")]
        output: Option<PathBuf>,
    },
    /// Check that packs are whole: manifest, digests, what each module asks for, signature.
    Verify(verify::Arguments),
    /// Sign a pack's archive with a private key of OpenSSH; `ssh-keygen -Y sign -n redtag-pack` makes the same signature.
    Sign(sign::Arguments),
    /// Write the lock file of a repository: from then on its projects are reviewed by exactly these packs.
    Lock(lock::Arguments),
    /// Compile the modules of packs ahead, with every optimisation.
    Warm(warm::Arguments),
    /// Show what a pack holds and changes.
    Show {
        /// The pack's folder or archive.
        pack: PathBuf,
        /// For people or for programs.
        #[arg(long, value_enum, default_value = "text")]
        format: TextOrJson,
    },
}

impl Command {
    /// Runs the command.
    pub fn run(&self, terminal: Terminal) -> Outcome {
        match self {
            Self::Build { folder, output, target_dir } => build(folder, output, target_dir.as_deref()),
            Self::Seal { folder, output } => seal_folder(folder, output.as_deref()),
            Self::Verify(arguments) => arguments.run(),
            Self::Sign(arguments) => arguments.run(),
            Self::Lock(arguments) => arguments.run(),
            Self::Warm(arguments) => arguments.run(),
            Self::Show { pack, format } => show(pack, *format, terminal),
        }
    }
}

fn build(folder: &Path, out: &Path, target_dir: Option<&Path>) -> Outcome {
    let target = target_dir.map(Path::to_owned).or_else(|| Some(cache_root()?.join("guest-target")));
    let target = target.context("no folder of the user's to compile in is known; name one with --target-dir")?;
    let options = BuildOptions { progress: progress::say, ..BuildOptions::new(target) };
    let built = build_pack(folder, out, &Caps::default(), &options).map_err(|error| Stop::Words(error.into()))?;
    // What was written is read back the way a review reads it.
    let pack = Pack::open(&built.folder)?;
    let mut said = format!("built {} in {}\n", pack.label(), output::shown(&built.folder));
    for (name, seen) in &built.modules {
        said.push_str(&format!("  module {name}: {} bytes, SHA-256 {}\n", seen.size, seen.digest));
    }
    output::print(&said)?;
    Ok(Ending::Clean)
}

fn seal_folder(folder: &Path, file: Option<&Path>) -> Outcome {
    let pack = Pack::open(folder)?;
    let bytes = seal(folder).map_err(|error| Stop::Words(error.into()))?;
    let named = PathBuf::from(format!("{}-{}.zip", pack.name(), pack.version()));
    let file = file.unwrap_or(&named);
    output::replace_own(file, &bytes, "archive", |head| head.starts_with(b"PK"))?;
    output::print(&format!("sealed {} in {}\n  digest of the pack {}\n", pack.label(), output::shown(file), pack.digest()))?;
    Ok(Ending::Clean)
}

fn show(path: &Path, format: TextOrJson, terminal: Terminal) -> Outcome {
    let pack = Pack::open(path)?;
    let text = match format {
        TextOrJson::Text => {
            let size = |file: &str| pack.file(file).map_or(0, <[u8]>::len);
            report::pack::render(pack.manifest(), pack.digest(), &size, &style(terminal, false))
        }
        TextOrJson::Json => json(pack.manifest())?,
    };
    output::print(&text)?;
    Ok(Ending::Clean)
}
