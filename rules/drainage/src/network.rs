//! The drainage pipes: how they slope, what runs into them, how many fixture units they carry.

use crate::discharging::{goes_on, peak_flow};
use crate::parameters::units;
use redtag_handbook::drainage::{CodeFamily, FixtureLoad, fixture_units, in_gallons_per_minute, intermittent_flow_units};
use redtag_rule::prelude::*;
use uom::si::f64::{Ratio, VolumeRate};

/// How flows count as fixture units.
#[derive(Clone, Copy, Debug)]
pub struct Rates {
    /// Whose table of fixtures.
    pub family: CodeFamily,
    /// Units per gpm; `None` counts flows by classes.
    pub per_gpm: Option<f64>,
}

/// What a pipe carries.
#[derive(Clone, Debug, Default)]
pub struct Load {
    /// Fixture units.
    pub units: f64,
    /// What they come from, in words.
    pub from: Vec<String>,
    /// Discharges that never run with others of their group: group, units, name.
    grouped: Vec<(String, f64, String)>,
}

/// The drainage of a project.
pub struct Network<'a> {
    inquiry: Inquiry<'a>,
    /// Its pipes.
    pub pipes: Vec<Place<'a, DrainPipe>>,
    /// Its drains.
    pub drains: Vec<Place<'a, Drain>>,
    /// What is discharged.
    pub discharges: Vec<Place<'a, Discharge>>,
    pumps: Vec<Place<'a, DrainagePump>>,
    fixtures: Vec<Place<'a, Fixture>>,
}

impl<'a> Network<'a> {
    /// The drainage of a case.
    pub fn of(inquiry: &Inquiry<'a>) -> Self {
        let project = inquiry.project();
        Self {
            inquiry: *inquiry,
            pipes: need!(project, drainage.pipes).every(),
            drains: need!(project, drainage.drains).every(),
            discharges: need!(project, drainage.discharges).every(),
            pumps: need!(project, drainage.pumps).every(),
            fixtures: need!(project, water.fixtures).every(),
        }
    }

