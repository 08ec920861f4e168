//! What takes longer than a second says so on standard error, where somebody watches.

use std::io::{IsTerminal as _, Write as _};
use std::sync::atomic::{AtomicBool, Ordering};
use std::sync::mpsc::{RecvTimeoutError, channel};
use std::time::Duration;

/// How long something may take without a word.
const PATIENCE: Duration = Duration::from_secs(1);

static WATCHED: AtomicBool = AtomicBool::new(false);

/// Decides whether somebody watches: standard error is a terminal, or logging was asked for.
pub fn set_up(logging: bool) {
    WATCHED.store(logging || std::io::stderr().is_terminal(), Ordering::Relaxed);
}

/// Does the work; says what is being done if it is not done within a second.
pub fn during<T>(what: &str, work: impl FnOnce() -> T) -> T {
    if !WATCHED.load(Ordering::Relaxed) {
        return work();
    }
    std::thread::scope(|scope| {
        // Dropping the sender, also when the work panics, ends the wait.
        let (done, wait) = channel::<()>();
        scope.spawn(move || {
            if wait.recv_timeout(PATIENCE) == Err(RecvTimeoutError::Timeout) {
                say(what);
            }
        });
        let result = work();
        drop(done);
        result
    })
}

/// Says what is being done, where somebody watches. A standard error that takes nothing is no reason to stop.
pub fn say(what: &str) {
    if !WATCHED.load(Ordering::Relaxed) {
        return;
    }
    let _ = writeln!(std::io::stderr(), "{what} ...");
}
