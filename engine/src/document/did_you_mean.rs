//! The name somebody probably meant.

/// The option nearest to a word, if one is near enough to be meant. Of equally near ones, the first.
pub fn did_you_mean<'a>(word: &str, options: impl IntoIterator<Item = &'a str>) -> Option<&'a str> {
    let word = plain(word);
    let mut best: Option<(f64, &str)> = None;
    for option in options {
        let near = nearness(&word, &plain(option));
        if near >= NEAR_ENOUGH && best.is_none_or(|(nearest, _)| near > nearest) {
            best = Some((near, option));
        }
    }
    best.map(|(_, option)| option)
}

/// Tuned on the two tables in the tests: 1 is the same word, 0 has nothing in common.
const NEAR_ENOUGH: f64 = 0.6;

/// Letters that few people tell apart in a name: case, and what joins its parts.
fn plain(name: &str) -> String {
    name.trim().chars().map(|letter| if matches!(letter, '-' | ' ') { '_' } else { letter.to_ascii_lowercase() }).collect()
}

fn nearness(word: &str, option: &str) -> f64 {
    let (joined, joined_option) = (word.replace('_', ""), option.replace('_', ""));
    if joined == joined_option || sorted_parts(word) == sorted_parts(option) {
        return 1.0;
    }
    let letters = word.chars().count().max(option.chars().count());
    let slips = strsim::damerau_levenshtein(word, option);
    // One slip is always forgiven, more only in longer names; of two letters nothing is left after a slip.
    let slipped = if letters > 2 && slips <= (letters / 4).max(1) { 1.0 - slips as f64 / (letters as f64 + 1.0) } else { 0.0 };
    // Begins alike and goes on in the same order: `mech_room` for `mechanical_room`.
    let alike = Some(strsim::jaro_winkler(&joined, &joined_option)).filter(|alike| *alike >= ALIKE).unwrap_or_default();
    slipped.max(alike).max(parts_in_common(word, option))
}

/// How alike two names must begin (Jaro-Winkler) when more than a slip tells them apart.
const ALIKE: f64 = 0.88;

fn sorted_parts(name: &str) -> Vec<&str> {
    let mut parts: Vec<_> = name.split('_').collect();
    parts.sort_unstable();
    parts
}

/// How much of the longer name the parts both have make up: `ceiling` in `ceiling_height`. A name all of whose parts are
/// there is near enough in any case.
fn parts_in_common(word: &str, option: &str) -> f64 {
    let parts: Vec<_> = word.split('_').collect();
    let common: usize = option.split('_').filter(|part| parts.contains(part)).map(str::len).sum();
    let letters = |name: &str| name.len() - name.matches('_').count();
    let share = common as f64 / letters(word).max(letters(option)).max(1) as f64;
    if common >= 4 && common == letters(word) { share.max(NEAR_ENOUGH + share / 10.0) } else { share }
}
