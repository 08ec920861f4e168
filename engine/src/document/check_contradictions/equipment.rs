//! Equipment: where it stands, what it burns, what it weighs.

use super::fact::Fact;
use super::{Clash, Pair};
use redtag_schema::quantity::Kind;

pub(super) const PAIRS: &[Pair] = &[
    Pair { list: "/equipment/*", first: "/placement/facing", second: "/placement/bearing", clash: facing },
    Pair { list: "/spaces/*/receptacles/*", first: "/placement/facing", second: "/placement/bearing", clash: facing },
    Pair { list: "/building/alarms/*", first: "/placement/facing", second: "/placement/bearing", clash: facing },
    Pair { list: "/equipment/*", first: "/outdoors", second: "/space", clash: outdoors },
    Pair { list: "/equipment/*", first: "/service/largest_part", second: "/placement", clash: largest_part },
    Pair { list: "/equipment/*", first: "/pan/drained", second: "/pan/drains_to", clash: pan },
    Pair { list: "/equipment/*", first: "/condensate/acid", second: "/fuel_burning/condensing", clash: condensate },
];

const EIGHTHS: [&str; 8] = ["north", "northeast", "east", "southeast", "south", "southwest", "west", "northwest"];

/// The front looks one way: half a degree is what a compass word leaves over.
fn facing(it: &Fact<'_>) -> Option<Clash> {
    let (word, bearing) = (it.word("/placement/facing")?, it.amount("/placement/bearing", Kind::Angle)?);
    let eighth = EIGHTHS.iter().position(|known| *known == word)?;
    let off = (bearing.to_degrees() - 45.0 * eighth as f64).rem_euclid(360.0);
    let apart = off.min(360.0 - off) > 0.5;
    let said = it.both("/placement/facing", "/placement/bearing");
    apart.then(|| Clash::Impossible(format!("{}: its front looks two ways, {said}", it.name())))
}

fn outdoors(it: &Fact<'_>) -> Option<Clash> {
    let id = it.word("/space")?;
    let kind = it.named("/spaces/*", id)?.word("/kind")?;
    let open = matches!(kind, "carport" | "other");
    let both = it.flag("/outdoors") == Some(true) && !open;
    both.then(|| {
        Clash::Impossible(format!("{}: it stands outdoors, and in {id}, which is a {}", it.name(), kind.replace('-', " ")))
    })
}

/// A piece is no larger than what it is a piece of, whichever way it is turned.
fn largest_part(it: &Fact<'_>) -> Option<Clash> {
    let sides = |step: &str| {
        let side = |name: &str| it.amount(&format!("{step}/{name}"), Kind::Length);
        let width = side("width")?;
        let mut sides = [width, side("depth").unwrap_or(width), side("height")?];
        sides.sort_by(f64::total_cmp);
        Some(sides)
    };
    let (part, whole) = (sides("/service/largest_part")?, sides("/placement")?);
    let larger = part.iter().zip(whole).any(|(part, whole)| *part > whole * 1.02);
    larger.then(|| Clash::Odd(format!("{}: the largest piece to be carried out is larger than the whole", it.name())))
}

fn pan(it: &Fact<'_>) -> Option<Clash> {
    let none = it.flag("/pan/drained") == Some(false) && it.has("/pan/drains_to");
    none.then(|| Clash::Impossible(format!("{}: its pan has no drain, and drains somewhere", it.name())))
}

fn condensate(it: &Fact<'_>) -> Option<Clash> {
    let clash = it.flag("/condensate/acid") == Some(false) && it.flag("/fuel_burning/condensing") == Some(true);
    clash.then(|| Clash::Odd(format!("{}: what it burnt condenses in it, and its condensate is said not to be acid", it.name())))
}
