//! The `redtag` program. See [`redtag::cli`].

use std::process::ExitCode;

fn main() -> ExitCode {
    redtag::cli::run()
}
