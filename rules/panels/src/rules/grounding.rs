//! A dwelling's wiring is joined to earth by every electrode it has, its metal water pipe is bonded across whatever interrupts it,
//! and neutral and ground meet in one place only.
//!
//! A softener with plastic unions cuts the pipe that everybody takes for grounded; a second bond lets neutral current run through
//! pipes and ducts.
//!
//! **How it is measured.** There is an electrode, and it counts: a metal water pipe from 10 ft in the earth on, a ring from 20 ft. A
//! water pipe always needs a second electrode beside it; a single rod or plate needs one unless its resistance is at most 25
//! ohm; rods stand 6 ft apart. The conductor to each against the service conductors, all sets in parallel together (a rod or
//! plate needs no more than 6 AWG, a concrete-encased electrode no more than 4 AWG, a ring its own size); the bond of a metal
//! water pipe, its size, and the jumper across meter and treatment; the places where neutral and ground are joined: one for each
//! service, at its disconnect. Gas pipe is no electrode. The figures are from memory and must be held against the adopted text.
//!
//! **How it is fixed.** A second rod, larger conductors, a jumper, one bond less.

use redtag_handbook::panel as trade;
use redtag_rule::prelude::*;

const SOURCE: &str = "from memory of NEC 250.50 to 250.66";
/// Rods.
const ROD_LENGTH: Quantity<dimensions::Length> =
    Quantity::new("rod_length", "8 ft", "The least length of a rod in the ground.", "from memory of NEC 250.52(A)(5)")
        .within("4 ft", "20 ft");
/// Encased.
const ENCASED_LENGTH: Quantity<dimensions::Length> =
    Quantity::new("encased_length", "20 ft", "The least length of a concrete-encased electrode.", "NEC 250.52(A)(3)")
        .within("10 ft", "50 ft");
/// Water pipe.
const PIPE_LENGTH: Quantity<dimensions::Length> = Quantity::new(
    "water_pipe_length",
    "10 ft",
    "The least length in the earth from which on a metal water pipe is an electrode.",
    "NEC 250.52(A)(1)",
)
.within("5 ft", "50 ft");
/// Ring.
const RING_LENGTH: Quantity<dimensions::Length> =
    Quantity::new("ring_length", "20 ft", "The least length of a ground ring.", "from memory of NEC 250.52(A)(4)")
        .within("10 ft", "100 ft");
/// Apart.
const ROD_SPACING: Quantity<dimensions::Length> =
    Quantity::new("rod_spacing", "6 ft", "The least distance between rods.", "from memory of NEC 250.53").within("3 ft", "20 ft");
/// Resistance of one rod.
const RESISTANCE: Quantity<dimensions::Resistance> =
    Quantity::new("single_rod_resistance", "25 ohm", "The resistance up to which one rod is enough.", "NEC 250.53(A)(2)")
        .within("1 ohm", "100 ohm");

/// The rule.
pub const RULE: Rule = Rule {
    citations: &[
        remembered("NEC", "2020", "250.50"),
        remembered("NEC", "2020", "250.24(A)"),
        cited("NEC", "2020", "250.52(A)"),
        cited("NEC", "2020", "250.53"),
        remembered("NEC", "2020", "250.66"),
        cited("NEC", "2020", "250.104(A)"),
    ],
    parameters: &[&ROD_LENGTH, &ENCASED_LENGTH, &PIPE_LENGTH, &RING_LENGTH, &ROD_SPACING, &RESISTANCE],
    stages: &[Stage::RoughIn, Stage::Final],
    reads: &["/electrical/grounding", "/electrical/services", "/electrical/panels", "/electrical/transfers"],
    ..Rule::new("panels/grounding", "Grounding and bonding", check)
};

const WANTED: &str = "whether the wiring is grounded and bonded";

