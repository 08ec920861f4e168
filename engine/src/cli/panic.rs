//! A defect of the program says so in one line instead of a dump.

use std::io::Write as _;

/// Puts the line in place of the usual message. `RUST_BACKTRACE=1` brings the usual message back beside it.
pub fn set_up() {
    let usual = std::panic::take_hook();
    std::panic::set_hook(Box::new(move |panic| {
        let message = panic.payload_as_str().unwrap_or("no message");
        let place = panic.location().map(ToString::to_string).unwrap_or_default();
        let line = format!(
            "redtag {} met a defect of its own, not of your files: {message} ({place}). Please report this line, what you ran \
             and, if you can, the project file.",
            env!("CARGO_PKG_VERSION")
        );
        let _ = writeln!(std::io::stderr(), "{line}");
        if std::env::var_os("RUST_BACKTRACE").is_some_and(|value| value != "0") {
            usual(panic);
        }
    }));
}
