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
    pub fn continuous(&self, inquiry: &Inquiry) -> Lookup<Power> {
        let own = self.rated()?;
        let Self::Inverter(inverter) = self else { return Ok(own) };
        let of = |system: &Place<StorageSystem>| system.inverter.as_ref() == Some(&inverter.id);
        let behind: Vec<_> = need!(inquiry.project(), electrical.storage).every().into_iter().filter(of).collect();
        let limits: Option<Power> = behind.iter().map(|system| Some(system.discharging_limit.as_ref()?.quantity())).sum();
        Ok(limits.filter(|limit| !behind.is_empty() && *limit < own).unwrap_or(own))
    }

    fn rated(&self) -> Lookup<Power> {
        let by = |amperes: &redtag_rule::schema::quantity::Current| {
            let amperes = amperes.quantity().get::<uom::si::electric_current::ampere>();
            Power::new::<watt>(amperes * line_to_line().get::<volt>())
        };
        match self {
            Self::Inverter(inverter) => {
                let hot = need!(inverter, output_when_hot);
                let rated = hot.or_else(|_| need!(inverter, output)).map(|output| output.quantity());
                rated.or_else(|unresolved| need!(inverter, output_current).map(|it| by(it.get())).map_err(|_| unresolved))
            }
            Self::Generator(generator) => {
                let rated = need!(generator, power).map(|power| power.quantity());
                rated.or_else(|unresolved| need!(generator, current).map(|it| by(it.get())).map_err(|_| unresolved))
            }
        }
    }
}
