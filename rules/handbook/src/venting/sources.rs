//! Where the figures of vents come from.

use crate::Source;

/// Which vent for which category.
pub const VENT_BY_CATEGORY: Source = Source::new("from memory of IFGC 503.4; Category I: a gas utility's guide");
/// Plastic vents by listing.
pub const PLASTIC: Source = Source::new("from memory of IFGC 503.4.1");
/// Slope of connectors.
pub const CONNECTOR_SLOPE: Source = Source::new("IFGC 503.10 (a gas utility's guide; a boiler manual)");
/// Clearance of connectors.
pub const CONNECTOR_CLEARANCE: Source = Source::new("from memory of IRC table G2427.10.5");
/// Clearance of listed vents.
pub const LISTED_CLEARANCE: Source = Source::new("the pipe's listing, normally 1 in");
/// Length of connectors.
pub const CONNECTOR_LENGTH: Source = Source::new("IFGC 503.10 (a gas utility's guide)");
/// Connectors in cold places.
pub const CONNECTOR_PLACE: Source = Source::new("IRC G2427.10.2.2 (2018, page 594)");
/// Capacity of the vent of one appliance.
pub const SINGLE_TABLES: Source = Source::new("IFGC tables 504.2(1) and 504.2(2), 2018 IRC page 601");
/// Capacity of a shared vent.
pub const SHARED_TABLES: Source = Source::new("IFGC tables 504.3(1) and 504.3(2); a furnace manual");
/// Elbows beyond those counted in.
pub const ELBOWS: Source = Source::new("IFGC 504.2.3 and 504.3.3; Appendix B, example 1");
/// A vent smaller than the outlet.
pub const SMALLER: Source = Source::new("IFGC 504.2.2 and 504.3.21 (UPC 2018 510.1.2)");
/// Seven times the outlet.
pub const SEVEN_TIMES: Source = Source::new("IFGC 504.2.8 and 504.3.17 (a furnace manual)");
/// The largest outlet and half of the others.
pub const AREAS: Source = Source::new("IFGC 503.6.10.1 (a gas utility's guide)");
/// Corrugated liners.
pub const LINERS: Source = Source::new("IFGC 504.3.19; Appendix B, example 5c");
/// Resizing after an appliance left.
pub const RESIZE: Source = Source::new("from memory of IFGC 501.15");
/// Ends above roofs.
pub const ROOF: Source = Source::new("IRC figure G2427.6.4 (2018, page 591)");
/// Height above the draft hood.
pub const ABOVE_HOOD: Source = Source::new("IFGC 503.6.6 (a field guide to the code)");
/// Ends in walls.
pub const WALL: Source = Source::new("IFGC 503.8 (2018 IRC page 593)");
/// Return air near burners.
pub const RETURN_AIR: Source = Source::new("IRC M1602.2");
