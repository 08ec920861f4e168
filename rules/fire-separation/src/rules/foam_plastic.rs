//! Foam plastic must lie behind a thermal barrier, or in attics and crawl spaces behind an ignition barrier, unless a test allows it.
//!
//! Bare foam turns a small fire into smoke that fills a house in minutes. The barrier gives it fifteen minutes: gypsum board, a thick
//! structural panel, or what passed the test.
//!
//! **How it is measured.** By what each space says of foam in it, and by the layers of each wall: foam must have the barrier nearer
//! to the room, over the whole face. Spaces entered only to service what stands there may do with an ignition barrier. Foam
//! on a rim joist goes bare where it is thin and its indexes are low, its density by its report.
//!
//! **How it is fixed.** Board over the foam; a covering that is listed for it; the report of the foam that allows it bare.

use crate::faces;
use crate::parameters::{COUNTING, counting};
use crate::parts::{Part, parts, spaces};
use redtag_handbook::fire::{
    Answer, Face as Side, Finish, FoamFacts, FoamLimits, Layer as Known, LayerFact, Material, RimJoist, bare_foam,
    behind_barrier, ignition_barrier, rim_joist, sources,
};
use redtag_rule::prelude::*;

/// Barrier of board.
const BOARD: Quantity<dimensions::Length> =
    Quantity::new("barrier_board", "1/2 in", "Least gypsum board as a thermal barrier.", "IRC R316.4");
/// Barrier of panel.
const PANEL: Quantity<dimensions::Length> = Quantity::new(
    "barrier_panel",
    "23/32 in",
    "Least wood structural panel as a thermal barrier; not in editions before 2015.",
    "from memory of IRC R316.4",
);
/// Whether panel counts.
const PANEL_COUNTS: Flag = Flag::new(
    "panel_is_barrier",
    true,
    "Whether a wood structural panel may be the thermal barrier.",
    "from memory of IRC R316.4, 2015 and later",
);
/// Flame spread.
const FLAME: Number =
    Number::new("foam_flame_spread", 75.0, "Greatest flame spread index of foam plastic.", "from memory of IRC R316.3");
/// Smoke.
const SMOKE: Number =
    Number::new("foam_smoke", 450.0, "Greatest smoke-developed index of foam plastic.", "from memory of IRC R316.3");
/// On a rim joist.
const RIM: Quantity<dimensions::Length> =
    Quantity::new("rim_thickness", "3 1/4 in", "Greatest thickness of bare foam on a rim joist.", "IRC R316.5.11");
/// On a rim joist.
const RIM_FLAME: Number =
    Number::new("rim_flame_spread", 25.0, "Greatest flame spread index of bare foam on a rim joist.", "IRC R316.5.11");

/// The rule.
pub const RULE: Rule = Rule {
    citations: &[cited("IRC", "2021", "R316.4"), cited("IRC", "2021", "R316.5"), remembered("IRC", "2024", "R303")],
    parameters: &[&BOARD, &PANEL, &PANEL_COUNTS, &FLAME, &SMOKE, &RIM, &RIM_FLAME, &COUNTING],
    reads: &["/spaces"],
    ..Rule::new("fire-separation/foam-plastic", "Barriers over foam plastic", check)
};

const WANTED: &str = "whether foam plastic lies behind its barrier";

fn check(inquiry: &Inquiry) -> Vec<Finding> {
    let foamed = spaces(inquiry).into_iter().filter(|space| space.foam_plastic.is_some());
    let mut findings: Vec<Finding> = foamed.map(|space| space.sheet(WANTED, |sheet| of_space(inquiry, &space, sheet))).collect();
    findings.extend(
        parts(inquiry)
            .iter()
            .filter(|part| has_foam(part))
            .map(|part| part.assembly.sheet(WANTED, |sheet| of_part(inquiry, part, sheet))),
    );
    findings
}

fn limits(inquiry: &Inquiry) -> FoamLimits {
    FoamLimits {
        flame: inquiry.value(&FLAME),
        smoke: inquiry.value(&SMOKE),
        rim_thickness: inquiry.value(&RIM),
        rim_flame: inquiry.value(&RIM_FLAME),
        ..FoamLimits::default()
    }
}

fn of_space(inquiry: &Inquiry, space: &Place<Space>, sheet: &mut Sheet) -> Lookup<Text> {
    let foam = need!(space, foam_plastic)?;
    let limits = limits(inquiry);
    for (index, most, words) in [
        (need!(foam, flame_spread), limits.flame, "flame spread"),
        (need!(foam, smoke_developed), limits.smoke, "smoke-developed"),
    ] {
        if let Some(index) = sheet.want(index) {
            sheet.require(
                "index",
                text!("{} index {}, {} is the most", words, *index, most.to_string()),
                sources::FOAM_FLAME.text(),
                f64::from(*index) <= most,
            );
        }
    }
    if foam.covered == Some(true) {
        return Ok(text!("covered by a barrier"));
    }
    let exposed = need!(foam, exposed)?;
    if !*exposed.get() {
        need!(foam, covered).map(|_| ())?;
        // Neither exposed nor covered by a barrier the code names: something else covers it.
        sheet.require("barrier", text!("what covers the foam is no barrier that the code names"), sources::FOAM.text(), false);
        return Ok(cure(sheet));
    }
    if let Some(report) = &foam.report {
        match report.accepted {
            Some(true) => return Ok(text!("a report allows it bare: {}", report.document.clone().unwrap_or_default())),
            None => return Err(foam.missing("/report/accepted")),
            Some(_) => {}
        }
    }
    if foam.at_rim_joist == Some(true) {
        return on_rim(&foam, &limits, sheet);
    }
    sheet.require("barrier", text!("foam plastic faces the space without a barrier"), sources::FOAM.text(), false);
    Ok(cure(sheet))
}