fn check(inquiry: &Inquiry) -> Vec<Finding> {
    let project = inquiry.project();
    if need!(project, electrical.services).is_err() {
        return vec![project.not_applicable(text!("no service is described")).done()];
    }
    vec![project.sheet(WANTED, |sheet| {
        if let Some(electrodes) = sheet.want(need!(project, electrical.grounding.electrodes)) {
            let list: Vec<Place<Electrode>> = electrodes.items().collect();
            enough(inquiry, &list, electrodes.pointer(), sheet);
            for electrode in &list {
                let judged = one(inquiry, electrode, sheet);
                sheet.want(judged);
            }
        }
        water(inquiry, sheet);
        bonds(inquiry, sheet);
        Ok(text!("grounded, bonded, and joined to neutral in one place"))
    })]
}

/// One electrode by itself.
fn one<'a>(inquiry: &Inquiry<'a>, electrode: &Place<'a, Electrode>, sheet: &mut Sheet) -> Lookup<()> {
    let (least, name) = match electrode.kind {
        ElectrodeKind::Rod => (Some(inquiry.value(&ROD_LENGTH)), "rod"),
        ElectrodeKind::ConcreteEncased => (Some(inquiry.value(&ENCASED_LENGTH)), "concrete-encased electrode"),
        ElectrodeKind::WaterPipe => (Some(inquiry.value(&PIPE_LENGTH)), "water pipe"),
        ElectrodeKind::Ring => (Some(inquiry.value(&RING_LENGTH)), "ground ring"),
        ElectrodeKind::Plate => (None, "plate"),
        ElectrodeKind::GasPipe => {
            sheet.require("electrode", text!("gas pipe is no electrode"), "from memory of NEC 250.52(B)", false);
            sheet.cure(text!("take the conductor off the gas pipe; use a rod or a concrete-encased electrode"));
            return Ok(());
        }
        _ => (None, "electrode"),
    };
    if let Some(least) = least
        && let Some(length) = sheet.want(need!(electrode, length))
    {
        let words = text!("{} {} long, {} is the least", name, in_unit(length.get(), "ft"), in_unit(least, "ft"));
        if !sheet.require("length", words, SOURCE, at_least(length.quantity(), least)) {
            sheet.related(electrode.pointer());
            sheet.cure(text!("use one {} long at least", in_unit(least, "ft")));
        }
    }
    let size = need!(electrode, conductor_size)?;
    let table = by_service(inquiry)?;
    let cap = match electrode.kind {
        ElectrodeKind::Rod | ElectrodeKind::Plate => "6 AWG",
        ElectrodeKind::ConcreteEncased => "4 AWG",
        // Never larger than the ring itself, which is 2 AWG at least.
        ElectrodeKind::Ring => "2 AWG",
        _ => table,
    };
    let asked = if trade::rank(cap) < trade::rank(table) { cap } else { table };
    let unknown = || Unresolved::because(size.pointer(), "a size such as `6 AWG`");
    let holds = trade::rank(&size).ok_or_else(unknown)? >= trade::rank(asked).unwrap_or(0);
    let words = text!("{} to the {}, {} is the least", size.as_str(), name, asked);
    if !sheet.require("conductor", words, trade::ELECTRODE.text(), holds) {
        sheet.cure_at(text!("use {}", asked), &[(size.pointer().to_owned(), json!(asked))]);
    }
    Ok(())
}

/// The least conductor to an electrode or a water pipe for the service conductors; of several services the largest decides.
fn by_service(inquiry: &Inquiry) -> Lookup<&'static str> {
    let mut largest = "8 AWG";
    for service in need!(inquiry.project(), electrical.services)?.items() {
        let (size, material) = (need!(service, conductors.size), need!(service, conductors.material)).together()?;
        let sets = service.conductors.as_ref().and_then(|set| set.parallel).unwrap_or(1);
        let unknown = || Unresolved::because(size.pointer(), "a size of service conductors that the table lists");
        let asked = trade::electrode_conductor(&size, redtag_rule_load::circuit::metal(*material), sets).ok_or_else(unknown)?;
        if trade::rank(asked) > trade::rank(largest) {
            largest = asked;
        }
    }
    Ok(largest)
}

