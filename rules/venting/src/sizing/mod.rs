//! What the tables say of a vent, line by line: of one appliance (`one`), of several (`several`).

mod one;
mod several;

use crate::appliances::{draft, input, outlet, served};
use redtag_handbook::units;
use redtag_handbook::venting::reduction::{self, Smaller};
use redtag_handbook::venting::{Basis, Capacity, Draft, area, next_size, sources};
use redtag_rule::prelude::*;
use uom::si::f64::{Area, Length, Power};

/// What jurisdictions set about sizes; each rule that sizes lists them all.
pub const FROM_MEMORY: Flag = Flag::new(
    "figures_from_memory",
    true,
    "Whether table figures that are from memory may decide; otherwise they leave the finding unresolved.",
    "where a table figure was seen in print, the worksheet says so",
)
.figure();
/// Where areas may decide.
pub const AREA_RULE: Choice = Choice::new(
    "area_rule",
    "where-tables-are-silent",
    &["never", "where-tables-are-silent", "instead-of-tables"],
    "Where draft-hood appliances may be sized by areas: the largest outlet and half of the others, seven times the smallest.",
    "IFGC 503.6.10.1",
)
.figure();
/// Most elbows.
pub const ELBOW: Quantity<dimensions::Ratio> = Quantity::new(
    "elbow_reduction",
    "10 %",
    "What each quarter-turn elbow beyond those a table has counted in takes off its capacity.",
    "IFGC 504.2.3; Appendix B, example 1",
)
.figure();
/// Liners.
pub const LINER: Quantity<dimensions::Ratio> = Quantity::new(
    "liner_reduction",
    "20 %",
    "What a corrugated liner in a chimney takes off the capacity of a Type B vent.",
    "IFGC 504.3.19; Appendix B, example 5c",
)
.figure();
/// Seven times.
pub const TIMES: Number = Number::new(
    "area_times_outlet",
    7.0,
    "How many times the area of the smallest outlet a vent or chimney may have.",
    "IFGC 504.2.8, 504.3.17",
)
.within(1.0, 100.0)
.figure();

/// One appliance on a vent.
pub struct Served<'a> {
    /// It.
    pub place: Place<'a, Equipment>,
    /// Its column of the tables.
    pub draft: Draft,
    /// Its input.
    pub input: Power,
    /// Diameter of its outlet.
    pub outlet: Length,
}

/// The appliances on a vent; nothing where one of them is not of Category I or the tables do not know its burner.
pub fn category_one<'a>(inquiry: &Inquiry<'a>, vent: &Place<'a, Vent>) -> Lookup<Option<Vec<Served<'a>>>> {
    let mut all = Vec::new();
    for place in served(inquiry, vent)? {
        if crate::appliances::direct_vent(&place)? || crate::appliances::category(&place)? != VentCategory::CategoryI {
            return Ok(None);
        }
        let (input, outlet, draft) = (input(&place), outlet(&place), draft(&place)).together()?;
        let Some(draft) = draft else { return Ok(None) };
        all.push(Served { place, draft, input, outlet });
    }
    Ok(Some(all))
}

/// Flow area of a vent: as stated, else of its diameter.
pub fn flow_area(vent: &Place<Vent>) -> Lookup<Area> {
    if let Some(stated) = &vent.area {
        return Ok(stated.quantity());
    }
    Ok(area::round(need!(vent, diameter)?.quantity()))
}

/// Whether an engineer's or maker's calculation settles its size.
pub fn calculated(vent: &Place<Vent>) -> bool {
    let stands = |evidence: &Evidence| evidence.document.is_some() && evidence.accepted == Some(true);
    vent.sizing_evidence.as_ref().is_some_and(stands)
}

/// How far a table decided.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Decided {
    /// It fits.
    Fits,
    /// It does not; the sheet says why.
    Fails,
    /// The tables do not say.
    Silent,
}

impl Decided {
    /// The worse of two; a failure outweighs silence.
    fn and(self, other: Self) -> Self {
        match (self, other) {
            (Self::Fails, _) | (_, Self::Fails) => Self::Fails,
            (Self::Silent, _) | (_, Self::Silent) => Self::Silent,
            _ => Self::Fits,
        }
    }
}