fn cure(sheet: &mut Sheet) -> Text {
    sheet.cure(text!("cover the foam with gypsum board, or show the report that allows it bare there"));
    Text::default()
}

fn on_rim(foam: &Place<FoamPlastic>, limits: &FoamLimits, sheet: &mut Sheet) -> Lookup<Text> {
    let facts = FoamFacts {
        thickness: foam.thickness.as_ref().map(|thickness| thickness.quantity()),
        flame: foam.flame_spread.map(f64::from),
        smoke: foam.smoke_developed.map(f64::from),
    };
    match rim_joist(&facts, limits) {
        Answer::Yes => {
            let density = "a report that shows the foam's density, 0.5 to 2.0 lb/ft3";
            need!(foam, report.document).map_err(|_| Unresolved::because(format!("{}/report", foam.pointer()), density))?;
            Ok(text!("thin foam of low flame spread on a rim joist"))
        }
        Answer::No => {
            let words =
                text!("foam on a rim joist is thicker than {} or spreads flame too fast", in_unit(limits.rim_thickness, "in"));
            sheet.require("rim joist", words, sources::RIM_JOIST.text(), false);
            Ok(cure(sheet))
        }
        Answer::Depends(facts) => {
            for fact in facts {
                sheet.lack(foam.missing(match fact {
                    RimJoist::Thickness => "/thickness",
                    RimJoist::Flame => "/flame_spread",
                    RimJoist::Smoke => "/smoke_developed",
                }));
            }
            Ok(Text::default())
        }
    }
}

/// Whether foam is on the face of a part; a layer of a material nobody says may be foam.
fn has_foam(part: &Part) -> bool {
    let known = |layers: &Vec<Layer>| faces::of(layers, Side::This);
    part.assembly.layers.as_ref().is_some_and(|layers| bare_foam(&known(layers)) || unsaid(&known(layers)).is_some())
}

fn unsaid(known: &[Known]) -> Option<usize> {
    known.iter().position(|layer| layer.on_face != Some(false) && layer.material.is_none())
}

fn of_part(inquiry: &Inquiry, part: &Part, sheet: &mut Sheet) -> Lookup<Text> {
    let layers = need!(part.assembly, layers)?;
    sheet.line("there", faces::words(layers.get(), Side::This), "");
    let known = faces::of(layers.get(), Side::This);
    if let (false, Some(index)) = (bare_foam(&known), unsaid(&known)) {
        return Err(Unresolved::at(format!("{}/{index}/material", layers.pointer())));
    }
    let barrier = Finish::gypsum(inquiry.value(&BOARD), false);
    let barrier = if inquiry.value(&PANEL_COUNTS) { barrier.or_panel(inquiry.value(&PANEL)) } else { barrier };
    let thermal = behind_barrier(&known, &barrier, counting(inquiry));
    let answer = match service_only(part) {
        Ok(true) => Answer::any([thermal, ignition(&known)]),
        Ok(false) => thermal,
        Err(_) if thermal.yes() => thermal,
        Err(unresolved) => return Err(unresolved),
    };
    match answer {
        Answer::Yes => Ok(text!("behind its barrier")),
        Answer::Depends(facts) => {
            faces::lack(sheet, layers.pointer(), facts);
            Ok(Text::default())
        }
        Answer::No => {
            sheet.require("barrier", text!("no whole barrier lies between the foam and the room"), sources::FOAM.text(), false);
            crate::area::mark(part, "foam without a barrier").into_iter().for_each(|mark| sheet.mark(mark));
            Ok(cure(sheet))
        }
    }
}

/// Whether the space is an attic or crawl space entered only to service what stands there.
fn service_only(part: &Part) -> Lookup<bool> {
    if !matches!(part.space.kind, SpaceKind::Attic | SpaceKind::CrawlSpace) || part.space.used_for_storage == Some(true) {
        return Ok(false);
    }
    need!(part.space, service_only).map(|only| *only.get())
}

/// Whether every foam layer has an ignition barrier nearer to the room.
fn ignition(known: &[Known]) -> Answer<(usize, LayerFact)> {
    let foams =
        known.iter().enumerate().filter(|(_, layer)| layer.material == Some(Material::Foam) && layer.on_face != Some(false));
    Answer::all(foams.map(|(index, _)| {
        let outside = known.iter().enumerate().skip(index + 1);
        Answer::any(outside.map(|(later, layer)| ignition_barrier(layer).map(|fact| (later, fact))))
    }))
}
