//! What was done about the input of an appliance that must be reduced for altitude, and whether it is enough.

use crate::altitude::{Adopted, Governing, Limit};
use crate::{burner, supply};
use redtag_handbook::fuel::{local_heating_value_share, orifice_area_share, sources};
use redtag_handbook::units;
use redtag_rule::prelude::*;
use uom::si::f64::{Length, Power, Ratio};

/// One appliance at its site.
pub struct Site<'a> {
    /// The case.
    pub inquiry: &'a Inquiry<'a>,
    /// The appliance.
    pub appliance: &'a Place<'a, Equipment>,
    /// The site's elevation.
    pub elevation: Place<'a, quantity::Position>,
    /// The reduction adopted here.
    pub adopted: Adopted,
    /// The rated input, above zero.
    pub rated: Lookup<Power>,
}

impl<'a> Site<'a> {
    /// An appliance at an elevation.
    pub fn new(
        inquiry: &'a Inquiry<'a>,
        appliance: &'a Place<'a, Equipment>,
        elevation: Place<'a, quantity::Position>,
        adopted: Adopted,
    ) -> Self {
        let rated = need!(appliance, fuel_burning.plate.input).and_then(|input| match input.si() > 0.0 {
            true => Ok(input.quantity()),
            false => Err(Unresolved::because(input.pointer(), "an input above zero")),
        });
        Self { inquiry, appliance, elevation, adopted, rated }
    }

    /// Whether the governing reduction leaves the rated input as it is.
    pub fn unchanged(&self, governing: &Governing) -> bool {
        match governing.limit {
            Limit::Share(share) => at_least(units::in_fraction(share), 1.0),
            Limit::Input(input) => self.rated.as_ref().is_ok_and(|rated| at_most(*rated, input)),
            Limit::BeyondCertified => false,
        }
    }

    /// The part of the rated input it is set to, where that is stated.
    pub fn set_share(&self) -> Option<Ratio> {
        let (set, rated) = (derated(self.appliance).ok()?, self.rated.as_ref().ok()?);
        Some(set.quantity() / *rated)
    }

    /// The elevation to reckon with.
    pub fn height(&self) -> Length {
        self.elevation.quantity()
    }

    fn pointer(&self, field: &str) -> String {
        format!("{}/fuel_burning/{field}", self.appliance.pointer())
    }
}

/// The input it is set to, above zero.
fn derated<'a>(appliance: &Place<'a, Equipment>) -> Lookup<Place<'a, quantity::Power>> {
    let set = need!(appliance, fuel_burning.derate.input)?;
    if set.si() > 0.0 { Ok(set) } else { Err(Unresolved::because(set.pointer(), "an input above zero")) }
}

/// Judges what was done about an input that must be reduced; answers the part of the rated input it is set to.
pub fn reduced(site: &Site, governing: &Governing, sheet: &mut Sheet) -> Option<Ratio> {
    if governing.limit == Limit::BeyondCertified {
        return site.set_share();
    }
    let appliance = site.appliance;
    let method = need!(appliance, fuel_burning.derate.method);
    match method.as_ref().map(|method| **method) {
        Ok(DerateMethod::None) => {
            not_reduced(site, governing, sheet);
            Some(units::fraction(1.0))
        }
        Ok(DerateMethod::ModelCode) => input_set(site, governing, sheet),
        Ok(DerateMethod::Maker) => {
            if !governing.by_maker {
                sheet.lack(site.appliance.missing("/fuel_burning/altitude_rule"));
                return site.set_share();
            }
            input_set(site, governing, sheet)
        }
        Ok(DerateMethod::Authority) => permitted(site, sheet),
        Ok(DerateMethod::LowerHeatingValue) => by_local_gas(site, governing, sheet),
        Ok(DerateMethod::Unrecognised) | Err(_) => {
            governing.unsaid.iter().for_each(|unsaid| sheet.lack(unsaid.clone()));
            sheet.lack(appliance.missing("/fuel_burning/derate/method"));
            None
        }
    }
}

/// The greatest input the governing reduction leaves.
fn limit_of(site: &Site, governing: &Governing) -> Lookup<Power> {
    match governing.limit {
        Limit::Input(input) => Ok(input),
        Limit::Share(share) => site.rated.clone().map(|rated| rated * share),
        Limit::BeyondCertified => Err(site.appliance.missing("/fuel_burning/derate/kit_fitted")),
    }
}

fn not_reduced(site: &Site, governing: &Governing, sheet: &mut Sheet) {
    let Some(limit) = sheet.want(limit_of(site, governing)) else { return };
    let words = text!("its input is not reduced for {}; {} is the most here", site.elevation, limit);
    if !sheet.require("input", words, governing.source, site.rated.as_ref().is_ok_and(|rated| at_most(*rated, limit))) {
        set_lower(site, governing, limit, sheet);
    }
}

fn input_set(site: &Site, governing: &Governing, sheet: &mut Sheet) -> Option<Ratio> {
    let appliance = site.appliance;
    let (set, rated, limit) = sheet.want((derated(appliance), site.rated.clone(), limit_of(site, governing)).together())?;
    let words = text!("set to {}, {} is the most at {}", set, limit, site.elevation);
    if !sheet.require("input", words, governing.source, at_most(set.quantity(), limit)) {
        set_lower(site, governing, limit, sheet);
    }
    let share = set.quantity() / rated;
    twice(site, share, limit / rated, sheet);
    Some(share)
}

