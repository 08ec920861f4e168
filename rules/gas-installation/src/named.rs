//! What findings call the parts of the gas piping.

use redtag_rule::prelude::*;
use redtag_rule::schema::contract::Remedy;

/// A part of the gas piping a finding can be about.
pub trait Part {
    /// Its id, where it has one.
    fn id(&self) -> Option<&str>;
    /// What it is, in the trade's words.
    fn what(&self) -> String;
}

macro_rules! parts {
    ($($of:ty: $what:expr;)+) => {$(impl Part for $of {
        fn id(&self) -> Option<&str> {
            Some(&self.id)
        }
        fn what(&self) -> String {
            let what: fn(&$of) -> String = $what;
            what(self)
        }
    })+};
}
parts! {
    GasSegment: |_| "gas pipe".to_owned();
    GasConnector: |_| "connector".to_owned();
    GasContainer: |container| format!("propane {}", container.kind.word());
    GasRegulator: |regulator| format!("{} regulator", regulator.kind.word().replace('-', " "));
}

macro_rules! nameless {
    ($($of:ty: $what:literal;)+) => {$(impl Part for $of {
        fn id(&self) -> Option<&str> {
            None
        }
        fn what(&self) -> String {
            $what.to_owned()
        }
    })+};
}
nameless! {
    Gas: "the gas piping";
    GasBonding: "the bond of the gas piping";
    PressureTest: "the gas pressure test";
}

/// The name of a part.
pub struct Called {
    id: Option<String>,
    label: String,
}

impl Named for Called {
    fn id(&self) -> Option<&str> {
        self.id.as_deref()
    }
    fn label(&self) -> String {
        self.label.clone()
    }
}

fn called<T: Part>(part: &Place<T>) -> Called {
    let id = part.get().id().map(str::to_owned);
    let label = match &id {
        Some(id) => format!("{} {id}", part.get().what()),
        None => part.get().what(),
    };
    Called { id, label }
}

/// Works a sheet about a part.
pub fn sheet<T: Part>(part: &Place<T>, wanted: &str, work: impl FnOnce(&mut Sheet) -> Lookup<Text>) -> Finding {
    one_cure(Place::new(&called(part), part.pointer()).sheet(wanted, work))
}

/// Joins the cures: in this family each belongs to a fault of its own, and all are needed. Remedies beside each other would
/// be read as alternatives. Where one of them is words alone, the whole cannot be tried.
pub fn one_cure(mut finding: Finding) -> Finding {
    let cures = std::mem::take(&mut finding.remedies);
    let whole = cures.iter().all(|cure| !cure.patch.is_empty());
    let mut joined: Option<(Vec<Text>, Remedy)> = None;
    for cure in cures {
        let (words, remedy) = joined.get_or_insert_with(|| (Vec::new(), redtag_rule::remedy(Text::default())));
        if !words.contains(&cure.words) {
            words.push(cure.words);
        }
        for change in cure.patch.into_iter().filter(|_| whole) {
            if !remedy.patch.contains(&change) {
                remedy.patch.push(change);
            }
        }
    }
    finding.remedies = joined.into_iter().map(|(words, remedy)| Remedy { words: Text::list(&words), ..remedy }).collect();
    finding
}

/// The rule does not concern the part.
pub fn not_concerned<T: Part>(part: &Place<T>, why: Text) -> Finding {
    Place::new(&called(part), part.pointer()).not_applicable(why).done()
}

#[cfg(test)]
mod tests {
    use super::*;
    use redtag_rule::schema::quantity::System;

    fn cured(cures: &[(&str, Option<&str>)]) -> Finding {
        let gas = Gas::default();
        sheet(&Place::new(&gas, "/gas"), "whether", |sheet| {
            sheet.fault(text!("broken"));
            for (words, pointer) in cures {
                match pointer {
                    Some(pointer) => sheet.cure_at(Text::plain(words), &[((*pointer).to_owned(), json!(true))]),
                    None => sheet.cure(Text::plain(words)),
                }
            }
            Ok(Text::default())
        })
    }

    #[test]
    fn the_cures_of_several_faults_are_one() {
        let found = cured(&[("do this", Some("/a")), ("do that", Some("/b")), ("do this", Some("/a"))]);
        assert_eq!(found.remedies.len(), 1);
        assert_eq!(found.remedies[0].words.print(System::UsCustomary), "do this; do that");
        assert_eq!(found.remedies[0].patch.len(), 2);
    }

    #[test]
    fn what_is_words_in_part_cannot_be_tried() {
        let found = cured(&[("do this", Some("/a")), ("ask", None)]);
        assert_eq!((found.remedies.len(), found.remedies[0].patch.len()), (1, 0));
        assert!(cured(&[]).remedies.is_empty());
    }
}
