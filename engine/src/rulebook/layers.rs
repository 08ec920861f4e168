//! Which packs make up a rulebook: those wanted and everything they stand on, in force on one day, lowest first.

use crate::diagnostic::{Code, Diagnostic, Related, Span, quoted};
use crate::document::did_you_mean as nearest;
use crate::pack::Pack;
use semver::VersionReq;
use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

/// A pack someone asks for.
#[derive(Debug, Clone)]
pub struct Wanted {
    /// Its name.
    pub name: String,
    /// The versions that will do.
    pub version: VersionReq,
    /// Where it is asked for, when that is a place in a document.
    pub span: Option<Span>,
}

impl Wanted {
    /// Any version of a pack, asked for on the command line.
    pub fn any(name: impl Into<String>) -> Self {
        Self { name: name.into(), version: VersionReq::STAR, span: None }
    }
}

/// The packs of a rulebook, each after those it stands on.
#[derive(Debug, Clone)]
pub struct Layers {
    date: String,
    packs: Vec<Arc<Pack>>,
    below: Vec<BTreeSet<usize>>,
}

impl Layers {
    /// The day whose law is asked about, `YYYY-MM-DD`.
    pub fn date(&self) -> &str {
        &self.date
    }

    /// The packs, lowest first.
    pub fn packs(&self) -> &[Arc<Pack>] {
        &self.packs
    }

    /// A pack by its place.
    pub fn pack(&self, index: usize) -> &Pack {
        &self.packs[index]
    }

    /// Whether the pack `upper` stands on `lower`, directly or through others.
    pub fn stands_on(&self, upper: usize, lower: usize) -> bool {
        self.below[upper].contains(&lower)
    }
}

/// Finds the packs wanted and all they stand on. The order in which packs are available or wanted makes no difference.
///
/// A pack given by the user is preferred to the one built into the program when both have the name and a version that will do.
///
/// # Errors
/// A pack that is missing, has no version in range, is not in force on the day, stands on itself in a circle, or is there or
/// needed in two versions: every complaint, with its place in the manifest that asks.
pub fn resolve(available: &[Arc<Pack>], wanted: &[Wanted], date: &str) -> Result<Layers, Vec<Diagnostic>> {
    let mut walk = Walk { shelf: Shelf::new(available), date, done: BTreeMap::new(), order: Vec::new(), errors: Vec::new() };
    let mut wanted: Vec<&Wanted> = wanted.iter().collect();
    wanted
        .sort_by(|left, right| left.name.cmp(&right.name).then_with(|| left.version.to_string().cmp(&right.version.to_string())));
    if wanted.is_empty() {
        walk.errors.push(Diagnostic::error(Code::NoPack, "no pack is named, so there is no rule to review by"));
    }
    for one in wanted {
        walk.visit(&Asked { name: &one.name, version: &one.version, by: None, span: one.span.clone() }, &mut Vec::new());
    }
    if walk.errors.is_empty() {
        Ok(walk.layers())
    } else {
        Diagnostic::sort(&mut walk.errors);
        walk.errors.dedup();
        Err(walk.errors)
    }
}

/// One request for a pack: by a manifest, by a project, or by a command.
struct Asked<'a> {
    name: &'a str,
    version: &'a VersionReq,
    by: Option<&'a Pack>,
    span: Option<Span>,
}

impl Asked<'_> {
    fn complain(&self, code: Code, message: String) -> Diagnostic {
        let mut complaint = Diagnostic::error(code, message);
        complaint.primary.clone_from(&self.span);
        match self.by {
            Some(_) => complaint.pointer("/stands_on"),
            None => complaint,
        }
    }

    /// `pack county 1.0.0 stands on`, or `wanted is`.
    fn who(&self) -> String {
        self.by.map_or_else(|| "wanted is".to_owned(), |pack| format!("{} stands on", pack.label()))
    }
}

/// What is available, without copies, in an order of its own.
struct Shelf<'a> {
    packs: Vec<&'a Arc<Pack>>,
}

