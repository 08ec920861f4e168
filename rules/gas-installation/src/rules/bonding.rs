//! Metal gas piping must be joined to the grounding electrode system; corrugated stainless steel tubing by a heavy jumper of
//! its own, unless its jacket is listed to withstand arcs.
//!
//! Lightning nearby drives a current through whatever metal is there. It jumps from thin tubing to the next pipe or duct and
//! burns a pinhole through it.
//!
//! **How it is measured.** Rigid pipe is bonded through the equipment grounding conductor of an appliance it feeds, where one is
//! wired, or by a jumper of its own. It never is a grounding electrode itself.
//! Tubing without an arc-resistant jacket needs a copper jumper of 6 AWG at least, 75 ft long at most, from rigid pipe, the
//! manifold or a brass fitting behind the point of delivery, by a listed clamp, to the grounding electrode system. The clamp
//! never sits on the tubing. Where jackets are mixed, all of it is bonded so.
//!
//! **How it is fixed.** By an electrician: a jumper of the right size to a listed clamp on steel or on the brass fitting.

use crate::{marks, parts};
use redtag_handbook::gas_installation::{BONDING_GAUGES, gauge};
use redtag_rule::prelude::*;

const SOURCE: &str = "IRC G2411.1 (IFGC 310.1); tubing makers' guides";
const LEAST_SIZE: Choice = Choice::new(
    "least_conductor",
    "6 AWG",
    &BONDING_GAUGES,
    "Least size of the copper bonding jumper of corrugated tubing.",
    "IRC G2411.1.1 (IFGC 310.1.1); two tubing makers' guides",
);
const GREATEST_LENGTH: Quantity<dimensions::Length> = Quantity::new(
    "greatest_length",
    "75 ft",
    "Greatest length of the bonding jumper of corrugated tubing.",
    "IRC G2411.1.1 (IFGC 310.1.1); two tubing makers' guides",
)
.within("5 ft", "200 ft");
const ARC_RESISTANT: Choice = Choice::new(
    "arc_resistant_tubing",
    "as-rigid-pipe",
    &["as-rigid-pipe", "as-other-tubing"],
    "Whether tubing with a jacket listed as resistant to arcs is bonded as rigid pipe is, or by a jumper of its own.",
    "maker's brochure of April 2015, page 69; 2018 NFPA 54 reported to limit the duty to tubing without such a jacket",
);

/// The rule.
pub const RULE: Rule = Rule {
    citations: &[cited("IRC", "2018", "G2411"), cited("IFGC", "2018", "310"), remembered("NFPA 54", "2018", "7.12")],
    parameters: &[&LEAST_SIZE, &GREATEST_LENGTH, &ARC_RESISTANT],
    reads: &["/gas", "/equipment"],
    ..Rule::new("gas-installation/bonding", "Bonding of the gas piping", check)
};

const WANTED: &str = "whether the gas piping is bonded";

fn check(inquiry: &Inquiry) -> Vec<Finding> {
    let project = inquiry.project();
    let Ok(gas) = need!(project, gas) else { return Vec::new() };
    let pipes = match need!(gas, segments) {
        Ok(pipes) => pipes,
        Err(unresolved) if gas.bonding.is_some() => {
            return vec![crate::named::sheet(&gas, WANTED, |_| Err(unresolved))];
        }
        Err(_) => return Vec::new(),
    };
    let bond = need!(gas, bonding);
    let work = |sheet: &mut Sheet| judge(inquiry, &pipes, bond.clone(), sheet);
    vec![match &bond {
        Ok(bond) => crate::named::sheet(bond, WANTED, work),
        Err(_) => crate::named::sheet(&gas, WANTED, work),
    }]
}

