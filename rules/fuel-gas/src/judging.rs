//! Whether a pipe carries what hangs on it.

use crate::capacity::{self, Bends, Bounds, Column, Zone};
use crate::demand::{Demand, Load};
use crate::lengths::{self, Lengths, Policy, Range};
use crate::parameters;
use crate::piping::{Piping, feet, flow_of, pressure_of};
use crate::sizes::{self, Sized};
use crate::verdict::{Method, Verdict, verdict};
use redtag_handbook::fuel::FuelGas;
use redtag_handbook::piping::Size;
use redtag_rule::prelude::*;
use std::collections::BTreeMap;
use uom::si::f64::{Power, Ratio};

const EQUATION: &str = "IRC G2413.4 (IFGC 402.4), the pipe equation";

/// Everything a pipe is judged by.
pub struct Judging<'a> {
    /// The piping.
    pub piping: Piping<'a>,
    /// What flows in it.
    pub demand: Demand<'a>,
    /// How long it is.
    pub lengths: Lengths,
    zones: BTreeMap<usize, Lookup<Zone>>,
    by_table: bool,
    generic: bool,
    close: Ratio,
    method: Lookup<Method>,
    loops: Option<Unresolved>,
}

/// A pipe as it is judged.
struct Pipe<'j, 'a> {
    number: usize,
    segment: &'j Place<'a, GasSegment>,
    sized: Sized,
    load: Load,
    zone: &'j Zone,
}

impl<'a> Judging<'a> {
    /// All pipes of a project.
    ///
    /// # Errors
    /// When it is not told where the gas comes from.
    pub fn of(inquiry: &Inquiry<'a>) -> Lookup<Self> {
        let piping = Piping::of(inquiry)?;
        let demand = Demand::of(inquiry, &piping);
        let policy = Policy::of(inquiry.value(&parameters::FITTINGS));
        let lengths = Lengths::of(&piping, policy, |number| Bends::of(&piping, &piping.segments[number]));
        let begins: Vec<usize> = piping.zones.iter().flatten().copied().collect();
        let mut zones = BTreeMap::new();
        for zone in begins {
            zones.entry(zone).or_insert_with(|| Zone::of(&piping, zone));
        }
        let method = need!(piping.project, gas.sizing).map(|method| match *method {
            GasSizingMethod::BranchLength => Method::Branch,
            _ => Method::Longest,
        });
        let by_table = inquiry.value(&parameters::BASIS) == "table";
        let (generic, close) = (inquiry.value(&parameters::GENERIC_TUBING), inquiry.value(&parameters::CLOSE));
        let loops = piping.loops();
        Ok(Self { piping, demand, lengths, zones, by_table, generic, close, method, loops })
    }

    /// Whether an engineer sized the piping, and that was accepted.
    pub fn engineered(&self) -> Option<Lookup<()>> {
        let project = &self.piping.project;
        let by_engineer = need!(project, gas.sizing).is_ok_and(|method| *method == GasSizingMethod::Engineered);
        by_engineer.then(|| match need!(project, gas.sizing_evidence.accepted) {
            Ok(accepted) if *accepted => Ok(()),
            Ok(accepted) => Err(Unresolved::because(accepted.pointer(), "a calculation that the authority has accepted")),
            Err(unresolved) => Err(unresolved),
        })
    }

    /// The zone of a pipe.
    pub fn zone(&self, segment: usize) -> Lookup<&Zone> {
        let zone = self.piping.zone_of(segment).and_then(|zone| self.zones.get(&zone));
        match zone {
            Some(Ok(zone)) => Ok(zone),
            Some(Err(unresolved)) => Err(unresolved.clone()),
            None => Err(self.piping.unconnected[segment].clone().unwrap_or_else(|| {
                let what = "pipes that lead from the point of delivery to this one";
                Unresolved::because(self.piping.segments[segment].pointer(), what)
            })),
        }
    }

    /// Whether the code's table may stand in for that of a tubing's maker.
    pub fn generic(&self) -> bool {
        self.generic
    }

