//! Signatures against those OpenSSH made, and trust files line by line.

use super::{Distrust, KeyError, SignatureError, TrustFile, sign, verify};
use jiff::Timestamp;
use ssh_key::private::Ed25519Keypair;
use ssh_key::{LineEnding, PrivateKey};

/// What was signed.
const MESSAGE: &[u8] = b"not really a pack\n";

// Made by OpenSSH 9.2p1: `ssh-keygen -t ed25519 -f key`, `ssh-keygen -Y sign -n redtag-pack -f key message`; the private keys
// were thrown away.
const ED25519_KEY: &str = "ssh-ed25519 AAAAC3NzaC1lZDI1NTE5AAAAIHIBONPaqOjkj7a+ne2ShhIZGMd2/bxqDdOPuFocfOF0";
const ED25519: &str = "-----BEGIN SSH SIGNATURE-----
U1NIU0lHAAAAAQAAADMAAAALc3NoLWVkMjU1MTkAAAAgcgE409qo6OSPtr6d7ZKGEhkYx3
b9vGoN04+4Whx84XQAAAALcmVkdGFnLXBhY2sAAAAAAAAABnNoYTUxMgAAAFMAAAALc3No
LWVkMjU1MTkAAABAOnyxrtT1VbxvbT/fCA+9CjkY6QnPiAxv1os7PIXQlWA8BQHx7RArWb
yeeg7iobaMrYASTsbr2u6ShZ34EEDqAA==
-----END SSH SIGNATURE-----
";
const P256_KEY: &str = "ecdsa-sha2-nistp256 AAAAE2VjZHNhLXNoYTItbmlzdHAyNTYAAAAIbmlzdHAyNTYAAABBBBAMqubjvBhkWHKzQXzeFhidQWWfWug6rNzbDAuW6xUHaZh/SAfMC62+w2Dy9h39crXuWYUikob+7Kzsrtw/Vnw=";
const P256: &str = "-----BEGIN SSH SIGNATURE-----
U1NIU0lHAAAAAQAAAGgAAAATZWNkc2Etc2hhMi1uaXN0cDI1NgAAAAhuaXN0cDI1NgAAAE
EEEAyq5uO8GGRYcrNBfN4WGJ1BZZ9a6Dqs3NsMC5brFQdpmH9IB8wLrb7DYPL2Hf1yte5Z
hSKShv7srOyu3D9WfAAAAAtyZWR0YWctcGFjawAAAAAAAAAGc2hhNTEyAAAAZAAAABNlY2
RzYS1zaGEyLW5pc3RwMjU2AAAASQAAACAZaFlTERMIQY+zisqDAPGxJVQLL0vE4ooWXsw4
lPC3HwAAACEAnRgN24YtIXFPlPWnYa4SVWMGdryM7pvJRRC2laiuGoc=
-----END SSH SIGNATURE-----
";
const RSA: &str = "-----BEGIN SSH SIGNATURE-----
U1NIU0lHAAAAAQAAARcAAAAHc3NoLXJzYQAAAAMBAAEAAAEBAJ+UXdBFnByBJUBOSWT8Ky
bqvkSm3c3Y+fJ9qN/y8RtEz6NxT3Ch35NHM3ZoXZFv2HN1lkgbKR1gjBkdC3IkPzxzb6Kw
5OjhEC51dpe8rkfkwvhLuLk2i6kjptFfd0OHzlL0nThg0GDgjXELFm79RvNp0XAaX/76gC
f745Ziog8JdYwxU7OlEh5OqkBjzW21joCDVxt2AmpdsgtA8+FTWWk2hkBDkww4e2lMT2oo
PrbE1MjC1lWy/VH/98a4qoF2rOniO6C238aq4aKgjzNCOn4MhtH1Q+fBe5g77qOZ3cHNyW
HZcgKQCvby47pRpHo/k1M9N9lRPoP05uXxUhTp8M8AAAALcmVkdGFnLXBhY2sAAAAAAAAA
BnNoYTUxMgAAARQAAAAMcnNhLXNoYTItNTEyAAABAFw+YVRc/pWZpvVeM6/eMitghMSVMj
7sSBR7AfZp4AFy2Fg2w5PUYoSmadlaSCo1SVbGYF7hqhebWl9myt5a5jlkE46tZ13obb6J
QOkPYpM13HVGQPmrhpjO/mHQWXbVZbA0IjkbBFGCYXTvCFnL0YZcZrfwQ2K/p/lrDdd837
3DUFdtayLa8FItw9HxgnCL9OSaqsdB5MyuaL1pWZ0sA0YwpoPxxyhdQIND89DIL7o0x4qx
5xkBnuEfmlnI8ex+RJG0i/+7EYQvH+LZ7wEz3a94vRhJhuGeJu+u8llivfBDB3mAOcimBB
4gl5UDYIP8q1JottJKH5vg6PKp+2WNGPM=
-----END SSH SIGNATURE-----
";

