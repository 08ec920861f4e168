//! Every gas appliance that needs a vent has one, of the kind its category asks for.
//!
//! An appliance that pushes its gases (Category III and IV) blows them out of every joint of a Type B vent; one whose gases condense
//! (Category II and IV) eats it. One that only lets them rise (Category I) stalls in a pipe made for pressure. Carbon monoxide
//! kills: choosing and changing vents is work for a licensed contractor, by the listings of the appliance and the vent.
//!
//! **How it is measured.** The kind of the vent that serves the appliance against the category on its rating plate, or its being a
//! direct-vent appliance; the standard a listed vent is made to; where a single-wall vent runs; whether a masonry chimney is lined. An
//! appliance that burns into the room is one of the few the code lets do so, or it needs a vent.
//!
//! **How it is fixed.** The kind of vent the instructions of the appliance name.

use crate::appliances::{burns_gas, category, direct_vent, needs_vent};
use redtag_handbook::venting::sources;
use redtag_rule::prelude::*;

/// Kinds for Category I.
const CATEGORY_ONE: Choices = Choices::new(
    "category_i_vents",
    &[
        "type-b",
        "type-bw",
        "type-l",
        "single-wall",
        "masonry-chimney",
        "factory-built-chimney",
        "lined-chimney",
        "special-gas-vent",
    ],
    KINDS,
    "Kinds of vents that may serve an appliance of Category I.",
    "from memory of IFGC 503.4; a gas utility's guide",
);
/// Kinds for the other categories.
const OTHERS: Choices = Choices::new(
    "other_category_vents",
    &["special-gas-vent", "plastic", "direct-vent"],
    KINDS,
    "Kinds of vents that may serve an appliance of Category II, III or IV, or a direct-vent appliance, as its instructions name them.",
    "from memory of IFGC 503.4 and 503.4.1",
);
const KINDS: &[&str] = &[
    "type-b",
    "type-bw",
    "type-l",
    "single-wall",
    "masonry-chimney",
    "factory-built-chimney",
    "lined-chimney",
    "special-gas-vent",
    "plastic",
    "direct-vent",
];

/// The rule.
pub const RULE: Rule = Rule {
    citations: &[
        remembered("IRC", "2021", "G2427.4"),
        remembered("IFGC", "2021", "503.4"),
        remembered("IRC", "2021", "G2427.2"),
        remembered("IRC", "2021", "G2425.8"),
        remembered("IFGC", "2021", "501.8"),
        cited("IFGC", "2018", "503.7"),
    ],
    parameters: &[&CATEGORY_ONE, &OTHERS],
    reads: &["/vents", "/equipment"],
    ..Rule::new("venting/allowed-vent", "Kind of vent for each appliance", check)
};

fn check(inquiry: &Inquiry) -> Vec<Finding> {
    let equipment = need!(inquiry.project(), equipment).every();
    equipment.iter().filter(|item| kinds::may_burn(item)).map(|item| one(inquiry, item)).collect()
}

fn one(inquiry: &Inquiry, appliance: &Place<Equipment>) -> Finding {
    if let Err(unresolved) = kinds::burns(appliance) {
        return appliance.ask("which vent it may have", || Err(unresolved));
    }
    if !burns_gas(appliance) {
        return appliance.not_applicable(text!("it burns no gas")).done();
    }
    if appliance.kind == EquipmentKind::Generator {
        return appliance.not_applicable(text!("the exhaust of an engine is no vent of the fuel gas code")).done();
    }
    if !needs_vent(appliance) {
        return appliance.not_applicable(text!("it is not made to be vented")).done();
    }
    if appliance.fuel_burning.as_ref().and_then(|burning| burning.burner) == Some(Burner::Unvented) {
        return appliance.sheet("whether it may do without a vent", |sheet| unvented(sheet, appliance));
    }
    appliance.sheet("which vent it may have", |sheet| judge(inquiry, sheet, appliance))
}

/// The code lists what need not be vented; for the rest only a listing for use without a vent does.
fn unvented(sheet: &mut Sheet, appliance: &Place<Equipment>) -> Lookup<Text> {
    let source = "IRC G2425.8 (IFGC 501.8), from memory";
    let listed = appliance.fuel_burning.as_ref().and_then(|burning| burning.unvented_listed) == Some(true);
    let words = text!("a {} that burns into the room, and no listing for use without a vent", appliance.kind);
    if appliance.kind == EquipmentKind::UnitHeater && listed {
        sheet.line("without a vent", text!("listed for use without a vent"), source);
        return Ok(text!("listed for use without a vent"));
    }
    sheet.require("without a vent", words, source, false);
    sheet.cure(text!("replace it by a vented or direct-vent appliance and vent it to the outdoors as its instructions say"));
    sheet.section("G2425.8");
    Ok(Text::default())
}

