//! Numbers as builders write them: thousands separators, fractions, mixed numbers.

use super::text::{Cursor, begins_number, vulgar_fraction};
use std::ops::Range;

const ONE_NUMBER: &str = "write one number, such as 36, 1,200.5, 5/8 or 3 1/2";

/// Why the characters at the cursor are not a number.
pub(super) enum NumberError {
    /// They do not begin like one.
    Missing,
    /// They begin like one and then go wrong.
    Bad { range: Range<usize>, advice: String },
}

/// Reads a number without its sign, such as `36`, `1,200.5`, `5/8`, `3 1/2`, `3-1/2` or `3½`, and moves past it.
pub(super) fn read(cursor: &mut Cursor) -> Result<f64, NumberError> {
    let start = cursor.place();
    if let Some(fraction) = fraction(cursor, start)? {
        return Ok(fraction);
    }
    let whole = decimal(cursor, start)?;
    let integral = !cursor.since(start).contains('.');
    let value = match integral.then(|| mixed(cursor, start)).transpose()?.flatten() {
        Some(part) => whole + part,
        None => whole,
    };
    after_number(cursor, start)?;
    no_second_number(cursor, start)?;
    Ok(value)
}

/// Refuses `120 000` and `4-6`: where a unit should be, another number begins.
fn no_second_number(cursor: &mut Cursor, start: usize) -> Result<(), NumberError> {
    let place = cursor.place();
    cursor.skip(|c| matches!(c, ' ' | '-'));
    if cursor.peek(0).is_some_and(begins_number) {
        cursor.skip(|c| begins_number(c) || matches!(c, ',' | '.' | '/'));
        return Err(bad(cursor, start, ONE_NUMBER));
    }
    cursor.back_to(place);
    Ok(())
}

/// The fraction that follows a whole number, behind a space or a hyphen.
fn mixed(cursor: &mut Cursor, start: usize) -> Result<Option<f64>, NumberError> {
    let place = cursor.place();
    let gap = cursor.skip_spaces() + usize::from(cursor.take('-'));
    if gap == 0 && cursor.peek(0).is_none_or(|c| vulgar_fraction(c).is_none()) {
        return Ok(None);
    }
    match fraction(cursor, start)? {
        Some(part) if part < 1.0 => Ok(Some(part)),
        Some(_) => Err(bad(cursor, start, "the fraction after a whole number must be less than one")),
        None => {
            cursor.back_to(place);
            Ok(None)
        }
    }
}

/// `5/8` or `½`; nothing, and the cursor unmoved, when something else follows.
fn fraction(cursor: &mut Cursor, start: usize) -> Result<Option<f64>, NumberError> {
    if let Some((above, below)) = cursor.peek(0).and_then(vulgar_fraction) {
        cursor.advance(1);
        after_number(cursor, start)?;
        return Ok(Some(above / below));
    }
    let place = cursor.place();
    let above = digits(cursor);
    if above.is_empty() || !cursor.take('/') || cursor.peek(0).is_none_or(|c| !c.is_ascii_digit()) {
        cursor.back_to(place);
        return Ok(None);
    }
    let below = parsed(&digits(cursor));
    if below == 0.0 {
        return Err(bad(cursor, start, "nothing can be divided by zero"));
    }
    after_number(cursor, start)?;
    Ok(Some(parsed(&above) / below))
}

/// `1,200.5`: digits, in groups of three when separated by commas, with or without decimals.
fn decimal(cursor: &mut Cursor, start: usize) -> Result<f64, NumberError> {
    let place = cursor.place();
    cursor.skip(|c| c.is_ascii_digit() || c == ',');
    let whole = cursor.since(place);
    if whole.starts_with(',') || !grouped(&whole) {
        return Err(bad(cursor, start, "a comma parts thousands, as in 120,000; a point begins the decimals, as in 0.35"));
    }
    let mut number = whole.replace(',', "");
    if cursor.peek(0) == Some('.') && cursor.peek(1).is_some_and(|c| c.is_ascii_digit()) {
        cursor.advance(1);
        number.push('.');
        number.push_str(&digits(cursor));
    }
    if number.is_empty() {
        return Err(NumberError::Missing);
    }
    Ok(parsed(&number))
}

/// Whether the commas, if any, part groups of three.
fn grouped(whole: &str) -> bool {
    let mut groups = whole.split(',');
    let first = groups.next().unwrap_or_default();
    let mut rest = groups.peekable();
    if rest.peek().is_none() {
        return true;
    }
    (1..=3).contains(&first.len()) && !first.starts_with('0') && rest.all(|group| group.len() == 3)
}

/// Refuses what cannot follow a number: an exponent, a second point, more digits.
fn after_number(cursor: &mut Cursor, start: usize) -> Result<(), NumberError> {
    let digit_at = |ahead| cursor.peek(ahead).is_some_and(|c: char| c.is_ascii_digit());
    let signed = matches!(cursor.peek(1), Some('+' | '-'));
    if matches!(cursor.peek(0), Some('e' | 'E')) && (digit_at(1) || (signed && digit_at(2))) {
        cursor.skip(|c| c.is_ascii_alphanumeric() || c == '+' || c == '-');
        return Err(bad(cursor, start, "write powers of ten out, such as 1,000 for 1e3"));
    }
    let more = |c: char| c.is_ascii_digit() || c == ',' || vulgar_fraction(c).is_some();
    if cursor.peek(0).is_some_and(more) || (cursor.peek(0) == Some('.') && digit_at(1)) {
        cursor.skip(|c| c.is_ascii_digit() || matches!(c, ',' | '.' | '/'));
        return Err(bad(cursor, start, ONE_NUMBER));
    }
    Ok(())
}

fn bad(cursor: &Cursor, start: usize, advice: &str) -> NumberError {
    NumberError::Bad { range: cursor.range(start), advice: advice.to_owned() }
}

fn digits(cursor: &mut Cursor) -> String {
    let place = cursor.place();
    cursor.skip(|c| c.is_ascii_digit());
    cursor.since(place)
}

/// Digits with at most one point; more of them than a float can hold become infinity, which the caller refuses.
fn parsed(number: &str) -> f64 {
    number.parse().unwrap_or(f64::NAN)
}
