//! The tree of water pipes: what hangs on each, how much flows in it, what it takes from the pressure.

use redtag_handbook::water::measure::gallons_per_minute;
use redtag_handbook::water::measure::in_gallons_per_minute;
use redtag_handbook::water::{DemandCurve, Outlet, TubeKind, UnitTable, inside_diameter, peak_demand, supply_units};
use redtag_rule::prelude::*;
use uom::si::f64::{Length, VolumeRate};

/// The tables an authority counts by, as words of a parameter.
pub const TABLES: &[&str] = &["residential", "uniform"];
/// The curves, as words of a parameter.
pub const CURVES: &[&str] = &["residential", "standard"];

/// How flow is counted.
#[derive(Clone, Copy)]
pub struct Counting {
    /// Units of each outlet.
    pub table: UnitTable,
    /// Flow of so many units.
    pub curve: DemandCurve,
    /// Whether the outlets of a bathroom, kitchen or laundry count as one group.
    pub groups: bool,
}

impl Counting {
    /// From the words of parameters.
    pub fn new(table: &str, curve: &str, groups: bool) -> Self {
        Self {
            table: if table == "uniform" { UnitTable::Uniform } else { UnitTable::Residential },
            curve: if curve == "standard" { DemandCurve::Standard } else { DemandCurve::Residential },
            groups,
        }
    }
}

/// Which side of an outlet a pipe feeds.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Side {
    Cold,
    Hot,
    Both,
}

/// Pipes and outlets with their places.
pub struct Network<'a> {
    /// The pipes.
    pub pipes: Vec<Place<'a, WaterPipe>>,
    /// The outlets.
    pub fixtures: Vec<Place<'a, Fixture>>,
}

impl<'a> Network<'a> {
    /// The pipes and outlets of a project.
    ///
    /// # Errors
    /// Where either is not told, and where an outlet does not say which pipe it hangs on.
    pub fn of(inquiry: &Inquiry<'a>) -> Lookup<Self> {
        let (pipes, fixtures) = (need!(inquiry.project(), water.pipes), need!(inquiry.project(), water.fixtures)).together()?;
        let network = Self { pipes: pipes.items().collect(), fixtures: fixtures.items().collect() };
        let hung: Vec<Lookup<()>> = network.fixtures.iter().map(hangs).collect();
        hung.together()?;
        network.rooted()?;
        Ok(network)
    }

    /// Whether every pipe that fixtures hang on leads back to a service, or to the one pipe everything branches from: what branches
    /// off somewhere nobody says would be left out of the flow.
    fn rooted(&self) -> Lookup<()> {
        let ends = self.fixtures.iter().flat_map(|fixture| [&fixture.get().cold_pipe, &fixture.get().hot_pipe]).flatten();
        let mut roots: Vec<&Place<'a, WaterPipe>> = ends.filter_map(|end| self.chain(end).last().copied()).collect();
        roots.sort_by_key(|root| root.pointer());
        roots.dedup_by_key(|root| root.pointer());
        let loose = roots.iter().filter(|root| root.from.is_none() && root.kind != WaterPipeKind::Service);
        let several = roots.len() > 1 || self.pipes.iter().any(|pipe| self.may_lead_to(pipe, &roots));
        let open = loose.filter(|_| several).map(|root| root.missing("/from"));
        open.fold(None, Unresolved::joined).map_or(Ok(()), Err)
    }

    /// Whether a pipe on which nothing hangs, as far as is told, may be what the others branch from.
    fn may_lead_to(&self, pipe: &WaterPipe, roots: &[&Place<'a, WaterPipe>]) -> bool {
        use WaterPipeKind as K;
        let apart = matches!(pipe.kind, K::Nonpotable | K::Hydronic | K::Recirculation | K::Hot);
        let hangs = |fixture: &Place<'a, Fixture>| self.side(pipe, fixture).is_some();
        !apart && roots.iter().all(|root| root.id != pipe.id) && !self.fixtures.iter().any(hangs)
    }

    /// The pipes from one back to the source, itself first. A loop in the file ends the walk.
    pub fn chain(&self, id: &str) -> Vec<&Place<'a, WaterPipe>> {
        let mut chain: Vec<&Place<'a, WaterPipe>> = Vec::new();
        let mut next = self.pipes.iter().find(|pipe| pipe.id == id);
        while let Some(pipe) = next {
            if chain.iter().any(|passed| passed.id == pipe.id) {
                break;
            }
            chain.push(pipe);
            next = pipe.from.as_ref().and_then(|from| self.pipes.iter().find(|pipe| &pipe.id == from));
        }
        chain
    }

