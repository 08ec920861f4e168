//! What the gap around a penetration must be filled to.

use crate::parts::{Part, burns};
use crate::{garage, rated};
use redtag_handbook::fire::{Filling, GarageRow, Going, sources};
use redtag_rule::prelude::*;
use uom::si::f64::Time;

/// Which ratings penetrations are held to.
pub const SCOPE: Choice = Choice::new(
    "rated_scope",
    "required",
    &["required", "claimed"],
    "Hold penetrations to the ratings the code requires, or to every rating the project claims as well.",
    "from memory of IRC R302.4: assemblies that R302.2 or R302.3 require to be rated",
)
.figure();

/// Metal pipe in masonry.
pub const GROUTED: Quantity<dimensions::Length> = Quantity::new(
    "grouted_pipe",
    "6 in",
    "Largest metal pipe through rated concrete or masonry whose gap concrete or grout may fill.",
    "from memory of IRC R302.4.1 exception 1",
)
.figure();

/// What a penetration must be sealed to.
#[derive(Clone, Copy, PartialEq)]
pub enum Need {
    /// Nothing the fire sections ask for.
    Nothing,
    /// To stop flame, as fireblocking does.
    Fireblock(&'static str),
    /// To hold a rating.
    Rated(Time),
}

impl Need {
    /// Where it comes from.
    pub fn source(self) -> &'static str {
        match self {
            Self::Rated(_) => sources::RATED_PENETRATIONS.text(),
            _ => sources::GARAGE_PENETRATIONS.text(),
        }
    }
}

/// What the penetrations of a wall, floor or ceiling must be sealed to.
///
/// # Errors
/// Where the project does not say what lies beyond it, or what holds it up.
pub fn need_of(inquiry: &Inquiry, part: &Part) -> Lookup<Need> {
    if let Some(rating) = rated::required(inquiry, part)? {
        return Ok(Need::Rated(rating));
    }
    if let (Some(rating), "claimed") = (&part.assembly.fire_rating, inquiry.value(&SCOPE)) {
        return Ok(Need::Rated(rating.quantity()));
    }
    if let Some((GarageRow::Residence | GarageRow::HabitableAbove, _)) = garage::row(inquiry, part)? {
        return Ok(Need::Fireblock("separation of garage and dwelling"));
    }
    let level = match part.assembly.kind {
        AssemblyKind::Ceiling => "ceiling",
        AssemblyKind::Floor => "floor",
        _ => return Ok(Need::Nothing),
    };
    if matches!(need!(part.assembly, beyond)?.kind, BeyondKind::Ground | BeyondKind::Outdoors) {
        return Ok(Need::Nothing);
    }
    Ok(if burns(part.framing()?) {
        Need::Fireblock(if level == "floor" { "floor line" } else { "ceiling line" })
    } else {
        Need::Nothing
    })
}

/// What fills the gap, as the handbook takes it.
pub fn filling(seal: Seal) -> Option<Filling> {
    Some(match seal {
        Seal::ListedFirestop => Filling::ListedFirestop,
        Seal::Fireblocking => Filling::Fireblocking,
        Seal::TestedFill => Filling::Tested,
        Seal::Grout => Filling::Grout,
        Seal::Sealant => Filling::Sealant,
        Seal::Unsealed => Filling::Nothing,
        Seal::Unrecognised => return None,
    })
}

/// What goes through, as the handbook takes it.
pub fn going(inquiry: &Inquiry, penetration: &Place<Penetration>) -> Going {
    match penetration.kind {
        PenetrationKind::MetalPipe => Going::MetalPipe,
        PenetrationKind::Duct => {
            let duct = need!(penetration, carries).and_then(|id| inquiry.duct(&id));
            let dampers = duct.ok().and_then(|duct| duct.get().dampers.as_ref());
            Going::Duct { fire_damper: dampers.map(|dampers| dampers.contains(&DamperKind::Fire)) }
        }
        _ => Going::Other,
    }
}
