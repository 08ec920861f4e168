//! Very many projects: sources in, reviews out, in order, with no more in memory than is being worked on.

use super::{Asked, Refusal, Session, Source};
use redtag_schema::review::Review;
use std::sync::mpsc::{Receiver, SyncSender, sync_channel};
use std::sync::{Arc, Condvar, Mutex, PoisonError};

/// How many projects are taken in ahead of the one that is waited for, for each worker.
const AHEAD: usize = 2;

/// The reviews of many projects, in the order of their sources.
///
/// Sources are taken by a thread of its own and never far ahead of what has been handed on: a slow reader of the reviews slows
/// the reading of sources. A source that takes its time (somebody who writes line by line) holds up nothing before it.
pub struct Stream {
    pending: Receiver<Receiver<Result<Review, Refusal>>>,
}

impl Stream {
    pub(super) fn start(session: Session, sources: impl Iterator<Item = Source> + Send + 'static, asked: Asked) -> Self {
        let ahead = session.0.workers.current_num_threads() * AHEAD;
        let (send, pending) = sync_channel(ahead);
        let asked = Arc::new(asked);
        std::thread::spawn(move || feed(&session, sources, &asked, &send));
        Self { pending }
    }
}

/// Hands each source to a worker, and the place where its review will come to whoever reads the stream. Ends when the sources
/// do, or when nobody reads any more.
fn feed(
    session: &Session,
    sources: impl Iterator<Item = Source>,
    asked: &Arc<Asked>,
    pending: &SyncSender<Receiver<Result<Review, Refusal>>>,
) {
    let held = Arc::new(Held::new(session.0.settings.budgets.held_bytes));
    for source in sources {
        let (done, result) = sync_channel(1);
        // Waits where enough is on its way.
        if pending.send(result).is_err() {
            return;
        }
        let hold = held.take(source.size());
        let (session, asked) = (session.clone(), Arc::clone(asked));
        let workers = session.clone();
        workers.0.workers.spawn(move || {
            let draft = session.read(source);
            let reviewed = session.review_here(&draft, &asked);
            drop(draft);
            drop(hold);
            // Nobody may be left to read it.
            let _ = done.send(reviewed);
        });
    }
}

/// How many bytes of projects are being worked on: a text of a megabyte comes to a hundred in memory.
struct Held {
    most: u64,
    now: Mutex<u64>,
    less: Condvar,
}

/// Bytes that are being worked on until this is dropped.
struct Hold {
    held: Arc<Held>,
    bytes: u64,
}

impl Held {
    fn new(most: u64) -> Self {
        Self { most, now: Mutex::new(0), less: Condvar::new() }
    }

    /// Waits until there is room. What is larger than all the room there is waits until it is alone.
    fn take(self: &Arc<Self>, bytes: u64) -> Hold {
        let full = |now: &mut u64| *now > 0 && now.saturating_add(bytes) > self.most;
        let now = self.now.lock().unwrap_or_else(PoisonError::into_inner);
        let mut now = self.less.wait_while(now, full).unwrap_or_else(PoisonError::into_inner);
        *now = now.saturating_add(bytes);
        Hold { held: Arc::clone(self), bytes }
    }
}

impl Drop for Hold {
    fn drop(&mut self) {
        let mut now = self.held.now.lock().unwrap_or_else(PoisonError::into_inner);
        *now = now.saturating_sub(self.bytes);
        self.held.less.notify_all();
    }
}

impl Iterator for Stream {
    type Item = Result<Review, Refusal>;

    fn next(&mut self) -> Option<Self::Item> {
        self.pending.recv().ok()?.recv().ok()
    }
}
