//! A box through which thick conductors are pulled must be large enough for them to turn.
//!
//! Conductors of 4 AWG and larger do not bend around a corner of a small box without breaking strands or insulation.
//!
//! **How it is measured.** Straight through: eight times the largest trade size that enters. Around a corner, back out of the same
//! wall, or spliced: from each row of entries to the opposite wall six times its largest trade size and the sum of the others
//! in that row, and six times the larger between two raceways with the same conductors. Boxes for thinner conductors are
//! sized by their volume and not asked here. Boxes must stay accessible.
//!
//! **How it is fixed.** A larger box, or fewer raceways in one row.

use redtag_handbook::raceway::{self as trade, Row};
use redtag_rule::prelude::*;
use uom::si::f64::Length;

const SOURCE: &str = "NEC 314.28(A)";
/// From this size on.
const FROM_SIZE: Choice = Choice::new(
    "from_size",
    "4 AWG",
    &["8 AWG", "6 AWG", "4 AWG", "3 AWG", "2 AWG"],
    "The conductor size from which on a box is sized by trade sizes.",
    SOURCE,
);

/// The rule.
pub const RULE: Rule = Rule {
    citations: &[cited("NEC", "2020", "314.28(A)"), cited("NEC", "2020", "314.29")],
    parameters: &[&FROM_SIZE],
    reads: &["/raceways", "/electrical/boxes"],
    ..Rule::new("raceways/pull-boxes", "Size of pull boxes", check)
};

const WANTED: &str = "whether conductors can turn in it";

fn check(inquiry: &Inquiry) -> Vec<Finding> {
    let boxes = need!(inquiry.project(), electrical.boxes).every();
    boxes
        .iter()
        .map(|one| match thick(inquiry, one) {
            Ok(false) => one.not_applicable(text!("only conductors thinner than {}", inquiry.value(&FROM_SIZE))).done(),
            thick => one.sheet(WANTED, |sheet| {
                sheet.want(thick);
                judge(inquiry, one, sheet)
            }),
        })
        .collect()
}

/// Whether a conductor of the size or larger enters.
fn thick(inquiry: &Inquiry, one: &Place<PullBox>) -> Lookup<bool> {
    let least = trade::rank(inquiry.value(&FROM_SIZE));
    let mut lookups = Vec::new();
    for entry in need!(one, entries)?.items() {
        let raceway = need!(inquiry.project(), raceways).named(&need!(entry, raceway)?)?;
        for conductor in need!(raceway, conductors)?.items() {
            lookups.push(need!(conductor, size).map(|size| trade::rank(&size).is_none_or(|rank| Some(rank) >= least)));
        }
    }
    // One thick conductor decides, whatever is not said of the others.
    if lookups.contains(&Ok(true)) {
        return Ok(true);
    }
    lookups.together().map(|_| false)
}

/// An entry with its trade size.
struct Entry {
    wall: BoxWall,
    row: u32,
    size: Length,
}

fn judge(inquiry: &Inquiry, one: &Place<PullBox>, sheet: &mut Sheet) -> Lookup<Text> {
    if let Some(accessible) = sheet.want(need!(one, accessible))
        && !*accessible
    {
        sheet.require("access", text!("cannot be got at"), "NEC 314.29", false);
        sheet.cure(text!("make it accessible without taking the building apart"));
    }
    let entries = need!(one, entries)?;
    let entries_known = entries.items().map(|entry| known(inquiry, &entries, &entry)).collect::<Vec<_>>().together()?;
    partners(one, &entries_known, sheet);
    for (wall, row) in rows(&entries_known) {
        let straight = one.kind == PullKind::Straight;
        let asked = if straight { trade::straight_length(&row) } else { trade::angle_distance(&row) };
        let Some(asked) = asked else { continue };
        let across = match wall {
            BoxWall::Left | BoxWall::Right => need!(one, width),
            BoxWall::Back => need!(one, depth),
            _ => need!(one, height),
        };
        let Some(across) = sheet.want(across) else { continue };
        let pull = one.kind;
        let words = text!("{} from the {} to the wall opposite, {} is the least for a {} pull", across, wall, asked, pull);
        if !sheet.require("size", words, SOURCE, at_least(across.quantity(), asked)) {
            sheet.cure(text!("use a box {} wide in that direction", asked));
        }
    }
    Ok(text!("large enough for its raceways"))
}

