//! Which modules are asked, and asking them: several at once, in any order, each once for each project.

use super::Assignment;
use crate::modules::{Answered, Call, Library, Parts};
use rayon::iter::{IntoParallelRefIterator as _, ParallelIterator as _};
use redtag_schema::contract::Stage;
use redtag_schema::rulebook::{RuleEntry, Rulebook};

/// The modules with a rule in force at the stage, by their place in the rulebook. The others are not run.
pub fn concerned(rulebook: &Rulebook, stage: Stage) -> Vec<usize> {
    (0..rulebook.modules.len()).filter(|&module| asked_of(rulebook, module, stage).next().is_some()).collect()
}

/// The rules a module is asked about.
fn asked_of(rulebook: &Rulebook, module: usize, stage: Stage) -> impl Iterator<Item = &RuleEntry> {
    rulebook.rules_of(module).filter(move |rule| rule.in_force() && rule.description.stages.contains(&stage))
}

/// Asks the modules. The answers stand in the order of the list, however the work was shared out.
pub fn ask(library: &Library, assignment: &Assignment, modules: &[usize]) -> Vec<Answered> {
    let Assignment { document, rulebook, stage, .. } = *assignment;
    let _file = tracing::info_span!("review", file = document.source.name()).entered();
    let here = tracing::Span::current();
    let parts = Parts::new(&document.canonical);
    let one = |&module: &usize| {
        let rules = asked_of(rulebook, module, stage).map(|rule| (rule.description.id.clone(), rule.request())).collect();
        let call = Call { rulebook, module, parts: &parts, stage, date: &rulebook.date, rules };
        let findings = here.in_scope(|| call.make(library))?;
        match assignment.budget.excess(&findings, rulebook) {
            None => Ok(findings),
            Some(why) => Err(call.failed("too-much-said", &why)),
        }
    };
    modules.par_iter().map(one).collect()
}
