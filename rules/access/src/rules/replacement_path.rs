//! The largest piece of an appliance can be carried out through the door without taking away permanent construction or another
//! appliance.
//!
//! Houses are built around their furnaces: the walls are closed and the tanks set after the large piece has come in. It comes
//! out again on a cold night, and then a wall or a water softener has to go first. Heavy pieces crush; carrying them is work
//! for people who have the tools for it.
//!
//! **How it is measured.** The footprint of the largest piece is slid and turned, upright, from its place through the clear
//! width of a door and past the wall, and into the space beyond where that is drawn. Walls, pipes and ducts that are drawn, and
//! everything else that stands as low as the piece is tall are in its way; what is connected to the piece, and the door's leaf, are taken off. A path counts
//! only if every move of it is free over its whole sweep. A refusal counts only if it is proven: by a gap narrower than the
//! piece's lesser side, or because every place the piece could get to is closed off. What is neither found nor proven is said
//! to be undecided. Beyond the door it is carried on in the same way, from space to space, until it is outdoors; stairs are not
//! followed. Where the spaces on the way are not drawn, their doors are compared with the lesser side and the rest is asked for.
//!
//! **How it is fixed.** Move the other of the pair by the length that is told, choose a piece that comes apart, or widen the
//! door.

use crate::carrying::{Load, Outcome, Trial, in_the_walls, load, stands_in};
use crate::layout::{Layout, each};
use crate::onward::{self, Followed};
use crate::served;
use redtag_handbook::space::removal::{Budget, Pose};
use redtag_handbook::space::{dot, norm};
use redtag_rule::prelude::*;
use redtag_rule_space::{Door, length};
use std::cell::Cell;

const SECTION: &str = "IRC M1305.1";
/// Whether the piece may be judged in plan.
const BEYOND: Flag = Flag::new(
    "way_outdoors",
    true,
    "Whether the way from the room to the outdoors is looked at too.",
    "common practice: the code speaks of the opening of the room",
);

/// The rule.
pub const RULE: Rule = Rule {
    citations: &[cited("IRC", "2018", "M1305.1"), cited("IRC", "2015", "P2801.4"), cited("IMC", "2018", "306.2")],
    parameters: &[&BEYOND],
    reads: &["/spaces", "/openings", "/equipment", "/ducts", "/gas", "/water", "/drainage"],
    ..Rule::new("access/replacement-path", "Way out for the largest piece of an appliance", check)
};

const WANTED: &str = "whether its largest piece can be carried out";
fn check(inquiry: &Inquiry) -> Vec<Finding> {
    // What all searches of one review may use together; the first ones seldom need their share.
    let budget = Cell::new(Budget { poses: 10_000, cells: 120_000 });
    each(inquiry, served::replaced, WANTED, |layout, one| {
        if served::passage_of_its_own(&layout.space) {
            return one.not_applicable(text!("stands in {}, which has a rule of its own", layout.space.label())).done();
        }
        one.sheet(WANTED, |sheet| judge(inquiry, layout, one, &budget, sheet))
    })
}

fn judge<'a>(
    inquiry: &Inquiry<'a>,
    layout: &Layout<'a>,
    one: &Place<'a, Equipment>,
    budget: &Cell<Budget>,
    sheet: &mut Sheet,
) -> Lookup<Text> {
    if one.service.as_ref().and_then(|service| service.blocked_by_construction) == Some(true) {
        sheet.fault(text!("the project says that permanent construction or other equipment must be taken away to reach it"));
    }
    let (room, load, doors) = (layout.room.clone(), load(layout, one), layout.ways_in()).together()?;
    let others = layout.others(one);
    if let Some(other) = others.iter().find(|other| stands_in(&load, other)) {
        let why = format!("a place where it and {} do not stand in each other", other.equipment.label());
        return Err(Unresolved::because(format!("{}/placement/x", one.pointer()), why));
    }
    in_the_walls(&room, &load, one)?;
    let size = text!(
        "{} by {}, {} high",
        in_unit(length(2.0 * (load.piece.half_width + load.piece.radius)), "in"),
        in_unit(length(2.0 * (load.piece.half_depth + load.piece.radius)), "in"),
        in_unit(length(load.height), "in")
    );
    sheet.line("largest piece", size, if load.said { "instructions" } else { "the whole body" });
    let (mut tried, mut best) = (Vec::new(), None::<(&Door, Vec<Pose>, Followed)>);
    for door in doors {
        let trial = Trial::of(inquiry, layout, &room, door, &others, &load, budget);
        let Outcome::Out(path) = &trial.outcome else {
            tried.push(trial);
            continue;
        };
        let end = path.last().copied().unwrap_or_else(|| load.piece.pose());
        let followed = match inquiry.value(&BEYOND) {
            true => onward::follow(inquiry, door, &load, &end, &mut vec![layout.space.id.clone()], budget),
            false => Followed::Out(Vec::new()),
        };
        if best.as_ref().is_none_or(|(_, _, before)| followed.rank() > before.rank()) {
            best = Some((door, path.clone(), followed));
        }
        if best.as_ref().is_some_and(|(_, _, followed)| matches!(followed, Followed::Out(_))) {
            break;
        }
    }
    if let Some((door, path, followed)) = best {
        if let Some(lacking) = layout.lacking.clone() {
            sheet.lack(lacking);
        }
        layout.undrawn(sheet);
        return Ok(out(inquiry, (layout, one, door), &load, (&path, followed), sheet));
    }
    // Another door, or another piece, may do.
    let lacking = layout.doors.iter().filter_map(|door| door.as_ref().err());
    let lacking = lacking.fold(layout.lacking.clone(), |before, more| Unresolved::joined(before, more.clone()));
    if let Some(unresolved) = lacking {
        return Err(unresolved);
    }
    if !load.said {
        return Err(Unresolved::because(
            format!("{}/service/largest_part", one.pointer()),
            "the largest piece that must be carried out: the whole body was not found to pass",
        ));
    }
    tried.iter().filter(|trial| trial.undecided()).for_each(|trial| trial.tell(layout, &load, sheet));
    if tried.iter().any(Trial::undecided) {
        return undecided(one, sheet);
    }
    tried.iter().for_each(|trial| trial.tell(layout, &load, sheet));
    Ok(text!("not carried out"))
}

