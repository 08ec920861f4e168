//! The units of the storage systems of a project.

use redtag_handbook::units;
use redtag_rule::prelude::*;
use uom::si::f64::Energy;

/// One listed unit with its system.
pub struct Unit<'a> {
    /// The system it belongs to.
    pub system: Place<'a, StorageSystem>,
    /// The unit.
    pub unit: Place<'a, StorageUnit>,
}

/// Smaller systems are outside the requirements (IRC R328.1, by a state amendment that prints it).
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

/// Batteries that are a unit of no system.
pub fn strays<'a>(inquiry: &Inquiry<'a>) -> Vec<Place<'a, Equipment>> {
    let units = every(inquiry);
    let known = |one: &Equipment| units.iter().any(|unit| unit.unit.equipment.as_ref() == Some(&one.id));
    let stray = |one: &Place<Equipment>| one.kind == EquipmentKind::Battery && !known(one);
    need!(inquiry.project(), equipment).every().into_iter().filter(stray).collect()
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

/// What a system stores, all its units together: the smallest that is asked about is a system, not a module of one.
fn whole(system: &Place<StorageSystem>) -> Lookup<Energy> {
    let each = need!(system, units)?.items().map(|unit| need!(unit, energy).map(|energy| energy.quantity()));
    Ok(each.collect::<Vec<_>>().together()?.into_iter().fold(Energy::default(), |sum, one| sum + one))
}

impl<'a> Unit<'a> {
    /// The equipment that is the unit.
    pub fn equipment(&self, inquiry: &Inquiry<'a>) -> Lookup<Place<'a, Equipment>> {
        inquiry.equipment(&need!(self.unit, equipment)?)
    }

    /// Why the requirements on its place and size leave it alone.
    pub fn exempt(&self) -> Option<Text> {
        let smallest = units::kilowatt_hours(SMALLEST_KILOWATT_HOURS);
        if let Ok(all) = whole(&self.system)
            && all > Energy::default()
            && !at_least(all, smallest)
        {
            return Some(text!("its system stores {}, less than {}", all, smallest));
        }
        let marked = self.system.marked_for_habitable_space == Some(true);
        let listed = need!(self.system, listing.listed).is_ok_and(|listed| *listed);
        (marked && listed).then(|| text!("listed and marked for use in habitable space of a dwelling"))
    }
}
