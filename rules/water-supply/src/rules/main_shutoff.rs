//! Each dwelling must have a full-open main shutoff near where the water comes in, in reach, with a way to drain behind it.
//!
//! When a pipe bursts, minutes decide between a wet floor and a ruined house. The valve that cannot be found, reached or turned
//! is no valve.
//!
//! **How it is measured.** By looking: a valve that opens to the full bore on the service, one more for each flat of a house with
//! several, in reach without a ladder or tools, with a drain or bleed behind it.
//!
//! **How it is fixed.** A full-port ball valve with a bleed. Not behind the softener, not above a duct.

use redtag_rule::prelude::*;

/// Draining.
const DRAINS: Flag =
    Flag::new("drain_behind_it", true, "The pipe behind the main shutoff can be drained.", "from memory of IRC P2903.9.1");
/// Every flat.
const EACH_UNIT: Flag =
    Flag::new("each_dwelling_unit", true, "Each dwelling unit has a shutoff of its own.", "from memory of IRC P2903.9.1");

/// The rule.
pub const RULE: Rule = Rule {
    citations: &[cited("IRC", "2021", "P2903.9.1"), remembered("IPC", "2021", "606.1")],
    parameters: &[&DRAINS, &EACH_UNIT],
    reads: &["/water", "/building"],
    ..Rule::new("water-supply/main-shutoff", "Main shutoff that can be found, reached and turned", check)
};

fn check(inquiry: &Inquiry) -> Vec<Finding> {
    let project = inquiry.project();
    if project.get().water.is_none() {
        return vec![project.not_applicable(text!("no water is described")).done()];
    }
    vec![project.sheet("whether the water can be shut off", |sheet| judge(inquiry, sheet))]
}

fn judge(inquiry: &Inquiry, sheet: &mut Sheet) -> Lookup<Text> {
    let valves = need!(inquiry.project(), water.valves)?;
    let main = valves.items().find(|valve| valve.kind == WaterValveKind::MainShutoff);
    let units = need!(inquiry.project(), building.dwelling_units).listed_only("units are listed where there is more than one");
    let Some(main) = main else {
        sheet.test("main shutoff", text!("none on the service"), "IRC P2903.9.1, from memory", false);
        sheet.fault(text!("no main shutoff is on the service"));
        sheet.cure(text!("fit a full-port ball valve with a bleed where the service comes in"));
        return Ok(Text::default());
    };
    one(inquiry, &main, sheet);
    if inquiry.value(&EACH_UNIT) && units.len() > 1 {
        for unit in &units {
            let serves = |valve: &Place<WaterValve>| {
                valve.kind == WaterValveKind::UnitShutoff && valve.serves.as_ref().is_some_and(|serves| serves.contains(&unit.id))
            };
            let name = unit.name.clone().unwrap_or_else(|| unit.id.clone());
            match valves.items().find(serves) {
                Some(valve) => one(inquiry, &valve, sheet),
                None => {
                    sheet.test(&name, text!("no shutoff of its own"), "IRC P2903.9.1, from memory", false);
                    sheet.fault(text!("{} has no shutoff of its own", name));
                }
            }
        }
    }
    Ok(text!("{} shuts off the water", main.label()))
}

fn one(inquiry: &Inquiry, valve: &Place<WaterValve>, sheet: &mut Sheet) {
    let mut demands = vec![
        (need!(valve, full_open), "opens to the full bore", "does not open to the full bore"),
        (need!(valve, accessible), "in reach", "cannot be reached"),
    ];
    if inquiry.value(&DRAINS) {
        demands.push((need!(valve, drains), "the pipe behind it drains", "leaves the pipe behind it full: it cannot be drained"));
    }
    for (said, good, bad) in demands {
        let Some(said) = sheet.want(said) else { continue };
        if sheet.test(&valve.label(), text!("{}", if *said { good } else { bad }), "IRC P2903.9.1, from memory", *said) {
            continue;
        }
        sheet.fault(text!("{} {}", valve.label(), bad));
        sheet.cure_at(text!("a full-port ball valve with a bleed, in reach"), &[(said.pointer().to_owned(), json!(true))]);
        mark(inquiry, valve, sheet);
    }
}

fn mark(inquiry: &Inquiry, valve: &Place<WaterValve>, sheet: &mut Sheet) {
    let Some(at) = &valve.get().at else { return };
    let space = need!(valve, space).and_then(|id| inquiry.space(&id)).ok();
    let floor = space.as_ref().and_then(|space| space.floor_elevation.as_ref()).map_or(0.0, |floor| floor.si());
    let up = valve.height.as_ref().map_or(0.0, |height| height.si());
    sheet.mark(point_mark(valve.get().space.as_deref(), valve.label(), [at.x.si(), at.y.si(), floor + up]));
}
