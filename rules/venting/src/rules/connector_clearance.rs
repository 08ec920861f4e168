//! A vent and its connectors keep their distance from whatever can burn.
//!
//! Bare metal pipe above a draft hood is hot enough to char wood over the years until it catches fire. Listed double-wall pipe needs
//! less, as its own listing says.
//!
//! **How it is measured.** The clearance of every connector, and of every vent of metal pipe, to combustible material: 6 in for single-wall pipe on a gas appliance
//! of Category I, more on one that burns oil or solid fuel, and no less than the appliance's label asks for; for listed
//! double-wall pipe what its listing says, normally 1 in.
//!
//! **How it is fixed.** Move the pipe or what can burn, or use listed double-wall pipe.

use crate::appliances::{burns_gas, connectors, single_wall, vents};
use redtag_handbook::venting::sources;
use redtag_rule::prelude::*;

/// Single-wall.
const SINGLE_WALL: Quantity<dimensions::Length> = Quantity::new(
    "single_wall_clearance",
    "6 in",
    "Clearance of a single-wall connector of a gas appliance with a draft hood or of Category I.",
    "from memory of IRC table G2427.10.5",
);
/// Other fuels.
const OTHER_FUEL: Quantity<dimensions::Length> = Quantity::new(
    "other_fuel_clearance",
    "18 in",
    "Clearance of a single-wall connector of an appliance that burns oil or solid fuel.",
    "from memory of NFPA 211",
);
/// Listed.
const LISTED: Quantity<dimensions::Length> = Quantity::new(
    "listed_clearance",
    "1 in",
    "Clearance of listed Type B pipe where its own listing does not say.",
    "the pipe's listing, normally 1 in",
);

/// The rule.
pub const RULE: Rule = Rule {
    citations: &[remembered("IRC", "2021", "G2427.10.5"), remembered("IFGC", "2021", "503.10.5")],
    parameters: &[&SINGLE_WALL, &OTHER_FUEL, &LISTED],
    reads: &["/vents", "/equipment"],
    ..Rule::new("venting/connector-clearance", "Clearance of vents and connectors", check)
};

fn check(inquiry: &Inquiry) -> Vec<Finding> {
    let wanted = "whether it is far enough from what can burn";
    let mut found: Vec<Finding> = vents(inquiry)
        .iter()
        .filter(|vent| listed(vent).is_some())
        .map(|vent| vent.sheet(wanted, |sheet| upright(inquiry, sheet, vent)))
        .collect();
    let run = |(vent, connector): &(Place<Vent>, Place<VentConnector>)| {
        connector.sheet(wanted, |sheet| judge(inquiry, sheet, vent, connector))
    };
    found.extend(connectors(inquiry).iter().map(run));
    found
}

/// Whether a vent is listed pipe; nothing where it is none of metal, as a chimney.
fn listed(vent: &Vent) -> Option<bool> {
    match vent.kind {
        VentKind::TypeB | VentKind::TypeBw | VentKind::TypeL => Some(true),
        VentKind::SingleWall => Some(false),
        _ => None,
    }
}

/// The vent itself.
fn upright(inquiry: &Inquiry, sheet: &mut Sheet, vent: &Place<Vent>) -> Lookup<Text> {
    let clearance = need!(vent, clearance)?;
    let (least, source) = if listed(vent) == Some(true) {
        (inquiry.value(&LISTED), sources::LISTED_CLEARANCE.text())
    } else {
        (inquiry.value(&SINGLE_WALL), sources::CONNECTOR_CLEARANCE.text())
    };
    let words = text!("{} from what can burn, {} is the least", in_unit(&clearance, "in"), in_unit(least, "in"));
    if !sheet.require("clearance", words, source, at_least(clearance.quantity(), least)) {
        let inches = redtag_handbook::units::in_inches(least);
        let set = (clearance.pointer().to_owned(), json!(format!("{inches} in")));
        sheet.cure_at(
            text!("keep {} clear around it, with firestop spacers where it passes floors", in_unit(least, "in")),
            &[set],
        );
    }
    Ok(text!("{} from what can burn", in_unit(&clearance, "in")))
}

fn judge(inquiry: &Inquiry, sheet: &mut Sheet, vent: &Place<Vent>, connector: &Place<VentConnector>) -> Lookup<Text> {
    let appliance = need!(connector, equipment).and_then(|id| inquiry.equipment(&id));
    let (appliance, single, clearance) = (appliance, single_wall(connector), need!(connector, clearance)).together()?;
    let label = appliance.label_clearances.as_ref().and_then(|label| label.vent.as_ref()).map(|vent| vent.quantity());
    if single {
        // Bare pipe of another fuel, or of an appliance whose label asks for more, keeps farther away.
        sheet.want(need!(appliance, fuel_burning.plate.fuel));
        sheet.want(need!(appliance, label_clearances.vent));
    }
    let (least, source) = if single {
        let table = if burns_gas(&appliance) { inquiry.value(&SINGLE_WALL) } else { inquiry.value(&OTHER_FUEL) };
        (label.map_or(table, |label| label.max(table)), sources::CONNECTOR_CLEARANCE.text())
    } else {
        (inquiry.value(&LISTED), sources::LISTED_CLEARANCE.text())
    };
    let pipe = if single { "single-wall pipe" } else { "listed double-wall pipe" };
    let words = text!("{} {} from what can burn, {} is the least", pipe, in_unit(&clearance, "in"), in_unit(least, "in"));
    if !sheet.require("clearance", words, source, at_least(clearance.quantity(), least)) {
        let inches = redtag_handbook::units::in_inches(least);
        let more = least - clearance.quantity();
        let cure = text!("move it or what can burn {} farther, to {}", in_unit(more, "in"), in_unit(least, "in"));
        sheet.cure_at(cure, &[(clearance.pointer().to_owned(), json!(format!("{inches} in")))]);
        if single {
            let listed = inquiry.value(&LISTED);
            if at_least(clearance.quantity(), listed) {
                let material = format!("{}/material", connector.pointer());
                sheet.cure_at(
                    text!("use listed double-wall pipe, which needs {}", in_unit(listed, "in")),
                    &[(material, json!("double-wall"))],
                );
            }
        }
        sheet.related(appliance.pointer());
        crate::marks::connector(sheet, &appliance, vent, &format!("{}: too near what can burn", connector.id));
    }
    Ok(text!("{} from what can burn", in_unit(&clearance, "in")))
}
