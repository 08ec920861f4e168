//! Where the figures of the combustion-air methods come from.

use crate::Source;

/// 50 ft3 per 1000 Btu/h.
pub const STANDARD_VOLUME: Source = Source::new("IFGC 304.5.1");
/// The standard method is barred below 0.40 air changes per hour.
pub const STANDARD_METHOD_BAR: Source = Source::new("IFGC 304.5.1; NREL weatherization specification 5.0502.1a");
/// 21 and 15 ft3/h per 1000 Btu/h, the rate capped at 0.60.
pub const KNOWN_INFILTRATION: Source = Source::new("IFGC 304.5.2");
/// The least rate the manufacturers' printings of the method allow.
pub const LEAST_INFILTRATION: Source =
    Source::new("furnace installation manuals printing the NFPA 54 table, not the code: 0.10 to 0.60 air changes per hour");
/// Division of a blower-door result by about 20.
pub const BLOWER_DOOR_DIVISOR: Source =
    Source::new("common practice: from memory, about 14 to 26 by climate, height and exposure; not in the fuel gas code");
/// Two openings joining spaces of one story.
pub const SAME_STORY: Source = Source::new("IFGC 304.5.3.1");
/// Openings joining spaces of different stories.
pub const BETWEEN_STORIES: Source = Source::new("IFGC 304.5.3.2");
/// Two permanent openings to outdoors.
pub const TWO_OPENINGS: Source = Source::new("IFGC 304.6.1");
/// Least dimension of an outdoor opening.
pub const LEAST_DIMENSION: Source = Source::new("IFGC 304.6");
/// One permanent opening to outdoors.
pub const ONE_OPENING: Source = Source::new("IFGC 304.6.2");
/// Indoor and outdoor air combined.
pub const COMBINATION: Source = Source::new("IFGC 304.7");
/// 0.35 cfm per 1000 Btu/h of mechanically supplied outdoor air.
pub const MECHANICAL: Source = Source::new("IFGC 304.9; NFPA 54 9.3.6 as furnace manuals print it");
/// Makeup air of exhaust fans in the space, added.
pub const MECHANICAL_MAKEUP: Source = Source::new("IFGC 304.9.1; NFPA 54 9.3.6.1");
/// Burners interlocked with the supply.
pub const MECHANICAL_INTERLOCK: Source = Source::new("IFGC 304.9.2; NFPA 54 9.3.6.2");
/// Combustion air on top of the ventilation rate.
pub const MECHANICAL_VENTILATION: Source = Source::new("IFGC 304.9.3; NFPA 54 9.3.6.3");
/// Free area of a louver whose free area is not known: wood 25 percent, metal 75 percent.
pub const LOUVERS: Source = Source::new("IFGC 304.10");
/// Earlier figures, wood 20 percent and metal 60 percent, still printed in older manuals.
pub const LOUVERS_SUPERSEDED: Source = Source::new("furnace and water heater manuals printing NFPA 54 from before 2002");
/// Screens not finer than 1/4 in.
pub const SCREENS: Source = Source::new("IFGC 304.10");
/// Combustion-air ducts.
pub const DUCTS: Source = Source::new("from memory of IFGC 304.11");
/// Attic vents serving as the source.
pub const ATTIC_SOURCE: Source =
    Source::new("a furnace maker's installation manual: 1 in2 per 4000 Btu/h; the code has no figure");
/// Makeup air of a clothes dryer, and the opening of its closet.
pub const DRYER_MAKEUP: Source = Source::new("from memory of IFGC 614.7");
/// Makeup air of a kitchen hood.
pub const HOOD_MAKEUP: Source = Source::new("from memory of IRC M1503.6");
/// Exterior air of a fireplace.
pub const FIREPLACE_AIR: Source = Source::new("from memory of IRC R1006");
/// Oil-fired appliances.
pub const OIL_AIR: Source = Source::new("an oil furnace maker's manual following NFPA 31");
/// How far exhaust may depress a house before a vent spills.
pub const DEPRESSURIZATION: Source = Source::new("common practice: from memory of building-performance screening limits");
/// Which appliances count.
pub const COUNTING: Source = Source::new("from memory of IFGC 304.1");
/// A dryer with makeup air of its own is exempt.
pub const DRYER_EXEMPT: Source = Source::new("UMC 2009 701.1.1 exception 2");
/// A fuel other than gas.
pub const OTHER_FUEL: Source = Source::new("from memory of IRC M1701.1; NFPA 31 for oil");
