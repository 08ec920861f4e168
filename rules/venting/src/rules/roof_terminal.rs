//! A vent or chimney ends high enough above the roof, out of the wind's eddies.
//!
//! Close to a roof or a wall the wind presses down and pushes the gases back into the house. An end in an attic or indoors fills it
//! with carbon monoxide. Vents are work for a licensed contractor.
//!
//! **How it is measured.** A listed cap of 12 in or less, 8 ft from any wall that rises beside it, by the slope of the roof: 1 ft to
//! 6 in 12, more on steeper roofs. Otherwise 2 ft above where it passes through and above anything within 10 ft. A chimney 3 ft
//! above the roof. Its end 5 ft above the highest draft hood or flue collar, that of a wall furnace's Type B-W vent 12 ft above the
//! bottom of the furnace. In a wall only direct vents and vents that a fan drives may end.
//!
//! **How it is fixed.** More pipe, braced where it stands high, and a listed cap.

use crate::appliances::{category, direct_vent, served, vents};
use redtag_handbook::venting::{roof, sources};
use redtag_rule::prelude::*;
use uom::si::f64::Length;

/// Wall.
const WALL: Quantity<dimensions::Length> = Quantity::new(
    "wall_distance",
    "8 ft",
    "Distance from a wall beyond which a listed cap may end by the slope of the roof.",
    "IRC figure G2427.6.4 (2018, page 591)",
);
/// Above things.
const ABOVE: Quantity<dimensions::Length> = Quantity::new(
    "above_obstructions",
    "2 ft",
    "Height above the roof and above anything near, where the slope of the roof does not decide.",
    "IFGC 503.6.4 (2018 IRC page 591)",
);
/// Within.
const WITHIN: Quantity<dimensions::Length> = Quantity::new(
    "obstructions_within",
    "10 ft",
    "How near sideways a part of a building counts.",
    "IFGC 503.6.4 (2018 IRC page 591)",
);
/// Chimney.
const CHIMNEY: Quantity<dimensions::Length> = Quantity::new(
    "chimney_above_roof",
    "3 ft",
    "Height of a chimney above the roof where it passes through.",
    "from memory of IFGC 503.5.4",
);
/// Above the hood.
const HOOD: Quantity<dimensions::Length> = Quantity::new(
    "above_draft_hood",
    "5 ft",
    "Height of the end above the highest draft hood or flue collar.",
    "IFGC 503.6.6 (a field guide to the code)",
);

/// Above a wall furnace.
const WALL_FURNACE: Quantity<dimensions::Length> = Quantity::new(
    "above_wall_furnace",
    "12 ft",
    "Height of the end of a Type B-W vent above the bottom of its wall furnace.",
    "IFGC 503.6 (a field guide to the code)",
);

/// The rule.
pub const RULE: Rule = Rule {
    citations: &[cited("IRC", "2018", "G2427.6.4"), cited("IFGC", "2018", "503.6.4"), remembered("IFGC", "2021", "503.5.4")],
    parameters: &[&WALL, &ABOVE, &WITHIN, &CHIMNEY, &HOOD, &WALL_FURNACE],
    reads: &["/vents", "/equipment"],
    ..Rule::new("venting/roof-terminal", "Ends of vents above roofs", check)
};

fn check(inquiry: &Inquiry) -> Vec<Finding> {
    vents(inquiry).iter().map(|vent| one(inquiry, vent)).collect()
}

fn one(inquiry: &Inquiry, vent: &Place<Vent>) -> Finding {
    use VentKind as K;
    if vent.terminal.as_ref().is_some_and(|terminal| terminal.kind == TerminalKind::Wall) {
        return match of_draft_alone(inquiry, vent) {
            Ok(None) => vent.not_applicable(text!("it ends in a wall, as direct vents and those a fan drives may")).done(),
            Ok(Some(appliance)) => vent.sheet("where it may end", |sheet| {
                in_wall(sheet, vent, &appliance);
                Ok(Text::default())
            }),
            Err(unresolved) => vent.ask("whether it may end in a wall", || Err(unresolved)),
        };
    }
    if matches!(vent.kind, K::Plastic | K::DirectVent | K::SpecialGasVent) && !lost(vent) {
        return vent.not_applicable(text!("its instructions say how high it ends")).done();
    }
    vent.sheet("whether it ends high enough", |sheet| judge(inquiry, sheet, vent))
}