impl<'a> Shelf<'a> {
    fn new(available: &'a [Arc<Pack>]) -> Self {
        let mut packs: Vec<&Arc<Pack>> = available.iter().collect();
        packs.sort_by_key(|pack| (pack.name().to_owned(), pack.version().clone(), pack.digest().to_owned(), pack.is_embedded()));
        packs.dedup_by(|later, first| {
            (later.name(), later.version(), later.digest()) == (first.name(), first.version(), first.digest())
        });
        Self { packs }
    }

    fn named(&self, name: &str) -> Vec<&'a Arc<Pack>> {
        self.packs.iter().copied().filter(|pack| pack.name() == name).collect()
    }

    fn names(&self) -> BTreeSet<&'a str> {
        self.packs.iter().map(|pack| pack.name()).collect()
    }

    /// The one pack that answers a request on a day.
    fn find(&self, asked: &Asked, date: &str) -> Result<&'a Arc<Pack>, Diagnostic> {
        let named = self.named(asked.name);
        if named.is_empty() {
            return Err(self.missing(asked));
        }
        let mut fitting: Vec<_> = named.iter().copied().filter(|pack| asked.version.matches(pack.version())).collect();
        if fitting.is_empty() {
            return Err(no_version(asked, &named));
        }
        if fitting.iter().any(|pack| !pack.is_embedded()) {
            fitting.retain(|pack| !pack.is_embedded());
        }
        let in_force: Vec<_> = fitting.iter().copied().filter(|pack| pack.manifest().in_force.contains(date)).collect();
        match in_force.as_slice() {
            [] => Err(not_in_force(asked, &fitting, date)),
            [one] => Ok(one),
            several => Err(ambiguous(asked, several, date)),
        }
    }

    fn missing(&self, asked: &Asked) -> Diagnostic {
        let names: Vec<&str> = self.names().into_iter().collect();
        let message = format!("{} pack {}, which is not here", asked.who(), quoted(asked.name));
        let complaint = asked.complain(Code::MissingPack, message);
        let complaint = match names.as_slice() {
            [] => complaint.expected("a pack of that name; none is available"),
            names => complaint.expected(format!("one of the packs available: {}", names.join(", "))),
        };
        match nearest(asked.name, names.iter().copied()) {
            Some(near) => complaint.help(format!("did you mean `{near}`?")),
            None => complaint.help("name its folder or archive with --packs"),
        }
    }
}

fn no_version(asked: &Asked, named: &[&Arc<Pack>]) -> Diagnostic {
    let message = format!("{} pack `{}` in a version that fits `{}`, which is not here", asked.who(), asked.name, asked.version);
    let there: Vec<String> = named.iter().map(|pack| format!("{} ({})", pack.version(), pack.origin())).collect();
    asked
        .complain(Code::NoVersionInRange, message)
        .expected(format!("a version that fits `{}`; there is {}", asked.version, there.join(", ")))
        .help("give the fitting version with --packs, or widen the range")
}

fn not_in_force(asked: &Asked, fitting: &[&Arc<Pack>], date: &str) -> Diagnostic {
    let words = |pack: &&Arc<Pack>| {
        let period = &pack.manifest().in_force;
        let state = if period.until.as_deref().is_some_and(|until| until < date) { "has lapsed" } else { "is not yet in force" };
        format!("{} {state} on {date} (in force {})", pack.label(), period.words())
    };
    let message = fitting.iter().map(words).collect::<Vec<_>>().join("; ");
    let mut complaint = Diagnostic::error(Code::NotInForce, message)
        .expected(format!("an edition of `{}` in force on {date}", asked.name))
        .help("ask for the law of another day with --as-of, or give the edition of that day with --packs");
    let (first, rest) = fitting.split_first().map_or((None, fitting), |(first, rest)| (Some(first), rest));
    if let Some(pack) = first {
        complaint = pack.locate(complaint, "/in_force");
    }
    complaint.secondary.extend(rest.iter().filter_map(|pack| pack.related("/in_force", "another edition")));
    if let Some(span) = &asked.span {
        complaint.secondary.push(Related { span: span.clone(), label: "asked for here".to_owned() });
    }
    complaint
}

