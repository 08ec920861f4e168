//! A circuit suits the plates of what it feeds: not larger than the plate allows, and able to carry what it asks for.
//!
//! The plate of an air conditioner or heat pump names the least circuit and the largest breaker; a larger one does not see a
//! compressor that is stuck. A water heater draws its full current for hours: a breaker chosen without room trips at breakfast, or
//! its conductors run hot for years.
//!
//! **How it is measured.** The breaker against the greatest overcurrent device on the plate; the ampacity of the conductors against the
//! least circuit ampacity on the plate; where the plate has neither, the current of a load that runs for hours (storage water
//! heaters, electric heat, charging of vehicles) times 125 percent against breaker and conductors. The current is the plate's, or
//! power over voltage.
//!
//! **How it is fixed.** The breaker and conductors the plate asks for. Only a licensed electrician opens the panel.

use redtag_rule::prelude::*;
use redtag_rule_load::circuit as wiring;
use uom::si::electric_current::ampere;
use uom::si::electric_potential::volt;
use uom::si::f64::ElectricCurrent;

/// Continuous loads.
const CONTINUOUS: Quantity<dimensions::Ratio> = Quantity::new(
    "continuous_factor",
    "125 %",
    "What the current of a load that runs for hours is multiplied by.",
    "NEC 422.13; 424.4(B) and 625.42 from memory",
)
.within("100 %", "150 %");

/// The rule.
pub const RULE: Rule = Rule {
    citations: &[
        cited("NEC", "2020", "110.3(B)"),
        remembered("NEC", "2020", "440.4(B)"),
        remembered("NEC", "2020", "440.22"),
        remembered("NEC", "2020", "440.32"),
        cited("NEC", "2020", "422.13"),
        remembered("NEC", "2020", "424.4(B)"),
        remembered("NEC", "2020", "625.42"),
    ],
    parameters: &[&CONTINUOUS],
    reads: &["/equipment", "/electrical/panels"],
    ..Rule::new("panels/nameplates", "Circuits and the plates of what they feed", check)
};

const WANTED: &str = "whether its circuit suits its plate";

fn check(inquiry: &Inquiry) -> Vec<Finding> {
    let equipment = need!(inquiry.project(), equipment).every();
    equipment.iter().filter_map(|one| finding(inquiry, one)).collect()
}

fn finding(inquiry: &Inquiry, equipment: &Place<Equipment>) -> Option<Finding> {
    let supply = equipment.electrical.as_ref();
    let plate = supply.is_some_and(|supply| supply.minimum_circuit_ampacity.is_some() || supply.maximum_overcurrent.is_some());
    let hours = runs_for_hours(equipment);
    let compressor = matches!(equipment.kind, EquipmentKind::HeatPump | EquipmentKind::AirConditioner);
    if !plate && !hours && !compressor {
        return None;
    }
    if !plate && equipment.fuel_burning.is_some() {
        return None;
    }
    // What burns fuel or has no electrical part at all asks nothing here; a compressor always has a plate.
    let wired = supply.is_some() || wiring::circuits(inquiry).iter().any(|one| wiring::serves(one, &equipment.id));
    if !wired {
        return None;
    }
    let cord = supply.is_some_and(|supply| supply.connection == Some(ConnectionKind::CordAndPlug) && supply.circuit.is_none());
    if cord {
        return Some(equipment.not_applicable(text!("plugged in, on no circuit that is said")).done());
    }
    Some(equipment.sheet(WANTED, |sheet| judge(inquiry, equipment, (plate, hours), sheet)))
}

/// Whether it is a load that runs for three hours and more.
fn runs_for_hours(equipment: &Equipment) -> bool {
    use EquipmentKind as K;
    let electric = equipment.fuel_burning.is_none();
    matches!(equipment.kind, K::VehicleCharger)
        || (electric && matches!(equipment.kind, K::StorageWaterHeater | K::HeatPumpWaterHeater | K::RoomHeater | K::UnitHeater))
}

