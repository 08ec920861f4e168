//! Hot water pipes of 3/4 in and larger must be insulated, and smaller ones where heat is lost fastest.
//!
//! Every draw leaves a pipe full of hot water to cool; a bare pipe wastes it twice as fast. **Bare hot pipe in reach burns.**
//!
//! **How it is measured.** Nominal size and R-value of each hot pipe. One of any size is insulated outside the conditioned space,
//! between the heater and a manifold, under a slab, in the ground, where it serves more than one dwelling unit, and where hot water
//! circulates in it other than on demand.
//!
//! **How it is fixed.** Foam sleeves of R-3, half an inch of wall, taped at the joints, on the whole length.

use redtag_rule::prelude::*;

/// From which size on.
const FROM: Quantity<dimensions::Length> = Quantity::new(
    "from_size",
    "0.75 in",
    "Hot pipes of this nominal size and larger are insulated.",
    "from memory of IRC N1103.5.2 (IECC R403.5.2)",
)
.within("0.25 in", "4 in");
/// How well.
const INSULATION: Quantity<dimensions::ThermalResistance> =
    Quantity::new("insulation", "R-3", "The least insulation.", "from memory of IRC N1103.5.2 (IECC R403.5.2)")
        .within("R-0", "R-12");

/// The list.
const SMALL: Flag = Flag::new(
    "smaller_pipes_too",
    true,
    "Pipes of any size are insulated outside the conditioned space, to a manifold, under slabs, in the ground, for several units, in loops.",
    "from memory of IRC N1103.5.2 items 2 to 7 (IECC R403.5.2)",
);

/// The rule.
pub const RULE: Rule = Rule {
    citations: &[remembered("IRC", "2021", "N1103.5.2"), remembered("IECC", "2021", "R403.5.2")],
    parameters: &[&FROM, &INSULATION, &SMALL],
    reads: &["/water", "/spaces", "/building"],
    ..Rule::new("water-heating/hot-pipe-insulation", "Insulated hot pipes", check)
};

const SOURCE: &str = "IRC N1103.5.2, from memory";

fn check(inquiry: &Inquiry) -> Vec<Finding> {
    let judged = |pipe: Place<'_, WaterPipe>| {
        if !hot(&pipe) {
            return pipe.not_applicable(text!("not a hot pipe")).done();
        }
        pipe.sheet("whether the hot pipe is insulated", |sheet| judge(inquiry, &pipe, sheet))
    };
    need!(inquiry.project(), water.pipes).every().into_iter().map(judged).collect()
}

fn hot(pipe: &Place<WaterPipe>) -> bool {
    matches!(pipe.kind, WaterPipeKind::Hot | WaterPipeKind::Recirculation)
}

fn judge(inquiry: &Inquiry, pipe: &Place<WaterPipe>, sheet: &mut Sheet) -> Lookup<Text> {
    let from = inquiry.value(&FROM);
    let size = need!(pipe, size);
    let large = size.as_ref().is_ok_and(|size| at_least(size.quantity(), from));
    let reason = if large { Ok(Some("its size")) } else { small(inquiry, pipe) };
    let reason = match reason {
        Ok(None) => {
            let size = size?;
            return Ok(text!("{} is below the {} that want it, and nothing else asks for it", size, in_unit(from, "in")));
        }
        Ok(Some(reason)) => reason,
        Err(unresolved) => return Err(size.err().map_or(unresolved.clone(), |size| size.and(unresolved))),
    };
    let has = need!(pipe, insulation)?;
    let least = quantity::ThermalResistance::from_quantity(&inquiry.value(&INSULATION));
    sheet.line("asked for by", text!("{}", reason), SOURCE);
    if !sheet.at_least("insulation", &has, &least, "", SOURCE) {
        sheet.fault(text!("this hot pipe has {}, {} is the least: {}", has, least, reason));
        sheet.cure_at(text!("insulate it to {}", least), &[(has.pointer().to_owned(), json!(least.print_in("R")))]);
    }
    Ok(text!("insulated with {}", has))
}

