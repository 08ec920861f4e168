//! The fire separation family: what each wall and ceiling must be, what it is, and what goes through it.
//!
//! Shared by the rules: the walls, floors and ceilings of the project (`parts`), what lies on each side of one (`zone`), what
//! its faces are made of (`faces`), a demand on a face held against it (`demand`), where garage and dwelling meet (`garage`),
//! the rooms that stored energy stands in (`storage`), the leaf of a door (`leaf`), how much board a face takes (`area`), what must hold a rating (`rated`),
//! the figures several rules share (`parameters`).

mod area;
mod demand;
mod faces;
mod garage;
mod leaf;
mod parameters;
mod parts;
mod rated;
mod storage;
mod through;
mod zone;

redtag_rule::module!("fire-separation", guarded);
