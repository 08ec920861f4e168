//! Combustion-air ducts and the spaces they draw from.

use crate::units::{self, InputPerArea};
use redtag_schema::quantity::at_least;
use uom::si::f64::{Area, Length, Power};

/// Which openings a duct serves.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Serves {
    /// An upper opening, or the only one.
    Upper,
    /// A lower opening.
    Lower,
    /// An upper and a lower one at once.
    Both,
}

/// Where a duct draws its air.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum DuctSource {
    /// Outdoors.
    Outdoors,
    /// An attic.
    Attic {
        /// Whether it is ventilated to outdoors.
        ventilated: bool,
        /// Whether a fan ventilates it.
        power_ventilator: bool,
    },
    /// A crawl space.
    CrawlSpace {
        /// Whether it is ventilated to outdoors.
        ventilated: bool,
    },
}

/// A combustion-air duct, as far as it is held against the code. What is `None` is not checked.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct CombustionAirDuct {
    /// Which openings it serves.
    pub serves: Serves,
    /// Where it draws its air.
    pub source: DuctSource,
    /// Whether a screen covers its end at the source.
    pub screened: Option<bool>,
    /// Whether a horizontal duct slopes down toward the source.
    pub slopes_down_to_source: Option<bool>,
    /// Whether it has a damper set by hand or by volume.
    pub damper: Option<bool>,
    /// The smaller dimension of a rectangular duct.
    pub least_dimension: Option<Length>,
    /// From the adjoining grade up to the lowest side of an exterior intake.
    pub intake_above_grade: Option<Length>,
    /// How many rooms or enclosures it opens to.
    pub enclosures: Option<usize>,
}

/// Figures ducts are held against. Source of the model-code values: [`sources::DUCTS`](super::sources::DUCTS).
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct DuctLimits {
    /// Least dimension of a rectangular duct: 3 in.
    pub least_dimension: Length,
    /// Height of an exterior intake above grade: 12 in.
    pub intake_above_grade: Length,
}

impl Default for DuctLimits {
    fn default() -> Self {
        Self { least_dimension: units::inches(3.0), intake_above_grade: units::inches(12.0) }
    }
}

/// What is wrong with a duct.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum DuctFault {
    /// It serves an upper and a lower opening.
    ServesBoth,
    /// It draws from an attic that is not ventilated: that is not outdoors.
    UnventilatedAttic,
    /// A fan ventilates the attic it draws from.
    PowerVentilatedAttic,
    /// It draws from a crawl space that is not ventilated: that is not outdoors.
    UnventilatedCrawlSpace,
    /// An upper opening draws from a crawl space.
    UpperFromCrawlSpace,
    /// A screen covers its end in an attic.
    ScreenedInAttic,
    /// An upper duct slopes down toward the source.
    SlopesToSource,
    /// It has a damper.
    Damper,
    /// It is too narrow.
    TooNarrow {
        /// The smaller dimension.
        least: Length,
        /// What is asked.
        required: Length,
    },
    /// Its exterior intake is too low.
    IntakeTooLow {
        /// Above grade.
        height: Length,
        /// What is asked.
        required: Length,
    },
    /// It opens to more than one enclosure.
    SeveralEnclosures {
        /// How many.
        count: usize,
    },
}

/// What is wrong with a combustion-air duct; empty when nothing known is. Source:
/// [`sources::DUCTS`](super::sources::DUCTS).
pub fn duct_faults(duct: &CombustionAirDuct, limits: &DuctLimits) -> Vec<DuctFault> {
    let mut faults = Vec::new();
    if duct.serves == Serves::Both {
        faults.push(DuctFault::ServesBoth);
    }
    faults.extend(source_faults(duct));
    if duct.slopes_down_to_source == Some(true) && duct.serves != Serves::Lower {
        faults.push(DuctFault::SlopesToSource);
    }
    if duct.damper == Some(true) {
        faults.push(DuctFault::Damper);
    }
    if let Some(least) = duct.least_dimension
        && !at_least(least, limits.least_dimension)
    {
        faults.push(DuctFault::TooNarrow { least, required: limits.least_dimension });
    }
    if let Some(height) = duct.intake_above_grade
        && !at_least(height, limits.intake_above_grade)
    {
        faults.push(DuctFault::IntakeTooLow { height, required: limits.intake_above_grade });
    }
    if let Some(count @ 2..) = duct.enclosures {
        faults.push(DuctFault::SeveralEnclosures { count });
    }
    faults
}

