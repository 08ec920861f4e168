//! A finding worked out line by line, going on after the first fault and the first missing fact.

use crate::{Lookup, Named, Place, Unresolved, in_unit, text};
use redtag_schema::contract::{Bound, Finding, IntoPart, Mark, Missing, Point3, Remedy, Shape, Step, Text};
use redtag_schema::quantity::{Amount, Dimension, SiNumber, at_least, at_most};
use serde_json::{Value, json};
use uom::si;

/// What is known so far about one subject: arithmetic, faults, advice, missing facts, cures.
#[derive(Debug, Default)]
pub struct Sheet {
    steps: Vec<Step>,
    faults: Vec<Text>,
    advice: Vec<Text>,
    missing: Option<Unresolved>,
    cures: Vec<Remedy>,
    marks: Vec<Mark>,
    sections: Vec<String>,
    related: Vec<String>,
}

impl Sheet {
    /// Adds a line.
    pub fn line(&mut self, label: &str, text: Text, source: &str) {
        self.steps.push(step(label, text, source, None));
    }

    /// Adds a comparison, and answers it.
    pub fn test(&mut self, label: &str, text: Text, source: &str, holds: bool) -> bool {
        self.steps.push(step(label, text, source, Some(holds)));
        holds
    }

    /// Adds a comparison that must hold, and answers it; where it does not, its words are the fault.
    pub fn require(&mut self, label: &str, words: Text, source: &str, holds: bool) -> bool {
        if !holds {
            self.fault(words.clone());
        }
        self.test(label, words, source, holds)
    }

    /// Adds `actual` against the most it may be, and answers whether it holds. Both are said in `unit`, or in the usual one
    /// where that is empty.
    pub fn at_most<A: Measured, L: Measured<Quantity = A::Quantity>>(
        &mut self,
        label: &str,
        actual: &A,
        limit: &L,
        unit: &str,
        source: &str,
    ) -> bool {
        let words = text!("{}, {} is the most", said(actual, unit), said(limit, unit));
        self.bounded(label, words, source, at_most(actual.measured(), limit.measured()), Bound::Most)
    }

    /// Adds `actual` against the least it may be, and answers whether it holds.
    pub fn at_least<A: Measured, L: Measured<Quantity = A::Quantity>>(
        &mut self,
        label: &str,
        actual: &A,
        limit: &L,
        unit: &str,
        source: &str,
    ) -> bool {
        let words = text!("{}, {} is the least", said(actual, unit), said(limit, unit));
        self.bounded(label, words, source, at_least(actual.measured(), limit.measured()), Bound::Least)
    }

    /// A comparison whose text holds the amount and then its limit: a host can tell how far one is from the other.
    fn bounded(&mut self, label: &str, text: Text, source: &str, holds: bool, bound: Bound) -> bool {
        self.steps.push(Step { bound: Some(bound), ..step(label, text, source, Some(holds)) });
        holds
    }

    /// Takes over the lines of another sheet, and what else it holds.
    pub fn take(&mut self, other: Self) {
        self.steps.extend(other.steps);
        self.faults.extend(other.faults);
        self.advice.extend(other.advice);
        self.cures.extend(other.cures);
        self.marks.extend(other.marks);
        self.sections.extend(other.sections);
        self.related.extend(other.related);
        other.missing.into_iter().for_each(|unresolved| self.lack(unresolved));
    }

    /// Notes what breaks the requirement.
    pub fn fault(&mut self, text: Text) {
        self.faults.push(text);
    }

    /// Notes what is worth knowing.
    pub fn advise(&mut self, text: Text) {
        self.advice.push(text);
    }

    /// Notes a cure in words.
    pub fn cure(&mut self, words: Text) {
        self.cures.push(remedy(words));
    }

    /// Notes a cure that can be tried: values at pointers, as the author of the project would write them.
    pub fn cure_at(&mut self, words: Text, values: &[(String, Value)]) {
        self.cures.push(remedy_at(words, values));
    }

    /// Adds a shape on the plan. Marks are shown whatever the finding turns out to be: add those of a fault beside the fault.
    pub fn mark(&mut self, mark: Mark) {
        self.marks.push(mark);
    }

    /// Narrows the rule's citations to a section.
    pub fn section(&mut self, section: impl Into<String>) {
        self.sections.push(section.into());
    }

