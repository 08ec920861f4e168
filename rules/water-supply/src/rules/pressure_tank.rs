//! The pressure tank of a well must give enough water between cut-out and cut-in that the pump rests, and nothing may burst it.
//!
//! A pump that starts every few seconds burns out its motor. What a tank gives follows from Boyle's law in absolute pressures:
//! much less than its size. Where the pump can make more pressure than the tank may hold, a relief valve must stand at the tank:
//! **a tank that bursts throws its shell.**
//!
//! **How it is measured.** Volume, air charge with the tank empty, cut-in and cut-out, the flow of the pump, the pressure it makes
//! against a closed valve. With a drive that keeps the pressure constant the tank only cushions, and its charge is a share of the
//! set pressure.
//!
//! **How it is fixed.** A larger tank, its charge set 2 psi below cut-in with the tank empty, a relief valve at the tank tee.

use crate::source;
use redtag_handbook::units;
use redtag_handbook::water::measure::{gallons, in_gallons_per_minute};
use redtag_handbook::water::{atmosphere_at, drawdown, drawdown_factor, tank_volume_for};
use redtag_rule::prelude::*;
use uom::si::time;

/// Run.
const RUN: Quantity<dimensions::Duration> = Quantity::new(
    "least_run",
    "1 min",
    "How long a pump runs at least once it has started, where its maker does not say.",
    "from memory of pump makers: 1 min up to 1-1/2 hp, more above",
)
.within("10 s", "5 min");
/// Required.
const REQUIRED: Flag =
    Flag::new("run_required", false, "Too short a run is a fault, and not only worth knowing.", "common practice");
/// Charge.
const BELOW: Quantity<dimensions::Pressure> = Quantity::new(
    "charge_below_cut_in",
    "2 psi",
    "How far the air charge is set below cut-in.",
    "The Driller (2006), pressure tank drawdown",
)
.within("0 psi", "5 psi");
/// A drive.
const DRIVE_TANK: Quantity<dimensions::Ratio> = Quantity::new(
    "share_of_flow_with_drive",
    "20 %",
    "The least volume of the tank behind a drive, as a part of one minute of the pump's flow.",
    "from memory of makers of drives",
)
.within("0 %", "100 %");

/// The rule.
pub const RULE: Rule = Rule {
    citations: &[remembered("IPC", "2021", "606.5.10"), cited("The Driller", "2006", "pressure tank drawdown")],
    parameters: &[&RUN, &REQUIRED, &BELOW, &DRIVE_TANK],
    reads: &["/water", "/equipment", "/site"],
    ..Rule::new("water-supply/pressure-tank", "A pressure tank that lets the pump rest", check)
};

/// A charge this far off is worth a word.
const CHARGE_OFF: f64 = 2.0;

fn check(inquiry: &Inquiry) -> Vec<Finding> {
    let judged = |source: Place<'_, WaterSource>| {
        if source.pump.is_none() && source.pressure_tank.is_none() {
            return source.not_applicable(text!("no pump feeds the house from it")).done();
        }
        source.sheet("whether its tank lets the pump rest", |sheet| judge(inquiry, &source, sheet))
    };
    source::all(inquiry).into_iter().map(judged).collect()
}

fn judge(inquiry: &Inquiry, source: &Place<WaterSource>, sheet: &mut Sheet) -> Lookup<Text> {
    let (pump, tank) =
        (redtag_rule_water::pump(inquiry, source), need!(source, pressure_tank).and_then(|id| inquiry.equipment(&id)))
            .together()?;
    sheet.related(tank.pointer());
    holds(source, &pump, &tank, sheet);
    if redtag_rule_water::constant(inquiry, source) {
        return drive(inquiry, source, (&pump, &tank), sheet);
    }
    let (volume, charge, on, off, flow, elevation) = (
        need!(tank, tank.volume),
        need!(tank, tank.precharge),
        need!(source, pump_on),
        need!(source, pump_off),
        need!(pump, pump.flow),
        need!(inquiry.project(), site.elevation),
    )
        .together()?;
    let atmosphere = atmosphere_at(elevation.quantity());
    let pressures = (charge.quantity(), on.quantity(), off.quantity());
    let gives = drawdown(volume.quantity(), pressures.0, pressures.1, pressures.2, atmosphere);
    let run = need!(pump, pump.minimum_run).map_or(inquiry.value(&RUN), |run| run.quantity());
    let wanted = flow.quantity() * run;
    let words = text!(
        "{} charged to {} gives {} from {} down to {}",
        in_unit(&volume, "gal"),
        in_unit(&charge, "psi"),
        in_unit(gives, "gal"),
        in_unit(&off, "psi"),
        in_unit(&on, "psi")
    );
    sheet.line("drawdown", words, "Boyle's law, The Driller (2006)");
    if !sheet.at_least("for one run", &gives, &wanted, "gal", "the pump's maker, or from memory of makers") {
        let seconds = gives / flow.quantity();
        let said = text!(
            "the tank gives {}, the pump runs {} s; {} are wanted for one run",
            in_unit(gives, "gal"),
            format!("{:.0}", seconds.get::<time::second>()),
            in_unit(wanted, "gal")
        );
        if inquiry.value(&REQUIRED) {
            sheet.fault(said)
        } else {
            sheet.advise(said)
        }
        let usual = on.quantity() - inquiry.value(&BELOW);
        let factor = drawdown_factor(usual, on.quantity(), off.quantity(), atmosphere);
        if let Some(size) = tank_volume_for(flow.quantity(), run, factor) {
            sheet.cure(text!("a tank of {} charged to {}", in_unit(size, "gal"), in_unit(usual, "psi")));
        }
    }
    charged(inquiry, (&charge, &on), sheet);
    Ok(text!("the tank gives {}, {} are wanted for one run", in_unit(gives, "gal"), in_unit(wanted, "gal")))
}

