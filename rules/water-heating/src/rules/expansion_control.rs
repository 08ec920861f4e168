//! Where water that grows when it is heated cannot go back into the main, something must take it up.
//!
//! A check valve, a backflow preventer or a pressure-reducing valve without a bypass closes the pipe. Then 50 gallons warmed from
//! 50 to 140 F have 0.84 gallon too much; the pressure climbs until the relief valve drips, hoses burst or the tank's seams work.
//!
//! **How it is measured.** From the source to the heater: is there a device that lets water one way only? A well's pressure tank
//! takes the water up unless a check stands between it and the heater. Then by Boyle's law in absolute pressures: the water that
//! has no room, by its density cold and hot, of all heaters that share the tank, against what the tank can take between the pressure in the pipe and nine tenths of
//! the relief valve's. Published tables are often smaller, since they let the pressure climb to the relief valve's own; the
//! worksheet shows both.
//!
//! **How it is fixed.** A tank for drinking water on the cold pipe of the heater, of the size in the finding or larger, its air
//! charged with a hand pump to the pressure of the pipe before water is let in. A licensed plumber sets the pressure.

use crate::{closed, heater};
use redtag_handbook::units;
use redtag_handbook::water::measure::in_gallons;
use redtag_handbook::water::{ExpansionTank, OPEN_BELOW_RELIEF, atmosphere_at, expansion_tank_volume, expansion_volume};
use redtag_rule::prelude::*;
use uom::si::f64::{Pressure, ThermodynamicTemperature, Volume};

/// How hot.
const HOTTEST: Quantity<dimensions::Temperature> = Quantity::new(
    "design_temperature",
    "140 F",
    "The expansion is worked out for water this hot, or as hot as the heater is set where that is more.",
    "common practice: expansion is figured to 140 F",
)
.within("100 F", "210 F");
/// How far below the relief valve.
const SHARE: Quantity<dimensions::Ratio> = Quantity::new(
    "share_of_relief",
    "90 %",
    "The part of the relief valve's pressure that expansion may reach.",
    "R. Griffith, thermal expansion tanks part 2: 135 psi under a valve of 150 psi",
)
.within("70 %", "100 %");

/// The rule.
pub const RULE: Rule = Rule {
    citations: &[cited("IRC", "2021", "P2903.4"), remembered("IPC", "2021", "607.3"), remembered("UPC", "2021", "608.3")],
    parameters: &[&HOTTEST, &SHARE],
    reads: &["/equipment", "/water", "/site", "/building"],
    ..Rule::new("water-heating/expansion-control", "Room for water that grows when it is heated", check)
};

const WANTED: &str = "whether water that grows has somewhere to go";
/// A charge this far off the pressure of the pipe is worth a word.
const CHARGE_OFF: f64 = 5.0;
/// Above this the pipe's own pressure is to be brought down first, which another rule asks for.
const TOO_HIGH: f64 = 80.0;

fn check(inquiry: &Inquiry) -> Vec<Finding> {
    heater::each(inquiry, |heater| {
        let stops = match closed::stops(inquiry, heater) {
            Ok(stops) => stops,
            Err(unresolved) => return heater.ask(WANTED, || Err(unresolved)),
        };
        let Some(first) = stops.first() else {
            return heater.not_applicable(text!("nothing keeps water from going back where it came from")).done();
        };
        if !heater::stores(heater) {
            return tankless(inquiry, heater, first);
        }
        heater.sheet(WANTED, |sheet| {
            sheet.line("closed by", text!("{}", first.valve.label()), "IRC P2903.4");
            sheet.related(first.valve.pointer());
            judge(inquiry, heater, sheet)
        })
    })
}

/// A heater that stores nothing is not meant, but warm water may stand elsewhere.
fn tankless(inquiry: &Inquiry, heater: &Place<Equipment>, stop: &closed::Stop) -> Finding {
    let pipes = need!(inquiry.project(), water.pipes).every();
    let loops = pipes.iter().any(|pipe| pipe.kind == WaterPipeKind::Recirculation);
    let equipment = need!(inquiry.project(), equipment).every();
    let buffers = equipment.iter().any(|item| item.kind == EquipmentKind::BufferTank);
    if !loops && !buffers {
        return heater.not_applicable(text!("it stores no hot water")).done();
    }
    let words = text!(
        "it stores none itself, but hot water stands in a loop or buffer tank behind {}: room for it to grow is wise",
        stop.valve.label()
    );
    heater.advice(words).done()
}

