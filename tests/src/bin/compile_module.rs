//! The child process that compiles modules, for tests of the sandbox: only the hidden command of the program.

use clap::Parser;
use redtag::sandbox::child::CompileModule;
use std::process::ExitCode;

#[derive(Parser)]
enum Command {
    CompileModule(CompileModule),
}

fn main() -> ExitCode {
    let Command::CompileModule(command) = Command::parse();
    command.run()
}
