//! Where the figures of fire separation come from.

use crate::Source;

/// The table of garage separations.
pub const GARAGE_TABLE: Source = Source::new("IRC R302.6, Table R302.6; 2015 IRC commentary p. 3-55");
/// Attachment of Type X board under habitable rooms.
pub const GARAGE_CEILING_FASTENERS: Source = Source::new("from memory of IRC Table R702.3.5, footnote e");
/// General attachment of gypsum board.
pub const GYPSUM_FASTENERS: Source = Source::new("gypsum board makers' guides printing IRC Table R702.3.5");
/// Doors and openings between garage and dwelling.
pub const GARAGE_OPENINGS: Source = Source::new("IRC R302.5.1");
/// Ducts in a garage.
pub const GARAGE_DUCTS: Source = Source::new("IRC R302.5.2");
/// Other things that go through a garage separation.
pub const GARAGE_PENETRATIONS: Source = Source::new("IRC R302.5.3, R302.11 item 4");
/// What goes through a rated separation.
pub const RATED_PENETRATIONS: Source = Source::new("from memory of IRC R302.4");
/// Separation of dwelling units.
pub const DWELLING_UNITS: Source = Source::new("from memory of IRC R302.2, R302.3");
/// Fireblocking.
pub const FIREBLOCKING: Source = Source::new("IRC R302.11");
/// Draftstopping.
pub const DRAFTSTOPPING: Source = Source::new("IRC R302.12");
/// Space under a stair.
pub const UNDER_STAIRS: Source = Source::new("IRC R302.7");
/// Finishes.
pub const FINISH: Source = Source::new("IRC R302.9");
/// Wood panels as a finish.
pub const WOOD_FINISH: Source = Source::new("AWC DCA 1: untreated wood panels are class C");
/// Insulation.
pub const INSULATION: Source = Source::new("from memory of IRC R302.10");
/// Protection of floors.
pub const FLOOR: Source = Source::new("IRC R302.13");
/// Foam plastic.
pub const FOAM: Source = Source::new("IRC R316.4");
/// Flame spread of foam plastic.
pub const FOAM_FLAME: Source = Source::new("from memory of IRC R316.3");
/// Ignition barriers.
pub const IGNITION_BARRIER: Source = Source::new("IRC R316.5.3, R316.5.4");
/// Foam on rim joists.
pub const RIM_JOIST: Source = Source::new("IRC R316.5.11");
/// Rooms with stored energy.
pub const STORAGE_ROOM: Source = Source::new("IRC R328.4; NFPA 855 15.5");
/// The door of such a room.
pub const STORAGE_DOOR: Source = Source::new("IRC 2024 R330.4 item 4");
/// Furnace and boiler rooms.
pub const INCIDENTAL: Source = Source::new("IBC Table 509 (2018), 509.1 (2021)");
/// Exemption of dwelling units from it.
pub const INCIDENTAL_DWELLING: Source = Source::new("from memory of IBC 509.1");
/// A rated wall of wood studs.
pub const HOUR_WALL: Source = Source::new("UL Design U305");
/// Take-off of board.
pub const TAKEOFF: Source = Source::new("common practice: face less openings; sheets of 4 ft by 8 ft without waste");
