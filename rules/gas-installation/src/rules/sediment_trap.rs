//! Dirt, scale and moisture in the gas must fall into a capped leg before the appliance, and not into its gas valve.
//!
//! A grain of scale under the seat of a gas valve keeps it from closing.
//!
//! **How it is measured.** Downstream of the shutoff valve, as near to the inlet as practical and 6 ft away at most, a tee whose capped nipple
//! stands below the run, so that the gas must turn a right angle. The model code takes a nipple of any length; 3 in is
//! customary, and some states ask for it. A trap built into the appliance counts. Ranges, clothes dryers, gas fireplaces,
//! outdoor grills and lights need none; furnaces, boilers, water heaters of every kind, unit heaters and pool heaters do.
//!
//! **How it is fixed.** A tee, a nipple and a cap between valve and appliance. Shut off first, test the joints with soap
//! before lighting; work for a licensed fitter.

use crate::{marks, parts};
use redtag_rule::prelude::*;

const SOURCE: &str = "IRC G2419.4 (IFGC 408.4)";
const EXEMPTIONS: [&str; 7] = ["range", "clothes-dryer", "gas-fireplace", "grill", "room-heater", "wall-furnace", "generator"];
const LEAST_LEG: Quantity<dimensions::Length> = Quantity::new(
    "least_leg",
    "0 in",
    "Least length of the capped nipple; 0 in takes any length.",
    "IFGC 408.4, any length since the 2015 family (plan review notes); 3 in by amendment in Minnesota",
)
.within("0 in", "12 in");
const EXEMPT: Choices = Choices::new(
    "exempt",
    &["range", "clothes-dryer", "gas-fireplace", "grill"],
    &EXEMPTIONS,
    "The kinds of appliance that need no sediment trap.",
    "IRC G2419.4 (IFGC 408.4), NFPA 54 9.6.8",
);
const ORDER: Choice = Choice::new(
    "connector_order",
    "either",
    &["either", "trap-first", "connector-first"],
    "Whether the trap comes before or after a flexible connector.",
    "not said by the model code; inspectors' texts read it both ways",
);

const DISTANCE: Quantity<dimensions::Length> = Quantity::new(
    "greatest_distance",
    "6 ft",
    "Greatest distance along the pipe from the trap to the appliance's inlet.",
    "common practice for \"as close to the inlet as practical\": behind the shutoff valve, which is 6 ft away at most",
)
.within("1 ft", "50 ft");

/// The rule.
pub const RULE: Rule = Rule {
    citations: &[cited("IRC", "2018", "G2419.4"), cited("IFGC", "2018", "408.4"), cited("NFPA 54", "2018", "9.6.8")],
    parameters: &[&LEAST_LEG, &EXEMPT, &ORDER, &DISTANCE],
    reads: &["/equipment", "/gas"],
    ..Rule::new("gas-installation/sediment-trap", "Sediment traps", check)
};

const WANTED: &str = "whether a sediment trap guards the appliance";

fn check(inquiry: &Inquiry) -> Vec<Finding> {
    let exempt = inquiry.value(&EXEMPT);
    parts::each_appliance(inquiry, |appliance| {
        if exempt.contains(&appliance.kind.word()) {
            return appliance.not_applicable(text!("a {} needs no sediment trap", appliance.kind)).done();
        }
        appliance.sheet(WANTED, |sheet| judge(inquiry, appliance, sheet))
    })
}