fn set_lower(site: &Site, governing: &Governing, limit: Power, sheet: &mut Sheet) {
    let written = json!(supply::written_down(limit));
    let words = text!(
        "have a qualified agency set it to {} with the parts its maker names for {}, and write it on the label",
        limit,
        site.elevation
    );
    let method = json!(if governing.by_maker { "maker" } else { "model-code" });
    if site.appliance.fuel_burning.as_ref().is_some_and(|burning| burning.derate.is_some()) {
        sheet.cure_at(words, &[(site.pointer("derate/method"), method), (site.pointer("derate/input"), written)]);
    } else {
        sheet.cure_at(words, &[(site.pointer("derate"), json!({"method": method, "input": written}))]);
    }
}

/// What the local gas delivers through an unchanged orifice; `None` where its heating value is not stated.
fn local_share(site: &Site) -> Option<Ratio> {
    let project = site.inquiry.project();
    need!(project, gas.supply.heating_value).ok()?;
    let fuel = burner::burns_now(site.appliance).ok()?;
    let local = supply::delivers(site.inquiry, fuel).ok()??;
    Some(local_heating_value_share(&burner::design(fuel)?, &local))
}

/// A local gas that gives more than this is the gas the input was rated on: heating values are stated to about a percent
/// (common practice), so less of a difference is no reduction.
const SAME_GAS: f64 = 0.99;

/// Whether the reduction was taken once more by a gas that already carries less.
fn twice(site: &Site, set: Ratio, wanted: Ratio, sheet: &mut Sheet) {
    let Some(delivered) = local_share(site).filter(|share| at_most(units::in_fraction(*share), SAME_GAS)) else { return };
    local_lines(delivered, wanted, sheet);
    if at_most(set, wanted * delivered) {
        sheet.advise(text!(
            "its input was reduced twice, by the orifice and again by the gas: {} of the rating where {} is asked; makers forbid that",
            percent(set),
            percent(wanted)
        ));
    }
}

fn local_lines(delivered: Ratio, wanted: Ratio, sheet: &mut Sheet) {
    let source = sources::NO_DOUBLE_DERATING.text();
    sheet.line("local gas", text!("through the sea-level orifice it gives {} of the rated input", percent(delivered)), source);
    if let Some(area) = orifice_area_share(wanted, delivered) {
        sheet.line("orifice area still wanted", text!("{} of that at sea level", percent(area)), source);
    }
}

/// The orifice for the input left, from the one on the plate, for judging what was fitted.
pub fn orifice_for(site: &Site, governing: &Governing, sheet: &mut Sheet) {
    if burner::conversion(site.appliance).is_some() {
        return;
    }
    let (Some(plate), Ok(rated), Ok(limit)) = (burner::plate_orifice(site.appliance), &site.rated, limit_of(site, governing))
    else {
        return;
    };
    let delivered = local_share(site).unwrap_or(units::fraction(1.0));
    let Some(share) = orifice_area_share(limit / *rated, delivered) else { return };
    let area = plate.area * share;
    let around = burner::drills_around(area);
    let words = text!("{} at sea level, {} here: {}; the maker's table decides", plate.words, in_unit(area, "in²"), around);
    sheet.line("orifice", words, sources::WOBBE.text());
}

/// The gas supplied carries less heat: that may be the whole reduction.
fn by_local_gas(site: &Site, governing: &Governing, sheet: &mut Sheet) -> Option<Ratio> {
    let project = site.inquiry.project();
    sheet.want(need!(project, gas.supply.heating_value))?;
    let (rated, limit) = sheet.want((site.rated.clone(), limit_of(site, governing)).together())?;
    let delivered = local_share(site)?;
    let wanted = limit / rated;
    local_lines(delivered, wanted, sheet);
    let words = text!(
        "the local gas gives {} of the rated input, {} is the most at {}",
        percent(delivered),
        percent(wanted),
        site.elevation
    );
    if !sheet.require("input", words, sources::NO_DOUBLE_DERATING.text(), at_most(delivered, wanted)) {
        set_lower(site, governing, limit, sheet);
    }
    Some(delivered)
}

/// What the authority or the supplier permits stands for itself, once it is shown.
fn permitted(site: &Site, sheet: &mut Sheet) -> Option<Ratio> {
    let appliance = site.appliance;
    let accepted = sheet.want(need!(appliance, fuel_burning.derate.evidence.accepted))?;
    if !sheet.test("permission", text!("as the authority or the gas supplier permits"), "NFPA 54 11.1.2", *accepted) {
        sheet.fault(text!("the authority has not accepted the input it is set to"));
        sheet.cure(text!("show the authority's or the gas supplier's approval, or set the input by the maker's instructions"));
    }
    site.set_share()
}

/// The part of the input the governing reduction leaves, where the project says which one governs.
pub fn known_share(site: &Site, governing: &Governing) -> Option<Ratio> {
    if governing.unsaid.is_some() {
        return None;
    }
    let rated = site.rated.as_ref().ok()?;
    limit_of(site, governing).ok().map(|limit| limit / *rated)
}

/// Tenths of a percent: the figures behind it are no better.
fn percent(share: Ratio) -> Ratio {
    units::fraction((units::in_fraction(share) * 1000.0).round() / 1000.0)
}
