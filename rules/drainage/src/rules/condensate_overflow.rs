//! Where an overflow of condensate would damage the building, something must catch it or stop it: a pan with a drain that is seen,
//! a second drain, a pan with a float switch, or a float switch in the equipment.
//!
//! Condensate drains clog; the question is only whether anybody notices before the ceiling does.
//!
//! **How it is measured.** Whether damage is to be feared, which of the four ways protects, and what that way asks for: the
//! pan's depth (1 1/2 in), its size around the equipment (3 in larger, in each dimension or on each side as the pack reads it), its
//! material's thickness, the size of its drain (3/4 in) and where that ends; the second drain higher than the first; the float switch
//! listed to UL 508 and stopping the equipment.
//!
//! **How it is fixed.** One of the four ways, made whole.

use super::condensate_drain::makes_condensate;
use redtag_handbook::units::inches;
use redtag_rule::prelude::*;
use uom::si::f64::Length;

/// Depth of the pan.
const DEPTH: Quantity<dimensions::Length> =
    Quantity::new("pan_depth", "1 1/2 in", "Least depth of a pan under the equipment.", "2018 IRC M1411.3.1, page 531")
        .within("1 in", "4 in");
/// How much larger.
const LARGER: Quantity<dimensions::Length> =
    Quantity::new("pan_larger", "3 in", "How much larger than the equipment its pan must be.", "2018 IRC M1411.3.1, page 531")
        .within("0 in", "6 in");
/// How that is read.
const READING: Choice = Choice::new(
    "pan_larger_reading",
    "in-each-dimension",
    &["in-each-dimension", "on-each-side"],
    "Whether the pan is so much larger in width and length altogether, or on each side of the equipment.",
    "both readings of 2018 IRC M1411.3.1 are in use",
);
/// Its drain.
const DRAIN: Quantity<dimensions::Length> = Quantity::new(
    "overflow_size",
    "3/4 in",
    "Least nominal size of the drain of the pan, or of the second drain.",
    "2018 IRC M1411.3.1, page 531",
)
.within("1/2 in", "1 1/2 in");

/// The rule.
pub const RULE: Rule = Rule {
    citations: &[cited("IRC", "2018", "M1411.3.1"), cited("UPC", "2024", "814.2"), remembered("IRC", "2021", "M1411.3.1.1")],
    parameters: &[&DEPTH, &LARGER, &READING, &DRAIN],
    reads: &["/equipment", "/drainage"],
    ..Rule::new("drainage/condensate-overflow", "Overflow of condensate", check)
};

const WANTED: &str = "whether an overflow of condensate is caught or stopped";
const SOURCE: &str = "2018 IRC M1411.3.1";

fn check(inquiry: &Inquiry) -> Vec<Finding> {
    let equipment = need!(inquiry.project(), equipment).every();
    equipment
        .iter()
        .filter(|thing| makes_condensate(thing))
        .map(|thing| {
            let harm = need!(thing, condensate.overflow_would_damage);
            if harm.as_ref().is_ok_and(|harm| !**harm) {
                return thing.not_applicable(text!("an overflow would do no damage")).done();
            }
            thing.sheet(WANTED, |sheet| {
                harm?;
                judge(inquiry, thing, sheet)
            })
        })
        .collect()
}

