//! Inside a building, the dc conductors of solar modules run in metal, apart from other wiring, and labelled.
//!
//! They cannot be switched off while the sun shines. A nail through plastic tubing draws an arc that nothing interrupts, and
//! firefighters who cut a pipe must know what is in it.
//!
//! **How it is measured.** Raceways with solar dc conductors of more than 30 V or 8 A, or meant for them, inside a building: of metal,
//! with no conductors of other systems, labels no further apart than 10 ft. Metal-clad cable counts as metal. Conductors on a
//! circuit of a panel are none of them; what nobody says of others is asked.
//!
//! **How it is fixed.** Metal tubing instead of plastic, a conduit of its own, labels.

use crate::inside;
use redtag_rule::prelude::*;

const SOURCE: &str = "NEC 690.31(D) (2022 state text of the 2020 edition)";
/// From here on.
const VOLTAGE: Quantity<dimensions::Voltage> =
    Quantity::new("voltage", "30 V", "The voltage above which metal is required.", SOURCE).within("0 V", "600 V");
/// From here on.
const CURRENT: Quantity<dimensions::Current> =
    Quantity::new("current", "8 A", "The current above which metal is required.", SOURCE).within("0 A", "100 A");
/// Labels.
const LABELS: Quantity<dimensions::Length> =
    Quantity::new("label_spacing", "10 ft", "The greatest distance between labels.", "from memory of NEC 690.31(D)(2)")
        .within("1 ft", "50 ft");
/// Partitioned.
const APART: Flag = Flag::new("own_raceway", true, "Whether solar dc must not share a raceway with other systems.", SOURCE);

/// The rule.
pub const RULE: Rule = Rule {
    citations: &[cited("NEC", "2020", "690.31(D)"), cited("NEC", "2020", "690.31(B)")],
    parameters: &[&VOLTAGE, &CURRENT, &LABELS, &APART],
    reads: &["/raceways", "/spaces", "/electrical/solar"],
    ..Rule::new("raceways/solar-dc", "Solar dc inside a building", check)
};

const WANTED: &str = "whether solar dc runs in it as it must";

fn check(inquiry: &Inquiry) -> Vec<Finding> {
    let judge_one = |raceway: &Place<Raceway>| {
        if !carries_solar(inquiry, raceway) {
            if let Some(unresolved) = unsaid(raceway)
                && indoors(raceway)
            {
                return raceway.ask(WANTED, || Err(unresolved));
            }
            return raceway.not_applicable(text!("no solar dc in it")).done();
        }
        if !indoors(raceway) {
            return raceway.not_applicable(text!("runs outdoors only")).done();
        }
        raceway.sheet(WANTED, |sheet| judge(inquiry, raceway, sheet))
    };
    let every = inside::every(inquiry);
    every.iter().map(judge_one).chain(astray(inquiry, &every)).collect()
}

/// Arrays that make dc and do not say which raceway it runs in, where no raceway is said to hold any.
fn astray(inquiry: &Inquiry, every: &[Place<Raceway>]) -> Vec<Finding> {
    let holds =
        |raceway: &Place<Raceway>| raceway.conductors.iter().flatten().any(|conductor| conductor.wiring == Some(Wiring::SolarDc));
    if every.is_empty() || every.iter().any(holds) {
        return Vec::new();
    }
    let arrays = need!(inquiry.project(), electrical.solar).every();
    let lost = |array: &&Place<SolarArray>| array.raceway.is_none() && (array.dc_voltage.is_some() || array.dc_current.is_some());
    arrays.iter().filter(lost).map(|array| array.ask(WANTED, || Err(array.missing("/raceway")))).collect()
}

/// Whether solar dc runs in it or an array says that it will.
fn carries_solar(inquiry: &Inquiry, raceway: &Place<Raceway>) -> bool {
    let inside = raceway.conductors.iter().flatten().any(|conductor| conductor.wiring == Some(Wiring::SolarDc));
    let arrays = need!(inquiry.project(), electrical.solar).every();
    inside || arrays.iter().any(|array| array.raceway.as_ref() == Some(&raceway.id))
}

/// Conductors that say neither what they belong to nor a circuit; what grounds or is bare is no solar dc.
fn unsaid(raceway: &Place<Raceway>) -> Option<Unresolved> {
    let quiet = |one: &RacewayConductor| grounds(one) || one.role == Some(ConductorRole::Neutral);
    let open = |one: &Place<RacewayConductor>| {
        one.wiring.is_none() && one.circuit.is_none() && !quiet(one) && one.insulation.as_deref() != Some("bare")
    };
    need!(raceway, conductors).every().iter().find(|one| open(one)).map(|one| one.missing("/wiring"))
}

/// Whether a conductor belongs to no system by itself: what grounds, and what is spare.
fn grounds(conductor: &RacewayConductor) -> bool {
    use ConductorRole as R;
    matches!(conductor.role, Some(R::EquipmentGrounding | R::Bonding | R::Spare))
}

