//! Condensate of a condensing burner is acid, pH 3 to 4: it eats cast iron, copper and concrete and harms septic systems. It is
//! neutralized before it gets there.
//!
//! No section names the neutralizer; the codes forbid harmful waste that is not diluted or neutralized, makers ask for one, and
//! officials read it so. Where nothing can be harmed this rule only advises.
//!
//! **How it is measured.** Whether the burner condenses, what the pipes behind its drain are made of, whether the site has a septic
//! system, whether there is a neutralizer, the input it is rated for, and whether one can get at it to refill it.
//!
//! **How it is fixed.** A cartridge of limestone rated for the input, where it can be refilled once a year.

use super::condensate_drain::may_condense;
use crate::network::{Network, goes_on_into, into_a_pipe};
use redtag_handbook::drainage::{condensing_gas_condensate, sources};
use redtag_rule::prelude::*;
use uom::si::f64::Power;

/// How strict.
const WHEN: Choice = Choice::new(
    "required",
    "where-it-harms",
    &["always", "where-it-harms", "never"],
    "Whether acid condensate must be neutralized always, where metal or concrete pipe or a septic system is behind it, or is only advised.",
    "IPC 803 and the National Standard Plumbing Code on corrosive waste, as neutralizer makers cite them",
);

/// The rule.
pub const RULE: Rule = Rule {
    citations: &[remembered("IPC", "2021", "803.1"), remembered("IRC", "2021", "M1411.3")],
    parameters: &[&WHEN],
    reads: &["/equipment", "/drainage", "/site"],
    ..Rule::new("drainage/condensate-neutralizer", "Acid condensate", check)
};

const WANTED: &str = "whether its acid condensate does harm";

fn check(inquiry: &Inquiry) -> Vec<Finding> {
    let equipment = need!(inquiry.project(), equipment).every();
    let judged = |thing: &Place<Equipment>| match is_acid(thing) {
        Ok(false) => None,
        Ok(true) => Some(thing.sheet(WANTED, |sheet| judge(inquiry, thing, sheet))),
        Err(unresolved) => Some(thing.ask(WANTED, || Err(unresolved))),
    };
    equipment.iter().filter_map(judged).collect()
}

/// Whether its condensate is acid: it says so, or it condenses what it burns.
fn is_acid(thing: &Place<Equipment>) -> Lookup<bool> {
    let said = thing.condensate.as_ref().and_then(|made| made.acid);
    let condensing = thing.fuel_burning.as_ref().and_then(|burning| burning.condensing);
    match said.or(condensing) {
        Some(acid) => Ok(acid),
        None if may_condense(thing) && redtag_rule::kinds::burns(thing)? => Err(thing.missing("/fuel_burning/condensing")),
        None => Ok(false),
    }
}

fn judge(inquiry: &Inquiry, thing: &Place<Equipment>, sheet: &mut Sheet) -> Lookup<Text> {
    let neutralized = need!(thing, condensate.neutralized)?;
    let input = need!(thing, fuel_burning.plate.input).map(|input| input.quantity());
    if let Ok(input) = input {
        sheet.line("amount", text!("up to {}", in_unit(condensing_gas_condensate(input), "gph")), sources::GAS_CONDENSATE.text());
    }
    if *neutralized {
        rated(thing, input, sheet);
        return Ok(text!("neutralized"));
    }
    let harmed = match inquiry.value(&WHEN) {
        "always" => Some("the code in force here".to_owned()),
        "never" => None,
        _ => harmed(inquiry, thing)?,
    };
    match harmed {
        Some(what) => {
            sheet.test("neutralizer", text!("none"), "IPC 803, from memory", false);
            sheet.fault(text!("its condensate is acid and not neutralized: {}", what));
            let mut values = vec![(neutralized.pointer().to_owned(), json!(true))];
            let at = |field: &str| format!("{}/condensate/{field}", thing.pointer());
            values.push((at("neutralizer_accessible"), json!(true)));
            if let Ok(input) = input {
                values.push((at("neutralizer_rating"), json!(quantity::Power::from_quantity(&input).print_in("Btu/h"))));
            }
            sheet.cure_at(text!("a neutralizer rated for its input, where it can be refilled"), &values);
        }
        None => sheet.advise(text!("its condensate is acid; a neutralizer keeps what lies behind the drain")),
    }
    Ok(text!("not neutralized"))
}

/// The neutralizer large enough, and within reach.
fn rated(thing: &Place<Equipment>, input: Lookup<Power>, sheet: &mut Sheet) {
    let facts = (need!(thing, condensate.neutralizer_rating), input).together();
    if let Some((rating, input)) = sheet.want(facts) {
        let words = text!("rated for {}, the burner takes {}", rating, input);
        sheet.require("rating", words, "its maker's sheet", at_least(rating.quantity(), input));
    }
    if let Some(free) = sheet.want(need!(thing, condensate.neutralizer_accessible)) {
        let words = if *free { text!("it can be refilled") } else { text!("nobody can get at it to refill it") };
        sheet.require("access", words, "its maker's sheet", *free);
    }
}

/// What it would harm: a septic system, or metal behind the drain.
fn harmed(inquiry: &Inquiry, thing: &Place<Equipment>) -> Lookup<Option<String>> {
    let sewage = need!(inquiry.project(), site.sewage)?;
    if matches!(*sewage, Sewage::SepticSystem | Sewage::AerobicTreatment) {
        return Ok(Some(format!("it runs into a {}", *sewage)));
    }
    let network = Network::of(inquiry);
    let mut at = match need!(thing, condensate.drain) {
        Ok(id) => {
            let drain = need!(inquiry.project(), drainage.drains).named(&id)?;
            if into_a_pipe(drain.kind) { Some(need!(drain, pipe)?.get().as_str()) } else { None }
        }
        Err(unresolved) => match need!(thing, condensate.pipe) {
            Ok(id) => Some(id.get().as_str()),
            Err(_) => return Err(unresolved),
        },
    };
    for _ in 0..network.pipes.len() {
        let Some(pipe) = at.and_then(|id| network.pipe(id)) else { break };
        let material = need!(pipe, material)?;
        use DrainPipeMaterial as M;
        if matches!(*material, M::CastIron | M::Copper | M::GalvanizedSteel) {
            return Ok(Some(format!("pipe {} is {}", pipe.id, *material)));
        }
        at = if goes_on_into(pipe.kind) { Some(need!(pipe, into)?.get().as_str()) } else { pipe.get().into.as_deref() };
    }
    Ok(None)
}
