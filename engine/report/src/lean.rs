//! Reviews in few words: one document, or a line for each project.

use super::json::{closing, heading};
use super::sink::{JsonList, Sink, as_io};
use super::{Frame, RuleTexts};
use redtag_schema::review::{LeanReview, Refused, Review, StreamLine};
use std::io::{self, Write};

/// One document, as the schema `review-lean` says.
pub(crate) struct LeanSink<'w> {
    out: &'w mut dyn Write,
    reviews: JsonList,
    refused: Vec<Refused>,
}

impl<'w> LeanSink<'w> {
    pub(crate) fn begin(frame: Frame, out: &'w mut dyn Write) -> io::Result<Self> {
        heading(&frame, out)?;
        Ok(Self { out, reviews: JsonList::new(4), refused: Vec::new() })
    }
}

impl Sink for LeanSink<'_> {
    fn review(&mut self, review: &Review, _: &RuleTexts) -> io::Result<()> {
        self.reviews.item(self.out, &LeanReview::from(review))
    }

    fn refused(&mut self, refused: &Refused) -> io::Result<()> {
        self.refused.push(refused.clone());
        Ok(())
    }

    fn end(&mut self) -> io::Result<()> {
        closing(&self.reviews, &self.refused, self.out)
    }
}

/// A line for each project, as the schema `review-stream` says. Every line is handed on at once: whoever feeds the stream
/// line by line gets each answer before the next question.
pub(crate) struct StreamSink<'w> {
    out: &'w mut dyn Write,
}

impl<'w> StreamSink<'w> {
    pub(crate) fn new(out: &'w mut dyn Write) -> Self {
        Self { out }
    }

    fn line(&mut self, line: &StreamLine) -> io::Result<()> {
        serde_json::to_writer(&mut self.out, line).map_err(as_io)?;
        self.out.write_all(b"\n")?;
        self.out.flush()
    }
}

impl Sink for StreamSink<'_> {
    fn review(&mut self, review: &Review, _: &RuleTexts) -> io::Result<()> {
        self.line(&StreamLine::Review(LeanReview::from(review)))
    }

    fn refused(&mut self, refused: &Refused) -> io::Result<()> {
        self.line(&StreamLine::Refused(refused.clone()))
    }

    fn end(&mut self) -> io::Result<()> {
        self.out.flush()
    }
}

#[cfg(test)]
mod tests {
    use crate::{Format, sample};
    use redtag_schema::contract::Outcome;
    use redtag_schema::review::{LeanReviews, Reviews, StreamLine};

    fn two() -> Reviews {
        Reviews { refused: vec![sample::refused()], ..sample::reviews() }
    }

    #[test]
    fn a_lean_report_keeps_what_decides() {
        let text = sample::written(Format::JsonLean, false, &two());
        let lean: LeanReviews = serde_json::from_str(&text).unwrap();
        let review = &lean.reviews[0];
        assert_eq!(review.counts[&Outcome::Correction], 1);
        assert_eq!((review.corrections[0].subject.as_str(), review.corrections[0].at), ("furnace-room", [41, 7]));
        assert_eq!(review.unresolved["fuel-match/altitude"], ["boiler"]);
        assert_eq!(review.missing["/site/elevation"], 1);
        assert_eq!((review.failures.len(), lean.refused.len()), (1, 1));
    }

    #[test]
    fn a_stream_has_a_line_for_each_project() {
        let text = sample::written(Format::Stream, false, &two());
        let lines: Vec<StreamLine> = text.lines().map(|line| serde_json::from_str(line).unwrap()).collect();
        assert!(matches!(lines.as_slice(), [StreamLine::Review(_), StreamLine::Refused(_)]), "{text}");
    }
}
