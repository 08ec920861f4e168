//! From the author's text to a number in SI base units.

use super::number::{self, NumberError};
use super::text::{Cursor, LONGEST, begins_number};
use super::unit::{self, Unit};
use super::{Kind, QuantityError, spelling};
use std::ops::Range;

/// Above this a ratio without a unit is more likely a forgotten percent sign.
const LARGEST_BARE_RATIO: f64 = 2.0;

/// Reads `text` as an amount of `kind`, in SI base units.
pub(super) fn read(text: &str, kind: Kind) -> Result<f64, QuantityError> {
    let range = 0..text.len();
    if text.len() > LONGEST {
        return Err(QuantityError::TooLong { wanted: kind, range });
    }
    if text.trim().is_empty() {
        return Err(QuantityError::Empty { wanted: kind, range });
    }
    let si = Reader { text, kind, cursor: Cursor::new(text) }.amount()?;
    check(si, text, kind)?;
    // Minus zero becomes zero.
    Ok(si + 0.0)
}

/// Refuses numbers no amount of this kind can have; `text` is what the message quotes.
pub(super) fn check(si: f64, text: &str, kind: Kind) -> Result<(), QuantityError> {
    let (quoted, range) = (text.trim().to_owned(), 0..text.len());
    if !si.is_finite() {
        return Err(QuantityError::NotFinite { text: quoted, wanted: kind, range });
    }
    if kind == Kind::Temperature && si < 0.0 {
        return Err(QuantityError::BelowAbsoluteZero { text: quoted, range });
    }
    if si < 0.0 && !kind.may_be_negative() {
        return Err(QuantityError::Negative { text: quoted, wanted: kind, range });
    }
    Ok(())
}

struct Reader<'a> {
    text: &'a str,
    kind: Kind,
    cursor: Cursor,
}

/// A number and its unit, one part of an amount.
struct Part {
    number: f64,
    unit: &'static Unit,
    range: Range<usize>,
}

