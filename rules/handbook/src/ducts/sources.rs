//! Where the figures of ducts come from.

use crate::Source;

/// Sealing of joints.
pub const SEALING: Source = Source::new("IRC M1601.4.1; IECC R403.3.2");
/// Leakage.
pub const LEAKAGE: Source = Source::new("IECC R403.3.4, R403.3.5; limits from memory");
/// Insulation by size.
pub const INSULATION_2021: Source = Source::new("from memory of IECC 2021 R403.3.1");
/// Insulation by place.
pub const INSULATION_2018: Source = Source::new("IECC 2018 R403.3.1 as read in Pennsylvania");
/// Vapor retarder.
pub const VAPOR: Source = Source::new("from memory of IRC M1601.4.6");
/// Earth.
pub const EARTH: Source = Source::new("from memory of IRC M1601.4.8");
/// Crawl space as plenum.
pub const PLENUM: Source = Source::new("from memory of IRC M1601.5");
/// Air in a conditioned crawl space.
pub const CRAWL: Source = Source::new("IRC R408.3: 1 cfm for each 50 ft2");
/// Barred return air.
pub const RETURN: Source = Source::new("from memory of IRC M1602.2; IMC 601.5 for the 10 ft");
/// Return of a furnace in a closet.
pub const RETURN_JOINT: Source = Source::new("from memory of IRC G2442");
/// Cavities.
pub const CAVITIES: Source = Source::new("IECC 2018 R403.3.5, 2021 R403.3.7");
/// Foundation walls.
pub const FOUNDATION: Source = Source::new("from memory of IRC R404, R1102.4, R408; common practice");
/// Kitchen make-up air.
pub const MAKE_UP: Source = Source::new("IRC M1503.6 (2015: M1503.4); the trigger by appliance from memory");
/// Filter velocity.
pub const FILTER: Source = Source::new("common practice: 300 ft/min in pleated filters; 400 to 500 ft/min the most");
/// Clearance.
pub const CLEARANCE: Source = Source::new("from memory of IRC M1601.4; the label of the appliance");
/// Outdoor air.
pub const OUTDOOR: Source = Source::new("from memory of IRC R303.6, M1602.1");
/// Air of a room with open combustion.
pub const NET_AIR: Source = Source::new("common practice: no room with open combustion is drawn on; IRC G2407");
/// Exhaust of clothes dryers.
pub const DRYER: Source = Source::new("IRC M1502");