/// Whether it is an electrode at all, as far as is known: what is too short is none.
fn counts(inquiry: &Inquiry, electrode: &Electrode) -> bool {
    let long = |least| electrode.length.as_ref().is_none_or(|length| at_least(length.quantity(), least));
    match electrode.kind {
        ElectrodeKind::GasPipe | ElectrodeKind::Unrecognised => false,
        ElectrodeKind::WaterPipe => long(inquiry.value(&PIPE_LENGTH)),
        ElectrodeKind::Ring => long(inquiry.value(&RING_LENGTH)),
        _ => true,
    }
}

/// Electrodes there must be; a water pipe, a rod or a plate alone is not enough; rods stand apart.
fn enough(inquiry: &Inquiry, electrodes: &[Place<Electrode>], list: &str, sheet: &mut Sheet) {
    let usable: Vec<&Place<Electrode>> = electrodes.iter().filter(|one| counts(inquiry, one)).collect();
    let two_rods =
        || text!("drive two rods {} apart, or use a concrete-encased electrode", in_unit(inquiry.value(&ROD_SPACING), "ft"));
    if usable.is_empty() {
        sheet.require("electrode", text!("there is no grounding electrode"), "from memory of NEC 250.50", false);
        sheet.cure(two_rods());
        sheet.related(list);
        return;
    }
    if let [alone] = usable[..] {
        match alone.kind {
            ElectrodeKind::WaterPipe => {
                let words = text!("a metal water pipe is the only electrode; it needs another beside it");
                sheet.require("one electrode", words, "NEC 250.53(D)(2)", false);
                sheet.cure(two_rods());
            }
            ElectrodeKind::Rod | ElectrodeKind::Plate => resistance(inquiry, alone, sheet),
            _ => {}
        }
    }
    apart(inquiry, &usable, sheet);
}

/// A single rod or plate.
fn resistance(inquiry: &Inquiry, alone: &Place<Electrode>, sheet: &mut Sheet) {
    let most = inquiry.value(&RESISTANCE);
    let name = if alone.kind == ElectrodeKind::Plate { "plate" } else { "rod" };
    match need!(alone, resistance) {
        Ok(resistance) if at_most(resistance.quantity(), most) => {
            sheet.test("one electrode", text!("its resistance is low enough"), "NEC 250.53(A)(2)", true);
        }
        Ok(_) => {
            let words = text!("one {} of more than {}", name, in_resistance(most));
            sheet.require("one electrode", words, "NEC 250.53(A)(2)", false);
            sheet.cure(text!("drive a rod {} away from it", in_unit(inquiry.value(&ROD_SPACING), "ft")));
        }
        Err(_) => sheet.lack(Unresolved::because(
            format!("{}/resistance", alone.pointer()),
            format!("the resistance of the only {name}; above the limit a second electrode is needed"),
        )),
    }
}

/// Rods stand apart: of two, one says how far.
fn apart(inquiry: &Inquiry, usable: &[&Place<Electrode>], sheet: &mut Sheet) {
    let rods: Vec<&&Place<Electrode>> = usable.iter().filter(|one| one.kind == ElectrodeKind::Rod).collect();
    if rods.len() < 2 {
        return;
    }
    let least = inquiry.value(&ROD_SPACING);
    let said: Vec<_> = rods.iter().filter_map(|rod| need!(rod, spacing).ok()).collect();
    for spacing in &said {
        let words = text!("rods {} apart, {} is the least", in_unit(spacing.get(), "ft"), in_unit(least, "ft"));
        if !sheet.require("rods", words, "from memory of NEC 250.53(A)(3)", at_least(spacing.quantity(), least)) {
            sheet.cure(text!("drive them {} apart", in_unit(least, "ft")));
        }
    }
    if said.len() + 1 < rods.len() {
        rods.iter().filter(|rod| rod.spacing.is_none()).for_each(|rod| sheet.lack(rod.missing("/spacing")));
    }
}

fn in_resistance(most: uom::si::f64::ElectricalResistance) -> redtag_rule::Part {
    redtag_rule::schema::quantity::Resistance::from_si(most.value).part()
}

