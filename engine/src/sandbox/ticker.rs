//! The clock that stops modules: a thread that moves the engine's epoch on.

use std::sync::mpsc::{self, RecvTimeoutError, Sender};
use std::thread::{self, JoinHandle};
use std::time::Duration;
use wasmtime::Engine;

/// How long an epoch lasts.
const TICK: Duration = Duration::from_millis(50);

/// Ticks as long as it lives. Without it no deadline would ever come.
pub(super) struct Ticker {
    stop: Option<Sender<()>>,
    thread: Option<JoinHandle<()>>,
}

impl Ticker {
    /// Starts ticking.
    ///
    /// # Errors
    /// When the system gives no thread.
    pub(super) fn start(engine: &Engine) -> std::io::Result<Self> {
        let (stop, stopped) = mpsc::channel::<()>();
        let engine = engine.clone();
        let thread = thread::Builder::new().name("redtag-clock".to_owned()).spawn(move || {
            while stopped.recv_timeout(TICK) == Err(RecvTimeoutError::Timeout) {
                engine.increment_epoch();
            }
        })?;
        Ok(Self { stop: Some(stop), thread: Some(thread) })
    }

    /// How many epochs from now a call may last: the limit, rounded up, and the tick already begun.
    pub(super) fn epochs(limit: Duration) -> u64 {
        let ticks = limit.as_millis().div_ceil(TICK.as_millis()).saturating_add(1);
        u64::try_from(ticks).unwrap_or(u64::MAX / 2)
    }
}

impl Drop for Ticker {
    fn drop(&mut self) {
        drop(self.stop.take());
        if let Some(thread) = self.thread.take() {
            // A clock has nothing to report.
            let _ = thread.join();
        }
    }
}

#[cfg(test)]
mod tests {
    use super::Ticker;
    use std::time::Duration;

    #[test]
    fn a_deadline_is_never_early() {
        assert_eq!(Ticker::epochs(Duration::from_millis(50)), 2);
        assert_eq!(Ticker::epochs(Duration::from_millis(51)), 3);
        assert_eq!(Ticker::epochs(Duration::from_secs(30)), 601);
    }
}
