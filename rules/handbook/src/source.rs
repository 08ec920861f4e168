//! Where a figure comes from.

use std::fmt;

/// Where a figure or a formula comes from, in one line a reader can follow up.
///
/// The line opens with what kind of source it is: a bare citation was confirmed against a readable copy of the text or
/// against documents printing it; `from memory of ...` was not; `common practice: ...` is a habit of the trade, not law;
/// `computed: ...` follows from other figures here.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub struct Source(&'static str);

impl Source {
    /// A source from its line.
    pub const fn new(line: &'static str) -> Self {
        Self(line)
    }

    /// The line.
    pub const fn text(self) -> &'static str {
        self.0
    }

    /// Whether the figure is remembered and was not confirmed.
    pub fn is_from_memory(self) -> bool {
        self.0.starts_with("from memory")
    }
}

impl fmt::Display for Source {
    fn fmt(&self, formatter: &mut fmt::Formatter<'_>) -> fmt::Result {
        formatter.write_str(self.0)
    }
}

/// A value with where it comes from.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Sourced<T> {
    /// The value.
    pub value: T,
    /// Where it comes from.
    pub source: Source,
}

impl<T> Sourced<T> {
    /// A value with its source.
    pub const fn new(value: T, source: Source) -> Self {
        Self { value, source }
    }
}
