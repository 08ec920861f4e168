//! A value of the project together with where it stands, and facts that may be missing.

use redtag_schema::contract::{Missing, Subject};
use std::ops::Deref;

/// A value and its JSON pointer. Behaves like the value.
#[derive(Debug)]
pub struct Place<'a, T: ?Sized> {
    value: &'a T,
    pointer: String,
}

impl<T: ?Sized> Clone for Place<'_, T> {
    fn clone(&self) -> Self {
        Self { value: self.value, pointer: self.pointer.clone() }
    }
}

impl<T: ?Sized> Deref for Place<'_, T> {
    type Target = T;
    fn deref(&self) -> &T {
        self.value
    }
}

impl<'a, T> Place<'a, T> {
    /// A value at a pointer.
    pub fn new(value: &'a T, pointer: impl Into<String>) -> Self {
        Self { value, pointer: pointer.into() }
    }

    /// The value, for as long as the project lives.
    pub fn get(&self) -> &'a T {
        self.value
    }

    /// Where it stands.
    pub fn pointer(&self) -> &str {
        &self.pointer
    }

    /// A value below this one; `step` is its pointer from here, such as `/plate/input`.
    pub fn below<U>(&self, step: &str, value: &'a U) -> Place<'a, U> {
        Place { value, pointer: format!("{}{step}", self.pointer) }
    }

    /// A finding that some fact below this place is missing.
    pub fn missing(&self, step: &str) -> Unresolved {
        Unresolved::at(format!("{}{step}", self.pointer))
    }
}

impl<'a, T> Place<'a, Vec<T>> {
    /// The elements with their places.
    pub fn items(&self) -> impl Iterator<Item = Place<'a, T>> + use<'a, T> {
        let pointer = self.pointer.clone();
        self.value.iter().enumerate().map(move |(index, value)| Place { value, pointer: format!("{pointer}/{index}") })
    }
}

impl<'a, T: Named> Place<'a, T> {
    /// This place as the subject of a finding.
    pub fn subject(&self) -> Subject {
        Subject { pointer: self.pointer.clone(), id: self.value.id().map(str::to_owned), label: self.value.label() }
    }
}

/// Something a finding can be about.
pub trait Named {
    /// Its id, where it has one.
    fn id(&self) -> Option<&str>;
    /// What to call it in a sentence: `water heater "wh-1"`.
    fn label(&self) -> String;
}

/// Facts a check needed and the project does not give.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Unresolved {
    /// The places to fill in.
    pub missing: Vec<Missing>,
}

impl Unresolved {
    /// One missing fact. The host says what is wanted there from the project's schema.
    pub fn at(pointer: impl Into<String>) -> Self {
        Self { missing: vec![Missing { pointer: pointer.into(), what: None, example: None }] }
    }

    /// One missing fact that the schema's words do not describe well enough.
    pub fn because(pointer: impl Into<String>, what: impl Into<String>) -> Self {
        Self { missing: vec![Missing { pointer: pointer.into(), what: Some(what.into()), example: None }] }
    }

    /// What was missing before, if anything was, and this.
    pub fn joined(before: Option<Self>, more: Self) -> Option<Self> {
        Some(match before {
            Some(before) => before.and(more),
            None => more,
        })
    }

    /// Both lists together, without repeats.
    #[must_use]
    pub fn and(mut self, other: Self) -> Self {
        for missing in other.missing {
            if !self.missing.contains(&missing) {
                self.missing.push(missing);
            }
        }
        self
    }
}

/// The result of looking up a fact.
pub type Lookup<T> = Result<T, Unresolved>;

