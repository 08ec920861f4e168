//! A flexible connector joins one appliance to the piping: listed, short, in sight, in one piece and new.
//!
//! Connectors are thin. Hidden in a wall they chafe unseen; two in a row leak at the joint between; a used one has been bent
//! as often as it can be.
//!
//! **How it is measured.** Along its centre line, 6 ft at most (older codes: 3 ft but for ranges and dryers). One for each
//! appliance, not through wall, floor or ceiling, and not through an appliance's housing but by a grommet made for
//! it. By its tag it carries the appliance's input. The shutoff is in the same room and no smaller than the connector.
//!
//! **How it is fixed.** A new listed connector of the right length and capacity, or pipe to where it begins. Test the joints
//! with soap before lighting.

use crate::{marks, parts};
use redtag_rule::prelude::*;

const SOURCE: &str = "IRC G2422.1.2 (IFGC 411.1.3)";
const LENGTH_SOURCE: &str =
    "from memory of IFGC 411.1.3 since 2012; until 2009 3 ft but for ranges and dryers (a gas utility's guide)";
const GREATEST: Quantity<dimensions::Length> = Quantity::new(
    "greatest_length",
    "6 ft",
    "Greatest length of a connector at appliances other than ranges and clothes dryers.",
    LENGTH_SOURCE,
)
.within("1 ft", "6 ft");
const AT_RANGE: Quantity<dimensions::Length> = Quantity::new(
    "greatest_length_at_range_or_dryer",
    "6 ft",
    "Greatest length of a connector at a range or clothes dryer.",
    "IRC G2422.1.2.1 (IFGC 411.1.3.1)",
)
.within("1 ft", "6 ft");
const CABINETS: Choice = Choice::new(
    "through_cabinets",
    "advice",
    &["prohibited", "advice", "allowed"],
    "Whether a connector may go through the side of a cabinet, as distinct from a wall.",
    "IFGC 411.1.3.3 names walls, floors, partitions, ceilings and appliance housings; some inspectors read a cabinet's side as a partition",
);

/// The rule.
pub const RULE: Rule = Rule {
    citations: &[cited("IRC", "2018", "G2422.1"), cited("IFGC", "2018", "411.1.3")],
    parameters: &[&GREATEST, &AT_RANGE, &CABINETS],
    reads: &["/equipment", "/gas"],
    ..Rule::new("gas-installation/flexible-connectors", "Flexible connectors", check)
};

const WANTED: &str = "whether the connector may be used so";

fn check(inquiry: &Inquiry) -> Vec<Finding> {
    let connectors = need!(inquiry.project(), gas.connectors).every();
    let judged = |connector| crate::named::sheet(connector, WANTED, |sheet| judge(inquiry, connector, &connectors, sheet));
    connectors.iter().map(judged).collect()
}

fn judge(inquiry: &Inquiry, connector: &Place<GasConnector>, all: &[Place<GasConnector>], sheet: &mut Sheet) -> Lookup<Text> {
    let appliance = need!(connector, equipment).and_then(|id| inquiry.equipment(&id));
    itself(connector, all, sheet);
    passage(inquiry, connector, sheet);
    if let Some(appliance) = sheet.want(appliance) {
        sheet.related(appliance.pointer());
        length(inquiry, connector, &appliance, sheet);
        capacity(connector, &appliance, sheet);
        standard(connector, &appliance, sheet);
        shutoff(inquiry, connector, &appliance, sheet);
        if let (false, Some(outlet)) = (sheet.sound(), parts::outlet(inquiry, &appliance)) {
            marks::node(sheet, &outlet, "connector");
        }
    }
    Ok(text!("listed, in sight, in one piece and long enough"))
}

fn itself(connector: &Place<GasConnector>, all: &[Place<GasConnector>], sheet: &mut Sheet) {
    let new = || text!("fit a new listed connector");
    parts::demand(sheet, need!(connector, listed), ("listed", text!("it is not listed")), new(), SOURCE);
    parts::forbid(sheet, need!(connector, reused), ("new", text!("it was used before")), new(), SOURCE);
    parts::forbid(
        sheet,
        need!(connector, concealed),
        ("in sight", text!("it is concealed")),
        text!("bring the pipe out to it"),
        SOURCE,
    );
    if let Some(series) = sheet.want(need!(connector, in_series)) {
        let one = text!("{} in a row, 1 is the most", *series);
        if !sheet.require("one piece", one, SOURCE, *series <= 1) {
            sheet.cure_at(text!("extend the pipe and fit 1 connector"), &[(series.pointer().to_owned(), json!(1))]);
        }
    }
    let same = |other: &&Place<GasConnector>| {
        other.pointer() != connector.pointer() && other.equipment.is_some() && other.equipment == connector.equipment
    };
    // One that does not say what it serves may serve the same.
    all.iter().filter(|other| other.equipment.is_none()).for_each(|other| sheet.lack(other.missing("/equipment")));
    if let Some(other) = all.iter().find(same) {
        sheet.require("one for each", text!("{} is at the same appliance", other.id.as_str()), SOURCE, false);
        sheet.related(other.pointer());
        sheet.cure(text!("leave 1 of the two, extend the pipe to it"));
    }
}

