//! The units of the storage systems of a project.

use redtag_handbook::units;
use redtag_rule::prelude::*;

/// One listed unit with its system.
pub struct Unit<'a> {
    /// The system it belongs to.
    pub system: Place<'a, StorageSystem>,
    /// The unit.
    pub unit: Place<'a, StorageUnit>,
}

/// Smaller units are outside the requirements (Washington WAC 51-51-0329; NFPA blog of 2021-10-01 on residential storage).
const SMALLEST_KILOWATT_HOURS: f64 = 1.0;

/// The systems.
pub fn systems<'a>(inquiry: &Inquiry<'a>) -> Vec<Place<'a, StorageSystem>> {
    need!(inquiry.project(), electrical.storage).every()
}

/// The units of every system.
pub fn every<'a>(inquiry: &Inquiry<'a>) -> Vec<Unit<'a>> {
    let of = |system: Place<'a, StorageSystem>| {
        let units = need!(system, units).every();
        units.into_iter().map(move |unit| Unit { system: system.clone(), unit })
    };
    systems(inquiry).into_iter().flat_map(of).collect()
}

/// Asks about every unit the requirements on place and size concern. A system that lists no unit is asked for them.
pub fn each(inquiry: &Inquiry, wanted: &str, judge: impl Fn(&Unit) -> Finding) -> Vec<Finding> {
    let mut findings: Vec<Finding> = systems(inquiry).iter().filter_map(|system| without_units(system, wanted)).collect();
    for unit in every(inquiry) {
        findings.push(match unit.exempt() {
            Some(why) => unit.unit.not_applicable(why).done(),
            None => judge(&unit),
        });
    }
    findings
}

fn without_units(system: &Place<StorageSystem>, wanted: &str) -> Option<Finding> {
    let listed = need!(system, units).is_ok_and(|units| !units.is_empty());
    (!listed).then(|| system.ask(wanted, || Err(system.missing("/units"))))
}

impl<'a> Unit<'a> {
    /// The equipment that is the unit.
    pub fn equipment(&self, inquiry: &Inquiry<'a>) -> Lookup<Place<'a, Equipment>> {
        inquiry.equipment(&need!(self.unit, equipment)?)
    }

    /// Why the requirements on its place and size leave it alone.
    pub fn exempt(&self) -> Option<Text> {
        let smallest = units::kilowatt_hours(SMALLEST_KILOWATT_HOURS);
        if let Ok(energy) = need!(self.unit, energy).map(|energy| energy.quantity())
            && !at_least(energy, smallest)
        {
            return Some(text!("stores {}, less than {}", energy, smallest));
        }
        let marked = self.system.marked_for_habitable_space == Some(true);
        let listed = need!(self.system, listing.listed).is_ok_and(|listed| *listed);
        (marked && listed).then(|| text!("listed and marked for use in habitable space of a dwelling"))
    }
}
