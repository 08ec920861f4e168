//! A panel that sources feed from two sides must have a bus that carries them all.
//!
//! The main breaker does not see what solar or batteries feed in behind it. On a bus fed from both ends more current may flow than
//! its copper stands, and no breaker opens.
//!
//! **How it is measured.** The output current of every source of the panel, as it is rated or as a listed power control system
//! holds it, times 125 percent, with the main breaker, against the bus; against 120 percent of the bus where the sources sit at the
//! other end and their breakers are marked not to be moved, or where the bus is fed in its middle; or the ratings of all breakers
//! but the main one against the bus, where the list of breakers is whole. One of them is enough; the main breaker is never larger
//! than the bus. A source is every inverter that says that it is joined to the panel, itself or by its circuit. The habit of adding
//! source breaker and main is stricter than the code.
//!
//! **How it is fixed.** A smaller main, a larger bus, the source breaker moved to the other end, a power control system, or a
//! connection ahead of the main. Only a licensed electrician opens the panel.

use crate::circuits;
use redtag_handbook::panel::{self as trade, Bus};
use redtag_handbook::raceway::standard_below;
use redtag_handbook::units;
use redtag_rule::prelude::*;
use uom::si::f64::ElectricCurrent;

/// Continuous.
const CONTINUOUS: Quantity<dimensions::Ratio> =
    Quantity::new("continuous_factor", "125 %", "What the sources' output is multiplied by.", "NEC 705.12(B)(3)")
        .within("100 %", "200 %");
/// Apart.
const APART: Quantity<dimensions::Ratio> =
    Quantity::new("bus_apart", "120 %", "What the bus is taken for where main and sources sit apart.", "NEC 705.12(B)(3)(2)")
        .within("100 %", "150 %");
/// Sum of breakers.
const SUM: Flag = Flag::new("sum_of_breakers", true, "Whether the sum of breakers is one of the ways.", "NEC 705.12(B)(3)(3)");
/// Fed in the middle.
const CENTER: Flag = Flag::new(
    "center_fed",
    true,
    "Whether a bus fed in its middle counts as fed apart.",
    "NEC 705.12(B)(3)(4), dwellings, since 2017",
);

/// The rule.
pub const RULE: Rule = Rule {
    citations: &[cited("NEC", "2020", "705.12(B)(3)")],
    parameters: &[&CONTINUOUS, &APART, &SUM, &CENTER],
    reads: &["/electrical/panels", "/electrical/inverters"],
    ..Rule::new("panels/bus", "Bus fed by several sources", check)
};

const WANTED: &str = "whether its bus carries its sources";

fn check(inquiry: &Inquiry) -> Vec<Finding> {
    let homeless = homeless(inquiry);
    circuits::panels(inquiry)
        .iter()
        .map(|panel| {
            let sources = sources(inquiry, panel);
            if let Some(unresolved) = homeless.clone() {
                return panel.ask(WANTED, || Err(unresolved));
            }
            if sources.is_empty() {
                return match unnamed(panel) {
                    Some(unresolved) => panel.ask(WANTED, || Err(unresolved)),
                    None => panel.not_applicable(text!("no source feeds it but its main")).done(),
                };
            }
            panel.sheet(WANTED, |sheet| judge(inquiry, panel, &sources, sheet))
        })
        .collect()
}

/// Whether an inverter may be joined to the load side of a panel.
fn may_join(inverter: &Inverter) -> bool {
    inverter.interconnection.is_none_or(|kind| kind == InterconnectionKind::LoadSide)
}

/// The panel an inverter says it is joined to, itself or by its circuit.
fn home(inquiry: &Inquiry, inverter: &Inverter) -> Option<String> {
    let by_circuit = || circuits::panel_of(inquiry, inverter.circuit.as_deref()?).map(|panel| panel.id.clone());
    inverter.panel.clone().or_else(by_circuit)
}

/// The inverters joined to a panel on its load side.
fn sources<'a>(inquiry: &Inquiry<'a>, panel: &Place<'a, Panel>) -> Vec<Place<'a, Inverter>> {
    let joined = |inverter: &Place<Inverter>| may_join(inverter) && home(inquiry, inverter).as_ref() == Some(&panel.id);
    need!(inquiry.project(), electrical.inverters).every().into_iter().filter(joined).collect()
}

