//! Where the figures of drainage come from.

use crate::Source;

/// Least slope of drains in the IRC.
pub const SLOPE_IRC: Source = Source::new("from memory of IRC P3005.3");
/// Least slope of drains in the IPC.
pub const SLOPE_IPC: Source = Source::new("IPC Table 704.1, as a city that adopts it prints it");
/// Least slope of drains in the UPC.
pub const SLOPE_UPC: Source = Source::new("from memory of UPC 708.1");
/// Least slope of drains in Massachusetts.
pub const SLOPE_MASSACHUSETTS: Source = Source::new("248 CMR 10.05; the fraction is inferred from a damaged copy");
/// Trap arms of the IRC and IPC.
pub const TRAP_ARM_ICC: Source = Source::new("IRC P3105.1 (IPC 909.1); 2 and 3 in confirmed, the other rows from memory");
/// Trap arms of the UPC.
pub const TRAP_ARM_UPC: Source = Source::new("UPC 1002.2, as a city that adopts it prints it");
/// Fall of a trap arm.
pub const TRAP_ARM_FALL: Source = Source::new("IRC P3105.2 (IPC 909.2)");
/// Vent too near its trap.
pub const CROWN_VENT: Source = Source::new("from memory of IRC P3105.3");
/// Depth of trap seals.
pub const TRAP_SEAL: Source = Source::new("IRC P3201.2");
/// Distance from a fixture's outlet to its trap weir.
pub const OUTLET_TO_WEIR: Source = Source::new("IRC P3201.6 (IPC 1002.1, as Ohio prints it)");
/// What keeps traps from drying out.
pub const TRAP_PROTECTION: Source = Source::new("IRC P3201.2.1 (IPC 1002.4.1)");
/// Sizes of traps.
pub const TRAP_SIZE: Source = Source::new("from memory of IRC Table P3201.7");
/// Drainage fixture units of the IRC.
pub const UNITS_IRC: Source = Source::new("from memory of IRC Table P3004.1");
/// Drainage fixture units of the UPC.
pub const UNITS_UPC: Source = Source::new("UPC Table 702.1, as a county that adopts it prints it");
/// Units of flows that go on.
pub const UNITS_OF_FLOW: Source =
    Source::new("from memory of IRC Table P3004.1 note, IPC 709.3, UPC 702.3; IPC 709.3 confirmed as a city prints it");
/// Units of intermittent flows.
pub const UNITS_INTERMITTENT: Source =
    Source::new("from memory of UPC Table 702.2(2); used so by the Minnesota plumbing code questions and answers");
/// Branches and stacks.
pub const CAPACITY_BRANCH: Source = Source::new("from memory of IRC Table P3005.4.1 (IPC Table 710.1(2))");
/// Building drains.
pub const CAPACITY_DRAIN: Source = Source::new("2018 IPC Table 710.1(1), page 85 (IRC Table P3005.4.2)");
/// Everything horizontal or vertical in the UPC.
pub const CAPACITY_UPC: Source = Source::new("UPC Table 703.2, as a county that adopts it prints it");
/// Inside diameters of schedule 40 drainage pipe.
pub const SCHEDULE_40_DRAIN: Source = Source::new("from memory of ASTM D2665, schedule 40 drain, waste and vent pipe");
/// Manning's formula.
pub const MANNING: Source = Source::new("Manning formula; flow within 0.1 percent of fluids 1.3.1, V_Manning");
/// Roughness of plastic pipe.
pub const ROUGHNESS: Source = Source::new("common practice: Manning n 0.009 to 0.011 for plastic pipe");
/// Inlets.
pub const INLET: Source = Source::new("HEC-22 grate inlet in a sump, weir 3.0 and orifice 0.67 (Maryland SHA drainage help)");
/// How much of a strainer is taken as blocked.
pub const CLOGGED: Source = Source::new("common practice: half of a strainer counts as blocked");
/// Air gaps of indirect waste.
pub const DRAINAGE_GAP: Source = Source::new("IPC 802.3.1, as a city that adopts it prints it");
/// Air gaps of water outlets.
pub const SUPPLY_GAP: Source = Source::new("IRC Table P2902.3.1 (IPC 608; ASME A112.1.2)");
/// Manifolded condensate drains.
pub const CONDENSATE_SIZE: Source = Source::new("IMC Table 307.2.2, as a city that adopts it prints it");
/// Slope of condensate drains.
pub const CONDENSATE_SLOPE: Source = Source::new("IRC M1411.3, as a city that adopts it prints it");
/// Condensate of cooling.
pub const COOLING_CONDENSATE: Source = Source::new("common practice: 0.8 gal/h of condensate per ton in humid air");
/// Condensate of gas.
pub const GAS_CONDENSATE: Source =
    Source::new("neutralizer makers: up to 1 gal per 100,000 Btu burned; 1.13 gal is the ceiling for methane");
/// Traps of draw-through coils.
pub const SUCTION_TRAP: Source = Source::new("common practice: trap of twice the suction and one inch");
/// How water levels are routed.
pub const ROUTING: Source = Source::new("computed: storage of the surface, inlet and pipe, implicit steps");
/// The surface.
pub const SURFACE: Source =
    Source::new("computed: constrained Delaunay triangulation, priority flood over its edges (Barnes et al. 2014)");
/// Fall of floors.
pub const FLOOR_SLOPE: Source = Source::new("common practice: 1/8 in/ft to the drain, 1/4 in/ft preferred");
