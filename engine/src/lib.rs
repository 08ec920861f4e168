//! redtag: a project read, held against the rulebook of its place and day, and reported on. Rules are met only through
//! WebAssembly; this crate knows none of them.
//!
//! # Reviewing from a program of one's own
//!
//! One door: [`session`]. Open a session once; it keeps packs, rulebooks, compiled modules and answers in memory, and it obeys
//! lock and trust files without being asked to. Read a project, review it, change a fact, review it again.
//!
//! ```
//! use redtag::session::{Session, Settings, Source};
//! use redtag_schema::contract::Outcome;
//! use serde_json::json;
//!
//! # fn main() -> Result<(), Box<dyn std::error::Error>> {
//! # if redtag::session::base_pack().is_err() { return Ok(()); }
//! // The pack built into the program; `Settings` names others, and a folder to keep compiled modules in.
//! let session = Session::open(Settings::default())?;
//!
//! // A room as its author writes it. Reading answers what can be read: text, places, complaints, and the project.
//! let text = r#"{
//!   "schema": 1, "name": "Net loft", "application_date": "2025-03-14",
//!   "spaces": [{ "id": "loft", "kind": "mechanical-room", "ceiling_height": "8 ft" }],
//!   "equipment": [{
//!     "id": "furnace", "kind": "furnace", "space": "loft",
//!     "fuel_burning": { "plate": { "fuel": "natural-gas", "input": "80,000 Btu/h" } }
//!   }]
//! }"#;
//! let draft = session.read(Source::bytes("net-loft.json", text));
//! assert!(draft.complaints().is_empty());
//!
//! // Every finding says which rule, about what, at which line, with the arithmetic and what is missing.
//! let review = session.review(&draft)?;
//! let open = review.findings.iter().filter(|finding| finding.outcome == Outcome::Unresolved).count();
//! assert!(open > 0, "a room of five facts leaves questions");
//! for finding in review.findings.iter().filter(|finding| finding.outcome == Outcome::Correction) {
//!     println!("{}:{}: {} {}", review.file, finding.place.line, finding.rule, finding.message);
//! }
//!
//! // Changing a fact is a JSON Patch; only modules that read it are asked again.
//! let patch = json!([{ "op": "add", "path": "/site", "value": { "elevation": "5,200 ft" } }]);
//! let changed = session.read(draft.changed(&patch)?);
//! let again = session.review(&changed)?;
//! assert_ne!(review.findings, again.findings);
//!
//! // What cannot be reviewed is refused with every reason at once, as data and in words.
//! let slip = session.read(Source::bytes("slip.json", r#"{ "schema": 1, "spaces": [{ "kind": "coridor" }], }"#));
//! let refusal = session.review(&slip).unwrap_err();
//! let codes: Vec<&str> = refusal.complaints.iter().map(|complaint| complaint.code.word()).collect();
//! assert!(codes.contains(&"unknown-choice") && codes.contains(&"invalid-json"), "{codes:?}");
//! # Ok(())
//! # }
//! ```
//!
//! Very many projects go through [`session::Session::review_all`], an iterator in and an iterator out, and into a report that
//! is written while they come (`redtag_report::Sink`). A program that reviews by packs it does not vouch for calls
//! [`session::serve_compiling`] first of all in its `main`. A drawing in progress is reviewed with
//! [`session::Asked::in_progress`].

pub mod cases;
pub mod cli;
pub mod compare;
pub mod diagnostic;
pub mod document;
pub mod modules;
pub mod pack;
pub mod progress;
pub mod review;
pub mod rulebook;
pub mod sandbox;
pub mod session;
pub mod store;
pub mod trust;
