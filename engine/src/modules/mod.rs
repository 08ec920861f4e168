//! Rule modules: each loaded once and asked once what it holds, put questions to, its answers held against the contract and
//! kept.

mod answer;
mod call;
mod description;
mod kept_answers;
mod library;
mod question;
mod values;

pub use answer::{BadAnswer, read as read_answer};
pub use call::{Answered, Call};
pub use description::{Descriptions, Refused, is_rule_id, read_description, usable};
pub use kept_answers::KeptAnswers;
pub use library::Library;
pub use question::Parts;
pub use values::{ValueError, read as read_value};
