//! Circuits: what they feed, what their conductors carry, how large their breaker may be.

use redtag_handbook::raceway::{self as trade, Metal, TerminalRating};
use redtag_rule::prelude::*;
use uom::si::f64::ElectricCurrent;
use uom::si::thermodynamic_temperature::degree_celsius;

/// Every circuit of every panel.
pub fn circuits<'a>(inquiry: &Inquiry<'a>) -> Vec<Place<'a, Circuit>> {
    need!(inquiry.project(), electrical.panels).every().iter().flat_map(|panel| need!(panel, circuits).every()).collect()
}

/// The circuit an id names.
///
/// # Errors
/// The id's place, where no panel has it.
pub fn circuit<'a>(inquiry: &Inquiry<'a>, id: &Place<'_, String>) -> Lookup<Place<'a, Circuit>> {
    circuits(inquiry).into_iter().find(|circuit| circuit.id == *id.get()).ok_or_else(|| Unresolved::at(id.pointer()))
}

/// The circuit of a piece of equipment: the one it names, else the one that says that it serves it.
///
/// # Errors
/// Where neither is said.
pub fn circuit_of<'a>(inquiry: &Inquiry<'a>, equipment: &Place<'a, Equipment>) -> Lookup<Place<'a, Circuit>> {
    match need!(equipment, electrical.circuit) {
        Ok(id) => circuit(inquiry, &id),
        Err(unresolved) => circuits(inquiry).into_iter().find(|one| serves(one, &equipment.id)).ok_or(unresolved),
    }
}

/// Whether a circuit says that it feeds something.
pub fn serves(circuit: &Circuit, id: &str) -> bool {
    circuit.serves.as_ref().is_some_and(|served| served.iter().any(|one| one == id))
}

/// The equipment a circuit feeds, by what it says and by what the equipment says.
pub fn served<'a>(inquiry: &Inquiry<'a>, circuit: &Circuit) -> Vec<Place<'a, Equipment>> {
    let names = |one: &Equipment| one.electrical.as_ref().and_then(|supply| supply.circuit.as_ref()) == Some(&circuit.id);
    let of = |one: &Place<Equipment>| serves(circuit, &one.id) || names(one);
    need!(inquiry.project(), equipment).every().into_iter().filter(of).collect()
}

/// The metal of a material; copper-clad aluminum carries what aluminum does.
pub fn metal(material: ConductorMaterial) -> Metal {
    if material == ConductorMaterial::Copper { Metal::Copper } else { Metal::Aluminum }
}

/// Size and metal of a set of conductors.
///
/// # Errors
/// Where they are not said.
pub fn wire<'a>(set: &Place<'a, ConductorSet>) -> Lookup<(&'a str, Metal)> {
    let (size, material) = (need!(set, size), need!(set, material)).together()?;
    Ok((size.get().as_str(), metal(*material)))
}

/// What a set of conductors carries: as worked out, else by the table at the least of what terminals, insulation and cable
/// allow; all sets in parallel together. `device` is the overcurrent device that decides about terminals nobody marked.
///
/// # Errors
/// Where it is not worked out and size, material or a marking that decides is missing or not known here.
pub fn ampacity(set: &Place<ConductorSet>, device: Option<ElectricCurrent>) -> Lookup<ElectricCurrent> {
    if let Ok(stated) = need!(set, ampacity) {
        return Ok(stated.quantity());
    }
    let (size, metal) = wire(set)?;
    let column = column(set, device)?;
    let unknown = || {
        let wanted = "its ampacity: the table for this conductor is not known here";
        Unresolved::because(format!("{}/ampacity", set.pointer()), wanted)
    };
    let sets = f64::from(set.parallel.unwrap_or(1).max(1));
    trade::table_ampacity(size, metal, column).map(|one| one * sets).ok_or_else(unknown)
}

/// What a set of conductors would carry with the best insulation there is: where even that is too little, the insulation need not be
/// known.
pub fn ampacity_at_best(set: &Place<ConductorSet>, device: Option<ElectricCurrent>) -> Option<ElectricCurrent> {
    let (size, metal) = wire(set).ok()?;
    let marked = need!(set, terminal_rating).map(|rating| rating.quantity().get::<degree_celsius>()).ok();
    let sets = f64::from(set.parallel.unwrap_or(1).max(1));
    trade::table_ampacity(size, metal, TerminalRating::marked(marked, device)).map(|one| one * sets)
}

fn column(set: &Place<ConductorSet>, device: Option<ElectricCurrent>) -> Lookup<TerminalRating> {
    let marked = need!(set, terminal_rating).map(|rating| rating.quantity().get::<degree_celsius>()).ok();
    let terminals = TerminalRating::marked(marked, device);
    if terminals == TerminalRating::Sixty {
        return Ok(terminals);
    }
    // Above 100 A nothing is pulled that is rated for less than 75 degrees; below, cable of the 60 degree column is common.
    let insulation = match need!(set, insulation) {
        Err(_) if marked.is_none() => return Ok(terminals),
        insulation => insulation?,
    };
    let wanted = "a marking of insulation that is known here, such as `THWN-2` or `NM-B`";
    let rated = trade::insulation_rating(&insulation, false);
    let rated = rated.ok_or_else(|| Unresolved::because(insulation.pointer(), wanted))?;
    Ok(terminals.min(trade::cable_column(&insulation).unwrap_or(rated)).min(rated))
}