/// Inverters that say nothing of the panel they are joined to: each could be this one's.
fn homeless(inquiry: &Inquiry) -> Option<Unresolved> {
    let lost = |inverter: &Place<Inverter>| {
        may_join(inverter) && inverter.interactive != Some(false) && home(inquiry, inverter).is_none()
    };
    let inverters = need!(inquiry.project(), electrical.inverters).every().into_iter().filter(lost);
    inverters.map(|inverter| inverter.missing("/panel")).fold(None, Unresolved::joined)
}

/// A breaker through which a source feeds the bus that no inverter names.
fn unnamed(panel: &Place<Panel>) -> Option<Unresolved> {
    let source = need!(panel, circuits).every().into_iter().find(|circuit| circuit.role == Some(CircuitRole::Source))?;
    let wanted = format!("the inverter that feeds through circuit {}, with its output current and its panel", source.id);
    Some(Unresolved::because("/electrical/inverters", wanted))
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
    let breakers = breakers(panel);
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
    if sheet.test("sources and main", words.clone(), "NEC 705.12(B)(3)(1)", at_most(together.asked, together.allowed)) {
        return Ok(words);
    }
    let mut open = None;
    if inquiry.value(&SUM) && at_most(main.quantity(), rating.quantity()) {
        // What is listed already says no, or the list must be whole.
        let words = text!("all breakers but the main are {}, the bus has {}", all.asked, all.allowed);
        match breakers {
            Ok(_) if !at_most(all.asked, all.allowed) => {
                sheet.test("sum of breakers", words, "NEC 705.12(B)(3)(3)", false);
            }
            Ok(_) => match whole(panel) {
                Ok(()) => {
                    sheet.test("sum of breakers", words.clone(), "NEC 705.12(B)(3)(3)", true);
                    return Ok(words);
                }
                Err(unresolved) => open = Unresolved::joined(open, unresolved),
            },
            Err(unresolved) => open = Unresolved::joined(open, unresolved),
        }
    }
    if at_most(apart.asked, apart.allowed) {
        match at_other_end(inquiry, panel, sources, sheet) {
            Ok(true) => {
                let words = text!(
                    "{} with main and sources apart, {} of the bus are {}",
                    apart.asked,
                    inquiry.value(&APART),
                    apart.allowed
                );
                sheet.test("main and sources apart", words.clone(), "NEC 705.12(B)(3)(2)", true);
                return Ok(words);
            }
            Ok(false) => {}
            Err(unresolved) => open = Unresolved::joined(open, unresolved),
        }
    } else {
        let words =
            text!("{} with main and sources apart, {} of the bus are {}", apart.asked, inquiry.value(&APART), apart.allowed);
        sheet.test("main and sources apart", words, "NEC 705.12(B)(3)(2)", false);
    }
    if let Some(unresolved) = open {
        return Err(unresolved);
    }
    fault(&bus, at_most(apart.asked, apart.allowed), sheet);
    Ok(Text::default())
}

/// The ratings of all breakers but the main, together.
fn breakers(panel: &Place<Panel>) -> Lookup<ElectricCurrent> {
    let each = need!(panel, circuits)?.items().map(|circuit| need!(circuit, overcurrent).map(|device| device.quantity()));
    Ok(each.collect::<Vec<_>>().together()?.into_iter().fold(ElectricCurrent::default(), |sum, one| sum + one))
}

/// Whether the list of breakers holds all of them: it says so, or every space is taken.
fn whole(panel: &Place<Panel>) -> Lookup<()> {
    let taken: usize = panel.circuits.iter().flatten().filter_map(|circuit| circuit.slots.as_ref()).map(Vec::len).sum();
    if panel.circuits_complete == Some(true) || panel.spaces.is_some_and(|spaces| taken >= spaces as usize) {
        return Ok(());
    }
    let wanted = "whether every breaker of the panel is listed: the sum of breakers holds for a whole list only";
    Err(Unresolved::because(format!("{}/circuits_complete", panel.pointer()), wanted))
}

