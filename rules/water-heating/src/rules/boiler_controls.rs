//! A boiler must stop when its water is low, show its pressure and temperature, and let itself be cut off from its system.
//!
//! **A boiler fired dry glows, and bursts when water reaches it again.** The low-water cutoff stops the burner before; gauges show a
//! failing fill valve or a waterlogged tank weeks earlier. Valves in supply and return let it be mended without draining the house.
//!
//! **How it is measured.** By looking: the cutoff, or a flow sensor listed to do the same; a gauge for pressure and, for hot water,
//! one for temperature, or one for both; a stop valve in the supply and one in the return. The gauge glass of a steam boiler is not
//! looked at.
//!
//! **How it is fixed.** The maker's cutoff and gauges, fitted and tried by a licensed trade.

use crate::boiler;
use redtag_rule::prelude::*;

/// Valves.
const STOPS: Flag = Flag::new(
    "stop_valves_required",
    true,
    "A boiler has a stop valve in its supply and one in its return.",
    "from memory of IRC M2001.3",
);

/// The rule.
pub const RULE: Rule = Rule {
    citations: &[cited("IRC", "2018", "M2002.2"), remembered("IRC", "2021", "M2002.5"), remembered("IRC", "2021", "M2001.3")],
    parameters: &[&STOPS],
    reads: &["/equipment"],
    ..Rule::new("water-heating/boiler-controls", "Cutoff, gauges and valves of a boiler", check)
};

fn check(inquiry: &Inquiry) -> Vec<Finding> {
    boiler::each(inquiry, |boiler| {
        boiler.sheet("whether the boiler stops when its water is low, and shows its state", |sheet| {
            judge(inquiry, boiler, sheet);
            Ok(text!("it stops at low water and shows its state"))
        })
    })
}

fn judge(inquiry: &Inquiry, boiler: &Place<Equipment>, sheet: &mut Sheet) {
    let steam = sheet.want(need!(boiler, boiler.medium)).is_some_and(|medium| *medium == BoilerMedium::Steam);
    let asked = [
        (true, need!(boiler, boiler.low_water_cutoff), "low-water cutoff", "IRC M2002.5, from memory"),
        (true, need!(boiler, boiler.pressure_gauge), "pressure gauge", "IRC M2002.2, from memory"),
        (!steam, need!(boiler, boiler.temperature_gauge), "temperature gauge", "IRC M2002.2, from memory"),
        (inquiry.value(&STOPS), need!(boiler, boiler.stop_valves), "stop valves", "IRC M2001.3, from memory"),
    ];
    for (_, fact, what, source) in asked.into_iter().filter(|(asked, ..)| *asked) {
        let Some(there) = sheet.want(fact) else { continue };
        let words = if *there { text!("{}: there", what) } else { text!("{}: none", what) };
        if !sheet.require(what, words, source, *there) {
            sheet.cure_at(text!("fit it: {}", what), &[(there.pointer().to_owned(), json!(true))]);
        }
    }
}
