//! A panel that sources feed from two sides must have a bus that carries them all.
//!
//! The main breaker does not see what solar or batteries feed in behind it. On a bus fed from both ends more current may flow than
//! its copper stands, and no breaker opens.
//!
//! **How it is measured.** The output current of every source of the panel, as it is rated or as a listed power control system
//! holds it, times 125 percent, with the main breaker, against the bus; against 120 percent of the bus where the sources sit at the
//! other end, or where the bus is fed in its middle; or the ratings of all breakers but the main one against the bus. One of
//! them is enough. The habit of adding source breaker and main is told beside them; it is stricter than the code.
//!
//! **How it is fixed.** A smaller main, a larger bus, the source breaker moved to the other end, a power control system, or a
//! connection ahead of the main. Only a licensed electrician opens the panel.

use crate::circuits;
use redtag_handbook::panel::{self as trade, Bus};
use redtag_handbook::units;
use redtag_rule::prelude::*;
use uom::si::f64::ElectricCurrent;

/// Continuous.
const CONTINUOUS: Quantity<dimensions::Ratio> =
    Quantity::new("continuous_factor", "125 %", "What the sources' output is multiplied by.", "NEC 705.12(B)")
        .within("100 %", "200 %");
/// Apart.
const APART: Quantity<dimensions::Ratio> =
    Quantity::new("bus_apart", "120 %", "What the bus is taken for where main and sources sit apart.", "NEC 705.12(B)(2)")
        .within("100 %", "150 %");
/// Sum of breakers.
const SUM: Flag = Flag::new(
    "sum_of_breakers",
    true,
    "Whether the sum of breakers is one of the ways.",
    "NEC 705.12(B)(3) (forums.mikeholt.com 2585503)",
);
/// Fed in the middle.
const CENTER: Flag = Flag::new(
    "center_fed",
    true,
    "Whether a bus fed in its middle counts as fed apart.",
    "NEC 705.12(B)(4), dwellings, since 2017",
);

/// The rule.
pub const RULE: Rule = Rule {
    citations: &[cited("NEC", "2020", "705.12(B)")],
    parameters: &[&CONTINUOUS, &APART, &SUM, &CENTER],
    reads: &["/electrical/panels", "/electrical/inverters"],
    ..Rule::new("panels/bus", "Bus fed by several sources", check)
};

const WANTED: &str = "whether its bus carries its sources";
const SOURCE: &str = "NEC 705.12(B)";

fn check(inquiry: &Inquiry) -> Vec<Finding> {
    circuits::panels(inquiry)
        .iter()
        .map(|panel| {
            let sources = sources(inquiry, panel);
            if sources.is_empty() {
                return panel.not_applicable(text!("no source feeds it but its main")).done();
            }
            panel.sheet(WANTED, |sheet| judge(inquiry, panel, &sources, sheet))
        })
        .collect()
}

/// The inverters joined to a panel on its load side.
fn sources<'a>(inquiry: &Inquiry<'a>, panel: &Place<'a, Panel>) -> Vec<Place<'a, Inverter>> {
    let joined = |inverter: &Place<Inverter>| {
        inverter.panel.as_ref() == Some(&panel.id)
            && inverter.interconnection.is_none_or(|kind| kind == InterconnectionKind::LoadSide)
    };
    need!(inquiry.project(), electrical.inverters).every().into_iter().filter(joined).collect()
}