    /// Supply units on a pipe; continuous flows, such as irrigation, beside them.
    ///
    /// # Errors
    /// Where the table has no line for an outlet, or an outlet does not say how much it draws.
    pub fn units(&self, pipe: &WaterPipe, counting: Counting) -> Lookup<(f64, VolumeRate)> {
        let mut rooms: Vec<Room> = Vec::new();
        let (mut units, mut steady, mut hoses) = (0.0, gallons_per_minute(0.0), 0_u32);
        for fixture in &self.fixtures {
            let Some(side) = self.side(pipe, fixture) else { continue };
            let count = fixture.count.unwrap_or(1);
            if fixture.kind == FixtureKind::Irrigation {
                steady += need!(fixture, flow)?.quantity() * f64::from(count);
                continue;
            }
            for _ in 0..count {
                hoses += u32::from(fixture.kind == FixtureKind::HoseBibb);
                let outlet = outlet(fixture.kind, hoses > 1).ok_or_else(|| no_line(fixture))?;
                let room = if counting.groups { fixture.space.clone().or_else(|| fixture.dwelling_unit.clone()) } else { None };
                let known = room.as_ref().and_then(|room| rooms.iter_mut().find(|known| &known.name == room));
                match (known, room) {
                    (Some(known), _) => known.add(outlet, side),
                    (None, Some(name)) => rooms.push(Room { name, outlets: vec![(outlet, side)] }),
                    (None, None) => units += counted(counting.table, outlet, side).ok_or_else(|| no_line(fixture))?,
                }
            }
        }
        let grouped: Option<f64> = rooms.into_iter().map(|room| room.units(counting.table)).sum();
        grouped.map(|grouped| (units + grouped, steady)).ok_or_else(|| {
            Unresolved::because(
                "/water/fixtures",
                "the units of each outlet: the table in force has no line for some on a hot or cold pipe",
            )
        })
    }

    /// The greatest flow to be expected in a pipe.
    ///
    /// # Errors
    /// Where units are not known, or the curve does not reach so far.
    pub fn flow(&self, pipe: &WaterPipe, counting: Counting) -> Lookup<(f64, VolumeRate)> {
        let (units, steady) = self.units(pipe, counting)?;
        let peak = peak_demand(counting.curve, units).ok_or_else(|| {
            let words = format!("a flow stated by a designer: the curve in force is not known at {units:.1} supply units");
            Unresolved::because("/water/design_flow", words)
        })?;
        Ok((units, peak + steady))
    }

    fn side(&self, pipe: &WaterPipe, fixture: &Fixture) -> Option<Side> {
        let through = |id: &Option<String>| id.as_ref().is_some_and(|id| self.chain(id).iter().any(|own| own.id == pipe.id));
        match (through(&fixture.cold_pipe), through(&fixture.hot_pipe)) {
            (true, true) => Some(Side::Both),
            (true, false) => Some(Side::Cold),
            (false, true) => Some(Side::Hot),
            (false, false) => None,
        }
    }
}

/// Outlets of one room on one pipe.
struct Room {
    name: String,
    outlets: Vec<(Outlet, Side)>,
}

impl Room {
    fn add(&mut self, outlet: Outlet, side: Side) {
        self.outlets.push((outlet, side));
    }

    /// Takes outlets out that form a group on one side of a pipe, as often as they do.
    fn group(&mut self, of: &[&[Outlet]], side: Side) -> bool {
        let mut taken = Vec::new();
        for &choices in of {
            let fits = |(at, (outlet, on)): (usize, &(Outlet, Side))| {
                // What has no hot water hangs on the cold side of a pipe that feeds both.
                let same = *on == side || (side == Side::Both && *on == Side::Cold && *outlet == Outlet::WaterCloset);
                let same = same || (side == Side::Both && *on == Side::Hot && *outlet == Outlet::Dishwasher);
                (same && choices.contains(outlet) && !taken.contains(&at)).then_some(at)
            };
            match self.outlets.iter().enumerate().find_map(fits) {
                Some(at) => taken.push(at),
                None => return false,
            }
        }
        let mut at = 0;
        self.outlets.retain(|_| {
            at += 1;
            !taken.contains(&(at - 1))
        });
        true
    }