    /// The pipe of an id.
    pub fn pipe(&self, id: &str) -> Option<&Place<'a, DrainPipe>> {
        self.pipes.iter().find(|pipe| pipe.id == id)
    }

    /// The pipe a drain empties into.
    ///
    /// # Errors
    /// Where it is not said or there is none of that id.
    pub fn pipe_of(&self, drain: &Place<'a, Drain>) -> Lookup<Place<'a, DrainPipe>> {
        need!(self.inquiry.project(), drainage.pipes).named(&need!(drain, pipe)?)
    }

    /// What is discharged into a drain.
    pub fn discharged_into<'n>(&'n self, drain: &str) -> impl Iterator<Item = &'n Place<'a, Discharge>> {
        self.discharges.iter().filter(move |discharge| discharge.drain.as_deref() == Some(drain))
    }

    /// The fixture units of a pipe: what is stated for it, its drains with what runs and discharges into them, pumps, and the
    /// pipes above it.
    ///
    /// # Errors
    /// Where a part of it is not known.
    pub fn load(&self, pipe: &Place<'a, DrainPipe>, rates: &Rates) -> Lookup<Load> {
        let mut load = self.gathered(pipe, rates, &mut Vec::new())?;
        load.settle();
        Ok(load)
    }

    /// What may hang on any pipe because nobody says where it goes: fixture units and the place to fill in.
    pub fn unplaced(&self, pipe: &DrainPipe, rates: &Rates) -> Vec<(f64, Unresolved)> {
        let mut open = Vec::new();
        for fixture in self.fixtures.iter().filter(|fixture| fixture.drain.is_none()) {
            let one = loads(fixture.kind).and_then(|kind| fixture_units(rates.family, kind));
            open.extend(one.map(|one| (one.value * f64::from(fixture.count.unwrap_or(1)), fixture.missing("/drain"))));
        }
        for discharge in self.discharges.iter().filter(|discharge| discharge.drain.is_none() && goes_on(discharge.kind)) {
            let units = peak_flow(&self.inquiry, discharge).ok().and_then(|flow| rates.flow(flow));
            open.extend(units.map(|units| (units, discharge.missing("/drain"))));
        }
        for drain in self.drains.iter().filter(|drain| drain.pipe.is_none() && into_a_pipe(drain.kind)) {
            let mut load = Load::default();
            if self.drain_load(drain, rates, &mut load).is_ok() {
                load.settle();
                open.push((load.units, drain.missing("/pipe")));
            }
        }
        let ends = |other: &&Place<'a, DrainPipe>| goes_on_into(other.kind) && other.into.is_none();
        for other in self.pipes.iter().filter(ends).filter(|other| other.id != pipe.id && !self.below(pipe, &other.id)) {
            open.extend(self.load(other, rates).ok().map(|load| (load.units, other.missing("/into"))));
        }
        open.retain(|(units, _)| *units > 0.0);
        open
    }

    /// Whether everything that runs into a pipe is told: what is not described is stated for it, or the lists are whole.
    ///
    /// # Errors
    /// `fixture_units`, where neither is said. A fixture drain takes what its own trap lets through.
    pub fn all_told(&self, pipe: &Place<'a, DrainPipe>) -> Lookup<()> {
        let project = self.inquiry.project();
        let fixtures = need!(project, water.fixtures_complete).is_ok_and(|whole| *whole);
        let discharges = need!(project, drainage.discharges_complete).is_ok_and(|whole| *whole);
        if pipe.fixture_units.is_some() || (fixtures && discharges) {
            return Ok(());
        }
        let wanted = "the fixture units of what is not described and drains into it; 0 where everything is described";
        Err(Unresolved::because(format!("{}/fixture_units", pipe.pointer()), wanted))
    }

    /// Whether a pipe empties into another in the end.
    fn below(&self, pipe: &DrainPipe, other: &str) -> bool {
        let mut next = pipe.into.as_deref();
        for _ in 0..self.pipes.len() {
            let Some(id) = next else { return false };
            if id == other {
                return true;
            }
            next = self.pipe(id).and_then(|pipe| pipe.get().into.as_deref());
        }
        false
    }

    fn gathered(&self, pipe: &Place<'a, DrainPipe>, rates: &Rates, seen: &mut Vec<&'a str>) -> Lookup<Load> {
        let id = pipe.get().id.as_str();
        let mut load = Load::default();
        if seen.contains(&id) {
            return Ok(load);
        }
        seen.push(id);
        let stated = need!(pipe, fixture_units);
        if let Ok(stated) = &stated {
            load.add(**stated, "what is stated for it");
        }
        let mut told = stated.is_ok();
        for drain in self.drains.iter().filter(|drain| drain.pipe.as_deref() == Some(id)) {
            told = true;
            self.drain_load(drain, rates, &mut load)?;
        }
        for pump in self.pumps.iter().filter(|pump| pump.pipe.as_deref() == Some(id)) {
            told = true;
            let flow = need!(pump, flow)?.quantity();
            load.add(rates.flow(flow).ok_or_else(|| pump.missing("/flow"))?, &format!("pump {}", pump.id));
        }
        for above in self.pipes.iter().filter(|above| above.into.as_deref() == Some(id)) {
            told = true;
            let part = self.gathered(above, rates, seen)?;
            load.add(part.units, &format!("pipe {}", above.id));
            load.grouped.extend(part.grouped);
        }
        if told { Ok(load) } else { Err(pipe.missing("/fixture_units")) }
    }

    fn drain_load(&self, drain: &Place<'a, Drain>, rates: &Rates, load: &mut Load) -> Lookup<()> {
        let id = drain.get().id.as_str();
        let unknown = || drain.missing("/kind");
        if drain.kind == DrainKind::FloorDrain {
            let own = fixture_units(rates.family, FixtureLoad::FloorDrain).ok_or_else(unknown)?;
            load.add(own.value, &format!("floor drain {id}"));
        }
        for fixture in self.fixtures.iter().filter(|fixture| fixture.drain.as_deref() == Some(id)) {
            let Some(kind) = loads(fixture.kind) else { continue };
            let one = fixture_units(rates.family, kind).ok_or_else(|| fixture.missing("/kind"))?;
            load.add(one.value * f64::from(fixture.count.unwrap_or(1)), &format!("{} {}", fixture.kind, fixture.id));
        }
        for discharge in self.discharged_into(id).filter(|discharge| goes_on(discharge.kind)) {
            let flow = peak_flow(&self.inquiry, discharge)?;
            let one = rates.flow(flow).ok_or_else(|| discharge.missing("/flow"))?;
            match &discharge.exclusive_group {
                Some(group) => load.grouped.push((group.clone(), one, discharge.id.clone())),
                None => load.add(one, &format!("discharge {}", discharge.id)),
            }
        }
        Ok(())
    }
}

