//! What a pipe carries: by the table that applies to it, by the equation.

use crate::piping::{Piping, pressure_of};
use crate::sizes::{self, Sized};
use redtag_handbook::fuel::FuelGas;
use redtag_handbook::piping::{
    self, CapacityPoint, CapacityTable, FEET_PER_TUBING_BEND, PipedGas, Size, flow_from, gravity_multiplier, read, table_for,
};
use redtag_handbook::units::{self, HeatingValue};
use redtag_rule::prelude::*;
use uom::si::f64::{Length, Power, Pressure};

/// Bends that the table of a corrugated tubing has in it already.
const BENDS_INCLUDED: u32 = 4;

/// What bends add to a corrugated tubing.
#[derive(Debug, Clone, Copy)]
pub struct Bends {
    included: u32,
    each: f64,
}

impl Default for Bends {
    fn default() -> Self {
        Self { included: BENDS_INCLUDED, each: units::feet(FEET_PER_TUBING_BEND.value).value }
    }
}

impl Bends {
    /// Those of the table a pipe names, else those of the code's tables.
    pub fn of(piping: &Piping, segment: &Place<GasSegment>) -> Self {
        let usual = Self::default();
        let Some(table) = own_table(piping, segment).and_then(Result::ok) else { return usual };
        let each = table.length_per_bend.as_ref().map(|length| length.si()).filter(|length| *length >= 0.0);
        Self { included: table.bends_included.unwrap_or(usual.included), each: each.unwrap_or(usual.each) }
    }

    /// The same behind bends of the same run, which have used up part of what the table includes.
    #[must_use]
    pub fn after(self, before: u64) -> Self {
        Self { included: self.included.saturating_sub(u32::try_from(before).unwrap_or(u32::MAX)), ..self }
    }

    /// What the bends of a tubing add, in metres.
    pub fn added(&self, fittings: &[Place<Fitting>]) -> f64 {
        let bends = |fitting: &&Place<Fitting>| {
            matches!(fitting.kind, FittingKind::Bend | FittingKind::Elbow90 | FittingKind::Elbow45 | FittingKind::ReturnBend)
        };
        let count: u64 = fittings.iter().filter(bends).map(|fitting| u64::from(fitting.count.unwrap_or(0))).sum();
        let more = count.saturating_sub(u64::from(self.included));
        // A count fits into 32 bits, some of them into 53.
        #[allow(clippy::cast_precision_loss)]
        let more = more as f64;
        more * self.each
    }
}

/// Least and most a pipe carries; what is missing is not known.
#[derive(Debug, Clone, Copy, Default)]
pub struct Bounds {
    /// At least.
    pub least: Option<Power>,
    /// At most.
    pub most: Option<Power>,
}

/// What decides about the capacity of pipes of a zone.
#[derive(Clone)]
pub struct Zone {
    /// The gas.
    pub gas: FuelGas,
    /// The heat in it.
    pub heating_value: HeatingValue,
    /// Pressure at its start.
    pub start: Pressure,
    /// Drop it is designed for.
    pub drop: Pressure,
    piped: PipedGas,
    multiplier: f64,
}

impl Zone {
    /// The zone of a pipe.
    ///
    /// # Errors
    /// Everything that is not said about gas, pressure and drop.
    pub fn of(piping: &Piping, zone: usize) -> Lookup<Self> {
        let (gas, heating_value) = (piping.gas(), piping.heating_value());
        let (start, drop) = (piping.start(zone), piping.drop(zone).and_then(above_zero));
        let (gas, heating_value, start, drop) = (gas, heating_value, start, drop).together()?;
        let gravity = need!(piping.project, gas.supply.specific_gravity).ok().filter(|_| gas == FuelGas::Natural);
        let ratio = gravity.as_ref().map(|gravity| units::fraction(*gravity.get()));
        let (piped, multiplier) = match ratio {
            None => (Some(PipedGas::of(gas)), Some(1.0)),
            Some(ratio) => (PipedGas::with_gravity(gas, ratio), gravity_multiplier(ratio)),
        };
        let (Some(piped), Some(multiplier)) = (piped, multiplier) else {
            return Err(Unresolved::because("/gas/supply/specific_gravity", "a specific gravity above zero"));
        };
        Ok(Self { gas, heating_value, start: start.quantity(), drop: drop.quantity(), piped, multiplier })
    }