fn ambiguous(asked: &Asked, several: &[&Arc<Pack>], date: &str) -> Diagnostic {
    let there: Vec<String> = several.iter().map(|pack| format!("{} ({})", pack.version(), pack.origin())).collect();
    let message = format!("pack `{}` is here more than once for {date}: {}", asked.name, there.join(", "));
    let mut complaint = asked.complain(Code::TwoVersions, message);
    complaint.secondary.extend(several.iter().filter_map(|pack| pack.related("/version", "one of them")));
    complaint
        .expected(format!("one edition of `{}` in force on {date}", asked.name))
        .help("leave out all but one, or give their manifests periods in force that do not overlap")
}

/// The walk down from what is wanted.
struct Walk<'a> {
    shelf: Shelf<'a>,
    date: &'a str,
    /// Every pack settled so far, with who asked for it first.
    done: BTreeMap<&'a str, (&'a Arc<Pack>, Option<Span>)>,
    order: Vec<&'a Arc<Pack>>,
    errors: Vec<Diagnostic>,
}

impl<'a> Walk<'a> {
    fn visit(&mut self, asked: &Asked, above: &mut Vec<&'a Arc<Pack>>) {
        let pack = match self.shelf.find(asked, self.date) {
            Ok(pack) => pack,
            Err(complaint) => return self.errors.push(complaint),
        };
        if let Some(start) = above.iter().position(|upper| upper.name() == pack.name()) {
            return self.errors.push(cycle(&above[start..]));
        }
        if let Some((earlier, span)) = self.done.get(pack.name()) {
            if !Arc::ptr_eq(earlier, pack) {
                let complaint = two_versions(asked, pack, earlier, span.as_ref());
                self.errors.push(complaint);
            }
            return;
        }
        above.push(pack);
        if let Some(base) = &pack.manifest().stands_on {
            let span = pack.span("/stands_on");
            self.visit(&Asked { name: &base.name, version: &base.version, by: Some(pack), span }, above);
        }
        above.pop();
        self.done.insert(pack.name(), (pack, asked.span.clone()));
        self.order.push(pack);
    }

    fn layers(self) -> Layers {
        let packs: Vec<Arc<Pack>> = self.order.into_iter().cloned().collect();
        let mut below: Vec<BTreeSet<usize>> = Vec::with_capacity(packs.len());
        for pack in &packs {
            let base = pack.manifest().stands_on.as_ref();
            let base = base.and_then(|base| packs.iter().position(|other| other.name() == base.name));
            let mut all: BTreeSet<usize> = base.and_then(|base| below.get(base)).cloned().unwrap_or_default();
            all.extend(base);
            below.push(all);
        }
        Layers { date: self.date.to_owned(), packs, below }
    }
}

fn cycle(ring: &[&Arc<Pack>]) -> Diagnostic {
    // The same ring is met from wherever the walk begins: it is told from its first name on.
    let first = (0..ring.len()).min_by_key(|index| ring[*index].name()).unwrap_or_default();
    let ring: Vec<_> = ring[first..].iter().chain(&ring[..first]).collect();
    let mut names: Vec<&str> = ring.iter().map(|pack| pack.name()).collect();
    names.extend(names.first().copied());
    let message = format!("packs stand on each other in a circle: {}", names.join(" -> "));
    let mut complaint = Diagnostic::error(Code::PackCycle, message)
        .expected("layers with a model code pack at the bottom that stands on none")
        .help("take `stands_on` out of the pack that is the base");
    if let Some((lowest, rest)) = ring.split_first() {
        complaint = lowest.locate(complaint, "/stands_on");
        complaint.secondary.extend(rest.iter().filter_map(|pack| pack.related("/stands_on", "part of the circle")));
    }
    complaint
}

fn two_versions(asked: &Asked, pack: &Pack, earlier: &Pack, earlier_span: Option<&Span>) -> Diagnostic {
    let message = format!(
        "pack `{}` is needed in two versions: {} ({}) and {} ({})",
        pack.name(),
        earlier.version(),
        earlier.origin(),
        pack.version(),
        pack.origin()
    );
    let mut complaint = asked.complain(Code::TwoVersions, message);
    if let Some(span) = earlier_span {
        complaint.secondary.push(Related { span: span.clone(), label: format!("asks for {}", earlier.version()) });
    }
    complaint
        .expected("one version of each pack in a rulebook")
        .help("give the packs ranges that one version fits, or review by them one at a time")
}