fn judge(inquiry: &Inquiry, heater: &Place<Equipment>, sheet: &mut Sheet) -> Lookup<Text> {
    let (own, worked) = (expansion(inquiry, heater, sheet), pressures(inquiry, heater, sheet));
    let ((own, hot), (line, greatest, atmosphere)) = (own, worked).together()?;
    let named = tank_of(inquiry, heater)?;
    let expansion = own + of_others(inquiry, heater, named.as_ref(), sheet)?;
    let at_line = ExpansionTank { precharge: line, line, greatest, atmosphere };
    let charged_right = expansion_tank_volume(expansion, at_line);
    let Some(named) = named else {
        sheet.fault(text!("the pipe is closed and nothing takes up {} of water", in_unit(expansion, "gal")));
        wanted(charged_right, line, sheet);
        return Ok(Text::default());
    };
    sheet.related(named.pointer());
    // The pressure tank of a well holds the water people drink; of an expansion tank that is asked.
    let potable = need!(named, tank.potable).map(|potable| *potable);
    let potable = if named.kind == EquipmentKind::PressureTank { potable.or(Ok(true)) } else { potable };
    if sheet.want(potable) == Some(false) {
        sheet.fault(text!("{} is not made for drinking water", named.label()));
    }
    let (volume, precharge) = (need!(named, tank.volume), need!(named, tank.precharge)).together()?;
    let pressures = ExpansionTank { precharge: precharge.quantity(), line, greatest, atmosphere };
    let needed = expansion_tank_volume(expansion, pressures);
    printed(expansion, hot, pressures, sheet);
    match needed {
        Some(needed) if sheet.at_least("tank", &volume, &needed, "gal", "computed: Boyle's law, absolute pressures") => {}
        Some(needed) => {
            sheet.fault(text!(
                "{} holds {}, {} is wanted at a charge of {}",
                named.label(),
                in_unit(&volume, "gal"),
                in_unit(needed, "gal"),
                in_unit(&precharge, "psi")
            ));
            wanted(charged_right, line, sheet);
        }
        None => {
            sheet.fault(text!(
                "charged to {}, the tank takes nothing up before {} is reached",
                in_unit(&precharge, "psi"),
                in_unit(greatest, "psi")
            ));
            wanted(charged_right, line, sheet);
        }
    }
    let off = (units::in_psi(precharge.quantity()) - units::in_psi(line)).abs();
    // Where the pipe itself stands too high, the charge follows once that is put right.
    // The tank of a well is charged to where its pump starts, which another rule asks for.
    let of_a_well = named.kind == EquipmentKind::PressureTank;
    if sheet.sound() && !of_a_well && off > CHARGE_OFF && units::in_psi(line) <= TOO_HIGH {
        sheet.advise(text!(
            "charge the tank to the pressure of the pipe, {}; it is at {}",
            in_unit(line, "psi"),
            in_unit(&precharge, "psi")
        ));
    }
    Ok(text!("{} takes up the {} that have no room", named.label(), in_unit(expansion, "gal")))
}

/// The water of other heaters that the same tank must take up: on a cold morning they warm together.
fn of_others(inquiry: &Inquiry, heater: &Place<Equipment>, tank: Option<&Place<Equipment>>, sheet: &mut Sheet) -> Lookup<Volume> {
    let Some(tank) = tank else { return Ok(Volume::default()) };
    let named = |other: &Place<Equipment>| {
        other.water_heating.as_ref().and_then(|heating| heating.expansion_tank.as_deref()) == Some(tank.id.as_str())
    };
    let others = heater::all(inquiry).into_iter().filter(|other| other.id != heater.id && heater::stores(other) && named(other));
    let mut more = Vec::new();
    for other in others {
        sheet.related(other.pointer());
        more.push(expansion(inquiry, &other, sheet).map(|(volume, _)| volume));
    }
    Ok(more.together()?.into_iter().sum())
}

