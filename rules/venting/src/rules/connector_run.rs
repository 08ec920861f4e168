//! A vent connector is short, in the open and in the warm.
//!
//! The longer a pipe runs level and the colder it lies, the less the gases pull; a pipe inside a wall or floor can rust through
//! with nobody the wiser. Carbon monoxide kills: vents are work for a licensed contractor.
//!
//! **How it is measured.** The horizontal run of a Category I connector against the height of its vent: three quarters of it for bare
//! pipe, the whole for insulated or double-wall pipe. Single-wall pipe stays in the room of its appliance: not through a floor or
//! ceiling, not concealed, not in an attic or crawl space, and not in another unheated place where winters are cold.
//!
//! **How it is fixed.** Shorten or insulate the run, use listed double-wall pipe, or move the appliance nearer to its vent.

use crate::appliances::{category, connectors, direct_vent, is_plastic, single_wall};
use redtag_handbook::venting::{connector as run, sources};
use redtag_rule::prelude::*;

/// Bare.
const BARE: Quantity<dimensions::Ratio> = Quantity::new(
    "bare_run",
    "75 %",
    "Horizontal run of an uninsulated connector, as a share of the vent's height.",
    "IFGC 503.10 (a gas utility's guide)",
);
/// Insulated.
const INSULATED: Quantity<dimensions::Ratio> = Quantity::new(
    "insulated_run",
    "100 %",
    "Horizontal run of an insulated connector, as a share of the vent's height.",
    "IFGC 503.10 (a gas utility's guide)",
);
/// How cold.
const COLD: Quantity<dimensions::Temperature> = Quantity::new(
    "single_wall_design_temperature",
    "5 F",
    "Winter design temperature from which single-wall pipe may be in an unheated place within the walls of the building.",
    "IRC G2427.10.2.2 (2018, page 594)",
);

/// The rule.
pub const RULE: Rule = Rule {
    citations: &[cited("IRC", "2018", "G2427.10"), cited("IFGC", "2018", "503.10")],
    parameters: &[&BARE, &INSULATED, &COLD],
    reads: &["/vents", "/equipment", "/spaces", "/site"],
    ..Rule::new("venting/connector-run", "Length and place of vent connectors", check)
};

fn check(inquiry: &Inquiry) -> Vec<Finding> {
    let wanted = "whether it is short enough and in the open";
    connectors(inquiry)
        .iter()
        .map(|(vent, connector)| connector.sheet(wanted, |sheet| judge(inquiry, sheet, vent, connector)))
        .collect()
}

fn judge(inquiry: &Inquiry, sheet: &mut Sheet, vent: &Place<Vent>, connector: &Place<VentConnector>) -> Lookup<Text> {
    let appliance = inquiry.equipment(&need!(connector, equipment)?)?;
    if direct_vent(&appliance)? || category(&appliance)? != VentCategory::CategoryI {
        return Ok(text!("not a Category I connector: its instructions say how it runs"));
    }
    plastic(sheet, connector);
    length(inquiry, sheet, vent, connector)?;
    if let Some(true) = sheet.want(single_wall(connector)) {
        open(sheet, connector);
        let spaces = sheet.want(need!(connector, spaces));
        for id in spaces.iter().flat_map(Place::items) {
            let space = inquiry.space(&id);
            if let Some(space) = sheet.want(space) {
                place(inquiry, sheet, connector, &space);
            }
        }
    }
    Ok(text!("short enough, in the open and in the warm"))
}

/// Plastic has no place between a Category I appliance and its vent.
fn plastic(sheet: &mut Sheet, connector: &Place<VentConnector>) {
    let Some(material) = connector.material.filter(|&material| is_plastic(material)) else { return };
    sheet.require("material", text!("{} pipe on a Category I appliance", material), "from memory of IFGC 503.10.2", false);
    sheet.cure_at(text!("use listed Type B pipe"), &[(format!("{}/material", connector.pointer()), json!("double-wall"))]);
}

fn length(inquiry: &Inquiry, sheet: &mut Sheet, vent: &Place<Vent>, connector: &Place<VentConnector>) -> Lookup<()> {
    let facts = (need!(vent, height), need!(connector, length), need!(connector, rise)).together();
    let more = (need!(connector, elbows), insulated(connector)).together();
    let Some(((height, length, rise), (elbows, insulated))) = sheet.want((facts, more).together()) else { return Ok(()) };
    let horizontal = run::horizontal(length.quantity(), rise.quantity(), *elbows.get());
    let most = run::longest(height.quantity(), insulated, inquiry.value(&BARE).value, inquiry.value(&INSULATED).value);
    let words = text!(
        "{} sideways in a vent {} high, {} is the most for {} pipe",
        in_unit(horizontal, "ft"),
        in_unit(&height, "ft"),
        in_unit(most, "ft"),
        if insulated { "insulated" } else { "bare" }
    );
    if !sheet.require("horizontal run", words, sources::CONNECTOR_LENGTH.text(), at_most(horizontal, most)) {
        sheet.cure(text!("shorten it by {}", in_unit(horizontal - most, "ft")));
        let whole = run::longest(height.quantity(), true, 0.0, inquiry.value(&INSULATED).value);
        if !insulated && at_most(horizontal, whole) {
            let pointer = format!("{}/insulated", connector.pointer());
            sheet.cure_at(text!("insulate it: then {} is the most", in_unit(whole, "ft")), &[(pointer, json!(true))]);
        }
    }
    Ok(())
}

fn insulated(connector: &Place<VentConnector>) -> Lookup<bool> {
    match single_wall(connector) {
        Ok(false) => Ok(true),
        _ => Ok(*need!(connector, insulated)?),
    }
}

fn open(sheet: &mut Sheet, connector: &Place<VentConnector>) {
    if let Some(concealed) = sheet.want(need!(connector, concealed)) {
        let words = text!(
            "single-wall pipe {}",
            if *concealed { "passes through a floor, a ceiling or a concealed space" } else { "stays in the open" }
        );
        if !sheet.require("in the open", words, sources::CONNECTOR_PLACE.text(), !*concealed) {
            sheet.cure(text!("use listed Type B pipe where it passes through, or keep the connector in its room"));
        }
    }
}

fn place(inquiry: &Inquiry, sheet: &mut Sheet, connector: &Place<VentConnector>, space: &Place<Space>) {
    let outside = matches!(space.kind, SpaceKind::Attic | SpaceKind::CrawlSpace);
    let cold = if outside { true } else { sheet.want(need!(space, conditioned)).is_some_and(|conditioned| !*conditioned) };
    let mild = !outside && cold && {
        let design = sheet.want(need!(inquiry.project(), site.heating_design_temperature));
        design.is_none_or(|design| at_least(design.quantity(), inquiry.value(&COLD)))
    };
    let words = text!("single-wall pipe in {}", space.label());
    if !sheet.require("place", words, sources::CONNECTOR_PLACE.text(), !cold || mild) {
        sheet.related(space.pointer());
        let material = format!("{}/material", connector.pointer());
        sheet.cure_at(text!("use listed Type B pipe in {}", space.label()), &[(material, json!("double-wall"))]);
    }
}
