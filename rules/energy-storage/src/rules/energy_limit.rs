//! The energy of one battery unit, and of all units in one kind of place, is limited.
//!
//! The more energy stands together, the longer and hotter it burns when one unit fails and takes the next with it. Above these
//! limits the fire code asks for what a dwelling seldom has: a fire permit, sprinklers, detection, tested separation.
//!
//! **How it is measured.** The energy on the plate, not the usable part of it. One unit is what its listing calls one unit: a
//! listed cabinet of several modules is one. The sum is taken over a kind of place (40 kWh in the utility, storage and basement
//! spaces of the dwelling, 80 kWh in garages, on walls, on the ground), over one physical place, or over the whole dwelling too,
//! as the jurisdiction reads the section; the worksheet says which reading it is.
//!
//! **How it is fixed.** Move a unit to another kind of place, choose smaller units, or take up the fire code's requirements
//! with the authority.

use crate::place::{self, Class};
use crate::units::{self, Unit};
use redtag_rule::prelude::*;
use uom::si::f64::Energy;

const SOURCE: &str = "IRC R328.5";
/// One unit.
const UNIT: Quantity<dimensions::Energy> =
    Quantity::new("unit_energy", "20 kWh", "The most energy one unit may store.", SOURCE).within("1 kWh", "100 kWh");
/// Inside.
const INSIDE: Quantity<dimensions::Energy> = Quantity::new(
    "inside_energy",
    "40 kWh",
    "The most energy in utility closets, basements, storage and utility spaces of a dwelling.",
    SOURCE,
)
.within("1 kWh", "1,000 kWh");
/// Everywhere else.
const ELSEWHERE: Quantity<dimensions::Energy> = Quantity::new(
    "garage_and_outdoor_energy",
    "80 kWh",
    "The most energy in garages and accessory structures, on exterior walls, and outdoors on the ground, each.",
    SOURCE,
)
.within("1 kWh", "1,000 kWh");
/// The reading.
const SCOPE: Choice = Choice::new(
    "aggregate_scope",
    "location-class",
    &["location-class", "physical-location", "dwelling"],
    "Over what the sum is taken: each kind of place, each single room or wall, or each kind of place and the dwelling as a whole.",
    "two readings are in use: NFPA 855 of 2023 says each location, the 2020 edition does not",
);
/// The garages.
const GARAGES_TOGETHER: Flag = Flag::new(
    "garages_together",
    true,
    "Whether attached garages count together with detached garages and accessory structures.",
    "IRC R328.5 has them in one item; NFPA 855 of 2023 lists them apart",
);
/// The dwelling as a whole.
const DWELLING: Quantity<dimensions::Energy> = Quantity::new(
    "dwelling_energy",
    "80 kWh",
    "The most energy in and about one dwelling where the sum is taken over the dwelling.",
    "the strictest reading of IRC R328.5; common practice of authorities that take it",
)
.within("1 kWh", "1,000 kWh");

/// The rule.
pub const RULE: Rule = Rule {
    citations: &[cited("IRC", "2021", "R328.5"), cited("NFPA 855", "2023", "15.5.2")],
    parameters: &[&UNIT, &INSIDE, &ELSEWHERE, &SCOPE, &GARAGES_TOGETHER, &DWELLING],
    reads: &["/spaces", "/equipment", "/electrical/storage"],
    ..Rule::new("energy-storage/energy-limit", "Energy of units and places", check)
};

const WANTED: &str = "whether its energy is within the limits";

fn check(inquiry: &Inquiry) -> Vec<Finding> {
    let mut findings = units::each(inquiry, WANTED, |unit| unit.unit.sheet(WANTED, |sheet| alone(inquiry, unit, sheet)));
    let nowhere = nowhere(inquiry);
    findings.extend(groups(inquiry).iter().map(|group| group.finding(inquiry, nowhere.as_ref())));
    findings
}

