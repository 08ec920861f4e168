//! What is joined to drinking water must end clear above the drain: an air gap, and never a tube pushed into it.
//!
//! When a drain backs up, a softener's tube that hangs in it stands in sewage, and the softener is the way from there to the
//! kitchen tap. An inch of air is all that keeps them apart.
//!
//! **How it is measured.** How the pipe ends, and the height of its end above the receptor's rim against twice its inside
//! diameter, three times near a wall where a pack asks for that; a pack may ask for the table of water outlets instead.
//! Equipment that drinking water runs through needs an air gap; a washer or condensate may end in an air break, inside the
//! receptor but above its seal. The end should be fastened.
//!
//! **How it is fixed.** The tube is cut back, its end fastened above the rim.

use crate::discharging::treats_water;
use redtag_handbook::drainage::{drainage_air_gap, near_wall, sources, supply_air_gap};
use redtag_rule::prelude::*;
use uom::si::f64::Length;

/// The multiple.
const MULTIPLE: Number = Number::new(
    "diameters",
    2.0,
    "Least air gap, in inside diameters of the pipe's end.",
    "IPC 802.3.1, as a city that adopts it prints it",
)
.within(1.0, 4.0);
/// The floor.
const FLOOR: Quantity<dimensions::Length> = Quantity::new(
    "least_gap",
    "0 in",
    "Air gap that is never gone below, however small the pipe: 1 in in the UPC and in some city codes, none in the IPC.",
    "IPC 802.3.1; UPC",
)
.within("0 in", "3 in");
/// Which table.
const TABLE: Choice = Choice::new(
    "treatment_gap",
    "drainage",
    &["drainage", "supply-table"],
    "Whether softeners and filters need the gap of waste pipes, or that of water outlets with its allowance for walls.",
    "UPC 611.2 with Table 603.3.1 asks for the second, from memory",
);
/// Fastening.
const FASTENED: Flag = Flag::new(
    "fastened_required",
    false,
    "Whether an end that is not fastened is a fault, and not only worth a word.",
    "common practice: a loose tube finds its way into the drain; no model code asks it of waste tubes",
);
/// Walls.
const NEAR_WALL: Flag = Flag::new(
    "three_near_wall",
    false,
    "Whether three diameters are needed where the end is near a wall.",
    "IRC Table P2902.3.1 for water outlets; not asked of waste pipes",
);

/// The rule.
pub const RULE: Rule = Rule {
    citations: &[
        cited("IPC", "2018", "802.3.1"),
        remembered("IPC", "2021", "802.1.3"),
        remembered("IRC", "2021", "P2706.1"),
        cited("IRC", "2018", "P2902.3.1"),
    ],
    parameters: &[&MULTIPLE, &FLOOR, &TABLE, &NEAR_WALL, &FASTENED],
    reads: &["/drainage", "/equipment"],
    ..Rule::new("drainage/air-gap", "Air gaps of indirect waste", check)
};

const WANTED: &str = "whether the pipe ends clear of the drain";

fn check(inquiry: &Inquiry) -> Vec<Finding> {
    let tubes = need!(inquiry.project(), drainage.indirect).every();
    let judged = tubes.iter().map(|tube| match need!(tube, equipment).and_then(|id| inquiry.equipment(&id)) {
        Err(unresolved) => tube.ask(WANTED, || Err(unresolved)),
        Ok(equipment) => tube.sheet(WANTED, |sheet| judge(inquiry, tube, &equipment, sheet)),
    });
    let equipment = need!(inquiry.project(), equipment).every();
    let untold = equipment
        .iter()
        .filter(|thing| lets_go(thing))
        .filter(|thing| tubes.iter().all(|tube| tube.equipment.as_ref().is_some_and(|from| *from != thing.id)));
    let asked = untold.map(|thing| {
        let what = format!("the tube that carries the waste of {}: where and how it ends", thing.label());
        thing.ask(WANTED, || Err(Unresolved::because("/drainage/indirect", what)))
    });
    judged.chain(asked).collect()
}

/// Whether it lets water go as a matter of course, so that there must be a tube.
fn lets_go(thing: &Equipment) -> bool {
    use EquipmentKind as K;
    let here = thing.treatment.as_ref().and_then(|treatment| treatment.regenerated_on_site) != Some(false);
    let washes = matches!(thing.kind, K::IronFilter | K::AcidNeutralizer | K::CarbonFilter | K::SedimentFilter)
        && thing.treatment.as_ref().is_some_and(|treatment| treatment.backwash.is_some());
    here && (matches!(thing.kind, K::WaterSoftener | K::ReverseOsmosis) || washes)
}

/// Whether drinking water runs through it.
fn drinking_water(kind: EquipmentKind) -> bool {
    use EquipmentKind as K;
    treats_water(kind)
        || matches!(
            kind,
            K::StorageWaterHeater
                | K::TanklessWaterHeater
                | K::HeatPumpWaterHeater
                | K::IndirectWaterHeater
                | K::PressureTank
                | K::ExpansionTank
                | K::UltravioletDisinfection
                | K::Boiler
        )
}

