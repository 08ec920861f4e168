//! What is known of the few nodes of a large grid that were looked at.

use std::collections::HashMap;
use std::hash::{BuildHasherDefault, Hasher};

/// A map from nodes. Its order is never looked at, so that the same input gives the same answer.
pub(super) type Seen<V> = HashMap<u32, V, BuildHasherDefault<Spread>>;

/// Spreads node numbers by one multiplication: the usual hash guards against an adversary and costs many times more.
#[derive(Debug, Default)]
pub(super) struct Spread(u64);

impl Hasher for Spread {
    fn finish(&self) -> u64 {
        self.0
    }

    fn write(&mut self, bytes: &[u8]) {
        for &byte in bytes {
            self.write_u32(u32::from(byte) ^ (self.0 as u32));
        }
    }

    fn write_u32(&mut self, number: u32) {
        let spread = u64::from(number).wrapping_mul(0x9e37_79b9_7f4a_7c15);
        self.0 = spread ^ (spread >> 32);
    }
}
