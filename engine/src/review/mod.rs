//! A project held against a rulebook: which modules are asked, what they are asked, what their answers are worth.

mod baseline;
mod budget;
mod cautions;
mod followed;
mod granting;
mod schedule;
mod settle;
mod variances;
mod wanted;

pub use baseline::{Earlier, mark_known};
pub use budget::Budget;
pub use followed::Followed;
pub use granting::statement;
pub use variances::RULE as VARIANCE_RULE;
pub use wanted::{ProjectSchema, Wanted};

use crate::document::ProjectDocument;
use crate::modules::Library;
use crate::trust::TrustFile;
use redtag_schema::contract::Stage;
use redtag_schema::review::{Before, DateSource, Failure, NotLookedAt, Review, ReviewedFinding};
use redtag_schema::rulebook::Rulebook;
use std::sync::Arc;

/// What is to be reviewed, and against what.
#[derive(Debug, Clone, Copy)]
pub struct Assignment<'a> {
    /// The project.
    pub document: &'a ProjectDocument,
    /// The rules in force.
    pub rulebook: &'a Rulebook,
    /// What can be known at this moment.
    pub stage: Stage,
    /// Where the rulebook's date comes from.
    pub date_from: DateSource,
    /// Files of those who sign variances; where there are some, a variance needs a signature of a key in each.
    pub variance_signers: &'a [Arc<TrustFile>],
    /// How much each module may say.
    pub budget: Budget,
}

/// The modules that have something to say about an assignment, by their place in its rulebook.
pub fn modules_concerned(assignment: &Assignment) -> Vec<usize> {
    schedule::concerned(assignment.rulebook, assignment.stage)
}

/// Reviews a project. The modules of the rulebook are in the library since the rulebook was made.
pub fn review(library: &Library, schema: &ProjectSchema, assignment: &Assignment) -> Review {
    let modules = modules_concerned(assignment);
    review_in_order(library, schema, assignment, &modules)
}

/// The same with the modules asked in an order of the caller's, which makes no difference: a test holds us to it.
pub fn review_in_order(library: &Library, schema: &ProjectSchema, assignment: &Assignment, modules: &[usize]) -> Review {
    let Assignment { document, rulebook, stage, date_from, .. } = *assignment;
    let mut findings: Vec<ReviewedFinding> = Vec::new();
    let mut failures: Vec<Failure> = rulebook.failures.clone();
    for asked in schedule::ask(library, assignment, modules) {
        match asked {
            Ok(answered) => findings.extend(answered.into_iter().filter_map(|finding| {
                let rule = rulebook.rule(&finding.rule)?;
                Some(settle::settle(finding, rule, assignment, schema))
            })),
            Err(failure) => failures.push(failure),
        }
    }
    variances::apply(&mut findings, assignment, schema, &failures);
    settle::sort(&mut findings);
    failures.sort_by(|left, right| (&left.module, &left.pack).cmp(&(&right.module, &right.pack)));
    let notes = document.notes.iter().map(|note| note.one_line()).chain(rulebook.notes.iter().cloned()).collect();
    Review {
        file: document.source.name().to_owned(),
        project: document.project.name.clone(),
        stage,
        date: rulebook.date.clone(),
        date_from,
        packs: rulebook.packs.clone(),
        since: None,
        before: Before::default(),
        counts: settle::count(&findings),
        findings,
        failures,
        notes,
        cautions: cautions::for_project(&document.project),
        unsaid: Vec::new(),
        not_looked_at: NotLookedAt::default(),
        complaints: Vec::new(),
    }
}
