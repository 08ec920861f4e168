//! A wood floor over another space needs board or panel on its underside, unless its members are large or nothing there can burn.
//!
//! Light floors of I-joists and open-web trusses fail within minutes of a fire below them, under the feet of firefighters. A furnace
//! in a crawl space takes away the exemption crawl spaces have.
//!
//! **How it is measured.** For each floor of the dwelling with a space under it: the underside is held to 1/2 in gypsum board or 5/8 in
//! structural panel. Exempt are sprinklers below; a crawl space without storage and without appliances that burn fuel or
//! heat by electricity; an open
//! part of at most 80 ft2 fireblocked around; and sawn or composite members of 2x10 nominal or more.
//!
//! **How it is fixed.** Board or panel under the floor, or the furnace out of the crawl space. Often deleted locally.

use crate::demand::{self, Demand, Held};
use crate::parameters::{COUNTING, counting};
use crate::parts::{Part, burns, parts};
use redtag_handbook::fire::{Answer, Face as Side, Finish, FloorException, FloorFacts, FloorLimits, floor_exception, sources};
use redtag_rule::prelude::*;

/// Whether it is asked for.
const ASKED: Flag = Flag::new("required", true, "Whether floors must be protected underneath; often deleted.", "IRC R302.13");
/// Board.
const BOARD: Quantity<dimensions::Length> =
    Quantity::new("floor_board", "1/2 in", "Least gypsum board under a floor.", "IRC R302.13");
/// Panel.
const PANEL: Quantity<dimensions::Length> =
    Quantity::new("floor_panel", "5/8 in", "Least wood structural panel under a floor.", "IRC R302.13");
/// Open part.
const OPEN: Quantity<dimensions::Area> =
    Quantity::new("open_part", "80 ft2", "Largest part of a floor left open, fireblocked around.", "IRC R302.13 exception 3");
/// Members.
const DEPTH: Quantity<dimensions::Length> = Quantity::new(
    "member_depth",
    "9 1/4 in",
    "Least depth of sawn or composite members of a floor left open.",
    "IRC R302.13 exception 4",
);
/// Members.
const WIDTH: Quantity<dimensions::Length> =
    Quantity::new("member_width", "1 1/2 in", "Least width of such members.", "IRC R302.13 exception 4");
/// Electric heaters.
const ELECTRIC: Flag = Flag::new(
    "electric_heat_counts",
    true,
    "Whether electric heating appliances in a crawl space take the exemption away as well.",
    "IRC R302.13 exception 2 names fuel-fired and electric-powered heating appliances",
);

/// The rule.
pub const RULE: Rule = Rule {
    citations: &[cited("IRC", "2021", "R302.13")],
    parameters: &[&ASKED, &BOARD, &PANEL, &OPEN, &DEPTH, &WIDTH, &ELECTRIC, &COUNTING],
    reads: &["/spaces", "/equipment", "/building"],
    ..Rule::new("fire-separation/floor-protection", "Protection under floors", check)
};

const WANTED: &str = "whether the floor is protected underneath";

fn check(inquiry: &Inquiry) -> Vec<Finding> {
    if !inquiry.value(&ASKED) {
        return Vec::new();
    }
    parts(inquiry).iter().filter_map(|part| one(inquiry, part)).collect()
}

fn one(inquiry: &Inquiry, part: &Part) -> Option<Finding> {
    let below = match below(inquiry, part) {
        Ok(below) => below?,
        Err(unresolved) => return Some(part.assembly.ask(WANTED, || Err(unresolved))),
    };
    Some(part.assembly.sheet(WANTED, |sheet| judge(inquiry, part, &below, sheet)))
}

/// What lies under a floor of the dwelling.
pub struct Below<'a> {
    space: Option<Place<'a, Space>>,
    kind: BeyondKind,
    side: Side,
}

/// What lies under the floor that a part is; `None` where it is no floor of the dwelling over something.
fn below<'a>(inquiry: &Inquiry<'a>, part: &Part<'a>) -> Lookup<Option<Below<'a>>> {
    let beyond = match part.assembly.kind {
        AssemblyKind::Ceiling | AssemblyKind::Floor => need!(part.assembly, beyond)?,
        _ => return Ok(None),
    };
    let there = if beyond.space.is_some() { Some(inquiry.space(&need!(beyond, space)?)?) } else { None };
    let attic = there.as_ref().is_some_and(|space| space.kind == SpaceKind::Attic) || beyond.kind == BeyondKind::Attic;
    let nothing = attic || matches!(beyond.kind, BeyondKind::Outdoors | BeyondKind::Ground);
    if beyond.kind == BeyondKind::Space && there.is_none() {
        return Err(beyond.missing("/space"));
    }
    if nothing || part.space.kind == SpaceKind::Attic && part.assembly.kind == AssemblyKind::Floor {
        return Ok(None);
    }
    Ok(Some(match part.assembly.kind {
        AssemblyKind::Ceiling => Below { space: Some(part.space.clone()), kind: BeyondKind::Space, side: Side::This },
        _ => Below { space: there, kind: beyond.kind, side: Side::Beyond },
    }))
}