fn known(inquiry: &Inquiry, entries: &[BoxEntry], entry: &Place<BoxEntry>) -> Lookup<Entry> {
    let size = match need!(entry, trade_size) {
        Ok(size) => Ok(size.quantity()),
        Err(missing) => need!(entry, raceway)
            .and_then(|id| need!(inquiry.project(), raceways).named(&id))
            .and_then(|raceway| need!(raceway, trade_size).map(|size| size.quantity()))
            .map_err(|_| missing),
    };
    let (wall, size) = (need!(entry, wall), size).together()?;
    // Where rows are told, whose row is not said could be in any; where none are, all are in one.
    if entry.row.is_none() && entries.iter().any(|other| other.wall == entry.wall && other.row.is_some()) {
        return Err(entry.missing("/row"));
    }
    Ok(Entry { wall: *wall, row: entry.row.unwrap_or(1), size })
}

/// The rows, wall by wall.
fn rows(entries: &[Entry]) -> Vec<(BoxWall, Row)> {
    let mut rows: Vec<((BoxWall, u32), Row)> = Vec::new();
    for entry in entries {
        match rows.iter_mut().find(|(key, _)| *key == (entry.wall, entry.row)) {
            Some((_, row)) => row.0.push(entry.size),
            None => rows.push(((entry.wall, entry.row), Row(vec![entry.size]))),
        }
    }
    rows.into_iter().map(|((wall, _), row)| (wall, row)).collect()
}

/// Distances between raceways that hold the same conductors: six times the larger of the two.
fn partners(one: &Place<PullBox>, known: &[Entry], sheet: &mut Sheet) {
    if one.kind == PullKind::Straight {
        return;
    }
    let Ok(entries) = need!(one, entries) else { return };
    for (index, (entry, own)) in entries.items().zip(known).enumerate() {
        let distance = match need!(entry, to_partner) {
            Ok(distance) => distance,
            Err(unresolved) => {
                let paired = entry.partner.is_some() || known.len() == 2;
                if paired && !told_by_partner(&entries, &entry) {
                    sheet.lack(unresolved);
                }
                continue;
            }
        };
        let Some(larger) = sheet.want(larger(&entries, known, index, &entry, own)) else { continue };
        let asked = trade::partner_distance(larger);
        let words = text!("{} to the raceway with the same conductors, {} is the least", distance, asked);
        if !sheet.require("same conductors", words, SOURCE, at_least(distance.quantity(), asked)) {
            sheet.cure(text!("move them {} apart", asked));
        }
    }
}

/// Whether another entry says how far it is from this one.
fn told_by_partner(entries: &[BoxEntry], entry: &BoxEntry) -> bool {
    let other = |one: &&BoxEntry| one.raceway != entry.raceway && one.to_partner.is_some();
    let of_this = |one: &BoxEntry| entries.len() == 2 || (one.partner.is_some() && one.partner == entry.raceway);
    entries.iter().filter(other).any(of_this)
}

/// The larger trade size of an entry and the one with the same conductors: as named, else the only other one.
fn larger(entries: &Place<Vec<BoxEntry>>, known: &[Entry], index: usize, entry: &Place<BoxEntry>, own: &Entry) -> Lookup<Length> {
    let bigger = |other: &Entry| if other.size > own.size { other.size } else { own.size };
    if let Ok(partner) = need!(entry, partner) {
        let at = entries.iter().position(|one| one.raceway.as_ref() == Some(partner.get()));
        return at.and_then(|at| known.get(at)).map(bigger).ok_or_else(|| Unresolved::at(partner.pointer()));
    }
    let others: Vec<&Entry> = known.iter().enumerate().filter(|(other, _)| *other != index).map(|(_, one)| one).collect();
    match others[..] {
        [] => Ok(own.size),
        [only] => Ok(bigger(only)),
        _ if others.iter().all(|other| other.size <= own.size) => Ok(own.size),
        _ => Err(entry.missing("/partner")),
    }
}