fn moment(text: &str) -> Timestamp {
    text.parse().expect("a moment")
}

/// Whether the line lets the key that made the ed25519 signature sign packs at noon of 1 June 2026.
fn judged(line: &str) -> Result<String, Distrust> {
    let signed = verify(MESSAGE, ED25519.as_bytes()).expect("a signature that fits");
    let file = TrustFile::parse("signers", line).expect("a trust file");
    file.judge(&signed, "tarnmark-county", moment("2026-06-01T12:00:00Z")).map(str::to_owned)
}

#[test]
fn signatures_of_openssh_fit() {
    for (signature, key) in [(ED25519, ED25519_KEY), (P256, P256_KEY)] {
        let signed = verify(MESSAGE, signature.as_bytes()).expect("it fits");
        let file = TrustFile::parse("signers", &format!("tarnmark-* {key}\n")).expect("a trust file");
        assert_eq!(file.judge(&signed, "tarnmark-county", moment("2026-06-01T12:00:00Z")), Ok("tarnmark-*"));
        // As a system that ends lines with two characters keeps it.
        assert_eq!(verify(MESSAGE, signature.replace('\n', "\r\n").as_bytes()), Ok(signed));
    }
}

#[test]
fn another_message_another_purpose_another_kind_or_half_a_signature_does_not_count() {
    assert_eq!(verify(b"not really a pack!\n", ED25519.as_bytes()), Err(SignatureError::Mismatch));
    assert_eq!(verify(MESSAGE, RSA.as_bytes()), Err(SignatureError::Kind { kind: "ssh-rsa".to_owned() }));
    for length in 0..ED25519.trim_end().len() {
        assert!(verify(MESSAGE, &ED25519.as_bytes()[..length]).is_err(), "{length}");
    }
    let key = PrivateKey::from(Ed25519Keypair::from_seed(&[7; 32]));
    let elsewhere = key.sign("file", ssh_key::HashAlg::Sha512, MESSAGE).expect("signed").to_pem(LineEnding::LF).expect("text");
    assert_eq!(
        verify(MESSAGE, elsewhere.as_bytes()),
        Err(SignatureError::Namespace { wanted: "redtag-pack", found: "file".to_owned() })
    );
}

#[test]
fn no_changed_character_of_a_signature_goes_unnoticed_or_panics() {
    for index in 0..ED25519.len() {
        let mut bytes = ED25519.as_bytes().to_vec();
        bytes[index] = if bytes[index] == b'B' { b'C' } else { b'B' };
        // Bits that hold nothing may change in the last character before the padding, and a line end may be spelt otherwise.
        if let Ok(signed) = verify(MESSAGE, &bytes) {
            assert_eq!(Ok(signed), verify(MESSAGE, ED25519.as_bytes()), "{index}");
        }
    }
}

#[test]
fn what_is_signed_here_fits_and_is_the_same_every_time() {
    let key = PrivateKey::from(Ed25519Keypair::from_seed(&[7; 32])).to_openssh(LineEnding::LF).expect("a key");
    let signature = sign(MESSAGE, key.as_bytes()).expect("signed");
    assert_eq!(sign(MESSAGE, key.as_bytes()), Ok(signature.clone()));
    assert!(verify(MESSAGE, signature.as_bytes()).is_ok());
    assert_eq!(sign(MESSAGE, ED25519_KEY.as_bytes()), Err(KeyError::Unreadable));
}

