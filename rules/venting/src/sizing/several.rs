//! A vent several appliances share, by its tables.

use super::{
    Decided, ELBOW, End, Served, cure_larger, held, in_words, kind_factor, larger, not_too_wide, smaller_allowed, usable,
};
use crate::appliances::{least_input, single_wall};
use redtag_handbook::venting::shared::{self, Connector, Mix};
use redtag_handbook::venting::single::{self, Vent as Single};
use redtag_handbook::venting::{Draft, Wall, connector as run, reduction};
use redtag_rule::prelude::*;
use uom::si::f64::{Length, Power};

/// A vent several appliances share, by its tables: every connector, then the common part.
pub(super) fn judge(
    inquiry: &Inquiry,
    sheet: &mut Sheet,
    vent: &Place<Vent>,
    served: &[Served],
    free_length: Length,
) -> Lookup<Decided> {
    let mut decided = not_too_wide(inquiry, sheet, vent, served)?;
    let Some(factor) = kind_factor(inquiry, vent) else { return Ok(decided.and(Decided::Silent)) };
    let connectors = need!(vent, connectors)?;
    let (diameter, height) = (need!(vent, diameter), need!(vent, height)).together()?;
    let (diameter, height) = (diameter.quantity(), height.quantity());
    let mut wall = Wall::Double;
    for served in served {
        let own = connectors.items().find(|connector| connector.equipment.as_deref() == Some(served.place.id.as_str()));
        let Some(connector) = own else {
            let what = format!("the connector of {}", served.place.label());
            sheet.lack(Unresolved::because(connectors.pointer(), what));
            continue;
        };
        match branch(inquiry, sheet, &connector, served, (height, diameter), free_length) {
            Ok((single, more)) => {
                wall = if single { Wall::Single } else { wall };
                decided = decided.and(more);
            }
            Err(unresolved) => sheet.lack(unresolved),
        }
        if let Some(size) = connector.diameter.as_ref().map(|size| size.quantity()) {
            let words = text!("the common vent is {} wide, its connector {}", in_unit(diameter, "in"), in_unit(size, "in"));
            let holds =
                sheet.require(&format!("common vent and {}", connector.id), words, "IFGC 504.3.8", at_least(diameter, size));
            decided = decided.and(if holds { Decided::Fits } else { Decided::Fails });
        }
    }
    let (elbows, lateral) = (need!(vent, elbows), need!(vent, lateral)).together()?;
    let sideways = lateral.quantity();
    let most = reduction::free_connector_length(diameter, free_length);
    if sideways.value > 0.0 {
        let words = text!("the common part runs {} sideways, {} is the most", in_unit(sideways, "ft"), in_unit(most, "ft"));
        let holds =
            sheet.require("common part sideways", words, "IFGC 504.3.4; appendix B, figure B-11 (2018)", at_most(sideways, most));
        if !holds {
            sheet.cure(text!(
                "shorten the common part to {} sideways, or give one appliance a vent of its own",
                in_unit(most, "ft")
            ));
        }
        decided = decided.and(if holds { Decided::Fits } else { Decided::Fails });
    }
    let factor = factor * reduction::elbows(*elbows.get(), 0, inquiry.value(&ELBOW).value).min(reduction::manifold(sideways));
    let mix = Mix::of(&served.iter().map(|served| served.draft).collect::<Vec<_>>());
    let total = served.iter().fold(Power::default(), |sum, served| sum + served.input);
    let capacity = |size| usable(inquiry, shared::greatest_common(wall, size, height, mix).times(factor));
    let table = if wall == Wall::Double { "IFGC table 504.3(1)" } else { "IFGC table 504.3(2)" };
    let common = held(sheet, "common vent", End::Most, total, capacity(diameter), table);
    if common == Decided::Fails {
        cure_larger(sheet, vent, None, larger(diameter, total, capacity));
    }
    Ok(decided.and(common))
}

/// One connector of a shared vent; whether it is single-wall, and what the tables say of it. `widest` is the common vent.
fn branch(
    inquiry: &Inquiry,
    sheet: &mut Sheet,
    connector: &Place<VentConnector>,
    served: &Served,
    (height, widest): (Length, Length),
    free_length: Length,
) -> Lookup<(bool, Decided)> {
    let facts = (single_wall(connector), need!(connector, diameter), need!(connector, rise)).together();
    let more = (need!(connector, length), need!(connector, elbows)).together();
    let ((single, diameter, rise), (length, elbows)) = (facts, more).together()?;
    let (diameter, rise, elbows) = (diameter.quantity(), rise.quantity(), *elbows.get());
    let horizontal = run::horizontal(length.quantity(), rise, elbows);
    let free = reduction::free_connector_length(diameter, free_length);
    let factor = reduction::elbows(elbows, 2, inquiry.value(&ELBOW).value) * reduction::long_connector(horizontal, free);
    let wall = if single { Wall::Single } else { Wall::Double };
    let smaller = smaller_allowed(sheet, diameter, served, height);
    let factor = factor * if smaller == Some(true) && served.draft == Draft::Fan { 0.9 } else { 1.0 };
    let at = |diameter| Connector { wall, diameter, height, rise };
    let capacity = |size| usable(inquiry, shared::greatest_in_connector(&at(size), served.draft).times(factor));
    let table = if single { "IFGC table 504.3(2)" } else { "IFGC table 504.3(1)" };
    let label = format!("connector {}", connector.id);
    let mut decided = held(sheet, &label, End::Most, served.input, capacity(diameter), table);
    if decided == Decided::Fails {
        match larger(diameter, served.input, capacity) {
            Some((size, _)) if size > widest => sheet.cure(text!("use a wider vent and connector")),
            Some((size, most)) => sheet.cure_at(
                text!("use a connector of {}: the table carries {}", in_unit(size, "in"), in_unit(most, "Btu/h")),
                &[(format!("{}/diameter", connector.pointer()), json!(in_words(size)))],
            ),
            None => sheet.cure(text!("raise the connector, shorten it or take out elbows")),
        }
    }
    if smaller == Some(false) {
        decided = Decided::Fails;
    }
    if served.draft == Draft::Fan {
        let low = least_input(&served.place)?;
        // A long connector's least input is that of a vent of its own (IFGC 504.3.2).
        let least = if at_most(horizontal, free) {
            shared::least_fan_in_connector(&at(diameter))
        } else {
            single::least_fan(&Single { wall, diameter, height, lateral: horizontal })
        };
        let least = held(sheet, &format!("{label}, least input"), End::Least, low, usable(inquiry, least), table);
        if least == Decided::Fails {
            sheet.cure(text!(
                "use a listed double-wall connector, or the smaller size, so that the table's least input is {} or less",
                in_unit(low, "Btu/h")
            ));
        }
        decided = decided.and(least);
    }
    Ok((single, decided))
}
