//! Every gas pipe must be large enough for everything behind it, all on at once, over the length it serves.
//!
//! A pipe that is too small does no harm while one burner is on. When the furnace, the water heater and the range run
//! together the pressure falls, and the appliance at the end starves: it locks out, lifts its flame or burns badly, and what
//! burns badly makes carbon monoxide. A tankless heater put on the branch of the tank it replaced is the usual way to get
//! there.
//!
//! **How it is measured.** The piping is followed from the point of delivery. A pipe's load is the greatest input of every
//! appliance behind it; above 2,000 ft it is the input the appliance is set to. Its length is that from the start of its
//! pressure zone to the zone's most remote outlet (longest-length method), or to the most remote outlet behind the pipe
//! (branch-length method); each regulator starts a zone. Fittings add their equivalent length where the pack says so. The
//! capacity is that of the printed table, read at the row of that length or the next longer one and never between, or that of
//! the code's equation: the pack chooses, both are shown, and where one passes what the other fails the finding warns. Corrugated
//! tubing is held against the table of its maker. Past the last row that is known nothing is guessed.
//!
//! **How it is fixed.** The next size up, which the finding names; a second line; or a higher pressure with a regulator at the
//! appliance. Gas piping is for a licensed fitter, is tested before it is used, and follows the code adopted where it stands.

use crate::judging::Judging;
use crate::parameters;
use crate::piping;
use redtag_rule::prelude::*;

/// The rule.
pub const RULE: Rule = Rule {
    citations: &[
        cited("IRC", "2018", "G2413.2"),
        cited("IRC", "2018", "G2413.3"),
        cited("IRC", "2018", "G2413.4"),
        remembered("IRC", "2021", "G2413.4"),
        remembered("IFGC", "2021", "402.4"),
    ],
    parameters: &[
        &parameters::BASIS,
        &parameters::FITTINGS,
        &parameters::GENERIC_TUBING,
        &parameters::CLOSE,
        &parameters::ALTITUDE_FROM,
        &parameters::ALTITUDE_DEMAND,
    ],
    reads: &["/equipment", "/gas", "/site"],
    ..Rule::new("fuel-gas/pipe-size", "Gas pipes large enough for what hangs on them", check)
};

const WANTED: &str = "whether the pipe carries what hangs on it";

fn check(inquiry: &Inquiry) -> Vec<Finding> {
    if !piping::is_drawn(inquiry) {
        return piping::nothing_drawn(inquiry);
    }
    let segments = need!(inquiry.project(), gas.segments).every();
    let judging = match Judging::of(inquiry) {
        Ok(judging) => judging,
        Err(unresolved) => {
            return segments.iter().map(|segment| segment.ask(WANTED, || Err(unresolved.clone()))).collect();
        }
    };
    if let Some(engineered) = judging.engineered() {
        let says = |segment: &Place<GasSegment>| {
            segment.ask(WANTED, || {
                engineered.clone().map(|()| segment.complies(text!("sized by an engineer, and the calculation is accepted")))
            })
        };
        return segments.iter().map(says).collect();
    }
    let judge = |(number, segment): (usize, &Place<GasSegment>)| segment.sheet(WANTED, |sheet| judging.judge(number, sheet));
    segments.iter().enumerate().map(judge).collect()
}