fn judge(inquiry: &Inquiry, tube: &Place<IndirectWaste>, equipment: &Place<Equipment>, sheet: &mut Sheet) -> Lookup<Text> {
    let potable = drinking_water(equipment.kind);
    if let Some(secured) = sheet.want(need!(tube, secured)) {
        let words = if *secured { text!("its end is fastened") } else { text!("its end is not fastened") };
        if !sheet.test("fastened", words.clone(), "common practice: a loose tube finds its way into the drain", *secured) {
            if inquiry.value(&FASTENED) {
                sheet.fault(words)
            } else {
                sheet.advise(words)
            }
            // A gap that is put right is fastened with it.
            let gap_stands = tube.gap == Some(GapKind::AirGap) || (tube.gap == Some(GapKind::AirBreak) && !potable);
            if gap_stands {
                sheet.cure_at(text!("fasten its end"), &[(secured.pointer().to_owned(), json!(true))]);
            }
        }
    }
    let gap = need!(tube, gap)?;
    match *gap {
        GapKind::Direct => {
            sheet.test("end", text!("joined to the drain"), sources::DRAINAGE_GAP.text(), false);
            sheet.fault(text!("it is pushed into the drain or joined to it: there is no air gap"));
        }
        GapKind::AirBreak if potable => {
            sheet.test("end", text!("below the rim of the drain"), sources::DRAINAGE_GAP.text(), false);
            sheet.fault(text!("it ends below the rim of the drain; what drinking water runs through needs an air gap"));
        }
        GapKind::AirBreak => return Ok(text!("an air break, enough for {}", equipment.label())),
        _ => {}
    }
    let inside = need!(tube, inside_diameter)?;
    let wanted = wanted(inquiry, tube, equipment, inside.quantity());
    if *gap == GapKind::AirGap {
        let actual = height(inquiry, tube)?;
        let words =
            text!("{} above the rim, {} is the least for {} inside", in_unit(actual, "in"), in_unit(wanted, "in"), inside);
        if sheet.require("air gap", words.clone(), sources::DRAINAGE_GAP.text(), at_least(actual, wanted)) {
            if tube.wall_distance.is_none() && !at_least(actual, gap_at(inquiry, equipment, inside.quantity(), true)) {
                sheet.lack(tube.missing("/wall_distance"));
            }
            return Ok(words);
        }
    }
    let written = quantity::Length::from_quantity(&wanted).print_in("in");
    let at = |field: &str| format!("{}/{field}", tube.pointer());
    let values = [(at("gap"), json!("air-gap")), (at("air_gap"), json!(written)), (at("secured"), json!(true))];
    sheet.cure_at(text!("cut it back to end {} above the rim at the least, and fasten it there", in_unit(wanted, "in")), &values);
    if let Ok(drain) = need!(tube, drain) {
        mark(inquiry, &drain, sheet);
    }
    Ok(text!("no air gap"))
}

/// The gap that is asked for.
fn wanted(inquiry: &Inquiry, tube: &Place<IndirectWaste>, equipment: &Place<Equipment>, inside: Length) -> Length {
    let close = tube.wall_distance.as_ref().is_some_and(|wall| near_wall(wall.quantity(), inside, false));
    gap_at(inquiry, equipment, inside, close)
}

/// The same, near a wall or not.
fn gap_at(inquiry: &Inquiry, equipment: &Equipment, inside: Length, close: bool) -> Length {
    if treats_water(equipment.kind) && inquiry.value(&TABLE) == "supply-table" {
        return supply_air_gap(inside, close);
    }
    let multiple = if close && inquiry.value(&NEAR_WALL) { 3.0 } else { inquiry.value(&MULTIPLE) };
    drainage_air_gap(inside, multiple, inquiry.value(&FLOOR))
}

/// Height of the end above the rim.
fn height(inquiry: &Inquiry, tube: &Place<IndirectWaste>) -> Lookup<Length> {
    if let Ok(gap) = need!(tube, air_gap) {
        return Ok(gap.quantity());
    }
    let Ok(end) = need!(tube, end) else { return Err(tube.missing("/air_gap")) };
    let drain = need!(inquiry.project(), drainage.drains).named(&need!(tube, drain)?)?;
    Ok(end.quantity() - need!(drain, rim)?.quantity())
}

fn mark(inquiry: &Inquiry, drain: &Place<String>, sheet: &mut Sheet) {
    let Ok(drain) = need!(inquiry.project(), drainage.drains).named(drain) else { return };
    sheet.related(drain.pointer());
    if let Some(at) = &drain.at {
        sheet.mark(point_mark(
            drain.space.as_deref(),
            "no air gap",
            [at.x.si(), at.y.si(), drain.rim.as_ref().map_or(0.0, |rim| rim.si())],
        ));
    }
}
