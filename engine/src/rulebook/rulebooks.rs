//! The rulebooks of a run: most projects share theirs.

use super::{Layers, resolve};
use crate::diagnostic::Diagnostic;
use crate::modules::Library;
use redtag_schema::rulebook::Rulebook;
use std::collections::VecDeque;
use std::sync::{Arc, Mutex, OnceLock, PoisonError};

/// How many are held: projects of many days would otherwise fill the memory with books.
const HELD: usize = 16;

/// Rulebooks by the digests of their packs and the day.
#[derive(Debug, Default)]
pub struct Rulebooks(Mutex<VecDeque<(Key, Arc<Slot>)>>);

/// The digests of the packs, lowest first, and the day.
type Key = (Vec<String>, String);

type Slot = OnceLock<Result<Arc<Rulebook>, Vec<Diagnostic>>>;

impl Rulebooks {
    /// The rulebook of layers, resolved once.
    ///
    /// # Errors
    /// As [`resolve()`].
    pub fn get(&self, layers: &Layers, library: &Library) -> Result<Arc<Rulebook>, Vec<Diagnostic>> {
        // Before the slot is taken: the modules are asked on several threads, and one that waited for this very slot meanwhile
        // would wait for ever.
        let descriptions = library.descriptions(layers.packs());
        self.slot(layers).get_or_init(|| resolve(layers, &descriptions).map(Arc::new)).clone()
    }

    fn slot(&self, layers: &Layers) -> Arc<Slot> {
        let key = (layers.packs().iter().map(|pack| pack.digest().to_owned()).collect(), layers.date().to_owned());
        // A thread that panicked elsewhere leaves the list whole.
        let mut held = self.0.lock().unwrap_or_else(PoisonError::into_inner);
        if let Some(at) = held.iter().position(|(other, _)| *other == key) {
            let found = held.remove(at);
            held.extend(found);
        } else {
            if held.len() == HELD {
                held.pop_front();
            }
            held.push_back((key, Arc::default()));
        }
        held.back().map(|(_, slot)| Arc::clone(slot)).unwrap_or_default()
    }
}