/// The water that has no room.
fn expansion(inquiry: &Inquiry, heater: &Place<Equipment>, sheet: &mut Sheet) -> Lookup<(Volume, ThermodynamicTemperature)> {
    let (storage, cold, set) =
        (need!(heater, water_heating.storage), heater::coldest(inquiry), need!(heater, water_heating.set_temperature))
            .together()?;
    let design = inquiry.value(&HOTTEST);
    let hot = if set.quantity().value > design.value { set.quantity() } else { design };
    let expansion = expansion_volume(storage.quantity(), cold.quantity(), hot);
    let words = text!(
        "{} in {} from {} to {} grow by {}",
        in_unit(&storage, "gal"),
        heater.label(),
        cold,
        quantity::Temperature::from_quantity(&hot),
        in_unit(expansion, "gal")
    );
    sheet.line("expansion", words, "density of water by Kell (1975)");
    Ok((expansion, hot))
}

/// Pressure of the pipe, the greatest allowed, and that of the air here.
fn pressures(inquiry: &Inquiry, heater: &Place<Equipment>, sheet: &mut Sheet) -> Lookup<(Pressure, Pressure, Pressure)> {
    let relief = need!(heater, relief).and_then(|list| {
        let set = |valve: Place<Relief>| need!(valve, pressure).map(|pressure| pressure.quantity());
        let valves: Vec<_> = list.items().filter(|valve| valve.kind != ReliefKind::Vacuum).map(set).collect();
        valves.together()?.into_iter().reduce(Pressure::min).ok_or_else(|| heater.missing("/relief"))
    });
    let (at_rest, relief, elevation) =
        (heater::at_rest(inquiry, heater), relief, need!(inquiry.project(), site.elevation)).together()?;
    let (line, whence) = at_rest;
    let greatest = relief * inquiry.value(&SHARE);
    let atmosphere = atmosphere_at(elevation.quantity());
    let words = text!(
        "{} {}, {} allowed under relief at {}, air {}",
        in_unit(line, "psi"),
        whence,
        in_unit(greatest, "psi"),
        in_unit(relief, "psi"),
        in_unit(atmosphere, "psi")
    );
    sheet.line("pressures", words, "R. Griffith, thermal expansion tanks part 2");
    Ok((line, greatest, atmosphere))
}

/// What a table that lets the pressure climb to the relief valve's own would ask.
fn printed(expansion: Volume, _hot: ThermodynamicTemperature, pressures: ExpansionTank, sheet: &mut Sheet) {
    let to_relief = ExpansionTank { greatest: pressures.greatest / OPEN_BELOW_RELIEF, ..pressures };
    if let Some(volume) = expansion_tank_volume(expansion, to_relief) {
        sheet.line("were relief itself reached", text!("{} would do", in_unit(volume, "gal")), "for information");
    }
}

/// The tank named, or the only one of the house; none where the house has none.
fn tank_of<'a>(inquiry: &Inquiry<'a>, heater: &Place<'a, Equipment>) -> Lookup<Option<Place<'a, Equipment>>> {
    match need!(heater, water_heating.expansion_tank) {
        Ok(id) => inquiry.equipment(&id).map(Some),
        Err(unresolved) => {
            let drinking = |item: &Place<Equipment>| {
                item.kind == EquipmentKind::ExpansionTank
                    && item.get().tank.as_ref().is_none_or(|tank| tank.potable != Some(false))
            };
            let any = need!(inquiry.project(), equipment)?.items().any(|item| drinking(&item));
            if any { Err(unresolved) } else { Ok(None) }
        }
    }
}

/// The cure, with its size.
fn wanted(volume: Option<Volume>, line: Pressure, sheet: &mut Sheet) {
    match volume {
        Some(volume) => sheet.cure(text!(
            "fit a tank for drinking water of {} or larger, charged to {}",
            in_unit(redtag_handbook::water::measure::gallons((in_gallons(volume) * 10.0).ceil() / 10.0), "gal"),
            in_unit(line, "psi")
        )),
        None => {
            sheet.cure(text!("bring the pressure of the pipe down first, {} leaves no room below relief", in_unit(line, "psi")))
        }
    }
}
