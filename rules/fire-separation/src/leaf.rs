//! The leaf of a door.

use redtag_rule::prelude::*;
use uom::si::f64::Length;

/// Whether the leaf of a door is solid and thick enough, on the sheet.
pub fn leaf(opening: &Place<Opening>, sheet: &mut Sheet, least: Length, source: &'static str) {
    if let Some(core) = sheet.want(need!(opening, door.core)) {
        let solid = matches!(*core, DoorCore::SolidWood | DoorCore::SteelCore);
        if !sheet.require("leaf", text!("its leaf is {}; solid wood or steel is asked for", *core), source, solid) {
            sheet.cure(text!("a solid door of {} at least, or one rated 20 min", in_unit(least, "in")));
            return;
        }
    }
    if let Some(thickness) = sheet.want(need!(opening, door.thickness))
        && !sheet.at_least("thickness", &thickness, &least, "in", source)
    {
        sheet.fault(text!("its leaf is {}, {} is the least", in_unit(thickness.quantity(), "in"), in_unit(least, "in")));
        sheet.cure(text!("a solid door of {} at least, or one rated 20 min", in_unit(least, "in")));
    }
}

/// Whether the leaf has no louver, pet door or other opening in it: a rating and a thickness are worth nothing where it has.
pub fn whole(opening: &Place<Opening>, sheet: &mut Sheet, source: &'static str) {
    let Some(whole) = sheet.want(need!(opening, door.solid)) else { return };
    if !*whole {
        sheet.require("whole", text!("a louver or another opening goes through its leaf"), source, false);
        sheet.cure(text!("a leaf without openings"));
    }
}
