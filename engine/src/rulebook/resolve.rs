//! From layers to a rulebook.

use super::resolve_rule::{Remarks, resolve_rule};
use super::shipped::as_shipped;
use super::{Layers, amendment, check_amendments, figures};
use crate::diagnostic::{Code, Diagnostic, quoted};
use crate::modules::Descriptions;
use crate::pack::Pack;
use redtag_schema::pack::Change;
use redtag_schema::review::{Departure, DepartureKind, PackUsed};
use redtag_schema::rulebook::{AmendmentInALayer, Effect, RuleEntry, Rulebook, State};
use std::collections::{BTreeMap, BTreeSet};

/// The version of the rulebook document.
const SCHEMA: u32 = 1;

/// Resolves the rules of all layers. A module that cannot say what it holds is named in the rulebook; its rules are missing.
///
/// # Errors
/// Every complaint about the amendments: rules and parameters that are not there, values that do not fit, layers that fight,
/// one rule in two modules, replacements that lead nowhere.
pub fn resolve(layers: &Layers, descriptions: &Descriptions) -> Result<Rulebook, Vec<Diagnostic>> {
    let shipped = as_shipped(layers, descriptions);
    let all = amendment::all(layers);
    let amendments = amendment::by_rule(&all, &shipped);
    let mut errors = shipped.errors.clone();
    errors.extend(check_amendments::check(layers, &shipped, &all));
    let mut remarks = Remarks::default();
    let mut rules: Vec<RuleEntry> = Vec::new();
    for (id, rule) in &shipped.rules {
        let about = amendments.get(id.as_str()).map_or(&[][..], Vec::as_slice);
        rules.push(resolve_rule(layers, rule, about, &mut remarks));
    }
    errors.append(&mut remarks.errors);
    errors.extend(check_replacements(layers, &rules, &mut remarks.notes));
    if !errors.is_empty() {
        Diagnostic::sort(&mut errors);
        return Err(errors);
    }
    let mut notes = remarks.notes;
    notes.extend(figures::set_in_one_rule(layers, &amendments, &rules));
    let figures = figures::entries(layers, &shipped, &all, &rules);
    notes.extend(layers.packs().iter().flat_map(|pack| pack.notes()).cloned());
    Diagnostic::sort(&mut notes);
    Ok(Rulebook {
        schema: SCHEMA,
        date: layers.date().to_owned(),
        packs: layers.packs().iter().map(|pack| used(pack, &rules)).collect(),
        modules: shipped.modules,
        rules,
        figures,
        failures: shipped.failures,
        notes: notes.iter().map(Diagnostic::one_line).collect(),
    })
}

fn used(pack: &Pack, rules: &[RuleEntry]) -> PackUsed {
    let ours = |one: &&AmendmentInALayer| one.effect == Effect::InEffect && one.author.pack == pack.name();
    let history = || rules.iter().flat_map(move |rule| rule.history.iter().filter(ours).map(move |one| (rule, one)));
    let departure = |(rule, one): (&RuleEntry, &AmendmentInALayer)| {
        let kind = match one.change {
            Change::Withdraw { .. } => DepartureKind::Withdrawn,
            Change::Replace { .. } => DepartureKind::Replaced,
            Change::Relax { .. } => DepartureKind::Relaxed,
            _ => return None,
        };
        let ordinance = one.author.ordinance.as_ref().map(|law| law.document.clone()).unwrap_or_default();
        Some(Departure { rule: rule.description.id.clone(), kind, ordinance })
    };
    let sets = |one: &AmendmentInALayer| matches!(one.change, Change::Set { .. } | Change::SetFigure { .. });
    PackUsed {
        name: pack.name().to_owned(),
        version: pack.version().to_string(),
        title: pack.manifest().title.clone(),
        digest: pack.digest().to_owned(),
        built_in: pack.is_embedded(),
        signed_by: None,
        key: None,
        departures: history().filter_map(departure).collect(),
        sets: history().filter(|(_, one)| sets(one)).count(),
    }
}

/// A replaced rule must end at one that is asked, or at one that a pack took out of force on purpose.
fn check_replacements(layers: &Layers, rules: &[RuleEntry], notes: &mut Vec<Diagnostic>) -> Vec<Diagnostic> {
    let by_id: BTreeMap<&str, &RuleEntry> = rules.iter().map(|rule| (rule.description.id.as_str(), rule)).collect();
    let mut errors = Vec::new();
    for rule in rules {
        let id = rule.description.id.as_str();
        let mut seen = BTreeSet::from([id]);
        let mut at = rule;
        while let State::Replaced { with } = &at.state.value {
            if with == &at.description.id {
                // Told where the amendment was checked.
                break;
            }
            if !seen.insert(with) {
                let message = format!("rule {} is replaced in a circle that comes back to {}", quoted(id), quoted(with));
                errors.push(locate(layers, rule, Diagnostic::error(Code::ReplacedInACircle, message)));
                break;
            }
            let Some(next) = by_id.get(with.as_str()) else { break };
            at = next;
        }
        let State::Replaced { .. } = &rule.state.value else { continue };
        let last = &at.description.id;
        if at.state.value == State::Dormant {
            let message = format!("rule {} is replaced by {}, which is not in force", quoted(id), quoted(last));
            let complaint = Diagnostic::error(Code::ReplacedByDormant, message);
            errors.push(locate(layers, rule, complaint.help(format!("add an amendment that adopts `{last}`"))));
        } else if at.state.value == State::Withdrawn {
            let message =
                format!("rule {} is replaced by {}, which {} withdraws", quoted(id), quoted(last), at.state.author.pack);
            notes.push(locate(layers, rule, Diagnostic::note(Code::ReplacementWithdrawn, message)));
        }
    }
    errors
}

/// Puts a complaint at the amendment that replaces a rule.
fn locate(layers: &Layers, rule: &RuleEntry, complaint: Diagnostic) -> Diagnostic {
    let author = &rule.state.author;
    let pack = layers.packs().iter().find(|pack| pack.name() == author.pack);
    match (pack, &author.pointer) {
        (Some(pack), Some(pointer)) => pack.locate(complaint, &format!("{pointer}/with")),
        _ => complaint,
    }
}
