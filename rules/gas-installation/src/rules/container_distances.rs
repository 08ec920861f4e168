//! A container for propane keeps its distance from buildings, property lines, other containers, openings below its relief
//! valve, and whatever could light or breathe the gas let out when it is filled.
//!
//! Propane is heavier than air. What a relief valve or a filling hose lets out rolls along the ground to the nearest window,
//! air intake or pilot.
//!
//! **How it is measured.** By the container's water capacity, above ground or buried, in a table. Containers of less than 125 gal
//! each whose capacities sum to 501 gal or more keep the distance of the sum from buildings and lines; larger ones count each by
//! itself. From its relief valve sideways to openings below it: 5 ft for tanks, 3 ft for cylinders. From the fill
//! connection to sources of ignition and air intakes: 10 ft where it is filled on site, 5 ft where cylinders are exchanged.
//! Never inside a dwelling.
//!
//! **How it is fixed.** The gas supplier moves the container; an intake or terminal may be the cheaper thing to move. Nobody
//! but the supplier moves a container with gas in it.

use crate::{marks, parts};
use redtag_handbook::gas_installation::{Siting, gallons, governing_capacity, sources, storage_row};
use redtag_rule::prelude::*;
use uom::si::f64::Length;

const SOURCE: &str = "NFPA 58-2017 6.3.4.3, 6.3.4.4";
const FILLED: Quantity<dimensions::Length> = Quantity::new(
    "fill_to_ignition",
    "10 ft",
    "Least distance of ignition sources and air intakes from a tank, or a cylinder filled on site.",
    SOURCE,
)
.within("5 ft", "50 ft");
const EXCHANGED: Quantity<dimensions::Length> = Quantity::new(
    "exchanged_to_ignition",
    "5 ft",
    "Least distance of ignition sources and air intakes from a cylinder that is not filled on site.",
    SOURCE,
)
.within("3 ft", "50 ft");
const TANK_RELIEF: Quantity<dimensions::Length> = Quantity::new(
    "tank_relief_to_opening",
    "5 ft",
    "Least distance sideways from a tank's relief valve to an opening below it.",
    SOURCE,
)
.within("3 ft", "50 ft");
const CYLINDER_RELIEF: Quantity<dimensions::Length> = Quantity::new(
    "cylinder_relief_to_opening",
    "3 ft",
    "Least distance sideways from a cylinder's relief valve to an opening below it.",
    SOURCE,
)
.within("3 ft", "50 ft");
const LARGE_BURIED: Quantity<dimensions::Length> = Quantity::new(
    "large_buried_to_building",
    "10 ft",
    "Least distance of buried containers of 501 to 2,000 gal to buildings and property lines.",
    "from memory of NFPA 58 6.3.1; 25 ft in the older table H-23 of WAC 296-24-47505",
)
.within("10 ft", "100 ft");
const SINGLE_NEARER: Flag = Flag::new(
    "single_tank_nearer",
    true,
    "Whether a single tank of 501 to 1,200 gal may stand 10 ft from buildings where it is 25 ft from others.",
    "NFPA 58-2017 6.3.1; WAC 296-24-47505, table H-23",
);

/// The rule.
pub const RULE: Rule = Rule {
    citations: &[cited("NFPA 58", "2017", "6.3.1"), cited("NFPA 58", "2017", "6.3.4"), remembered("IFGC", "2021", "401.2")],
    parameters: &[&FILLED, &EXCHANGED, &TANK_RELIEF, &CYLINDER_RELIEF, &LARGE_BURIED, &SINGLE_NEARER],
    reads: &["/gas"],
    ..Rule::new("gas-installation/container-distances", "Distances of propane containers", check)
};

const WANTED: &str = "whether the container may stand there";

fn check(inquiry: &Inquiry) -> Vec<Finding> {
    let project = inquiry.project();
    let all = match need!(project, gas.containers) {
        Ok(all) => all.items().collect::<Vec<_>>(),
        Err(unresolved) => {
            // Propane comes out of a container; where it stands was not said.
            let propane = parts::supplied(inquiry).is_ok_and(parts::is_heavy);
            let Ok(gas) = need!(project, gas) else { return Vec::new() };
            return if propane { vec![crate::named::sheet(&gas, WANTED, |_| Err(unresolved))] } else { Vec::new() };
        }
    };
    all.iter().map(|one| crate::named::sheet(one, WANTED, |sheet| judge(inquiry, one, &all, sheet))).collect()
}