#[test]
fn a_line_of_a_trust_file_says_who_for_what_and_when() {
    let key = ED25519_KEY;
    let by = |who: &str| Ok(who.to_owned());
    for line in [
        format!("tarnmark-*,plans@county.example {key}"),
        format!("# who signs\n\n  tarnmark-*,plans@county.example   {key} a comment\n"),
        format!("tarnmark-*,plans@county.example namespaces=\"git,redtag-pack\" {key}"),
        format!(
            "tarnmark-*,plans@county.example NAMESPACES=\"redtag-*\",valid-after=\"20260101\",valid-before=\"20261231Z\" {key}"
        ),
        format!("tarnmark-*,plans@county.example valid-after=20260601115959Z,valid-before=202606011201Z {key}"),
        format!("* valid-before=\"20250101\" {key}\ntarnmark-*,plans@county.example {key}"),
        format!("saltreach-* {key}\ntarnmark-*,plans@county.example {key}"),
    ] {
        assert_eq!(judged(&line), by("tarnmark-*,plans@county.example"), "{line}");
    }
    assert_eq!(judged(&format!("\"a b,*\" {key}")), by("a b,*"));
    assert_eq!(judged(&format!("x {P256_KEY}")), Err(Distrust::Unknown));
    assert_eq!(judged(&format!("x cert-authority {key}")), Err(Distrust::Unknown), "it may sign certificates, not packs");
    assert_eq!(judged(&format!("x namespaces=\"git\" {key}")), Err(Distrust::Namespace { purpose: "redtag-pack", line: 1 }));
    let day = |line: &str| judged(&format!("\n* {line} {key}"));
    assert_eq!(day("valid-after=20260602"), Err(Distrust::Day { line: 2, state: "not yet valid" }));
    assert_eq!(day("valid-before=20260530"), Err(Distrust::Day { line: 2, state: "no longer valid" }));
}

#[test]
fn a_key_vouches_for_the_packs_its_line_names_and_for_no_other() {
    for (principals, takes) in [
        ("tarnmark-county", true),
        ("tarnmark-*", true),
        ("*", true),
        ("plans@county.example,tarnmark-?ounty", true),
        ("plans@county.example", false),
        ("saltreach-*", false),
        ("*,!tarnmark-*", false),
        ("tarnmark", false),
        ("TARNMARK-*", false),
        ("model-residential", false),
    ] {
        let judged = judged(&format!("{principals} {ED25519_KEY}"));
        assert_eq!(judged.is_ok(), takes, "{principals}: {judged:?}");
        if !takes {
            assert!(matches!(judged, Err(Distrust::Name { line: 1, .. })), "{judged:?}");
        }
    }
}

#[test]
pub(crate) fn a_wrong_line_is_shown_and_no_other_counts() {
    let good = format!("x {ED25519_KEY}\n");
    for (line, words) in [
        ("x", "no key"),
        ("x ssh-ed25519", "no key"),
        ("x ssh-ed25519 AAAA", "cannot be read"),
        ("x namespaces=\"redtag-pack ssh-ed25519 AAAA", "not closed"),
        (&format!("x no-such-option {ED25519_KEY}"), "no option"),
        (&format!("x valid-after=2026-01-01 {ED25519_KEY}"), "is no time"),
        (&format!("x valid-before=20261301 {ED25519_KEY}"), "is no time"),
    ] {
        let complaints = TrustFile::parse("signers", &format!("{good}{line}\n")).expect_err(line);
        assert_eq!(complaints.len(), 1, "{line}");
        assert!(complaints[0].message.contains(words), "{line}: {}", complaints[0].message);
        assert_eq!(complaints[0].primary.as_ref().map(|span| span.start().line), Some(2), "{line}");
    }
    assert!(TrustFile::parse("signers", "# nobody\n").is_err());
}

#[test]
fn the_same_line_is_read_the_same_way_whatever_it_holds() {
    let alphabet =
        [" ", "\"", ",", "=", "!", "*", "x", "ssh-ed25519", "AAAA", "namespaces", "valid-after", "2026", "\t", "\u{e9}", "#"];
    // Every line of up to four pieces: none may panic.
    for number in 0..alphabet.len().pow(4) {
        let pieces = (0..4).scan(number, |left, _| {
            let piece = alphabet[*left % alphabet.len()];
            *left /= alphabet.len();
            Some(piece)
        });
        let _ = TrustFile::parse("signers", &pieces.collect::<String>());
    }
}
