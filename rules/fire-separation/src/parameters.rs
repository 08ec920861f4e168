//! Figures that several rules share.

use redtag_handbook::fire::{Counting, Material};
use redtag_rule::prelude::*;

/// Whether boards behind one another count together.
pub const COUNTING: Choice = Choice::new(
    "boards_count",
    "one-board",
    &["one-board", "together"],
    "Whether one board must have the thickness alone, or boards behind one another count together.",
    "common practice: the sections name one board; authorities differ",
)
.figure();

/// How boards count.
pub fn counting(inquiry: &Inquiry) -> Counting {
    if inquiry.value(&COUNTING) == "together" { Counting::Together } else { Counting::OneBoard }
}

/// What is equal to gypsum board of the same thickness.
pub const EQUALS: Choices = Choices::new(
    "equal_finishes",
    &["plaster", "masonry"],
    &["plaster", "masonry", "cement-board", "tile", "other-noncombustible"],
    "Materials taken as equal to gypsum board of the same thickness without a decision of the authority.",
    "IRC R302.6 says equivalent without naming any; the list is common practice",
)
.figure();

/// The materials taken as equal.
pub fn equals(inquiry: &Inquiry) -> Vec<Material> {
    let named = |word: &str| {
        Some(match word {
            "plaster" => Material::Plaster,
            "masonry" => Material::Masonry,
            "cement-board" => Material::CementBoard,
            "tile" => Material::Tile,
            "other-noncombustible" => Material::OtherNoncombustible,
            _ => return None,
        })
    };
    inquiry.value(&EQUALS).into_iter().filter_map(named).collect()
}
