//! Lines for whoever debugs a rule: the host's log in a module, the error stream in a test.

/// How much a line matters.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum LogLevel {
    /// For the author of the rule.
    Debug,
    /// Worth knowing.
    Info,
    /// Something odd that does not change the answer.
    Warn,
    /// Something that does.
    Error,
}

/// Writes a line; `log!` is shorter.
pub fn log(level: LogLevel, line: &str) {
    #[cfg(target_arch = "wasm32")]
    crate::component::log(level, line);
    #[cfg(not(target_arch = "wasm32"))]
    #[expect(clippy::print_stderr, reason = "a test shows what a rule logs where the host would")]
    {
        eprintln!("{level:?}: {line}");
    }
}

/// Writes a line to the host's log, formatted as `format!` does: `log!(Debug, "{} doors", doors.len())`. The host limits lines and
/// bytes of a call, and nothing in the answer may rest on it.
#[macro_export]
macro_rules! log {
    ($level:ident, $($line:tt)+) => {
        $crate::log::log($crate::log::LogLevel::$level, &::std::format!($($line)+))
    };
}
