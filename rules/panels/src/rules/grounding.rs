//! A dwelling's wiring is joined to earth by every electrode it has, its metal water pipe is bonded across whatever interrupts it,
//! and neutral and ground meet in one place only.
//!
//! A softener with plastic unions cuts the pipe that everybody takes for grounded; a second bond lets neutral current run through
//! pipes and ducts.
//!
//! **How it is measured.** Electrodes against their least lengths; a single rod needs a second one 6 ft away unless its resistance is
//! at most 25 ohm; the conductor to each against the service conductors (a rod needs no more than 6 AWG, a concrete-encased
//! electrode no more than 4 AWG); the bond of the water pipe and the jumper across meter and treatment; the places where neutral
//! and ground are joined. Gas pipe is no electrode. The figures are from memory and must be held against the adopted text.
//!
//! **How it is fixed.** A second rod, larger conductors, a jumper, one bond less.

use redtag_handbook::panel::{self as trade, Metal};
use redtag_rule::prelude::*;

const SOURCE: &str = "from memory of NEC 250.50 to 250.66";
/// Rods.
const ROD_LENGTH: Quantity<dimensions::Length> =
    Quantity::new("rod_length", "8 ft", "The least length of a rod in the ground.", "from memory of NEC 250.52(A)(5)")
        .within("4 ft", "20 ft");
/// Encased.
const ENCASED_LENGTH: Quantity<dimensions::Length> = Quantity::new(
    "encased_length",
    "20 ft",
    "The least length of a concrete-encased electrode.",
    "NEC 250.52(A)(3) (a public question and answer page)",
)
.within("10 ft", "50 ft");
/// Apart.
const ROD_SPACING: Quantity<dimensions::Length> =
    Quantity::new("rod_spacing", "6 ft", "The least distance between rods.", "from memory of NEC 250.53").within("3 ft", "20 ft");
/// Resistance of one rod.
const RESISTANCE: Quantity<dimensions::Resistance> = Quantity::new(
    "single_rod_resistance",
    "25 ohm",
    "The resistance up to which one rod is enough.",
    "from memory of NEC 250.53(A)(2)",
)
.within("1 ohm", "100 ohm");

/// The rule.
pub const RULE: Rule = Rule {
    citations: &[
        remembered("NEC", "2020", "250.52"),
        remembered("NEC", "2020", "250.53"),
        remembered("NEC", "2020", "250.66"),
        cited("NEC", "2020", "250.104(A)"),
    ],
    parameters: &[&ROD_LENGTH, &ENCASED_LENGTH, &ROD_SPACING, &RESISTANCE],
    stages: &[Stage::RoughIn, Stage::Final],
    reads: &["/electrical/grounding", "/electrical/services"],
    ..Rule::new("panels/grounding", "Grounding and bonding", check)
};

const WANTED: &str = "whether the wiring is grounded and bonded";

fn check(inquiry: &Inquiry) -> Vec<Finding> {
    let project = inquiry.project();
    if need!(project, electrical.services).is_err() {
        return vec![project.not_applicable(text!("no service is described")).done()];
    }
    vec![project.sheet(WANTED, |sheet| {
        let electrodes = sheet.want(need!(project, electrical.grounding.electrodes));
        if let Some(electrodes) = electrodes {
            rods(inquiry, &electrodes.items().collect::<Vec<_>>(), sheet);
            for electrode in electrodes.items() {
                let judged = one(inquiry, &electrode, sheet);
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
    let service =
        need!(inquiry.project(), electrical.services)?.items().next().ok_or_else(|| Unresolved::at("/electrical/services"))?;
    let (conductor, material) = (need!(service, conductors.size), need!(service, conductors.material)).together()?;
    let metal = if *material == ConductorMaterial::Copper { Metal::Copper } else { Metal::Aluminum };
    let unknown = || Unresolved::because(conductor.pointer(), "a size of service conductors that the table lists");
    let table = trade::electrode_conductor(&conductor, metal).ok_or_else(unknown)?;
    let cap = match electrode.kind {
        ElectrodeKind::Rod | ElectrodeKind::Plate => "6 AWG",
        ElectrodeKind::ConcreteEncased => "4 AWG",
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

/// A rod alone is not enough; rods stand apart.
fn rods(inquiry: &Inquiry, electrodes: &[Place<Electrode>], sheet: &mut Sheet) {
    let rods: Vec<_> = electrodes.iter().filter(|one| one.kind == ElectrodeKind::Rod).collect();
    let usable = electrodes.iter().filter(|one| one.kind != ElectrodeKind::GasPipe).count();
    if usable == 1 && rods.len() == 1 {
        let most = inquiry.value(&RESISTANCE);
        match need!(rods[0], resistance) {
            Ok(resistance) if at_most(resistance.quantity(), most) => {
                sheet.test("one rod", text!("its resistance is low enough"), "from memory of NEC 250.53(A)(2)", true);
            }
            Ok(_) => {
                sheet.require(
                    "one rod",
                    text!("one rod of more than {}", in_resistance(most)),
                    "from memory of NEC 250.53(A)(2)",
                    false,
                );
                sheet.cure(text!("drive a second rod {} away", in_unit(inquiry.value(&ROD_SPACING), "ft")));
            }
            Err(_) => {
                sheet.lack(Unresolved::because(
                    format!("{}/resistance", rods[0].pointer()),
                    "the resistance of the only rod; above the limit a second one is needed",
                ));
            }
        }
    }
    if rods.len() > 1 {
        for spacing in rods.iter().filter_map(|rod| need!(rod, spacing).ok()) {
            let least = inquiry.value(&ROD_SPACING);
            let words = text!("rods {} apart, {} is the least", in_unit(spacing.get(), "ft"), in_unit(least, "ft"));
            if !sheet.require("rods", words, "from memory of NEC 250.53", at_least(spacing.quantity(), least)) {
                sheet.cure(text!("drive them {} apart", in_unit(least, "ft")));
            }
        }
    }
}

fn in_resistance(most: uom::si::f64::ElectricalResistance) -> redtag_rule::Part {
    redtag_rule::schema::quantity::Resistance::from_si(most.value).part()
}

/// The bond of the water pipe.
fn water(inquiry: &Inquiry, sheet: &mut Sheet) {
    let project = inquiry.project();
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
}

/// Where neutral and ground are joined.
fn bonds(inquiry: &Inquiry, sheet: &mut Sheet) {
    let Some(bonds) = sheet.want(need!(inquiry.project(), electrical.grounding.neutral_bonds)) else { return };
    let services = need!(inquiry.project(), electrical.services).every().len();
    let words = text!("neutral and ground are joined in {} places for {} services, one for each is right", bonds.len(), services);
    if !sheet.require("neutral", words, "from memory of NEC 250.24", bonds.len() == services) {
        sheet.cure(text!("join them at the service disconnect and nowhere else"));
    }
}
