//! The amendments of all layers, each with its place and whether it is law on the day.

use super::Layers;
use super::aspect::Aspect;
use crate::diagnostic::Diagnostic;
use redtag_schema::pack::Amendment;
use std::collections::BTreeMap;

/// One amendment of one pack.
#[derive(Debug, Clone, Copy)]
pub(super) struct Saying<'a> {
    /// Which of the layers says it.
    pub(super) pack: usize,
    /// Its place in that pack's list.
    pub(super) index: usize,
    pub(super) amendment: &'a Amendment,
    pub(super) timing: Timing,
}

/// Whether an amendment is law on the day.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Timing {
    Now,
    NotYet,
    Lapsed,
}

impl Saying<'_> {
    pub(super) fn aspect(&self) -> Option<Aspect> {
        Aspect::of(&self.amendment.change)
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

/// Every amendment by the rule it is about, lowest layer first.
pub(super) fn gather(layers: &Layers) -> BTreeMap<&str, Vec<Saying<'_>>> {
    let mut out: BTreeMap<&str, Vec<Saying>> = BTreeMap::new();
    for (pack, layer) in layers.packs().iter().enumerate() {
        let manifest = layer.manifest();
        for (index, amendment) in manifest.amendments.iter().enumerate() {
            let period = amendment.in_force.as_ref().unwrap_or(&manifest.in_force);
            let timing = match period {
                period if period.contains(layers.date()) => Timing::Now,
                period if period.until.as_deref().is_some_and(|until| until < layers.date()) => Timing::Lapsed,
                _ => Timing::NotYet,
            };
            out.entry(&amendment.rule).or_default().push(Saying { pack, index, amendment, timing });
        }
    }
    out
}

/// Those that are law on the day and speak of an aspect, but for those a pack further up overrides. More than one: layers
/// that neither stand on the other fight over one thing.
pub(super) fn uppermost<'a, 'b>(
    layers: &Layers,
    sayings: impl Iterator<Item = &'b Saying<'a>>,
    aspect: &Aspect,
) -> Vec<Saying<'a>>
where
    'a: 'b,
{
    let speaking: Vec<Saying> =
        sayings.filter(|saying| saying.timing == Timing::Now && saying.aspect().as_ref() == Some(aspect)).copied().collect();
    let overridden = |saying: &Saying| speaking.iter().any(|other| layers.stands_on(other.pack, saying.pack));
    speaking.iter().filter(|saying| !overridden(saying)).copied().collect()
}
