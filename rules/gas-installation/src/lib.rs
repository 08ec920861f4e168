//! The gas installation family: is the gas piping shut off, caught, joined, held, shielded, bonded, tested and, behind a
//! container, set where it may stand. Whether pipes are large enough is another family.
//!
//! Shared by the rules: appliances and the parts that belong to them (`parts`), what findings call the parts (`named`),
//! marks on the plan (`marks`).

mod marks;
mod named;
mod parts;

redtag_rule::module!("gas-installation", guarded);