fn judge<'a>(
    inquiry: &Inquiry<'a>,
    panel: &Place<'a, Panel>,
    sources: &[Place<'a, Inverter>],
    sheet: &mut Sheet,
) -> Lookup<Text> {
    let currents = sources.iter().map(output).collect::<Vec<_>>().together();
    let (rating, main, currents) = (need!(panel, bus_rating), need!(panel, main), currents).together()?;
    for (source, current) in sources.iter().zip(&currents) {
        sheet.line(&source.id, text!("{}", *current), "its rated output, or as a power control system holds it");
    }
    let sum = currents.iter().fold(ElectricCurrent::default(), |sum, current| sum + *current);
    let breakers = need!(panel, circuits)?.items().map(|circuit| need!(circuit, overcurrent).map(|device| device.quantity()));
    let breakers =
        breakers.collect::<Vec<_>>().together().map(|all| all.into_iter().fold(ElectricCurrent::default(), |sum, one| sum + one));
    let bus = Bus {
        rating: rating.quantity(),
        main: main.quantity(),
        sources: sum,
        breakers: breakers.clone().unwrap_or_default(),
        continuous: units::in_fraction(inquiry.value(&CONTINUOUS)),
        apart: units::in_fraction(inquiry.value(&APART)),
    };
    let [together, apart, all] = trade::readings(&bus);
    let words =
        text!("{} × {} + {} = {}, the bus has {}", inquiry.value(&CONTINUOUS), sum, main, together.asked, together.allowed);
    if sheet.test("sources and main", words.clone(), SOURCE, at_most(together.asked, together.allowed)) {
        return Ok(words);
    }
    let position = position(inquiry, panel);
    let words = text!("{} with main and sources apart, {} of the bus are {}", apart.asked, inquiry.value(&APART), apart.allowed);
    let enough = at_most(apart.asked, apart.allowed);
    let holds = position.clone().unwrap_or(false);
    if sheet.test("main and sources apart", words.clone(), SOURCE, enough && holds) {
        return Ok(words);
    }
    if inquiry.value(&SUM) && breakers.is_ok() {
        let words = text!("all breakers but the main are {}, the bus has {}", all.asked, all.allowed);
        if sheet.test("sum of breakers", words.clone(), "NEC 705.12(B)(3)", at_most(all.asked, all.allowed)) {
            return Ok(words);
        }
    }
    if enough && let Err(unresolved) = position {
        return Err(unresolved);
    }
    if inquiry.value(&SUM)
        && let Err(unresolved) = breakers
    {
        return Err(unresolved);
    }
    fault(&bus, enough, sheet);
    Ok(Text::default())
}

/// What a source gives at most.
fn output(inverter: &Place<Inverter>) -> Lookup<ElectricCurrent> {
    if let Ok(held) = need!(inverter, power_control_current) {
        return Ok(held.quantity());
    }
    need!(inverter, output_current).map(|current| current.quantity())
}

/// Whether the sources sit at the other end from the main.
fn position(inquiry: &Inquiry, panel: &Place<Panel>) -> Lookup<bool> {
    let (feed, spaces) = (need!(panel, feed_position), need!(panel, spaces)).together()?;
    let sources = need!(panel, circuits)?.items().filter(|circuit| circuit.role == Some(CircuitRole::Source));
    let slots = sources.map(|circuit| need!(circuit, slots)).collect::<Vec<_>>().together()?;
    // Two columns: the last two rows are the far end, the first two the near one.
    let far = |slot: &u32| slot.saturating_add(4) > *spaces;
    let near = |slot: &u32| *slot <= 4;
    let all = |at: &dyn Fn(&u32) -> bool| !slots.is_empty() && slots.iter().all(|slots| slots.iter().all(at));
    Ok(match *feed {
        FeedPosition::Top | FeedPosition::FeedThrough => all(&far),
        FeedPosition::Bottom => all(&near),
        FeedPosition::Center => inquiry.value(&CENTER) && (all(&far) || all(&near)),
        _ => false,
    })
}

fn fault(bus: &Bus, apart: bool, sheet: &mut Sheet) {
    let [together, ..] = trade::readings(bus);
    let load = bus.sources * bus.continuous;
    sheet.fault(text!(
        "bus of {} cannot take a main of {} and sources of {} times {}",
        bus.rating,
        bus.main,
        bus.sources,
        units::fraction(bus.continuous)
    ));
    if apart {
        sheet.cure(text!("move the source breakers to the other end of the bus from the main, and mark them not to be moved"));
    }
    let largest = bus.rating * bus.apart - load;
    if largest > ElectricCurrent::default() {
        sheet.cure(text!("use a main of {} at most with the sources at the other end, where the load allows it", largest));
    }
    sheet.cure(text!("use a bus of {} at least, or join the sources ahead of the main", together.asked / bus.apart));
}