    fn units(mut self, table: UnitTable) -> Option<f64> {
        let mut total = 0.0;
        if table == UnitTable::Residential {
            for side in [Side::Both, Side::Cold, Side::Hot] {
                let closet: &[Outlet] = &[Outlet::WaterCloset];
                let basin: &[Outlet] = &[Outlet::Lavatory];
                let groups: [(Outlet, &[&[Outlet]]); 4] = [
                    (Outlet::FullBath, &[closet, basin, &[Outlet::Bathtub, Outlet::Shower]]),
                    (Outlet::HalfBath, &[closet, basin]),
                    (Outlet::Kitchen, &[&[Outlet::KitchenSink], &[Outlet::Dishwasher]]),
                    (Outlet::Laundry, &[&[Outlet::ClothesWasher], &[Outlet::LaundryTub]]),
                ];
                for (group, of) in groups {
                    while self.group(of, side) {
                        total += counted(table, group, side)?;
                    }
                }
            }
        }
        let rest: Option<f64> = self.outlets.iter().map(|&(outlet, side)| counted(table, outlet, side)).sum();
        rest.map(|rest| total + rest)
    }
}

fn counted(table: UnitTable, outlet: Outlet, side: Side) -> Option<f64> {
    let units = supply_units(table, outlet)?;
    // What has one connection counts the same on either pipe.
    let single = matches!(outlet, Outlet::WaterCloset | Outlet::HoseBibb | Outlet::AnotherHoseBibb | Outlet::Dishwasher);
    match side {
        Side::Both => Some(units.total),
        _ if single => Some(units.total),
        Side::Hot => units.hot,
        Side::Cold => units.cold,
    }
}

fn no_line(fixture: &Place<Fixture>) -> Unresolved {
    Unresolved::because(fixture.pointer(), "how much it draws: the table of supply units has no line for it that is known")
}

fn outlet(kind: FixtureKind, another_hose: bool) -> Option<Outlet> {
    Some(match kind {
        FixtureKind::Bathtub => Outlet::Bathtub,
        FixtureKind::Shower => Outlet::Shower,
        FixtureKind::Lavatory => Outlet::Lavatory,
        FixtureKind::WaterCloset => Outlet::WaterCloset,
        FixtureKind::KitchenSink | FixtureKind::BarSink => Outlet::KitchenSink,
        FixtureKind::Dishwasher => Outlet::Dishwasher,
        FixtureKind::ClothesWasher => Outlet::ClothesWasher,
        FixtureKind::LaundryTub => Outlet::LaundryTub,
        FixtureKind::HoseBibb if another_hose => Outlet::AnotherHoseBibb,
        FixtureKind::HoseBibb => Outlet::HoseBibb,
        _ => return None,
    })
}

/// Whether an outlet says which pipes it hangs on.
fn hangs(fixture: &Place<Fixture>) -> Lookup<()> {
    let cold = || need!(fixture, cold_pipe).map(drop);
    let hot = || need!(fixture, hot_pipe).map(drop);
    match fixture.kind {
        FixtureKind::WaterCloset | FixtureKind::HoseBibb | FixtureKind::Irrigation => cold(),
        FixtureKind::Dishwasher => hot().or_else(|_| cold()).map_err(|_| fixture.missing("/hot_pipe")),
        _ => (cold(), hot()).together().map(drop),
    }
}

/// The tube of a pipe as the handbook knows it.
///
/// # Errors
/// Where its material is not told, or has no figures.
pub fn tube(pipe: &Place<WaterPipe>) -> Lookup<TubeKind> {
    use WaterPipeMaterial as Material;
    let material = need!(pipe, material)?;
    Ok(match *material {
        Material::CopperK => TubeKind::CopperK,
        Material::CopperL => TubeKind::CopperL,
        Material::CopperM => TubeKind::CopperM,
        Material::Pex | Material::PeRt => TubeKind::Pex,
        Material::Cpvc => TubeKind::Cpvc,
        Material::Polyethylene => TubeKind::Polyethylene,
        Material::Pvc | Material::GalvanizedSteel => TubeKind::Schedule40,
        _ => return Err(Unresolved::because(material.pointer(), "a material whose inside and roughness are known")),
    })
}

/// Inside diameter: as told, else by material and nominal size.
///
/// # Errors
/// Where neither is known.
pub fn inside(pipe: &Place<WaterPipe>) -> Lookup<Length> {
    if let Ok(told) = need!(pipe, inside_diameter) {
        return Ok(told.quantity());
    }
    let (tube, size) = (tube(pipe), need!(pipe, size)).together()?;
    inside_diameter(tube, size.quantity()).ok_or_else(|| pipe.missing("/inside_diameter"))
}

/// A flow said in gallons per minute to one place.
pub fn rounded(flow: VolumeRate) -> VolumeRate {
    gallons_per_minute((in_gallons_per_minute(flow) * 100.0).round() / 100.0)
}