/// Whether main and sources sit apart, with the source breakers marked not to be moved.
fn at_other_end<'a>(
    inquiry: &Inquiry<'a>,
    panel: &Place<'a, Panel>,
    sources: &[Place<'a, Inverter>],
    sheet: &mut Sheet,
) -> Lookup<bool> {
    let breakers = source_breakers(panel, sources)?;
    if !position(inquiry, panel, &breakers)? {
        sheet.line("place", text!("the source breaker does not sit at the other end from the main"), "NEC 705.12(B)(3)(2)");
        return Ok(false);
    }
    for breaker in &breakers {
        match (breaker.marked, inquiry.stage()) {
            // The label goes on when the breaker is in.
            (Some(true), _) | (_, Stage::Permit | Stage::RoughIn) => {}
            (None, _) => return Err(breaker.missing("/marked")),
            (Some(false), _) => {
                let words = text!("the breaker of {} is not marked not to be moved", breaker.label());
                sheet.require("mark", words, "NEC 705.12(B)(3)(2)", false);
                let pointer = format!("{}/marked", breaker.pointer());
                sheet.cure_at(
                    text!("put the label beside it: do not relocate this overcurrent device"),
                    &[(pointer, json!(true))],
                );
            }
        }
    }
    Ok(true)
}

/// The breakers through which the sources feed the bus: those that say so and those that an inverter names. A source that names
/// none feeds through one of those that say so, as long as there is one for each.
fn source_breakers<'a>(panel: &Place<'a, Panel>, sources: &[Place<'a, Inverter>]) -> Lookup<Vec<Place<'a, Circuit>>> {
    let list = need!(panel, circuits)?;
    let named = |circuit: &Circuit| {
        let by_source = |inverter: &Place<Inverter>| {
            inverter.circuit.as_ref() == Some(&circuit.id) || redtag_rule_load::circuit::serves(circuit, &inverter.id)
        };
        circuit.role == Some(CircuitRole::Source) || sources.iter().any(by_source)
    };
    let found: Vec<Place<Circuit>> = list.items().filter(|circuit| named(circuit)).collect();
    let wanted = "the circuit the source feeds through, or a circuit with the role `source`";
    let named = |inverter: &&Place<Inverter>| {
        let by_circuit = |circuit: &Circuit| redtag_rule_load::circuit::serves(circuit, &inverter.id);
        inverter.circuit.is_some() || list.iter().any(by_circuit)
    };
    match sources.iter().find(|inverter| !named(inverter)) {
        Some(nameless) if found.len() < sources.len() => {
            Err(Unresolved::because(format!("{}/circuit", nameless.pointer()), wanted))
        }
        _ => Ok(found),
    }
}

/// What a source gives at most.
fn output(inverter: &Place<Inverter>) -> Lookup<ElectricCurrent> {
    if let Ok(held) = need!(inverter, power_control_current) {
        return Ok(held.quantity());
    }
    need!(inverter, output_current).map(|current| current.quantity())
}

/// Whether the sources sit at the other end from the main.
fn position(inquiry: &Inquiry, panel: &Place<Panel>, breakers: &[Place<Circuit>]) -> Lookup<bool> {
    let (feed, spaces) = (need!(panel, feed_position), need!(panel, spaces)).together()?;
    let slots = breakers.iter().map(every_slot).collect::<Vec<_>>().together()?;
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

/// The spaces a breaker takes, where as many are said as it has poles: one that is left out may be anywhere.
fn every_slot<'a>(circuit: &Place<'a, Circuit>) -> Lookup<Place<'a, Vec<u32>>> {
    let slots = need!(circuit, slots)?;
    let wanted = "every space the breaker takes, as many as it has poles";
    match circuit.poles {
        Some(poles) if (slots.len() as u32) < poles => Err(Unresolved::because(slots.pointer(), wanted)),
        Some(_) => Ok(slots),
        None if slots.len() > 1 => Ok(slots),
        None => Err(circuit.missing("/poles")),
    }
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
    // Standard sizes only, and none that is there already.
    let main = standard_below(bus.rating * bus.apart - load).filter(|main| *main < bus.main);
    if let Some(main) = main {
        sheet.cure(text!("use a main of {} at most with the sources at the other end, where the load allows it", main));
    }
    let larger = bus_size(together.asked / bus.apart).filter(|size| *size > bus.rating);
    match larger {
        Some(size) => {
            sheet.cure(text!("use a bus of {} at least with the sources at the other end, or join them ahead of the main", size))
        }
        None => sheet.cure(text!("join the sources ahead of the main")),
    }
}

/// The bus made next above a current: panelboards come in few ratings (common practice).
fn bus_size(least: ElectricCurrent) -> Option<ElectricCurrent> {
    let sizes = [100.0, 125.0, 150.0, 200.0, 225.0, 400.0, 600.0].map(ElectricCurrent::new::<uom::si::electric_current::ampere>);
    sizes.into_iter().find(|size| at_least(*size, least))
}
