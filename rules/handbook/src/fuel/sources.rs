//! Where the figures of fuel and altitude come from.

use crate::Source;

/// Natural gas for design: 1000 Btu/ft3, specific gravity 0.60.
pub const NATURAL_GAS: Source = Source::new("gas utility pipe-sizing sheet; CSST design guide (Pro-Flex, page 48); UPC 1315.6");
/// Propane vapor: 2516 Btu/ft3, specific gravity 1.52.
pub const PROPANE: Source = Source::new("generator manual (206484GS, page 14) and CSST design guide (Pro-Flex, page 48)");
/// Propane as the sizing and orifice tables take it: 2500 Btu/ft3, specific gravity 1.50.
pub const PROPANE_IN_TABLES: Source =
    Source::new("BCcampus plumbing appendix 2, orifice capacity table; 2018 IFGC table 402.4(28)");
/// The orifice equation, Q = 1658.5 K A sqrt(H / SG).
pub const ORIFICE_EQUATION: Source =
    Source::new("from memory of NFPA 54 annex E; reproduces BCcampus plumbing appendix 2 with K = 0.90");
/// The discharge coefficient of the tables, 0.90.
pub const DISCHARGE_COEFFICIENT: Source = Source::new("BCcampus plumbing appendix 2, orifice factor 0.90");
/// Firing on another gas goes with the Wobbe index and the square root of pressure.
pub const WOBBE: Source =
    Source::new("computed: heating value over the root of specific gravity; follows from the orifice equation");
/// Diameters of number drills 80 to 61.
pub const DRILLS_TABULATED: Source = Source::new("BCcampus plumbing appendix 2, drill sizes 80 to 61");
/// Diameters of the larger number drills.
pub const DRILLS_REMEMBERED: Source = Source::new("from memory of ASME B94.11M, number sizes");
/// 4 percent for each 1000 ft above sea level where the site is above 2000 ft.
pub const ALTITUDE: Source = Source::new("from memory of NFPA 54 11.1.2; water heater manual (manualsdump 44358, page 19)");
/// 2 percent for each 1000 ft above sea level.
pub const ALTITUDE_TWO_PERCENT: Source = Source::new("furnace installation manual (page 66)");
/// 4 percent for each 1000 ft above 2000 ft.
pub const ALTITUDE_ABOVE_THRESHOLD: Source = Source::new("hearth installation manual (Quadra-Fire Village, page 12)");
/// No derating below 6000 ft.
pub const ALTITUDE_NONE_BELOW: Source = Source::new("packaged wall furnace manual (another)");
/// A lower local heating value may already be the derating.
pub const NO_DOUBLE_DERATING: Source = Source::new("two furnace installation manuals");
/// Pressure at the building and at the manifold.
pub const PRESSURES: Source = Source::new("a tubing design guide and two appliance manuals: a rating plate comes first");
/// Inlet windows of sample appliances.
pub const INLET_WINDOWS: Source = Source::new("appliance manuals (four of them): a rating plate comes first");
/// Stoichiometric air of methane.
pub const STOICHIOMETRIC_AIR: Source = Source::new("computed: CH4 + 2 O2 in air of 21 percent oxygen");
/// Vapor and heat in a gallon of propane.
pub const PROPANE_LIQUID: Source = Source::new("generator manual (206484GS, page 14); heat per gallon from memory");