/// The bond of the water pipe, where any of it is metal.
fn water(inquiry: &Inquiry, sheet: &mut Sheet) {
    let project = inquiry.project();
    let electrode =
        need!(project, electrical.grounding.electrodes).every().iter().any(|one| one.kind == ElectrodeKind::WaterPipe);
    if need!(project, electrical.grounding.metal_water_pipe).is_ok_and(|metal| !*metal) && !electrode {
        sheet.line("water pipe", text!("there is no metal water pipe to bond"), "NEC 250.104(A)");
        return;
    }
    for (fact, words, cure) in [
        (need!(project, electrical.grounding.water_pipe_bonded), "metal water pipe is not bonded", "bond the metal water pipe"),
        (
            need!(project, electrical.grounding.bridged_at_treatment),
            "no jumper bridges meter, filters and softener",
            "put a jumper across the meter, the filters and the softener",
        ),
    ] {
        let Some(fact) = sheet.want(fact) else { continue };
        if !*fact {
            sheet.require("water pipe", text!("{}", words), "NEC 250.104(A)", false);
            sheet.cure_at(text!("{}", cure), &[(fact.pointer().to_owned(), json!(true))]);
        }
    }
    if let Ok(size) = need!(project, electrical.grounding.water_bond_size)
        && let Some(asked) = sheet.want(by_service(inquiry))
    {
        let unknown = || Unresolved::because(size.pointer(), "a size such as `4 AWG`");
        let Some(own) = sheet.want(trade::rank(&size).ok_or_else(unknown)) else { return };
        let words = text!("{} bonds the water pipe, {} is the least", size.as_str(), asked);
        if !sheet.require("bond", words, "from memory of NEC 250.104(A)(1), Table 250.102(C)(1)", Some(own) >= trade::rank(asked))
        {
            sheet.cure_at(text!("use {}", asked), &[(size.pointer().to_owned(), json!(asked))]);
        }
    }
}

/// Where neutral and ground are joined.
fn bonds(inquiry: &Inquiry, sheet: &mut Sheet) {
    let Some(bonds) = sheet.want(need!(inquiry.project(), electrical.grounding.neutral_bonds)) else { return };
    let services = need!(inquiry.project(), electrical.services).every().len();
    // A source whose neutral the transfer switches is a system of its own and has its own bond.
    let here: Vec<_> = bonds.items().filter(|id| !derived(inquiry, id)).collect();
    let words = text!(
        "neutral and ground are joined in {} for {}, one for each is right",
        times(here.len(), "place"),
        times(services, "service")
    );
    let source = "from memory of NEC 250.24(A)";
    if !sheet.require("neutral", words, source, here.len() == services) {
        sheet.cure(text!("join them at the service disconnect and nowhere else"));
    }
    for id in &here {
        let Some(holds) = sheet.want(at_service(inquiry, id)) else { continue };
        if !holds {
            let words = text!("neutral and ground are joined at {}, which holds no service disconnect", id.as_str());
            sheet.require("neutral", words, source, false);
            sheet.cure(text!("take the bonding screw or jumper out there; join them at the service disconnect"));
        }
    }
}

fn times(count: usize, what: &str) -> String {
    if count == 1 { format!("1 {what}") } else { format!("{count} {what}s") }
}

/// Whether a bond belongs to a source whose neutral the transfer switches.
fn derived(inquiry: &Inquiry, id: &str) -> bool {
    let transfers = need!(inquiry.project(), electrical.transfers).every();
    transfers.iter().any(|transfer| transfer.alternate.as_deref() == Some(id) && transfer.switches_neutral == Some(true))
}

/// Whether a bond is at the service disconnect.
fn at_service(inquiry: &Inquiry, id: &Place<String>) -> Lookup<bool> {
    let project = inquiry.project();
    if need!(project, electrical.services).named(id).is_ok() {
        return Ok(true);
    }
    if let Ok(panel) = need!(project, electrical.panels).named(id) {
        return need!(panel, service_equipment).map(|service| *service);
    }
    if let Ok(transfer) = need!(project, electrical.transfers).named(id) {
        return need!(transfer, service_rated).map(|service| *service);
    }
    // A generator or inverter that is no system of its own: the rule on the bonding of sources tells.
    Ok(false)
}