fn judge(inquiry: &Inquiry, appliance: &Place<Equipment>, sheet: &mut Sheet) -> Lookup<Text> {
    let traps = need!(inquiry.project(), gas.traps)?;
    let trap = traps.items().find(|trap| trap.equipment.as_ref() == Some(&appliance.id));
    let trap = trap.ok_or_else(|| {
        Unresolved::because(traps.pointer(), format!("the sediment trap of {}, or `present: false`", appliance.id))
    })?;
    sheet.related(trap.pointer());
    // One that is built in stands for the one in the piping, whether or not that is said to be there.
    if trap.built_in == Some(true) {
        return Ok(text!("a trap is built into it"));
    }
    if !*need!(trap, present)? {
        absent(inquiry, appliance, &trap, sheet);
        return Ok(Text::default());
    }
    let turns = ("turn", text!("the gas does not turn: the nipple of {} stands in the branch of its tee", trap.id.as_str()));
    let cure = text!("turn the tee so that the nipple stands below the run and the gas leaves by the branch");
    parts::demand(sheet, need!(trap, gas_turns), turns, cure, SOURCE);
    let order = ("order", text!("{} stands before the shutoff valve", trap.id.as_str()));
    parts::demand(sheet, need!(trap, downstream_of_shutoff), order, text!("move it between valve and appliance"), SOURCE);
    let near = |most| text!("move it to {} from the inlet at most", most);
    let label = ("its trap's distance from the inlet", "ft");
    parts::no_more(sheet, need!(trap, distance), inquiry.value(&DISTANCE), label, near, SOURCE);
    leg(inquiry, &trap, sheet);
    connector(inquiry, appliance, &trap, sheet);
    if let (false, Some(outlet)) = (sheet.sound(), parts::outlet(inquiry, appliance)) {
        marks::node(sheet, &outlet, "sediment trap");
    }
    Ok(text!("{} catches dirt before it", trap.id.as_str()))
}

fn absent(inquiry: &Inquiry, appliance: &Place<Equipment>, trap: &Place<SedimentTrap>, sheet: &mut Sheet) {
    sheet.require("trap", text!("no sediment trap ({})", trap.id.as_str()), SOURCE, false);
    let customary = redtag_handbook::units::inches(3.0);
    let asked = inquiry.value(&LEAST_LEG);
    let leg = if at_least(customary, asked) { customary } else { asked };
    let at = |field: &str| format!("{}/{field}", trap.pointer());
    let length = quantity::Length::from_quantity(&leg).print_in("in");
    let values = [
        (at("present"), json!(true)),
        (at("built_in"), json!(false)),
        (at("gas_turns"), json!(true)),
        (at("downstream_of_shutoff"), json!(true)),
        (at("distance"), json!("1 ft")),
        (at("nipple_length"), json!(length)),
    ];
    let words = text!(
        "fit a tee with a capped nipple of {} below the run, between the valve and {}",
        in_unit(leg, "in"),
        appliance.label()
    );
    sheet.cure_at(words, &values);
    if let Some(outlet) = parts::outlet(inquiry, appliance) {
        marks::node(sheet, &outlet, "no sediment trap");
    }
}

/// The leg, where its length matters here.
fn leg(inquiry: &Inquiry, trap: &Place<SedimentTrap>, sheet: &mut Sheet) {
    let least = inquiry.value(&LEAST_LEG);
    if least.value <= 0.0 {
        if let Ok(length) = need!(trap, nipple_length) {
            sheet.line("leg", text!("{}, any length does", length), SOURCE);
        }
        return;
    }
    let cure = |least| text!("fit a nipple of {} at least", least);
    parts::no_less(sheet, need!(trap, nipple_length), least, ("the trap's leg", "in"), cure, SOURCE);
}

/// The order of trap and connector, where it matters here.
fn connector(inquiry: &Inquiry, appliance: &Place<Equipment>, trap: &Place<SedimentTrap>, sheet: &mut Sheet) {
    let order = inquiry.value(&ORDER);
    let connectors = need!(inquiry.project(), gas.connectors).every();
    if order == "either" || !connectors.iter().any(|connector| connector.equipment.as_ref() == Some(&appliance.id)) {
        return;
    }
    let fact = need!(trap, upstream_of_connector);
    let first = order == "trap-first";
    let words = if first { "after" } else { "before" };
    let fault = ("connector", text!("{} comes {} the flexible connector", trap.id.as_str(), words));
    let cure = text!("move it to the other end of the connector");
    match first {
        true => parts::demand(sheet, fact, fault, cure, "asked for here"),
        false => parts::forbid(sheet, fact, fault, cure, "asked for here"),
    };
}