fn usable(inquiry: &Inquiry, capacity: Capacity) -> Capacity {
    match capacity {
        Capacity::Known(_, Basis::Remembered) if !inquiry.value(&FROM_MEMORY) => Capacity::Unknown,
        other => other,
    }
}

/// Which end of a table's range an input is held against.
#[derive(Clone, Copy, PartialEq, Eq)]
enum End {
    Most,
    Least,
}

/// One comparison with a table, as a line; a fault where it does not hold.
fn held(sheet: &mut Sheet, label: &str, end: End, input: Power, capacity: Capacity, table: &str) -> Decided {
    let Capacity::Known(limit, basis) = capacity else {
        let barred = capacity == Capacity::NotRecommended;
        if barred {
            sheet.require(label, text!("{}: the table bars this size here", label), table, false);
            return Decided::Fails;
        }
        sheet.line(label, text!("the table has no such row, or its figure is not known here"), table);
        return Decided::Silent;
    };
    let source = if basis == Basis::Remembered { format!("from memory of {table}") } else { table.to_owned() };
    let (said, bound) = (in_unit(input, "Btu/h"), in_unit(limit, "Btu/h"));
    let (words, holds) = match end {
        End::Most => (text!("{}: {}, the table carries {} at most", label, said, bound), at_most(input, limit)),
        End::Least => (text!("{}: {}, {} is the least that keeps it dry", label, said, bound), at_least(input, limit)),
    };
    if sheet.require(label, words, &source, holds) { Decided::Fits } else { Decided::Fails }
}

/// The smallest table size above `from` that carries the input.
fn larger(from: Length, input: Power, capacity: impl Fn(Length) -> Capacity) -> Option<(Length, Power)> {
    std::iter::successors(next_size(from), |&size| next_size(size)).find_map(|size| match capacity(size) {
        Capacity::Known(most, _) if at_most(input, most) => Some((size, most)),
        _ => None,
    })
}

fn in_words(length: Length) -> String {
    format!("{} in", units::in_inches(length).round())
}

/// What the kind of a vent does to the tables of Type B vents; nothing where those tables are not for it.
fn kind_factor(inquiry: &Inquiry, vent: &Place<Vent>) -> Option<f64> {
    match vent.kind {
        VentKind::TypeB | VentKind::TypeL => Some(1.0),
        VentKind::LinedChimney => Some(1.0 - inquiry.value(&LINER).value),
        _ => None,
    }
}

/// Seven times the smallest outlet is the most, by tables as by areas.
fn not_too_wide(inquiry: &Inquiry, sheet: &mut Sheet, vent: &Place<Vent>, served: &[Served]) -> Lookup<Decided> {
    let flow = flow_area(vent)?;
    let outlets: Vec<Area> = served.iter().map(|served| area::round(served.outlet)).collect();
    let Some(most) = area::most(&outlets, inquiry.value(&TIMES)) else { return Ok(Decided::Silent) };
    let words = text!(
        "flow area: {}, {} times the smallest outlet is {}",
        in_unit(flow, "in²"),
        times_words(inquiry),
        in_unit(most, "in²")
    );
    let holds = sheet.require("flow area", words, sources::SEVEN_TIMES.text(), at_most(flow, most));
    if !holds {
        sheet.cure(text!(
            "line it, or put in a vent of {} flow area at most: {} across",
            in_unit(most, "in²"),
            in_unit(area::diameter(most), "in")
        ));
    }
    Ok(if holds { Decided::Fits } else { Decided::Fails })
}

fn times_words(inquiry: &Inquiry) -> String {
    let times = inquiry.value(&TIMES);
    if (times - 7.0).abs() < 1e-9 { "seven".to_owned() } else { format!("{times}") }
}