fn judge(inquiry: &Inquiry, container: &Place<GasContainer>, all: &[Place<GasContainer>], sheet: &mut Sheet) -> Lookup<Text> {
    if container.indoors == Some(true) {
        sheet.require("place", text!("it stands inside a building"), "NFPA 58-2017 6.3", false);
        sheet.cure(text!("have the supplier set it outdoors"));
        return Ok(Text::default());
    }
    sheet.want(need!(container, indoors));
    if let Some(row) = sheet.want(row(inquiry, container, all)) {
        table(container, all, &row, sheet);
    }
    releases(inquiry, container, sheet);
    let vehicles = ("vehicles", text!("nothing keeps vehicles off"));
    let cure = text!("set posts, or move it out of the way of vehicles");
    parts::demand(sheet, need!(container, protected_from_vehicles), vehicles, cure, "from memory of NFPA 58 6.8.1");
    if !sheet.sound() {
        marks::point(sheet, None, container.at.as_ref(), "propane container");
    }
    Ok(text!("far enough from buildings, lines, openings and flames"))
}

struct Row {
    to_building: Length,
    between: Length,
    source: &'static str,
}

fn row(inquiry: &Inquiry, container: &Place<GasContainer>, all: &[Place<GasContainer>]) -> Lookup<Row> {
    let capacities: Vec<_> = all.iter().map(|one| need!(one, water_capacity).map(|volume| volume.quantity())).collect();
    let (own, underground, all_of) =
        (need!(container, water_capacity), need!(container, underground), capacities.together()).together()?;
    let others = all_of.iter().zip(all).filter(|(_, other)| other.pointer() != container.pointer());
    let large_other = others.clone().any(|(volume, _)| *volume > gallons(125.0));
    let own_large = own.quantity() > gallons(500.0);
    let apart = match large_other && own_large {
        false => None,
        true => Some(need!(container, to_container)?.quantity()),
    };
    let governing = governing_capacity(own.quantity(), &all_of);
    let siting = Siting {
        underground: *underground,
        apart,
        large_buried: inquiry.value(&LARGE_BURIED),
        // A group is no single container.
        single_nearer: inquiry.value(&SINGLE_NEARER) && governing == own.quantity(),
    };
    let row = storage_row(governing, &siting).ok_or_else(|| Unresolved::because(own.pointer(), "up to 30,000 gal"))?;
    // Small containers of a group stand side by side: the row of their sum is for buildings and lines alone.
    let between = storage_row(own.quantity(), &siting).map_or(row.between, |own| own.between);
    Ok(Row { to_building: row.to_building, between, source: row.source.text() })
}

fn table(container: &Place<GasContainer>, all: &[Place<GasContainer>], row: &Row, sheet: &mut Sheet) {
    if all.len() > 1 {
        sheet.line("group", text!("{} containers", u32::try_from(all.len()).unwrap_or(u32::MAX)), sources::GROUP.text());
    }
    let away = |what: &'static str| move |least| text!("have the supplier set it {} from {}", least, what);
    let building = ("its distance to the building", "ft");
    parts::no_less(sheet, need!(container, to_building), row.to_building, building, away("the building"), row.source);
    let line = ("its distance to the property line", "ft");
    parts::no_less(sheet, need!(container, to_property_line), row.to_building, line, away("the property line"), row.source);
    if all.len() > 1 && row.between.value > 0.0 {
        let next = ("its distance to the next container", "ft");
        let held = parts::no_less(sheet, need!(container, to_container), row.between, next, away("the next"), row.source);
        all.iter()
            .filter(|other| !held && other.pointer() != container.pointer())
            .for_each(|other| sheet.related(other.pointer()));
    }
}

fn releases(inquiry: &Inquiry, container: &Place<GasContainer>, sheet: &mut Sheet) {
    let tank = container.kind == GasContainerKind::Tank;
    let relief = if tank { inquiry.value(&TANK_RELIEF) } else { inquiry.value(&CYLINDER_RELIEF) };
    let opening = ("the distance of its relief valve to an opening", "ft");
    let turn = |least| text!("move it, or close the opening, for {} sideways", least);
    parts::no_less(sheet, need!(container, relief_to_opening), relief, opening, turn, SOURCE);
    let filled = if tank { Some(true) } else { sheet.want(need!(container, filled_on_site)).map(|filled| *filled) };
    let Some(filled) = filled else { return };
    let least = if filled { inquiry.value(&FILLED) } else { inquiry.value(&EXCHANGED) };
    let away = |least| text!("move it, or what ignites or breathes there, for {}", least);
    let ignition = ("the distance of its fill to an ignition source", "ft");
    parts::no_less(sheet, need!(container, fill_to_ignition_source), least, ignition, away, SOURCE);
    let intake = ("the distance of its fill to an air intake", "ft");
    parts::no_less(sheet, need!(container, fill_to_intake), least, intake, away, SOURCE);
}
