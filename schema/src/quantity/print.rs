//! From a number in SI base units to the words of a report.

use super::unit::{self, Unit};
use super::{Kind, System, at_least, at_most};

/// Significant digits of what is not whole.
const DIGITS: usize = 5;
/// No more digits than this tell two amounts apart.
const MOST_DIGITS: usize = 12;
/// From here on a number is printed with a power of ten: a float holds no more whole digits.
const LARGEST_PLAIN: f64 = 1e15;
/// Below this too.
const SMALLEST_PLAIN: f64 = 1e-9;
/// A number this close to a whole one, relative to it, was whole before it was converted.
const CONVERSION: f64 = 1e-11;

pub(super) fn print(kind: Kind, si: f64, system: System, unit: Option<&str>) -> String {
    in_unit(kind, si, choose(kind, si, system, unit), DIGITS)
}

pub(super) fn print_apart(kind: Kind, actual: f64, limit: f64, system: System, unit: Option<&str>) -> (String, String) {
    // One unit for both: the limit's.
    let chosen = choose(kind, limit, system, unit);
    let both = |digits| (in_unit(kind, actual, chosen, digits), in_unit(kind, limit, chosen, digits));
    let same = at_least(actual, limit) && at_most(actual, limit);
    let apart = (DIGITS..=MOST_DIGITS).map(both).find(|(actual, limit)| actual != limit);
    apart.filter(|_| !same).unwrap_or_else(|| both(DIGITS))
}

fn choose(kind: Kind, si: f64, system: System, unit: Option<&str>) -> Option<&'static Unit> {
    unit.and_then(|text| unit::find(kind.units(), text)).or_else(|| unit::find(kind.units(), usual(kind, si, system)))
}

fn in_unit(kind: Kind, si: f64, unit: Option<&Unit>, digits: usize) -> String {
    let value = unit.map_or(si, |unit| unit.from_si(si));
    // A difference of equal amounts leaves a trace that is not worth a power of ten.
    let trace = kind.may_be_negative() && value.abs() < SMALLEST_PLAIN;
    let number = number(if trace { 0.0 } else { value }, digits);
    match unit {
        Some(unit) => with_unit(&number, unit),
        None => format!("{number} {}", kind.si_unit()),
    }
}

/// The unit to print when nobody asks for one. Times span from seconds to months and areas from an orifice to a house, so
/// theirs follow the size.
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
        System::Si if kind == Kind::Area && si != 0.0 && si.abs() < 0.1 => match si.abs() < 1e-4 {
            true => "mm²",
            false => "cm²",
        },
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

/// So many significant digits, thousands parted, no zeros at the end; whole numbers in full.
fn number(value: f64, digits: usize) -> String {
    if !value.is_finite() {
        return "not a number".to_owned();
    }
    if value != 0.0 && !(SMALLEST_PLAIN..LARGEST_PLAIN).contains(&value.abs()) {
        return format!("{value:.4e}");
    }
    let whole = value.round();
    if (value - whole).abs() <= CONVERSION * value.abs() {
        return grouped(&format!("{whole:.0}"));
    }
    let plain = format!("{value:.*}", decimals(value, digits));
    let trimmed = match plain.contains('.') {
        true => plain.trim_end_matches('0').trim_end_matches('.'),
        false => &plain,
    };
    grouped(trimmed)
}

/// How many decimals leave so many significant digits. The exponent is read off the formatter, which answers the same
/// on every machine; a logarithm need not.
fn decimals(value: f64, digits: usize) -> usize {
    let scientific = format!("{value:.*e}", digits - 1);
    let exponent = scientific.split_once('e').and_then(|(_, exponent)| exponent.parse().ok());
    let decimals = digits as i64 - 1 - exponent.unwrap_or(0_i64);
    usize::try_from(decimals).unwrap_or(0)
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
