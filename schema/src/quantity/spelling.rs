//! From the many ways to spell a unit to one key.

/// The key of a unit as somebody spelled it: words become symbols, powers digits, factors are sorted.
///
/// `"Btu per cubic foot"`, `"BTU/ft³"` and `"Btu / cu. ft."` are all `"Btu/ft3"`; `"ft² · h · °F / Btu"` and
/// `"h ft2 °F/Btu"` are both `"ft2·h·°F/Btu"`.
pub(super) fn key(text: &str) -> String {
    let mut parts: Vec<Vec<String>> = vec![Vec::new()];
    let mut pending = Pending::default();
    for token in tokens(text) {
        if token == "/" {
            pending.flush(parts.last_mut());
            parts.push(Vec::new());
        } else {
            pending.push(token, parts.last_mut());
        }
    }
    pending.flush(parts.last_mut());
    let mut parts = parts.into_iter();
    let mut key = joined(parts.next().unwrap_or_default());
    let below: Vec<Vec<String>> = parts.collect();
    // A slash with nothing behind it stays in the key, which then is nobody's.
    if below.iter().any(Vec::is_empty) {
        key.push('/');
    }
    if !below.is_empty() {
        key.push('/');
        key.push_str(&joined(below.into_iter().flatten().collect()));
    }
    key
}

fn joined(mut factors: Vec<String>) -> String {
    // Letter case may be wrong and is looked at later; it must not change the order.
    factors.sort_unstable_by_key(|factor| factor.to_ascii_lowercase());
    factors.join("·")
}

/// A word that changes the next one: square, cubic, a degree sign, a thousand.
#[derive(Default)]
struct Pending(Option<String>);

impl Pending {
    fn push(&mut self, token: String, factors: Option<&mut Vec<String>>) {
        let Some(factors) = factors else { return };
        let whole = match self.0.take() {
            None => token,
            Some(before) => match (before.as_str(), token.as_str()) {
                ("sq", unit) => format!("{unit}2"),
                ("cu", unit) => format!("{unit}3"),
                ("°", "F" | "C") => format!("°{token}"),
                ("k" | "K", "Btu") => "kBtu".to_owned(),
                ("k", "W" | "VA" | "Wh") => format!("k{token}"),
                ("water", "column" | "gauge" | "gage") => "wc".to_owned(),
                _ => {
                    factors.push(before);
                    token
                }
            },
        };
        if matches!(whole.as_str(), "sq" | "cu" | "°" | "k" | "K" | "water") {
            self.0 = Some(whole);
        } else {
            factors.push(whole);
        }
    }

    fn flush(&mut self, factors: Option<&mut Vec<String>>) {
        if let (Some(before), Some(factors)) = (self.0.take(), factors) {
            factors.push(if before == "water" { "wc".to_owned() } else { before });
        }
    }
}

/// Words and slashes, each word as its symbol.
fn tokens(text: &str) -> Vec<String> {
    let mut found = Vec::new();
    let mut word = String::new();
    for c in text.chars() {
        match c {
            '.' | '^' => {}
            '²' | '₂' => word.push('2'),
            '³' => word.push('3'),
            '\'' | '"' | '/' => {
                end_word(&mut word, &mut found);
                found.push(mark(c).to_owned());
            }
            ' ' | '-' | '·' | '*' | '⋅' | '×' => end_word(&mut word, &mut found),
            '℉' => word.push_str("°F"),
            '℃' => word.push_str("°C"),
            c => word.push(c),
        }
    }
    end_word(&mut word, &mut found);
    // Two single marks are how a typewriter writes a double one.
    if found == ["ft", "ft"] && text.contains("''") {
        return vec!["in".to_owned()];
    }
    found
}

fn mark(c: char) -> &'static str {
    match c {
        '\'' => "ft",
        '"' => "in",
        _ => "/",
    }
}

fn end_word(word: &mut String, found: &mut Vec<String>) {
    if word.is_empty() {
        return;
    }
    let symbol = symbol(word);
    if symbol != "of" {
        found.push(symbol);
    }
    word.clear();
}

/// The symbol of a unit's name; any other word as it stands.
fn symbol(word: &str) -> String {
    let lower = word.to_ascii_lowercase();
    NAMES
        .iter()
        .find(|(_, names)| names.contains(&lower.as_str()))
        .map_or_else(|| word.to_owned(), |(symbol, _)| (*symbol).to_owned())
}