    /// Whether the loads tell what flows.
    ///
    /// # Errors
    /// The pipes of the loops.
    pub fn without_loops(&self) -> Lookup<()> {
        self.loops.clone().map_or(Ok(()), Err)
    }

    /// Judges one pipe.
    ///
    /// # Errors
    /// What is not said and is needed to begin.
    pub fn judge(&self, number: usize, sheet: &mut Sheet) -> Lookup<Text> {
        let segment = &self.piping.segments[number];
        self.without_loops()?;
        let zone = self.zone(number);
        let (zone, sized) = (zone, sizes::of(segment)).together()?;
        let load = self.demand.behind(&self.piping, number);
        let pipe = Pipe { number, segment, sized, load, zone };
        self.tell(&pipe, sheet);
        if pipe.load.known.value <= 0.0 && pipe.load.missing.is_none() {
            return Ok(text!("nothing hangs on it"));
        }
        let faults = sheet.sound();
        let column = capacity::column(&self.piping, segment, &sized, zone, self.generic, sheet);
        if faults && !sheet.sound() {
            sheet.cure(text!("size the pipe by a table that is made for it, and name that table"));
            self.piping.mark(number, sheet);
            return Ok(Text::default());
        }
        self.decide(&pipe, column, sheet)
    }

    fn tell(&self, pipe: &Pipe, sheet: &mut Sheet) {
        let flow = flow_of(pipe.load.known, pipe.zone.heating_value);
        let known = if pipe.load.missing.is_some() { "at least " } else { "" };
        let load =
            text!("{}{}, {}, with everything behind it on", known, in_unit(pipe.load.known, "Btu/h"), in_unit(flow, "cfh"));
        sheet.line("load", load, "IRC G2413.2 (IFGC 402.2)");
        let fed = self.piping.network.fed_by(pipe.number).filter(|fed| self.demand.at[*fed].known.value > 0.0);
        if let Some(fed) = fed {
            sheet.line(&self.piping.nodes[fed].get().id, self.demand.words[fed].clone(), "");
        }
        let own = &self.lengths.own[pipe.number];
        let of_fittings =
            if own.fittings.most > 0.0 { text!(", of it {} for fittings", own.fittings.words()) } else { text!("") };
        sheet.line("pipe", text!("{}, {}{}", pipe.sized.size.to_string(), own.whole.words(), of_fittings), "");
        let zone = self.piping.zone_of(pipe.number).unwrap_or_default();
        let words = text!(
            "starts at {} at {}, may lose {}",
            pressure_of(pipe.zone.start),
            self.piping.origin(zone),
            pressure_of(pipe.zone.drop)
        );
        sheet.line("zone", words, "IRC G2413.4.3 (IFGC 402.4.3)");
    }

    fn range(&self, number: usize, method: Method) -> Range {
        match method {
            Method::Longest => self.lengths.longest(number),
            Method::Branch => self.lengths.branch(number),
        }
    }

    /// Capacity by one basis over a length; what keeps it from being known.
    fn bounds(pipe: &Pipe, sized: &Sized, column: &Lookup<Column>, by_table: bool, range: Range) -> Option<Bounds> {
        if by_table {
            column.as_ref().ok().map(|column| column.read(sized.size, range))
        } else {
            sized.bore.map(|bore| pipe.zone.by_equation(bore, range))
        }
    }

