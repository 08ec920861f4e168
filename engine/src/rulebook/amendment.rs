//! The amendments of all layers, each with its place and whether it is law on the day.

use super::Layers;
use super::shipped::AsShipped;
use crate::diagnostic::Diagnostic;
use crate::pack::Aspect;
use redtag_schema::pack::{Amendment, Change};
use std::collections::BTreeMap;

/// One amendment of one pack.
#[derive(Debug, Clone, Copy)]
pub(super) struct AmendmentInLayer<'a> {
    /// Which of the layers makes it.
    pub(super) pack: usize,
    /// Its place in that pack's list.
    pub(super) index: usize,
    pub(super) amendment: &'a Amendment,
    /// Where a figure is set, looked at from a rule that reads it: that rule's parameter.
    pub(super) parameter: Option<&'a str>,
    pub(super) timing: Timing,
}

/// Whether an amendment is law on the day.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Timing {
    Now,
    NotYet,
    Lapsed,
}

impl AmendmentInLayer<'_> {
    pub(super) fn aspect(&self) -> Option<Aspect> {
        match self.parameter {
            Some(parameter) => Some(Aspect::Parameter(parameter.to_owned())),
            None => Aspect::of(&self.amendment.change),
        }
    }

    /// A JSON pointer into the amendment; `field` is `""` or begins with a slash.
    pub(super) fn pointer(&self, field: &str) -> String {
        format!("/amendments/{}{field}", self.index)
    }

    /// The complaint, put at a field of the amendment.
    pub(super) fn locate(&self, layers: &Layers, complaint: Diagnostic, field: &str) -> Diagnostic {
        layers.pack(self.pack).locate(complaint, &self.pointer(field))
    }
}

/// Every amendment of every layer, lowest layer first.
pub(super) fn all(layers: &Layers) -> Vec<AmendmentInLayer<'_>> {
    let mut out = Vec::new();
    for (pack, layer) in layers.packs().iter().enumerate() {
        let manifest = layer.manifest();
        for (index, amendment) in manifest.amendments.iter().enumerate() {
            let period = amendment.in_force.as_ref().unwrap_or(&manifest.in_force);
            let timing = match period {
                period if period.contains(layers.date()) => Timing::Now,
                period if period.until.as_deref().is_some_and(|until| until < layers.date()) => Timing::Lapsed,
                _ => Timing::NotYet,
            };
            out.push(AmendmentInLayer { pack, index, amendment, parameter: None, timing });
        }
    }
    out
}

/// The amendments by the rule they change. One that sets a figure changes every rule that reads it.
pub(super) fn by_rule<'a>(
    amendments: &[AmendmentInLayer<'a>],
    shipped: &'a AsShipped,
) -> BTreeMap<&'a str, Vec<AmendmentInLayer<'a>>> {
    let mut out: BTreeMap<&str, Vec<AmendmentInLayer>> = BTreeMap::new();
    for one in amendments {
        match &one.amendment.change {
            Change::SetFigure { figure, .. } => {
                for (rule, parameter) in shipped.readers(figure) {
                    out.entry(rule).or_default().push(AmendmentInLayer { parameter: Some(parameter), ..*one });
                }
            }
            change => out.entry(change.subject()).or_default().push(*one),
        }
    }
    out
}

/// Those that are law on the day and speak of an aspect, but for those a pack further up overrides. More than one: layers
/// that neither stand on the other fight over one thing.
pub(super) fn uppermost<'a, 'b>(
    layers: &Layers,
    all: impl Iterator<Item = &'b AmendmentInLayer<'a>>,
    aspect: &Aspect,
) -> Vec<AmendmentInLayer<'a>>
where
    'a: 'b,
{
    let speaking: Vec<AmendmentInLayer> =
        all.filter(|amendment| amendment.timing == Timing::Now && amendment.aspect().as_ref() == Some(aspect)).copied().collect();
    let overridden = |amendment: &AmendmentInLayer| speaking.iter().any(|other| layers.stands_on(other.pack, amendment.pack));
    speaking.iter().filter(|amendment| !overridden(amendment)).copied().collect()
}