fn judge(inquiry: &Inquiry, pipes: &Place<Vec<GasSegment>>, bond: Lookup<Place<GasBonding>>, sheet: &mut Sheet) -> Lookup<Text> {
    if let Ok(bond) = &bond
        && bond.used_as_electrode == Some(true)
    {
        sheet.require("electrode", text!("the gas piping serves as a grounding electrode"), "IRC G2411.2 (IFGC 310.2)", false);
        sheet.cure(text!(
            "disconnect it from the electrode conductor, and give the service a grounding electrode of another kind"
        ));
    }
    let tubing = tubing(inquiry, pipes, sheet);
    match tubing {
        Tubing::None => {
            sheet.line("tubing", text!("no corrugated tubing"), SOURCE);
            through_appliances(inquiry, bond)
        }
        Tubing::ArcResistant => {
            sheet.line("tubing", text!("all of it has an arc-resistant jacket: bonded as rigid pipe is"), SOURCE);
            through_appliances(inquiry, bond)
        }
        Tubing::Plain => jumper(inquiry, pipes, &bond?, sheet),
        Tubing::Unsaid(unsaid) => either_way(inquiry, pipes, (bond, unsaid), sheet),
    }
}

/// Rigid pipe counts as bonded where an appliance on it has an equipment grounding conductor; without one it is bonded by itself.
fn through_appliances(inquiry: &Inquiry, bond: Lookup<Place<GasBonding>>) -> Lookup<Text> {
    let appliances = parts::on_gas(inquiry);
    if let Some(wired) = appliances.iter().find(|item| is_wired(item)) {
        return Ok(text!("bonded through the equipment grounding conductor of {}", wired.label()));
    }
    if bond.as_ref().is_ok_and(|bond| bond.present == Some(true)) {
        let bond = bond?;
        if !*need!(bond, to_electrode_system)? {
            return Err(bond.missing("/to_electrode_system"));
        }
        return Ok(text!("bonded by a jumper of its own"));
    }
    let what = "what it draws from the wiring, where it is wired; else the piping needs a bond of its own";
    let unwired = appliances.iter().map(|item| Unresolved::because(format!("{}/electrical", item.pointer()), what));
    let none =
        Unresolved::because("/gas/bonding/present", "whether the piping is bonded: no appliance on it is said to be wired");
    Err(unwired.reduce(Unresolved::and).map_or_else(|| none.clone(), |unwired| none.clone().and(unwired)))
}

/// Whether wiring reaches it: as said, or because a fan of its own drives its gases.
fn is_wired(item: &Place<Equipment>) -> bool {
    let driven = [Burner::FanAssisted, Burner::PowerVented, Burner::PowerVenter, Burner::PowerBurner].map(Some);
    item.electrical.is_some() || driven.contains(&item.fuel_burning.as_ref().and_then(|burning| burning.burner))
}

/// Where a jacket is not spoken of, a jumper that would do for any tubing settles it; nothing else does.
fn either_way(
    inquiry: &Inquiry,
    pipes: &Place<Vec<GasSegment>>,
    (bond, unsaid): (Lookup<Place<GasBonding>>, Unresolved),
    sheet: &mut Sheet,
) -> Lookup<Text> {
    let bond = bond.map_err(|missing| unsaid.clone().and(missing))?;
    let mut trial = Sheet::default();
    match jumper(inquiry, pipes, &bond, &mut trial) {
        Err(missing) => Err(unsaid.and(missing)),
        Ok(_) if !trial.sound() => Err(unsaid),
        said => {
            sheet.take(trial);
            said
        }
    }
}

enum Tubing {
    None,
    ArcResistant,
    Plain,
    /// All that is known has the jacket, of some it is not said.
    Unsaid(Unresolved),
}

fn tubing(inquiry: &Inquiry, pipes: &Place<Vec<GasSegment>>, sheet: &mut Sheet) -> Tubing {
    let own = inquiry.value(&ARC_RESISTANT) == "as-other-tubing";
    let mut found = Tubing::None;
    for pipe in pipes.items() {
        match sheet.want(need!(pipe, material)).map(|material| *material) {
            Some(GasPipeMaterial::CorrugatedStainlessSteel) => {}
            _ => continue,
        }
        found = match (need!(pipe, arc_resistant_jacket).map(|jacket| *jacket), found) {
            (_, Tubing::Plain) => Tubing::Plain,
            (Ok(true), Tubing::None) if !own => Tubing::ArcResistant,
            (Ok(true), before) if !own => before,
            (Ok(_), _) => Tubing::Plain,
            (Err(_), _) if own => Tubing::Plain,
            (Err(unsaid), Tubing::Unsaid(before)) => Tubing::Unsaid(before.and(unsaid)),
            (Err(unsaid), _) => Tubing::Unsaid(unsaid),
        };
    }
    found
}