impl Rates {
    /// The units of a flow; `None` where the table ends.
    pub fn flow(&self, flow: VolumeRate) -> Option<f64> {
        match self.per_gpm {
            Some(rate) => Some(in_gallons_per_minute(flow) * rate),
            None => intermittent_flow_units(flow),
        }
    }
}

/// Whether a pipe always empties into another of the building.
pub fn goes_on_into(kind: DrainPipeKind) -> bool {
    use DrainPipeKind as K;
    matches!(kind, K::FixtureDrain | K::Branch | K::BuildingDrainBranch | K::Stack)
}

/// Whether a drain empties into a pipe.
pub fn into_a_pipe(kind: DrainKind) -> bool {
    !matches!(kind, DrainKind::DryWell | DrainKind::Outdoors | DrainKind::Sump | DrainKind::StormSump)
}

impl Load {
    /// Counts the greatest of each group of discharges that never run together, wherever they come in.
    fn settle(&mut self) {
        let mut grouped = std::mem::take(&mut self.grouped);
        grouped.sort_by(|one, other| one.0.cmp(&other.0).then(other.1.total_cmp(&one.1)));
        grouped.dedup_by(|later, first| later.0 == first.0);
        grouped.into_iter().for_each(|(_, one, name)| self.add(one, &format!("discharge {name}")));
    }

    fn add(&mut self, more: f64, from: &str) {
        self.units += more;
        if more > 0.0 {
            self.from.push(format!("{} from {from}", units(more)));
        }
    }
}

/// The slope of a pipe: from its inverts and length, else as stated.
///
/// # Errors
/// Where neither is given.
pub fn slope(pipe: &Place<DrainPipe>) -> Lookup<Ratio> {
    let inverts = (need!(pipe, upper_invert), need!(pipe, lower_invert), need!(pipe, length)).together();
    match inverts {
        Ok((upper, lower, length)) if length.si() > 0.0 => Ok((upper.quantity() - lower.quantity()) / length.quantity()),
        _ => need!(pipe, slope).map(|slope| slope.quantity()),
    }
}

/// Whether waste runs down it by its own slope.
pub fn is_horizontal(kind: DrainPipeKind) -> bool {
    use DrainPipeKind as K;
    matches!(kind, K::FixtureDrain | K::Branch | K::BuildingDrainBranch | K::BuildingDrain | K::BuildingSewer)
}

fn loads(kind: FixtureKind) -> Option<FixtureLoad> {
    use {FixtureKind as K, FixtureLoad as L};
    Some(match kind {
        K::Bathtub => L::Bathtub,
        K::Shower => L::Shower,
        K::Lavatory => L::Lavatory,
        K::WaterCloset => L::WaterCloset,
        K::Bidet => L::Bidet,
        K::KitchenSink => L::KitchenSink,
        K::BarSink => L::BarSink,
        K::Dishwasher => L::Dishwasher,
        K::ClothesWasher => L::ClothesWasher,
        K::LaundryTub => L::LaundryTub,
        _ => return None,
    })
}
