//! What has been used must not be able to flow back into what is drunk.
//!
//! When the main breaks, a hose in a bucket of weed killer or a boiler full of inhibitor drains into the kitchen tap. Each such
//! connection has its own device.
//!
//! **How it is measured.** Hose bibbs and irrigation: the vacuum breaker or preventer. A boiler's fill: a dual check with a vent
//! (ASSE 1012) for plain water, a reduced pressure zone (ASSE 1013) where chemicals are added. A tank heated through a coil: two
//! walls, unless what runs in the coil is harmless. Two sources: a valve that keeps them apart. A preventer with a vent needs a
//! drain: **what it spits can be hot enough to scald.**
//!
//! **How it is fixed.** The listed device for that hazard, where it can be reached and tested, with its vent over a drain.

use redtag_rule::prelude::*;

/// Hoses.
const AT_HOSES: Choices = Choices::new(
    "at_hoses",
    &["vacuum-breaker", "air-gap", "integral", "preventer"],
    &["vacuum-breaker", "air-gap", "integral", "preventer"],
    "What may keep water at a hose bibb or irrigation from flowing back.",
    "from memory of IRC P2902.4.3: ASSE 1011, 1019 and vacuum breakers",
);
/// Boilers.
const AT_BOILERS: Choices = Choices::new(
    "at_boilers",
    &["dual-check-with-vent", "reduced-pressure-zone"],
    &["dual-check-with-vent", "reduced-pressure-zone", "double-check"],
    "What may stand in the fill of a boiler.",
    "from memory of IRC P2902.5.1: ASSE 1012, with chemicals ASSE 1013",
);
/// Coils.
const TWO_WALLS: Flag = Flag::new(
    "two_walls_in_coils",
    true,
    "The coil of a tank heated by a boiler has two walls.",
    "from memory of IRC P2902.5.2: one wall where the fluid is essentially not toxic",
);

/// The rule.
pub const RULE: Rule = Rule {
    citations: &[remembered("IRC", "2021", "P2902"), remembered("IPC", "2021", "608")],
    parameters: &[&AT_HOSES, &AT_BOILERS, &TWO_WALLS],
    reads: &["/water", "/equipment"],
    ..Rule::new("water-supply/backflow", "What was used cannot flow back", check)
};

const WANTED: &str = "whether what was used can flow back";

fn check(inquiry: &Inquiry) -> Vec<Finding> {
    let mut findings: Vec<Finding> =
        need!(inquiry.project(), water.fixtures).every().iter().map(|fixture| hose(inquiry, fixture)).collect();
    for item in need!(inquiry.project(), equipment).every() {
        match item.kind {
            EquipmentKind::Boiler => findings.push(item.sheet(WANTED, |sheet| boiler(inquiry, &item, sheet))),
            EquipmentKind::IndirectWaterHeater => findings.push(item.sheet(WANTED, |sheet| coil(inquiry, &item, sheet))),
            _ => {}
        }
    }
    let sources = need!(inquiry.project(), water.sources).every();
    let several = sources.len() > 1;
    findings.extend(sources.iter().map(|source| apart(source, several)));
    findings
}

fn hose(inquiry: &Inquiry, fixture: &Place<Fixture>) -> Finding {
    if !matches!(fixture.kind, FixtureKind::HoseBibb | FixtureKind::Irrigation) {
        return fixture.not_applicable(text!("its spout ends above its rim")).done();
    }
    fixture.sheet(WANTED, |sheet| {
        let device = need!(fixture, backflow)?;
        let holds = inquiry.value(&AT_HOSES).contains(&device.word());
        if !sheet.test("device", text!("{}", *device), "IRC P2902.4.3, from memory", holds) {
            sheet.fault(text!("a hose hung in a tub could be sucked back: {} is no protection here", *device));
            if let Some(&word) = inquiry.value(&AT_HOSES).first() {
                sheet.cure_at(text!("fit a {}", word.replace('-', " ")), &[(device.pointer().to_owned(), json!(word))]);
            }
        }
        Ok(text!("{} keeps it from flowing back", *device))
    })
}

fn boiler(inquiry: &Inquiry, item: &Place<Equipment>, sheet: &mut Sheet) -> Lookup<Text> {
    let valves = need!(inquiry.project(), water.valves)?;
    let serves = |valve: &Place<WaterValve>| {
        use WaterValveKind as Kind;
        let stops = matches!(
            valve.kind,
            Kind::Check
                | Kind::DualCheck
                | Kind::DualCheckWithVent
                | Kind::DoubleCheck
                | Kind::ReducedPressureZone
                | Kind::VacuumBreaker
        );
        stops && valve.serves.as_ref().is_some_and(|serves| serves.contains(&item.id))
    };
    let allowed = inquiry.value(&AT_BOILERS);
    let mut all: Vec<_> = valves.items().filter(serves).collect();
    all.sort_by_key(|valve| !allowed.contains(&valve.kind.word()));
    let Some(valve) = all.first() else {
        sheet.fault(text!("nothing keeps the boiler's water from the drinking water"));
        sheet.cure(text!(
            "fit a dual check with a vent, ASSE 1012, in its fill; with chemicals a reduced pressure zone, ASSE 1013"
        ));
        return Ok(Text::default());
    };
    if !sheet.test("device", text!("{}", valve.label()), "IRC P2902.5.1, from memory", allowed.contains(&valve.kind.word())) {
        sheet.fault(text!("{} is not enough between a boiler and drinking water", valve.label()));
        if let Some(&word) = allowed.first() {
            let kind = (format!("{}/kind", valve.pointer()), json!(word));
            sheet.cure_at(text!("fit a {} listed for boilers", word.replace('-', " ")), &[kind]);
        }
        return Ok(Text::default());
    }
    if matches!(valve.kind, WaterValveKind::DualCheckWithVent | WaterValveKind::ReducedPressureZone) {
        sheet.want(need!(valve, relief_drain));
    }
    if let Some(reach) = sheet.want(need!(valve, accessible))
        && !*reach
    {
        sheet.fault(text!("{} cannot be reached", valve.label()));
    }
    Ok(text!("{} parts it from the drinking water", valve.label()))
}

fn coil(inquiry: &Inquiry, item: &Place<Equipment>, sheet: &mut Sheet) -> Lookup<Text> {
    let walls = need!(item, water_heating.double_wall)?;
    if inquiry.value(&TWO_WALLS)
        && !sheet.test("coil", text!("two walls between heating water and tap water"), "IRC P2902.5.2, from memory", *walls)
    {
        sheet.fault(text!("one wall alone parts heating water from tap water"));
        sheet.cure(text!("a coil with two walls, or a fluid that is essentially not toxic where the authority accepts it"));
    }
    Ok(text!("heating water is kept from tap water"))
}

fn apart(source: &Place<WaterSource>, several: bool) -> Finding {
    if !several {
        return source.not_applicable(text!("the only source")).done();
    }
    source.sheet(WANTED, |sheet| {
        let apart = need!(source, cross_connection_protected)?;
        if !sheet.test("kept apart", text!("a valve keeps it from every other source"), "IRC P2902.1, from memory", *apart) {
            sheet.fault(text!("nothing keeps it from the other source"));
            sheet.cure(text!("part the pipes, or fit an air gap between them"));
        }
        Ok(text!("kept apart from every other source"))
    })
}
