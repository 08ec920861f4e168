//! The methods of supplying combustion air, one per file, in the order they are tried.

mod combination;
mod engineered;
mod indoor;
mod mechanical;
mod one_opening;
mod two_openings;

use crate::air_space::AirSpace;
use crate::parameters::Limits;
use crate::trial::{Trial, Verdict};

type Method = fn(&AirSpace, &Limits) -> Trial;

/// Tries every method the jurisdiction accepts, in the order of the code.
pub fn try_all(space: &AirSpace, limits: &Limits) -> Vec<Trial> {
    let methods: [(&str, Method); 6] = [
        ("indoor", indoor::attempt),
        ("two-openings", two_openings::attempt),
        ("one-opening", one_opening::attempt),
        ("combination", combination::attempt),
        ("mechanical", mechanical::attempt),
        ("engineered", engineered::attempt),
    ];
    let tried = methods.iter().filter(|(word, _)| limits.accepts(word));
    tried
        .map(
            |(word, attempt)| {
                if takes_indoor_air(word) { indoors(space, attempt(space, limits)) } else { attempt(space, limits) }
            },
        )
        .collect()
}

fn takes_indoor_air(method: &str) -> bool {
    matches!(method, "indoor" | "combination")
}

/// A method that counts indoor air, where that may not count.
fn indoors(space: &AirSpace, mut trial: Trial) -> Trial {
    match &space.outdoor_air_only {
        Ok(Some(why)) => {
            trial.steps.clear();
            trial.verdict = Verdict::Misses(why.clone(), Vec::new());
        }
        // Whether indoor air counts only matters where it would suffice.
        Err(untold) if matches!(trial.verdict, Verdict::Passes(_)) => trial.verdict = Verdict::Unknown(untold.clone()),
        Ok(None) | Err(_) => {}
    }
    trial
}

/// The methods that bring all air from outdoors.
pub fn outdoors_alone(space: &AirSpace, limits: &Limits) -> Vec<Trial> {
    let methods: [(&str, Method); 4] = [
        ("two-openings", two_openings::attempt),
        ("one-opening", one_opening::attempt),
        ("mechanical", mechanical::attempt),
        ("engineered", engineered::attempt),
    ];
    methods.iter().filter(|(word, _)| limits.accepts(word)).map(|(_, attempt)| attempt(space, limits)).collect()
}

/// Indoor air alone.
pub fn indoor_alone(space: &AirSpace, limits: &Limits) -> Trial {
    indoor::attempt(space, limits)
}
