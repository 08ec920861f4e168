//! Water pipes must not freeze: the service lies below the frost, and what runs in the cold is insulated or heated.
//!
//! Ice bursts a pipe and the thaw floods the house.
//!
//! **How it is measured.** The earth over the service, against 12 in and 6 in below the depth of frost. For pipes in crawl
//! spaces, attics and outer walls: what keeps them from freezing.
//!
//! **How it is fixed.** Deeper, or inside the insulation; a listed heating cable under insulation where it cannot be moved. A
//! heating cable belongs to a licensed electrician: **one laid across itself burns.**

use redtag_rule::prelude::*;

/// Depth.
const DEPTH: Quantity<dimensions::Length> = Quantity::new(
    "least_cover",
    "12 in",
    "The least earth over a service.",
    "from memory of IRC P2603.5; IPC 305 text read in a copy",
)
.within("0 in", "96 in");
/// Below frost.
const BELOW_FROST: Quantity<dimensions::Length> = Quantity::new(
    "below_frost",
    "6 in",
    "How far a service lies below the depth of frost.",
    "from memory of IRC P2603.5; IPC 305 text read in a copy",
)
.within("0 in", "24 in");
/// Draining.
const DRAINING: Flag = Flag::new(
    "draining_counts",
    false,
    "A pipe that is drained for the winter counts as kept from freezing.",
    "the model code names insulation and heat; authorities often accept draining for summer lines",
);

/// The rule.
pub const RULE: Rule = Rule {
    citations: &[remembered("IRC", "2021", "P2603.5"), remembered("IPC", "2021", "305.4")],
    parameters: &[&DEPTH, &BELOW_FROST, &DRAINING],
    reads: &["/water", "/site"],
    ..Rule::new("water-supply/freeze-protection", "Pipes that cannot freeze", check)
};

fn check(inquiry: &Inquiry) -> Vec<Finding> {
    let judged = |pipe: Place<'_, WaterPipe>| {
        if pipe.kind == WaterPipeKind::Hydronic {
            return pipe.not_applicable(text!("the water of a heating system")).done();
        }
        pipe.sheet("whether it can freeze", |sheet| judge(inquiry, &pipe, sheet))
    };
    need!(inquiry.project(), water.pipes).every().into_iter().map(judged).collect()
}

fn judge(inquiry: &Inquiry, pipe: &Place<WaterPipe>, sheet: &mut Sheet) -> Lookup<Text> {
    if pipe.kind == WaterPipeKind::Service {
        buried(inquiry, pipe, sheet);
    }
    let can_freeze = need!(pipe, can_freeze)?;
    if !*can_freeze {
        return Ok(text!("it runs where nothing freezes"));
    }
    let protection = need!(pipe, freeze_protection)?;
    let holds = match *protection {
        FreezeProtection::Insulation | FreezeProtection::HeatTracing | FreezeProtection::InsulationAndHeat => true,
        FreezeProtection::DrainedForWinter => inquiry.value(&DRAINING),
        _ => false,
    };
    if !sheet.test("protection", text!("{}", *protection), "IRC P2603.5, from memory", holds) {
        sheet.fault(text!("it runs where it can freeze, and {} is no protection", *protection));
        sheet.cure_at(
            text!("insulation with a listed heating cable, or another way inside"),
            &[(protection.pointer().to_owned(), json!("insulation-and-heat"))],
        );
    }
    Ok(text!("kept from freezing: {}", *protection))
}

fn buried(inquiry: &Inquiry, pipe: &Place<WaterPipe>, sheet: &mut Sheet) {
    let (Some(cover), Some(frost)) =
        (sheet.want(need!(pipe, burial_depth)), sheet.want(need!(inquiry.project(), site.frost_depth)))
    else {
        return;
    };
    let below = frost.quantity() + inquiry.value(&BELOW_FROST);
    let least = below.max(inquiry.value(&DEPTH));
    if !sheet.at_least("cover", &cover, &least, "in", "IRC P2603.5, from memory") {
        sheet.fault(text!(
            "{} of earth lie over it, {} is the least where the ground freezes {} deep",
            in_unit(&cover, "in"),
            in_unit(least, "in"),
            in_unit(&frost, "in")
        ));
        let written = quantity::Length::from_quantity(&least).print_in("in");
        sheet.cure_at(text!("lay it {} deep", in_unit(least, "in")), &[(cover.pointer().to_owned(), json!(written))]);
    }
}