/// Whether some of it runs in a space; where nothing is said it does.
fn indoors(raceway: &Place<Raceway>) -> bool {
    let runs = raceway.runs.as_deref().unwrap_or_default();
    runs.is_empty() || runs.iter().any(|run| run.spaces.as_ref().is_none_or(|spaces| !spaces.is_empty()))
}

fn judge(inquiry: &Inquiry, raceway: &Place<Raceway>, sheet: &mut Sheet) -> Lookup<Text> {
    let conductors = need!(raceway, conductors).every();
    let solar: Vec<_> = conductors.iter().filter(|conductor| conductor.wiring == Some(Wiring::SolarDc)).collect();
    let limit = inquiry.value(&VOLTAGE);
    let high = voltages(inquiry, raceway, &solar, sheet).into_iter().find(|voltage| !at_most(*voltage, limit));
    let strong = if high.is_some() || inside::is_metal(raceway.kind) { None } else { strong(inquiry, raceway, sheet) };
    let why = match (high, strong) {
        (Some(voltage), _) => Some(text!("of {}: more than {} needs metal", voltage, limit)),
        (None, Some(current)) => Some(text!("of {}: more than {} needs metal", current, inquiry.value(&CURRENT))),
        (None, None) => None,
    };
    if let Some(why) = why {
        let words = text!("{} with solar dc {}", raceway.kind, why);
        if !sheet.require("metal", words, SOURCE, inside::is_metal(raceway.kind)) {
            let pointer = format!("{}/kind", raceway.pointer());
            sheet.cure_at(text!("use metal tubing"), &[(pointer, json!("electrical-metallic-tubing"))]);
        }
    }
    let others = conductors.iter().any(|one| one.wiring.is_some_and(|wiring| wiring != Wiring::SolarDc) && !grounds(one));
    if inquiry.value(&APART)
        && !solar.is_empty()
        && !others
        && let Some(unresolved) = unsaid(raceway)
    {
        sheet.lack(unresolved);
    }
    if inquiry.value(&APART) && !solar.is_empty() {
        let words = if others { "conductors of other systems run in it too" } else { "nothing else runs in it" };
        if !sheet.require("apart", text!("{}", words), "NEC 690.31(B)", !others) {
            sheet.cure(text!("lead the solar conductors through a raceway of their own"));
        }
    }
    if let Some(spacing) = sheet.want(need!(raceway, label_spacing)) {
        let most = inquiry.value(&LABELS);
        let words = text!("labels {} apart, {} is the most", in_unit(spacing.get(), "ft"), in_unit(most, "ft"));
        if !sheet.require("labels", words, "from memory of NEC 690.31(D)(2)", at_most(spacing.quantity(), most)) {
            sheet.cure(text!(
                "add labels: none more than {} from the next, and on each side of walls and floors",
                in_unit(most, "ft")
            ));
        }
    }
    Ok(text!("solar dc runs in metal, by itself, labelled"))
}

use uom::si::f64::{ElectricCurrent, ElectricPotential};

/// The current of an array that uses it, where that is more than plastic may hold; asked for where nobody says it.
fn strong(inquiry: &Inquiry, raceway: &Place<Raceway>, sheet: &mut Sheet) -> Option<ElectricCurrent> {
    let arrays = need!(inquiry.project(), electrical.solar).every();
    let own: Vec<_> = arrays.iter().filter(|array| array.raceway.as_ref() == Some(&raceway.id)).collect();
    if own.is_empty() {
        let wanted = "the array whose conductors run in it, with its greatest dc current";
        sheet.lack(Unresolved::because("/electrical/solar", wanted));
    }
    let currents = own.into_iter().filter_map(|array| sheet.want(need!(array, dc_current)).map(|current| current.quantity()));
    currents.collect::<Vec<_>>().into_iter().find(|current| !at_most(*current, inquiry.value(&CURRENT)))
}

/// The voltages of the solar conductors, or of the array that is meant to use it.
fn voltages(
    inquiry: &Inquiry,
    raceway: &Place<Raceway>,
    solar: &[&Place<RacewayConductor>],
    sheet: &mut Sheet,
) -> Vec<ElectricPotential> {
    let arrays = need!(inquiry.project(), electrical.solar).every();
    let of_array = arrays.iter().filter(|array| array.raceway.as_ref() == Some(&raceway.id));
    let stated: Vec<_> = of_array.filter_map(|array| need!(array, dc_voltage).ok().map(|voltage| voltage.quantity())).collect();
    if !stated.is_empty() {
        return stated;
    }
    let ungrounded = solar.iter().filter(|one| one.role != Some(ConductorRole::EquipmentGrounding));
    ungrounded.filter_map(|one| sheet.want(need!(one, voltage)).map(|voltage| voltage.quantity())).collect()
}
