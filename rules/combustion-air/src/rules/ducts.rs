//! A combustion-air duct must reach its source whole: of the right material, open at its end, and for one opening only.
//!
//! A duct that serves both openings short-circuits them; a screen in an attic clogs unseen; a duct that slopes down toward its
//! source drains condensed moisture out of sight and lets warm air escape; a damper will be shut.
//!
//! **How it is measured.** By what the project says of each duct for air to burn: what it serves, its material, where and how
//! it ends, slope, dampers, height of an exterior intake above grade, and whether it shares a chimney.
//!
//! **How it is fixed.** Separate ducts, an unscreened end in the attic, a rise toward the source, no damper, galvanized steel.

use redtag_handbook::combustion_air::sources;
use redtag_rule::prelude::*;
use uom::si::f64::Length;

/// Height of an exterior intake.
const INTAKE_HEIGHT: Quantity<dimensions::Length> = Quantity::new(
    "intake_above_grade",
    "12 in",
    "Least height of the lowest side of an exterior intake above the adjoining grade.",
    "from memory of IFGC 304.11",
);
/// Least dimension.
const LEAST_DIMENSION: Quantity<dimensions::Length> =
    Quantity::new("duct_least_dimension", "3 in", "Least dimension of a rectangular duct.", "from memory of IFGC 304.11");
/// Whether stud and joist bays may be used.
const CAVITIES: Choice = Choice::new(
    "building_cavities",
    "one-fireblock",
    &["prohibited", "one-fireblock", "allowed"],
    "Whether unobstructed stud and joist bays may be combustion-air ducts in a dwelling: with at most one fireblock removed, always, or never.",
    "from memory of IFGC 304.11 exception",
);

/// Height of an attic end.
const END_ABOVE: Quantity<dimensions::Length> = Quantity::new(
    "attic_end_above_insulation",
    "0 in",
    "Least height of a duct's end in an attic above joists and insulation; 0 for none.",
    "no figure in the model code; a city's mechanical code: 6 in",
);

/// The rule.
pub const RULE: Rule = Rule {
    citations: &[remembered("IRC", "2021", "G2407.11"), remembered("IFGC", "2021", "304.11")],
    parameters: &[&INTAKE_HEIGHT, &LEAST_DIMENSION, &CAVITIES, &END_ABOVE],
    reads: &["/ducts", "/spaces", "/openings", "/vents"],
    ..Rule::new("combustion-air/ducts", "Combustion-air ducts", check)
};

fn check(inquiry: &Inquiry) -> Vec<Finding> {
    let ducts = need!(inquiry.project(), ducts).every();
    let openings = need!(inquiry.project(), openings).every();
    let serves = |duct: &Place<Duct>| {
        let behind = |opening: &&Place<Opening>| opening.duct.as_deref() == Some(duct.get().id.as_str());
        openings.iter().filter(behind).any(|opening| opening.purpose == Some(OpeningPurpose::CombustionAir))
    };
    let for_air = ducts.iter().filter(|duct| duct.kind == DuctKind::CombustionAir || serves(duct));
    ask_each(for_air, "whether the duct is right", |duct| judge(inquiry, duct))
}

/// One requirement: what is wrong when it is not met, how it is met; or what is missing.
type Demand = Lookup<Option<(Text, Text)>>;

