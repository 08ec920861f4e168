//! The ducts family: is every duct tight, insulated, clear of what burns, and is its air taken from where air may be taken.
//!
//! Shared by the rules: the ducts and the spaces they pass (`runs`), what burns in a space with its air (`flames`).

mod flames;
mod runs;

redtag_rule::module!("ducts", guarded);
