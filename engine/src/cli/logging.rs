//! Logs go to standard error, only when asked for.

use tracing_subscriber::EnvFilter;
use tracing_subscriber::fmt::format::FmtSpan;

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
        .with_writer(std::io::stderr)
        .with_ansi(colour)
        .with_span_events(FmtSpan::CLOSE)
        .init();
    Ok(())
}
