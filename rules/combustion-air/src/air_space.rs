//! Everything about one space that burners take their air from.

use crate::appliances::{self, Counted, Sorted};
use crate::outdoors::Outward;
use crate::parameters::Limits;
use crate::rooms::{Joined, Rooms};
use redtag_handbook::combustion_air as air;
use redtag_rule::prelude::*;
use std::collections::{BTreeMap, BTreeSet};
use uom::si::f64::{Area, Frequency, Power, Volume, VolumeRate};

/// A known infiltration.
pub struct Infiltration {
    /// Natural air changes.
    pub rate: Frequency,
    /// Where the figure comes from.
    pub working: Text,
}

/// A space that counts as one, with its burners and its openings to outdoors.
pub struct AirSpace<'a> {
    start: Place<'a, Space>,
    spaces: Vec<Place<'a, Space>>,
    exhausts: Vec<Place<'a, Exhaust>>,
    exhausts_untold: Option<Unresolved>,
    /// The rooms and how they were joined.
    pub joined: Joined,
    /// Appliances that count.
    pub counted: Vec<Counted<'a>>,
    /// Appliances that do not, and why.
    pub excluded: Vec<(String, &'static str)>,
    /// Appliances whose instructions have figures of their own, and what would settle them.
    pub own_figures: Vec<(String, Unresolved)>,
    /// Why indoor air does not count here, where it does not.
    pub outdoor_air_only: Lookup<Option<Text>>,
    /// Burners whose room is not said: they may stand in this one.
    pub placeless: Option<Unresolved>,
    /// Why the space is not as good as outdoors; nothing where it is.
    pub not_outdoors: Lookup<Option<Text>>,
    /// The counted input.
    pub input: air::CountedInput,
    /// Openings to outdoors.
    pub outward: Outward<'a>,
    /// The known infiltration, where it is known.
    pub infiltration: Lookup<Option<Infiltration>>,
}

impl<'a> AirSpace<'a> {
    /// Every space with appliances that burn fuel, each joined group of rooms once. What is missing about the appliances of a
    /// group makes its finding unresolved.
    pub fn all(inquiry: &Inquiry<'a>, limits: &Limits) -> Vec<Result<Self, Box<Finding>>> {
        let burners = burners(inquiry);
        let rooms = Rooms::of(inquiry);
        let exhausts = exhausts(inquiry);
        let mut sorted: BTreeMap<&str, Vec<Lookup<Sorted<'a>>>> = BTreeMap::new();
        let mut found = Vec::new();
        let project = inquiry.project();
        if let Err(unresolved) = need!(project, equipment) {
            let summary = text!("cannot tell which burners there are: no equipment is given");
            return vec![Err(Box::new(project.unresolved(summary, unresolved).done()))];
        }
        for appliance in &burners {
            match appliance.get().space.as_deref() {
                Some(id) => sorted.entry(id).or_default().push(appliances::sort(appliance, &exhausts, limits)),
                None if appliance.outdoors == Some(true) => {}
                None => found.push(Err(Box::new(placeless(appliance)))),
            }
        }
        let lost =
            burners.iter().filter(|one| one.space.is_none() && one.outdoors != Some(true) && !appliances::brings_own_air(one));
        let lost = lost.map(|one| one.missing("/space")).reduce(Unresolved::and);
        let inputs: BTreeMap<&str, Power> = sorted.iter().map(|(id, list)| (*id, counted_input(list).total())).collect();
        let input_of = |id: &str| inputs.get(id).copied().unwrap_or_default();
        let mut seen: BTreeSet<String> = BTreeSet::new();
        for id in sorted.keys().copied().collect::<Vec<_>>() {
            if seen.contains(id) {
                continue;
            }
            let Ok(start) = rooms.space(id) else { continue };
            let joined = rooms.joined(id, &input_of, limits);
            seen.extend(joined.rooms.iter().cloned());
            let own: Vec<Lookup<Sorted<'a>>> =
                joined.rooms.iter().flat_map(|room| sorted.remove(room.as_str()).unwrap_or_default()).collect();
            let mut space = Self::of(inquiry, start, joined, own, &rooms, &exhausts, limits);
            if let Ok(space) = &mut space {
                space.placeless.clone_from(&lost);
            }
            found.push(space);
        }
        found
    }