fn jumper(inquiry: &Inquiry, pipes: &Place<Vec<GasSegment>>, bond: &Place<GasBonding>, sheet: &mut Sheet) -> Lookup<Text> {
    let least = inquiry.value(&LEAST_SIZE);
    let most = inquiry.value(&GREATEST_LENGTH);
    if !*need!(bond, present)? {
        sheet.require("bond", text!("corrugated tubing, and no bonding jumper"), SOURCE, false);
        let words = text!(
            "run a copper jumper of {}, {} at most, from a listed clamp on steel pipe to the grounding electrode system",
            least,
            most
        );
        sheet.cure_at(words, &values(bond, least, true));
        tubing_marks(pipes, sheet);
        return Ok(Text::default());
    }
    size(bond, least, sheet);
    let nearer = |most| text!("attach it nearer to the electrode system, {} at most", most);
    parts::no_more(sheet, need!(bond, length), most, ("the jumper's length", "ft"), nearer, SOURCE);
    attachment(bond, pipes, sheet);
    let clamp = ("clamp", text!("its clamp is not listed"));
    parts::demand(sheet, need!(bond, clamp_listed), clamp, text!("fit a clamp listed to UL 467"), "UL 467");
    let reaches = ("to", text!("it does not reach the grounding electrode system"));
    let cure = text!("carry it to the service, the grounding electrode conductor or an electrode");
    parts::demand(sheet, need!(bond, to_electrode_system), reaches, cure, SOURCE);
    let behind = ("from", text!("it is attached ahead of the point of delivery"));
    parts::demand(
        sheet,
        need!(bond, behind_delivery),
        behind,
        text!("attach it behind the meter or second-stage regulator"),
        SOURCE,
    );
    Ok(text!("a jumper of {} bonds the tubing", least))
}

fn size(bond: &Place<GasBonding>, least: &str, sheet: &mut Sheet) {
    let Some(written) = sheet.want(need!(bond, conductor_size)) else { return };
    let Some(thick) = gauge(&written) else {
        sheet.lack(Unresolved::because(written.pointer(), "a size such as `6 AWG`"));
        return;
    };
    let words = text!("the jumper is {}, {} is the least", written.as_str(), least);
    if !sheet.require("size", words, SOURCE, gauge(least).is_some_and(|least| thick >= least)) {
        sheet.cure_at(text!("run a copper jumper of {}", least), &values(bond, least, false));
    }
}

fn attachment(bond: &Place<GasBonding>, pipes: &Place<Vec<GasSegment>>, sheet: &mut Sheet) {
    let Some(at) = sheet.want(need!(bond, attached_to)) else { return };
    let words = text!("clamped to the {}", *at);
    if !sheet.test("attached", words, SOURCE, *at != BondAttachment::Tubing) {
        sheet.fault(text!("its clamp sits on the corrugated tubing itself"));
        let cure = text!("move the clamp to rigid pipe, the manifold or a brass fitting of the tubing");
        sheet.cure_at(cure, &[(at.pointer().to_owned(), json!("rigid-pipe"))]);
        tubing_marks(pipes, sheet);
    }
}

fn tubing_marks(pipes: &Place<Vec<GasSegment>>, sheet: &mut Sheet) {
    let corrugated = |pipe: &Place<GasSegment>| pipe.material == Some(GasPipeMaterial::CorrugatedStainlessSteel);
    for pipe in pipes.items().filter(corrugated) {
        sheet.related(pipe.pointer());
        marks::pipe(sheet, &pipe, "corrugated tubing");
    }
}

fn values(bond: &Place<GasBonding>, size: &str, whole: bool) -> Vec<(String, redtag_rule::Value)> {
    let at = |field: &str| format!("{}/{field}", bond.pointer());
    let mut values = vec![(at("conductor_size"), json!(size))];
    if whole {
        values.push((at("present"), json!(true)));
        values.push((at("attached_to"), json!("rigid-pipe")));
    }
    values
}
