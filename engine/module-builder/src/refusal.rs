//! Why a file is not run as a rule module, in words for the person who wrote or received it.

use crate::caps::{CONTRACT, HOST_INTERFACE, MODULE_INTERFACE};
use semver::Version;

/// One thing a module asks its host for beyond the contract.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Asked {
    /// The import as the file names it, such as `wasi:filesystem/types@0.2.0`.
    pub import: String,
    /// What it would give the module, in a word or two, where the name tells.
    pub means: Option<&'static str>,
}

impl Asked {
    pub(crate) fn new(import: &str) -> Self {
        Self { import: import.to_owned(), means: meaning(import) }
    }
}

/// What an import is for, told from the published WASI package names.
fn meaning(import: &str) -> Option<&'static str> {
    const NAMES: [(&str, &str); 10] = [
        ("wasi:filesystem/", "files"),
        ("wasi:sockets/", "the network"),
        ("wasi:http/", "web requests"),
        ("wasi:clocks/", "the clock"),
        ("wasi:random/", "random numbers"),
        ("wasi:cli/environment", "environment variables and arguments"),
        ("wasi:cli/", "the terminal and the process"),
        ("wasi:io/", "input and output streams"),
        ("wasi_snapshot_preview1", "files, clock, random numbers and the process"),
        ("wbg", "a browser"),
    ];
    NAMES.iter().find(|(name, _)| import.starts_with(name)).map(|(_, means)| *means)
}

/// Why a file is not accepted as a rule module. The text says what was found, what is allowed and what to do.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[non_exhaustive]
pub enum Refusal {
    /// Not WebAssembly at all.
    #[error(
        "this is not a WebAssembly file (it begins with {begins}). A rule module is a WebAssembly component: give the .wasm file \
         that `redtag pack build` writes"
    )]
    NotWebAssembly {
        /// The first bytes, printable.
        begins: String,
    },
    /// A core module, not a component.
    #[error(
        "this is a bare WebAssembly module, not a component{}. A rule module is a component, which names what it offers and asks \
         for: build it from source with `redtag pack build`, or wrap it in a component for the world `redtag:rules/rule-module`",
        asks_for(.asked)
    )]
    BareModule {
        /// What the core module imports.
        asked: Vec<Asked>,
    },
    /// Cut short or damaged.
    #[error(
        "the file is damaged at byte {at} of {size} ({reason}). Fetch or build it again and compare its SHA-256 with the one in \
         the pack's manifest"
    )]
    Damaged {
        /// Where reading stopped.
        at: u64,
        /// The size of the file in bytes.
        size: u64,
        /// What was wrong there.
        reason: String,
    },
    /// Asks for more than a rule may have.
    #[error(
        "no rule module gets what this one asks for{}. Allowed is `{HOST_INTERFACE}@{}.x` only (one log line at a time): a rule \
         answers from the project it is handed. Take out the code that needs {}, or build the module without it",
        asks_for(.asked), CONTRACT.major, if .asked.len() == 1 { "it" } else { "them" }
    )]
    Imports {
        /// What it asks for beyond the contract.
        asked: Vec<Asked>,
    },
    /// Does not offer what a rule module offers.
    #[error(
        "the component is no rule module: it does not offer `{MODULE_INTERFACE}` (it offers {}). Build it against the rule SDK or \
         the world `redtag:rules/rule-module` in schema/wit",
        list(.found)
    )]
    NoContract {
        /// What it offers instead.
        found: Vec<String>,
    },
    /// Speaks a contract this program does not.
    #[error(
        "the module speaks `{interface}@{asked}`, this redtag speaks {CONTRACT}. {}",
        if *.asked > CONTRACT { "Update redtag, or ask the author for a module of the older contract" }
        else { "Ask the author for a module of the newer contract" }
    )]
    Contract {
        /// The interface whose version does not fit.
        interface: String,
        /// The version in the module.
        asked: Version,
    },
    /// Larger than allowed before compiling.
    #[error(
        "{}. Compiling it could hold the machine for minutes, so nothing of it is compiled or run. {}",
        .excess.sentence(*.function, *.found, *.allowed), .excess.advice()
    )]
    TooLarge {
        /// What is too large.
        excess: Excess,
        /// The function it was found in, counted through the whole file from 0, where it is about one function.
        function: Option<usize>,
        /// The size found.
        found: usize,
        /// The size allowed.
        allowed: usize,
    },
}

/// The sizes that are limited before a module is compiled.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
#[non_exhaustive]
pub enum Excess {
    /// Bytes of the file.
    ModuleBytes,
    /// Bytes of one function.
    FunctionBytes,
    /// Functions in the file.
    Functions,
    /// Parameters and local variables of one function.
    Locals,
    /// Branching operators and branch targets of one function.
    Branches,
    /// Blocks within blocks in one function.
    Nesting,
    /// Modules, components and their instances within the file.
    Parts,
}

impl Excess {
    fn sentence(self, function: Option<usize>, found: usize, allowed: usize) -> String {
        let whose = function.map_or_else(|| "the file".to_owned(), |index| format!("function {index}"));
        match self {
            Self::ModuleBytes | Self::FunctionBytes => {
                format!("{whose} is {found} bytes long, allowed are {allowed}")
            }
            Self::Functions => format!("{whose} has {found} functions or more, allowed are {allowed}"),
            Self::Locals => format!("{whose} has {found} local variables or more, allowed are {allowed}"),
            Self::Branches => format!("{whose} has {found} branches or more, allowed are {allowed}"),
            Self::Nesting => format!("{whose} has {found} blocks within each other, allowed are {allowed}"),
            Self::Parts => format!("{whose} holds {found} modules and components, allowed are {allowed}"),
        }
    }

    fn advice(self) -> &'static str {
        match self {
            Self::ModuleBytes | Self::Functions | Self::Parts => {
                "Leave out libraries and tables the module does not need, or split it into several modules"
            }
            Self::FunctionBytes | Self::Locals | Self::Branches | Self::Nesting => {
                "Split the function, or keep its table as data rather than as code"
            }
        }
    }
}

fn asks_for(asked: &[Asked]) -> String {
    let named = |one: &Asked| match one.means {
        Some(means) => format!("`{}`: {means}", one.import),
        None => format!("`{}`", one.import),
    };
    match asked {
        [] => String::new(),
        _ => format!(" (it asks for {})", asked.iter().map(named).collect::<Vec<_>>().join(", ")),
    }
}

fn list(names: &[String]) -> String {
    match names {
        [] => "nothing".to_owned(),
        _ => names.iter().map(|name| format!("`{name}`")).collect::<Vec<_>>().join(", "),
    }
}