fn judge(inquiry: &Inquiry, duct: &Place<Duct>) -> Lookup<FindingBuilder> {
    let demands: Vec<Demand> = vec![
        own_use(duct),
        serves(duct),
        material(inquiry, duct),
        flag(duct, "end_unobstructed", duct.end_unobstructed, true, "its end is obstructed", "clear the end of the duct"),
        flag(
            duct,
            "single_enclosure",
            duct.single_enclosure,
            true,
            "it opens into more than one enclosure",
            "open it into one enclosure only",
        ),
        screen(inquiry, duct),
        slope(duct),
        above_insulation(inquiry, duct),
        chimney(inquiry, duct),
        dampers(duct),
        intake(inquiry, duct),
        narrow(inquiry, duct),
    ];
    let faults: Vec<(Text, Text)> = demands.iter().filter_map(|demand| demand.clone().ok().flatten()).collect();
    if faults.is_empty() {
        demands.together()?;
        return Ok(duct.complies(text!("serves one opening, is open to its source and of the right material")));
    }
    let words: Vec<Text> = faults.iter().map(|(fault, _)| fault.clone()).collect();
    let builder = duct.correction(Text::list(&words));
    let source = sources::DUCTS.text();
    Ok(faults.into_iter().fold(builder, |builder, (fault, cure)| builder.test("duct", fault, source, false).remedy(cure)))
}

fn flag(duct: &Place<Duct>, field: &str, fact: Option<bool>, wanted: bool, fault: &str, cure: &str) -> Demand {
    match fact {
        Some(fact) if fact == wanted => Ok(None),
        Some(_) => Ok(Some((text!("{}", fault), text!("{}", cure)))),
        None => Err(duct.missing(&format!("/{field}"))),
    }
}

fn own_use(duct: &Place<Duct>) -> Demand {
    let fault = text!("it is a {} duct and not one for air to burn", duct.kind.word().replace('-', " "));
    let own = matches!(duct.kind, DuctKind::CombustionAir | DuctKind::OutdoorAir);
    Ok((!own).then(|| (fault, text!("run a duct of its own to outdoors for the opening"))))
}

fn serves(duct: &Place<Duct>) -> Demand {
    let cure = text!("run a duct of its own to each opening, apart all the way to the source");
    match need!(duct, serves)?.get() {
        ServedLevel::Both => Ok(Some((text!("it serves both the upper and the lower opening"), cure))),
        ServedLevel::Single => Ok(None),
        _ => flag(
            duct,
            "separate_to_source",
            duct.separate_to_source,
            true,
            "it joins the duct of the other opening before the source",
            "keep the two ducts apart all the way to the source",
        ),
    }
}

fn material(inquiry: &Inquiry, duct: &Place<Duct>) -> Demand {
    let cure = text!("use galvanized steel or a duct as strong and as resistant to corrosion");
    match need!(duct, material)?.get() {
        DuctMaterial::GalvanizedSteel | DuctMaterial::StainlessSteel => Ok(None),
        DuctMaterial::BuildingCavity => match inquiry.value(&CAVITIES) {
            "allowed" => Ok(None),
            "prohibited" => Ok(Some((text!("stud and joist bays may not be combustion-air ducts here"), cure))),
            _ => {
                let removed = need!(duct, fireblocks_removed)?;
                let fault = text!("{} fireblocks were removed for it, one is the most", *removed.get());
                Ok((*removed > 1).then_some((fault, cure)))
            }
        },
        other => match duct.approval.as_ref().and_then(|approval| approval.accepted) {
            Some(true) => need!(duct, approval.document).map(|_| None),
            _ => Ok(Some((text!("it is {}, not steel, and no approval says that it is as good", *other), cure))),
        },
    }
}

fn ends_in(inquiry: &Inquiry, duct: &Place<Duct>) -> Lookup<BeyondKind> {
    let end = need!(duct, terminates)?;
    let space = need!(end, space).and_then(|id| inquiry.space(&id)).ok().map(|space| space.kind);
    Ok(match space {
        Some(SpaceKind::Attic) => BeyondKind::Attic,
        Some(SpaceKind::CrawlSpace) => BeyondKind::CrawlSpace,
        _ => end.kind,
    })
}

fn screen(inquiry: &Inquiry, duct: &Place<Duct>) -> Demand {
    if ends_in(inquiry, duct)? != BeyondKind::Attic {
        return Ok(None);
    }
    flag(duct, "screened", duct.screened, false, "its end in the attic is screened", "take the screen off its end in the attic")
}