impl Reader<'_> {
    fn amount(mut self) -> Result<f64, QuantityError> {
        self.cursor.skip_spaces();
        if self.kind == Kind::ThermalResistance && self.take_r() {
            return self.r_value();
        }
        let negative = self.cursor.take('-');
        if !negative {
            self.cursor.take('+');
        }
        self.cursor.skip_spaces();
        let start = self.cursor.place();
        let number = self.number()?;
        if let Some(proportion) = self.proportion(number)? {
            return Ok(if negative { -proportion } else { proportion });
        }
        let first = self.part(start, if negative { -number } else { number })?;
        self.with_further_parts(first, negative)
    }

    /// Adds the inches to the feet, the minutes to the hours.
    fn with_further_parts(mut self, first: Part, negative: bool) -> Result<f64, QuantityError> {
        let mut si = first.unit.to_si(first.number);
        let mut before = first;
        while self.more() {
            let start = self.cursor.place();
            let number = self.number()?;
            let part = self.part(start, number)?;
            self.check_parts(&before, &part)?;
            let size = part.unit.to_si(part.number);
            si += if negative { -size } else { size };
            before = part;
        }
        Ok(si)
    }

    /// Moves to the next part of an amount, past the space, comma or hyphen between them.
    fn more(&mut self) -> bool {
        self.cursor.skip(|c| matches!(c, ' ' | ',' | '-'));
        !self.cursor.done()
    }

    fn number(&mut self) -> Result<f64, QuantityError> {
        let start = self.cursor.place();
        number::read(&mut self.cursor).map_err(|error| match error {
            NumberError::Missing => {
                let range = self.cursor.rest(start);
                QuantityError::NotANumber { text: self.text[range.clone()].trim().to_owned(), wanted: self.kind, range }
            }
            NumberError::Bad { range, advice } => {
                QuantityError::BadNumber { text: self.text[range.clone()].to_owned(), advice, range }
            }
        })
    }

    /// What stands alone in a ratio or a slope: `1:4`, or a ratio's plain number.
    fn proportion(&mut self, number: f64) -> Result<Option<f64>, QuantityError> {
        if !matches!(self.kind, Kind::Ratio | Kind::Slope) {
            return Ok(None);
        }
        let place = self.cursor.place();
        self.cursor.skip_spaces();
        if self.cursor.done() && self.kind == Kind::Ratio && number <= LARGEST_BARE_RATIO {
            return Ok(Some(number));
        }
        if !self.cursor.take(':') {
            self.cursor.back_to(place);
            return Ok(None);
        }
        self.cursor.skip_spaces();
        let start = self.cursor.place();
        let below = self.number()?;
        let range = self.cursor.range(start);
        if below == 0.0 {
            let advice = "nothing can be divided by zero".to_owned();
            let text = self.text.trim().to_owned();
            return Err(QuantityError::BadNumber { text, advice, range });
        }
        self.cursor.skip_spaces();
        self.end()?;
        Ok(Some(number / below))
    }

    /// Refuses anything left over.
    fn end(&mut self) -> Result<(), QuantityError> {
        if self.cursor.done() {
            return Ok(());
        }
        let range = self.cursor.rest(self.cursor.place());
        let text = self.text[range.clone()].trim().to_owned();
        Err(QuantityError::NotANumber { text, wanted: self.kind, range })
    }

    /// The `R` of an R-value, with its hyphen.
    fn take_r(&mut self) -> bool {
        let found = self.cursor.take('R') || self.cursor.take('r');
        if found {
            self.cursor.skip(|c| matches!(c, ' ' | '-'));
        }
        found
    }

    fn r_value(mut self) -> Result<f64, QuantityError> {
        let number = self.number()?;
        self.cursor.skip_spaces();
        self.end()?;
        // The R-value is the first unit of the table.
        Ok(self.kind.units().first().map_or(f64::NAN, |unit| unit.to_si(number)))
    }

    /// The unit that follows a number which began at `start`.
    fn part(&mut self, start: usize, number: f64) -> Result<Part, QuantityError> {
        let number_range = self.cursor.range(start);
        self.cursor.skip_spaces();
        let place = self.cursor.place();
        self.skip_unit();
        let spelled = self.cursor.since(place);
        let range = self.cursor.range(place);
        if spelled.trim_matches([' ', '.', ',']).is_empty() {
            return Err(self.no_unit(number_range));
        }
        let unit = match unit::find(self.kind.units(), &spelled) {
            Some(unit) => unit,
            None => self.unit_before_digit(place, &spelled).ok_or_else(|| self.wrong_unit(&spelled, range))?,
        };
        Ok(Part { number, unit, range: self.cursor.range(start) })
    }

    /// Moves past the unit: to its end when a further number follows, behind a space or a mark of feet, or to the end.
    fn skip_unit(&mut self) {
        let mut parted = false;
        let mut last = self.cursor.place();
        while let Some(c) = self.cursor.peek(0) {
            let point = c == '.' && self.cursor.peek(1).is_some_and(|c| c.is_ascii_digit());
            if parted && (begins_number(c) || point) {
                return self.cursor.back_to(last);
            }
            parted = matches!(c, ' ' | ',' | '-' | '\'' | '"');
            self.cursor.advance(1);
            if !matches!(c, ' ' | ',' | '-') {
                last = self.cursor.place();
            }
        }
    }

    /// The `ft` of `6ft2in`, where nothing parts the unit from the next number.
    fn unit_before_digit(&mut self, place: usize, spelled: &str) -> Option<&'static Unit> {
        let letters = spelled.chars().take_while(|c| c.is_alphabetic()).count();
        let next = spelled.chars().nth(letters);
        if !self.kind.has_parts() || !next.is_some_and(begins_number) {
            return None;
        }
        let word: String = spelled.chars().take(letters).collect();
        let unit = unit::find(self.kind.units(), &word)?;
        self.cursor.back_to(place);
        self.cursor.advance(letters);
        Some(unit)
    }

    fn no_unit(&self, range: Range<usize>) -> QuantityError {
        let number = self.text[range.clone()].trim().to_owned();
        QuantityError::NoUnit { choices: self.kind.choices(&number), number, wanted: self.kind, range }
    }

    fn wrong_unit(&self, spelled: &str, range: Range<usize>) -> QuantityError {
        let wanted = self.kind;
        let unit = self.text[range.clone()].trim().to_owned();
        let found = Kind::ALL.iter().find(|kind| unit::find(kind.units(), spelled).is_some());
        let proportion = spelled.starts_with(':').then_some(&Kind::Ratio);
        if let Some(&found) = found.or(proportion) {
            let text = self.text.trim().to_owned();
            return QuantityError::WrongDimension { text, found, wanted, range };
        }
        if let Some(advice) = spelling::not_a_unit(spelled) {
            return QuantityError::NotAUnit { unit, advice, wanted, range };
        }
        let nearest = spelling::nearest(spelled, spellings(wanted))
            .or_else(|| spelling::nearest(spelled, Kind::ALL.iter().flat_map(|&kind| spellings(kind))));
        QuantityError::UnknownUnit { unit, nearest, wanted, range }
    }

    /// Feet and inches add up only if each part is whole but the last, and less than one of the part before.
    fn check_parts(&self, before: &Part, part: &Part) -> Result<(), QuantityError> {
        let (larger, smaller) = (before.unit.to_si(1.0), part.unit.to_si(1.0));
        let (large, small) = (before.unit.symbol(), part.unit.symbol());
        let advice = if !self.kind.has_parts() {
            format!("{} is written with one number and one unit", self.kind.phrase())
        } else if smaller >= larger {
            format!("{large} cannot be followed by {small}")
        } else if before.number.fract() != 0.0 {
            format!("only the last part may have a fraction, and {large} is not the last")
        } else if part.number * smaller >= larger * (1.0 - super::TOLERANCE) {
            format!("the {small} come to one {large} or more")
        } else {
            return Ok(());
        };
        let range = before.range.start..part.range.end;
        let text = self.text[range.clone()].trim().to_owned();
        Err(QuantityError::BadParts { text, advice, range })
    }
}

/// Every spelling of a kind's units, with the symbol it means.
fn spellings(kind: Kind) -> impl Iterator<Item = (&'static str, &'static str)> {
    kind.units().iter().flat_map(|unit| unit.keys.iter().map(|key| (*key, unit.symbol)))
}
