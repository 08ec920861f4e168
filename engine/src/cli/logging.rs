//! Logs go to standard error, only when asked for.

use redtag_report::clean;
use std::io::{self, Write};
use tracing_subscriber::EnvFilter;
use tracing_subscriber::fmt::format::FmtSpan;

/// Standard error, an event a line: what a module or a file's name says must not begin a line of its own.
struct OneLine {
    colour: bool,
}

impl Write for OneLine {
    /// Gets an event as a whole.
    fn write(&mut self, event: &[u8]) -> io::Result<usize> {
        let text = String::from_utf8_lossy(event);
        let line = text.strip_suffix('\n').unwrap_or(&text);
        io::stderr().write_all(one_line(line, self.colour).as_bytes())?;
        Ok(event.len())
    }

    fn flush(&mut self) -> io::Result<()> {
        io::stderr().flush()
    }
}

/// The words on one line. Where there are colours, the escape codes are the formatter's own: it lets nobody else's through.
fn one_line(line: &str, colour: bool) -> String {
    let mut out = String::with_capacity(line.len() + 1);
    for part in line.split_inclusive('\u{1b}') {
        match part.strip_suffix('\u{1b}').filter(|_| colour) {
            Some(before) => out.push_str(&format!("{}\u{1b}", clean(before))),
            None => out.push_str(&clean(part)),
        }
    }
    out.push('\n');
    out
}

/// Starts logging at a level such as `debug`, or by a filter such as `redtag=debug,wasmtime=warn`. Each rule module has
/// a span of its own.
///
/// # Errors
/// The filter cannot be read.
pub fn set_up(filter: &str, colour: bool) -> anyhow::Result<()> {
    let plain = ["off", "error", "warn", "info", "debug", "trace"].contains(&filter);
    // A plain level is ours; libraries that talk about their insides stay at warnings.
    let filter = if plain && filter != "off" { format!("warn,redtag={filter}") } else { filter.to_owned() };
    let filter = EnvFilter::try_new(&filter).map_err(|error| {
        anyhow::anyhow!("--log takes error, warn, info, debug, trace or a filter by part of the program: {error}")
    })?;
    tracing_subscriber::fmt()
        .with_env_filter(filter)
        .with_writer(move || OneLine { colour })
        .with_ansi(colour)
        .with_span_events(FmtSpan::CLOSE)
        .init();
    Ok(())
}

#[cfg(test)]
mod tests {
    use super::one_line;

    #[test]
    fn an_event_is_a_line() {
        assert_eq!(one_line("a\n::error::b\r\u{1b}[2Jc\u{202e}", false), "a ::error::b \u{fffd}[2Jc\u{fffd}\n");
        assert_eq!(one_line("\u{1b}[32mINFO\u{1b}[0m a\nb", true), "\u{1b}[32mINFO\u{1b}[0m a b\n");
    }
}
