//! Every space with burners that take room air must be supplied with enough of it.
//!
//! A burner that draws its air from the room starves where the room is too small or too tight: it burns dirty, makes carbon
//! monoxide, and its vent spills into the house. Direct-vent appliances bring their own air and are not counted.
//!
//! **How it is measured.** The inputs of all appliances that take air from the space are added up, sea-level nameplate
//! maximum. The space is the room with everything open to it without doors or joined to it by openings of the size the code
//! asks for. Then the accepted methods are tried in order: indoor volume (the standard method, or a known infiltration, which
//! alone is allowed in a tight house), two outdoor openings, one outdoor opening, indoor and outdoor air combined, a fan, an
//! engineer's design. The first that supplies the air is reported with its margin; when none does, the report says by how much
//! each falls short.
//!
//! **How it is fixed.** Larger or additional openings, ducts of the right area, a fan interlocked with the burners, joining
//! a neighbouring room, or an appliance that brings its own air. The appliance's instructions may ask for more than the code.
//! Burners and their venting are work for a licensed contractor; a carbon monoxide alarm is no substitute for air.

use crate::air_space::AirSpace;
use crate::parameters::{self, Limits};
use crate::trial::{Trial, Verdict};
use redtag_rule::prelude::*;

/// The rule.
pub const RULE: Rule = Rule {
    citations: &[
        cited("IRC", "2021", "G2407.5"),
        cited("IRC", "2021", "G2407.6"),
        cited("IRC", "2021", "G2407.7"),
        remembered("IRC", "2021", "G2407.8"),
        remembered("IRC", "2021", "G2407.9"),
        cited("IFGC", "2021", "304.5"),
        cited("IFGC", "2021", "304.6"),
        cited("IFGC", "2021", "304.7"),
        cited("IFGC", "2021", "304.8"),
        cited("IFGC", "2021", "304.9"),
        cited("IFGC", "2021", "304.10"),
    ],
    parameters: parameters::ALL,
    reads: &["/building", "/spaces", "/openings", "/ducts", "/equipment", "/exhausts"],
    ..Rule::new("combustion-air/supply", "Enough combustion air", check)
};

fn check(inquiry: &Inquiry) -> Vec<Finding> {
    let limits = Limits::of(inquiry);
    AirSpace::all(inquiry, &limits)
        .into_iter()
        .map(|found| match found {
            Ok(space) => judge(&space, &limits),
            Err(untold) => *untold,
        })
        .collect()
}

fn judge(space: &AirSpace, limits: &Limits) -> Finding {
    if let Some(unresolved) = space.own_figures.iter().map(|(_, unresolved)| unresolved.clone()).reduce(Unresolved::and) {
        let names: Vec<&str> = space.own_figures.iter().map(|(label, _)| label.as_str()).collect();
        let summary =
            text!("cannot tell whether the air suffices: the instructions of {} have figures of their own", names.join(", "));
        return with_appliances(space.subject().unresolved(summary, unresolved), space).done();
    }
    if space.counted.is_empty() {
        let summary = text!("no appliance here takes its air from the space");
        return with_appliances(space.subject().not_applicable(summary), space).done();
    }
    if let Ok(None) = space.not_outdoors {
        let summary = text!("{} is as good as outdoors for {}", space.subject().label(), space.input.total());
        return with_appliances(space.subject().complies(summary), space).section("304.6").done();
    }
    let trials = crate::methods::try_all(space, limits);
    if let Some((index, words)) = trials.iter().enumerate().find_map(|(index, trial)| passed(trial).map(|words| (index, words))) {
        return match &space.placeless {
            // What passes for the burners that are known may not for one more.
            Some(lost) => unresolved_finding(space, &trials, lost.clone()),
            None => complies(space, &trials, index, words),
        };
    }
    let open_to_outdoors = space.not_outdoors.as_ref().err();
    let unknown = open_to_outdoors.into_iter().chain(trials.iter().filter_map(missing));
    match unknown.cloned().reduce(Unresolved::and) {
        Some(unresolved) => unresolved_finding(space, &trials, unresolved),
        None => correction(space, &trials),
    }
}

fn passed(trial: &Trial) -> Option<&Text> {
    match &trial.verdict {
        Verdict::Passes(words) => Some(words),
        _ => None,
    }
}