/// Whether a circuit feeds several receptacles: then its breaker may not be the next size above what its conductors carry.
///
/// # Errors
/// The circuits of receptacles that may be its own, where they decide.
pub fn several_receptacles(inquiry: &Inquiry, circuit: &Circuit) -> Lookup<bool> {
    let spaces = need!(inquiry.project(), spaces).every();
    let every: Vec<Place<Receptacle>> = spaces.iter().flat_map(|space| need!(space, receptacles).every()).collect();
    let of = |one: &&Place<Receptacle>| serves(circuit, &one.id) || one.circuit.as_ref() == Some(&circuit.id);
    let own = every.iter().filter(of).count();
    let alone = circuit.individual == Some(true) || circuit.role == Some(CircuitRole::Feeder);
    let loose: Vec<&Place<Receptacle>> =
        if alone { Vec::new() } else { every.iter().filter(|one| is_loose(inquiry, one)).collect() };
    if own > 1 || own + loose.len() <= 1 {
        return Ok(own > 1);
    }
    let open = loose.iter().map(|one| one.missing("/circuit")).fold(None, Unresolved::joined);
    open.map_or(Ok(false), Err)
}

/// Whether nobody says which circuit a receptacle is on.
pub fn is_loose(inquiry: &Inquiry, receptacle: &Receptacle) -> bool {
    receptacle.circuit.is_none() && !circuits(inquiry).iter().any(|circuit| serves(circuit, &receptacle.id))
}

/// Whether it is a motor or has a compressor, so that the sections for those size its breaker.
pub fn is_motor(equipment: &Equipment) -> bool {
    use EquipmentKind as K;
    let kind = matches!(
        equipment.kind,
        K::HeatPump
            | K::AirConditioner
            | K::Pump
            | K::WellController
            | K::HeatPumpWaterHeater
            | K::Refrigerator
            | K::Dehumidifier
    );
    kind || equipment.electrical.as_ref().is_some_and(|supply| supply.motor.is_some())
}

/// How large a breaker may be, and why.
pub struct Most {
    /// The largest.
    pub device: ElectricCurrent,
    /// In a sentence, after the figure; empty where the conductors alone decide.
    pub why: &'static str,
}

/// The largest breaker of a circuit whose conductors, of a size and metal, carry so much. A circuit of motors or compressors alone
/// may have the device on their plates (240.4(G), 440.22, 430.52); where the plate does not say, 250 percent of the motor's
/// current.
///
/// # Errors
/// The plate, where the breaker is larger than conductors alone allow and the plate decides.
pub fn largest_breaker(
    inquiry: &Inquiry,
    circuit: &Place<Circuit>,
    (size, metal): (&str, Metal),
    ampacity: ElectricCurrent,
    next: bool,
) -> Lookup<Most> {
    // Whether receptacles keep the next size away is asked only where it decides.
    let fits = |device| circuit.overcurrent.as_ref().is_none_or(|breaker| at_most(breaker.quantity(), device));
    let [exact, above] = [false, true].map(|next| trade::largest_device(size, metal, ampacity, next));
    let decides = next && !fits(exact) && fits(above);
    let next =
        next && !if decides { several_receptacles(inquiry, circuit)? } else { several_receptacles(inquiry, circuit) == Ok(true) };
    let device = if next { above } else { exact };
    let alone = Most { device, why: "" };
    let holds = fits(device);
    let motors = served(inquiry, circuit);
    if holds || motors.is_empty() || !motors.iter().all(|one| is_motor(one)) {
        return Ok(alone);
    }
    let plates = motors.iter().map(plate).collect::<Vec<_>>().together()?;
    let least = plates.into_iter().reduce(|a, b| if b < a { b } else { a });
    Ok(match least {
        Some(plate) if plate > device => {
            feeds_nothing_else(inquiry, circuit)?;
            Most { device: plate, why: ", as the plate of what it feeds allows" }
        }
        _ => alone,
    })
}

/// Whether a circuit feeds what it says and nothing else: it says so, or no equipment leaves its circuit unsaid.
fn feeds_nothing_else(inquiry: &Inquiry, circuit: &Place<Circuit>) -> Lookup<()> {
    let loose =
        |one: &Place<Equipment>| kinds::electrical(one) != Ok(false) && !is_wiring(one.kind) && circuit_of(inquiry, one).is_err();
    if circuit.individual == Some(true) || !need!(inquiry.project(), equipment).every().iter().any(loose) {
        return Ok(());
    }
    Err(circuit.missing("/individual"))
}

/// What is part of the wiring hangs on no branch circuit.
fn is_wiring(kind: EquipmentKind) -> bool {
    use EquipmentKind as K;
    matches!(
        kind,
        K::Panel
            | K::Disconnect
            | K::ElectricMeter
            | K::TransferSwitch
            | K::MicrogridInterconnect
            | K::Inverter
            | K::Battery
            | K::Generator
            | K::GeneratorInlet
            | K::SolarArray
            | K::PullBox
    )
}

/// The largest device of a motor or compressor.
fn plate(equipment: &Place<Equipment>) -> Lookup<ElectricCurrent> {
    let said = need!(equipment, electrical.maximum_overcurrent).map(|device| device.quantity());
    said.or_else(|unresolved| {
        let full_load = need!(equipment, electrical.motor.full_load_current).map_err(|_| unresolved)?;
        let raised = full_load.quantity() * 2.5;
        Ok(trade::next_standard(raised).unwrap_or(raised))
    })
}