fn judge(inquiry: &Inquiry, sheet: &mut Sheet, appliance: &Place<Equipment>) -> Lookup<Text> {
    let vents = need!(inquiry.project(), vents)?;
    let serves = |vent: &Place<Vent>| vent.equipment.as_ref().is_some_and(|served| served.contains(&appliance.id));
    let Some(vent) = vents.items().find(serves) else {
        if let Some(silent) = vents.items().find(|vent| vent.equipment.is_none()) {
            return Err(silent.missing("/equipment"));
        }
        sheet.fault(text!("no vent serves it"));
        sheet.cure(text!("vent it to the outdoors as its instructions say"));
        return Ok(Text::default());
    };
    let own_way = direct_vent(appliance)?;
    let (allowed, what) = if own_way {
        (inquiry.value(&OTHERS), "a direct-vent appliance".to_owned())
    } else {
        let category = category(appliance)?;
        let kinds = if category == VentCategory::CategoryI { inquiry.value(&CATEGORY_ONE) } else { inquiry.value(&OTHERS) };
        (kinds, roman(category))
    };
    let words = text!("{} on {}", vent.kind, what);
    if !sheet.require("kind of vent", words, sources::VENT_BY_CATEGORY.text(), allowed.contains(&vent.kind.word())) {
        sheet.related(vent.pointer());
        let kinds = allowed.iter().map(|kind| kind.replace('-', " ")).collect::<Vec<_>>().join(", ");
        sheet.cure(text!("use the kind its instructions name, one of: {}", kinds));
        crate::marks::connector(sheet, appliance, &vent, &format!("{}: wrong kind of vent", vent.id));
    }
    listed(sheet, &vent);
    lined(sheet, &vent);
    if vent.kind == VentKind::SingleWall {
        single_wall(sheet, appliance, &vent);
    }
    if vent.kind == VentKind::TypeBw && appliance.kind != EquipmentKind::WallFurnace {
        sheet.fault(text!("a Type BW vent is for wall furnaces"));
        sheet.cure(text!("use a Type B vent"));
    }
    Ok(text!("{} on {}", vent.kind, what))
}

fn roman(category: VentCategory) -> String {
    let number = category.word().trim_start_matches("category-").to_uppercase();
    format!("a Category {number} appliance")
}

/// A listed vent says the standard it is made to.
fn listed(sheet: &mut Sheet, vent: &Place<Vent>) {
    let standard = match vent.kind {
        VentKind::TypeB | VentKind::TypeBw => "441",
        VentKind::TypeL => "641",
        VentKind::SpecialGasVent => "1738",
        _ => return,
    };
    if let Some(stated) = sheet.want(need!(vent, standard)) {
        let words = text!("listed to {}, UL {} is the standard of a {}", stated.as_str(), standard, vent.kind);
        if !sheet.require("listing", words, "from memory of IFGC 502.1 and 503.4.1", stated.contains(standard)) {
            sheet.cure(text!("use pipe listed to UL {}", standard));
        }
    }
}

/// A masonry chimney carries gases through a liner.
fn lined(sheet: &mut Sheet, vent: &Place<Vent>) {
    if vent.kind != VentKind::MasonryChimney {
        return;
    }
    let Some(lined) = sheet.want(need!(vent, lined)) else { return };
    let words = text!("a masonry chimney {} a liner", if *lined { "with" } else { "without" });
    if !sheet.require("liner", words, "from memory of IFGC 503.5.3, IRC R1003.11", *lined) {
        sheet.cure(text!("line it with a listed liner or clay tile of the size the tables ask for"));
    }
}

/// A single-wall vent goes straight from its room through the roof or wall.
fn single_wall(sheet: &mut Sheet, appliance: &Place<Equipment>, vent: &Place<Vent>) {
    if let Some(spaces) = sheet.want(need!(vent, spaces)) {
        let other = spaces.iter().any(|space| Some(space) != appliance.space.as_ref());
        let words = text!("a single-wall vent {}", if other { "passes through another space" } else { "stays in its room" });
        if !sheet.require("single-wall vent", words, "from memory of IFGC 503.7", !other) {
            sheet.cure(text!("use a listed Type B vent"));
        }
    }
}
