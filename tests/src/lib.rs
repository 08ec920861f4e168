//! What several tests need: rule modules written by hand, healthy and hostile, assembled from `tests/hostile/`.

pub mod fuzz;

use std::fmt::Write as _;
use std::fs;
use std::path::{Path, PathBuf};

/// Why a module of the tests could not be made: its file is not there, or its text is wrong.
#[derive(Debug)]
pub struct GuestError(String);

impl std::fmt::Display for GuestError {
    fn fmt(&self, formatter: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        formatter.write_str(&self.0)
    }
}

impl std::error::Error for GuestError {}

/// The folder of the modules written by hand.
pub fn hostile_folder() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("hostile")
}

/// The component of `tests/hostile/NAME.wat`, as bytes. Its rule is `hostile/NAME`.
///
/// # Errors
/// When there is no such file, or its text is not WebAssembly.
pub fn hostile(name: &str) -> Result<Vec<u8>, GuestError> {
    guest(name, &read(name)?)
}

/// A component that does in `review` what the text says, in the frame of `tests/hostile/frame.wat`: the text of an exported
/// core function `review` and whatever it calls. A text that is a whole component is taken as it is.
///
/// # Errors
/// When the text is not WebAssembly.
pub fn guest(name: &str, review: &str) -> Result<Vec<u8>, GuestError> {
    let whole = review.lines().any(|line| line.starts_with("(component"));
    let text = match whole {
        true => review.to_owned(),
        false => read("frame")?.replace("@name", name).replace("@review", review),
    };
    wat::parse_str(&text).map_err(|error| GuestError(format!("{name}: {error}")))
}

/// A component that answers every request with the same text.
///
/// # Errors
/// When the text cannot be written in WebAssembly.
pub fn answering(name: &str, answer: &str) -> Result<Vec<u8>, GuestError> {
    let bytes = answer.bytes().fold(String::new(), |mut text, byte| {
        let _ = write!(text, "\\{byte:02x}");
        text
    });
    let length = answer.len();
    let review = format!(
        "(data (i32.const 65536) \"{bytes}\")
         (func (export \"review\") (param $request i32) (param $size i32) (result i32)
           (call $answer (i32.const 0) (i32.const 65536) (i32.const {length})))"
    );
    guest(name, &review)
}

/// A module whose code takes long to compile: so many functions, each with so many variables, all alive across so many
/// branches. It never runs them.
///
/// # Errors
/// When the text is not WebAssembly.
pub fn compile_bomb(functions: usize, locals: usize, branches: usize) -> Result<Vec<u8>, GuestError> {
    let mut review =
        String::from("(func (export \"review\") (param $request i32) (param $size i32) (result i32) (unreachable))\n");
    for _ in 0..functions {
        review.push_str("(func (param i32) (result i32) (local");
        review.push_str(&" i32".repeat(locals));
        review.push(')');
        for branch in 0..branches {
            let (from, to) = (branch % (locals + 1), (branch * 7 + 1) % (locals + 1));
            let _ = write!(review, "(if (local.get {from}) (then (local.set {to} (i32.add (local.get {from}) (local.get 0)))))");
        }
        review.push_str("(local.get 0)");
        review.push_str(&(1..=locals).map(|local| format!("(i32.add (local.get {local}))")).collect::<String>());
        review.push_str(")\n");
    }
    guest("compile-bomb", &review)
}

fn read(name: &str) -> Result<String, GuestError> {
    let path = hostile_folder().join(format!("{name}.wat"));
    fs::read_to_string(&path).map_err(|error| GuestError(format!("{}: {error}", path.display())))
}