fn passage(inquiry: &Inquiry, connector: &Place<GasConnector>, sheet: &mut Sheet) {
    let Some(passes) = sheet.want(need!(connector, passes_through)) else { return };
    for through in passes.iter() {
        let allowed = match through {
            ConnectorPasses::Cabinet => {
                if inquiry.value(&CABINETS) == "advice" {
                    sheet.advise(text!(
                        "it goes through the side of a cabinet: some inspectors read that as a partition, ask first"
                    ));
                }
                inquiry.value(&CABINETS) != "prohibited"
            }
            ConnectorPasses::ApplianceHousing => match sheet.want(need!(connector, grommet)) {
                Some(grommet) => *grommet,
                None => continue,
            },
            ConnectorPasses::Unrecognised => {
                sheet.lack(Unresolved::at(passes.pointer()));
                continue;
            }
            _ => false,
        };
        let words = text!("it goes through a {}", through.word().replace('-', " ").as_str());
        if !sheet.test("passage", words.clone(), SOURCE, allowed) {
            sheet.fault(words);
            sheet.cure_at(
                text!("carry rigid pipe or tubing through, connect on this side"),
                &[(passes.pointer().to_owned(), json!([]))],
            );
        }
    }
}

fn length(inquiry: &Inquiry, connector: &Place<GasConnector>, appliance: &Place<Equipment>, sheet: &mut Sheet) {
    let longer = matches!(appliance.kind, EquipmentKind::Range | EquipmentKind::ClothesDryer);
    let limit = if longer { inquiry.value(&AT_RANGE) } else { inquiry.value(&GREATEST) };
    let cure = |most| text!("extend the pipe and fit a connector of {} at most", most);
    parts::no_more(sheet, need!(connector, length), limit, ("its length", "ft"), cure, SOURCE);
}

fn capacity(connector: &Place<GasConnector>, appliance: &Place<Equipment>, sheet: &mut Sheet) {
    let both = (need!(connector, capacity), need!(appliance, fuel_burning.plate.input)).together();
    let Some((carries, input)) = sheet.want(both) else { return };
    let cure = |least| text!("fit a connector whose tag says {} at least", least);
    parts::no_less(sheet, Ok(carries), input.quantity(), ("its capacity", "Btu/h"), cure, SOURCE);
}

/// Outdoors another standard holds.
fn standard(connector: &Place<GasConnector>, appliance: &Place<Equipment>, sheet: &mut Sheet) {
    let Some(standard) = sheet.want(need!(connector, standard)) else { return };
    let outdoors = appliance.outdoors == Some(true);
    let (wanted, place) = if outdoors { ("Z21.75", "outdoors") } else { ("Z21.24", "indoors") };
    let fits = standard.contains(wanted) || (!outdoors && standard.contains("Z21.75"));
    let words = text!("listed to {}, {} {} is the standard", standard.as_str(), place, wanted);
    if !sheet.require("standard", words, "ANSI Z21.24, ANSI Z21.75", fits) {
        sheet.cure_at(
            text!("fit one listed to ANSI {}", wanted),
            &[(standard.pointer().to_owned(), json!(format!("ANSI {wanted}")))],
        );
    }
}

fn shutoff(inquiry: &Inquiry, connector: &Place<GasConnector>, appliance: &Place<Equipment>, sheet: &mut Sheet) {
    let Some(valves) = sheet.want(need!(inquiry.project(), gas.valves)) else { return };
    let own: Vec<_> = valves.items().filter(|valve| valve.equipment.as_ref() == Some(&appliance.id)).collect();
    let here = |valve: &&Place<GasValve>| valve.space.is_some() && valve.space == appliance.space;
    let outdoors = appliance.outdoors == Some(true);
    let Some(valve) = own.iter().find(|valve| outdoors || here(valve)) else {
        let unsaid = own.iter().find_map(|valve| need!(valve, space).err()).or_else(|| need!(appliance, space).err());
        match unsaid {
            Some(unsaid) => sheet.lack(unsaid),
            None => {
                sheet.require("shutoff", text!("no shutoff valve before it in the same room"), SOURCE, false);
                sheet.cure(text!("fit a shutoff valve in the room of the appliance, ahead of the connector"));
            }
        }
        return;
    };
    let sizes = (need!(valve, nominal_size), need!(connector, nominal_size)).together();
    let Some((size, least)) = sheet.want(sizes) else { return };
    let cure = |least| text!("fit a shutoff valve of {}", least);
    parts::no_less(sheet, Ok(size), least.quantity(), ("the size of its shutoff valve", "in"), cure, SOURCE);
}
