//! A box built out through a foundation wall for ducts is a hole in structure, insulation and against water and pests.
//!
//! The chase that brings a trunk into a crawl space is often framed last and looked at least: no header over the hole, no flashing,
//! mice inside, cold walls, and joints nobody can reach again.
//!
//! **How it is measured.** For each such box the project names: what carries the wall over its hole, whether it is closed against
//! water and pests, its insulation against that of the wall around it, whether the ground cover laps up to it, whether joints in it
//! can be reached. What blocks it against fire is asked about by `fire-separation/fireblocking`.
//!
//! **How it is fixed.** A header as drawn, flashing, mesh and sealant, insulation as good as the wall, an access panel.

use redtag_handbook::ducts::sources;
use redtag_rule::prelude::*;

/// Whether joints must be reachable.
const JOINTS: Flag =
    Flag::new("joints_reachable", true, "Whether joints of ducts in the chase must stay within reach.", "common practice");
/// Whether insulation must match.
const INSULATED: Flag = Flag::new(
    "insulated_as_wall",
    true,
    "Whether the chase must be insulated as well as the wall or floor around it.",
    "from memory of IRC R1102.4",
);

/// The rule.
pub const RULE: Rule = Rule {
    citations: &[remembered("IRC", "2021", "R404"), remembered("IRC", "2021", "R408"), remembered("IRC", "2021", "N1102.4")],
    parameters: &[&JOINTS, &INSULATED],
    reads: &["/spaces"],
    ..Rule::new("ducts/foundation-chases", "Duct chases through foundation walls", check)
};

fn check(inquiry: &Inquiry) -> Vec<Finding> {
    let spaces = need!(inquiry.project(), spaces).every();
    let boxes = spaces.iter().flat_map(|space| boxes_of(space).into_iter().map(|hidden| (space.kind, hidden)));
    boxes
        .map(|(kind, hidden)| {
            hidden.sheet("whether the chase is closed as a wall is", |sheet| judge(inquiry, kind, &hidden, sheet))
        })
        .collect()
}

fn boxes_of<'a>(space: &Place<'a, Space>) -> Vec<Place<'a, ConcealedSpace>> {
    need!(space, concealed).every().into_iter().filter(|hidden| hidden.kind == ConcealedKind::FoundationBumpOut).collect()
}

fn judge(inquiry: &Inquiry, kind: SpaceKind, hidden: &Place<ConcealedSpace>, sheet: &mut Sheet) -> Lookup<Text> {
    let mut demands = vec![
        (need!(hidden, header), "nothing is shown to carry the wall over its hole", "a header or lintel as drawn"),
        (need!(hidden, water_tight), "it is not closed against water", "flash it and seal its joints"),
        (need!(hidden, pest_tight), "it is not closed against pests", "close every gap with mesh and sealant"),
    ];
    if kind == SpaceKind::CrawlSpace {
        demands.push((
            need!(hidden, retarder_laps),
            "the vapor retarder does not lap up to it",
            "lap the retarder up to the chase and tape it",
        ));
    }
    if inquiry.value(&JOINTS) {
        demands.push((
            need!(hidden, joints_reachable),
            "joints inside it cannot be reached",
            "an access panel, or no joint inside",
        ));
    }
    for (fact, fault, cure) in demands {
        if let Some(fact) = sheet.want(fact)
            && !sheet.require("chase", text!("{}", fault), sources::FOUNDATION.text(), *fact.get())
        {
            sheet.cure_at(text!("{}", cure), &[(fact.pointer().to_owned(), json!(true))]);
        }
    }
    if inquiry.value(&INSULATED) {
        let (own, around) = (sheet.want(need!(hidden, insulation)), sheet.want(need!(hidden, insulation_around)));
        if let (Some(own), Some(around)) = (own, around) {
            let words = text!("insulated to {}, the wall around it to {}", own, around);
            sheet.require("insulation", words, sources::FOUNDATION.text(), at_least(own.quantity(), around.quantity()));
        }
    }
    Ok(text!("closed, carried and insulated as a wall is"))
}
