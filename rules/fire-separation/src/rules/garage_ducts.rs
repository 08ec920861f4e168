//! A duct in a garage, or through the wall between garage and dwelling, must be steel that is thick enough and have no opening there.
//!
//! A duct carries fire and fumes past the board around it. Steel of No. 26 gage holds; flexible duct and plastic melt; a register
//! in the garage is a hole into the house.
//!
//! **How it is measured.** For each duct that passes through a garage, or that something through the separation carries: its
//! material, the thickness in inches (a larger gage number is thinner steel, and gage systems differ), and its openings. A duct that
//! stays in the garage and belongs to a system that serves the garage alone may open there. Where a duct goes through the
//! separation and nobody says which, that is asked.
//!
//! **How it is fixed.** Steel of 0.019 in or more, no register or grille in the garage, or a material the authority has approved.

use crate::garage;
use crate::parts::{parts, spaces};
use crate::zone::{self, Zone};
use redtag_handbook::fire::sources;
use redtag_rule::prelude::*;
use std::collections::BTreeSet;

/// Thickness of the steel.
const STEEL: Quantity<dimensions::Length> = Quantity::new(
    "steel_thickness",
    "0.0187 in",
    "Least thickness of sheet steel: No. 26 gage. The section prints 0.019 in; the duct tables make 26 gage 0.0187 in.",
    "IRC R302.5.2; from memory of the duct tables",
)
.within("0.01 in", "0.1 in");
/// Duct board.
const DUCT_BOARD: Flag = Flag::new(
    "duct_board",
    false,
    "Whether rigid duct board of 1 in, class 0 or 1, is allowed as well.",
    "IRC R302.5.2; some states allow it",
);

/// The rule.
pub const RULE: Rule = Rule {
    citations: &[cited("IRC", "2021", "R302.5.2")],
    parameters: &[&STEEL, &DUCT_BOARD],
    reads: &["/spaces", "/openings", "/ducts"],
    ..Rule::new("fire-separation/garage-ducts", "Ducts in and through the garage", check)
};

const WANTED: &str = "whether the duct keeps the separation of garage and dwelling whole";

fn check(inquiry: &Inquiry) -> Vec<Finding> {
    let garages: BTreeSet<String> = spaces(inquiry)
        .iter()
        .filter(|space| space.kind == SpaceKind::AttachedGarage || zone::of_space(inquiry, space) == Ok(Zone::Garage))
        .map(|space| space.id.clone())
        .collect();
    let through = carried(inquiry);
    let ducts = need!(inquiry.project(), ducts).every();
    let passes = |duct: &Duct| duct.spaces.as_ref().is_some_and(|spaces| spaces.iter().any(|space| garages.contains(space)));
    let opens = |duct: &Duct| {
        duct.openings.iter().flatten().any(|opening| opening.space.as_ref().is_some_and(|space| garages.contains(space)))
    };
    let unsaid = |duct: &Duct| duct.spaces.is_none() && !garages.is_empty();
    let concerned = |duct: &&Place<Duct>| passes(duct) || opens(duct) || through.contains(&duct.id) || unsaid(duct);
    let mut findings: Vec<Finding> = ducts
        .iter()
        .filter(concerned)
        .map(|duct| duct.sheet(WANTED, |sheet| judge(inquiry, duct, &garages, &through, sheet)))
        .collect();
    findings.extend(unnamed(inquiry).iter().map(|through| through.ask(WANTED, || Err(through.missing("/carries")))));
    findings
}

/// What goes through the separation as a duct and names none.
fn unnamed<'a>(inquiry: &Inquiry<'a>) -> Vec<Place<'a, Penetration>> {
    let separating = parts(inquiry).into_iter().filter(|part| matches!(garage::row(inquiry, part), Ok(Some(_))));
    let through = separating.flat_map(|part| need!(part.assembly, penetrations).every());
    through.filter(|through| through.kind == PenetrationKind::Duct && through.carries.is_none()).collect()
}

/// The ducts that go through the separation.
fn carried(inquiry: &Inquiry) -> BTreeSet<String> {
    let separating = parts(inquiry).into_iter().filter(|part| matches!(garage::row(inquiry, part), Ok(Some(_))));
    let through = separating.flat_map(|part| need!(part.assembly, penetrations).every());
    through.filter(|through| through.kind == PenetrationKind::Duct).filter_map(|through| through.carries.clone()).collect()
}

fn judge(
    inquiry: &Inquiry,
    duct: &Place<Duct>,
    garages: &BTreeSet<String>,
    through: &BTreeSet<String>,
    sheet: &mut Sheet,
) -> Lookup<Text> {
    let source = sources::GARAGE_DUCTS.text();
    if !through.contains(&duct.id) {
        need!(duct, spaces)?;
    }
    if let Some(material) = sheet.want(need!(duct, material)) {
        match *material {
            DuctMaterial::GalvanizedSteel | DuctMaterial::StainlessSteel => steel(inquiry, duct, sheet, source),
            DuctMaterial::DuctBoard if inquiry.value(&DUCT_BOARD) => {}
            _ if approved(duct) => sheet.line("material", text!("{}, approved", *material), source),
            other => {
                sheet.require("material", text!("it is {}; sheet steel is asked for", other), source, false);
                sheet.cure_at(
                    text!("sheet steel of {} at least", in_unit(inquiry.value(&STEEL), "in")),
                    &[(material.pointer().to_owned(), json!("galvanized-steel"))],
                );
            }
        }
    }
    let stays =
        duct.spaces.as_ref().is_some_and(|spaces| !spaces.is_empty() && spaces.iter().all(|space| garages.contains(space)));
    if duct.dedicated == Some(true) && stays && !through.contains(&duct.id) {
        return Ok(text!("of steel, in the garage, of a system that serves the garage alone"));
    }
    // A duct that only crosses the wall has its openings elsewhere; those in the garage are what matters.
    if let Some(openings) = sheet.want(need!(duct, openings)) {
        for opening in openings.items() {
            let space = sheet.want(need!(opening, space));
            let inside = space.is_some_and(|space| garages.contains(space.get()));
            if inside && !sheet.require("openings", text!("its opening {} is in the garage", opening.id.clone()), source, false) {
                sheet.cure(text!("take the opening {} out of the garage", opening.id.clone()));
                sheet.related(opening.pointer());
            }
        }
    }
    Ok(text!("steel thick enough, without an opening into the garage"))
}

fn steel(inquiry: &Inquiry, duct: &Place<Duct>, sheet: &mut Sheet, source: &'static str) {
    let least = inquiry.value(&STEEL);
    let Some(thickness) = sheet.want(need!(duct, thickness)) else { return };
    if !sheet.at_least("steel", &thickness, &least, "in", source) {
        sheet.fault(text!("its steel is {}, {} is the least", in_unit(thickness.quantity(), "in"), in_unit(least, "in")));
        sheet.cure_at(
            text!("steel of {} or more", in_unit(least, "in")),
            &[(
                thickness.pointer().to_owned(),
                json!(redtag_rule::schema::quantity::Length::from_quantity(&least).print_in("in")),
            )],
        );
    }
}

fn approved(duct: &Duct) -> bool {
    duct.approval.as_ref().is_some_and(|approval| approval.accepted == Some(true) && approval.document.is_some())
}
