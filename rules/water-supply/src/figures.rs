//! Figures that several rules of the family read.

use crate::network;
use redtag_rule::prelude::*;

/// Whose supply units.
pub const TABLE: Choice = Choice::new(
    "units_of",
    "residential",
    network::TABLES,
    "Whose table of supply units counts.",
    "2018 IRC table P2903.6; UPC table 610.3 from memory",
)
.figure();

/// Whose curve of demand.
pub const CURVE: Choice = Choice::new(
    "demand_curve",
    "residential",
    network::CURVES,
    "Whose curve turns supply units into a flow.",
    "from memory of 2018 IRC P2903.6(1); the other is NSPC table B.5.4",
)
.figure();

/// Groups of fixtures.
pub const GROUPS: Flag =
    Flag::new("groups", true, "A bathroom, kitchen or laundry counts as one group.", "2018 IRC table P2903.6").figure();

/// What height takes.
pub const PER_FOOT: Quantity<dimensions::Pressure> = Quantity::new(
    "per_foot_of_rise",
    "0.433 psi",
    "What each foot of rise takes.",
    "2018 IPC E103.2.2; the UPC's method rounds to 0.5 psi",
)
.within("0.4 psi", "0.5 psi")
.figure();
