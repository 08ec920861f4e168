//! Pattern lists as OpenSSH has them (ssh_config, PATTERNS): patterns with `*` and `?`, separated by commas; one that begins
//! with `!` and fits rules the whole list out.

/// Whether a list of patterns takes in the words.
pub(super) fn takes(list: &str, words: &str) -> bool {
    let mut taken = false;
    for pattern in list.split(',') {
        match pattern.strip_prefix('!') {
            Some(barred) if fits(barred, words) => return false,
            Some(_) => {}
            None => taken |= fits(pattern, words),
        }
    }
    taken
}

/// One pattern. A star that was passed is gone back to only where a later one cannot help, so the work stays small.
fn fits(pattern: &str, words: &str) -> bool {
    let (pattern, words) = (pattern.as_bytes(), words.as_bytes());
    let (mut at, mut in_words) = (0, 0);
    let mut star = None;
    while in_words < words.len() {
        match pattern.get(at) {
            Some(b'*') => {
                star = Some((at, in_words));
                at += 1;
            }
            Some(&wanted) if wanted == b'?' || wanted == words[in_words] => (at, in_words) = (at + 1, in_words + 1),
            _ => {
                let Some((star_at, from)) = star else { return false };
                star = Some((star_at, from + 1));
                (at, in_words) = (star_at + 1, from + 1);
            }
        }
    }
    pattern[at..].iter().all(|&left| left == b'*')
}

#[cfg(test)]
mod tests {
    use super::takes;

    #[test]
    fn lists_of_patterns_are_read_as_openssh_reads_them() {
        for list in ["redtag-pack", "git,redtag-pack", "*", "redtag-*", "r?dtag-pack", "*-*", "**k", "!git,redtag*"] {
            assert!(takes(list, "redtag-pack"), "{list}");
        }
        for list in ["", "git", "redtag", "redtag-pack?", "*,!redtag-pack", "!redtag-*,redtag-pack", "!git", "a*"] {
            assert!(!takes(list, "redtag-pack"), "{list}");
        }
    }
}
