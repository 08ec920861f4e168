//! What a space opens to: one reading for every rule.
//!
//! An opening may be named by either of the two spaces it joins, and either side may be left unsaid. What is not said may lead
//! into the space asked about, or from it anywhere: such an opening is among its ways, with what is missing.
//!
//! ```text
//! for way in ways::openings_of(inquiry, &space)? {
//!     match way.behind { Ok(Behind::Space(room)) => ..., Ok(Behind::Garage) => ..., Err(unresolved) => ... }
//! }
//! ```

use crate::{Inquiry, Lookup, Place, Unresolved, need};
use redtag_schema::project::{Beyond, BeyondKind, Opening, OpeningKind, Space};

/// What lies behind an opening, seen from a space.
#[derive(Debug, Clone)]
pub enum Behind<'a> {
    /// A space of the project.
    Space(Place<'a, Space>),
    /// Something the project does not describe as a space: outdoors, a garage, an attic.
    Elsewhere(BeyondKind),
}

/// An opening of a space.
#[derive(Debug, Clone)]
pub struct Way<'a> {
    /// The opening.
    pub opening: Place<'a, Opening>,
    /// Whether the space asked about is the one that names it; nothing where it may not be an opening of that space at all.
    pub own: Option<bool>,
    /// What lies behind it, or what is missing to know.
    pub behind: Lookup<Behind<'a>>,
    /// Of one that may not be an opening of the space: what lies behind it if it is.
    pub perhaps: Option<Behind<'a>>,
}

impl Way<'_> {
    /// Whether people pass it.
    pub fn is_passage(&self) -> bool {
        use OpeningKind as K;
        matches!(self.opening.kind, K::Door | K::DoorlessOpening | K::VehicleDoor | K::Hatch)
    }

    /// Whether it leads to such a place.
    ///
    /// # Errors
    /// What is missing to know, where it may lead there.
    pub fn leads(&self, there: impl Fn(&Behind) -> bool) -> Lookup<bool> {
        match (&self.behind, &self.perhaps) {
            (Ok(behind), _) => Ok(there(behind)),
            (Err(_), Some(perhaps)) if !there(perhaps) => Ok(false),
            (Err(unresolved), _) => Err(unresolved.clone()),
        }
    }

    /// Whether no door closes it.
    pub fn is_open(&self) -> bool {
        matches!(self.opening.kind, OpeningKind::DoorlessOpening | OpeningKind::Hole)
    }
}

/// The openings of a space, whichever side names them, and those whose unsaid side may be it.
///
/// # Errors
/// The list of openings, where the project has none.
pub fn openings_of<'a>(inquiry: &Inquiry<'a>, space: &Place<'_, Space>) -> Lookup<Vec<Way<'a>>> {
    let openings = need!(inquiry.project(), openings)?;
    Ok(openings.items().filter_map(|opening| way(inquiry, opening, &space.id)).collect())
}

/// Whether the list of openings holds all of a space.
///
/// # Errors
/// `openings_complete`, where it is not said.
pub fn all_openings_told(space: &Place<'_, Space>) -> Lookup<()> {
    let told = need!(space, openings_complete)?;
    if *told { Ok(()) } else { Err(Unresolved::because(told.pointer(), "the openings of the space that are not listed")) }
}

