//! The name of a module: the SHA-256 of its bytes.

use sha2::{Digest, Sha256};
use std::fmt::Write as _;

/// SHA-256 (FIPS 180-4) of the bytes, as 64 lower-case hexadecimal digits.
pub fn digest(bytes: &[u8]) -> String {
    let mut text = String::with_capacity(64);
    for byte in Sha256::digest(bytes) {
        let _ = write!(text, "{byte:02x}");
    }
    text
}

/// The name of a pack: SHA-256 over the sorted list of its files' names and SHA-256s, as `sha256sum` prints it; the same for a
/// folder and its archive.
pub fn pack_digest<'a>(files: impl IntoIterator<Item = (&'a str, &'a [u8])>) -> String {
    let mut lines: Vec<(&str, String)> =
        files.into_iter().map(|(name, bytes)| (name, format!("{}  {name}\n", digest(bytes)))).collect();
    lines.sort_unstable();
    digest(lines.into_iter().map(|(_, line)| line).collect::<String>().as_bytes())
}

#[cfg(test)]
mod tests {
    use super::digest;

    /// Test vectors of FIPS 180-4 (SHA-256 of "abc" and of nothing), from memory of the standard's examples; `sha256sum`
    /// of coreutils prints the same.
    #[test]
    fn agrees_with_the_standard() {
        assert_eq!(digest(b"abc"), "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad");
        assert_eq!(digest(b""), "e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855");
    }
}