fn judge(inquiry: &Inquiry, part: &Part, below: &Below, sheet: &mut Sheet) -> Lookup<Text> {
    let framing = part.framing()?;
    if !burns(framing) {
        return Ok(text!("framing of {} needs none", framing));
    }
    let demand = demand(inquiry, below.side);
    let held = demand::held(part, &demand);
    if let Ok(Held::Board | Held::Equal | Held::Mineral) = held {
        return demand::work(inquiry, part, &demand, sheet);
    }
    let facts = facts(inquiry, part, below, framing);
    let limits = FloorLimits { open: inquiry.value(&OPEN), width: inquiry.value(&WIDTH), depth: inquiry.value(&DEPTH) };
    let mut open = Vec::new();
    for (exception, answer) in floor_exception(&facts, &limits) {
        match answer {
            Answer::Yes => return Ok(words(exception)),
            Answer::No => sheet.line("not exempt", text!("not by: {}", words(exception)), sources::FLOOR.text()),
            Answer::Depends(_) => open.push(exception),
        }
    }
    held.map(|_| ())?;
    if open.is_empty() {
        return demand::work(inquiry, part, &demand, sheet);
    }
    open.into_iter().for_each(|exception| {
        if exception == FloorException::CrawlSpace {
            sheet.want(plain_crawl(inquiry, part, below));
            return;
        }
        pointers(part, below, exception).into_iter().for_each(|pointer| sheet.lack(Unresolved::at(pointer)))
    });
    Ok(Text::default())
}

/// What an underside must be.
pub fn demand(inquiry: &Inquiry, side: Side) -> Demand {
    Demand {
        why: "underside of a floor",
        finish: Finish::gypsum(inquiry.value(&BOARD), false).or_panel(inquiry.value(&PANEL)),
        side,
        counting: counting(inquiry),
        source: sources::FLOOR.text(),
    }
}

fn facts(inquiry: &Inquiry, part: &Part, below: &Below, framing: FramingMaterial) -> FloorFacts {
    let members = part.assembly.framing.as_ref();
    let building = inquiry.project().building.as_ref().and_then(|building| building.sprinklered);
    let sprinklered = below.space.as_ref().and_then(|space| space.sprinklered).or(building);
    FloorFacts {
        sprinklered_below: sprinklered,
        plain_crawl_space: plain_crawl(inquiry, part, below).ok(),
        open: part.assembly.open_area.as_ref().map(|area| area.quantity()),
        open_blocked: part.assembly.open_area_blocked,
        solid_members: Some(matches!(framing, FramingMaterial::Wood | FramingMaterial::CompositeLumber)),
        width: members.and_then(|framing| framing.member_width.as_ref()).map(|width| width.quantity()),
        depth: members.and_then(|framing| framing.member_depth.as_ref()).map(|depth| depth.quantity()),
    }
}

/// Whether a crawl space without storage and appliances lies below; what is not said otherwise.
fn plain_crawl(inquiry: &Inquiry, part: &Part, below: &Below) -> Lookup<bool> {
    let Some(space) = &below.space else {
        let unsaid = || Err(Unresolved::at(format!("{}/beyond/space", part.assembly.pointer())));
        return if below.kind == BeyondKind::CrawlSpace { unsaid() } else { Ok(false) };
    };
    if space.kind != SpaceKind::CrawlSpace {
        return Ok(false);
    }
    let mut open = None;
    for equipment in need!(inquiry.project(), equipment).every() {
        let there = equipment.space.as_deref() == Some(&space.id);
        let nowhere = equipment.space.is_none() && equipment.outdoors.is_none();
        match heats(inquiry, &equipment) {
            Ok(true) if there => return Ok(false),
            Ok(true) if nowhere => open = Unresolved::joined(open, equipment.missing("/space")),
            Err(unresolved) if there => open = Unresolved::joined(open, unresolved),
            _ => {}
        }
    }
    let storage = need!(space, used_for_storage).map(|storage| *storage);
    match (open, storage) {
        (_, Ok(true)) => Ok(false),
        (None, storage) => storage.map(|storage| !storage),
        (Some(open), Ok(false)) => Err(open),
        (Some(open), Err(storage)) => Err(open.and(storage)),
    }
}

/// Whether an appliance burns fuel or heats by electricity.
fn heats(inquiry: &Inquiry, equipment: &Place<Equipment>) -> Lookup<bool> {
    use EquipmentKind as K;
    let space_heat = matches!(
        equipment.kind,
        K::Furnace | K::Boiler | K::AirHandler | K::HeatPump | K::UnitHeater | K::RoomHeater | K::WallFurnace
    );
    let water = matches!(equipment.kind, K::StorageWaterHeater | K::TanklessWaterHeater);
    let heater = space_heat || water || matches!(equipment.kind, K::SolidFuelHeater | K::OilHeater | K::GasFireplace);
    if equipment.fuel_burning.is_some() || (space_heat && inquiry.value(&ELECTRIC)) {
        return Ok(true);
    }
    if heater {
        return kinds::burns(equipment);
    }
    Ok(false)
}

fn words(exception: FloorException) -> Text {
    match exception {
        FloorException::Sprinklers => text!("sprinklers below"),
        FloorException::CrawlSpace => text!("a crawl space without storage and without heating appliances"),
        FloorException::SmallPart => text!("a small open part, fireblocked around"),
        FloorException::LargeMembers => text!("sawn or composite members large enough"),
    }
}

fn pointers(part: &Part, below: &Below, exception: FloorException) -> Vec<String> {
    let base = part.assembly.pointer();
    let space = below.space.as_ref().map_or_else(|| format!("{base}/beyond/space"), |space| space.pointer().to_owned());
    let of_space = |field: &str| if below.space.is_some() { format!("{space}/{field}") } else { space.clone() };
    let framing = part.assembly.framing.as_ref();
    match exception {
        FloorException::Sprinklers => vec![of_space("sprinklered")],
        FloorException::CrawlSpace => Vec::new(),
        FloorException::SmallPart => vec![format!("{base}/open_area_blocked")],
        FloorException::LargeMembers => [
            ("member_width", framing.is_none_or(|f| f.member_width.is_none())),
            ("member_depth", framing.is_none_or(|f| f.member_depth.is_none())),
        ]
        .into_iter()
        .filter(|(_, missing)| *missing)
        .map(|(field, _)| format!("{base}/framing/{field}"))
        .collect(),
    }
}