fn way<'a>(inquiry: &Inquiry<'a>, opening: Place<'a, Opening>, space: &str) -> Option<Way<'a>> {
    let near = opening.space.as_deref();
    let far = opening.beyond.as_ref().and_then(|beyond| beyond.space.as_deref());
    if near == Some(space) {
        let behind = need!(opening, beyond).and_then(|beyond| behind(inquiry, &beyond));
        return Some(Way { opening, own: Some(true), behind, perhaps: None });
    }
    if far == Some(space) {
        let behind = need!(opening, space).and_then(|id| inquiry.space(&id)).map(Behind::Space);
        return Some(Way { opening, own: Some(false), behind, perhaps: None });
    }
    // The side that is not said may be this space.
    let unsaid = match (near, &opening.beyond) {
        (None, _) => opening.missing("/space"),
        (Some(_), None) => opening.missing("/beyond"),
        (Some(_), Some(beyond)) if beyond.kind == BeyondKind::Space && beyond.space.is_none() => opening.missing("/beyond/space"),
        _ => return None,
    };
    let perhaps = match near {
        None => need!(opening, beyond).and_then(|beyond| behind(inquiry, &beyond)),
        Some(_) => need!(opening, space).and_then(|id| inquiry.space(&id)).map(Behind::Space),
    };
    Some(Way { opening, own: None, behind: Err(unsaid), perhaps: perhaps.ok() })
}

fn behind<'a>(inquiry: &Inquiry<'a>, beyond: &Place<'a, Beyond>) -> Lookup<Behind<'a>> {
    if beyond.space.is_some() {
        return need!(beyond, space).and_then(|id| inquiry.space(&id)).map(Behind::Space);
    }
    match beyond.kind {
        BeyondKind::Space => Err(beyond.missing("/space")),
        BeyondKind::Unrecognised => Err(beyond.missing("/kind")),
        kind => Ok(Behind::Elsewhere(kind)),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use redtag_schema::contract::Stage;
    use redtag_schema::project::{Project, SpaceKind};
    use serde_json::json;
    use std::collections::BTreeMap;

    #[test]
    fn either_side_names_an_opening_and_an_unsaid_side_may_be_any_space() {
        let project: Project = serde_json::from_value(json!({
            "schema": 1,
            "spaces": [{"id": "closet", "kind": "equipment-closet"}, {"id": "bed", "kind": "sleeping-room"}, {"id": "hall", "kind": "corridor"}],
            "openings": [
                {"id": "out", "kind": "louver", "space": "closet", "beyond": {"kind": "outdoors"}},
                {"id": "door", "kind": "door", "space": "bed", "beyond": {"kind": "space", "space": "closet"}},
                {"id": "elsewhere", "kind": "door", "space": "hall", "beyond": {"kind": "space", "space": "bed"}},
                {"id": "far", "kind": "door", "space": "closet"},
                {"id": "near", "kind": "door", "beyond": {"kind": "garage"}},
                {"id": "half", "kind": "doorless-opening", "space": "hall", "beyond": {"kind": "space"}}
            ]
        }))
        .expect("the project reads");
        let parameters = BTreeMap::new();
        let inquiry = Inquiry::new(&project, &parameters, Stage::Final, "2025-01-01");
        let closet = need!(inquiry.project(), spaces).expect("spaces").items().next().expect("a closet");
        let ways = openings_of(&inquiry, &closet).expect("openings");
        let told: Vec<String> = ways
            .iter()
            .map(|way| {
                let behind = match &way.behind {
                    Ok(Behind::Space(space)) => space.kind.word().to_owned(),
                    Ok(Behind::Elsewhere(kind)) => kind.word().to_owned(),
                    Err(unresolved) => unresolved.missing[0].pointer.clone(),
                };
                format!("{} {behind}", way.opening.id)
            })
            .collect();
        let wanted = [
            "out outdoors",
            "door sleeping-room",
            "far /openings/3/beyond",
            "near /openings/4/space",
            "half /openings/5/beyond/space",
        ];
        assert_eq!(told, wanted);
        // What is not said decides only where the opening may lead to what is asked about.
        let to_garage = |behind: &Behind| matches!(behind, Behind::Elsewhere(BeyondKind::Garage));
        let leads: Vec<Option<bool>> = ways.iter().map(|way| way.leads(to_garage).ok()).collect();
        assert_eq!(leads, [Some(false), Some(false), None, None, Some(false)]);
        assert_eq!(closet.kind, SpaceKind::EquipmentCloset);
        assert_eq!(all_openings_told(&closet).unwrap_err().missing[0].pointer, "/spaces/0/openings_complete");
    }
}
