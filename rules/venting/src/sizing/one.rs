//! The vent of one appliance by its table.

use super::{Decided, ELBOW, End, Served, cure_larger, held, kind_factor, larger, not_too_wide, smaller_allowed, usable};
use crate::appliances::{least_input, single_wall};
use redtag_handbook::units;
use redtag_handbook::venting::single::{self, Vent as Single};
use redtag_handbook::venting::{Draft, Wall, reduction, sources};
use redtag_rule::prelude::*;

/// The vent of one appliance by its table.
pub(super) fn judge(inquiry: &Inquiry, sheet: &mut Sheet, vent: &Place<Vent>, served: &Served) -> Lookup<Decided> {
    let wide = not_too_wide(inquiry, sheet, vent, std::slice::from_ref(served))?;
    let Some(factor) = kind_factor(inquiry, vent) else { return Ok(wide.and(Decided::Silent)) };
    let connectors = need!(vent, connectors)?;
    let connector = connectors.items().find(|connector| connector.equipment.as_deref() == Some(served.place.id.as_str()));
    let own = need!(vent, diameter)?.quantity();
    let (height, lateral, elbows) = (need!(vent, height), need!(vent, lateral), need!(vent, elbows)).together()?;
    let (mut pipe, mut wall, mut elbows) = (own, Wall::Double, *elbows.get());
    if let Some(connector) = &connector {
        let (diameter, single, more) =
            (need!(connector, diameter), single_wall(connector), need!(connector, elbows)).together()?;
        pipe = own.min(diameter.quantity());
        wall = if single { Wall::Single } else { Wall::Double };
        elbows = elbows.saturating_add(*more.get());
    }
    // A vent without lateral that has an elbow all the same belongs in the first row with elbows.
    let straight = at_most(lateral.quantity(), units::feet(0.0)) && elbows == 0;
    let lateral = if straight { units::feet(0.0) } else { lateral.quantity().max(units::inches(1.0)) };
    let factor = factor * reduction::elbows(elbows, single::elbows_included(lateral), inquiry.value(&ELBOW).value);
    let smaller = smaller_allowed(sheet, pipe, served, height.quantity());
    let factor = factor * if smaller == Some(true) && served.draft == Draft::Fan { 0.9 } else { 1.0 };
    let at = |diameter| Single { wall, diameter, height: height.quantity(), lateral };
    let capacity = |diameter| usable(inquiry, single::greatest(&at(diameter), served.draft).times(factor));
    let table = if wall == Wall::Double { "IFGC table 504.2(1)" } else { "IFGC table 504.2(2)" };
    sheet.line(
        "vent",
        text!("{} high, {} sideways, {} elbows, {} wide", in_unit(&height, "ft"), lateral, elbows, in_unit(pipe, "in")),
        sources::SINGLE_TABLES.text(),
    );
    let mut decided = wide.and(if smaller == Some(false) { Decided::Fails } else { Decided::Fits });
    let most = held(sheet, "input", End::Most, served.input, capacity(pipe), table);
    if most == Decided::Fails {
        cure_larger(sheet, vent, connector.as_ref(), larger(pipe, served.input, capacity));
    }
    decided = decided.and(most);
    if served.draft == Draft::Fan {
        let low = least_input(&served.place)?;
        let least = held(sheet, "least input", End::Least, low, usable(inquiry, single::least_fan(&at(own))), table);
        if least == Decided::Fails {
            sheet.cure(text!("use a listed double-wall connector, a smaller vent or a shorter lateral, so that the table's least input is {} or less", in_unit(low, "Btu/h")));
        }
        decided = decided.and(least);
    }
    Ok(decided)
}