fn judge<'a>(
    inquiry: &Inquiry<'a>,
    equipment: &Place<'a, Equipment>,
    (plate, hours): (bool, bool),
    sheet: &mut Sheet,
) -> Lookup<Text> {
    let circuit = wiring::circuit_of(inquiry, equipment)?;
    sheet.related(circuit.pointer());
    let breaker = need!(circuit, overcurrent)?;
    if plate || !hours {
        largest(equipment, &circuit, &breaker, sheet);
        least(equipment, &circuit, breaker.quantity(), sheet);
    }
    if hours && need!(equipment, electrical.minimum_circuit_ampacity).is_err() {
        continuous(inquiry, equipment, &circuit, breaker.quantity(), sheet)?;
    }
    Ok(text!("its circuit of {} suits its plate", breaker))
}

/// Not more than the plate allows.
fn largest(equipment: &Place<Equipment>, circuit: &Place<Circuit>, breaker: &Place<quantity::Current>, sheet: &mut Sheet) {
    let Some(most) = sheet.want(need!(equipment, electrical.maximum_overcurrent)) else { return };
    let words = text!("the breaker of {} is {}, {} is the most on the plate", circuit.label(), breaker, most);
    if !sheet.require("largest device", words, "NEC 110.3(B), 440.22", at_most(breaker.quantity(), most.quantity())) {
        sheet.cure(text!("use a breaker of {} at most", most));
    }
}

/// Conductors for what the plate asks.
fn least(equipment: &Place<Equipment>, circuit: &Place<Circuit>, breaker: ElectricCurrent, sheet: &mut Sheet) {
    let Some(least) = sheet.want(need!(equipment, electrical.minimum_circuit_ampacity)) else { return };
    let carried = need!(circuit, conductors).and_then(|set| wiring::ampacity(&set, Some(breaker)));
    let Some(carried) = sheet.want(carried) else { return };
    let words = text!("the conductors of {} carry {}, {} is the least on the plate", circuit.label(), carried, least);
    if !sheet.require("least circuit", words, "NEC 440.4(B), 440.32", at_least(carried, least.quantity())) {
        sheet.cure(text!("use conductors that carry {}", least));
    }
}

/// A load that runs for hours.
fn continuous<'a>(
    inquiry: &Inquiry<'a>,
    equipment: &Place<'a, Equipment>,
    circuit: &Place<'a, Circuit>,
    breaker: ElectricCurrent,
    sheet: &mut Sheet,
) -> Lookup<()> {
    let current = current(equipment)?;
    let asked = current * inquiry.value(&CONTINUOUS);
    let source = "NEC 422.13; 424.4(B) and 625.42 from memory";
    let words =
        text!("draws {} for hours: {} of it is {}; its breaker is {}", current, inquiry.value(&CONTINUOUS), asked, breaker);
    if !sheet.require("breaker", words, source, at_least(breaker, asked)) {
        sheet.cure(text!("use a circuit of {} at least", redtag_handbook::raceway::next_standard(asked).unwrap_or(asked)));
    }
    let carried = need!(circuit, conductors).and_then(|set| wiring::ampacity(&set, Some(breaker)));
    if let Some(carried) = sheet.want(carried) {
        let words = text!("the conductors of {} carry {}, {} is the least", circuit.label(), carried, asked);
        if !sheet.require("conductors", words, source, at_least(carried, asked)) {
            sheet.cure(text!("use conductors that carry {}", asked));
        }
    }
    Ok(())
}

/// The current on the plate, or power over voltage.
fn current(equipment: &Place<Equipment>) -> Lookup<ElectricCurrent> {
    let stated = match need!(equipment, electrical.current) {
        Ok(current) => return Ok(current.quantity()),
        Err(unresolved) => unresolved,
    };
    let (Ok(power), Ok(voltage)) = (need!(equipment, electrical.power), need!(equipment, electrical.voltage)) else {
        return Err(stated);
    };
    let volts = voltage.quantity().get::<volt>();
    if volts <= 0.0 {
        return Err(Unresolved::because(voltage.pointer(), "a voltage above zero"));
    }
    Ok(ElectricCurrent::new::<ampere>(power.si() / volts))
}
