//! The space between studs or joists is no duct.
//!
//! Hollow framing leaks along its whole length and joins rooms to crawl spaces, attics and each other; a return through it draws on all.
//!
//! **How it is measured.** By the material of each supply and return duct.
//!
//! **How it is fixed.** A duct of steel, or another listed material, inside the hollow.

use crate::runs;
use redtag_handbook::ducts::sources;
use redtag_rule::prelude::*;

/// Returns.
const RETURNS: Choice = Choice::new(
    "cavity_returns",
    "prohibited",
    &["prohibited", "allowed"],
    "Whether return air may go through the hollow of framing.",
    "IECC R403.3.5 (2018), R403.3.7 (2021); Pennsylvania bars supply only",
);

/// The rule.
pub const RULE: Rule = Rule {
    citations: &[cited("IECC", "2018", "R403.3.5"), remembered("IECC", "2021", "R403.3.7")],
    parameters: &[&RETURNS],
    reads: &["/ducts"],
    ..Rule::new("ducts/building-cavities", "Framing is no duct", check)
};

fn check(inquiry: &Inquiry) -> Vec<Finding> {
    runs::of_kinds(inquiry, &[DuctKind::Supply, DuctKind::Return])
        .iter()
        .map(|duct| {
            duct.sheet("whether it is a duct", |sheet| {
                let material = need!(duct, material)?;
                let cavity = *material.get() == DuctMaterial::BuildingCavity;
                let allowed = duct.kind == DuctKind::Return && inquiry.value(&RETURNS) == "allowed";
                let words = text!("its air goes through the hollow of framing");
                if cavity && !sheet.require("material", words, sources::CAVITIES.text(), allowed) {
                    sheet.cure_at(
                        text!("run a duct through the hollow"),
                        &[(material.pointer().to_owned(), json!("galvanized-steel"))],
                    );
                }
                Ok(text!("a duct of {}", *material.get()))
            })
        })
        .collect()
}
