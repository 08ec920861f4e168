//! Where a requirement is printed, in words.

pub use redtag_schema::contract::printed as all;