/// One unit by itself.
fn alone(inquiry: &Inquiry, unit: &Unit, sheet: &mut Sheet) -> Lookup<Text> {
    let energy = need!(unit.unit, energy)?;
    let most = inquiry.value(&UNIT);
    let words = text!("stores {}, {} is the most for one unit", energy, most);
    if !sheet.require("unit", words.clone(), SOURCE, at_most(energy.quantity(), most)) {
        sheet.cure(text!("choose units of {} at most, or take up the fire code's requirements with the authority", most));
    }
    Ok(text!("stores {}", energy))
}

/// Units that are added up.
struct Group<'a> {
    name: Text,
    limit: Energy,
    units: Vec<Unit<'a>>,
}

/// What is missing of units whose place is not said: they could stand anywhere.
fn nowhere(inquiry: &Inquiry) -> Option<Unresolved> {
    let units = units::every(inquiry).into_iter().filter(|unit| unit.exempt().is_none());
    units.filter_map(|unit| place::of(inquiry, &unit).err()).fold(None, Unresolved::joined)
}

/// The sums this jurisdiction asks for.
fn groups<'a>(inquiry: &Inquiry<'a>) -> Vec<Group<'a>> {
    let mut groups: Vec<((Class, Option<String>), Group<'a>)> = Vec::new();
    let scope = inquiry.value(&SCOPE);
    for unit in units::every(inquiry).into_iter().filter(|unit| unit.exempt().is_none()) {
        let Ok(standing) = place::of(inquiry, &unit) else { continue };
        let class = match standing.class {
            Class::Detached if inquiry.value(&GARAGES_TOGETHER) => Class::AttachedGarage,
            class => class,
        };
        let space = standing.space.filter(|_| scope == "physical-location");
        let name = match (&space, class) {
            (Some(space), _) => text!("{}", space.label()),
            (None, Class::AttachedGarage) if inquiry.value(&GARAGES_TOGETHER) => text!("garages and accessory structures"),
            (None, class) => text!("{}", class.words()),
        };
        let key = (class, space.map(|space| space.id.clone()));
        let limit = if class == Class::Inside { inquiry.value(&INSIDE) } else { inquiry.value(&ELSEWHERE) };
        match groups.iter_mut().find(|(known, _)| *known == key) {
            Some((_, group)) => group.units.push(unit),
            None => groups.push((key, Group { name, limit, units: vec![unit] })),
        }
    }
    groups.sort_by(|(a, _), (b, _)| a.cmp(b));
    let mut groups: Vec<Group> = groups.into_iter().map(|(_, group)| group).collect();
    if scope == "dwelling" {
        let units: Vec<Unit> = units::every(inquiry).into_iter().filter(|unit| unit.exempt().is_none()).collect();
        groups.push(Group { name: text!("the whole dwelling"), limit: inquiry.value(&DWELLING), units });
    }
    groups.retain(|group| !group.units.is_empty());
    groups
}

impl Group<'_> {
    /// The finding is about the system of the first unit; the others are pointed at.
    fn finding(&self, inquiry: &Inquiry, nowhere: Option<&Unresolved>) -> Finding {
        self.units[0].system.sheet(WANTED, |sheet| {
            let mut sum = Energy::default();
            for unit in &self.units {
                if unit.unit.pointer() != self.units[0].unit.pointer() {
                    sheet.related(unit.unit.pointer());
                }
                let Some(energy) = sheet.want(need!(unit.unit, energy)) else { continue };
                sheet.line(&unit.unit.id, text!("{}", energy), "the unit's plate");
                sum += energy.quantity();
            }
            let reading = text!("the sum is taken over: {}", inquiry.value(&SCOPE).replace('-', " "));
            sheet.line("reading", reading, "");
            let words = text!("{} in {}, {} is the most there", sum, self.name.clone(), self.limit);
            if !sheet.require("sum", words.clone(), SOURCE, at_most(sum, self.limit)) {
                let over = sum - self.limit;
                sheet.cure(text!("move units of {} at least to another kind of place, or do without them", over));
            }
            if let Some(unresolved) = nowhere {
                sheet.lack(unresolved.clone());
            }
            Ok(words)
        })
    }
}