    /// Points at another place that has to do with it, such as the other of a pair.
    pub fn related(&mut self, pointer: impl Into<String>) {
        self.related.push(pointer.into());
    }

    /// Notes what is missing.
    pub fn lack(&mut self, unresolved: Unresolved) {
        self.missing = Unresolved::joined(self.missing.take(), unresolved);
    }

    /// The fact, or a note that it is missing.
    pub fn want<T>(&mut self, lookup: Lookup<T>) -> Option<T> {
        lookup.map_err(|unresolved| self.lack(unresolved)).ok()
    }

    /// Whether nothing is broken so far.
    pub fn sound(&self) -> bool {
        self.faults.is_empty()
    }

    /// Whether nothing is broken and nothing missing so far.
    pub fn settled(&self) -> bool {
        self.faults.is_empty() && self.missing.is_none()
    }

    /// The arithmetic alone.
    pub fn into_steps(self) -> Vec<Step> {
        self.steps
    }

    /// The finding: a fault outweighs a missing fact, a missing fact outweighs advice.
    pub fn finding<T: Named>(self, subject: &Place<T>, wanted: &str, complies: Text) -> Finding {
        let mut steps = self.steps;
        let mut finding = if !self.faults.is_empty() {
            steps.extend(self.advice.into_iter().map(|text| step("also", text, "", None)));
            steps.extend(self.missing.into_iter().flat_map(|unresolved| unresolved.missing).map(untold));
            subject.correction(Text::list(&self.faults)).done()
        } else if let Some(unresolved) = self.missing {
            subject.ask(wanted, || Err(unresolved))
        } else if !self.advice.is_empty() {
            subject.advice(Text::list(&self.advice)).done()
        } else {
            subject.complies(complies).done()
        };
        finding.worksheet.extend(steps);
        finding.remedies.extend(self.cures);
        finding.marks.extend(self.marks);
        finding.sections.extend(self.sections);
        finding.related.extend(self.related);
        finding
    }
}

impl<T: Named> Place<'_, T> {
    /// Works a sheet about this subject. `work` answers what to say where nothing is wrong; a fact it stops at is one more
    /// that is missing.
    pub fn sheet(&self, wanted: &str, work: impl FnOnce(&mut Sheet) -> Lookup<Text>) -> Finding {
        let mut sheet = Sheet::default();
        let complies = work(&mut sheet);
        let complies = sheet.want(complies).unwrap_or_default();
        sheet.finding(self, wanted, complies)
    }
}

/// Something with an amount that can meet a limit of the same quantity.
pub trait Measured: IntoPart {
    /// The quantity.
    type Quantity: SiNumber;
    /// The amount.
    fn measured(&self) -> Self::Quantity;
}

impl<D: Dimension> Measured for Amount<D>
where
    D::Quantity: SiNumber,
{
    type Quantity = D::Quantity;
    fn measured(&self) -> D::Quantity {
        self.quantity()
    }
}

impl<T: Measured> Measured for Place<'_, T> {
    type Quantity = T::Quantity;
    fn measured(&self) -> T::Quantity {
        self.get().measured()
    }
}

impl<D, U> Measured for si::Quantity<D, U, f64>
where
    D: si::Dimension + ?Sized,
    U: si::Units<f64> + ?Sized,
    Self: IntoPart + Copy,
{
    type Quantity = Self;
    fn measured(&self) -> Self {
        *self
    }
}

/// A box on the plan by its least and greatest corner, in metres in the building's own coordinates.
pub fn box_mark(space: Option<&str>, label: impl Into<String>, from: [f64; 3], to: [f64; 3]) -> Mark {
    drawn(space, label, Shape::Box { from: point(from), to: point(to) })
}

/// A run of straight pieces on the plan, in metres.
pub fn line_mark(space: Option<&str>, label: impl Into<String>, points: &[[f64; 3]]) -> Mark {
    drawn(space, label, Shape::Line { points: points.iter().copied().map(point).collect() })
}

/// A place on the plan, in metres.
pub fn point_mark(space: Option<&str>, label: impl Into<String>, at: [f64; 3]) -> Mark {
    drawn(space, label, Shape::Point { at: point(at) })
}

fn drawn(space: Option<&str>, label: impl Into<String>, shape: Shape) -> Mark {
    Mark { space: space.map(str::to_owned), label: label.into(), shape }
}

