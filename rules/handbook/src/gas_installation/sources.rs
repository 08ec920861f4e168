//! Where the figures of gas installation come from.

use crate::Source;

/// Support of 1/2 in, 3/4 in and 1 in steel pipe.
pub const STEEL_SUPPORT: Source = Source::new("IRC table G2424.1 (IFGC table 415.1)");
/// Support of steel pipe of 1 1/4 in and more.
pub const LARGE_STEEL_SUPPORT: Source = Source::new("from memory of IFGC table 415.1");
/// Support of smooth tubing.
pub const TUBING_SUPPORT: Source = Source::new("from memory of IFGC table 415.1");
/// Support of corrugated tubing.
pub const CORRUGATED_SUPPORT: Source = Source::new("the tubing maker's instructions");
/// Test pressure and reading of the gauge.
pub const TEST: Source = Source::new("IRC G2417.4 (IFGC 406.4)");
/// Sizes and lengths of pipe that are purged to the outdoors.
pub const PURGE: Source = Source::new("2018 IRC G2417.7.1 (IFGC 406.7.1), table of sizes and lengths");
/// Distances of containers.
pub const CONTAINERS: Source = Source::new("NFPA 58-2017 6.3.1 with annex I; WAC 296-24-47505, table H-23");
/// Distance of buried containers of 501 to 2,000 gal.
pub const LARGE_BURIED: Source = Source::new("from memory of NFPA 58 6.3.1; 25 ft in the older table H-23 of WAC 296-24-47505");
/// The reduced distance of a single container.
pub const SINGLE_CONTAINER: Source = Source::new("NFPA 58-2017 6.3.1; WAC 296-24-47505, table H-23, note");
/// The group as a whole.
pub const GROUP: Source = Source::new("WAC 296-24-47505: a group of 501 gal and more takes the row of its sum");
/// Vapour a container gives in the cold.
pub const VAPOUR: Source =
    Source::new("generator manual (Briggs & Stratton 206484GS, page 14): propane vapour by tank and temperature");
