//! What a pipe takes of the pressure: by the equation, or bounded by the rows of its table.

use crate::capacity::{self, Bends, Column, Zone};
use crate::judging::Judging;
use crate::lengths::{self, Policy, Range};
use crate::piping::{among, feet, pressure_of};
use crate::sizes::{self, Sized};
use redtag_handbook::piping::{Size, drop_from, reach};
use redtag_handbook::units;
use redtag_rule::prelude::*;
use uom::si::f64::{Power, Pressure};

/// A pressure that is at least so much, where that is known, and at most so much.
#[derive(Debug, Clone, Copy)]
pub struct Left {
    /// At least.
    pub least: Option<Pressure>,
    /// At most.
    pub most: Pressure,
}

impl Left {
    /// A pressure that is known.
    pub fn exactly(pressure: Pressure) -> Self {
        Self { least: Some(pressure), most: pressure }
    }

    /// What a pipe leaves of it.
    pub fn less(self, taken: &Taken) -> Self {
        let least = self.least.zip(taken.most).map(|(left, drop)| left - drop).filter(|left| left.value > 0.0);
        let most = self.most - taken.least;
        Self { least, most: if most.value > 0.0 { most } else { Pressure::default() } }
    }

    /// In words.
    pub fn words(&self) -> Text {
        let water = |pressure: Pressure| pressure_of(rounded(pressure));
        match self.least {
            Some(least) if (self.most - least).value < 0.5 => text!("{}", water(least)),
            Some(least) => text!("between {} and {}", water(least), water(self.most)),
            None => text!("not more than {}", water(self.most)),
        }
    }
}

/// A pressure to a thousandth of an inch of water: more is not measured.
fn rounded(pressure: Pressure) -> Pressure {
    units::inches_of_water((units::in_inches_of_water(pressure) * 1000.0).round() / 1000.0)
}

/// What a pipe takes.
#[derive(Debug, Clone, Copy)]
pub struct Taken {
    /// At least.
    pub least: Pressure,
    /// At most, where that is known.
    pub most: Option<Pressure>,
}

/// A pipe, and what it takes.
pub struct Stretch {
    /// Its size.
    pub size: Size,
    /// The sizes above it.
    pub larger: Vec<Size>,
    /// What it takes.
    pub taken: Taken,
    /// What is not said about it.
    pub missing: Option<Unresolved>,
}

/// What a pipe takes, as it is or in another size.
///
/// # Errors
/// What must be said for any figure at all.
pub fn stretch(judging: &Judging, segment: usize, before: Left, tried: Option<Size>) -> Lookup<Stretch> {
    let place = &judging.piping.segments[segment];
    let zone = judging.zone(segment)?;
    let sized = match tried {
        Some(size) => Sized { size, bore: sizes::bore(place.material.unwrap_or_default(), size) },
        None => sizes::of(place)?,
    };
    // What a pipe takes is physics: here every fitting counts, whatever the sizing tables allow for.
    let bends = Bends::of(&judging.piping, place).after(judging.lengths.counted(segment).bends_before);
    let length = lengths::measured_as(place, Some(sized.size), Policy::All, &bends);
    let load = judging.demand.behind(&judging.piping, segment);
    let endless = load.missing.is_some();
    let missing = [length.missing.clone(), load.missing.clone()].into_iter().flatten().fold(None, among);
    let nothing = Taken { least: Pressure::default(), most: (!endless).then(Pressure::default) };
    let mut faults = Sheet::default();
    let (taken, larger) = match sized.bore {
        _ if load.known.value <= 0.0 => (nothing, Vec::new()),
        Some(bore) => (by_equation(zone, bore, load.known, length.whole, before), sized.size.larger()),
        None if matches!(sized.size, Size::Corrugated(_)) => {
            let column = capacity::column(&judging.piping, place, &sized, zone, judging.generic(), &mut faults)?;
            if !faults.sound() {
                let what = "a sizing table that is made for this pipe";
                return Err(Unresolved::because(format!("{}/sizing_table", place.pointer()), what));
            }
            (by_column(&column, sized.size, load.known, length.whole), column.larger(sized.size))
        }
        None => return Err(place.missing("/inside_diameter")),
    };
    let taken = Taken { most: taken.most.filter(|_| !endless), ..taken };
    Ok(Stretch { size: sized.size, larger, taken, missing })
}

fn by_equation(zone: &Zone, bore: uom::si::f64::Length, load: Power, length: Range, before: Left) -> Taken {
    let flow = load / zone.heating_value;
    let drop = |start: Pressure, metres: f64| match metres {
        0.0 => Some(Pressure::default()),
        metres if metres.is_finite() => drop_from(start, flow, bore, feet(metres), zone.piped()),
        _ => None,
    };
    // From less pressure a given flow takes more.
    Taken {
        least: drop(before.most, length.least).unwrap_or(before.most),
        most: before.least.and_then(|least| drop(least, length.most)),
    }
}

fn by_column(column: &Column, size: Size, load: Power, length: Range) -> Taken {
    let far = reach(&column.points(size), load);
    let share = |metres: f64, row: uom::si::f64::Length| column.drop * (metres / row.value);
    Taken {
        least: far.not_carried.map_or(Pressure::default(), |row| share(length.least, row)),
        most: far.carried.filter(|_| length.most.is_finite()).map(|row| share(length.most, row)),
    }
}
