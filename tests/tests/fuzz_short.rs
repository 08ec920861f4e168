//! Every fuzz target with its seeds and with some changes of each, the same ones every time. `REDTAG_FUZZ=100000` makes more;
//! `tests/fuzz/run` looks for new ones with libFuzzer.

use redtag_tests::fuzz::targets;

/// What changes put in: what formats are made of.
const WORDS: [&[u8]; 24] = [
    b"\"",
    b"{",
    b"}",
    b"[",
    b"]",
    b":",
    b",",
    b"null",
    b"-1",
    b"1e999",
    b"0",
    b"\\u0000",
    b"\n",
    b"\xff",
    b"\0",
    b"```json ",
    b"## ",
    b"/",
    b"~",
    b"..",
    b"PK\x03\x04",
    b"\xe2\x80\xae",
    b"\"schema\": 1",
    b"ssh-ed25519 ",
];

/// Numbers that are the same every time (xorshift, Marsaglia 2003).
struct Numbers(u64);

impl Numbers {
    fn below(&mut self, limit: usize) -> usize {
        self.0 ^= self.0 << 13;
        self.0 ^= self.0 >> 7;
        self.0 ^= self.0 << 17;
        usize::try_from(self.0 % limit.max(1) as u64).unwrap_or(0)
    }

    fn change(&mut self, bytes: &mut Vec<u8>, other: &[u8]) {
        let at = self.below(bytes.len() + 1);
        let most = 1 + self.below(32);
        let end = (at + self.below(most)).min(bytes.len());
        match self.below(6) {
            0 if at < bytes.len() => bytes[at] ^= 1 << self.below(8),
            1 => drop(bytes.splice(at..at, WORDS[self.below(WORDS.len())].iter().copied())),
            2 => drop(bytes.drain(at..end)),
            3 => {
                let twice = bytes[at..end].to_vec();
                drop(bytes.splice(at..at, twice));
            }
            4 => drop(bytes.splice(at..end, WORDS[self.below(WORDS.len())].iter().copied())),
            _ => {
                let from = self.below(other.len() + 1);
                bytes.truncate(at);
                bytes.extend_from_slice(&other[from..]);
            }
        }
    }
}

#[test]
fn no_target_falls_over_changed_seeds() {
    let rounds: usize = std::env::var("REDTAG_FUZZ").ok().and_then(|count| count.parse().ok()).unwrap_or(400);
    for (name, target, seeds) in targets() {
        assert!(!seeds.is_empty() && seeds.iter().all(|seed| !seed.is_empty()), "{name} has no seeds");
        seeds.iter().for_each(|seed| target(seed));
        let mut numbers = Numbers(0x9e37_79b9_7f4a_7c15);
        for round in 0..rounds {
            let mut bytes = seeds[round % seeds.len()].clone();
            for _ in 0..=numbers.below(4) {
                let other = seeds[numbers.below(seeds.len())].clone();
                numbers.change(&mut bytes, &other);
            }
            let result = std::panic::catch_unwind(|| target(&bytes));
            assert!(result.is_ok(), "{name}, round {round}: {:?}", String::from_utf8_lossy(&bytes));
        }
    }
}
