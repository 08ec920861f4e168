//! What stands between an appliance and what can burn, so that the appliance may stand closer to it.

use super::Side;
use crate::quantity::Length;

words! {
    /// How combustible material is protected from the heat of an appliance.
    ProtectionKind {
        /// Masonry 3 1/2 in thick, without an air space behind it.
        Masonry "masonry",
        /// Insulation board 1/2 in thick over 1 in of glass fibre or mineral wool.
        BoardOverBatts "board-over-batts",
        /// Sheet steel of 24 gage over 1 in of batts held by wire, with an air space behind it.
        SteelOverBatts "steel-over-batts",
        /// Masonry 3 1/2 in thick, with an air space behind it.
        VentilatedMasonry "ventilated-masonry",
        /// Sheet metal of 24 gage, with an air space behind it.
        VentilatedSteel "ventilated-steel",
        /// Insulation board 1/2 in thick, with an air space behind it.
        VentilatedBoard "ventilated-board",
        /// Two sheets of 24 gage, each with an air space behind it.
        DoubleSteel "double-steel",
        /// Batts 1 in thick between two sheets of 24 gage, with an air space behind them.
        BattsBetweenSteel "batts-between-steel",
    }
}

record! {
    /// Protection of combustible material near an appliance.
    ClearanceProtection("clearance-protection"): ProtectionKind {
        /// The side of the appliance it is on.
        side: Side;
        /// Distance from the appliance to it.
        distance: Length;
        /// Air space between it and what it protects.
        air_space: Length, like "1 in";
        /// Opening along its edges, at top and bottom or at both sides, through which that air moves.
        edge_opening: Length, like "1 in";
        /// Whether what holds it off does not burn.
        noncombustible_spacers: bool;
        /// Whether something that holds it off stands straight behind the appliance.
        spacer_behind_appliance: bool;
        /// How far it reaches beyond the appliance's edges; the least where edges differ.
        extends: Length;
    }
}