    /// The space an appliance takes its air from.
    ///
    /// # Errors
    /// When a fact about the appliances of that space is missing.
    pub fn holding(inquiry: &Inquiry<'a>, limits: &Limits, appliance: &Place<Equipment>) -> Lookup<Option<Self>> {
        let Some(id) = appliance.get().space.as_deref() else { return Ok(None) };
        for found in Self::all(inquiry, limits) {
            match found {
                Ok(space) if space.joined.rooms.contains(id) => return Ok(Some(space)),
                Ok(_) => {}
                Err(finding) if finding.subject.id.as_deref() == Some(id) => return Err(Unresolved { missing: finding.missing }),
                Err(_) => {}
            }
        }
        Ok(None)
    }

    fn of(
        inquiry: &Inquiry<'a>,
        start: &Place<'a, Space>,
        joined: Joined,
        own: Vec<Lookup<Sorted<'a>>>,
        rooms: &Rooms<'a>,
        exhausts: &[Place<'a, Exhaust>],
        limits: &Limits,
    ) -> Result<Self, Box<Finding>> {
        let input = counted_input(&own);
        let sorted = own.together().map_err(|unresolved| Box::new(untold(start, unresolved)))?;
        let (mut counted, mut excluded, mut own_figures) = (Vec::new(), Vec::new(), Vec::new());
        for sorted in sorted {
            match sorted {
                Sorted::Counts(appliance) => counted.push(appliance),
                Sorted::Excluded(label, why) => excluded.push((label, why)),
                Sorted::OwnFigures(label, unresolved) => own_figures.push((label, unresolved)),
            }
        }
        let ducts: Vec<Place<'a, Duct>> = need!(inquiry.project(), ducts).every();
        let mut outward = Outward::of(&rooms.outward(&joined.rooms), rooms, &ducts, input.total(), limits);
        outward.untold = rooms.untold(outward.untold.take());
        let spaces = joined.rooms.iter().filter_map(|id| rooms.space(id).ok().cloned()).collect();
        let exhausts_untold = need!(inquiry.project(), exhausts).err();
        let exhausts =
            exhausts.iter().filter(|e| e.space.as_ref().is_some_and(|id| joined.rooms.contains(id))).cloned().collect();
        let infiltration = infiltration(inquiry, limits);
        let outdoor_air_only = outdoor_air_only(start, &counted, rooms);
        let not_outdoors = match start.kind {
            // A carport is open on two sides at least, or it is a garage.
            SpaceKind::Carport => Ok(None),
            _ => crate::outdoors::not_outdoors(start, false, input.total(), limits),
        };
        Ok(Self {
            start: start.clone(),
            spaces,
            exhausts,
            exhausts_untold,
            joined,
            counted,
            excluded,
            own_figures,
            outdoor_air_only,
            placeless: None,
            not_outdoors,
            input,
            outward,
            infiltration,
        })
    }

    /// The space findings are about: the first that holds burners.
    pub fn subject(&self) -> &Place<'a, Space> {
        &self.start
    }

    /// Pointers of the other rooms that belong to it.
    pub fn others(&self) -> Vec<String> {
        let other = |space: &&Place<'a, Space>| space.pointer() != self.start.pointer();
        self.spaces.iter().filter(other).map(|space| space.pointer().to_owned()).collect()
    }

    /// Volume of all its rooms.
    ///
    /// # Errors
    /// When a room's volume is not given.
    pub fn volume(&self, sheet: &mut Sheet) -> Lookup<Volume> {
        let volumes = self.spaces.iter().map(least_volume).collect::<Vec<_>>().together()?;
        if volumes.len() > 1 {
            for (space, volume) in self.spaces.iter().zip(&volumes) {
                sheet.line("volume", text!("{}: {}", space.label(), *volume), "");
            }
        }
        Ok(volumes.into_iter().fold(Volume::default(), |sum, volume| sum + volume))
    }

    /// The areas of all vent connectors in it.
    ///
    /// # Errors
    /// When a connector's diameter is not given.
    pub fn connector_area(&self) -> Lookup<Area> {
        let vented = self.counted.iter().filter(|appliance| {
            appliance.place.fuel_burning.as_ref().and_then(|burning| burning.burner) != Some(Burner::Unvented)
                && appliance.place.kind != EquipmentKind::Range
        });
        let areas = vented
            .map(|appliance| {
                let diameter = need!(appliance.place, fuel_burning.vent_connector_diameter)?;
                Ok(air::round_area(diameter.quantity()))
            })
            .collect::<Vec<Lookup<Area>>>()
            .together()?;
        Ok(areas.into_iter().fold(Area::default(), |sum, area| sum + area))
    }