fn judge(inquiry: &Inquiry, thing: &Place<Equipment>, sheet: &mut Sheet) -> Lookup<Text> {
    let way = need!(thing, condensate.overflow_protection)?;
    match *way {
        OverflowProtection::None => {
            sheet.test("protection", text!("none"), SOURCE, false);
            sheet.fault(text!("an overflow would do damage, and nothing catches or stops it"));
            let at = |field: &str| format!("{}/condensate/{field}", thing.pointer());
            let values = [(at("overflow_protection"), json!("device")), (at("device_listed"), json!(true))];
            sheet.cure_at(text!("a water-level device listed to UL 508 that stops the equipment"), &values);
        }
        OverflowProtection::PanWithDrain => {
            pan(inquiry, thing, sheet);
            drain(inquiry, thing, sheet);
        }
        OverflowProtection::SecondDrain => {
            drain(inquiry, thing, sheet);
            let higher = sheet.want(need!(thing, condensate.overflow_above_primary));
            hold(sheet, higher, ("it begins above the first drain", "it does not begin above the first drain"));
        }
        OverflowProtection::PanWithDevice => {
            pan(inquiry, thing, sheet);
            let stops = sheet.want(need!(thing, pan.shuts_off));
            hold(sheet, stops, ("the float in the pan stops it", "nothing in the pan stops it"));
        }
        _ => {
            let listed = sheet.want(need!(thing, condensate.device_listed));
            hold(
                sheet,
                listed,
                ("its float switch is listed and stops it", "its float switch is not listed, or does not stop it"),
            );
        }
    }
    Ok(text!("protected by: {}", *way))
}

fn hold(sheet: &mut Sheet, fact: Option<Place<bool>>, (yes, no): (&str, &str)) {
    if let Some(fact) = fact
        && !sheet.require("protection", text!("{}", if *fact { yes } else { no }), SOURCE, *fact)
    {
        sheet.cure_at(text!("make it so that {}", yes), &[(fact.pointer().to_owned(), json!(true))]);
    }
}

fn drain(inquiry: &Inquiry, thing: &Place<Equipment>, sheet: &mut Sheet) {
    if let Some(size) = sheet.want(need!(thing, condensate.overflow_size)) {
        let words = text!("its drain is {}, {} is the least", size, in_unit(inquiry.value(&DRAIN), "in"));
        sheet.require("size", words, SOURCE, at_least(size.quantity(), inquiry.value(&DRAIN)));
    }
    let seen = sheet.want(need!(thing, condensate.overflow_conspicuous));
    hold(sheet, seen, ("it ends where it is noticed", "it ends where nobody notices it"));
}

fn pan(inquiry: &Inquiry, thing: &Place<Equipment>, sheet: &mut Sheet) {
    if let Some(depth) = sheet.want(need!(thing, pan.depth)) {
        let words = text!("the pan is {} deep, {} is the least", depth, in_unit(inquiry.value(&DEPTH), "in"));
        sheet.require("depth", words, SOURCE, at_least(depth.quantity(), inquiry.value(&DEPTH)));
    }
    let sides = (need!(thing, pan.width), need!(thing, pan.length), need!(thing, placement.width), need!(thing, placement.depth))
        .together();
    if let Some((width, length, own_width, own_depth)) = sheet.want(sides) {
        let each = inquiry.value(&READING) == "on-each-side";
        let more = inquiry.value(&LARGER) * if each { 2.0 } else { 1.0 };
        // Whichever way it is turned.
        let [small, large] = sorted(width.quantity(), length.quantity());
        let [least, most] = sorted(own_width.quantity() + more, own_depth.quantity() + more);
        let words = text!("a pan of {} by {}, {} by {} is the least", width, length, in_unit(least, "in"), in_unit(most, "in"));
        sheet.require("size", words, SOURCE, at_least(small, least) && at_least(large, most));
    }
    thickness(thing, sheet);
}

/// 24 gauge where it is metal, 1/16 in where it is not.
fn thickness(thing: &Place<Equipment>, sheet: &mut Sheet) {
    let facts = (need!(thing, pan.material), need!(thing, pan.thickness)).together();
    let Some((material, thickness)) = sheet.want(facts) else { return };
    let least = inches(if *material == PanMaterial::Plastic { 0.0625 } else { 0.0236 });
    let words = text!("{} of {}, {} is the least", thickness, *material, in_unit(least, "in"));
    sheet.require("thickness", words, SOURCE, at_least(thickness.quantity(), least));
}

fn sorted(a: Length, b: Length) -> [Length; 2] {
    if a < b { [a, b] } else { [b, a] }
}