    /// The factors of its gas.
    pub fn piped(&self) -> &PipedGas {
        &self.piped
    }

    /// What a bore carries over a length, by the equation; nothing over an endless one.
    pub fn by_equation(&self, bore: Length, range: crate::lengths::Range) -> Bounds {
        let heat = |metres: f64| {
            let length = crate::piping::feet(metres);
            flow_from(self.start, self.drop, bore, length, &self.piped).map(|flow| flow * self.heating_value)
        };
        Bounds { least: heat(range.most).filter(|heat| heat.value > 0.0), most: heat(range.least) }
    }
}

fn above_zero<'a>(drop: Place<'a, quantity::Pressure>) -> Lookup<Place<'a, quantity::Pressure>> {
    match drop.si() > 0.0 {
        true => Ok(drop),
        false => Err(Unresolved::because(drop.pointer(), "a drop of pressure above zero")),
    }
}

/// A table as it applies to one pipe.
pub struct Column {
    /// What it is called.
    pub name: String,
    /// How its figures are known.
    pub source: String,
    /// What to know when it is used.
    pub remark: Option<&'static str>,
    /// The drop it allows.
    pub drop: Pressure,
    /// Its longest row.
    pub last: Length,
    unseen: Vec<Length>,
    points: Vec<(Size, CapacityPoint)>,
}

impl Column {
    /// The known capacities of a size.
    pub fn points(&self, size: Size) -> Vec<CapacityPoint> {
        self.points.iter().filter(|(of, _)| *of == size).map(|(_, point)| *point).collect()
    }

    /// What it says of a size over a length.
    pub fn read(&self, size: Size, range: crate::lengths::Range) -> Bounds {
        let points = self.points(size);
        let at = |metres: f64| read(&points, &self.unseen, crate::piping::feet(metres));
        Bounds { least: at(range.most).least, most: at(range.least).most }
    }

    /// The row read for a length.
    pub fn row(&self, size: Size, metres: f64) -> Option<Length> {
        read(&self.points(size), &self.unseen, crate::piping::feet(metres)).row
    }

    /// The sizes of its columns that are larger, nearest first.
    pub fn larger(&self, size: Size) -> Vec<Size> {
        let mut sizes: Vec<Size> = self.points.iter().map(|(of, _)| *of).filter(|of| of.is_kin(size) && *of > size).collect();
        sizes.sort_unstable();
        sizes.dedup();
        sizes
    }
}

/// The sizing table a pipe names in the project.
pub fn own_table<'a>(piping: &Piping<'a>, segment: &Place<'a, GasSegment>) -> Option<Lookup<Place<'a, GasSizingTable>>> {
    let id = need!(segment, sizing_table).ok()?;
    Some(need!(piping.project, gas.sizing_tables).named(&id))
}

/// The table that applies to a pipe. Where the one it names is for something else, that is a fault.
///
/// # Errors
/// Where there is none, and what the one named does not say.
pub fn column(
    piping: &Piping,
    segment: &Place<GasSegment>,
    sized: &Sized,
    zone: &Zone,
    generic: bool,
    sheet: &mut Sheet,
) -> Lookup<Column> {
    if let Some(named) = own_table(piping, segment) {
        let table = named?;
        sheet.related(table.pointer());
        return of_project(&table, segment, zone, sheet);
    }
    let missing = |what: String| Unresolved::because(format!("{}/sizing_table", segment.pointer()), what);
    if matches!(sized.size, Size::Corrugated(_)) && !generic {
        return Err(missing("the sizing table of the tubing's maker: tubing of one number differs between makers".to_owned()));
    }
    let printed = table_for(zone.gas, sized.size, zone.start, zone.drop).ok_or_else(|| {
        missing("a sizing table for this pipe, this pressure and this drop: none of the code's was read that fits".to_owned())
    })?;
    Ok(of_code(printed, zone))
}

