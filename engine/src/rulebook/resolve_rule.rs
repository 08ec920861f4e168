//! One rule under all its amendments: what holds on the day, who says so, and what became of every other amendment.

use super::Layers;
use super::amendment::{AmendmentInLayer, Timing, uppermost};
use super::author::{amending, shipping, with_source};
use super::shipped::RuleAsShipped;
use crate::diagnostic::{Code, Diagnostic};
use crate::modules::read_value;
use crate::pack::Aspect;
use redtag_schema::contract::{Citation, Level, ParameterDescription, value_words};
use redtag_schema::pack::Change;
use redtag_schema::rulebook::{AmendmentInALayer, Author, Effect, ParameterEntry, RuleEntry, Ruled, State};
use serde_json::Value;

/// What resolving remarks besides the rule itself.
#[derive(Debug, Default)]
pub(super) struct Remarks {
    /// Layers that fight over one thing.
    pub(super) errors: Vec<Diagnostic>,
    /// Amendments that change nothing.
    pub(super) notes: Vec<Diagnostic>,
}

/// Resolves a rule. The amendments have been checked; where two layers fight, the rule is resolved as if neither spoke.
pub(super) fn resolve_rule(
    layers: &Layers,
    shipped: &RuleAsShipped,
    amendments: &[AmendmentInLayer],
    remarks: &mut Remarks,
) -> RuleEntry {
    let rule = Resolving { layers, shipped, amendments, shipping: shipping(layers.pack(shipped.origin.first())) };
    let entry = RuleEntry {
        description: shipped.description.clone(),
        module: shipped.module,
        shipped_by: rule.shipping.clone(),
        state: rule.state(remarks),
        level: rule.level(remarks),
        parameters: shipped.description.parameters.iter().map(|one| rule.parameter(one, remarks)).collect(),
        citations: rule.citations(remarks),
        no_variance: rule.no_variance(),
        history: amendments.iter().map(|amendment| rule.entry(amendment)).collect(),
    };
    rule.idle(&entry, remarks);
    entry
}

struct Resolving<'a> {
    layers: &'a Layers,
    shipped: &'a RuleAsShipped,
    amendments: &'a [AmendmentInLayer<'a>],
    shipping: Author,
}