/// An appliance on the vent whose gases only their own heat drives, if there is one.
fn of_draft_alone<'a>(inquiry: &Inquiry<'a>, vent: &Place<'a, Vent>) -> Lookup<Option<Place<'a, Equipment>>> {
    let mut unsaid = None;
    for appliance in served(inquiry, vent)? {
        let burner = need!(appliance, fuel_burning.burner).map(|burner| *burner);
        let facts = match burner {
            // A separate fan or one that drives the gases through the vent is mechanical draft.
            Ok(Burner::PowerVenter | Burner::PowerVented | Burner::PowerBurner) => continue,
            Ok(Burner::DraftHood) => return Ok(Some(appliance)),
            Ok(burner) => (direct_vent(&appliance), Ok(burner)).together(),
            Err(missing) => (direct_vent(&appliance), Err::<Burner, _>(missing)).together(),
        };
        match facts.and_then(|(direct, _)| Ok(!direct && category(&appliance)? == VentCategory::CategoryI)) {
            Ok(true) => return Ok(Some(appliance)),
            Ok(false) => {}
            Err(missing) => unsaid = Unresolved::joined(unsaid, missing),
        }
    }
    unsaid.map_or(Ok(None), Err)
}

/// Only a direct vent and mechanical draft may end beside a wall.
fn in_wall(sheet: &mut Sheet, vent: &Place<Vent>, appliance: &Place<Equipment>) {
    let words = text!("it ends in a wall, and nothing but their own heat drives the gases of {}", appliance.label());
    sheet.require("end in a wall", words, "IRC G2427.6 (IFGC 503.6), exterior wall penetrations", false);
    sheet.cure(text!("carry it above the roof, or replace {} by one that is made to vent through a wall", appliance.label()));
    sheet.related(appliance.pointer());
    if let Some(terminal) = &vent.terminal {
        mark(sheet, vent, &vent.below("/terminal", terminal));
    }
}

fn lost(vent: &Place<Vent>) -> bool {
    vent.terminal.as_ref().is_none_or(|terminal| matches!(terminal.kind, TerminalKind::Attic | TerminalKind::Indoors))
}

fn judge(inquiry: &Inquiry, sheet: &mut Sheet, vent: &Place<Vent>) -> Lookup<Text> {
    let terminal = need!(vent, terminal)?;
    if lost(vent) {
        sheet.fault(text!("it ends {}", if terminal.kind == TerminalKind::Attic { "in an attic" } else { "indoors" }));
        sheet.cure(text!("lead it outdoors, above the roof"));
        mark(sheet, vent, &terminal);
        return Ok(Text::default());
    }
    if terminal.kind == TerminalKind::Unrecognised {
        return Err(terminal.missing("/kind"));
    }
    let chimney = matches!(vent.kind, VentKind::MasonryChimney | VentKind::FactoryBuiltChimney | VentKind::LinedChimney);
    let capped = match chimney || vent.kind == VentKind::SingleWall {
        true => Ok(false),
        false => capped(inquiry, vent, &terminal),
    };
    let Some(by_slope) = sheet.want(capped) else {
        // Which height it needs is not known; that it is under every one of them may be.
        hood(inquiry, sheet, vent);
        return Ok(Text::default());
    };
    let above_things = inquiry.value(&ABOVE);
    let least = if chimney { inquiry.value(&CHIMNEY) } else { above_things };
    let slope = if by_slope { sheet.want(need!(terminal, roof_slope)) } else { None };
    let by_table = slope.as_ref().map(|slope| roof::listed_cap(slope.si()));
    match by_table {
        Some(None) => {
            let what = "an approved height: the roof is steeper than the figure of the code";
            sheet.lack(Unresolved::because(format!("{}/above_roof", terminal.pointer()), what));
        }
        Some(Some(height)) => height_above(sheet, vent, &terminal, height, sources::ROOF.text()),
        None if !by_slope => height_above(sheet, vent, &terminal, least, sources::ROOF.text()),
        None => {}
    }
    if !by_slope {
        obstructions(inquiry, sheet, &terminal, above_things);
    }
    hood(inquiry, sheet, vent);
    Ok(text!("high enough above the roof"))
}

/// Whether the slope of the roof alone decides: a listed cap of 12 in or less, far from walls.
fn capped(inquiry: &Inquiry, vent: &Place<Vent>, terminal: &Place<VentTerminal>) -> Lookup<bool> {
    let facts = (need!(terminal, listed_cap), need!(terminal, wall_distance), need!(vent, diameter)).together();
    let (cap, wall, diameter) = facts?;
    let small = at_most(diameter.quantity(), redtag_handbook::units::inches(12.0));
    Ok(*cap && small && at_least(wall.quantity(), inquiry.value(&WALL)))
}

