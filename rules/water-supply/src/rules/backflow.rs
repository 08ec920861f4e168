//! What has been used must not be able to flow back into what is drunk.
//!
//! When the main breaks, a hose in a bucket of weed killer or a boiler full of inhibitor drains into the kitchen tap. Each such
//! connection has its own device.
//!
//! **How it is measured.** Hose bibbs: the vacuum breaker or preventer, which a valve in the list must be. Irrigation: a vacuum breaker
//! or a reduced pressure zone; checks alone do not do. A boiler's fill: a dual check with a vent
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
    "What may keep water at a hose bibb from flowing back.",
    "from memory of IRC P2902.4.3: ASSE 1011, 1019 and vacuum breakers",
);
/// Preventers at hoses.
const HOSE_VALVES: Choices = Choices::new(
    "preventers_at_hoses",
    &["vacuum-breaker", "dual-check-with-vent", "reduced-pressure-zone"],
    &["vacuum-breaker", "dual-check-with-vent", "reduced-pressure-zone", "double-check", "dual-check"],
    "What a preventer in the supply of a hose bibb may be.",
    "from memory of IRC P2902.4.3",
);
/// Irrigation.
const IRRIGATION: Choices = Choices::new(
    "at_irrigation",
    &["vacuum-breaker", "reduced-pressure-zone"],
    &["vacuum-breaker", "reduced-pressure-zone", "double-check"],
    "What may keep water of irrigation from flowing back.",
    "from memory of IRC P2902.5.3: atmospheric, pressure or spill-resistant vacuum breakers, reduced pressure zones",
);
/// Boilers.
const AT_BOILERS: Choices = Choices::new(
    "at_boilers",
    &["dual-check-with-vent", "reduced-pressure-zone"],
    &["dual-check-with-vent", "reduced-pressure-zone", "double-check"],
    "What may stand in the fill of a boiler.",
    "from memory of IRC P2902.5.1: ASSE 1012, with chemicals ASSE 1013",
);
/// Boilers with chemicals.
const WITH_CHEMICALS: Choices = Choices::new(
    "at_boilers_with_additives",
    &["reduced-pressure-zone"],
    &["reduced-pressure-zone", "dual-check-with-vent", "double-check"],
    "What may stand in the fill of a boiler whose water has additives.",
    "from memory of IRC P2902.5.1: ASSE 1013",
);
/// Coils.
const TWO_WALLS: Flag = Flag::new(
    "two_walls_in_coils",
    true,
    "The coil of a tank heated by a boiler has two walls, unless what flows in it is essentially not toxic.",
    "from memory of IRC P2902.5.2: one wall where the fluid is essentially not toxic",
);