/// Whether the charge stands where it should.
fn charged(inquiry: &Inquiry, (charge, on): (&Place<quantity::Pressure>, &Place<quantity::Pressure>), sheet: &mut Sheet) {
    let usual = on.quantity() - inquiry.value(&BELOW);
    let off = (units::in_psi(charge.quantity()) - units::in_psi(usual)).abs();
    if off > CHARGE_OFF + 1e-9 {
        sheet.advise(text!("charge the empty tank to {}, it is at {}", in_unit(usual, "psi"), in_unit(charge, "psi")));
        let written = quantity::Pressure::from_quantity(&usual).print_in("psi");
        sheet.cure_at(text!("set the air charge to {}", in_unit(usual, "psi")), &[(charge.pointer().to_owned(), json!(written))]);
    }
}

/// Whether the tank bears what the pump can make.
fn holds(source: &Place<WaterSource>, pump: &Place<Equipment>, tank: &Place<Equipment>, sheet: &mut Sheet) {
    let Some(most) = sheet.want(need!(tank, tank.maximum_pressure)) else { return };
    if let Ok(off) = need!(source, pump_off).or_else(|_| need!(source, static_pressure))
        && !sheet.at_most("cut-out", &off, &most, "psi", "the tank's label")
    {
        sheet.fault(text!("the pump stops at {}, the tank holds {}", in_unit(&off, "psi"), in_unit(&most, "psi")));
    }
    let Some(shut) = sheet.want(need!(pump, pump.shutoff_pressure)) else { return };
    if at_most(shut.quantity(), most.quantity()) {
        sheet.line(
            "against a closed valve",
            text!("the pump makes {}, the tank holds {}", in_unit(&shut, "psi"), in_unit(&most, "psi")),
            "",
        );
        return;
    }
    let Some(valves) = sheet.want(need!(tank, relief)) else { return };
    let low_enough = |valve: Place<'_, Relief>| need!(valve, pressure).map(|set| at_most(set.quantity(), most.quantity()));
    let settings: Vec<_> = valves.items().map(low_enough).collect();
    let Some(settings) = sheet.want(settings.together()) else { return };
    let words = text!(
        "the pump can make {}, the tank holds {}: a relief valve is set to no more",
        in_unit(&shut, "psi"),
        in_unit(&most, "psi")
    );
    if !sheet.test("relief", words, "IPC 606.5.10, from memory", settings.contains(&true)) {
        sheet.fault(text!(
            "the pump can make {}, the tank holds {}, and no relief valve opens before",
            in_unit(&shut, "psi"),
            in_unit(&most, "psi")
        ));
        sheet.cure(text!(
            "fit a relief valve at the tank tee, set to {} or less, with its pipe to a drain",
            in_unit(&most, "psi")
        ));
    }
}

/// A tank behind a drive.
fn drive(
    inquiry: &Inquiry,
    source: &Place<WaterSource>,
    (pump, tank): (&Place<Equipment>, &Place<Equipment>),
    sheet: &mut Sheet,
) -> Lookup<Text> {
    let (volume, charge, set, flow) =
        (need!(tank, tank.volume), need!(tank, tank.precharge), need!(source, static_pressure), need!(pump, pump.flow))
            .together()?;
    let least = gallons(in_gallons_per_minute(flow.quantity())) * inquiry.value(&DRIVE_TANK);
    if !sheet.at_least("tank behind a drive", &volume, &least, "gal", "from memory of makers of drives") {
        sheet.advise(text!(
            "the tank is {}, {} is usual behind a drive of that flow",
            in_unit(&volume, "gal"),
            in_unit(least, "gal")
        ));
    }
    let share = units::in_psi(charge.quantity()) / units::in_psi(set.quantity()).max(f64::MIN_POSITIVE);
    if !(0.6..=0.8).contains(&share) {
        sheet.advise(text!(
            "its charge is {} at a set pressure of {}; 60 to 80 percent is usual",
            in_unit(&charge, "psi"),
            in_unit(&set, "psi")
        ));
    }
    Ok(text!("a tank of {} cushions the drive", in_unit(&volume, "gal")))
}