fn above_insulation(inquiry: &Inquiry, duct: &Place<Duct>) -> Demand {
    let least = inquiry.value(&END_ABOVE);
    if least.value <= 0.0 || ends_in(inquiry, duct)? != BeyondKind::Attic {
        return Ok(None);
    }
    let height: Length = need!(duct, end_above_insulation)?.quantity();
    let fault = text!("its end is {} above joists and insulation, {} is the least", in_unit(height, "in"), in_unit(least, "in"));
    Ok((!at_least(height, least))
        .then(|| (fault, text!("raise its end to {} above joists and insulation", in_unit(least, "in")))))
}

fn slope(duct: &Place<Duct>) -> Demand {
    let level = need!(duct, orientation)?;
    if *level != Orientation::Horizontal || !matches!(duct.serves, Some(ServedLevel::Upper | ServedLevel::Single)) {
        return Ok(None);
    }
    flag(
        duct,
        "slopes_toward_source",
        duct.slopes_toward_source,
        false,
        "it slopes down toward its source",
        "run it level or rising toward its source",
    )
}

fn chimney(inquiry: &Inquiry, duct: &Place<Duct>) -> Demand {
    use VentKind as K;
    let fault = "it uses the space around a liner or vent in a chimney";
    match duct.in_chimney_space {
        Some(true) => Ok(Some((text!("{}", fault), text!("run a duct of its own")))),
        Some(false) => Ok(None),
        None => {
            // A house that lists its vents and no chimney among them has none.
            let is_chimney =
                |vent: Place<Vent>| matches!(vent.kind, K::MasonryChimney | K::FactoryBuiltChimney | K::LinedChimney);
            let chimney = need!(inquiry.project(), vents).map_or(true, |vents| vents.items().any(is_chimney));
            if chimney { Err(duct.missing("/in_chimney_space")) } else { Ok(None) }
        }
    }
}

fn dampers(duct: &Place<Duct>) -> Demand {
    let dampers = need!(duct, dampers)?;
    let shut = dampers.iter().any(|damper| matches!(damper, DamperKind::Manual | DamperKind::Volume | DamperKind::Backdraft));
    if !shut && dampers.contains(&DamperKind::Unrecognised) {
        return Err(Unresolved::at(dampers.pointer()));
    }
    Ok(shut.then(|| (text!("it has a damper that can shut it"), text!("take the damper out"))))
}

fn intake(inquiry: &Inquiry, duct: &Place<Duct>) -> Demand {
    if ends_in(inquiry, duct)? != BeyondKind::Outdoors {
        return Ok(None);
    }
    let height: Length = need!(duct, intake_above_grade)?.quantity();
    let least = inquiry.value(&INTAKE_HEIGHT);
    let fault = text!("its intake is {} above grade, {} is the least", in_unit(height, "in"), in_unit(least, "in"));
    Ok((!at_least(height, least)).then(|| (fault, text!("raise the intake to {} above grade", in_unit(least, "in")))))
}

fn narrow(inquiry: &Inquiry, duct: &Place<Duct>) -> Demand {
    let least = inquiry.value(&LEAST_DIMENSION);
    let size = match (&duct.width, &duct.height, &duct.diameter) {
        (Some(width), Some(height), _) => {
            let (width, height) = (width.quantity(), height.quantity());
            if width < height { width } else { height }
        }
        (_, _, Some(diameter)) => diameter.quantity(),
        // The area alone is enough for a duct whose sides are not said to be narrow.
        _ if duct.area.is_some() => return Ok(None),
        _ => {
            return Err(Unresolved::because(
                format!("{}/width", duct.pointer()),
                "the width and height of the duct, or its diameter",
            ));
        }
    };
    let fault = text!("it is {} at its narrowest, {} is the least", in_unit(size, "in"), in_unit(least, "in"));
    Ok((!at_least(size, least)).then(|| (fault, text!("widen the duct to {} at least", in_unit(least, "in")))))
}
