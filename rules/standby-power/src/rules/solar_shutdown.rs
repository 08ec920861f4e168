//! Solar modules on a building can be made safe from outdoors within seconds, are labelled so, and have a disconnect.
//!
//! While the sun shines the conductors on the roof are live, whatever is switched off below. Firefighters who open a roof must be able
//! to take the voltage off it, and must know that they can.
//!
//! **How it is measured.** For each array that is there and stands on or in a building: whether its conductors can be shut down
//! rapidly, whether the label is at the service equipment (asked at the final inspection), and whether it has a disconnect that
//! can be got at. An array on the ground away from buildings needs the disconnect alone.
//!
//! **How it is fixed.** Electronics at each module or a listed hazard control system with an initiator outdoors, the label, a
//! disconnect at the inverter or outdoors. Only a licensed electrician works on it.

use redtag_rule::prelude::*;

/// The rule.
pub const RULE: Rule = Rule {
    citations: &[cited("NEC", "2020", "690.12"), cited("NEC", "2020", "690.56(C)"), remembered("NEC", "2020", "690.13")],
    reads: &["/electrical/solar", "/electrical/disconnects"],
    ..Rule::new("standby-power/solar-shutdown", "Shutting solar modules down", check)
};

const WANTED: &str = "whether it can be made safe";

fn check(inquiry: &Inquiry) -> Vec<Finding> {
    let arrays = need!(inquiry.project(), electrical.solar).every();
    arrays
        .iter()
        .map(|array| match array.future {
            Some(true) => array.not_applicable(text!("it is only prepared for")).done(),
            _ => array.sheet(WANTED, |sheet| judge(inquiry, array, sheet)),
        })
        .collect()
}

fn judge<'a>(inquiry: &Inquiry<'a>, array: &Place<'a, SolarArray>, sheet: &mut Sheet) -> Lookup<Text> {
    let on_building = sheet.want(need!(array, on_building));
    if on_building.is_some_and(|on| *on) {
        let words = ("its conductors can be shut down rapidly", "its conductors cannot be shut down rapidly");
        let cure = "use listed rapid shutdown equipment with an initiator outdoors";
        there(need!(array, rapid_shutdown), words, "NEC 690.12", cure, sheet);
        if inquiry.stage() == Stage::Final {
            let words = ("its shutdown is labelled at the service", "no label at the service says that it can be shut down");
            let cure = "put up the label with the diagram";
            there(need!(array, rapid_shutdown_labelled), words, "NEC 690.56(C)", cure, sheet);
        }
    }
    let disconnect = need!(array, disconnect).and_then(|id| need!(inquiry.project(), electrical.disconnects).named(&id))?;
    let accessible = need!(disconnect, readily_accessible)?;
    let words = text!("disconnect {} is {}readily accessible", disconnect.id, if *accessible { "" } else { "not " });
    if !sheet.require("disconnect", words, "from memory of NEC 690.13(A)", *accessible) {
        sheet.related(disconnect.pointer());
        sheet.cure(text!("clear the way to it or move it"));
    }
    Ok(text!("it can be disconnected and made safe"))
}

fn there(fact: Lookup<Place<bool>>, (good, bad): (&str, &str), source: &str, cure: &str, sheet: &mut Sheet) {
    let Some(fact) = sheet.want(fact) else { return };
    if !sheet.require("there", text!("{}", if *fact { good } else { bad }), source, *fact) {
        sheet.cure_at(text!("{}", cure), &[(fact.pointer().to_owned(), json!(true))]);
    }
}