    fn decide(&self, pipe: &Pipe, column: Lookup<Column>, sheet: &mut Sheet) -> Lookup<Text> {
        let method = self.method.clone().unwrap_or(Method::Longest);
        let other = if method == Method::Longest { Method::Branch } else { Method::Longest };
        // Corrugated tubing has a table and nothing else.
        let by_table = self.by_table || pipe.sized.bore.is_none();
        let mut said = BTreeMap::new();
        for (table, counted) in [(true, method), (false, method), (true, other), (false, other)] {
            let range = self.range(pipe.number, counted);
            if counted == other && range == self.range(pipe.number, method) {
                continue;
            }
            let Some(bounds) = Self::bounds(pipe, &pipe.sized, &column, table, range) else { continue };
            let verdict = verdict(&pipe.load, &bounds);
            let words = self.compared(pipe, &bounds, range, table.then_some(&column), verdict);
            let label = format!("{}, {}", if table { "by table" } else { "by equation" }, counted.name());
            let source = match &column {
                Ok(column) if table => column.source.as_str(),
                _ => EQUATION,
            };
            match verdict {
                Verdict::Open => sheet.line(&label, words, source),
                known => {
                    sheet.test(&label, words, source, known == Verdict::Carries);
                }
            }
            said.insert((table, counted == method), (bounds, verdict));
        }
        let decided = said.get(&(by_table, true)).copied();
        let Some((bounds, verdict)) = decided else {
            return Err(column.err().unwrap_or_else(|| pipe.segment.missing("/nominal_size")));
        };
        let parted = said.get(&(!by_table, true)).map(|(bounds, verdict)| (*bounds, *verdict));
        match verdict {
            Verdict::Carries => Ok(self.carries(pipe, &column, (by_table, bounds), parted, sheet)),
            Verdict::Open => Err(self.open(pipe, &column, by_table)),
            Verdict::Falls => {
                let branch = said.get(&(by_table, false)).map(|(_, verdict)| *verdict);
                self.falls(pipe, &column, (by_table, bounds), (method, branch), sheet)
            }
        }
    }

    fn compared(&self, pipe: &Pipe, bounds: &Bounds, range: Range, column: Option<&Lookup<Column>>, verdict: Verdict) -> Text {
        let heat = |heat: Power| in_unit(heat, "Btu/h");
        let capacity = match (bounds.least, bounds.most) {
            (Some(least), Some(most)) if least == most => text!("{}", heat(least)),
            (Some(least), Some(most)) => text!("between {} and {}", heat(least), heat(most)),
            (Some(least), None) => text!("{} or more", heat(least)),
            (None, Some(most)) => text!("not more than {}", heat(most)),
            (None, None) => text!("an amount not known"),
        };
        let read = match column {
            Some(Ok(column)) => match column.row(pipe.sized.size, range.most) {
                Some(row) => text!(", {}, row of {}", column.name, in_unit(row, "ft")),
                None => text!(", {}, whose last known row is that of {}", column.name, in_unit(column.last, "ft")),
            },
            _ => text!(""),
        };
        let used = match (verdict, bounds.least, bounds.most) {
            (Verdict::Carries, Some(capacity), _) | (Verdict::Falls, _, Some(capacity)) if capacity.value > 0.0 => {
                text!("; {} used", pipe.load.known / capacity)
            }
            _ => text!(""),
        };
        text!("over {} it carries {}{}{}", range.words(), capacity, read, used)
    }

    fn carries(
        &self,
        pipe: &Pipe,
        column: &Lookup<Column>,
        (by_table, bounds): (bool, Bounds),
        parted: Option<(Bounds, Verdict)>,
        sheet: &mut Sheet,
    ) -> Text {
        let capacity = bounds.least.unwrap_or(pipe.load.known);
        let used = pipe.load.known / capacity;
        let carried =
            text!("carries {} of {} it can ({} used)", in_unit(pipe.load.known, "Btu/h"), in_unit(capacity, "Btu/h"), used);
        if let Some((Bounds { most: Some(most), .. }, Verdict::Falls)) = parted {
            let (passing, failing) = if by_table { ("printed table", "equation") } else { ("equation", "printed table") };
            let remark =
                column.as_ref().ok().and_then(|column| column.remark).unwrap_or("tables and equations are rounded apart");
            sheet.advise(text!(
                "the {} passes it and the {} does not: {} against {} over the same length; {}",
                passing,
                failing,
                in_unit(pipe.load.known, "Btu/h"),
                in_unit(most, "Btu/h"),
                remark
            ));
            self.piping.mark(pipe.number, sheet);
        } else if !at_most(used, self.close) {
            sheet.advise(text!("{}: nothing more can be added behind it", carried));
        }
        carried
    }

