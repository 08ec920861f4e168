//! Lists a rule went through and the project does not say.
//!
//! A list that is missing says neither none nor all. Going through it finds nothing, which must not pass for "there are none":
//! whoever goes through a missing list leaves a note here, and the rule's findings get a question for each note.

use crate::Unresolved;
use redtag_schema::contract::{Finding, Missing, Outcome, Subject, Text};
use redtag_schema::project::{Project, Space};
use std::cell::RefCell;
use std::collections::BTreeSet;

thread_local! {
    /// The lists the rule at work found missing. A rule runs on one thread from beginning to end.
    static UNSAID: RefCell<BTreeSet<String>> = const { RefCell::new(BTreeSet::new()) };
}

/// Notes that a list is missing.
pub(crate) fn note(unresolved: Unresolved) {
    UNSAID.with_borrow_mut(|lists| lists.extend(unresolved.missing.into_iter().map(|missing| missing.pointer)));
}

/// Runs a check and adds a question for each list it found missing and did not ask for itself.
pub(crate) fn asked(project: &Project, check: impl FnOnce() -> Vec<Finding>) -> Vec<Finding> {
    UNSAID.with_borrow_mut(BTreeSet::clear);
    let mut findings = check();
    for list in UNSAID.take() {
        let asks = |finding: &Finding| finding.missing.iter().any(|missing| missing.pointer == list);
        if under_review(project, &list) && !findings.iter().any(asks) {
            findings.push(question(&list));
        }
    }
    findings
}

/// Whether the builder owes an answer: of every list of the project and of every thing in it; of a space where equipment stands
/// in it. Nobody draws the walls of every bedroom of a house to have its mechanical room reviewed.
fn under_review(project: &Project, list: &str) -> bool {
    let Some((index, _)) = list.strip_prefix("/spaces/").and_then(|rest| rest.split_once('/')) else { return true };
    let space = index.parse().ok().and_then(|index: usize| project.spaces.as_ref()?.get(index));
    let holds = |space: &Space| project.equipment.iter().flatten().any(|one| one.space.as_ref() == Some(&space.id));
    space.is_none_or(holds)
}

fn question(list: &str) -> Finding {
    let name = list.rsplit('/').next().unwrap_or_default().replace('_', " ");
    let wanted = format!("whether there are any {name}; write [] if there are none");
    Finding {
        rule: String::new(),
        subject: Subject { pointer: around(list).to_owned(), id: None, label: format!("the list of {name}") },
        outcome: Outcome::Unresolved,
        summary: Text::plain(format!("not said {wanted}")),
        worksheet: Vec::new(),
        missing: vec![Missing { pointer: list.to_owned(), what: Some(wanted), example: None }],
        remedies: Vec::new(),
        marks: Vec::new(),
        sections: Vec::new(),
        related: Vec::new(),
    }
}

/// What a missing list would belong to: the thing that was gone through to get there, else the project as a whole. A finding is
/// about something that is there; a host does not believe a module that points elsewhere.
fn around(list: &str) -> &str {
    let mut place = list;
    while let Some((before, step)) = place.rsplit_once('/') {
        if step.parse::<usize>().is_ok() {
            return place;
        }
        place = before;
    }
    ""
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::{Listed, Place, need};
    use serde_json::json;

    fn questions(project: serde_json::Value, check: impl Fn(&Place<'_, Project>)) -> Vec<String> {
        let project: Project = serde_json::from_value(project).unwrap();
        let found = asked(&project, || {
            check(&Place::new(&project, ""));
            Vec::new()
        });
        found.into_iter().map(|finding| finding.missing[0].pointer.clone()).collect()
    }

    #[test]
    fn a_missing_list_is_asked_for_once_and_an_empty_one_is_not() {
        let twice = |project: &Place<'_, Project>| {
            assert!(need!(project, ducts).every().is_empty() && need!(project, ducts).every().is_empty());
        };
        assert_eq!(questions(json!({"schema": 1}), twice), ["/ducts"]);
        assert_eq!(questions(json!({"schema": 1, "ducts": []}), twice), Vec::<String>::new());
    }

    #[test]
    fn a_list_in_a_part_that_is_missing_is_asked_for_where_it_would_stand() {
        let gas = |project: &Place<'_, Project>| drop(need!(project, gas.segments).every());
        assert_eq!(questions(json!({"schema": 1}), gas), ["/gas/segments"]);
    }

    #[test]
    fn the_walls_of_a_room_are_asked_for_where_equipment_stands_in_it() {
        let walls = |project: &Place<'_, Project>| {
            need!(project, spaces).every().iter().for_each(|space| drop(need!(space, assemblies).every()));
        };
        let house = json!({"schema": 1, "equipment": [{"id": "boiler", "kind": "boiler", "space": "plant"}],
            "spaces": [{"id": "bed", "kind": "bedroom"}, {"id": "plant", "kind": "mechanical-room"}]});
        assert_eq!(questions(house, walls), ["/spaces/1/assemblies"]);
    }

    #[test]
    fn a_list_that_decides_nothing_is_not_asked_for() {
        let only = |project: &Place<'_, Project>| drop(need!(project, ducts).listed_only("another rule asks"));
        assert_eq!(questions(json!({"schema": 1}), only), Vec::<String>::new());
    }

    #[test]
    fn a_question_is_about_something_that_is_there() {
        for (list, thing) in [
            ("/ducts", ""),
            ("/gas/segments", ""),
            ("/spaces/1/assemblies", "/spaces/1"),
            ("/spaces/0/assemblies/12/penetrations", "/spaces/0/assemblies/12"),
            ("/equipment/3/fuel_burning/venting/terminals", "/equipment/3"),
        ] {
            assert_eq!(around(list), thing);
            assert_eq!(question(list).subject.pointer, thing);
            assert_eq!(question(list).missing[0].pointer, list, "the place to fill in");
            assert!(question(list).asks_for_list(), "a case need not expect it");
        }
    }
}
