//! Water at a shower, tub or bidet must not be able to scald.
//!
//! **Water at 140 F burns skin through in about 5 seconds, at 130 F in half a minute, at 120 F in about 5 minutes**; children,
//! the old and the slow to move are the ones hurt (the burn times are those of Moritz and Henriques, 1947, from memory).
//!
//! **How it is measured.** What stands before the outlet: at a shower, also one over a tub, a listed valve that balances pressure,
//! works by thermostat, or does both (ASSE 1016), with its limit stop set; at a tub without a shower that, or a device that limits
//! the temperature (ASSE 1070); at a bidet such a device and nothing else; and the hottest water it lets out, taken with a
//! thermometer. The heater's thermostat and a
//! mixing valve at the heater do not count: they drift, and say nothing about a sudden fall of the cold side.
//!
//! **How it is fixed.** A listed valve at the outlet with its limit set to 120 F, 110 F at a bidet; measured again at the spout.

use redtag_rule::prelude::*;

/// Shower and tub.
const HOTTEST: Quantity<dimensions::Temperature> =
    Quantity::new("hottest", "120 F", "The hottest water a shower or tub may give.", "IRC P2708.4 and P2713.3")
        .within("100 F", "140 F");
/// Bidet.
const HOTTEST_BIDET: Quantity<dimensions::Temperature> =
    Quantity::new("hottest_bidet", "110 F", "The hottest water a bidet may give.", "from memory of IRC P2721.2")
        .within("90 F", "120 F");

/// The rule.
pub const RULE: Rule = Rule {
    citations: &[
        cited("IRC", "2021", "P2708.4"),
        cited("IRC", "2021", "P2713.3"),
        remembered("IRC", "2021", "P2721.2"),
        remembered("ASSE", "1016", "whole"),
        remembered("ASSE", "1070", "whole"),
    ],
    parameters: &[&HOTTEST, &HOTTEST_BIDET],
    reads: &["/water"],
    ..Rule::new("water-heating/scald-protection", "Water that cannot scald", check)
};

const WANTED: &str = "whether its water can scald";

fn check(inquiry: &Inquiry) -> Vec<Finding> {
    let judged = |fixture: Place<'_, Fixture>| match fixture.kind {
        FixtureKind::Shower | FixtureKind::Bathtub | FixtureKind::Bidet => {
            fixture.sheet(WANTED, |sheet| judge(inquiry, &fixture, sheet))
        }
        _ => fixture.not_applicable(text!("nobody stands under it")).done(),
    };
    need!(inquiry.project(), water.fixtures).every().into_iter().map(judged).collect()
}

const SOURCE: &str = "IRC P2708.4, P2713.3; P2721.2 from memory";

/// Whether a device keeps water at a fixture from scalding.
fn keeps(fixture: &Place<Fixture>, protection: &ScaldProtection) -> Lookup<bool> {
    let bidet = fixture.kind == FixtureKind::Bidet;
    match protection {
        // It answers the cold side falling away, and limits nothing by itself.
        ScaldProtection::PressureBalance => Ok(!bidet),
        ScaldProtection::Thermostatic | ScaldProtection::Combination if bidet => {
            need!(fixture, scald_standard).map(|standard| standard.contains("1070") || standard.contains("B125.3"))
        }
        ScaldProtection::Thermostatic | ScaldProtection::Combination => Ok(true),
        // A valve in the wall that only tempers does nothing when the cold side falls away under a shower.
        ScaldProtection::Tempering => match fixture.kind {
            FixtureKind::Shower => Ok(false),
            FixtureKind::Bathtub => need!(fixture, with_shower).map(|shower| !*shower),
            _ => Ok(true),
        },
        ScaldProtection::None | ScaldProtection::Unrecognised => Ok(false),
    }
}

fn valve(bidet: bool, protection: &Place<ScaldProtection>, holds: bool, sheet: &mut Sheet) {
    if holds {
        return;
    }
    let (fault, cure, word) = if bidet {
        let fault = "no listed device limits its temperature";
        (fault, "fit a device that limits the temperature, listed to ASSE 1070", "tempering")
    } else {
        let fault = "no listed valve keeps its water from scalding when the cold side falls";
        (fault, "fit a listed valve that balances pressure or works by thermostat", "thermostatic")
    };
    sheet.fault(text!("{}", fault));
    sheet.cure_at(text!("{}", cure), &[(protection.pointer().to_owned(), json!(word))]);
}

fn judge(inquiry: &Inquiry, fixture: &Place<Fixture>, sheet: &mut Sheet) -> Lookup<Text> {
    let bidet = fixture.kind == FixtureKind::Bidet;
    if let Some(protection) = sheet.want(need!(fixture, scald_protection)) {
        let words = text!("{} before it", *protection);
        match keeps(fixture, &protection) {
            Ok(holds) => valve(bidet, &protection, sheet.test("valve", words, SOURCE, holds), sheet),
            Err(unresolved) => sheet.lack(unresolved),
        }
    }
    let most = quantity::Temperature::from_quantity(&inquiry.value(if bidet { &HOTTEST_BIDET } else { &HOTTEST }));
    let Some(hottest) = sheet.want(need!(fixture, maximum_temperature)) else { return Ok(Text::default()) };
    if !sheet.at_most("hottest water", &hottest, &most, "F", SOURCE) {
        sheet.fault(text!("it gives water of {}, {} is the most: that scalds", hottest, most));
        let written = most.print_in("F");
        sheet.cure_at(
            text!("set the limit stop of its valve to {} and measure again", most),
            &[(hottest.pointer().to_owned(), json!(written))],
        );
    }
    Ok(text!("{} at the most, behind a valve that holds it", hottest))
}
