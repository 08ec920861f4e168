//! From a number in SI base units to the words of a report.

use super::unit::{self, Unit};
use super::{Kind, System};

/// Significant digits of what is not whole.
const DIGITS: usize = 5;
/// From here on a number is printed with a power of ten: a float holds no more whole digits.
const LARGEST_PLAIN: f64 = 1e15;
/// A number this close to a whole one, relative to it, was whole before it was converted.
const CONVERSION: f64 = 1e-11;

pub(super) fn print(kind: Kind, si: f64, system: System, unit: Option<&str>) -> String {
    let chosen =
        unit.and_then(|text| unit::find(kind.units(), text)).or_else(|| unit::find(kind.units(), usual(kind, si, system)));
    match chosen {
        Some(unit) => with_unit(&number(unit.from_si(si)), unit),
        None => format!("{} {}", number(si), kind.si_unit()),
    }
}

/// The unit to print when nobody asks for one. Times span from seconds to months, so theirs follows the size.
fn usual(kind: Kind, si: f64, system: System) -> &'static str {
    if kind == Kind::Duration {
        return match si {
            s if s < 120.0 => "s",
            s if s < 7_200.0 => "min",
            s if s < 172_800.0 => "h",
            _ => "d",
        };
    }
    match system {
        System::UsCustomary => kind.facts().us,
        System::Si => kind.facts().si,
    }
}

/// A number and its unit as the trade writes them together: `36 in`, `45°`, `R-13`.
pub(super) fn with_unit(number: &str, unit: &Unit) -> String {
    match unit.symbol {
        "R" => format!("R-{number}"),
        "°" => format!("{number}°"),
        "" => number.to_owned(),
        symbol => format!("{number} {symbol}"),
    }
}

/// Five significant digits, thousands parted, no zeros at the end; whole numbers in full.
pub(super) fn number(value: f64) -> String {
    if !value.is_finite() {
        return "not a number".to_owned();
    }
    if value != 0.0 && !(1e-9..LARGEST_PLAIN).contains(&value.abs()) {
        return format!("{value:.4e}");
    }
    let whole = value.round();
    if (value - whole).abs() <= CONVERSION * value.abs() {
        return grouped(&format!("{whole:.0}"));
    }
    let plain = format!("{value:.*}", decimals(value));
    let trimmed = match plain.contains('.') {
        true => plain.trim_end_matches('0').trim_end_matches('.'),
        false => &plain,
    };
    grouped(trimmed)
}

/// How many decimals leave [`DIGITS`] significant digits. The exponent is read off the formatter, which answers the
/// same on every machine; a logarithm need not.
fn decimals(value: f64) -> usize {
    let scientific = format!("{value:.*e}", DIGITS - 1);
    let exponent: i32 = scientific.split_once('e').and_then(|(_, exponent)| exponent.parse().ok()).unwrap_or(0);
    usize::try_from(DIGITS as i32 - 1 - exponent).unwrap_or(0)
}

/// Commas between thousands; no sign on zero.
fn grouped(plain: &str) -> String {
    let (sign, digits) = match plain.strip_prefix('-') {
        Some(digits) => ("-", digits),
        None => ("", plain),
    };
    let (whole, decimals) = match digits.split_once('.') {
        Some((whole, decimals)) => (whole, format!(".{decimals}")),
        None => (digits, String::new()),
    };
    let mut parted = String::new();
    for (i, c) in whole.chars().enumerate() {
        if i > 0 && (whole.len() - i) % 3 == 0 {
            parted.push(',');
        }
        parted.push(c);
    }
    let zero = digits.chars().all(|c| matches!(c, '0' | '.'));
    format!("{}{parted}{decimals}", if zero { "" } else { sign })
}