fn missing(trial: &Trial) -> Option<&Unresolved> {
    match &trial.verdict {
        Verdict::Unknown(unresolved) => Some(unresolved),
        _ => None,
    }
}

fn complies(space: &AirSpace, trials: &[Trial], index: usize, words: &Text) -> Finding {
    let trial = &trials[index];
    let summary = text!("{} for {}: ", trial.method, space.input.total()).then(words);
    let builder = with_appliances(space.subject().complies(summary), space);
    // What the methods before it lacked stays on the sheet: the next change may make one of them matter.
    let builder = trials[..index].iter().fold(builder, with_verdict);
    builder.steps(trial.steps.clone()).section(trial.section).done()
}

fn correction(space: &AirSpace, trials: &[Trial]) -> Finding {
    let summary = text!("not enough combustion air for {}: {}", space.input.total(), nearest(space, trials));
    // The words of the code cover a range alone in its kitchen; no inspector is known who asks for it.
    let cooking = space.counted.iter().all(|appliance| appliance.place.kind == EquipmentKind::Range);
    let builder = match cooking {
        true => space.subject().advice(summary.then(&text!("; only cooking appliances burn here"))),
        false => space.subject().correction(summary),
    };
    let mut builder = with_trials(with_appliances(builder, space), trials);
    if let Ok(Some(why)) = &space.not_outdoors
        && crate::rooms::is_source(space.subject())
    {
        builder = builder.test("as good as outdoors", why.clone(), "IFGC 304.6", false);
        builder =
            builder.remedy(text!("vent {} to outdoors as the code asks of a source of combustion air", space.subject().label()));
    }
    for trial in trials {
        if let Verdict::Misses(_, cures) = &trial.verdict {
            for cure in cures {
                builder = builder.cure(cure.clone());
            }
        }
    }
    builder.done()
}

/// The method the project claims, else one with openings to show for it, else the first.
fn nearest(space: &AirSpace, trials: &[Trial]) -> Text {
    let words = |trial: &Trial| match &trial.verdict {
        Verdict::Misses(words, _) => Some(text!("{}: ", trial.method).then(words)),
        _ => None,
    };
    let claimed = trials.iter().filter(|trial| space.claimed() == Some(trial.section));
    let tried = trials.iter().filter(|trial| trial.method.contains("outdoor opening") && !trial.steps.is_empty());
    claimed.chain(tried).chain(trials).find_map(words).unwrap_or_default()
}

fn unresolved_finding(space: &AirSpace, trials: &[Trial], unresolved: Unresolved) -> Finding {
    let open: Vec<&str> = trials.iter().filter(|trial| missing(trial).is_some()).map(|trial| trial.method).collect();
    let lacking = if open.is_empty() { "the burners of the house".to_owned() } else { open.join(", ") };
    let summary =
        text!("cannot tell whether {} gets enough combustion air: facts are missing for {}", space.input.total(), lacking);
    with_trials(with_appliances(space.subject().unresolved(summary, unresolved), space), trials).done()
}

/// Every method with its arithmetic, and how it fared.
fn with_trials(builder: FindingBuilder, trials: &[Trial]) -> FindingBuilder {
    trials.iter().fold(builder, |builder, trial| with_verdict(builder.steps(trial.steps.clone()), trial))
}

fn with_verdict(builder: FindingBuilder, trial: &Trial) -> FindingBuilder {
    let source = format!("IFGC {}", trial.section);
    match &trial.verdict {
        Verdict::Misses(words, _) => builder.test(trial.method, words.clone(), &source, false),
        Verdict::Unknown(_) => builder.step(trial.method, text!("facts are missing"), &source),
        Verdict::Passes(_) => builder,
    }
}

fn with_appliances(mut builder: FindingBuilder, space: &AirSpace) -> FindingBuilder {
    for appliance in &space.counted {
        let label = appliance.place.label();
        builder = builder.step(label, text!("counted: {}, {}", appliance.input, appliance.why), appliance.source);
    }
    for (label, why) in &space.excluded {
        builder = builder.step(label.clone(), text!("not counted: {}", *why), "");
    }
    if space.counted.len() > 1 {
        builder = builder.step("total input", text!("{}", space.input.total()), "");
    }
    builder = builder.steps(space.joined.steps.clone());
    space.others().into_iter().fold(builder, |builder, pointer| builder.related(pointer))
}