impl<'a> Resolving<'a> {
    /// The one amendment that holds for an aspect; a fight is a complaint.
    fn winner(&self, aspect: &Aspect, remarks: &mut Remarks) -> Option<AmendmentInLayer<'a>> {
        let uppermost = uppermost(self.layers, self.amendments.iter(), aspect);
        match uppermost.as_slice() {
            [] => None,
            [one] => Some(*one),
            several => {
                remarks.errors.push(self.conflict(aspect, several));
                None
            }
        }
    }

    fn conflict(&self, aspect: &Aspect, several: &[AmendmentInLayer]) -> Diagnostic {
        if several.iter().all(|one| one.pack == several[0].pack) {
            return self.said_twice(aspect, several);
        }
        let names: Vec<String> = several.iter().map(|one| self.layers.pack(one.pack).label()).collect();
        let message = format!("{} fight over {aspect} of rule `{}`", names.join(" and "), self.shipped.description.id);
        let mut complaint = Diagnostic::error(Code::Conflict, message)
            .expected("one layer that decides, or layers of which one stands on the other")
            .help("leave out one of the packs, or let one stand on the other: the upper one then decides");
        if let Some((first, rest)) = several.split_first() {
            complaint = first.locate(self.layers, complaint, "");
            let related = |one: &AmendmentInLayer| self.layers.pack(one.pack).related(&one.pointer(""), "and this one");
            complaint.secondary.extend(rest.iter().filter_map(related));
        }
        complaint
    }

    /// One pack that sets a figure and, for the same days, one of the parameters that read it.
    fn said_twice(&self, aspect: &Aspect, several: &[AmendmentInLayer]) -> Diagnostic {
        let message = format!(
            "this pack says twice what {aspect} of rule `{}` is: by itself and by its figure",
            self.shipped.description.id
        );
        let mut complaint = Diagnostic::error(Code::AmendedTwice, message)
            .expected("one of the two, or periods that do not overlap")
            .help("set the figure where every rule that reads it changes, the parameter where this rule alone does");
        if let Some((first, rest)) = several.split_first() {
            complaint = first.locate(self.layers, complaint, "");
            let related = |one: &AmendmentInLayer| self.layers.pack(one.pack).related(&one.pointer(""), "and here");
            complaint.secondary.extend(rest.iter().filter_map(related));
        }
        complaint
    }

    fn author(&self, amendment: &AmendmentInLayer) -> Author {
        amending(self.layers.pack(amendment.pack), amendment.index, amendment.amendment)
    }

    fn default_state(&self) -> State {
        if self.shipped.description.adopted { State::InForce } else { State::Dormant }
    }

    fn state(&self, remarks: &mut Remarks) -> Ruled<State> {
        let winner = self.winner(&Aspect::Force, remarks);
        let Some(winner) = winner else { return Ruled { value: self.default_state(), author: self.shipping.clone() } };
        let value = state_of(&winner.amendment.change).unwrap_or_else(|| self.default_state());
        Ruled { value, author: self.author(&winner) }
    }

    fn level(&self, remarks: &mut Remarks) -> Ruled<Level> {
        let default = self.shipped.description.level;
        match self.winner(&Aspect::Level, remarks) {
            None => Ruled { value: default, author: self.shipping.clone() },
            Some(winner) => {
                let value = level_of(&winner.amendment.change).unwrap_or(default);
                Ruled { value, author: self.author(&winner) }
            }
        }
    }

    fn parameter(&self, described: &ParameterDescription, remarks: &mut Remarks) -> ParameterEntry {
        let winner = self.winner(&Aspect::Parameter(described.name.clone()), remarks);
        let set = winner.and_then(|winner| match &winner.amendment.change {
            Change::Set { value, .. } | Change::SetFigure { value, .. } => {
                Some((read_value(described, value).ok()?, self.author(&winner)))
            }
            _ => None,
        });
        let (value, author) = set.unwrap_or_else(|| {
            // Defaults were read when the description was checked.
            let value = read_value(described, &described.default).unwrap_or(Value::Null);
            (value, with_source(&self.shipping, &described.source))
        });
        ParameterEntry {
            name: described.name.clone(),
            kind: described.kind,
            figure: described.figure.clone(),
            written: value_words(&value),
            value,
            author,
        }
    }

    /// The list of the pack that sets it as a whole, or the module's own, and then what others set beside it.
    fn citations(&self, remarks: &mut Remarks) -> Vec<Ruled<Citation>> {
        let whole = self.winner(&Aspect::Citations, remarks);
        let mut out: Vec<Ruled<Citation>> = Vec::new();
        let mut add = |citations: &[Citation], author: &Author| {
            for citation in citations {
                if !out.iter().any(|known| same_place(&known.value, citation)) {
                    out.push(Ruled { value: citation.clone(), author: author.clone() });
                }
            }
        };
        match &whole {
            Some(amendment) => add(cited(amendment), &self.author(amendment)),
            None => add(&self.shipped.description.citations, &self.shipping),
        }
        for amendment in
            self.amendments.iter().filter(|amendment| amendment.timing == Timing::Now && amendment.aspect().is_none())
        {
            if !self.dropped_by(amendment, whole.as_ref()) {
                add(cited(amendment), &self.author(amendment));
            }
        }
        out
    }

    /// Whether citations set beside others go with the list they were set beside.
    fn dropped_by(&self, amendment: &AmendmentInLayer, whole: Option<&AmendmentInLayer>) -> bool {
        whole.is_some_and(|whole| self.layers.stands_on(whole.pack, amendment.pack))
    }

    fn no_variance(&self) -> Option<Author> {
        let layers = self.layers.packs().iter();
        let mut barring = layers.filter(|pack| pack.manifest().no_variance.contains(&self.shipped.description.id));
        let pack = barring.next()?;
        let at = pack.manifest().no_variance.iter().position(|rule| *rule == self.shipped.description.id)?;
        Some(Author { pointer: Some(format!("/no_variance/{at}")), ..shipping(pack) })
    }

    fn entry(&self, amendment: &AmendmentInLayer) -> AmendmentInALayer {
        let effect = match amendment.timing {
            Timing::NotYet => Effect::NotYet,
            Timing::Lapsed => Effect::Lapsed,
            Timing::Now => self.overridden(amendment).map_or(Effect::InEffect, |by| Effect::Overridden { by }),
        };
        AmendmentInALayer { author: self.author(amendment), change: amendment.amendment.change.clone(), effect }
    }

    /// The pack further up that says otherwise.
    fn overridden(&self, amendment: &AmendmentInLayer) -> Option<String> {
        let aspect = amendment.aspect().unwrap_or(Aspect::Citations);
        let uppermost = uppermost(self.layers, self.amendments.iter(), &aspect);
        let above = uppermost.iter().find(|other| self.layers.stands_on(other.pack, amendment.pack))?;
        Some(self.layers.pack(above.pack).name().to_owned())
    }

    /// Remarks on amendments that say what is so already, or set what is not asked.
    fn idle(&self, entry: &RuleEntry, remarks: &mut Remarks) {
        for amendment in self.amendments.iter().filter(|amendment| amendment.timing == Timing::Now) {
            let message = match &amendment.amendment.change {
                Change::Set { .. }
                    if !entry.in_force() && self.overridden(amendment).is_none() && !self.gone_above(amendment) =>
                {
                    Some("this sets a parameter of a rule that is not in force".to_owned())
                }
                change => self.already(amendment, change).map(|words| format!("rule `{}` {words} already", entry.description.id)),
            };
            if let Some(message) = message {
                remarks.notes.push(amendment.locate(self.layers, Diagnostic::note(Code::NoEffect, message), ""));
            }
        }
    }

    /// Whether a pack further up took the rule out of force: the layer below could not know.
    fn gone_above(&self, amendment: &AmendmentInLayer) -> bool {
        let deciding = uppermost(self.layers, self.amendments.iter(), &Aspect::Force);
        deciding.iter().any(|other| self.layers.stands_on(other.pack, amendment.pack))
    }

    /// What a change would bring about, when it is so below the pack that makes it.
    fn already(&self, amendment: &AmendmentInLayer, change: &Change) -> Option<&'static str> {
        let below = |aspect: &Aspect| {
            let lower = self.amendments.iter().filter(|other| self.layers.stands_on(amendment.pack, other.pack));
            uppermost(self.layers, lower, aspect).first().copied()
        };
        match change {
            Change::Adopt { .. } | Change::Withdraw { .. } => {
                let before = below(&Aspect::Force).and_then(|other| state_of(&other.amendment.change));
                let in_force = before.unwrap_or_else(|| self.default_state()) == State::InForce;
                match change {
                    Change::Adopt { .. } => in_force.then_some("is in force"),
                    _ => (!in_force).then_some("is out of force"),
                }
            }
            Change::Relax { .. } | Change::Require { .. } => {
                let before = below(&Aspect::Level).and_then(|other| level_of(&other.amendment.change));
                let after = level_of(change)?;
                let words = if after == Level::Advice { "is advice" } else { "is required" };
                (before.unwrap_or(self.shipped.description.level) == after).then_some(words)
            }
            Change::Set { .. } | Change::SetFigure { .. } | Change::Replace { .. } | Change::Cite { .. } => None,
        }
    }
}

fn state_of(change: &Change) -> Option<State> {
    match change {
        Change::Withdraw { .. } => Some(State::Withdrawn),
        Change::Adopt { .. } => Some(State::InForce),
        Change::Replace { with, .. } => Some(State::Replaced { with: with.clone() }),
        _ => None,
    }
}

fn level_of(change: &Change) -> Option<Level> {
    match change {
        Change::Relax { .. } => Some(Level::Advice),
        Change::Require { .. } => Some(Level::Required),
        _ => None,
    }
}

fn cited<'a>(amendment: &AmendmentInLayer<'a>) -> &'a [Citation] {
    match &amendment.amendment.change {
        Change::Cite { citations, .. } => citations,
        _ => &[],
    }
}

fn same_place(left: &Citation, right: &Citation) -> bool {
    (&left.document, &left.edition, &left.section) == (&right.document, &right.edition, &right.section)
}
