//! Wiring, sources and storage.

use super::fact::Fact;
use super::{Clash, Pair};
use redtag_schema::quantity::Kind;

pub(super) const PAIRS: &[Pair] = &[
    Pair {
        list: "/electrical/storage/*/units/*",
        first: "/usable_energy",
        second: "/energy",
        clash: |it| it.above("/usable_energy", "/energy", Kind::Energy, "more energy can be used than it stores"),
    },
    Pair {
        list: "/electrical/storage/*",
        first: "/temperature_minimum",
        second: "/temperature_maximum",
        clash: |it| {
            it.above(
                "/temperature_minimum",
                "/temperature_maximum",
                Kind::Temperature,
                "its least temperature is above its greatest",
            )
        },
    },
    Pair {
        list: "/electrical/inverters/*",
        first: "/dc_voltage_minimum",
        second: "/dc_voltage_maximum",
        clash: |it| {
            it.above("/dc_voltage_minimum", "/dc_voltage_maximum", Kind::Voltage, "its least voltage is above its greatest")
        },
    },
    Pair {
        list: "/electrical/inverters/*",
        first: "/output_when_hot",
        second: "/output",
        clash: |it| it.above("/output_when_hot", "/output", Kind::ApparentPower, "it gives more when hot than otherwise"),
    },
    Pair {
        list: "/electrical/inverters/*",
        first: "/output",
        second: "/surge",
        clash: |it| it.above("/output", "/surge", Kind::ApparentPower, "its surge is below its output"),
    },
    Pair {
        list: "/electrical/generators/*",
        first: "/starts_at_charge",
        second: "/stops_at_charge",
        clash: |it| {
            it.above("/starts_at_charge", "/stops_at_charge", Kind::Ratio, "it starts at a charge above that at which it stops")
        },
    },
    Pair { list: "/electrical/panels/*", first: "/circuits", second: "/spaces", clash: slots },
    Pair {
        list: "/equipment/*",
        first: "/electrical/minimum_circuit_ampacity",
        second: "/electrical/maximum_overcurrent",
        clash: |it| {
            let (least, most) = ("/electrical/minimum_circuit_ampacity", "/electrical/maximum_overcurrent");
            it.above(least, most, Kind::Current, "its circuit must carry more than its greatest breaker lets through")
        },
    },
    Pair {
        list: "/equipment/*",
        first: "/electrical/motor/full_load_current",
        second: "/electrical/motor/locked_rotor_current",
        clash: |it| {
            let (running, standing) = ("/electrical/motor/full_load_current", "/electrical/motor/locked_rotor_current");
            it.above(running, standing, Kind::Current, "its motor draws more while it runs than while it stands still")
        },
    },
    Pair {
        list: "/electrical/loads/*",
        first: "/motor/full_load_current",
        second: "/motor/locked_rotor_current",
        clash: |it| {
            let (running, standing) = ("/motor/full_load_current", "/motor/locked_rotor_current");
            it.above(running, standing, Kind::Current, "its motor draws more while it runs than while it stands still")
        },
    },
];

/// A breaker past the last space. Halves of a space, as tandem breakers take, are numbered by people in many ways: a warning.
fn slots(it: &Fact<'_>) -> Option<Clash> {
    let spaces = it.number("/spaces")?;
    let slots = it
        .list("/circuits")
        .iter()
        .flat_map(|circuit| circuit.get("slots").and_then(|slots| slots.as_array()).into_iter().flatten());
    let last = slots.filter_map(serde_json::Value::as_f64).fold(0.0, f64::max);
    (last > spaces).then(|| Clash::Odd(format!("{}: a breaker takes space {last}, the panel has {spaces}", it.name())))
}
