//! JSON, as the schema `review` says. The same reviews give the same bytes.

use super::sink::{JsonList, Sink, as_io};
use super::{Frame, RuleTexts};
use redtag_schema::review::{Refused, Review, SCHEMA};
use serde::Serialize;
use std::io::{self, Write};

/// Indented JSON with a line end; reviews are written as they come, what was refused after them.
pub(crate) struct JsonSink<'w> {
    out: &'w mut dyn Write,
    reviews: JsonList,
    refused: Vec<Refused>,
}

impl<'w> JsonSink<'w> {
    pub(crate) fn begin(frame: Frame, out: &'w mut dyn Write) -> io::Result<Self> {
        heading(&frame, out)?;
        Ok(Self { out, reviews: JsonList::new(4), refused: Vec::new() })
    }
}

/// What stands before the reviews.
pub(crate) fn heading(frame: &Frame, out: &mut dyn Write) -> io::Result<()> {
    writeln!(out, "{{\n  \"schema\": {SCHEMA},")?;
    writeln!(out, "  \"tool\": {},", below(&frame.tool)?)?;
    writeln!(out, "  \"notice\": {},", below(&frame.notice)?)?;
    write!(out, "  \"reviews\": [")
}

fn below(value: &impl Serialize) -> io::Result<String> {
    Ok(serde_json::to_string_pretty(value).map_err(as_io)?.replace('\n', "\n  "))
}

/// What stands after them.
pub(crate) fn closing(reviews: &JsonList, refused: &[Refused], out: &mut dyn Write) -> io::Result<()> {
    reviews.end(out)?;
    if !refused.is_empty() {
        write!(out, ",\n  \"refused\": {}", below(&refused)?)?;
    }
    write!(out, "\n}}\n")?;
    out.flush()
}

impl Sink for JsonSink<'_> {
    fn review(&mut self, review: &Review, _: &RuleTexts) -> io::Result<()> {
        self.reviews.item(self.out, review)
    }

    fn refused(&mut self, refused: &Refused) -> io::Result<()> {
        self.refused.push(refused.clone());
        Ok(())
    }

    fn end(&mut self) -> io::Result<()> {
        closing(&self.reviews, &self.refused, self.out)
    }
}

#[cfg(test)]
mod tests {
    use crate::{Format, sample};
    use redtag_schema::review::Reviews;

    #[test]
    fn what_is_written_piece_by_piece_is_what_is_written_whole() {
        for count in 0..3 {
            for refused in [Vec::new(), vec![sample::refused()]] {
                let one = sample::reviews();
                let reviews = Reviews { reviews: vec![one.reviews[0].clone(); count], refused, ..one };
                let mut whole = serde_json::to_string_pretty(&reviews).unwrap();
                whole.push('\n');
                assert_eq!(sample::written(Format::Json, false, &reviews), whole);
            }
        }
    }
}