/// Symbols and the names, in lower case, that mean them.
const NAMES: &[(&str, &[&str])] = &[
    ("/", &["per"]),
    ("of", &["of"]),
    ("sq", &["sq", "square"]),
    ("cu", &["cu", "cubic"]),
    ("°", &["deg", "degs", "degree", "degrees"]),
    ("°F", &["degf"]),
    ("°C", &["degc"]),
    ("F", &["fahrenheit"]),
    ("C", &["celsius", "centigrade"]),
    ("K", &["kelvin", "kelvins"]),
    ("in", &["inch", "inches", "ins"]),
    ("ft", &["foot", "feet"]),
    ("mph", &["mph"]),
    ("MBH", &["mbh"]),
    ("yd", &["yard", "yards", "yds"]),
    ("mi", &["mile", "miles"]),
    ("m", &["m", "meter", "meters", "metre", "metres"]),
    ("cm", &["centimeter", "centimeters", "centimetre", "centimetres"]),
    ("mm", &["mm", "millimeter", "millimeters", "millimetre", "millimetres"]),
    ("km", &["kilometer", "kilometers", "kilometre", "kilometres"]),
    ("gal", &["gallon", "gallons", "gals"]),
    ("L", &["l", "liter", "liters", "litre", "litres", "ltr"]),
    ("mL", &["milliliter", "milliliters", "millilitre", "millilitres"]),
    ("s", &["sec", "secs", "second", "seconds"]),
    ("min", &["min", "mins", "minute", "minutes"]),
    ("h", &["hr", "hrs", "hour", "hours"]),
    ("d", &["day", "days"]),
    ("wk", &["wks", "week", "weeks"]),
    ("yr", &["yrs", "year", "years"]),
    ("Btu", &["btu", "btus"]),
    ("Btuh", &["btuh"]),
    ("kBtu", &["kbtu", "kbtus"]),
    ("kBtuh", &["kbtuh"]),
    ("MMBtu", &["mmbtu", "mmbtus"]),
    ("therm", &["therms"]),
    ("ton", &["tons"]),
    ("W", &["watt", "watts"]),
    ("kW", &["kilowatt", "kilowatts"]),
    ("Wh", &["whr"]),
    ("kWh", &["kwhr"]),
    ("hp", &["horsepower"]),
    ("V", &["volt", "volts"]),
    ("A", &["amp", "amps", "ampere", "amperes"]),
    ("mA", &["milliamp", "milliamps", "milliampere", "milliamperes"]),
    ("Ω", &["ohm", "ohms"]),
    ("Hz", &["hertz"]),
    ("Pa", &["pascal", "pascals"]),
    ("kPa", &["kilopascal", "kilopascals"]),
    ("bar", &["bars"]),
    ("wc", &["wg", "h2o"]),
    ("inwc", &["inh2o", "inwg"]),
    ("Hg", &["mercury"]),
    ("lb", &["lbs", "pound", "pounds", "lbm"]),
    ("oz", &["ounce", "ounces"]),
    ("kg", &["kilogram", "kilograms", "kgs"]),
    ("g", &["gram", "grams"]),
    ("mg", &["milligram", "milligrams"]),
    ("gr", &["grain", "grains"]),
    ("rad", &["radian", "radians"]),
    ("%", &["percent", "pct"]),
];

/// The one of `known` that differs from `text` in the fewest letters, if few enough to be a slip.
pub(super) fn nearest(text: &str, known: impl Iterator<Item = (&'static str, &'static str)>) -> Option<&'static str> {
    let text: Vec<char> = key(text).to_ascii_lowercase().chars().collect();
    let allowed = if text.len() < 3 { 1 } else { 2 };
    known
        .map(|(key, symbol)| (distance(&text, &key.to_ascii_lowercase()), symbol))
        .filter(|&(distance, _)| distance <= allowed && distance < text.len())
        .min_by_key(|&(distance, _)| distance)
        .map(|(_, symbol)| symbol)
}

/// How many letters must be added, dropped or changed (Levenshtein).
fn distance(left: &[char], right: &str) -> usize {
    let mut row: Vec<usize> = (0..=left.len()).collect();
    for (i, c) in right.chars().enumerate() {
        let mut diagonal = row[0];
        row[0] = i + 1;
        for (j, &l) in left.iter().enumerate() {
            let change = diagonal + usize::from(l != c);
            diagonal = row[j + 1];
            row[j + 1] = change.min(diagonal + 1).min(row[j] + 1);
        }
    }
    row[left.len()]
}

/// Words of the trade that look like a unit and are none (keys in lower case), with what to write instead.
const NOT_UNITS: &[(&[&str], &str)] = &[
    (&["awg"], "a wire size is a name, not an amount"),
    (&["ga", "gauge", "gage"], "a gauge is a name, not an amount; write the thickness"),
    (&["ach50"], "ACH50 is the result of a test at 50 Pa; write ACH in the field for that test"),
    (&["mbtu", "mbtuh", "mbtu/h"], "some read a thousand, others a million; write kBtu or MMBtu"),
    (&["psia"], "pressures are above the atmosphere's; write the gauge pressure in psi"),
    (&["mo", "month", "months"], "months differ in length; write days"),
];

/// What to tell somebody who took this word for a unit.
pub(super) fn not_a_unit(text: &str) -> Option<&'static str> {
    let key = key(text).to_ascii_lowercase();
    NOT_UNITS.iter().find(|(words, _)| words.contains(&key.as_str())).map(|&(_, advice)| advice)
}