    /// Clearances about the appliances that bar the one-opening method.
    ///
    /// # Errors
    /// When a clearance is not given.
    pub fn tight_clearances(&self, sheet: &mut Sheet, limits: &Limits) -> Lookup<Vec<Text>> {
        let mut tight = Vec::new();
        let all = self.counted.iter().map(|appliance| clearances(&appliance.place)).collect::<Vec<_>>();
        // A clearance known to be too small decides, whatever else is missing.
        for (appliance, known) in self.counted.iter().zip(&all) {
            let Ok(known) = known else { continue };
            for short in air::clearance_shortfalls(known, &limits.one) {
                let side = match short.side {
                    air::Side::Sides => "at a side",
                    air::Side::Back => "behind",
                    air::Side::Front => "in front",
                };
                let (clear, required) = (in_unit(short.clear, "in"), in_unit(short.required, "in"));
                let text = text!("{} clear {} of {}, {} needed", clear, side, appliance.place.label(), required);
                sheet.test("clearance", text.clone(), air::sources::ONE_OPENING.text(), false);
                tight.push(text);
            }
        }
        if tight.is_empty() {
            all.together()?;
        }
        Ok(tight)
    }

    /// Flow of the exhaust fans that draw from it while burners fire.
    ///
    /// # Errors
    /// When a fan's flow is not given.
    pub fn exhaust(&self) -> Lookup<VolumeRate> {
        if let Some(untold) = &self.exhausts_untold {
            return Err(untold.clone());
        }
        let draws = |exhaust: &&Place<'a, Exhaust>| {
            exhaust.kind != ExhaustKind::BalancedVentilator
                && !matches!(exhaust.kind, ExhaustKind::Fireplace | ExhaustKind::Stove)
                && exhaust.runs_with_burners != Some(false)
        };
        let flows = self
            .exhausts
            .iter()
            .filter(draws)
            .map(|exhaust| {
                let drawn = need!(exhaust, flow)?.quantity();
                let made_up = exhaust.make_up.as_ref().and_then(|make_up| make_up.flow.as_ref()).map(|flow| flow.quantity());
                let left = made_up.map_or(drawn, |made_up| drawn - made_up);
                Ok(if left.value > 0.0 { left } else { VolumeRate::default() })
            })
            .collect::<Vec<Lookup<VolumeRate>>>()
            .together()?;
        Ok(flows.into_iter().fold(VolumeRate::default(), |sum, flow| sum + flow))
    }

    /// The fan of the mechanical method, where a room of the space has one.
    pub fn fan(&self) -> Option<Place<'a, MechanicalCombustionAir>> {
        self.spaces.iter().find_map(|space| need!(space, combustion_air.mechanical).ok())
    }

    /// The section of the method the project says it uses.
    pub fn claimed(&self) -> Option<&'static str> {
        use CombustionAirMethod as M;
        let method = self.spaces.iter().find_map(|space| need!(space, combustion_air.method).ok())?;
        Some(match *method {
            M::IndoorStandard | M::IndoorKnownInfiltration => "304.5",
            M::OutdoorTwoOpenings => "304.6.1",
            M::OutdoorOneOpening => "304.6.2",
            M::Combination => "304.7",
            M::Mechanical => "304.9",
            M::Engineered => "304.8",
            M::Unrecognised => return None,
        })
    }

    /// The engineer's document, where a room of the space has one.
    pub fn engineered(&self) -> Option<Place<'a, Evidence>> {
        self.spaces.iter().find_map(|space| need!(space, combustion_air.engineered).ok())
    }
}

/// Volume of a space: where it is stated and drawn, the lesser of the two.
pub fn least_volume(space: &Place<Space>) -> Lookup<Volume> {
    let stated = redtag_rule::size::volume(space)?;
    let drawn = match (redtag_rule::size::floor_area(space), &space.ceiling_height) {
        (Ok(area), Some(height)) => area * height.quantity(),
        _ => return Ok(stated),
    };
    // Rounding of a stated figure is not a contradiction.
    Ok(if drawn.value < stated.value * 0.98 { drawn } else { stated })
}

