//! Supply and return ducts outside the conditioned rooms must be insulated, and cold ones wrapped against condensation.
//!
//! A bare duct in an attic loses a third of what it carries, and sweats in summer.
//!
//! **How it is measured.** For each supply and return duct: the spaces it passes, whether they are conditioned, its size, its insulation.
//! The 2021 energy code goes by size; the 2018 edition is read by place. Supply ducts there need a vapor retarder on the outside.
//!
//! **How it is fixed.** More insulation, its foil or jacket whole, or the duct moved inside.

use crate::runs;
use redtag_handbook::ducts::{DuctPlace, InsulationTable, Run, insulation_needed, sources};
use redtag_rule::prelude::*;

/// Which table.
const TABLE: Choice = Choice::new(
    "table",
    "2021",
    &["2021", "2018"],
    "The edition whose table is read: 2021 by size, 2018 by place.",
    "IECC R403.3.1 by edition",
);
/// Size limit.
const SIZE: Quantity<dimensions::Length> =
    Quantity::new("size_limit", "3 in", "Ducts of this diameter and more count as large.", "IECC R403.3.1");
/// Large, 2021.
const LARGE: Quantity<dimensions::ThermalResistance> =
    Quantity::new("large", "R-8", "Insulation of large ducts, 2021.", "from memory of IECC 2021 R403.3.1");
/// Small, 2021.
const SMALL: Quantity<dimensions::ThermalResistance> =
    Quantity::new("small", "R-6", "Insulation of small ducts, 2021.", "from memory of IECC 2021 R403.3.1");
/// Attic supply, 2018.
const ATTIC_SUPPLY: Quantity<dimensions::ThermalResistance> =
    Quantity::new("attic_supply_2018", "R-8", "Supply in attics, 2018.", "IECC 2018 R403.3.1 as read in Pennsylvania");
/// Attic return, 2018.
const ATTIC_RETURN: Quantity<dimensions::ThermalResistance> =
    Quantity::new("attic_return_2018", "R-6", "Return in attics, 2018.", "IECC 2018 R403.3.1 as read in Pennsylvania");
/// Elsewhere, 2018.
const ELSEWHERE: Quantity<dimensions::ThermalResistance> =
    Quantity::new("elsewhere_2018", "R-6", "Large ducts elsewhere outside conditioned rooms, 2018.", "IECC 2018 R403.3.1");
/// Elsewhere, small, 2018.
const ELSEWHERE_SMALL: Quantity<dimensions::ThermalResistance> = Quantity::new(
    "elsewhere_small_2018",
    "R-4.2",
    "Small ducts elsewhere outside conditioned rooms, 2018.",
    "IECC 2018 R403.3.1",
);
/// Vapor retarder.
const VAPOR: Flag = Flag::new(
    "vapor_retarder",
    true,
    "Whether supply ducts outside conditioned rooms need a vapor retarder.",
    "from memory of IRC M1601.4.6",
);

/// The rule.
pub const RULE: Rule = Rule {
    citations: &[
        remembered("IECC", "2021", "R403.3.1"),
        cited("IECC", "2018", "R403.3.1"),
        remembered("IRC", "2021", "M1601.4.6"),
    ],
    parameters: &[&TABLE, &SIZE, &LARGE, &SMALL, &ATTIC_SUPPLY, &ATTIC_RETURN, &ELSEWHERE, &ELSEWHERE_SMALL, &VAPOR],
    reads: &["/ducts", "/spaces"],
    ..Rule::new("ducts/insulation", "Insulation of ducts outside conditioned rooms", check)
};

fn check(inquiry: &Inquiry) -> Vec<Finding> {
    let ducts = runs::of_kinds(inquiry, &[DuctKind::Supply, DuctKind::Return]);
    ducts.iter().map(|duct| duct.sheet("whether it is insulated enough", |sheet| judge(inquiry, duct, sheet))).collect()
}

fn judge(inquiry: &Inquiry, duct: &Place<Duct>, sheet: &mut Sheet) -> Lookup<Text> {
    let spaces = runs::passed(inquiry, duct)?;
    let outside: Vec<Lookup<bool>> =
        spaces.iter().map(|space| need!(space, conditioned).map(|conditioned| !*conditioned.get())).collect();
    let cold: Vec<&Place<Space>> =
        spaces.iter().zip(outside.together()?).filter(|(_, outside)| *outside).map(|(space, _)| space).collect();
    if cold.is_empty() {
        return Ok(text!("it stays in conditioned rooms"));
    }
    let run = if duct.kind == DuctKind::Return { Run::Return } else { Run::Supply };
    let table = table(inquiry);
    let source = if inquiry.value(&TABLE) == "2018" { sources::INSULATION_2018.text() } else { sources::INSULATION_2021.text() };
    let (size, there) = (runs::size(duct), need!(duct, insulation)).together()?;
    for space in cold {
        let place = if space.kind == SpaceKind::Attic { DuctPlace::Attic } else { DuctPlace::Elsewhere };
        let Some(needed) = insulation_needed(place, run, size, &table) else { continue };
        let words =
            text!("{} in the {}, {} is the least", runs::resistance(there.quantity()), space.kind, runs::resistance(needed));
        if !sheet.require("insulation", words, source, at_least(there.quantity(), needed)) {
            sheet.cure(text!("insulate it to {}", runs::resistance(needed)));
            sheet.related(space.pointer());
        }
    }
    if run == Run::Supply
        && inquiry.value(&VAPOR)
        && let Some(wrapped) = sheet.want(need!(duct, vapor_retarder))
        && !sheet.require(
            "vapor retarder",
            text!("it needs a vapor retarder around its insulation"),
            sources::VAPOR.text(),
            *wrapped.get(),
        )
    {
        sheet.cure_at(text!("wrap it in foil or another retarder, joints taped"), &[(wrapped.pointer().to_owned(), json!(true))]);
    }
    Ok(text!("insulated to {}", runs::resistance(there.quantity())))
}

fn table(inquiry: &Inquiry) -> InsulationTable {
    let limit = inquiry.value(&SIZE);
    if inquiry.value(&TABLE) == "2018" {
        return InsulationTable::ByPlace {
            attic_supply: inquiry.value(&ATTIC_SUPPLY),
            attic_return: inquiry.value(&ATTIC_RETURN),
            elsewhere: inquiry.value(&ELSEWHERE),
            elsewhere_small: inquiry.value(&ELSEWHERE_SMALL),
            limit,
        };
    }
    InsulationTable::BySize { large: inquiry.value(&LARGE), small: inquiry.value(&SMALL), limit }
}
