//! Which reduction of the input altitude asks of an appliance: its own maker's first, else the one adopted here.

use redtag_handbook::fuel::{Derating, sources};
use redtag_handbook::units;
use redtag_rule::prelude::*;
use uom::si::f64::{Length, Power, Ratio};

/// What a jurisdiction reads out of the model code.
#[derive(Debug, Clone, Copy)]
pub struct Adopted {
    /// Not reduced up to here.
    pub threshold: Length,
    /// Reduction for each 1,000 ft.
    pub per_thousand_feet: Ratio,
    /// How it is counted: one of [`COUNTED`].
    pub counted: &'static str,
}

/// The ways of counting.
pub const COUNTED: &[&str] = &["from-sea-level", "stepped", "from-threshold", "none"];

impl Adopted {
    /// The part of the input one way of counting leaves.
    pub fn share_by(&self, counted: &str, elevation: Length) -> Ratio {
        let (per_thousand_feet, above) = (self.per_thousand_feet, self.threshold);
        let derating = match counted {
            "from-sea-level" => Derating::FromSeaLevel { per_thousand_feet, above },
            "stepped" => Derating::SteppedFromSeaLevel { per_thousand_feet, above },
            "from-threshold" => Derating::FromThreshold { per_thousand_feet, above },
            _ => return units::fraction(1.0),
        };
        derating.share(elevation).unwrap_or(units::fraction(1.0))
    }

    /// The reduction adopted here, in words.
    pub fn words(&self) -> Text {
        match self.counted {
            "none" => text!("no reduction is adopted here"),
            "from-threshold" => {
                text!("{} for each 1,000 ft above {}, as adopted here", self.per_thousand_feet, altitude_of(self.threshold))
            }
            "stepped" => text!(
                "{} for each 1,000 ft begun above sea level at sites above {}, as adopted here",
                self.per_thousand_feet,
                altitude_of(self.threshold)
            ),
            _ => text!(
                "{} for each 1,000 ft above sea level at sites above {}, as adopted here",
                self.per_thousand_feet,
                altitude_of(self.threshold)
            ),
        }
    }

    fn source(&self) -> &'static str {
        match self.counted {
            "from-threshold" => sources::ALTITUDE_ABOVE_THRESHOLD.text(),
            "none" => "adopted by the pack",
            _ => sources::ALTITUDE.text(),
        }
    }
}

/// What is left of the input.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Limit {
    /// This part of the rated input.
    Share(Ratio),
    /// This input, by the maker's table.
    Input(Power),
    /// Nothing without the maker's kit: the site lies above the altitude it is certified for.
    BeyondCertified,
}

/// The reduction that governs.
pub struct Governing {
    /// What it leaves.
    pub limit: Limit,
    /// It in words.
    pub words: Text,
    /// Where it comes from.
    pub source: &'static str,
    /// Whether it is the maker's.
    pub by_maker: bool,
    /// Where the maker's rule would stand, when the project says nothing about it.
    pub unsaid: Option<Unresolved>,
}

/// The reduction that governs an appliance at an elevation.
///
/// # Errors
/// When the maker's rule is named and its figures are not given.
pub fn governing(appliance: &Place<Equipment>, elevation: Length, adopted: &Adopted) -> Lookup<Governing> {
    let Ok(rule) = need!(appliance, fuel_burning.altitude_rule) else {
        let unsaid = Some(appliance.missing("/fuel_burning/altitude_rule"));
        return Ok(Governing { unsaid, ..by_adoption(elevation, adopted) });
    };
    let (limit, words) = match rule.kind {
        AltitudeRuleKind::NotStated => return Ok(by_adoption(elevation, adopted)),
        AltitudeRuleKind::Unrecognised => return Err(rule.missing("/kind")),
        AltitudeRuleKind::PercentFromSeaLevel | AltitudeRuleKind::PercentFromStart => percent(&rule, elevation, adopted)?,
        AltitudeRuleKind::MakerTable => table(&rule, elevation, adopted)?,
        AltitudeRuleKind::NoReduction => {
            let certified = need!(appliance, fuel_burning.plate.certified_altitude)?;
            let derating = Derating::NoneUpTo { altitude: certified.quantity() };
            let limit = derating.share(elevation).map_or(Limit::BeyondCertified, Limit::Share);
            (limit, text!("no reduction up to {}, by its maker", certified))
        }
        AltitudeRuleKind::SelfAdjusting => {
            (Limit::Share(units::fraction(1.0)), text!("it adjusts itself to altitude, by its maker"))
        }
    };
    Ok(Governing { limit, words, source: "the appliance's instructions", by_maker: true, unsaid: None })
}

fn by_adoption(elevation: Length, adopted: &Adopted) -> Governing {
    let share = adopted.share_by(adopted.counted, elevation);
    Governing { limit: Limit::Share(share), words: adopted.words(), source: adopted.source(), by_maker: false, unsaid: None }
}

fn percent(rule: &Place<AltitudeRule>, elevation: Length, adopted: &Adopted) -> Lookup<(Limit, Text)> {
    let percent = need!(rule, percent)?;
    let above = rule.starts_at.as_ref().map_or(adopted.threshold, |start| start.quantity());
    let per_thousand_feet = percent.quantity();
    let start = altitude_of(above);
    let (derating, words) = match rule.kind {
        AltitudeRuleKind::PercentFromStart => (
            Derating::FromThreshold { per_thousand_feet, above },
            text!("{} for each 1,000 ft above {}, by its maker", percent, start),
        ),
        _ => (
            Derating::FromSeaLevel { per_thousand_feet, above },
            text!("{} for each 1,000 ft above sea level at sites above {}, by its maker", percent, start),
        ),
    };
    let share = derating.share(elevation).unwrap_or(units::fraction(1.0));
    Ok((Limit::Share(share), words))
}

fn table(rule: &Place<AltitudeRule>, elevation: Length, adopted: &Adopted) -> Lookup<(Limit, Text)> {
    match need!(rule, input_here) {
        Ok(input) => Ok((Limit::Input(input.quantity()), text!("{} here, by its maker's table", input))),
        Err(_) if at_most(elevation, adopted.threshold) => Ok((
            Limit::Share(units::fraction(1.0)),
            text!("its maker's table, not needed up to {}", altitude_of(adopted.threshold)),
        )),
        Err(unresolved) => Err(unresolved),
    }
}

/// An altitude, to be said in a sentence.
pub fn altitude_of(altitude: Length) -> quantity::Position {
    quantity::Position::from_quantity(&altitude)
}