    /// What keeps the pipe from being judged.
    fn open(&self, pipe: &Pipe, column: &Lookup<Column>, by_table: bool) -> Unresolved {
        let lengths = self.lengths.missing();
        let mut missing = pipe.load.missing.clone().into_iter().chain(lengths).fold(None, Unresolved::joined);
        if let (Ok(column), None, true) = (column, &missing, by_table) {
            let what = format!("the rows of {} for this length, or the calculation of an engineer", column.name);
            missing = Some(Unresolved::because(format!("{}/sizing_table", pipe.segment.pointer()), what));
        }
        missing.unwrap_or_else(|| pipe.segment.missing("/length"))
    }

    fn falls(
        &self,
        pipe: &Pipe,
        column: &Lookup<Column>,
        (by_table, bounds): (bool, Bounds),
        (method, other): (Method, Option<Verdict>),
        sheet: &mut Sheet,
    ) -> Lookup<Text> {
        // A plan that does not say how it was sized may have been sized by the branch.
        if method == Method::Longest && other == Some(Verdict::Carries) && self.method.is_err() {
            return Err(Unresolved::because(
                "/gas/sizing",
                "how the piping was sized: by the longest length it fails, by its branch it does not",
            ));
        }
        let most = bounds.most.unwrap_or_default();
        let fault = text!(
            "{} must carry {} and carries at most {} over {} ({} used, {})",
            pipe.sized.size.to_string(),
            in_unit(pipe.load.known, "Btu/h"),
            in_unit(most, "Btu/h"),
            self.range(pipe.number, method).words(),
            pipe.load.known / most,
            if by_table { "by table" } else { "by equation" }
        );
        sheet.fault(fault);
        self.piping.mark(pipe.number, sheet);
        if let Some(end) = self.lengths.end(pipe.number) {
            sheet.related(self.piping.nodes[end].pointer());
        }
        self.enlarge(pipe, column, by_table, method, sheet);
        if method == Method::Longest && other == Some(Verdict::Carries) {
            let words = text!("or size the piping by the branch-length method throughout, which this pipe passes");
            sheet.cure_at(words, &[("/gas/sizing".to_owned(), json!("branch-length"))]);
        }
        Ok(Text::default())
    }

    /// The next size that carries the load, as a cure.
    fn enlarge(&self, pipe: &Pipe, column: &Lookup<Column>, by_table: bool, method: Method, sheet: &mut Sheet) {
        let material = pipe.segment.material.unwrap_or_default();
        let candidates = match (column, pipe.sized.size) {
            (Ok(column), Size::Corrugated(_)) => column.larger(pipe.sized.size),
            _ => pipe.sized.size.larger(),
        };
        let now = self.lengths.own[pipe.number].whole.most;
        let counted = self.lengths.counted(pipe.number);
        let bends = Bends::of(&self.piping, pipe.segment).after(counted.bends_before);
        for size in candidates {
            let sized = Sized { size, bore: sizes::bore(material, size) };
            let then = lengths::measured_as(pipe.segment, Some(size), counted.policy, &bends).whole.most;
            let more = if then.is_finite() { (then - now).max(0.0) } else { 0.0 };
            let range = self.range(pipe.number, method).plus(more);
            let Some(bounds) = Self::bounds(pipe, &sized, column, by_table, range) else { continue };
            let (Verdict::Carries, Some(capacity)) = (verdict(&pipe.load, &bounds), bounds.least) else { continue };
            let Some((step, value)) = sizes::written(material, size) else { continue };
            let words = text!(
                "have a licensed fitter replace it by {}, the next size that carries it: {} over {}",
                size.to_string(),
                in_unit(capacity, "Btu/h"),
                in_unit(feet(range.most), "ft")
            );
            return sheet.cure_at(words, &[(format!("{}{step}", pipe.segment.pointer()), value)]);
        }
        let gas = if pipe.zone.gas == FuelGas::Natural { "natural gas" } else { "propane" };
        sheet.cure(text!("no larger size of the table is known to carry it: have the {} piping laid out anew, in two lines or at a higher pressure", gas));
    }
}