fn of_code(table: &'static CapacityTable, zone: &Zone) -> Column {
    let points = |size: &Size| {
        let scaled = |point: CapacityPoint| CapacityPoint { capacity: point.capacity * zone.multiplier, ..point };
        table.points(*size, zone.heating_value).into_iter().map(|point| (*size, scaled(point))).collect::<Vec<_>>()
    };
    Column {
        name: table.name.to_owned(),
        source: table.source.to_owned(),
        remark: table.remark,
        drop: table.drop.pressure(),
        last: table.last_row(),
        unseen: table.unseen.iter().map(|row| units::feet(*row)).collect(),
        points: table.columns.iter().flat_map(points).collect(),
    }
}

fn of_project(table: &Place<GasSizingTable>, segment: &Place<GasSegment>, zone: &Zone, sheet: &mut Sheet) -> Lookup<Column> {
    let (material, fuel, pressure, drop) =
        (need!(table, material), need!(table, fuel), need!(table, pressure), need!(table, drop)).together()?;
    let label = table.label();
    if segment.material != Some(*material) {
        sheet.fault(text!("{} is for {} pipe", label, *material));
    }
    let maker = |maker: &Option<String>| maker.as_deref().map(|name| name.trim().to_lowercase());
    if let (Some(of_table), Some(of_pipe)) = (maker(&table.maker), maker(&segment.maker))
        && of_table != of_pipe
    {
        let (of_table, of_pipe) = (table.maker.as_deref().unwrap_or_default(), segment.maker.as_deref().unwrap_or_default());
        sheet.fault(text!("{} is that of {}, the pipe is made by {}", label, of_table, of_pipe));
    }
    if *material == GasPipeMaterial::CorrugatedStainlessSteel {
        // Tubing of one number differs between makers: a table is none without them.
        sheet.want((need!(table, maker), need!(segment, maker)).together());
    }
    let gas = match *fuel {
        Fuel::NaturalGas => Some(FuelGas::Natural),
        Fuel::Propane => Some(FuelGas::Propane),
        _ => None,
    };
    if gas != Some(zone.gas) {
        sheet.fault(text!("{} is for {}", label, *fuel));
    }
    if !at_least(zone.start, pressure.quantity()) {
        sheet.fault(text!(
            "{} is for piping that starts at {}, here it starts at {}",
            label,
            pressure_of(pressure.quantity()),
            pressure_of(zone.start)
        ));
    }
    if !at_most(drop.quantity(), zone.drop) {
        sheet.fault(text!(
            "{} allows a drop of {}, the piping is designed for {}",
            label,
            pressure_of(drop.quantity()),
            pressure_of(zone.drop)
        ));
    }
    let mut points = Vec::new();
    for capacity in need!(table, capacities)?.items() {
        points.push(point(&capacity, *material, zone)?);
    }
    let last = points.iter().map(|(_, point)| point.length.value).fold(0.0, f64::max);
    Ok(Column {
        name: table.document.clone().unwrap_or(label),
        source: "the table the project gives".to_owned(),
        remark: None,
        drop: drop.quantity(),
        last: crate::piping::feet(last),
        unseen: Vec::new(),
        points,
    })
}

fn point(capacity: &Place<GasCapacity>, material: GasPipeMaterial, zone: &Zone) -> Lookup<(Size, CapacityPoint)> {
    let length = need!(capacity, length)?;
    let size = match material {
        GasPipeMaterial::CorrugatedStainlessSteel => Size::Corrugated(*need!(capacity, equivalent_hydraulic_diameter)?),
        _ => {
            let nominal = need!(capacity, nominal_size)?;
            sizes::named(material, nominal.quantity()).ok_or_else(|| Unresolved::at(nominal.pointer()))?
        }
    };
    let heat = match (need!(capacity, heat), need!(capacity, flow)) {
        (Ok(heat), _) => heat.quantity(),
        (Err(_), Ok(flow)) => flow.quantity() * zone.heating_value,
        (Err(unresolved), Err(_)) => return Err(unresolved),
    };
    Ok((size, piping::CapacityPoint { length: length.quantity(), capacity: heat }))
}