/// Why only outdoor air may serve the burners of a space: it is an enclosure in a bedroom or bath, or their instructions say so.
fn outdoor_air_only(start: &Place<Space>, counted: &[Counted], rooms: &Rooms) -> Lookup<Option<Text>> {
    if let Some(appliance) = counted.iter().find(|appliance| appliance.outdoor_air_only) {
        return Ok(Some(text!("the instructions of {} ask for outdoor air alone", appliance.place.label())));
    }
    if crate::rooms::is_prohibited(start.kind) || crate::rooms::is_source(start) {
        return Ok(None);
    }
    let ways = rooms.ways_out(&start.get().id);
    match (ways.elsewhere, ways.untold, ways.doors.first()) {
        (true, _, _) => Ok(None),
        (_, Some(untold), _) => Err(untold),
        (_, None, Some((_, beyond))) => {
            Ok(Some(text!("{} opens only into {}: all air must come from outdoors", start.label(), beyond.label())))
        }
        (_, None, None) => Ok(None),
    }
}

/// Appliances that burn fuel, and those that may: whether they do is asked where they are sorted.
pub fn burners<'a>(inquiry: &Inquiry<'a>) -> Vec<Place<'a, Equipment>> {
    need!(inquiry.project(), equipment).every().into_iter().filter(kinds::may_burn).collect()
}

/// Whatever draws air out.
pub fn exhausts<'a>(inquiry: &Inquiry<'a>) -> Vec<Place<'a, Exhaust>> {
    need!(inquiry.project(), exhausts).every()
}

fn counted_input(sorted: &[Lookup<Sorted>]) -> air::CountedInput {
    let of = |sorted: &Lookup<Sorted>| match sorted {
        Ok(Sorted::Counts(appliance)) => Some(air::CountedInput::of(appliance.class, appliance.input)),
        _ => None,
    };
    sorted.iter().filter_map(of).sum()
}

fn placeless(appliance: &Place<Equipment>) -> Finding {
    let unresolved = appliance.missing("/space");
    appliance.unresolved(text!("cannot tell where its air comes from: the space it stands in is not given"), unresolved).done()
}

fn untold(start: &Place<Space>, unresolved: Unresolved) -> Finding {
    let summary = text!("cannot tell which appliances count toward combustion air, or with what input");
    start.unresolved(summary, unresolved).done()
}

/// The known infiltration: a natural rate as stated with evidence, else from a blower-door result where that counts.
fn infiltration(inquiry: &Inquiry, limits: &Limits) -> Lookup<Option<Infiltration>> {
    let Ok(known) = need!(inquiry.project(), building.infiltration) else { return Ok(None) };
    if let (Some(natural), Some(tested)) = (&known.natural, &known.ach50)
        && let Some(most) = air::natural_air_changes(tested.quantity(), limits.least_divisor)
        && !at_most(natural.quantity(), most)
    {
        let working = text!(
            "{} is claimed, but {} at 50 Pa leave {} at most (÷ {}): that counts",
            natural,
            tested,
            most,
            limits.least_divisor.value.to_string()
        );
        return Ok(Some(Infiltration { rate: most, working }));
    }
    if let Some(natural) = &known.natural {
        return Ok(Some(Infiltration { rate: natural.quantity(), working: text!("known: {}", natural) }));
    }
    let (Some(divisor), Some(tested)) = (limits.blower_door, &known.ach50) else { return Ok(None) };
    let rate = air::natural_air_changes(tested.quantity(), divisor);
    Ok(rate.map(|rate| Infiltration {
        rate,
        working: text!("{} at 50 Pa ÷ {} = {} (a rule of thumb, not in the code)", tested, divisor.value.to_string(), rate),
    }))
}

fn clearances(appliance: &Place<Equipment>) -> Lookup<air::ApplianceClearances> {
    let side = |one: &Option<quantity::Length>| one.as_ref().map(|length| length.quantity());
    let room = need!(appliance, room_clearances)?;
    let sides = side(&room.sides).or_else(|| match (side(&room.left), side(&room.right)) {
        (Some(left), Some(right)) => Some(if left < right { left } else { right }),
        _ => None,
    });
    let sides = sides.ok_or_else(|| room.missing("/sides"));
    let (back, front) = (need!(room, back), need!(room, front));
    let (sides, back, front) = (sides, back, front).together()?;
    Ok(air::ApplianceClearances { sides, back: back.quantity(), front: front.quantity() })
}
