//! The program under test: the same one line as the program's own `main`, built where these tests can name it.

use std::process::ExitCode;

fn main() -> ExitCode {
    redtag::cli::run()
}
