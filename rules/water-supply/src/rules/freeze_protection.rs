//! Water pipes must not freeze: the service lies below the frost, and what runs in the cold is insulated or heated.
//!
//! Ice bursts a pipe and the thaw floods the house.
//!
//! **How it is measured.** The earth over the service, against 12 in and 6 in below the depth of frost. For water and waste pipes in
//! crawl spaces, attics and outer walls: what keeps them from freezing. A space that is said to get as cold as 32 F freezes its pipes,
//! whatever is said of them. Equipment that holds water must not stand there, unless its own frost protection holds against the cold
//! of its place.
//!
//! **How it is fixed.** Deeper, or inside the insulation; a listed heating cable under insulation where it cannot be moved. A
//! heating cable belongs to a licensed electrician: **one laid across itself burns.**

use redtag_rule::prelude::*;
use uom::si::f64::ThermodynamicTemperature;
use uom::si::thermodynamic_temperature::kelvin;

/// Depth.
const DEPTH: Quantity<dimensions::Length> = Quantity::new(
    "least_cover",
    "12 in",
    "The least earth over a service.",
    "from memory of IRC P2603.5; IPC 305 text read in a copy",
)
.within("0 in", "96 in");
/// Below frost.
const BELOW_FROST: Quantity<dimensions::Length> = Quantity::new(
    "below_frost",
    "6 in",
    "How far a service lies below the depth of frost.",
    "from memory of IRC P2603.5; IPC 305 text read in a copy",
)
.within("0 in", "24 in");
/// Draining.
const DRAINING: Flag = Flag::new(
    "draining_counts",
    false,
    "A pipe that is drained for the winter counts as kept from freezing.",
    "the model code names insulation and heat; authorities often accept draining for summer lines",
);

/// The rule.
pub const RULE: Rule = Rule {
    citations: &[remembered("IRC", "2021", "P2603.5"), remembered("IPC", "2021", "305.4")],
    parameters: &[&DEPTH, &BELOW_FROST, &DRAINING],
    reads: &["/water", "/site", "/drainage", "/spaces", "/equipment"],
    ..Rule::new("water-supply/freeze-protection", "Pipes that cannot freeze", check)
};

const WANTED: &str = "whether it can freeze";

/// Whether water freezes at a temperature: at 32 F and below.
fn freezes(temperature: &quantity::Temperature) -> bool {
    let freezing = ThermodynamicTemperature::new::<kelvin>(273.15);
    at_most(temperature.quantity(), freezing)
}

fn check(inquiry: &Inquiry) -> Vec<Finding> {
    let project = inquiry.project();
    let water = need!(project, water.pipes).every().into_iter().map(|pipe| {
        if pipe.kind == WaterPipeKind::Hydronic {
            return pipe.not_applicable(text!("the water of a heating system")).done();
        }
        pipe.sheet(WANTED, |sheet| {
            if pipe.kind == WaterPipeKind::Service {
                buried(inquiry, &pipe, sheet);
            }
            let told = (need!(pipe, can_freeze), need!(pipe, spaces), need!(pipe, freeze_protection));
            judge(inquiry, told, sheet)
        })
    });
    let waste = need!(project, drainage.pipes).every().into_iter().map(|pipe| {
        if matches!(pipe.kind, DrainPipeKind::BuildingSewer | DrainPipeKind::BuildingDrain | DrainPipeKind::Storm) {
            return pipe.not_applicable(text!("it lies in the ground or carries rain")).done();
        }
        let told = (need!(pipe, can_freeze), need!(pipe, spaces), need!(pipe, freeze_protection));
        pipe.sheet(WANTED, |sheet| judge(inquiry, told, sheet))
    });
    let wet = need!(project, equipment).every().into_iter().filter(holds_water);
    let wet = wet.map(|item| item.sheet(WANTED, |sheet| stands(inquiry, &item, sheet)));
    water.chain(waste).chain(wet).collect()
}

type Told<'a> = (Lookup<Place<'a, bool>>, Lookup<Place<'a, Vec<String>>>, Lookup<Place<'a, FreezeProtection>>);

