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