/// A list of the project that may be missing.
pub trait Listed<'a, T> {
    /// What is in it. Where it is missing there is nothing to go through, and the rule's findings get the question whether
    /// there are any: a list that is missing does not say that there are none.
    fn every(self) -> Vec<Place<'a, T>>;
    /// What is in it, without that question. `why` says why the answer does not turn on what is not listed.
    fn listed_only(self, why: &'static str) -> Vec<Place<'a, T>>;
    /// The one that has this id.
    ///
    /// # Errors
    /// The list, where it is missing; the id's place, where the list does not hold it.
    fn named(self, id: &Place<'_, String>) -> Lookup<Place<'a, T>>
    where
        T: Named;
}

impl<'a, T> Listed<'a, T> for Lookup<Place<'a, Vec<T>>> {
    fn every(self) -> Vec<Place<'a, T>> {
        self.map_err(crate::unsaid::note).map(|list| list.items().collect()).unwrap_or_default()
    }

    fn listed_only(self, why: &'static str) -> Vec<Place<'a, T>> {
        debug_assert!(why.len() > 10, "a list that is not asked for wants a reason");
        self.map(|list| list.items().collect()).unwrap_or_default()
    }

    fn named(self, id: &Place<'_, String>) -> Lookup<Place<'a, T>>
    where
        T: Named,
    {
        let found = self?.items().find(|item| item.get().id() == Some(id.get().as_str()));
        found.ok_or_else(|| Unresolved::at(id.pointer()))
    }
}

/// Several lookups at once, so that everything missing is named and not only the first.
pub trait Together {
    /// The values, where all are there.
    type All;
    /// All values, or everything that is missing.
    ///
    /// # Errors
    /// Every missing fact of every lookup.
    fn together(self) -> Lookup<Self::All>;
}

macro_rules! together {
    ($($name:ident),+) => {
        impl<$($name),+> Together for ($(Lookup<$name>,)+) {
            type All = ($($name,)+);
            #[allow(non_snake_case)]
            fn together(self) -> Lookup<Self::All> {
                let ($($name,)+) = self;
                let mut missing: Option<Unresolved> = None;
                $(if let Err(unresolved) = &$name {
                    missing = Unresolved::joined(missing.take(), unresolved.clone());
                })+
                match missing {
                    Some(unresolved) => Err(unresolved),
                    None => Ok(($($name?,)+)),
                }
            }
        }
    };
}

together!(A, B);
together!(A, B, C);
together!(A, B, C, D);
together!(A, B, C, D, E);
together!(A, B, C, D, E, F);

impl<T> Together for Vec<Lookup<T>> {
    type All = Vec<T>;
    fn together(self) -> Lookup<Vec<T>> {
        let mut values = Vec::with_capacity(self.len());
        let mut missing: Option<Unresolved> = None;
        for lookup in self {
            match lookup {
                Ok(value) => values.push(value),
                Err(unresolved) => missing = Unresolved::joined(missing.take(), unresolved),
            }
        }
        missing.map_or(Ok(values), Err)
    }
}

/// Looks up a fact that may be missing: `need!(appliance, plate.input)?` is the value at `plate` then `input` with its
/// place, or says which pointer to fill in. Every step must be an `Option` field.
#[macro_export]
macro_rules! need {
    ($place:expr, $first:ident $(. $rest:ident)*) => {{
        let place = &$place;
        let step = concat!("/", stringify!($first) $(, "/", stringify!($rest))*);
        match place.get().$first.as_ref()$(.and_then(|value| value.$rest.as_ref()))* {
            Some(value) => Ok(place.below(step, value)),
            None => Err(place.missing(step)),
        }
    }};
}

#[cfg(test)]
mod tests {
    use super::*;

    struct Plate {
        input: Option<u32>,
    }
    struct Heater {
        plate: Option<Plate>,
    }

    #[test]
    fn a_missing_step_names_the_whole_pointer() {
        let without = Heater { plate: None };
        let place = Place::new(&without, "/equipment/3");
        assert_eq!(need!(place, plate.input).unwrap_err(), Unresolved::at("/equipment/3/plate/input"));
        let with = Heater { plate: Some(Plate { input: Some(7) }) };
        let place = Place::new(&with, "/equipment/3");
        let input = need!(place, plate.input).unwrap();
        assert_eq!((*input, input.pointer()), (7, "/equipment/3/plate/input"));
    }

    #[test]
    fn together_names_everything_missing_once() {
        let lost: Lookup<u32> = Err(Unresolved::at("/a"));
        let also: Lookup<u32> = Err(Unresolved::at("/b"));
        let all = (lost.clone(), Ok::<u32, Unresolved>(1), also, lost).together().unwrap_err();
        assert_eq!(all.missing.iter().map(|m| m.pointer.as_str()).collect::<Vec<_>>(), ["/a", "/b"]);
        assert_eq!((Ok(1), Ok::<_, Unresolved>(2)).together().unwrap(), (1, 2));
    }

    #[test]
    fn a_reference_to_nothing_is_missing_at_its_place() {
        let project: redtag_schema::project::Project =
            serde_json::from_value(serde_json::json!({"schema": 1, "spaces": [{"id": "hall", "kind": "corridor"}]})).unwrap();
        let place = Place::new(&project, "");
        let (known, unknown) = ("hall".to_owned(), "attic".to_owned());
        assert_eq!(need!(place, spaces).named(&Place::new(&known, "/x")).unwrap().pointer(), "/spaces/0");
        assert_eq!(need!(place, spaces).named(&Place::new(&unknown, "/x")).unwrap_err(), Unresolved::at("/x"));
        assert_eq!(need!(place, ducts).named(&Place::new(&known, "/x")).unwrap_err(), Unresolved::at("/ducts"));
        assert_eq!((need!(place, spaces).every().len(), need!(place, ducts).every().len()), (1, 0));
    }
}