fn cure_larger(sheet: &mut Sheet, vent: &Place<Vent>, connector: Option<&Place<VentConnector>>, found: Option<(Length, Power)>) {
    let Some((size, most)) = found else {
        sheet.cure(text!("no size of the table carries it: shorten the lateral, take out elbows, or have the vent designed"));
        return;
    };
    let mut values = vec![(format!("{}/diameter", vent.pointer()), json!(in_words(size)))];
    values.extend(connector.map(|connector| (format!("{}/diameter", connector.pointer()), json!(in_words(size)))));
    sheet.cure_at(text!("use {} pipe throughout: the table carries {}", in_unit(size, "in"), in_unit(most, "Btu/h")), &values);
}

/// Whether a pipe may be smaller than the outlet it serves: nothing where it is not smaller.
fn smaller_allowed(sheet: &mut Sheet, pipe: Length, served: &Served, height: Length) -> Option<bool> {
    if at_least(pipe, served.outlet) {
        return None;
    }
    let verdict = reduction::smaller_than_outlet(pipe, served.outlet, height, served.draft == Draft::Fan);
    let why = match verdict {
        Ok(()) => text!("it may be one size smaller"),
        Err(Smaller::Low) => text!("it may be smaller only where the vent is at least 10 ft high"),
        Err(Smaller::TwoSizes) => text!("one size smaller is the most"),
        Err(Smaller::ThreeOnFour) => text!("a draft hood of 4 in or less keeps its size"),
    };
    let words =
        text!("{}: {} on an outlet of {}, {}", served.place.label(), in_unit(pipe, "in"), in_unit(served.outlet, "in"), why);
    if !sheet.require("smaller than the outlet", words, sources::SMALLER.text(), verdict.is_ok()) {
        sheet.cure(text!("use {} pipe, the size of the outlet", in_unit(served.outlet, "in")));
    }
    Some(verdict.is_ok())
}

/// By areas, where every appliance has a draft hood: whether they decide, and how.
pub fn by_areas(sheet: &mut Sheet, vent: &Place<Vent>, served: &[Served]) -> Lookup<Decided> {
    let natural = !served.is_empty() && served.iter().all(|served| served.draft == Draft::Natural);
    let chimney = matches!(vent.kind, VentKind::MasonryChimney | VentKind::FactoryBuiltChimney | VentKind::LinedChimney);
    if !natural || (chimney && *need!(vent, exterior)?) {
        return Ok(Decided::Silent);
    }
    let flow = flow_area(vent)?;
    let least = area::least(&served.iter().map(|served| area::round(served.outlet)).collect::<Vec<_>>());
    let words =
        text!("flow area: {}, the largest outlet and half of the others are {}", in_unit(flow, "in²"), in_unit(least, "in²"));
    let holds = sheet.require("by areas", words, sources::AREAS.text(), at_least(flow, least));
    if !holds {
        sheet.cure(text!("use a vent of {} or more across", in_unit(area::diameter(least), "in")));
    }
    Ok(if holds { Decided::Fits } else { Decided::Fails })
}

/// The size of a vent, by its tables and where they are silent by areas. What neither decides is missing.
pub fn decide(
    inquiry: &Inquiry,
    sheet: &mut Sheet,
    vent: &Place<Vent>,
    served: &[Served],
    free_length: Length,
) -> Lookup<Decided> {
    if inquiry.value(&AREA_RULE) == "instead-of-tables" {
        let mut trial = Sheet::default();
        let by = not_too_wide(inquiry, &mut trial, vent, served)?.and(by_areas(&mut trial, vent, served)?);
        if by == Decided::Fits {
            sheet.take(trial);
            return Ok(by);
        }
    }
    let tables = match served {
        [only] => one::judge(inquiry, sheet, vent, only)?,
        _ => several::judge(inquiry, sheet, vent, served, free_length)?,
    };
    let decided = match tables {
        Decided::Silent if inquiry.value(&AREA_RULE) != "never" => by_areas(sheet, vent, served)?,
        other => other,
    };
    if decided == Decided::Silent {
        let pointer = format!("{}/sizing_evidence", vent.pointer());
        sheet.lack(Unresolved::because(pointer, "an accepted calculation of its size: no table figure known here decides it"));
    }
    Ok(decided)
}