/// What is wrong with where a duct draws its air.
fn source_faults(duct: &CombustionAirDuct) -> Vec<DuctFault> {
    let (faults, wrong): (&[DuctFault], &[bool]) = match duct.source {
        DuctSource::Outdoors => (&[], &[]),
        DuctSource::Attic { ventilated, power_ventilator } => (
            &[DuctFault::UnventilatedAttic, DuctFault::PowerVentilatedAttic, DuctFault::ScreenedInAttic],
            &[!ventilated, power_ventilator, duct.screened == Some(true)],
        ),
        DuctSource::CrawlSpace { ventilated } => {
            (&[DuctFault::UnventilatedCrawlSpace, DuctFault::UpperFromCrawlSpace], &[!ventilated, duct.serves != Serves::Lower])
        }
    };
    faults.iter().zip(wrong).filter(|(_, wrong)| **wrong).map(|(fault, _)| *fault).collect()
}

/// How much an attic must itself be open to outdoors to be a source of combustion air.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct AtticSource {
    /// Free area of its vents per input: manuals print 1 in2 per 4000 Btu/h
    /// ([`sources::ATTIC_SOURCE`](super::sources::ATTIC_SOURCE)); the code has no figure.
    pub vents_per_input: InputPerArea,
}

impl Default for AtticSource {
    fn default() -> Self {
        Self { vents_per_input: units::one_square_inch_per(4000.0) }
    }
}

impl AtticSource {
    /// Free area the attic's or crawl space's own vents must have.
    pub fn vent_area(&self, total_input: Power) -> Area {
        total_input / self.vents_per_input
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::units::*;

    const ATTIC: DuctSource = DuctSource::Attic { ventilated: true, power_ventilator: false };

    fn duct() -> CombustionAirDuct {
        CombustionAirDuct {
            serves: Serves::Upper,
            source: ATTIC,
            screened: None,
            slopes_down_to_source: None,
            damper: None,
            least_dimension: None,
            intake_above_grade: None,
            enclosures: None,
        }
    }

    fn faults(duct: CombustionAirDuct) -> Vec<DuctFault> {
        duct_faults(&duct, &DuctLimits::default())
    }

    #[test]
    fn each_fault_is_found_alone() {
        let unventilated = DuctSource::Attic { ventilated: false, power_ventilator: false };
        let fan = DuctSource::Attic { ventilated: true, power_ventilator: true };
        let crawl = DuctSource::CrawlSpace { ventilated: true };
        let cases = [
            (CombustionAirDuct { serves: Serves::Both, ..duct() }, DuctFault::ServesBoth),
            (CombustionAirDuct { source: unventilated, ..duct() }, DuctFault::UnventilatedAttic),
            (CombustionAirDuct { source: fan, ..duct() }, DuctFault::PowerVentilatedAttic),
            (CombustionAirDuct { source: crawl, ..duct() }, DuctFault::UpperFromCrawlSpace),
            (CombustionAirDuct { screened: Some(true), ..duct() }, DuctFault::ScreenedInAttic),
            (CombustionAirDuct { slopes_down_to_source: Some(true), ..duct() }, DuctFault::SlopesToSource),
            (CombustionAirDuct { damper: Some(true), ..duct() }, DuctFault::Damper),
            (CombustionAirDuct { enclosures: Some(2), ..duct() }, DuctFault::SeveralEnclosures { count: 2 }),
        ];
        for (duct, fault) in cases {
            assert_eq!(faults(duct), [fault]);
        }
        assert_eq!(faults(duct()), []);
    }

    #[test]
    fn a_screen_outdoors_and_a_lower_crawl_space_duct_are_in_order() {
        assert_eq!(faults(CombustionAirDuct { screened: Some(true), source: DuctSource::Outdoors, ..duct() }), []);
        let crawl = DuctSource::CrawlSpace { ventilated: true };
        assert_eq!(faults(CombustionAirDuct { source: crawl, serves: Serves::Lower, ..duct() }), []);
    }

    #[test]
    fn limits_are_inclusive() {
        let low = |height| CombustionAirDuct {
            source: DuctSource::Outdoors,
            intake_above_grade: Some(inches(height)),
            least_dimension: Some(inches(3.0)),
            ..duct()
        };
        assert_eq!(faults(low(12.0)), []);
        assert_eq!(faults(low(11.9)), [DuctFault::IntakeTooLow { height: inches(11.9), required: inches(12.0) }]);
    }

    #[test]
    fn the_attic_itself_must_be_open() {
        let area = AtticSource::default().vent_area(btu_per_hour(140_000.0));
        assert!((in_square_inches(area) - 35.0).abs() < 1e-9);
    }
}
