//! A box for thinner conductors has room for what is in it.
//!
//! Conductors crushed under a cover are nicked and heat each other; the splice at the back is the one that lets go.
//!
//! **How it is measured.** For boxes without conductors of 4 AWG and larger: 2.00, 2.25, 2.50, 3.00 and 5.00 in³ for each conductor of
//! 14, 12, 10, 8 and 6 AWG that ends, is spliced or passes through; grounding conductors once up to four, a quarter for each
//! more; two conductors for each device; one for clamps inside; against the volume marked on the box. Boxes of larger conductors
//! are sized by their raceways (`pull-boxes`).
//!
//! **How it is fixed.** A deeper box, an extension, fewer splices in it.

use redtag_handbook::raceway::{self as trade, BoxFill};
use redtag_rule::prelude::*;
use uom::si::f64::Volume;

/// The rule.
pub const RULE: Rule = Rule {
    citations: &[cited("NEC", "2020", "314.16")],
    stages: &[Stage::RoughIn, Stage::Final],
    reads: &["/electrical/boxes", "/raceways"],
    ..Rule::new("raceways/box-fill", "Fill of boxes", check)
};

const WANTED: &str = "whether it has room for what is in it";

fn check(inquiry: &Inquiry) -> Vec<Finding> {
    let boxes = need!(inquiry.project(), electrical.boxes).every();
    boxes
        .iter()
        .map(|one| match thick(inquiry, one) {
            true => one.not_applicable(text!("conductors of 4 AWG or larger enter: it is sized by its raceways")).done(),
            false => one.sheet(WANTED, |sheet| judge(one, sheet)),
        })
        .collect()
}

/// Whether a conductor of 4 AWG or larger is known to enter.
fn thick(inquiry: &Inquiry, one: &Place<PullBox>) -> bool {
    let large = |size: &Option<String>| size.as_deref().is_some_and(|size| trade::rank(size) >= trade::rank("4 AWG"));
    let enters = |entry: Place<BoxEntry>| {
        let raceway = need!(entry, raceway).and_then(|id| need!(inquiry.project(), raceways).named(&id));
        raceway.is_ok_and(|raceway| raceway.conductors.iter().flatten().any(|conductor| large(&conductor.size)))
    };
    one.conductors.iter().flatten().any(|conductor| large(&conductor.size)) || need!(one, entries).every().into_iter().any(enters)
}

fn judge(one: &Place<PullBox>, sheet: &mut Sheet) -> Lookup<Text> {
    let lists = (
        need!(one, conductors).and_then(|list| each(&list)),
        need!(one, grounding).and_then(|list| each(&list)),
        need!(one, devices).and_then(|list| each(&list)),
    );
    let (lists, clamps, volume) = (lists.together(), need!(one, internal_clamps), need!(one, volume)).together()?;
    let (conductors, grounding, devices) = lists;
    let counted = text!("{} conductors, {} grounding, {} devices", conductors.len(), grounding.len(), devices.len());
    sheet.line("in it", counted, trade::BOX_FILL.text());
    let asked = BoxFill { conductors, grounding, devices, clamps: *clamps }.volume();
    let words = text!("{} for what is in it, the box has {}", in_unit(asked, "in³"), in_unit(volume.get(), "in³"));
    if !sheet.require("volume", words.clone(), trade::BOX_FILL.text(), at_least(volume.quantity(), asked)) {
        sheet.cure(text!("use a box of {} at least, or fewer conductors in it", in_unit(asked, "in³")));
    }
    Ok(words)
}

/// The volume of each conductor of a list.
fn each(list: &Place<Vec<BoxConductors>>) -> Lookup<Vec<Volume>> {
    let of = |entry: Place<BoxConductors>| {
        let (size, count) = (need!(entry, size), need!(entry, count)).together()?;
        let wanted = "a size from 14 to 6 AWG";
        let one = trade::conductor_volume(&size).ok_or_else(|| Unresolved::because(size.pointer(), wanted))?;
        Ok(vec![one; (*count).min(1_000) as usize])
    };
    Ok(list.items().map(of).collect::<Vec<_>>().together()?.into_iter().flatten().collect())
}
