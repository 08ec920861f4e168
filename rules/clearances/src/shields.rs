//! Protection on the side of an appliance, and the clearance it leaves.

use crate::amounts::metres;
use redtag_handbook::clearance::protection::{self as table, Protection, Reduced, Towards};
use redtag_handbook::units;
use redtag_rule::prelude::*;
use redtag_rule::schema::project as p;
use uom::si::f64::Length;

/// Between the columns of the table.
pub const INTERPOLATE: Flag = Flag::new(
    "interpolate",
    true,
    "Whether a clearance between two columns of the table is reduced by interpolation.",
    "mechanical code, notes to the table of reduced clearances",
)
.figure();
/// Solid fuel.
pub const SOLID_FUEL: Quantity<dimensions::Length> = Quantity::new(
    "solid_fuel_least",
    "12 in",
    "Appliances that burn solid fuel come no closer than this, whatever protects the wall.",
    "from memory of IRC M1306.2",
)
.figure();
/// What a shield keeps free.
pub const GAP: Quantity<dimensions::Length> = Quantity::new(
    "protection_gap",
    "1 in",
    "Least distance of protection from the appliance, least air space behind it, and least opening along its edges.",
    "IFGC Table 308.2, notes",
)
.figure();
/// What a jurisdiction may set about reductions.
#[derive(Clone, Copy)]
pub struct Terms {
    /// Whether values between two columns of the table may be used.
    pub interpolate: bool,
    /// Solid-fuel appliances never come closer.
    pub solid_fuel: Length,
    /// What a shield keeps of the appliance, of what it protects, and along its edges.
    pub gap: Length,
}

/// What the rulebook says.
pub fn terms(inquiry: &Inquiry) -> Terms {
    Terms { interpolate: inquiry.value(&INTERPOLATE), solid_fuel: inquiry.value(&SOLID_FUEL), gap: inquiry.value(&GAP) }
}

/// A clearance that protection leaves.
pub struct Left {
    /// The clearance.
    pub clearance: Length,
    /// How it was found.
    pub words: Text,
    /// Where the figure comes from.
    pub source: &'static str,
}

/// The way of protecting that a word of the project means.
pub fn way(kind: p::ProtectionKind) -> Option<Protection> {
    use p::ProtectionKind as K;
    Some(match kind {
        K::Masonry => Protection::Masonry,
        K::BoardOverBatts => Protection::BoardOverBatts,
        K::SteelOverBatts => Protection::SteelOverBatts,
        K::VentilatedMasonry => Protection::VentilatedMasonry,
        K::VentilatedSteel => Protection::VentilatedSteel,
        K::VentilatedBoard => Protection::VentilatedBoard,
        K::DoubleSteel => Protection::DoubleSteel,
        K::BattsBetweenSteel => Protection::BattsBetweenSteel,
        K::Unrecognised => return None,
    })
}

/// Above, or beside.
pub fn towards(side: Side) -> Towards {
    if side == Side::Top { Towards::Above } else { Towards::Sides }
}

/// The protection on a side.
pub fn on<'a>(appliance: &Place<'a, Equipment>, side: Side) -> Option<Place<'a, p::ClearanceProtection>> {
    need!(appliance, protections).every().into_iter().find(|protection| protection.side == Some(side))
}

/// The clearance that is left of one wanted on a side: `None` where nothing reduces it.
///
/// # Errors
/// What must be known before protection counts.
pub fn left(appliance: &Place<Equipment>, side: Side, wanted: Length, terms: &Terms) -> Lookup<Option<Left>> {
    let Some(protection) = on(appliance, side) else { return Ok(None) };
    if !*need!(appliance, reduction_allowed)? {
        return Ok(None);
    }
    let mut sheet = Sheet::default();
    construction(&protection, terms, wanted, &mut sheet);
    if !sheet.sound() {
        return Ok(None);
    }
    let finding = sheet.finding(appliance, "", Text::default());
    if !finding.missing.is_empty() {
        return Err(Unresolved { missing: finding.missing });
    }
    let Some(kind) = way(protection.kind) else { return Err(protection.missing("/kind")) };
    Ok(kind.reduces(wanted, towards(side), terms.interpolate).map(|reduced| said(appliance, kind, wanted, reduced, terms)))
}

fn said(appliance: &Equipment, kind: Protection, wanted: Length, reduced: Reduced, terms: &Terms) -> Left {
    let solid = appliance.kind == EquipmentKind::SolidFuelHeater;
    let clearance = if solid && reduced.clearance() < terms.solid_fuel { terms.solid_fuel } else { reduced.clearance() };
    let how = if matches!(reduced, Reduced::Interpolated(_)) { "by interpolation" } else { "as tabulated" };
    let words = text!("{} of {} are left behind its protection, {}", in_unit(clearance, "in"), in_unit(wanted, "in"), how);
    Left { clearance, words, source: kind.source().text() }
}

/// Holds the construction of protection against what the table's notes ask for.
pub fn construction(protection: &Place<p::ClearanceProtection>, terms: &Terms, wanted: Length, sheet: &mut Sheet) {
    let Some(kind) = way(protection.kind) else {
        sheet.lack(protection.missing("/kind"));
        return;
    };
    let source = table::CONSTRUCTION.text();
    let distance = sheet.want(need!(protection, distance));
    if let Some(distance) = &distance {
        least(sheet, "distance to the appliance", distance.quantity(), terms.gap, source);
    }
    let mut behind = match kind {
        Protection::Masonry => units::inches(3.5),
        Protection::BoardOverBatts => units::inches(1.5),
        _ => metres(0.0),
    };
    if kind.ventilated() {
        if let Some(space) = sheet.want(need!(protection, air_space)) {
            behind = space.quantity();
            least(sheet, "air space behind it", space.quantity(), terms.gap, source);
        }
        if let Some(edges) = sheet.want(need!(protection, edge_opening)) {
            least(sheet, "opening along its edges", edges.quantity(), terms.gap, source);
        }
        if let Some(spacers) = sheet.want(need!(protection, noncombustible_spacers)) {
            sheet.require("spacers", text!("what holds it off does not burn"), source, *spacers);
        }
        if let Some(straight) = sheet.want(need!(protection, spacer_behind_appliance)) {
            sheet.require("spacers", text!("nothing that holds it off stands straight behind the appliance"), source, !*straight);
        }
    }
    if let (Some(distance), Some(extends)) = (distance, sheet.want(need!(protection, extends))) {
        let reach = table::least_reach(wanted, distance.quantity() + behind);
        least(sheet, "reach beyond the appliance's edge", extends.quantity(), reach, table::EXTENT.text());
    }
}

fn least(sheet: &mut Sheet, what: &str, actual: Length, limit: Length, source: &str) {
    if !sheet.at_least(what, &actual, &limit, "in", source) {
        sheet.fault(text!("{}: {}, {} is the least", what, in_unit(actual, "in"), in_unit(limit, "in")));
        sheet.cure(text!("{}: make it {} at least", what, in_unit(limit, "in")));
    }
}