fn point([x, y, z]: [f64; 3]) -> Point3 {
    Point3 { x, y, z }
}

/// A cure in words.
pub fn remedy(words: Text) -> Remedy {
    Remedy { words, patch: Vec::new() }
}

/// A cure that can be tried: values at pointers, as the author of the project would write them.
pub fn remedy_at(words: Text, values: &[(String, Value)]) -> Remedy {
    let operation = |(pointer, value): &(String, Value)| json!({"op": "add", "path": pointer, "value": value});
    Remedy { words, patch: values.iter().map(operation).collect() }
}

pub(crate) fn step(label: impl Into<String>, text: Text, source: &str, holds: Option<bool>) -> Step {
    let source = (!source.is_empty()).then(|| source.to_owned());
    Step { label: label.into(), text, source, holds, bound: None }
}

fn said(amount: &impl IntoPart, unit: &str) -> redtag_schema::contract::Part {
    if unit.is_empty() { amount.part() } else { in_unit(amount, unit) }
}

fn untold(missing: Missing) -> Step {
    step("not said", Text::plain(missing.pointer), "", None)
}

#[cfg(test)]
mod tests {
    use super::*;
    use redtag_schema::contract::Outcome;
    use redtag_schema::project::Project;
    use redtag_schema::quantity::{Length, Position, System};
    use uom::si::f64 as q;

    fn outcome(fill: impl FnOnce(&mut Sheet) -> Lookup<Text>) -> (Outcome, usize) {
        let project = Project::default();
        let finding = Place::new(&project, "").sheet("whether it holds", fill);
        (finding.outcome, finding.missing.len())
    }

    #[test]
    fn a_fault_outweighs_a_missing_fact_and_that_outweighs_advice() {
        let fault = |sheet: &mut Sheet| sheet.fault(text!("broken"));
        let lack = || Err(Unresolved::at("/a"));
        assert_eq!(
            outcome(|sheet| {
                fault(sheet);
                sheet.advise(text!("so"));
                lack()
            }),
            (Outcome::Correction, 0)
        );
        assert_eq!(
            outcome(|sheet| {
                sheet.advise(text!("so"));
                sheet.lack(Unresolved::at("/b"));
                lack()
            }),
            (Outcome::Unresolved, 2)
        );
        assert_eq!(
            outcome(|sheet| {
                sheet.advise(text!("so"));
                Ok(text!("fine"))
            }),
            (Outcome::Advice, 0)
        );
        assert_eq!(outcome(|_| Ok(text!("fine"))), (Outcome::Complies, 0));
    }

    #[test]
    fn marks_and_pointers_reach_the_finding_through_another_sheet() {
        let project = Project::default();
        let finding = Place::new(&project, "").sheet("whether it holds", |sheet| {
            let mut other = Sheet::default();
            other.mark(box_mark(Some("room"), "where", [0.0; 3], [1.0, 2.0, 3.0]));
            other.mark(line_mark(None, "along", &[[0.0; 3], [1.0; 3]]));
            other.mark(point_mark(None, "at", [1.0; 3]));
            other.section("1.2");
            other.related("/equipment/1");
            sheet.take(other);
            Ok(text!("fine"))
        });
        assert_eq!((finding.marks.len(), finding.marks[0].space.as_deref()), (3, Some("room")));
        assert_eq!((finding.sections, finding.related), (vec!["1.2".to_owned()], vec!["/equipment/1".to_owned()]));
    }

    #[test]
    fn a_comparison_is_said_once_and_includes_its_limit() {
        let mut sheet = Sheet::default();
        let inch = |inches| q::Length::new::<si::length::inch>(inches);
        let stated = Length::parse("36 in").unwrap();
        assert!(sheet.at_most("width", &stated, &inch(36.0), "in", "a source"));
        assert!(!sheet.at_least("width", &Place::new(&stated, "/width"), &Position::parse("3.01 ft").unwrap(), "", ""));
        assert!(!sheet.require("seen", text!("nobody saw it"), "", false) && !sheet.sound());
        let steps = sheet.into_steps();
        assert_eq!(steps[0].text.print(System::UsCustomary), "36 in, 36 in is the most");
        assert_eq!((steps[0].holds, steps[0].source.as_deref(), steps[1].holds), (Some(true), Some("a source"), Some(false)));
    }
}