fn height_above(sheet: &mut Sheet, vent: &Place<Vent>, terminal: &Place<VentTerminal>, least: Length, source: &str) {
    let Some(height) = sheet.want(need!(terminal, above_roof)) else { return };
    let words = text!("{} above the roof, {} is the least", in_unit(&height, "in"), in_unit(least, "in"));
    if !sheet.require("above the roof", words, source, at_least(height.quantity(), least)) {
        let inches = redtag_handbook::units::in_inches(least);
        let cure = text!("raise it by {}, to {}", in_unit(least - height.quantity(), "in"), in_unit(least, "in"));
        sheet.cure_at(cure, &[(height.pointer().to_owned(), json!(format!("{inches} in")))]);
        mark(sheet, vent, terminal);
    }
}

fn obstructions(inquiry: &Inquiry, sheet: &mut Sheet, terminal: &Place<VentTerminal>, least: Length) {
    let Some(nearby) = sheet.want(need!(terminal, nearby)) else { return };
    for thing in nearby.items().filter(|thing| thing.kind == NearbyKind::Obstruction) {
        let facts = (need!(thing, horizontal), need!(thing, vertical)).together();
        let Some((side, above)) = sheet.want(facts) else { continue };
        if !at_most(side.quantity(), inquiry.value(&WITHIN)) {
            continue;
        }
        let words = text!(
            "{} above what stands {} beside it, {} is the least",
            in_unit(&above, "in"),
            in_unit(&side, "ft"),
            in_unit(least, "in")
        );
        if !sheet.require("above what is near", words, sources::ROOF.text(), at_least(above.quantity(), least)) {
            sheet.cure(text!("raise it by {}", in_unit(least - above.quantity(), "in")));
            sheet.related(thing.pointer());
        }
    }
}

/// Type B, BW and L vents and single-wall pipe end well above the draft hood.
fn hood(inquiry: &Inquiry, sheet: &mut Sheet, vent: &Place<Vent>) {
    let one = served(inquiry, vent).and_then(|all| {
        all.iter()
            .map(|item| Ok(!direct_vent(item)? && category(item)? == VentCategory::CategoryI))
            .collect::<Vec<_>>()
            .together()
    });
    let Some(true) = sheet.want(one).map(|all| all.into_iter().any(|first| first)) else { return };
    if vent.kind == VentKind::TypeBw {
        return wall_furnace(inquiry, sheet, vent);
    }
    let Some(height) = sheet.want(need!(vent, height)) else { return };
    let least = inquiry.value(&HOOD);
    let words = text!("{} above the highest draft hood or collar, {} is the least", in_unit(&height, "ft"), in_unit(least, "ft"));
    if !sheet.require("above the draft hood", words, sources::ABOVE_HOOD.text(), at_least(height.quantity(), least)) {
        sheet.cure(text!("raise the vent by {}", in_unit(least - height.quantity(), "ft")));
    }
}

/// The vent of a wall furnace is measured from the bottom of the furnace.
fn wall_furnace(inquiry: &Inquiry, sheet: &mut Sheet, vent: &Place<Vent>) {
    let least = inquiry.value(&WALL_FURNACE);
    // What is that far above the collar is farther above the bottom.
    let above_collar = need!(vent, height).ok().filter(|height| at_least(height.quantity(), least));
    let height = above_collar.map_or_else(|| need!(vent, height_above_furnace), Ok);
    let Some(height) = sheet.want(height) else { return };
    let words = text!("{} above the bottom of the wall furnace, {} is the least", in_unit(&height, "ft"), in_unit(least, "ft"));
    let source = "IRC G2427.6 (IFGC 503.6), Type B-W vents";
    if !sheet.require("above the wall furnace", words, source, at_least(height.quantity(), least)) {
        sheet.cure(text!("raise the vent by {}", in_unit(least - height.quantity(), "ft")));
    }
}

fn mark(sheet: &mut Sheet, vent: &Place<Vent>, terminal: &Place<VentTerminal>) {
    if let Some(at) = &terminal.at {
        let up = vent.height.as_ref().map_or(0.0, |height| height.si());
        sheet.mark(point_mark(None, format!("{}: ends too low", vent.id), [at.x.si(), at.y.si(), up]));
    }
}