/// Why a pipe of any size is insulated, if it is.
fn small(inquiry: &Inquiry, pipe: &Place<WaterPipe>) -> Lookup<Option<&'static str>> {
    if !inquiry.value(&SMALL) {
        return Ok(None);
    }
    let pipes = need!(inquiry.project(), water.pipes).every();
    let leads_through = |end: &Place<WaterPipe>| redtag_rule_water::chain(&pipes, &end.id).iter().any(|own| own.id == pipe.id);
    if pipes.iter().any(|end| end.kind == WaterPipeKind::Manifold && end.id != pipe.id && leads_through(end)) {
        return Ok(Some("it leads from the heater to a manifold"));
    }
    // A manifold or a loop of which nobody says what it branches from may lie behind this pipe.
    let leads = |end: &&Place<WaterPipe>| matches!(end.kind, WaterPipeKind::Manifold | WaterPipeKind::Recirculation);
    let unsaid = |end: &Place<WaterPipe>| {
        let chain = redtag_rule_water::chain(&pipes, &end.id);
        let first = chain.last().filter(|first| first.from.is_none() && first.heater.is_none() && first.id != pipe.id)?;
        leads(first).then(|| first.missing("/from"))
    };
    let loose = pipes.iter().filter(leads).filter_map(unsaid).fold(None, Unresolved::joined);
    let circulates = pipes.iter().any(|end| end.kind == WaterPipeKind::Recirculation && leads_through(end));
    if circulates && *need!(inquiry.project(), water.recirculation)? != RecirculationControl::OnDemand {
        return Ok(Some("hot water circulates in it"));
    }
    if pipe.under_slab == Some(true) || pipe.burial_depth.as_ref().is_some_and(|depth| depth.si() > 0.0) {
        return Ok(Some("it lies under a slab or in the ground"));
    }
    let (within, units) = (within(inquiry, pipe), units(inquiry, pipe, &pipes));
    if within == Ok(false) {
        return Ok(Some("it runs outside the conditioned space"));
    }
    if units == Ok(true) {
        return Ok(Some("it serves more than one dwelling unit"));
    }
    (within, units, need!(pipe, under_slab), loose.map_or(Ok(()), Err)).together().map(|_| None)
}

/// Whether all its spaces are conditioned.
fn within(inquiry: &Inquiry, pipe: &Place<WaterPipe>) -> Lookup<bool> {
    let spaces = need!(pipe, spaces)?;
    let conditioned = |id: Place<String>| inquiry.space(&id).and_then(|space| need!(space, conditioned).map(|is| *is));
    let all: Vec<Lookup<bool>> = spaces.items().map(conditioned).collect();
    if all.contains(&Ok(false)) {
        return Ok(false);
    }
    all.together().map(|_| true)
}

/// Whether taps of more than one dwelling unit hang on it.
fn units(inquiry: &Inquiry, pipe: &Place<WaterPipe>, pipes: &[Place<WaterPipe>]) -> Lookup<bool> {
    if need!(inquiry.project(), building.dwelling_units).every().len() < 2 {
        return Ok(false);
    }
    let on = |fixture: &Place<Fixture>| {
        let way = fixture.hot_pipe.as_ref().map(|end| redtag_rule_water::chain(pipes, end));
        way.is_some_and(|way| way.iter().any(|own| own.id == pipe.id))
    };
    let fixtures = need!(inquiry.project(), water.fixtures)?;
    let own: Vec<_> = fixtures.items().filter(on).map(|fixture| need!(fixture, dwelling_unit)).collect();
    let own = own.together()?;
    if own.windows(2).any(|pair| pair[0].get() != pair[1].get()) {
        return Ok(true);
    }
    // Taps that are not listed, or of which nobody says where they hang, may be another unit's.
    let whole = need!(inquiry.project(), water.fixtures_complete).and_then(|whole| {
        if *whole { Ok(()) } else { Err(Unresolved::because(whole.pointer(), "the fixtures that are not listed")) }
    });
    let loose = fixtures.items().filter(crate::outlets::takes_hot).map(|fixture| need!(fixture, hot_pipe).map(|_| ()));
    (whole, loose.collect::<Vec<_>>().together()).together().map(|_| false)
}