/// A pipe: where it can freeze something keeps it from that. Where its space is said to get that cold, it can.
fn judge(inquiry: &Inquiry, (can_freeze, spaces, protection): Told, sheet: &mut Sheet) -> Lookup<Text> {
    let cold = spaces.map(|spaces| spaces.items().map(|id| coldest(inquiry, &id)).collect::<Vec<_>>());
    let seen = cold.as_ref().ok().and_then(|all| all.iter().flatten().find(|(_, lowest)| freezes(lowest)));
    if let Some((space, lowest)) = seen {
        sheet.line("coldest", text!("{} in {}", *lowest, space.label()), "as the space says");
        sheet.related(space.pointer());
    } else {
        // Where every space says that it stays warmer, nobody asks.
        let warm = cold.is_ok_and(|all| !all.is_empty() && all.iter().all(Result::is_ok));
        let can = can_freeze.map(|can| *can).or_else(|unresolved| if warm { Ok(false) } else { Err(unresolved) })?;
        if !can {
            return Ok(text!("it runs where nothing freezes"));
        }
    }
    let protection = protection?;
    let holds = match *protection {
        FreezeProtection::Insulation | FreezeProtection::HeatTracing | FreezeProtection::InsulationAndHeat => true,
        FreezeProtection::DrainedForWinter => inquiry.value(&DRAINING),
        _ => false,
    };
    if !sheet.test("protection", text!("{}", *protection), "IRC P2603.5, from memory", holds) {
        sheet.fault(text!("it runs where it can freeze, and {} is no protection", *protection));
        sheet.cure_at(
            text!("insulation with a listed heating cable, or another way inside"),
            &[(protection.pointer().to_owned(), json!("insulation-and-heat"))],
        );
    }
    Ok(text!("kept from freezing: {}", *protection))
}

/// A space with the lowest temperature it says.
fn coldest<'a>(inquiry: &Inquiry<'a>, id: &Place<String>) -> Lookup<(Place<'a, Space>, Place<'a, quantity::Temperature>)> {
    let space = inquiry.space(id)?;
    let lowest = need!(space, lowest_temperature)?;
    Ok((space, lowest))
}

/// Whether water stands in it.
fn holds_water(item: &Place<Equipment>) -> bool {
    use EquipmentKind as Kind;
    item.outdoors != Some(true)
        && matches!(
            item.kind,
            Kind::StorageWaterHeater
                | Kind::TanklessWaterHeater
                | Kind::HeatPumpWaterHeater
                | Kind::IndirectWaterHeater
                | Kind::Boiler
                | Kind::WaterSoftener
                | Kind::IronFilter
                | Kind::SedimentFilter
                | Kind::CarbonFilter
                | Kind::AcidNeutralizer
                | Kind::UltravioletDisinfection
                | Kind::ReverseOsmosis
                | Kind::PressureTank
                | Kind::ExpansionTank
                | Kind::BufferTank
        )
}

/// Equipment that holds water stands where it does not freeze, or protects itself against the cold of its place.
fn stands(inquiry: &Inquiry, item: &Place<Equipment>, sheet: &mut Sheet) -> Lookup<Text> {
    let space = need!(item, space).and_then(|id| inquiry.space(&id))?;
    let lowest = match need!(space, lowest_temperature) {
        Ok(lowest) => lowest,
        Err(_) if space.conditioned == Some(true) => return Ok(text!("it stands in a conditioned space")),
        Err(_) if space.conditioned.is_none() => return Err(space.missing("/conditioned")),
        Err(unresolved) => return Err(unresolved),
    };
    sheet.line("coldest", text!("{} in {}", lowest, space.label()), "as the space says");
    if !freezes(&lowest) {
        return Ok(text!("it stands where nothing freezes"));
    }
    let protects = item.kind == EquipmentKind::TanklessWaterHeater;
    let held = protects.then(|| sheet.want(need!(item, water_heating.frost_protection_to))).flatten();
    let holds = held.as_ref().is_some_and(|held| at_most(held.quantity(), lowest.quantity()));
    let words = match &held {
        Some(held) => text!("its frost protection holds down to {}, its place gets as cold as {}", held, lowest),
        None => text!("water stands in it, and its place gets as cold as {}", lowest),
    };
    if held.is_some() || !protects {
        let source = "IRC P2603.5 for its pipes, from memory; the instructions for itself";
        if !sheet.require("frost", words, source, holds) {
            sheet.related(space.pointer());
            sheet.cure(text!("set it where nothing freezes, or keep its place above freezing"));
        }
    }
    Ok(text!("its own frost protection holds"))
}

fn buried(inquiry: &Inquiry, pipe: &Place<WaterPipe>, sheet: &mut Sheet) {
    let (Some(cover), Some(frost)) =
        (sheet.want(need!(pipe, burial_depth)), sheet.want(need!(inquiry.project(), site.frost_depth)))
    else {
        return;
    };
    let below = frost.quantity() + inquiry.value(&BELOW_FROST);
    let least = below.max(inquiry.value(&DEPTH));
    if !sheet.at_least("cover", &cover, &least, "in", "IRC P2603.5, from memory") {
        sheet.fault(text!(
            "{} of earth lie over it, {} is the least where the ground freezes {} deep",
            in_unit(&cover, "in"),
            in_unit(least, "in"),
            in_unit(&frost, "in")
        ));
        let written = quantity::Length::from_quantity(&least).print_in("in");
        sheet.cure_at(text!("lay it {} deep", in_unit(least, "in")), &[(cover.pointer().to_owned(), json!(written))]);
    }
}
