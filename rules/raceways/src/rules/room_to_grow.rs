//! What the house still has room for: conductors in its spare conduits, circuits in its panels, battery units where they stand.
//!
//! Nothing here is required. Whoever will add modules, a car charger or another battery wants to know before the walls are closed.
//!
//! **How it is measured.** For each spare conduit how many conductors of a given size could still be pulled; pairs of them are strings
//! of modules. For each panel the full-size spaces that no circuit takes. For each kind of place the energy left below the most
//! the code allows there, in units as large as the largest one the house has.
//!
//! **How it is fixed.** A larger conduit, a panel with more spaces, a place for further units.

use crate::inside;
use redtag_handbook::raceway::{self as trade, Conductor, Insulation, Limits};
use redtag_rule::prelude::*;
use uom::si::energy::joule;
use uom::si::f64::Energy;

/// What may be pulled later.
const SIZE: Choice = Choice::new(
    "conductor_size",
    "10 AWG",
    &["14 AWG", "12 AWG", "10 AWG", "8 AWG", "6 AWG", "4 AWG"],
    "The conductor, with THWN-2 insulation, whose number is told.",
    "common practice: strings of solar modules run on 10 AWG",
);
/// A county may want some room.
const LEAST_SPACES: Number = Number::new(
    "least_spaces",
    2.0,
    "How many spaces should be left in the panels together; fewer is advice.",
    "common practice; solar-ready appendices reserve a two-pole space",
)
.within(0.0, 40.0);
/// Inside the dwelling.
const INSIDE: Quantity<dimensions::Energy> = Quantity::new(
    "inside_energy",
    "40 kWh",
    "The most stored energy in utility and storage spaces of the dwelling.",
    "IRC R328.5",
)
.within("1 kWh", "1,000 kWh");

/// The rule.
pub const RULE: Rule = Rule {
    citations: &[remembered("IRC", "2021", "Appendix AT"), cited("NEC", "2020", "chapter 9, Table 1")],
    parameters: &[&SIZE, &LEAST_SPACES, &INSIDE],
    level: Level::Advice,
    reads: &["/raceways", "/equipment", "/spaces", "/electrical/panels", "/electrical/storage"],
    ..Rule::new("raceways/room-to-grow", "Room for more", check)
};

const WANTED: &str = "what there is room for";

fn check(inquiry: &Inquiry) -> Vec<Finding> {
    let project = inquiry.project();
    let spare: Vec<_> = inside::every(inquiry).into_iter().filter(|raceway| raceway.spare == Some(true)).collect();
    let panels = need!(project, electrical.panels).every();
    if spare.is_empty() && panels.is_empty() {
        return vec![project.not_applicable(text!("no spare conduit and no panel")).done()];
    }
    vec![project.sheet(WANTED, |sheet| {
        let strings: u32 = spare.iter().filter_map(|one| sheet_for(inquiry, one, sheet)).fold(0, u32::saturating_add);
        let circuits: u32 = panels.iter().filter_map(|panel| spaces_left(panel, sheet)).fold(0, u32::saturating_add);
        let units = units_left(inquiry, sheet);
        let mut words = text!("room for {} more strings of modules and {} more circuits", strings, circuits);
        if let Some(units) = units {
            words = text!("{} and {} more battery units inside", words, units);
        }
        if f64::from(circuits) < inquiry.value(&LEAST_SPACES) && !panels.is_empty() {
            sheet.advise(text!("{}: hardly a space is left in the panels", words.clone()));
        }
        Ok(words)
    })]
}

/// The strings a spare conduit could still take.
fn sheet_for(inquiry: &Inquiry, raceway: &Place<Raceway>, sheet: &mut Sheet) -> Option<u32> {
    let size = inquiry.value(&SIZE);
    let conductor = Conductor::listed(size, Insulation::Thermoplastic)?;
    let (inside, there) = sheet.want((inside::inside(raceway), inside::conductors(raceway)).together())?;
    let more = trade::more(&inside, &Limits::default(), inside::taken(&there), &conductor, false);
    let words = text!("{} more of {} THWN-2, {} strings", more, size, more / 2);
    sheet.line(&raceway.id, words, "computed: NEC chapter 9 Table 1");
    Some(more / 2)
}

/// Spaces of a panel that no circuit takes, those set aside for later included.
fn spaces_left(panel: &Place<Panel>, sheet: &mut Sheet) -> Option<u32> {
    let spaces = *sheet.want(need!(panel, spaces))?;
    let circuits = sheet.want(need!(panel, circuits))?;
    let mut taken = 0_u32;
    for circuit in circuits.items().filter(|circuit| !matches!(circuit.role, Some(CircuitRole::Spare | CircuitRole::Reserved))) {
        let count = match (&circuit.slots, circuit.poles) {
            (Some(slots), _) => slots.len() as u32,
            (None, Some(poles)) => poles,
            (None, None) => {
                sheet.lack(circuit.missing("/poles"));
                return None;
            }
        };
        taken = taken.saturating_add(count);
    }
    let left = spaces.saturating_sub(taken);
    sheet.line(&panel.id, text!("{} of {} spaces taken, {} left", taken, spaces, left), "counted");
    Some(left)
}

/// Further battery units inside the dwelling; none where there is no storage.
fn units_left(inquiry: &Inquiry, sheet: &mut Sheet) -> Option<u32> {
    let systems = need!(inquiry.project(), electrical.storage).every();
    let units: Vec<_> = systems.iter().flat_map(|system| need!(system, units).every()).collect();
    let mut sum = Energy::default();
    let mut largest = Energy::default();
    for unit in units.iter().filter(|unit| stands_inside(inquiry, unit)) {
        let energy = sheet.want(need!(unit, energy))?.quantity();
        sum += energy;
        largest = if energy > largest { energy } else { largest };
    }
    if largest.get::<joule>() <= 0.0 {
        return None;
    }
    let limit = inquiry.value(&INSIDE);
    // 1e-9: what adding up decimals leaves over.
    let count = whole((limit - sum).get::<joule>() / largest.get::<joule>() + 1e-9);
    sheet.line("batteries", text!("{} of {} inside; units of {}", sum, limit, largest), "IRC R328.5");
    Some(count)
}

fn whole(number: f64) -> u32 {
    if number <= 0.0 { 0 } else { number as u32 }
}

fn stands_inside(inquiry: &Inquiry, unit: &Place<StorageUnit>) -> bool {
    let equipment = need!(unit, equipment).and_then(|id| inquiry.equipment(&id));
    let Ok(equipment) = equipment else { return false };
    let space = need!(equipment, space).and_then(|id| inquiry.space(&id));
    use SpaceKind as K;
    equipment.outdoors != Some(true)
        && space.is_ok_and(|space| !matches!(space.kind, K::AttachedGarage | K::DetachedGarage | K::Boathouse | K::Carport))
}