/// Neither a way nor a proof: somebody must show the way, and where somebody says so, that is said.
fn undecided(one: &Place<Equipment>, sheet: &mut Sheet) -> Lookup<Text> {
    if one.service.as_ref().and_then(|service| service.blocked_by_construction) == Some(false) {
        sheet.advise(text!("the project says that nothing must be taken away to carry it out; the search neither found a way nor proved that there is none: show the way on the drawing"));
        return Ok(text!("as the project says"));
    }
    let wanted =
        "whether anything must be taken away to carry it out: the search neither found a way nor proved that there is none";
    Err(Unresolved::because(format!("{}/service/blocked_by_construction", one.pointer()), wanted))
}

fn out(
    inquiry: &Inquiry,
    (layout, one, door): (&Layout, &Place<Equipment>, &Door),
    load: &Load,
    (path, followed): (&[Pose], Followed),
    sheet: &mut Sheet,
) -> Text {
    let long: f64 = path.windows(2).map(|pair| norm(pair[1].middle - pair[0].middle)).sum();
    let round = load.piece.half_width + load.piece.half_depth <= 0.0;
    let turned = |pair: &[Pose]| dot(pair[0].along, pair[1].along).abs() < 1.0 - 1e-9;
    let turns = !round && path.windows(2).any(turned);
    let words = if turns { "turned on its way" } else { "without turning it" };
    sheet.test(
        "way out",
        text!("through {}, {} long, {}", door.opening.label(), in_unit(length(long), "ft"), words),
        SECTION,
        true,
    );
    let points: Vec<[f64; 3]> = path.iter().map(|pose| [pose.middle.x, pose.middle.y, 0.0]).collect();
    sheet.mark(line_mark(Some(&layout.space.id), "way out", &points));
    height(layout, door, load, sheet);
    match followed {
        Followed::Out(ways) if ways.is_empty() => {}
        Followed::Out(ways) => {
            sheet.test("way outdoors", text!("on through {}", ways.join(", ")), SECTION, true);
        }
        Followed::Held(words) => {
            sheet.test("way outdoors", text!("{}", words), SECTION, false);
            sheet.fault(text!("it gets out of {} and no farther: {}", layout.space.label(), words));
            sheet.cure(text!("make room on the way outdoors, or choose a piece that comes apart"));
        }
        Followed::Unknown(unresolved) => {
            onward::widths(inquiry, layout, door, load, sheet);
            let said = one.service.as_ref().and_then(|service| service.blocked_by_construction) == Some(false);
            if said {
                let words = text!("not followed on the drawing; the project says that nothing must be taken away");
                sheet.line("way outdoors", words, "");
            } else if sheet.sound() {
                sheet.lack(unresolved);
            }
        }
        Followed::Nowhere => {}
    }
    text!("carried out through {}, {}", door.opening.label(), words)
}

/// Whether the piece passes the door standing.
fn height(layout: &Layout, door: &Door, load: &Load, sheet: &mut Sheet) {
    let Some(clear) = sheet.want(door.clear_height()) else { return };
    if sheet.at_least("height of the door", &length(clear), &length(load.height), "in", SECTION) {
        return;
    }
    let lesser = load.piece.lesser();
    let tipping = redtag_handbook::space::removal::tipping_height(load.height, lesser);
    let Some(ceiling) = sheet.want(need!(layout.space, ceiling_height)) else { return };
    let tips = sheet.at_least("ceiling to tip it under", &ceiling, &length(tipping), "in", "diagonal of its side");
    if tips {
        sheet.advise(text!(
            "it is taller than {}, {} clear: it must be tipped, which was not followed in plan",
            door.opening.label(),
            in_unit(length(clear), "in")
        ));
    } else {
        sheet.fault(text!(
            "it is {} high and {} is {} high clear; to tip it takes {} of ceiling, and there are {}",
            in_unit(length(load.height), "in"),
            door.opening.label(),
            in_unit(length(clear), "in"),
            in_unit(length(tipping), "in"),
            &ceiling
        ));
    }
}
