//! Where unlike metals meet at a heater, a fitting must keep them apart.
//!
//! Copper screwed to a steel tank eats the steel at the thread. The leak comes in years, at the hot side first, and *drips
//! scalding water.**
//!
//! **How it is measured.** What the pipes that begin at the heater are made of. Plastic pipe needs nothing; metal pipe needs
//! dielectric or brass fittings at a steel tank.
//!
//! **How it is fixed.** Dielectric nipples or unions, or 6 in of brass, at both pipes.

use crate::heater;
use redtag_rule::prelude::*;

/// Required or not.
const REQUIRED: Flag = Flag::new(
    "required",
    false,
    "Bare metal pipe at a steel tank is a fault, and not only worth knowing.",
    "from memory of IPC 605.24.1 and IRC P2906.18; what a tank's nipples are is its maker's matter",
);

/// The rule.
pub const RULE: Rule = Rule {
    citations: &[remembered("IPC", "2021", "605.24.1"), remembered("IRC", "2021", "P2906.18")],
    parameters: &[&REQUIRED],
    reads: &["/equipment", "/water"],
    ..Rule::new("water-heating/dielectric", "Unlike metals kept apart", check)
};

fn check(inquiry: &Inquiry) -> Vec<Finding> {
    heater::each(inquiry, |heater| {
        if !heater::stores(heater) {
            return heater.not_applicable(text!("it has no steel tank")).done();
        }
        heater.sheet("whether unlike metals meet at it", |sheet| judge(inquiry, heater, sheet))
    })
}

fn judge(inquiry: &Inquiry, heater: &Place<Equipment>, sheet: &mut Sheet) -> Lookup<Text> {
    if let Ok(apart) = need!(heater, water_heating.dielectric_fittings)
        && *apart
    {
        return Ok(text!("fittings keep its metals apart"));
    }
    let pipes = heater::pipes_of(inquiry, heater);
    let first: Vec<_> = pipes.into_iter().filter(|pipe| pipe.kind == WaterPipeKind::Hot).collect();
    if first.is_empty() {
        return Err(heater.missing("/water_heating/dielectric_fittings"));
    }
    let materials: Vec<_> = first.iter().map(|pipe| need!(pipe, material)).collect();
    let metal = |material: &Place<WaterPipeMaterial>| {
        use WaterPipeMaterial as M;
        matches!(**material, M::CopperK | M::CopperL | M::CopperM | M::StainlessSteel | M::Other)
    };
    let Some(bare) = materials.together()?.into_iter().find(metal) else {
        return Ok(text!("no unlike metal meets its tank"));
    };
    need!(heater, water_heating.dielectric_fittings)?;
    let words = text!("{} meets its steel tank without a fitting that keeps them apart", *bare);
    sheet.test("metals", words.clone(), "IPC 605.24.1, from memory", false);
    if inquiry.value(&REQUIRED) {
        sheet.fault(words)
    } else {
        sheet.advise(words)
    }
    sheet.cure_at(
        text!("fit dielectric nipples or unions at both pipes"),
        &[(format!("{}/water_heating/dielectric_fittings", heater.pointer()), json!(true))],
    );
    Ok(Text::default())
}