/// The rule.
pub const RULE: Rule = Rule {
    citations: &[remembered("IRC", "2021", "P2902"), cited("IRC", "2018", "P2902.3.3"), remembered("IPC", "2021", "608")],
    parameters: &[&AT_HOSES, &HOSE_VALVES, &IRRIGATION, &AT_BOILERS, &WITH_CHEMICALS, &TWO_WALLS],
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
    if fixture.kind == FixtureKind::Irrigation {
        return fixture.sheet(WANTED, |sheet| irrigation(inquiry, fixture, sheet));
    }
    fixture.sheet(WANTED, |sheet| {
        let device = need!(fixture, backflow)?;
        if *device == BackflowProtection::Preventer && inquiry.value(&AT_HOSES).contains(&device.word()) {
            return preventer(inquiry, fixture, &inquiry.value(&HOSE_VALVES), ("IRC P2902.4.3, from memory", sheet));
        }
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

fn irrigation(inquiry: &Inquiry, fixture: &Place<Fixture>, sheet: &mut Sheet) -> Lookup<Text> {
    let source = "IRC P2902.5.3, from memory";
    let device = need!(fixture, backflow)?;
    match *device {
        BackflowProtection::Preventer => preventer(inquiry, fixture, &inquiry.value(&IRRIGATION), (source, sheet)),
        BackflowProtection::VacuumBreaker => Ok(text!("a vacuum breaker keeps it from flowing back")),
        BackflowProtection::AirGap => Ok(text!("an air gap keeps it from flowing back")),
        _ => {
            sheet.test("device", text!("{}", *device), source, false);
            sheet.fault(text!("what lies on the lawn could be sucked back: {} is no protection of irrigation", *device));
            sheet.cure_at(text!("fit a vacuum breaker"), &[(device.pointer().to_owned(), json!("vacuum-breaker"))]);
            Ok(Text::default())
        }
    }
}

/// The preventer that serves an outlet, which must be one of those allowed.
fn preventer(inquiry: &Inquiry, fixture: &Place<Fixture>, allowed: &[&str], (source, sheet): (&str, &mut Sheet)) -> Lookup<Text> {
    let valves = need!(inquiry.project(), water.valves)?;
    let on_its_pipe = |valve: &Place<WaterValve>| valve.pipe.is_some() && valve.pipe == fixture.cold_pipe;
    let own: Vec<_> = valves
        .items()
        .filter(|valve| prevents(valve.kind))
        .filter(|valve| valve.serves.as_ref().map_or_else(|| on_its_pipe(valve), |serves| serves.contains(&fixture.id)))
        .collect();
    let Some(best) = own.iter().find(|valve| allowed.contains(&valve.kind.word())).or(own.first()) else {
        let what = format!("the preventer that serves {}: a valve whose `serves` names it", fixture.label());
        return Err(Unresolved::because("/water/valves", what));
    };
    sheet.related(best.pointer());
    let holds = allowed.contains(&best.kind.word());
    if !sheet.test("device", text!("{}", best.label()), source, holds) {
        sheet.fault(text!("{} is not enough against flow back from {}", best.label(), fixture.label()));
        sheet.cure(text!("fit a vacuum breaker or a reduced pressure zone"));
    }
    Ok(text!("{} keeps it from flowing back", best.label()))
}

/// Whether a valve keeps water from flowing back, well or badly.
fn prevents(kind: WaterValveKind) -> bool {
    use WaterValveKind as Kind;
    matches!(
        kind,
        Kind::Check
            | Kind::DualCheck
            | Kind::DualCheckWithVent
            | Kind::DoubleCheck
            | Kind::ReducedPressureZone
            | Kind::VacuumBreaker
    )
}

fn boiler(inquiry: &Inquiry, item: &Place<Equipment>, sheet: &mut Sheet) -> Lookup<Text> {
    let valves = need!(inquiry.project(), water.valves)?;
    let serves =
        |valve: &Place<WaterValve>| prevents(valve.kind) && valve.serves.as_ref().is_some_and(|serves| serves.contains(&item.id));
    if need!(item, boiler.filled_from_drinking_water).is_ok_and(|filled| !*filled) {
        return Ok(text!("no pipe joins it to drinking water"));
    }
    let (plain, treated) = (inquiry.value(&AT_BOILERS), inquiry.value(&WITH_CHEMICALS));
    // Where what does with additives stands there already, nobody asks for them.
    let enough = valves.items().filter(serves).any(|valve| treated.contains(&valve.kind.word()));
    let additives = if enough { Some(true) } else { sheet.want(need!(item, boiler.additives)).map(|additives| *additives) };
    let allowed = if additives == Some(true) { treated } else { plain };
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
    let asked = inquiry.value(&TWO_WALLS) && !*walls && toxic(inquiry, item)?;
    let words = if *walls { "two walls" } else { "one wall" };
    let words = text!("{} between heating water and tap water", words);
    if !sheet.test("coil", words, "IRC P2902.5.2, from memory", !asked) {
        sheet.fault(text!("one wall alone parts heating water from tap water"));
        sheet.cure(text!("a coil with two walls, or a fluid that is essentially not toxic where the authority accepts it"));
    }
    Ok(text!("heating water is kept from tap water"))
}

/// Whether what flows in a coil may be toxic: a boiler with additives counts as that, whatever is said of the coil, unless the fluid
/// is recognized as essentially nontoxic.
fn toxic(inquiry: &Inquiry, item: &Place<Equipment>) -> Lookup<bool> {
    let fluid = need!(item, water_heating.coil_fluid)?;
    match *fluid {
        CoilFluid::EssentiallyNontoxic => Ok(false),
        CoilFluid::DrinkingWater | CoilFluid::PlainWater => additives(inquiry, item),
        CoilFluid::Toxic | CoilFluid::Unrecognised => Ok(true),
    }
}

/// Whether the boiler that heats a tank has additives in its water. Where no boiler is named, one that has or may have any may be it.
fn additives(inquiry: &Inquiry, item: &Place<Equipment>) -> Lookup<bool> {
    let unnamed = match need!(item, water_heating.boiler) {
        Ok(id) => return need!(inquiry.equipment(&id)?, boiler.additives).map(|additives| *additives),
        Err(unresolved) => unresolved,
    };
    let plain = |one: &Equipment| one.boiler.as_ref().and_then(|system| system.additives) == Some(false);
    let every = need!(inquiry.project(), equipment).every();
    let mut boilers = every.iter().filter(|one| one.kind == EquipmentKind::Boiler);
    if boilers.all(|boiler| plain(boiler)) { Ok(false) } else { Err(unnamed) }
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
