//! Where the figures of gas piping come from.

use crate::Source;

/// The low-pressure equation, below 1.5 psi.
pub const LOW_PRESSURE: Source = Source::new("2018 IRC G2413.4 (IFGC 402.4); NFPA 54 section 6.4");
/// The high-pressure equation, 1.5 psi and above.
pub const HIGH_PRESSURE: Source = Source::new("2018 IRC G2413.4 (IFGC 402.4); NFPA 54 section 6.4");
/// Factors of natural gas and undiluted propane in both equations.
pub const FACTORS: Source = Source::new("2018 IRC G2413.4 (IFGC 402.4), values of Cr and Y");
/// Inside diameters of schedule 40 steel pipe.
pub const SCHEDULE_40: Source = Source::new("from memory of ASME B36.10M; within 0.3 percent of fluids 1.3.1, nearest_pipe");
/// Equivalent lengths of screwed fittings.
pub const FITTINGS: Source = Source::new("2018 IRC appendix A, table A.2.2");
/// Half the measured length where the fittings are not known.
pub const UNKNOWN_FITTINGS: Source = Source::new("IFGC appendix A.6");
/// How the equations compare with the printed tables.
pub const EQUATION_AGAINST_TABLES: Source = Source::new(
    "computed: against the 2018 IFGC tables the equations give 0.5 to 2 percent more; against 402.4(5) and 402.4(7) they depart by \
     -4.5 to 13.6 percent, and there the table is used",
);
/// The definition of the factor Cr by specific gravity, temperature and viscosity.
pub const DEFINITION_OF_CR: Source =
    Source::new("from memory of NFPA 54 section 6.4; gives the printed factors of both gases to four figures");
/// Multipliers of the tables for another specific gravity.
pub const GRAVITY: Source = Source::new("2018 IFGC appendix A, table A.2.4");
/// Inside diameters of copper tube in the code's tables.
pub const COPPER: Source =
    Source::new("from memory of the IFGC copper tables; 0.527 and 0.652 in confirmed by the table of propane at 11 in wc");
/// Inside diameters of polyethylene pipe in the code's tables.
pub const POLYETHYLENE: Source = Source::new("from memory of the IFGC polyethylene tables; printed capacities follow from them");
/// Inside diameters of schedule 10 steel pipe.
pub const SCHEDULE_10: Source = Source::new("from memory of ASME B36.10M; within 0.3 percent of fluids 1.3.1, nearest_pipe");
/// Length that each bend or fitting beyond those in the table adds to corrugated tubing.
pub const TUBING_BENDS: Source = Source::new("from memory of the notes to the IFGC tables of corrugated tubing: 1.3 ft each");
