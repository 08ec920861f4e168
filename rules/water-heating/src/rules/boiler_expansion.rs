//! The water of a heating system must have a tank to grow into, large enough for all of it.
//!
//! Water warmed from filling to 195 F grows by a thirtieth. Without room for it the relief valve opens at every firing, fresh water
//! rusts the system, and lime closes the valve: **then nothing relieves the boiler.**
//!
//! **How it is measured.** Water in the whole system, its mean temperature while it heats, the tank's volume and charge, and the
//! pressure at which the relief valve opens, by the code's equation for tanks with a diaphragm. A steam boiler needs none.
//!
//! **How it is fixed.** A tank of the size in the finding or larger, charged to the pressure of filling before water is let in.

use crate::boiler;
use redtag_handbook::water::measure::{gallons, in_gallons};
use redtag_handbook::water::{atmosphere_at, boiler_expansion_tank};
use redtag_rule::prelude::*;
use uom::si::f64::Pressure;

/// How hot.
const COOLEST: Quantity<dimensions::Temperature> = Quantity::new(
    "least_mean_temperature",
    "160 F",
    "The tank is worked out for water of this mean temperature, or for what the system runs at where that is more.",
    "common practice; the printed table stands at 195 F",
)
.within("100 F", "195 F");

/// The rule.
pub const RULE: Rule = Rule {
    citations: &[remembered("IRC", "2021", "M2003"), remembered("IMC", "2021", "1009")],
    parameters: &[&COOLEST],
    reads: &["/equipment", "/site"],
    ..Rule::new("water-heating/boiler-expansion", "Expansion tank of a heating system", check)
};

const WANTED: &str = "whether the system's water has room to grow";
const SOURCE: &str = "IRC table M2003.2 and its equation, from memory";

fn check(inquiry: &Inquiry) -> Vec<Finding> {
    boiler::each(inquiry, |boiler| {
        if need!(boiler, boiler.medium).is_ok_and(|medium| *medium == BoilerMedium::Steam) {
            return boiler.not_applicable(text!("steam needs no tank to grow into")).done();
        }
        boiler.sheet(WANTED, |sheet| judge(inquiry, boiler, sheet))
    })
}

fn judge(inquiry: &Inquiry, boiler: &Place<Equipment>, sheet: &mut Sheet) -> Lookup<Text> {
    sheet.want(need!(boiler, boiler.medium));
    if need!(boiler, boiler.without_expansion_tank).is_ok_and(|without| *without) {
        sheet.test("tank", text!("none"), SOURCE, false);
        sheet.fault(text!("no tank takes up the water of the system when it grows"));
        sheet.cure(text!("fit a tank for heating systems, sized by the water in the system"));
        return Ok(Text::default());
    }
    let tank = need!(boiler, boiler.expansion_tank).and_then(|id| inquiry.equipment(&id))?;
    sheet.related(tank.pointer());
    let facts = (
        need!(boiler, boiler.system_volume),
        need!(boiler, boiler.mean_temperature),
        need!(tank, tank.volume),
        need!(tank, tank.precharge),
        opens(boiler),
        need!(inquiry.project(), site.elevation),
    );
    let (system, mean, volume, charge, opens, elevation) = facts.together()?;
    let coolest = inquiry.value(&COOLEST);
    let hot = if mean.quantity().value > coolest.value { mean.quantity() } else { coolest };
    let hot_said = quantity::Temperature::from_quantity(&hot);
    let pressures = (charge.quantity(), opens);
    let wanted = boiler_expansion_tank(system.quantity(), hot, pressures, atmosphere_at(elevation.quantity()));
    let words = text!(
        "{} at {}, charged to {}, relief at {}",
        in_unit(&system, "gal"),
        hot_said,
        in_unit(&charge, "psi"),
        in_unit(opens, "psi")
    );
    sheet.line("system", words, SOURCE);
    let Some(wanted) = wanted else {
        sheet.fault(text!("charged to {}, the tank takes nothing up before relief opens", in_unit(&charge, "psi")));
        sheet.cure(text!("charge it to the pressure at which the system is filled"));
        return Ok(Text::default());
    };
    if !sheet.at_least("tank", &volume, &wanted, "gal", SOURCE) {
        let round = gallons((in_gallons(wanted) * 10.0).ceil() / 10.0);
        sheet.fault(text!("{} holds {}, {} is the least", tank.label(), in_unit(&volume, "gal"), in_unit(round, "gal")));
        let written = quantity::Volume::from_quantity(&round).print_in("gal");
        let words = text!("a tank of {} or larger", in_unit(round, "gal"));
        sheet.cure_at(words, &[(volume.pointer().to_owned(), json!(written))]);
    }
    Ok(text!("{} takes up what {} grow", tank.label(), in_unit(&system, "gal")))
}

/// The lowest pressure at which a relief valve opens.
fn opens(boiler: &Place<Equipment>) -> Lookup<Pressure> {
    let relief = need!(boiler, relief)?;
    let each: Vec<_> =
        relief.items().filter(|valve| valve.kind != ReliefKind::Vacuum).map(|valve| need!(valve, pressure)).collect();
    let least = each.together()?.into_iter().map(|pressure| pressure.quantity()).reduce(Pressure::min);
    least.ok_or_else(|| boiler.missing("/relief"))
}
