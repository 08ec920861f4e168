//! The source behind a transfer.

use redtag_rule::prelude::*;
use uom::si::electric_potential::volt;
use uom::si::f64::{ElectricPotential, Power};
use uom::si::power::watt;

/// A standby source.
pub enum Source<'a> {
    /// An inverter, with batteries behind it.
    Inverter(Place<'a, Inverter>),
    /// A generator.
    Generator(Place<'a, Generator>),
}

/// Between the lines of a dwelling's system.
pub fn line_to_line() -> ElectricPotential {
    ElectricPotential::new::<volt>(240.0)
}

/// The source a transfer takes when the utility fails.
///
/// # Errors
/// Where it is not said, or names nothing of the project.
pub fn of<'a>(inquiry: &Inquiry<'a>, transfer: &Place<'a, Transfer>) -> Lookup<Source<'a>> {
    let id = need!(transfer, alternate)?;
    if let Ok(inverter) = need!(inquiry.project(), electrical.inverters).named(&id) {
        return Ok(Source::Inverter(inverter));
    }
    if let Ok(generator) = need!(inquiry.project(), electrical.generators).named(&id) {
        return Ok(Source::Generator(generator));
    }
    let system = need!(inquiry.project(), electrical.storage).named(&id)?;
    let inverter = need!(system, inverter)?;
    need!(inquiry.project(), electrical.inverters).named(&inverter).map(Source::Inverter)
}

impl Source<'_> {
    /// In a sentence.
    pub fn label(&self) -> String {
        match self {
            Self::Inverter(inverter) => inverter.label(),
            Self::Generator(generator) => generator.label(),
        }
    }

    /// Marks it on the plan.
    pub fn mark(&self, inquiry: &Inquiry, label: &str, sheet: &mut Sheet) {
        let equipment = match self {
            Self::Inverter(inverter) => need!(inverter, equipment),
            Self::Generator(generator) => need!(generator, equipment),
        };
        crate::plan::mark(inquiry, equipment, label, sheet);
    }

    /// Where it stands in the project.
    pub fn pointer(&self) -> &str {
        match self {
            Self::Inverter(inverter) => inverter.pointer(),
            Self::Generator(generator) => generator.pointer(),
        }
    }

    /// What it gives for hours: as rated, in heat where that is said, or by its current; never more than the batteries behind it give.
    ///
    /// # Errors
    /// Where neither is said.
    pub fn continuous(&self, inquiry: &Inquiry, sheet: &mut Sheet) -> Lookup<Power> {
        let own = self.rated()?;
        let Self::Inverter(inverter) = self else { return Ok(own) };
        let of = |system: &Place<StorageSystem>| system.inverter.as_ref() == Some(&inverter.id);
        let behind: Vec<_> = need!(inquiry.project(), electrical.storage).every().into_iter().filter(of).collect();
        if behind.is_empty() {
            return Ok(own);
        }
        let limits = behind.iter().map(|system| need!(system, discharging_limit).map(|limit| limit.quantity()));
        // What is too much for the inverter is too much whatever its batteries give.
        let Some(limits) = sheet.want(limits.collect::<Vec<_>>().together()) else { return Ok(own) };
        let limit = limits.into_iter().fold(Power::default(), |sum, one| sum + one);
        Ok(if limit < own { limit } else { own })
    }

    fn rated(&self) -> Lookup<Power> {
        let by = |amperes: &redtag_rule::schema::quantity::Current| {
            let amperes = amperes.quantity().get::<uom::si::electric_current::ampere>();
            Power::new::<watt>(amperes * line_to_line().get::<volt>())
        };
        match self {
            Self::Inverter(inverter) => {
                // Of several figures the least counts.
                let said = [&inverter.output_when_hot, &inverter.output].into_iter().flatten().map(|output| output.quantity());
                let said = said.chain(inverter.output_current.as_ref().map(by));
                said.reduce(|a, b| if b < a { b } else { a }).ok_or_else(|| inverter.missing("/output"))
            }
            Self::Generator(generator) => {
                let said = generator.power.as_ref().map(|power| power.quantity());
                let said = said.into_iter().chain(generator.current.as_ref().map(by));
                said.reduce(|a, b| if b < a { b } else { a }).ok_or_else(|| generator.missing("/power"))
            }
        }
    }
}
